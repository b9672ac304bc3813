package drive

import (
	"slices"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// An Inquiry is a question and what else a reader wants to know: what meters show, how the current starts, whether the driver
// and the insulation bear it, what other supplies give.
type Inquiry struct {
	Question
	Low        bool                 // the driver is on the low side
	NowGiven   bool                 // Temperature is given, and not taken from the coil
	DutyGiven  quantity.Ratio       // the duty as it was given, whatever it is the share of; 0 where it is to be found
	FullFor    quantity.Time        // fully on from switch-on until the pulses begin; 0: pulsed from the start
	Limit      quantity.Current     // of the driver; 0: not known
	Insulation quantity.Temperature // the thermal class of [Classes] that the winding has; 0: not known
}

// A Finding is what an inquiry comes to. Differences of larger numbers are rounded to the digits that are certain.
type Finding struct {
	Found
	Verdict  Verdict
	Course   Course
	Least    quantity.Current // State.Min, rounded
	AC       quantity.Current // State.AC, rounded
	PerPulse quantity.Energy  // what the off path turns into heat in each period
	Pin      Pin
	OtherPin Pin              // what meters would show if the driver were on the other side
	Meters   MeterDoubt       // "": no doubt
	Wave     []Point          // one period of the steady state
	Start    []Point          // from switch-on until it is steady
	Steady   quantity.Time    // from switch-on
	Peak     quantity.Current // the highest of the start, where it is fully on first; else 0
	Limits   []Limit          // none where the driver's limit is not known
	Bears    int              // the place in [Classes] of the lowest class that bears the temperature; len(Classes) where none does
	TooHot   int              // the place of the class that it is too hot for, if a doubt says that it is
	Supplies []Supplied
	Short    *Supplied        // the first of them that does not reach the current wanted; nil where each does
	Conducts quantity.Voltage // the highest supply asked, if the clamp would conduct from some of the supplies alone; else 0
	Doubts   []Doubt
}

// A Verdict is the one thing that a reader is told first.
type Verdict string

// The verdicts, the gravest first.
const (
	VerdictOverLimit Verdict = "over_limit"
	VerdictOverCold  Verdict = "over_limit_cold" // over the driver's limit at a cold start
	VerdictTooHot    Verdict = "too_hot"         // for its insulation
	VerdictPlain     Verdict = "plain"           // nothing to mind: the average is told
)

// A Course says how the current runs through a period.
type Course string

// The courses.
const (
	NeverOn  Course = "off"
	AlwaysOn Course = "full"
	Flows    Course = "continuous"    // it never stops
	Stops    Course = "discontinuous" // it stops in each period
)

// A MeterDoubt says why a meter may not show what it should.
type MeterDoubt string

// The doubts about meters.
const (
	SlowPulses MeterDoubt = "slow" // a DC reading follows them
	FastPulses MeterDoubt = "fast" // many meters no longer read them
)

// The frequencies, in Hz, below and above which pulses are slow and fast; common practice.
const (
	slowest = 20
	fastest = 1000
)

// A Doubt is something that the reader has to know of the answer.
type Doubt string

// The doubts, in the order in which they are told.
const (
	TemperatureAssumed Doubt = "temperature_assumed"
	OverLimit          Doubt = "over_limit"
	OverLimitPullIn    Doubt = "over_limit_pull_in"
	OverLimitCold      Doubt = "over_limit_cold"
	OverLimitFullOn    Doubt = "over_limit_full_on"
	OverEveryClass     Doubt = "over_every_class"
	OverClass          Doubt = "over_class"   // the winding's own
	ClassNeeded        Doubt = "class_needed" // its own is not known
	LowSupply          Doubt = "low_supply"
	ClampConducts      Doubt = "clamp_conducts"
	TinyDuty           Doubt = "duty_tiny" // a share that may be meant in per cent
	IdealDiode         Doubt = "ideal_diode"
)

// A Limit is the highest current in one case beside the driver's limit.
type Limit struct {
	Case        Case
	Temperature quantity.Temperature // of the winding
	Current     quantity.Current
	Margin      quantity.Current // limit less current; below 0 where it is exceeded
	Over        Doubt            // what to say where it is exceeded; "" where not
}

// A Case is when a driver's limit is looked at.
type Case string

// The cases.
const (
	Now        Case = "now"
	PullIn     Case = "pull_in"      // the start with its time fully on, before the winding has warmed itself
	Cold       Case = "cold"         // the coldest start, at the same duty or current, the start included
	FullOnCold Case = "full_on_cold" // the driver fully on then
)

// A Supplied is the answer at another supply.
type Supplied struct {
	Found
	Supply quantity.Voltage
	Codes  []string // of ISO 16750-2 that have it as lowest or highest supply
}

// How a period and a start are drawn: points in each half, periods of a start.
const (
	wavePoints   = 20
	startPeriods = 24
)

// Find answers the inquiry.
func (q Inquiry) Find() Finding {
	f := Finding{Found: q.Question.Find()}
	c, s := f.Circuit, f.State
	f.Course = course(c.Duty, s)
	f.PerPulse = quantity.Energy(float64(s.OffPath) / float64(c.Frequency))
	switch {
	case c.Frequency < slowest:
		f.Meters = SlowPulses
	case c.Frequency > fastest:
		f.Meters = FastPulses
	}
	currents := measure.GrainOf(float64(s.Max))
	f.Least, f.AC = quantity.Current(currents.Of(float64(s.Min))), quantity.Current(currents.Of(float64(s.AC)))
	f.Pin, f.OtherPin = c.Pin(q.Low, s).rounded(measure.GrainOf(float64(c.Supply+c.Off.Reverse))), c.Pin(!q.Low, s)
	start, steady := c.Start(q.FullFor, startPeriods)
	f.Wave, f.Start, f.Steady = rounded(c.Wave(wavePoints), currents), rounded(start, currents), steady
	if q.FullFor > 0 {
		f.Peak = quantity.Current(currents.Of(float64(highest(start))))
	}
	if q.Limit > 0 {
		f.Limits = q.limits(f.Found)
	}
	f.Bears = Bears(f.Temperature)
	f.Supplies, f.Conducts = q.supplies()
	for i, at := range f.Supplies {
		if !at.Reached {
			f.Short = &f.Supplies[i]
			break
		}
	}
	insulation, class := q.tooHot(f.Bears)
	f.TooHot = class
	f.Doubts = q.doubts(f, insulation)
	f.Verdict = verdict(f.Doubts)
	return f
}

func course(duty quantity.Ratio, s State) Course {
	switch {
	case duty == 0:
		return NeverOn
	case duty == 1:
		return AlwaysOn
	case s.Continuous:
		return Flows
	}
	return Stops
}

// rounded rounds all that is a difference.
func (p Pin) rounded(g measure.Grain) Pin {
	for _, v := range []*quantity.Voltage{&p.Average, &p.AC, &p.RMS, &p.Max, &p.Min} {
		*v = quantity.Voltage(g.Of(float64(*v)))
	}
	return p
}

// rounded rounds the currents of a curve, and leaves out points that are the same as the one before.
func rounded(points []Point, g measure.Grain) []Point {
	out := make([]Point, 0, len(points))
	for i, p := range points {
		if i == 0 || p != points[i-1] {
			out = append(out, Point{p.T, quantity.Current(g.Of(float64(p.I)))})
		}
	}
	return out
}

// highest is the highest current of a curve.
func highest(points []Point) (most quantity.Current) {
	for _, p := range points {
		most = max(most, p.I)
	}
	return most
}

// limits sets the highest currents beside the driver's limit, in each case.
func (q Inquiry) limits(now Found) (out []Limit) {
	grain := measure.GrainOf(float64(q.Limit))
	add := func(name Case, t quantity.Temperature, i quantity.Current, over Doubt) {
		if !(i > q.Limit) {
			over = ""
		}
		out = append(out, Limit{name, t, i, quantity.Current(grain.Of(float64(q.Limit - i))), over})
	}
	add(Now, now.Temperature, now.State.Max, OverLimit)
	if q.FullFor > 0 {
		first := now
		if q.Heating != nil {
			first = q.At(q.Heating.Ambient)
		}
		add(PullIn, first.Temperature, q.top(first), OverLimitPullIn)
	}
	if q.Coil.Material.ZeroResistanceAt+winding.LeastAbove < winding.Coldest {
		cold := q.At(winding.Coldest)
		add(Cold, winding.Coldest, q.top(cold), OverLimitCold)
		on := cold.Circuit
		on.Duty = 1
		add(FullOnCold, winding.Coldest, on.Steady().Max, OverLimitFullOn)
	}
	return out
}

// top is the highest current, the start included where it is fully on first.
func (q Inquiry) top(f Found) quantity.Current {
	if q.FullFor == 0 {
		return f.State.Max
	}
	start, _ := f.Circuit.Start(q.FullFor, startPeriods)
	return max(f.State.Max, highest(start))
}

// An asked supply is one at which the answer is given again.
type asked struct {
	volts quantity.Voltage
	codes []string
}

// The supplies asked, by the codes of ISO 16750-2: the lowest supply of codes A to D in a 12 V system and of code E in a 24 V
// one, and the highest of each.
var (
	asked12 = []asked{{9, []string{"C"}}, {10.5, []string{"D"}}, {12, nil}, {14, nil}, {16, []string{"A", "B", "C", "D"}}}
	asked24 = []asked{{10, []string{"E"}}, {24, nil}, {28, nil}, {32, []string{"E"}}}
)

// highest12 is the supply in volts above which a vehicle's is a 24 V system; above highest24 it is neither.
const (
	highest12 = 18
	highest24 = 36
)

// DiodeDrop is what a diode is taken to drop, in volts, and what no clamp can lie below; common practice.
const DiodeDrop = 0.7

// supplies answers the question at other supplies. Those at which a clamp across the switch would conduct are left out; then
// conducts is the highest supply asked.
func (q Inquiry) supplies() (out []Supplied, conducts quantity.Voltage) {
	list := asked12
	switch v := q.Circuit.Supply; {
	case v > highest24:
		return nil, 0
	case v > highest12:
		list = asked24
	}
	for _, at := range list {
		again := q.Question
		again.Circuit.Supply = at.volts
		if clamp := again.Circuit.Off.Clamp; clamp > 0 {
			again.Circuit.Off.Reverse = clamp - at.volts
			if again.Circuit.Off.Reverse < DiodeDrop {
				continue // the supply itself would drive the clamp
			}
		}
		out = append(out, Supplied{again.Find(), at.volts, at.codes})
	}
	if len(out) > 0 && len(out) < len(list) {
		conducts = list[len(list)-1].volts
	}
	return out, conducts
}

// doubts lists what the reader has to know. That about the insulation is found already; "" where there is none.
func (q Inquiry) doubts(f Finding, insulation Doubt) (doubts []Doubt) {
	note := func(is bool, d Doubt) {
		if is {
			doubts = append(doubts, d)
		}
	}
	note(q.Heating == nil && !q.NowGiven, TemperatureAssumed)
	for _, l := range f.Limits {
		note(l.Over != "", l.Over)
	}
	note(insulation != "", insulation)
	note(f.Short != nil, LowSupply)
	note(f.Conducts > 0, ClampConducts)
	note(q.DutyGiven > 0 && q.DutyGiven < 0.01, TinyDuty)
	note(f.Circuit.Off.Reverse == 0 && f.Circuit.Duty > 0 && f.Circuit.Duty < 1, IdealDiode)
	return doubts
}

// tooHot returns the thermal class that the winding is too hot for, and what to say of it; bears is the place of the lowest
// class that bears its temperature. If none does, it is the highest class; else the winding's own where that is known; else
// the highest below bears, from 130 on, as windings of lower classes are rare (common practice).
func (q Inquiry) tooHot(bears int) (d Doubt, class int) {
	const rare = 3 // classes below 130
	switch {
	case bears == len(Classes):
		return OverEveryClass, bears - 1
	case q.Insulation != 0:
		if own := Bears(q.Insulation); own < bears {
			return OverClass, own
		}
	case bears > rare:
		return ClassNeeded, bears - 1
	}
	return "", 0
}

// verdict is the gravest that the doubts come to.
func verdict(doubts []Doubt) Verdict {
	has := func(d Doubt) bool { return slices.Contains(doubts, d) }
	switch {
	case has(OverLimit), has(OverLimitPullIn):
		return VerdictOverLimit
	case has(OverLimitCold):
		return VerdictOverCold
	case has(OverClass), has(OverEveryClass):
		return VerdictTooHot
	}
	return VerdictPlain
}
