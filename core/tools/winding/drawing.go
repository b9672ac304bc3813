package winding

import (
	"math"
	"strconv"

	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

// mostDrawn is the most rows that are drawn, because there are no more colours.
const mostDrawn = 6

// A plot maps temperature and resistance to coordinates of the drawing.
type plot struct{ t, r sheet.Scale }

// bandDrawing draws the rows as bands over temperature and the reading as a dot with whiskers on them, the known good part
// beside it.
func bandDrawing(q question, f finding, l *tool.Layout) *sheet.Element {
	rows := f.Rows[:min(len(f.Rows), mostDrawn)]
	points := []winding.Measurement{q.Measurement}
	good := q.Good != nil && !q.Good.Reading.Over
	if good {
		points = append(points, q.Good.Measurement)
	}
	p := fitPlot(q.Material, rows, points)
	svg := sheet.New("svg viewBox=? class=drawing role=img aria-label=?", tool.DrawnBox, drawingText(q, rows, good, l))
	svg.With(l.Axes(p.t, p.r, "°C", "Ω"))
	for i, row := range rows {
		svg.With(p.band(q.Material, row.Row, i, q.rows[i].name))
	}
	// The resistance that this winding would have at other temperatures, across the drawing.
	end := func(t float64) string { return p.point(t, q.Corrected(quantity.Temperature(t)).Value) }
	svg.With(sheet.New("path class=copper d=?", "M"+end(p.t.From)+"L"+end(p.t.To)))
	if good {
		svg.With(p.dot(q.Good.Measurement, "good", l.Speak.Say("drawn.good")))
	}
	return sheet.New("figure").With(svg.With(p.dot(q.Measurement, "read", l.Speak.Say("drawn.read"))),
		sheet.New("figcaption").Say(l.Speak.Say("drawn.caption")))
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// fitPlot returns scales that hold everything drawn, in whole tens of degrees.
func fitPlot(m winding.Material, rows []winding.Judged, points []winding.Measurement) plot {
	lo, hi := temperatures(rows, points)
	pad := math.Max(15, (hi-lo)*0.12)
	lo, hi = math.Floor((lo-pad)/10)*10, math.Ceil((hi+pad)/10)*10
	lo = math.Max(lo, float64(m.ZeroResistanceAt)+1)
	if hi <= lo {
		hi = lo + 30
	}
	bottom, top := resistances(m, rows, points, quantity.Temperature(lo), quantity.Temperature(hi))
	gap := (top - bottom) * 0.1
	if gap <= 0 {
		gap = math.Max(top*0.1, tool.Tiny)
	}
	return plot{
		sheet.Scale{From: lo, To: hi, A: tool.DrawnLeft, B: tool.DrawnRight},
		sheet.Scale{From: math.Max(0, bottom-gap), To: top + gap, A: tool.DrawnBottom, B: tool.DrawnTop},
	}
}

// temperatures returns the lowest and the highest temperature to draw.
func temperatures(rows []winding.Judged, points []winding.Measurement) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	draw := func(ts ...quantity.Temperature) {
		for _, t := range ts {
			if finite(float64(t)) {
				lo, hi = math.Min(lo, float64(t)), math.Max(hi, float64(t))
			}
		}
	}
	for _, p := range points {
		draw(p.At-quantity.Temperature(p.AtWithin), p.At+quantity.Temperature(p.AtWithin))
	}
	for _, row := range rows {
		if row.Span != nil {
			draw(row.Span.From, row.Span.To)
		} else {
			draw(row.At)
		}
	}
	return lo, hi
}

// resistances are the lowest and the highest that are drawn between two temperatures.
func resistances(m winding.Material, rows []winding.Judged, points []winding.Measurement,
	from, to quantity.Temperature) (bottom, top float64) {
	top, bottom = 0.0, math.Inf(1)
	draw := func(v, u float64) {
		if finite(v) {
			top, bottom = math.Max(top, v+2*u), math.Min(bottom, v-2*u)
		}
	}
	for _, p := range points {
		w := p.Winding()
		draw(w.Value, w.U)
	}
	for _, row := range rows {
		cold, hot := 1.0, 1.0
		if row.Span == nil {
			cold, hot = m.Factor(row.At, from), m.Factor(row.At, to)
		}
		for _, edge := range []float64{row.Band.Min, row.Band.Max} {
			draw(edge*cold, 0)
			draw(edge*hot, 0)
		}
	}
	return bottom, top
}

// point returns a pair of coordinates. A point outside the drawing is moved to its edge.
func (p plot) point(t, r float64) string {
	x, _ := p.t.Clamp(t)
	y, _ := p.r.Clamp(r)
	return sheet.Num(x) + " " + sheet.Num(y)
}

// band draws one row: a strip that rises with temperature, or a box if the row is valid over a span of temperatures.
func (p plot) band(m winding.Material, row winding.Row, i int, name string) *sheet.Element {
	from, to := p.t.From, p.t.To
	f := func(float64) float64 { return 1 }
	if row.Span != nil {
		from, to = math.Max(from, float64(row.Span.From)), math.Min(to, float64(row.Span.To))
	} else {
		f = func(t float64) float64 { return m.Factor(row.At, quantity.Temperature(t)) }
	}
	lo, hi := math.Max(row.Band.Min, 0), row.Band.Max
	edge := func(v, t float64) float64 {
		if !finite(v) {
			return p.r.To * 2
		}
		return v * f(t)
	}
	lower := "M" + p.point(from, edge(lo, from)) + "L" + p.point(to, edge(lo, to))
	upper := "L" + p.point(to, edge(hi, to)) + "L" + p.point(from, edge(hi, from)) + "Z"
	x, _ := p.t.Clamp(to)
	y, _ := p.r.Clamp((edge(lo, to) + math.Min(edge(hi, to), p.r.To)) / 2)
	return sheet.New("g class=?", "band band-"+strconv.Itoa(i+1)).With(
		sheet.New("path class=allowed d=?", lower+upper),
		sheet.New("text class=band-name x=? y=? text-anchor=end", sheet.Num(x-tool.LabelSide), sheet.Num(y+tool.LabelAbove)).Say(shorten(name)))
}

// shorten cuts a row's name to the space on the drawing.
func shorten(name string) string {
	const room = 16
	if r := []rune(name); len(r) > room {
		return string(r[:room-1]) + "…"
	}
	return name
}

// dot draws a reading. Its whiskers are its expanded uncertainty and the uncertainty of its temperature.
func (p plot) dot(m winding.Measurement, class, label string) *sheet.Element {
	w := m.Winding()
	t, u := float64(m.At), float64(m.AtWithin)
	x, _ := p.t.Clamp(t)
	y, _ := p.r.Clamp(w.Value)
	up := "M" + p.point(t, w.Value-2*w.U) + "L" + p.point(t, w.Value+2*w.U)
	across := "M" + p.point(t-u, w.Value) + "L" + p.point(t+u, w.Value)
	shape := sheet.New("circle class=dot cx=? cy=? r=5", sheet.Num(x), sheet.Num(y))
	if class == "good" {
		shape = sheet.New("path class=dot d=?", "M"+sheet.Num(x)+" "+sheet.Num(y-6)+"l6 6-6 6-6-6Z")
	}
	// On the right the rows' names take up the space beside the dot, so the label goes below.
	anchor, dx, dy := "start", 9.0, -9.0
	if x > (tool.DrawnLeft+tool.DrawnRight)/2 {
		anchor, dx, dy = "end", -9.0, 18.0
	}
	return sheet.New("g class=?", "mark mark-"+class).With(
		sheet.New("path class=whisker d=?", up+across), shape,
		sheet.New("text class=mark-name x=? y=? text-anchor=?", sheet.Num(x+dx), sheet.Num(y+dy), anchor).Say(label))
}

// drawingText describes the drawing in words.
func drawingText(q question, rows []winding.Judged, good bool, l *tool.Layout) string {
	s, w := l.Speak, q.Winding()
	text := s.Say("drawn.text", s.PlusMinus(quantity.OfResistance, w.Value, w.U), atText(s, q.Measurement))
	for i, r := range rows {
		text += " " + s.Say("drawn.row", q.rows[i].name, movedText(s, r.BandNow))
	}
	if good {
		g := q.Good.Winding()
		text += " " + s.Say("drawn.good_text", s.Ohms(g.Value, g.U), s.Celsius(float64(q.Good.At), 0))
	}
	return text
}
