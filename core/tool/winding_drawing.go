package tool

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/winding"
)

const mostDrawnRows = 6

// A plot is the two scales of the drawing of resistance over temperature.
type plot struct{ t, r sheet.Scale }

// bandDrawing draws the rows as bands over temperature and the reading as a dot with whiskers on them, the known good part
// beside it.
func (a *Answer) bandDrawing(r *Record, m winding.Measurement, res windingResult) *sheet.Element {
	rows := []winding.Row{}
	for i, s := range r.Rows("specs") {
		if i < mostDrawnRows {
			rows = append(rows, rowOf(s))
		}
	}
	points := []winding.Measurement{m}
	var good *winding.Measurement
	if r.Given("known_good") && !r.Group("known_good").Over("reading") {
		g := measurementOf(r, r.Group("known_good"))
		good, points = &g, append(points, g)
	}
	p := fitPlot(m, rows, points)
	svg := sheet.New("svg viewBox=? class=drawing role=img aria-label=?", drawnBox, a.drawingText(m, res, good))
	svg = svg.With(a.axes(p.t, p.r, "°C", "Ω"))
	for i, row := range rows {
		svg = svg.With(a.band(p, m.Material, row, i, res.Specs[i].Name))
	}
	// The reading's own line of copper, from where it was read to where the row is.
	line := sheet.New("path class=copper d=?", "M"+p.point(p.t.From, m.Corrected(quantity.Temperature(p.t.From)).Value)+"L"+p.point(p.t.To, m.Corrected(quantity.Temperature(p.t.To)).Value))
	svg = svg.With(line)
	if good != nil {
		svg = svg.With(a.dot(p, *good, "good", a.Speak.Say("winding.drawn.good")))
	}
	return sheet.New("figure").With(svg.With(a.dot(p, m, "read", a.Speak.Say("winding.drawn.read"))),
		sheet.New("figcaption").Say(a.Speak.Say("winding.drawn.caption")))
}

// fitPlot finds scales that hold everything: whole tens of degrees, and all that is drawn within them.
func fitPlot(m winding.Measurement, rows []winding.Row, points []winding.Measurement) plot {
	lo, hi := math.Inf(1), math.Inf(-1)
	temperature := func(ts ...float64) {
		for _, t := range ts {
			if finite(t) {
				lo, hi = math.Min(lo, t), math.Max(hi, t)
			}
		}
	}
	for _, p := range points {
		temperature(float64(p.At-quantity.Temperature(p.AtWithin)), float64(p.At+quantity.Temperature(p.AtWithin)))
	}
	for _, row := range rows {
		if row.Span != nil {
			temperature(float64(row.Span.From), float64(row.Span.To))
		} else {
			temperature(float64(row.At))
		}
	}
	pad := math.Max(15, (hi-lo)*0.12)
	lo, hi = math.Floor((lo-pad)/10)*10, math.Ceil((hi+pad)/10)*10
	lo = math.Max(lo, float64(m.Material.ZeroResistanceAt)+1)
	if hi <= lo {
		hi = lo + 30
	}
	top, bottom := 0.0, math.Inf(1)
	resistance := func(v, u float64) {
		if finite(v) {
			top, bottom = math.Max(top, v+2*u), math.Min(bottom, v-2*u)
		}
	}
	for _, p := range points {
		w := p.Winding()
		resistance(w.Value, w.U)
	}
	for _, row := range rows {
		f, t := 1.0, 1.0
		if row.Span == nil {
			f, t = m.Material.Factor(row.At, quantity.Temperature(lo)), m.Material.Factor(row.At, quantity.Temperature(hi))
		}
		for _, edge := range []float64{row.Band.Min, row.Band.Max} {
			resistance(edge*f, 0)
			resistance(edge*t, 0)
		}
	}
	gap := (top - bottom) * 0.1
	if gap <= 0 {
		gap = math.Max(top*0.1, leastTiny)
	}
	bottom, top = math.Max(0, bottom-gap), top+gap
	return plot{sheet.Scale{From: lo, To: hi, A: drawnLeft, B: drawnRight}, sheet.Scale{From: bottom, To: top, A: drawnBottom, B: drawnTop}}
}

// point is a coordinate pair, kept on the drawing.
func (p plot) point(t, r float64) string {
	x, _ := p.t.Clamp(t)
	y, _ := p.r.Clamp(r)
	return sheet.Num(x) + " " + sheet.Num(y)
}

// band draws one row: a strip that rises with the temperature, or a box over the span that the row covers.
func (a *Answer) band(p plot, material winding.Material, row winding.Row, i int, name string) *sheet.Element {
	from, to := p.t.From, p.t.To
	f := func(float64) float64 { return 1 }
	if row.Span != nil {
		from, to = math.Max(from, float64(row.Span.From)), math.Min(to, float64(row.Span.To))
	} else {
		f = func(t float64) float64 { return material.Factor(row.At, quantity.Temperature(t)) }
	}
	lo, hi := math.Max(row.Band.Min, 0), row.Band.Max
	edge := func(v, t float64) float64 {
		if !finite(v) {
			return p.r.To * 2
		}
		return v * f(t)
	}
	d := "M" + p.point(from, edge(lo, from)) + "L" + p.point(to, edge(lo, to)) + "L" + p.point(to, edge(hi, to)) + "L" + p.point(from, edge(hi, from)) + "Z"
	x, _ := p.t.Clamp(to)
	y, _ := p.r.Clamp((edge(lo, to) + math.Min(edge(hi, to), p.r.To)) / 2)
	number := []string{"1", "2", "3", "4", "5", "6"}[i]
	return sheet.New("g class=?", "band band-"+number).With(
		sheet.New("path class=allowed d=?", d),
		sheet.New("text class=band-name x=? y=? text-anchor=end", sheet.Num(x-labelSide), sheet.Num(y+labelAbove)).Say(shorten(name)))
}

// shorten cuts a row's name to what the drawing has room for.
func shorten(name string) string {
	r := []rune(name)
	if len(r) > 16 {
		return string(r[:15]) + "…"
	}
	return name
}

// dot draws a reading: whiskers as long as its expanded uncertainty and the doubt about its temperature.
func (a *Answer) dot(p plot, m winding.Measurement, class, label string) *sheet.Element {
	w := m.Winding()
	t, u := float64(m.At), float64(m.AtWithin)
	x, _ := p.t.Clamp(t)
	y, _ := p.r.Clamp(w.Value)
	whiskers := "M" + p.point(t, w.Value-2*w.U) + "L" + p.point(t, w.Value+2*w.U) + "M" + p.point(t-u, w.Value) + "L" + p.point(t+u, w.Value)
	shape := sheet.New("circle class=dot cx=? cy=? r=5", sheet.Num(x), sheet.Num(y))
	if class == "good" {
		shape = sheet.New("path class=dot d=?", "M"+sheet.Num(x)+" "+sheet.Num(y-6)+"l6 6-6 6-6-6Z")
	}
	// On the right, where the rows' names are, the label stands below.
	anchor, dx, dy := "start", 9.0, -9.0
	if x > (drawnLeft+drawnRight)/2 {
		anchor, dx, dy = "end", -9.0, 18.0
	}
	return sheet.New("g class=?", "mark mark-"+class).With(
		sheet.New("path class=whisker d=?", whiskers), shape,
		sheet.New("text class=mark-name x=? y=? text-anchor=?", sheet.Num(x+dx), sheet.Num(y+dy), anchor).Say(label))
}

// drawingText is the drawing in words.
func (a *Answer) drawingText(m winding.Measurement, res windingResult, good *winding.Measurement) string {
	w := m.Winding()
	text := a.Speak.Say("winding.drawn.text", a.Speak.PlusMinus(quantity.OfResistance, w.Value, w.U), a.Speak.Celsius(float64(m.At), 0))
	for i, s := range res.Specs {
		if i == mostDrawnRows {
			break
		}
		b := measure.Everything()
		if s.BandNow.Min != nil {
			b.Min = s.BandNow.Min.Value
		}
		if s.BandNow.Max != nil {
			b.Max = s.BandNow.Max.Value
		}
		text += " " + a.Speak.Say("winding.drawn.row", s.Name, a.bandText(b, 0.02*math.Max(finiteOr(b.Min, 0), 0.05)))
	}
	if good != nil {
		g := good.Winding()
		text += " " + a.Speak.Say("winding.drawn.good_text", a.Speak.Ohms(g.Value, g.U), a.Speak.Celsius(float64(good.At), 0))
	}
	return text
}
