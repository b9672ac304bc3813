package tool

import (
	"math"
	"strconv"
	"strings"

	"ohmwright/core/drive"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
)

// layDrive lays out what a pulsed drive gives.
func layDrive(r *Record, a *Answer) (head, why *sheet.Element, body []*sheet.Element) {
	res, s := a.Result.(driveResult), a.Speak
	mark, word := sheet.MarkPulse, "plain"
	switch {
	case a.warned("over_limit"), a.warned("over_limit_pull_in"):
		mark, word = sheet.MarkAbove, "over_limit"
	case a.warned("over_limit_cold"):
		mark, word = sheet.MarkAbove, "over_limit_cold"
	case a.warned("over_class"), a.warned("over_every_class"):
		mark, word = sheet.MarkAbove, "too_hot"
	}
	average, duty := a.three(res.CurrentAverage), a.percent(res.Duty.Value)
	headline := s.Say("drive.headline.duty", duty)
	if res.Ripple.Value > 0 {
		headline = s.Say("drive.headline", a.three(res.CurrentMin), a.three(res.CurrentMax), duty)
	}
	if r.Given("thermal") {
		headline = s.Say("drive.headline.warm", a.degrees(res.WindingTemp.Value), headline)
	}
	if word != "plain" {
		headline = s.Say("drive.headline.average", average, duty)
	}
	head = sheet.Verdict(mark, word, s.Say("drive.word."+word, average), headline)
	return head, sheet.Text("p", "why", a.driveWhy(res)), []*sheet.Element{
		a.waveDrawing(r, res), a.metersDrawing(r, res), a.driveFigures(res), a.startDrawing(r, res), a.limitRows(r, res), a.supplyRows(r, res), a.carryDrive(r, res),
	}
}

// three is an amount to three figures, as it is read at a glance.
func (a *Answer) three(v Amount) string {
	for k := quantity.OfResistance; k <= quantity.OfRatio; k++ {
		if quantity.Units(k)[0].Symbol == v.Unit {
			if v.Value == 0 {
				return a.Speak.Of(k, 0, 0)
			}
			return a.Speak.Of(k, v.Value, 1.5*math.Pow(10, math.Floor(math.Log10(math.Abs(v.Value)))-1))
		}
	}
	panic("tool: no unit " + v.Unit)
}

// percent and degrees are a share and a temperature that were worked out, as they are read at a glance.
func (a *Answer) percent(v float64) string {
	tenths := math.Round(v * 1e3)
	return a.Speak.Number(tenths/10, min(1, int(math.Abs(math.Mod(tenths, 10))))) + "\u00a0%"
}

func (a *Answer) degrees(t float64) string { return a.Speak.Celsius(math.Round(t*10)/10, 0) }

// driveWhy says what the current does, in a sentence.
func (a *Answer) driveWhy(res driveResult) string {
	s := a.Speak
	switch {
	case res.Duty.Value == 0:
		return s.Say("drive.why.off")
	case res.Duty.Value == 1:
		return s.Say("drive.why.full", a.three(res.CurrentMax), a.three(res.PowerWinding))
	case res.Mode == "continuous":
		return s.Say("drive.why.continuous", a.three(res.CurrentMax), a.three(res.CurrentMin), a.three(res.PowerWinding))
	}
	return s.Say("drive.why.discontinuous", a.three(res.CurrentMax), a.three(res.PowerWinding))
}

// A chart is a drawing of a current over time.
type chart struct {
	t, i       sheet.Scale
	perT, perI float64 // what a second and an ampere are in the units drawn
	zero       float64 // the time that is drawn as 0
	unitT      string
	unitI      string
}

// chartOf finds round scales for currents up to most, over a time; least is the lowest current, at most 0 unless it is wanted.
func chartOf(from, to, least, most float64) chart {
	c := chart{perT: 1, unitT: "s", perI: 1, unitI: "A"}
	switch span := to - from; {
	case span < 2e-3:
		c.perT, c.unitT = 1e6, "µs"
	case span < 2:
		c.perT, c.unitT = 1e3, "ms"
	}
	if math.Max(most, -least) < 0.1 && most > least {
		c.perI, c.unitI = 1e3, "mA"
	}
	if !(to > from) {
		to = from + 1
	}
	if !(most > least) {
		most = least + 1
	}
	c.t = sheet.Scale{From: from * c.perT, To: to * c.perT, A: drawnLeft, B: drawnRight}
	c.i = sheet.Scale{From: least * c.perI, To: (most + (most-least)*0.08) * c.perI, A: drawnBottom, B: drawnTop}
	return c
}

// x and y are coordinates of a time and a current.
func (c chart) x(t float64) float64 { v, _ := c.t.Clamp((t - c.zero) * c.perT); return v }
func (c chart) y(i float64) float64 { v, _ := c.i.Clamp(i * c.perI); return v }

// line is the path through points, to a tenth: a phone draws no finer.
func (c chart) line(points []pointResult) string {
	b := make([]byte, 0, 12*len(points))
	for k, p := range points {
		b = append(b, "ML"[min(k, 1)])
		b = appendTenths(b, c.x(p.T.Value))
		b = appendTenths(append(b, ' '), c.y(p.I.Value))
	}
	return string(b)
}

// appendTenths writes a coordinate, which is not below 0, to a tenth.
func appendTenths(b []byte, v float64) []byte {
	n := int64(v*10 + 0.5)
	b = strconv.AppendInt(b, n/10, 10)
	return append(b, '.', byte('0'+n%10))
}

// waveDrawing draws one period of the steady state: the time that the driver is on as a strip, the average as a dashed line.
func (a *Answer) waveDrawing(r *Record, res driveResult) *sheet.Element {
	say := a.Speak.Say
	period := res.Waveform[len(res.Waveform)-1].T.Value
	c := chartOf(0, period, 0, res.CurrentMax.Value)
	on := c.x(res.Duty.Value * period)
	average := c.y(res.CurrentAverage.Value)
	text := say("drive.drawn.text", a.three(plain(quantity.OfTime, period)), a.three(res.CurrentMin), a.three(res.CurrentMax), a.three(res.CurrentAverage))
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", drawnBox, "drawing wave", text).With(
		sheet.New("rect class=on-time x=? y=? width=? height=?", sheet.Num(drawnLeft), sheet.Num(drawnTop), sheet.Num(on-drawnLeft), sheet.Num(drawnBottom-drawnTop)),
		a.axes(c.t, c.i, c.unitT, c.unitI),
		sheet.New("path class=average d=?", "M"+sheet.Num(drawnLeft)+" "+sheet.Num(average)+"H"+sheet.Num(drawnRight)),
		sheet.New("path class=current d=?", c.line(res.Waveform)),
	)
	if on-drawnLeft > 60 {
		svg = svg.With(sheet.New("text class=mark-name x=? y=?", sheet.Num(drawnLeft+labelSide), sheet.Num(drawnTop+labelDown)).Say(say("drive.drawn.on")))
	}
	// What the meter shows goes along, as the drawing is what stays in view while a slider is moved.
	svg = svg.With(sheet.New("text class=mark-name x=? y=? text-anchor=end", sheet.Num(drawnRight-labelSide), sheet.Num(drawnBottom-labelSide)).Say(say("drive.drawn.pin."+r.Text("side"), a.Speak.Number(res.PinVoltageAverage.Value, 2)+"\u00a0V")))
	return sheet.New("figure class=live").With(svg, sheet.New("figcaption").Say(say("drive.drawn.caption")))
}

// startDrawing draws the current from switch-on until it is steady.
func (a *Answer) startDrawing(r *Record, res driveResult) *sheet.Element {
	say := a.Speak.Say
	most := 0.0
	for _, p := range res.Start {
		most = math.Max(most, p.I.Value)
	}
	end := res.Start[len(res.Start)-1].T.Value
	c := chartOf(0, end, 0, most)
	after := a.three(res.SteadyAfter)
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", drawnBox, "drawing wave", say("drive.start.text", after)).With(
		a.axes(c.t, c.i, c.unitT, c.unitI),
		sheet.New("path class=average d=?", "M"+sheet.Num(c.x(res.SteadyAfter.Value))+" "+sheet.Num(drawnTop)+"V"+sheet.Num(drawnBottom)),
		sheet.New("path class=current d=?", c.line(res.Start)),
	)
	caption := say("drive.start.caption", after)
	if res.Peak != nil {
		caption = say("drive.start.peak", after, a.three(plain(quantity.OfTime, r.Group("peak").Value("time"))), a.three(*res.Peak))
	}
	return a.section("start", sheet.New("figure").With(svg, sheet.New("figcaption").Say(caption)))
}

// Below slowPulses a DC reading follows the pulses, above fastPulses many meters no longer read them; hertz, common practice.
const (
	slowPulses = 20
	fastPulses = 1000
)

// metersDrawing shows three meters: volts on DC and on true RMS at the control pin, and a clamp on its wire.
func (a *Answer) metersDrawing(r *Record, res driveResult) *sheet.Element {
	s := a.Speak
	list := sheet.New("ul class=meters")
	meter := func(name string, reading float64, unit string, jaw bool, small string) {
		shown := s.Number(reading, 2) + "\u00a0" + unit
		lead := "M34 78v14M70 78v14"
		if jaw {
			lead = "M38 78v6a14 8 0 0 0 28 0v-6"
		}
		svg := sheet.New("svg viewBox=? class=meter aria-hidden=true focusable=false", "0 0 104 94").With(
			sheet.New("path class=leads d=?", lead),
			sheet.New("path class=case d=?", "M6 4h92v74h-92z"),
			sheet.New("path class=display d=?", "M14 14h76v32h-76z"),
			sheet.New("text class=reading x=52 y=36 text-anchor=middle").Say(shown),
			sheet.New("text x=52 y=66 text-anchor=middle").Say(s.Say("drive.meter."+name+".dial")))
		list.With(sheet.New("li data-meter=?", name).With(svg,
			sheet.Text("strong", "", s.Say("drive.meter."+name)), sheet.Text("span", "unseen", shown), sheet.Text("span", "small", small)))
	}
	volts := func(v Amount) string { return s.Number(v.Value, 2) + "\u00a0V" }
	meter("dc", res.PinVoltageAverage.Value, "V", false, s.Say("drive.meter.dc.small", a.percent(res.PinHigh.Value)))
	meter("rms", res.PinVoltageRMS.Value, "V", false, s.Say("drive.meter.rms.small", volts(res.PinVoltageAC)))
	meter("clamp", res.CurrentAverage.Value, "A", true, s.Say("drive.meter.clamp.small", s.Number(res.CurrentAC.Value, 2)+"\u00a0A", s.Number(res.CurrentRMS.Value, 2)+"\u00a0A"))
	side, other := r.Text("side"), "low"
	if side == "low" {
		other = "high"
	}
	f := r.found.(drive.Found)
	there := f.Circuit.Pin(other == "low", f.State)
	notes := s.Say("drive.meters." + side)
	if r.Group("off_path").Text("kind") == "clamp" {
		notes = s.Say("drive.meters.clamp", volts(res.PinVoltageMin), volts(res.PinVoltageMax)) + " " + notes
	}
	notes += " " + s.Say("drive.meters.other."+other, s.Number(float64(there.Average), 2)+"\u00a0V", s.Number(float64(there.RMS), 2)+"\u00a0V")
	switch f := r.Value("frequency"); {
	case f < slowPulses:
		notes += " " + s.Say("drive.meters.slow")
	case f > fastPulses:
		notes += " " + s.Say("drive.meters.fast")
	}
	return a.section("meters", list, sheet.Text("p", "small", notes))
}

// figures is a list of names and values.
func (a *Answer) figures(rows [][2]string) *sheet.Element {
	list := sheet.New("ul class=figures")
	for _, row := range rows {
		list.With(sheet.New("li").With(sheet.Text("span", "", row[0]), sheet.Text("strong", "", row[1])))
	}
	return list
}

func (a *Answer) driveFigures(res driveResult) *sheet.Element {
	say := a.Speak.Say
	rows := [][2]string{
		{say("drive.figure.winding"), a.three(res.PowerWinding)},
		{say("drive.figure.supply"), a.three(res.PowerSupply)},
		{say("drive.figure.off_path"), a.three(res.PowerOffPath)},
		{say("drive.figure.energy"), a.three(res.EnergyOffPath)},
		{say("drive.figure.ripple"), a.three(res.Ripple)},
		{say("drive.figure.rms"), a.three(res.CurrentRMS)},
		{say("drive.figure.tau"), a.three(res.TimeConstant)},
		{say("drive.figure.hot", a.degrees(res.WindingTemp.Value)), a.three(res.WindingResistance)},
	}
	return a.section("figures", a.figures(rows))
}

// limitRows sets the highest currents beside the driver's limit.
func (a *Answer) limitRows(r *Record, res driveResult) *sheet.Element {
	if len(res.Limits) == 0 {
		return nil
	}
	s := a.Speak
	rows := make([][2]string, len(res.Limits))
	for i, l := range res.Limits {
		margin := l.Margin
		margin.Value = math.Abs(margin.Value)
		word := s.Say("drive.limit."+l.WithinLimit, a.three(l.Current), a.three(margin))
		rows[i] = [2]string{s.Say("drive.limit."+l.Case, a.degrees(l.Temperature.Value)), word}
	}
	return a.section("limits", sheet.Text("p", "small", s.Say("drive.limits", s.Amperes(r.Value("driver_limit"), 0))), a.figures(rows))
}

// supplyRows is what other supply voltages give.
func (a *Answer) supplyRows(r *Record, res driveResult) *sheet.Element {
	if len(res.Supplies) == 0 {
		return nil
	}
	s := a.Speak
	rows := make([][2]string, len(res.Supplies))
	for i, at := range res.Supplies {
		name := s.Volts(at.Supply.Value, 0)
		if len(at.Codes) > 0 {
			name = s.Say("drive.supply.code", name, strings.Join(at.Codes, ", "))
		}
		average, most := a.three(at.CurrentAverage), a.three(at.CurrentMax)
		text := s.Say("drive.supply.row", average, most)
		switch {
		case !at.Reached:
			text = s.Say("drive.supply.short", average)
		case r.Given("target_current"):
			text = s.Say("drive.supply.duty", a.percent(at.Duty.Value), most)
		}
		rows[i] = [2]string{name, text}
	}
	return a.section("supplies", a.figures(rows), sheet.Text("p", "small", s.Say("drive.supplies")))
}

// carryDrive takes the circuit over to the other questions about it.
func (a *Answer) carryDrive(r *Record, res driveResult) *sheet.Element {
	now := quantity.Format(math.Round(res.WindingTemp.Value*10)/10, "degC", quantity.OfTemperature, quantity.Point)
	circuit := map[string]string{"winding_temperature": now}
	winding := map[string]string{"at": now}
	trace := map[string]string{"winding_temperature": now}
	if r.Text("side") == "low" { // the other is what is taken where nothing is said
		circuit["side"] = "low"
	}
	r.plainOf("supply", circuit, "supply")
	r.plainOf("supply", winding, "supply")
	r.plainOf("driver_limit", winding, "driver_limit")
	for _, name := range []string{"supply", "resistance", "at", "inductance", "wiring", "driver"} {
		r.plainOf(name, trace, name)
	}
	return sheet.New("div class=carries").With(a.carry("circuit", "drive.carry.circuit", circuit), a.carry("winding", "drive.carry.winding", winding), a.carry("trace", "drive.carry.trace", trace))
}
