package torque

import (
	"math"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

// setting lays out what to set with the adapter on, with a drawing, and when that is not valid.
func (p page) setting() *sheet.Element {
	a, reach := p.q.Adapter, p.f.Reach
	caption := p.s.Say("setting.lever", p.s.Length(p.q.handleIn, reach), p.s.Length(p.q.handleIn, a.Wrench))
	if reach == a.Wrench {
		caption = p.s.Say("setting.square")
	}
	line := sheet.New("p class=big-line").With(
		sheet.Text("strong", "", p.s.Say("word.set", p.s.Torque(p.f.Setting))),
		sheet.Text("span", "", p.s.Say("headline.at_bolt", p.s.Torque(p.q.Torque))))
	part := p.Section("setting", line, p.lever(*a, caption), sheet.Text("p", "small", p.s.Say("setting.holds")))
	return tool.Slotted(part, "adapter")
}

// The size of the adapter's drawing, and the length of its lever.
const (
	leverBox  = "0 0 328 120"
	leverRoom = 230.0
)

// lever draws handle, drive and adapter to scale, seen from above.
func (p page) lever(a fastener.Adapter, caption string) *sheet.Element {
	scale := leverRoom / float64(a.Wrench+a.Extension)
	l, e := float64(a.Wrench)*scale, float64(a.Extension)*scale
	turn := float64(a.Angle) * math.Pi / 180
	driveX, driveY := 24+l, 80.0
	boltX, boltY := driveX+e*math.Cos(turn), driveY-e*math.Sin(turn)
	boltY = math.Max(boltY, 14)
	at := func(x, y float64) string { return sheet.Num(x) + " " + sheet.Num(y) }
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", leverBox, "drawing lever", caption).With(
		sheet.New("path class=handle d=?", "M"+at(24, driveY)+"H"+sheet.Num(driveX)),
		sheet.New("path class=adapter d=?", "M"+at(driveX, driveY)+"L"+at(boltX, boltY)),
		sheet.New("path class=pull d=?", "M"+at(24, driveY-30)+"V"+sheet.Num(driveY-6)+"m-5 -8l5 8l5 -8"),
		sheet.New("circle class=drive cx=? cy=? r=6", sheet.Num(driveX), sheet.Num(driveY)),
		sheet.New("path class=hex d=?", hexagon(boltX, boltY, 11)),
		sheet.New("text x=? y=? text-anchor=middle", sheet.Num(24+l/2), sheet.Num(driveY+18)).Say("L "+p.s.Length(p.q.handleIn, a.Wrench)),
		sheet.New("text x=320 y=? text-anchor=end", sheet.Num(driveY+34)).Say("E "+p.s.Length(p.q.extensionIn, a.Extension)))
	return sheet.New("figure").With(svg, sheet.New("figcaption").Say(caption))
}

// hexagon returns the SVG path of a bolt's head.
func hexagon(x, y, size float64) string {
	path := "M"
	for k := range 6 {
		if k > 0 {
			path += "L"
		}
		turn := float64(k) * math.Pi / 3
		path += sheet.Num(x+size*math.Cos(turn)) + " " + sheet.Num(y+size*math.Sin(turn))
	}
	return path + "z"
}

// span writes a range of torques.
func (p page) span(s fastener.Span) string {
	return p.s.Say("span", p.s.Torque(s.Least), p.s.Torque(s.Most))
}

// scale says whether the wrench reaches the setting, how close its marks come, and what torque it may produce.
func (p page) scale() *sheet.Element {
	w := p.f.Scale
	var rows [][2]string
	row := func(name, value string) { rows = append(rows, [2]string{name, value}) }
	if w.Fifth > 0 {
		row(p.s.Say("scale.fifth"), p.s.Torque(w.Fifth))
	}
	if w.Reached != nil {
		row(p.s.Say("scale.reached", p.s.PerCent(p.q.Wrench.Allowed())), p.span(*w.Reached))
	}
	if m := w.Marks; m != nil {
		if m.Below == m.Above {
			row(p.s.Say("scale.mark"), p.s.Torque(m.Below))
		} else {
			if m.Below > 0 {
				row(p.s.Say("scale.mark_below"), p.s.Torque(m.Below))
			}
			if m.Above > 0 {
				row(p.s.Say("scale.mark_above"), p.s.Torque(m.Above))
			}
		}
		row(p.s.Say("scale.nearest", p.s.Torque(m.Nearest)), p.span(m.Reached))
	}
	if w.InRange != "" {
		row(p.s.Say("scale.in_range"), p.s.Say("scale.in_range."+string(w.InRange)))
	}
	text := sheet.Text("p", "", p.s.Say("scale."+w.Use.String(), p.s.Torque(p.f.Setting)))
	return tool.Slotted(p.Section("scale", text, tool.Figures(rows)), "wrench")
}

// thread lays out what the thread could take, always saying that this is no specification.
func (p page) thread() *sheet.Element {
	e, j, s := p.f.Estimate, p.q.Assembly, p.s
	low, high := s.Number(float64(j.Friction-j.FrictionWithin), 2), s.Number(float64(j.Friction+j.FrictionWithin), 2)
	rows := [][2]string{
		{p.s.Say("thread.torque", s.PerCent(j.Utilisation), low), p.s.Say("thread.up_to", s.Torque(e.Band.Least))},
		{p.s.Say("thread.sure", s.Number(float64(j.Friction), 2), high), p.s.Say("span", s.Torque(e.Torque), s.Torque(e.Band.Most))},
		{p.s.Say("thread.at", s.Torque(e.At), high, low), p.s.Say("span", s.Newtons(e.PreloadBand.Least), s.Newtons(e.PreloadBand.Most))},
		{p.s.Say("thread.stressed", low), s.PerCent(e.StressedMax)},
		{p.s.Say("thread.proof"), s.Newtons(j.ProofLoad())},
		{p.s.Say("thread.area"), s.AtMost(float64(j.Thread.StressArea()), 3) + "\u00a0mm²"},
	}
	part := p.Section("thread", p.preload(), tool.Figures(rows))
	if e.Practice != nil {
		part.With(sheet.Text("p", "practice", p.practice(*e.Practice)))
	}
	if t := e.Strip; t != nil {
		text := p.s.Say("strip."+t.Verdict.String(), s.Newtons(t.Preload), s.Newtons(t.Least), s.Newtons(t.Most))
		part.With(sheet.Text("h3", "", p.s.Say("strip")), sheet.Text("p", "", text), sheet.Text("p", "small", p.s.Say("strip.holds_for")))
	}
	return tool.Slotted(part, "fastener")
}

// practice compares the figure of common practice with what the thread could take.
func (p page) practice(t fastener.Practice) string {
	metric := speech.Unit("N.m")
	text := p.s.Say("practice."+string(t.Lies), p.s.In(speech.Unit("lbf.in"), t.Torque), p.s.In(metric, t.Torque),
		p.s.In(metric, t.Band.Least), p.s.In(metric, t.Band.Most), p.q.Assembly.Class.String())
	return text + " " + p.s.Say("practice.why", p.s.PerCent(t.StressedMost), p.s.PerCent(t.StressedLeast))
}

// preload draws the range of preload that one torque may give, with the proof load and the load that strips the threads.
func (p page) preload() *sheet.Element {
	e, proof := p.f.Estimate, p.q.Assembly.ProofLoad()
	most := max(proof, e.PreloadBand.Most)
	if e.Strip != nil {
		most = max(most, min(e.Strip.Most, 2*most))
	}
	x := sheet.Scale{From: 0, To: float64(most) * 1.08 / 1000, A: 10, B: 318}
	px := func(f quantity.Force) float64 { c, _ := x.Clamp(float64(f) / 1000); return c }
	label := p.s.Say("drawn.text", p.s.Newtons(e.PreloadBand.Least), p.s.Newtons(e.PreloadBand.Most), p.s.Newtons(proof))
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", "0 0 328 100", "drawing preload", label)
	ticks, d := x.Ticks(5)
	for _, v := range ticks {
		svg.With(sheet.New("path class=grid d=?", "M"+sheet.Num(x.At(v))+" 30V78"),
			sheet.New("text x=? y=94 text-anchor=middle", sheet.Num(x.At(v))).Say(p.s.Number(v, d)))
	}
	from, to := px(e.PreloadBand.Least), px(e.PreloadBand.Most)
	svg.With(sheet.New("rect class=band x=? y=42 width=? height=24", sheet.Num(from), sheet.Num(math.Max(2, to-from))),
		sheet.New("path class=average d=?", "M"+sheet.Num(px(e.PreloadAt))+" 38V70"),
		sheet.New("path class=limit d=?", "M"+sheet.Num(px(proof))+" 26V78"),
		sheet.New("text x=? y=20 text-anchor=?", sheet.Num(px(proof)), anchor(px(proof))).Say(p.s.Say("drawn.proof")))
	if t := e.Strip; t != nil {
		from, to := sheet.Num(px(t.Least)), sheet.Num(px(t.Most))
		svg.With(sheet.New("path class=gives-way d=?", "M"+from+" 72H"+to+"M"+from+" 66v12"),
			sheet.New("text x=? y=66 text-anchor=end", to).Say(p.s.Say("drawn.strip")))
	}
	return sheet.New("figure").With(svg, sheet.New("figcaption").Say(p.s.Say("drawn.caption")))
}

// anchor returns the text anchor that keeps a label inside the drawing.
func anchor(x float64) string {
	switch {
	case x > 250:
		return "end"
	case x < 60:
		return "start"
	}
	return "middle"
}
