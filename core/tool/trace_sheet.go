package tool

import (
	"math"
	"slices"
	"strconv"

	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
)

// layTrace lays out what a recording shows.
func layTrace(r *Record, a *Answer) (head, why *sheet.Element, body []*sheet.Element) {
	res, s := a.Result.(traceResult), a.Speak
	mark, word, number := a.traceVerdict(r, res)
	head = sheet.Verdict(mark, word, s.Say("trace.word."+word), number)
	list := sheet.New("ul class=findings")
	for _, d := range res.Differences {
		list.With(sheet.New("li data-code=?", d.Code).Say(d.Text))
	}
	list.With(sheet.New("li data-code=?", "dip_"+res.Dip.Found).Say(a.dipText(res)))
	return head, sheet.New("div class=why").With(list), []*sheet.Element{a.traceDrawing(res), a.traceFigures(r, res), a.carryTrace(r, res)}
}

// traceVerdict is the word for the whole: what differs first, else that nothing does, else what there is.
func (a *Answer) traceVerdict(r *Record, res traceResult) (sheet.Mark, string, string) {
	s := a.Speak
	number := s.Say("trace.headline.average", a.three(res.CurrentAverage))
	if res.Fit != nil {
		number = s.Say("trace.headline.tau", s.PlusMinus(quantity.OfTime, res.Fit.TimeConstant.Value, res.Fit.TimeConstant.u()))
		if res.Fit.Resistance != nil {
			number = s.Say("trace.headline.fit", s.PlusMinus(quantity.OfResistance, res.Fit.Resistance.Value, res.Fit.Resistance.u()), s.PlusMinus(quantity.OfTime, res.Fit.TimeConstant.Value, res.Fit.TimeConstant.u()))
		}
	}
	if len(res.Differences) > 0 {
		marks := map[string]sheet.Mark{"resistance_high": sheet.MarkAbove, "resistance_low": sheet.MarkBelow, "time_constant_long": sheet.MarkAbove, "time_constant_short": sheet.MarkBelow, "inductance_high": sheet.MarkAbove, "inductance_low": sheet.MarkBelow, "dip_missing": sheet.MarkUnwanted, "steps": sheet.MarkOpen}
		return marks[res.Differences[0].Code], res.Differences[0].Code, number
	}
	switch compared := res.Expected.Resistance != nil && r.Given("supply") && res.Fit != nil; {
	case compared:
		return sheet.MarkWithin, "as_expected", number
	case res.Fit == nil && r.Given("resistance"):
		return sheet.MarkUndecided, "cannot_compare", number
	}
	return sheet.MarkPulse, "read", number
}

// dipText says whether the plunger's dip was found.
func (a *Answer) dipText(res traceResult) string {
	s, d := a.Speak, res.Dip
	switch {
	case d.Found == "cannot_show":
		return s.Say("trace.dip.cannot_show", s.Say("trace.reason."+d.Reason))
	case d.Found == "no" && d.Smallest != nil:
		return s.Say("trace.dip.no", a.three(*d.Smallest))
	case d.Found == "no":
		return s.Say("trace.dip.none")
	case d.Found == "kink":
		return s.Say("trace.dip.kink", a.three(*d.Since), a.three(*d.Current))
	}
	return s.Say("trace.dip.yes", a.three(*d.Since), a.three(*d.Current), a.three(*d.Depth))
}

// traceDrawing draws the recording, the model over it, the dip and the steps.
func (a *Answer) traceDrawing(res traceResult) *sheet.Element {
	say := a.Speak.Say
	first, last := res.Recording[0].T.Value, res.Recording[len(res.Recording)-1].T.Value
	least, most := 0.0, 0.0
	for _, p := range append(res.Recording[:len(res.Recording):len(res.Recording)], res.Model...) {
		least, most = math.Min(least, p.I.Value), math.Max(most, p.I.Value)
	}
	// Time counts from switch-on, where that is known.
	zero := 0.0
	if res.Fit != nil {
		zero = res.Fit.Start.Value
	}
	c := chartOf(first-zero, last-zero, least, most)
	c.zero = zero
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", drawnBox, "drawing wave", say("trace.drawn.text", a.three(res.CurrentMin), a.three(res.CurrentMax), a.dipText(res))).With(
		a.axes(c.t, c.i, c.unitT, c.unitI),
		sheet.New("path class=current d=?", c.line(res.Recording)),
	)
	if len(res.Model) > 0 {
		// Between its two parts, where the plunger moves, there is no model.
		first := len(res.Model)
		if m := res.Fit.MotionTo; m != nil {
			first = slices.IndexFunc(res.Model, func(p pointResult) bool { return p.T.Value >= m.Value })
		}
		svg = svg.With(sheet.New("path class=model d=?", c.line(res.Model[:first])+c.line(res.Model[first:])))
	}
	for _, s := range res.Steps {
		x := sheet.Num(c.x(s.At.Value))
		svg = svg.With(sheet.New("path class=step d=?", "M"+x+" "+sheet.Num(drawnTop)+"V"+sheet.Num(drawnBottom)))
	}
	if res.Dip.At != nil {
		x, y := c.x(res.Dip.At.Value), c.y(res.Dip.Current.Value)
		// Below the curve and to the right of it there is room.
		anchor, dx := "start", 10.0
		if x > drawnRight-90 {
			anchor, dx = "end", -10
		}
		svg = svg.With(sheet.New("g class=?", "mark mark-dip").With(
			sheet.New("path class=dip d=?", "M"+sheet.Num(x)+" "+sheet.Num(y+6)+"l-7 14h14z"),
			sheet.New("text class=mark-name x=? y=? text-anchor=?", sheet.Num(x+dx), sheet.Num(min(y+30, drawnBottom-labelAbove)), anchor).Say(say("trace.drawn."+res.Dip.Found, a.three(*res.Dip.Since)))))
	}
	caption := "trace.drawn.caption"
	if len(res.Model) == 0 {
		caption = "trace.drawn.caption.bare"
	}
	return sheet.New("figure").With(svg, sheet.New("figcaption").Say(say(caption)))
}

func (a *Answer) traceFigures(r *Record, res traceResult) *sheet.Element {
	s, say := a.Speak, a.Speak.Say
	var rows [][2]string
	add := func(name, value string) { rows = append(rows, [2]string{say("trace.figure." + name), value}) }
	if f := res.Fit; f != nil {
		if f.Resistance != nil {
			add("resistance", s.PlusMinus(quantity.OfResistance, f.Resistance.Value, f.Resistance.u()))
		}
		if res.Expected.Resistance != nil {
			add("expected", a.three(*res.Expected.Resistance))
		}
		add("tau_"+f.Of, s.PlusMinus(quantity.OfTime, f.TimeConstant.Value, f.TimeConstant.u()))
		if res.Expected.TimeConstant != nil {
			add("tau_expected", a.three(*res.Expected.TimeConstant))
		}
		if f.AtStop != nil && f.Of == "rest" {
			add("tau_stop", s.PlusMinus(quantity.OfTime, f.AtStop.Value, f.AtStop.u()))
		}
		if f.Inductance != nil {
			add("inductance", s.PlusMinus(quantity.OfInductance, f.Inductance.Value, f.Inductance.u()))
		}
	} else {
		add("no_fit", say("trace.reason."+res.FitMissing))
	}
	if res.Period != nil {
		add("frequency", a.three(*res.Frequency))
		if res.Duty != nil {
			add("duty", a.percent(res.Duty.Value))
		}
		add("ripple", a.three(*res.Ripple))
	}
	// Currents are said to a tenth of their noise, at least to a hundredth of the highest.
	doubt := max(10*res.Noise.Value, math.Abs(res.CurrentMax.Value)/100)
	current := func(i Amount) string { return s.Amperes(i.Value, doubt) }
	add("average", current(res.CurrentAverage))
	add("rms", current(res.CurrentRMS))
	add("span", say("trace.figure.from_to", current(res.CurrentMin), current(res.CurrentMax)))
	add("samples", say("trace.figure.every", strconv.Itoa(int(res.Samples)), a.three(res.Interval)))
	section := a.section("recording", a.figures(rows))
	if res.Fit != nil {
		section = section.With(sheet.Text("p", "small", say("trace.doubt", a.percent(r.Value("clamp_within")), a.percent(r.Value("supply_within")))))
	}
	return section
}

// carryTrace takes what was found over to the drive and to the circuit.
func (a *Answer) carryTrace(r *Record, res traceResult) *sheet.Element {
	if res.Fit == nil || !r.Given("supply") {
		return nil
	}
	plainly := func(v *Amount, k quantity.Kind, unit string) string {
		rounded, err := strconv.ParseFloat(strconv.FormatFloat(v.Value, 'g', 4, 64), 64)
		if err != nil {
			panic(err) // a formatted number parses
		}
		return quantity.Format(rounded, unit, k, quantity.Point)
	}
	drive := map[string]string{}
	for _, name := range []string{"supply", "winding_temperature", "wiring", "driver"} {
		if r.Given(name) {
			r.plainOf(name, drive, name)
		}
	}
	// The winding as it was recorded: the loop less what lies outside it.
	if winding := ohms(res.Fit.Resistance.Value-r.Value("wiring")-r.Value("driver"), 0); winding.Value > 0 {
		drive["resistance"] = plainly(&winding, quantity.OfResistance, "ohm")
		r.plainOf("at", drive, "at")
		r.plainOf("winding_temperature", drive, "at")
	}
	drive["inductance"] = plainly(res.Fit.Inductance, quantity.OfInductance, "mH")
	if res.Period != nil {
		drive["frequency"] = plainly(res.Frequency, quantity.OfFrequency, "Hz")
		if res.Duty != nil {
			drive["duty"] = plainly(res.Duty, quantity.OfRatio, "%")
		}
	}
	circuit := map[string]string{"readings.0.test": "current_on", "readings.0.value": plainly(&res.Fit.Final, quantity.OfCurrent, "A")}
	r.plainOf("supply", circuit, "supply")
	r.plainOf("winding_temperature", circuit, "winding_temperature")
	return sheet.New("div class=carries").With(a.carry("circuit", "trace.carry.circuit", circuit), a.carry("drive", "trace.carry.drive", drive))
}
