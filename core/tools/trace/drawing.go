package trace

import (
	"math"
	"slices"

	"ohmwright/core/bench"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/trace"
)

// drawing draws the recording with the model, the steps and the dip over it. Time is counted from switch-on, if that is known.
func drawing(f trace.Judged, l *tool.Layout) *sheet.Element {
	s, say := l.Speak, l.Speak.Say
	c := chart(f)
	text := say("drawn.text", s.Three(quantity.OfCurrent, f.Min), s.Three(quantity.OfCurrent, f.Max), dipText(f, s))
	svg := c.Drawing(text).With(c.Axes(l), sheet.New("path class=current d=?", c.Line(curve(f.Points))))
	caption := "drawn.caption.bare"
	if len(f.Model) > 0 {
		caption = "drawn.caption"
		svg.With(sheet.New("path class=model d=?", modelLine(f, c)))
	}
	for _, step := range f.Steps {
		svg.With(sheet.New("path class=step d=?", c.Upright(step.At)))
	}
	if f.Dip.Found == trace.Yes || f.Dip.Found == trace.Kink {
		svg.With(dipMark(f.Dip, c, say("drawn."+f.Dip.Found.Code(), s.Three(quantity.OfTime, f.Dip.Since))))
	}
	return sheet.New("figure").With(svg, sheet.New("figcaption").Say(say(caption)))
}

// chart returns a chart whose scales hold the recording and the model.
func chart(f trace.Judged) bench.Chart {
	least, most := 0.0, 0.0
	for _, points := range [][]trace.Point{f.Points, f.Model} {
		for _, p := range points {
			least, most = math.Min(least, p.I), math.Max(most, p.I)
		}
	}
	zero := 0.0
	if f.Fit != nil {
		zero = f.Fit.Start
	}
	return bench.ChartOf(f.Points[0].T, f.Points[len(f.Points)-1].T, zero, least, most)
}

// modelLine returns the path of the model. It has a gap while the plunger moves.
func modelLine(f trace.Judged, c bench.Chart) string {
	model, first := curve(f.Model), len(f.Model)
	if f.Fit.MotionTo > f.Fit.MotionFrom {
		first = slices.IndexFunc(f.Model, func(p trace.Point) bool { return p.T >= f.Fit.MotionTo })
	}
	return c.Line(model.Part(0, first)) + c.Line(model.Part(first, model.N))
}

// dipMark draws a pointer to the dip from below. Its label is on the right if there is room.
func dipMark(d trace.Dip, c bench.Chart, label string) *sheet.Element {
	x, y := c.X(d.At), c.Y(d.Current)
	anchor, dx := "start", 10.0
	if x > tool.DrawnRight-90 {
		anchor, dx = "end", -10
	}
	down := min(y+30, tool.DrawnBottom-tool.LabelAbove)
	return sheet.New("g class=?", "mark mark-dip").With(
		sheet.New("path class=dip d=?", "M"+sheet.Num(x)+" "+sheet.Num(y+6)+"l-7 14h14z"),
		sheet.New("text class=mark-name x=? y=? text-anchor=?", sheet.Num(x+dx), sheet.Num(down), anchor).Say(label))
}
