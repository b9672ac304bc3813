package drive

import (
	"ohmwright/core/bench"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// waveDrawing draws one period of the steady state: a strip while the driver is on, a dashed line at the average. The
// meter's value is written on it too, since the drawing stays in view while a slider is moved.
func waveDrawing(q question, f finding, l *tool.Layout) *sheet.Element {
	s, say, st := l.Speak, l.Speak.Say, f.State
	wave := curve(f.Wave)
	period, _ := wave.At(wave.N - 1)
	c := bench.ChartOf(0, period, 0, 0, float64(st.Max))
	on, average := c.X(float64(f.Circuit.Duty)*period), c.Y(float64(st.Average))
	text := say("drawn.text", s.Three(quantity.OfTime, period), bench.Three(s, f.Least), bench.Three(s, st.Max), bench.Three(s, st.Average))
	svg := c.Drawing(text).With(
		sheet.New("rect class=on-time x=? y=? width=? height=?", sheet.Num(tool.DrawnLeft), sheet.Num(tool.DrawnTop),
			sheet.Num(on-tool.DrawnLeft), sheet.Num(tool.DrawnBottom-tool.DrawnTop)),
		c.Axes(l),
		sheet.New("path class=average d=?", "M"+sheet.Num(tool.DrawnLeft)+" "+sheet.Num(average)+"H"+sheet.Num(tool.DrawnRight)),
		sheet.New("path class=current d=?", c.Line(wave)),
	)
	if on-tool.DrawnLeft > 60 {
		x, y := sheet.Num(tool.DrawnLeft+tool.LabelSide), sheet.Num(tool.DrawnTop+tool.LabelDown)
		svg.With(sheet.New("text class=mark-name x=? y=?", x, y).Say(say("drawn.on")))
	}
	caption := say("drawn.caption.stop")
	if f.stop == "" {
		caption = say("drawn.caption")
		x, y := sheet.Num(tool.DrawnRight-tool.LabelSide), sheet.Num(tool.DrawnBottom-tool.LabelSide)
		pin := say("drawn.pin."+string(q.side), reading(l, f.Pin.Average))
		svg.With(sheet.New("text class=mark-name x=? y=? text-anchor=end", x, y).Say(pin))
	}
	return sheet.New("figure class=live").With(svg, sheet.New("figcaption").Say(caption))
}

// startDrawing draws the current from switch-on until it is steady.
func startDrawing(q question, f finding, l *tool.Layout) *sheet.Element {
	s, say := l.Speak, l.Speak.Say
	most := 0.0
	for _, p := range f.Start {
		most = max(most, float64(p.I))
	}
	start := curve(f.Start)
	end, _ := start.At(start.N - 1)
	c := bench.ChartOf(0, end, 0, 0, most)
	after := bench.Three(s, f.Steady)
	svg := c.Drawing(say("start.text", after)).With(
		c.Axes(l),
		sheet.New("path class=average d=?", c.Upright(float64(f.Steady))),
		sheet.New("path class=current d=?", c.Line(start)),
	)
	caption := say("start.caption", after)
	if q.FullFor > 0 {
		caption = say("start.peak", after, bench.Three(s, q.FullFor), bench.Three(s, f.Peak))
	}
	return l.Section("start", sheet.New("figure").With(svg, sheet.New("figcaption").Say(caption)))
}

// reading writes a value as a meter's display shows it.
func reading[Q ~float64](l *tool.Layout, v Q) string {
	return l.Speak.Number(float64(v), 2) + "\u00a0" + quantity.Units(quantity.KindOf[Q]())[0].Sign
}

// A meter is a meter to be drawn, with what it shows.
type meter struct {
	name, shown, small string
	jaw                bool // a clamp meter
}

// metersDrawing shows three meters: volts DC and true RMS volts at the control pin, and a clamp on its wire.
func metersDrawing(q question, f finding, l *tool.Layout) *sheet.Element {
	s := l.Speak
	ac, rms := reading(l, f.AC), reading(l, f.State.RMS)
	list := sheet.New("ul class=meters")
	for _, m := range []meter{
		{"dc", reading(l, f.Pin.Average), s.Say("meter.dc.small", s.Share(float64(f.Pin.High))), false},
		{"rms", reading(l, f.Pin.RMS), s.Say("meter.rms.small", reading(l, f.Pin.AC)), false},
		{"clamp", reading(l, f.State.Average), s.Say("meter.clamp.small", ac, rms), true},
	} {
		list.With(meterDrawing(m, l))
	}
	return l.Section("meters", list, sheet.Text("p", "small", meterNotes(q, f, l)))
}

func meterDrawing(m meter, l *tool.Layout) *sheet.Element {
	s := l.Speak
	lead := "M34 78v14M70 78v14"
	if m.jaw {
		lead = "M38 78v6a14 8 0 0 0 28 0v-6"
	}
	svg := sheet.New("svg viewBox=? class=meter aria-hidden=true focusable=false", "0 0 104 94").With(
		sheet.New("path class=leads d=?", lead),
		sheet.New("path class=case d=?", "M6 4h92v74h-92z"),
		sheet.New("path class=display d=?", "M14 14h76v32h-76z"),
		sheet.New("text class=reading x=52 y=36 text-anchor=middle").Say(m.shown),
		sheet.New("text x=52 y=66 text-anchor=middle").Say(s.Say("meter."+m.name+".dial")))
	return sheet.New("li data-meter=?", m.name).With(svg,
		sheet.Text("strong", "", s.Say("meter."+m.name)), sheet.Text("span", "unseen", m.shown), sheet.Text("span", "small", m.small))
}

// meterNotes says what to watch for with the meters, and what they would show if the driver were on the other side.
func meterNotes(q question, f finding, l *tool.Layout) string {
	say, other := l.Speak.Say, low
	if q.side == low {
		other = high
	}
	notes := say("meters." + string(q.side))
	if q.clamps {
		notes = say("meters.clamp", reading(l, f.Pin.Min), reading(l, f.Pin.Max)) + " " + notes
	}
	notes += " " + say("meters.averaging", reading(l, f.Pin.Averaging), reading(l, f.Averaging))
	notes += " " + say("meters.other."+string(other), reading(l, f.OtherPin.Average), reading(l, f.OtherPin.RMS))
	if f.Meters != "" {
		notes += " " + say("meters."+string(f.Meters))
	}
	return notes
}
