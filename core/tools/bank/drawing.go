package bank

import (
	"math"
	"slices"

	"ohmwright/core/bank"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

// The drawing's measures, in its own units: a phone shows it 1:1.
const (
	drawnLeft, drawnRight = 10.0, 318.0
	rowNames, rowThis     = 12.0, 24.0 // from the top of a row down to its name, and to the first dot
	rowSecond, rowBottom  = 36.0, 44.0
	rowHeight             = 52.0
	axisHeight            = 22.0 // below each panel
	ticks                 = 6
	unit                  = "Ω"
	// Nothing further out than so many times the largest limit stretches the drawing: it stands at the edge.
	mostDrawn = 3.0
)

// A drawn is a winding as it is drawn: what it allows, and where it reads, at this unit's temperature.
type drawn struct {
	band         *measure.Band
	this, second *measure.Estimate
}

// bankDrawing draws each winding's reading as a dot with whiskers on its band moved to the temperature, the second unit's below it, one
// winding under the other: a panel for each specification, with a scale of its own. Nil where there is nothing to draw.
func bankDrawing(q question, f finding, l *tool.Layout) *sheet.Element {
	rows := make([]drawn, len(f.Rows))
	for i, j := range f.Rows {
		rows[i] = drawnOf(q, i, j)
	}
	y, parts := 0.0, []*sheet.Element{}
	for _, panel := range panels(q) {
		part, height := drawPanel(q, f, rows, panel, y, l)
		parts, y = append(parts, part), y+height
	}
	if y == 0 {
		return nil
	}
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", "0 0 328 "+sheet.Num(y), "drawing bank-drawing",
		drawingText(q, f, rows, l.Speak)).With(parts...)
	caption := "drawn.caption"
	if q.Base.AtUnknown {
		caption = "drawn.caption.unknown"
	}
	return sheet.New("figure").With(svg, sheet.New("figcaption").Say(l.Speak.Say(caption, l.Speak.Celsius(float64(q.Base.At), 0))))
}

// panels are the rows of each specification, in the order of the sheet.
func panels(q question) (out [][]int) {
	for i, row := range q.Rows {
		k := slices.IndexFunc(out, func(panel []int) bool { return bank.SameSpec(q.Rows[panel[0]].Spec, row.Spec) })
		if k < 0 {
			out = append(out, []int{i})
		} else {
			out[k] = append(out[k], i)
		}
	}
	return out
}

// drawPanel draws the windings of one specification from a height down, and says how high that is; nothing without a value.
func drawPanel(q question, f finding, rows []drawn, panel []int, top float64, l *tool.Layout) (*sheet.Element, float64) {
	own := make([]drawn, len(panel))
	for k, i := range panel {
		own[k] = rows[i]
	}
	x, ok := scaleOf(own)
	if !ok {
		return nil, 0
	}
	height := rowHeight * float64(len(panel))
	bottom := sheet.Num(top + height)
	g := sheet.New("g class=axes")
	at, decimals := x.Ticks(ticks)
	for _, v := range at {
		cx := sheet.Num(x.At(v))
		g.With(sheet.New("path class=grid d=?", "M"+cx+" "+sheet.Num(top+2)+"V"+bottom),
			sheet.New("text x=? y=? text-anchor=middle", cx, sheet.Num(top+height+12)).Say(l.Speak.Number(v, decimals)))
	}
	g.With(sheet.New("text class=unit x=324 y=? text-anchor=end", sheet.Num(top+rowNames)).Say(unit))
	for k, i := range panel {
		g.With(rows[i].draw(x, top+rowHeight*float64(k), rowTitle(q, i, f.Rows[i], l.Speak)))
	}
	return g, height + axisHeight
}

// drawnOf is a winding as it is drawn. The second unit's is moved to this one's temperature, where both are known.
func drawnOf(q question, i int, j bank.Judged) drawn {
	d := drawn{}
	if j.Read && !j.Winding.Open {
		w := j.Winding.Winding
		d.this = &w
	}
	if j.Other != nil && !j.Other.Open {
		m := q.OtherBase
		m.Reading = *q.Rows[i].Other
		w := m.Winding()
		if !q.OtherAsThis && !q.Base.AtUnknown {
			w = m.Corrected(q.Base.At)
		}
		d.second = &w
	}
	if spec := q.Rows[i].Spec; spec != nil {
		b := q.Base.BandNow(*spec)
		d.band = &b
	}
	return d
}

// scaleOf returns a scale that holds all that is drawn; ok is false where there is no value.
func scaleOf(rows []drawn) (x sheet.Scale, ok bool) {
	lo, hi, limit := math.Inf(1), math.Inf(-1), 0.0
	note := func(v float64) {
		if !math.IsInf(v, 0) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	for _, r := range rows {
		if r.band != nil {
			note(r.band.Min)
			note(r.band.Max)
		}
	}
	if limit = hi * mostDrawn; math.IsInf(hi, -1) {
		limit = math.Inf(1)
	}
	for _, r := range rows {
		for _, e := range []*measure.Estimate{r.this, r.second} {
			if e != nil {
				ok = true
				note(math.Min(limit, e.Value-2*e.U))
				note(math.Min(limit, e.Value+2*e.U))
			}
		}
	}
	if !ok {
		return x, false
	}
	gap := math.Max((hi-lo)*0.06, tool.Tiny)
	return sheet.Scale{From: math.Max(0, lo-gap), To: hi + gap, A: drawnLeft, B: drawnRight}, true
}

// draw draws a winding from a height down.
func (d drawn) draw(x sheet.Scale, top float64, title string) *sheet.Element {
	g := sheet.New("g class=bank-row")
	if d.band != nil {
		from, to := drawnLeft, drawnRight
		if d.band.HasMin() {
			from, _ = x.Clamp(d.band.Min)
		}
		if d.band.HasMax() {
			to, _ = x.Clamp(d.band.Max)
		}
		g.With(sheet.New("rect class=allowed x=? y=? width=? height=?", sheet.Num(from), sheet.Num(top+rowNames+4),
			sheet.Num(math.Max(1, to-from)), sheet.Num(rowBottom-rowNames-4)))
	}
	g.With(sheet.New("text class=mark-name x=? y=?", sheet.Num(drawnLeft-6), sheet.Num(top+rowNames-1)).Say(title))
	if d.this != nil {
		g.With(mark(x, *d.this, top+rowThis, "read"))
	}
	if d.second != nil {
		g.With(mark(x, *d.second, top+rowSecond, "good"))
	}
	return g
}

// mark draws a reading with its whiskers: a dot for this unit, a diamond for the second. One beyond the drawing stands at its edge, as an
// arrow.
func mark(x sheet.Scale, e measure.Estimate, y float64, class string) *sheet.Element {
	cx, out := x.Clamp(e.Value)
	from, _ := x.Clamp(e.Value - 2*e.U)
	to, _ := x.Clamp(e.Value + 2*e.U)
	at := sheet.Num(y)
	whisker := "M" + sheet.Num(from) + " " + sheet.Num(y-4) + "v8m0-4H" + sheet.Num(to) + "m0-4v8"
	g := sheet.New("g class=?", "mark mark-"+class)
	switch {
	case out && e.Value > x.To:
		return g.With(sheet.New("path class=dot d=?", "M"+sheet.Num(cx-9)+" "+sheet.Num(y-6)+"l12 6-12 6Z"))
	case class == "good":
		return g.With(sheet.New("path class=whisker d=?", whisker),
			sheet.New("path class=dot d=?", "M"+sheet.Num(cx)+" "+sheet.Num(y-6)+"l6 6-6 6-6-6Z"))
	}
	return g.With(sheet.New("path class=whisker d=?", whisker), sheet.New("circle class=dot cx=? cy=? r=4.5", sheet.Num(cx), at))
}

// rowTitle is what stands above a winding in the drawing: its name, its verdict, and whether it is the odd one.
func rowTitle(q question, i int, j bank.Judged, s *wording.Speaker) string {
	more := []string{s.Say("verdict." + verdictOf(j))}
	if j.Alike != nil && j.Alike.Verdict == bank.LikeOdd {
		more = append(more, s.Say("drawn.odd"))
	}
	if j.Other != nil && j.Other.Overall == winding.OverallOpen {
		more = append(more, s.Say("drawn.second_open"))
	}
	return s.Say("named", shorten(q.names[i]), s.List(more...))
}

// shorten cuts a name to the space on the drawing.
func shorten(name string) string {
	const room = 18
	if r := []rune(name); len(r) > room {
		return string(r[:room-1]) + "…"
	}
	return name
}

// drawingText describes the drawing in words.
func drawingText(q question, f finding, rows []drawn, s *wording.Speaker) string {
	text := s.Say("drawn.text")
	for i, row := range rows {
		parts := []string{rowTitle(q, i, f.Rows[i], s)}
		if row.this != nil {
			parts = append(parts, s.PlusMinus(quantity.OfResistance, row.this.Value, row.this.U))
		}
		if row.second != nil {
			parts = append(parts, s.Say("drawn.second", s.PlusMinus(quantity.OfResistance, row.second.Value, row.second.U)))
		}
		text += " " + s.List(parts...) + "."
	}
	return text
}
