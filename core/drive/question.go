package drive

import (
	"slices"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// An Inquiry is a question, and what else a reader wants to know: what meters show, how the current starts, whether driver
// and insulation withstand it, and what other supplies give.
type Inquiry struct {
	Question
	Low        bool                 // the driver is on the low side
	NowGiven   bool                 // Temperature is given, not taken from the coil
	DutyGiven  quantity.Ratio       // the duty as given, whatever it is a share of; 0 if it is to be found
	FullFor    quantity.Time        // time that the driver is fully on before the pulses begin; 0: pulsed from the start
	Limit      quantity.Current     // highest current of the driver; 0 if not known
	Insulation quantity.Temperature // thermal class of the winding, one of [Classes]; 0 if not known
	Usual      bool                 // nobody knows the inductance: that of [UsualInductance] stands in
}

// A Finding is the answer to an inquiry. Differences of larger numbers are rounded to the digits that are certain.
type Finding struct {
	Found
	Verdict   Verdict
	Course    Course
	Least     quantity.Current // State.Min, rounded
	AC        quantity.Current // State.AC, rounded
	Averaging quantity.Current // State.Averaging, rounded
	PerPulse  quantity.Energy  // heat produced in the off path in each period
	Pin       Pin
	OtherPin  Pin              // what meters would show if the driver were on the other side
	Meters    MeterDoubt       // "": no doubt
	Wave      []Point          // one period of the steady state
	Start     []Point          // current from switch-on until it is steady
	Steady    quantity.Time    // time from switch-on until the current is steady
	Peak      quantity.Current // highest current of the start, if the driver is fully on first; else 0
	Limits    []Limit          // empty if the driver's limit is not known
	Bears     int              // index in [Classes] of the lowest class that withstands the temperature; len(Classes) if none does
	TooHot    int              // index of the class that the winding is too hot for; only valid if a doubt says so
	Supplies  []Supplied
	Short     *Supplied        // the first of Supplies that does not reach the wanted current; nil if all do
	Conducts  quantity.Voltage // the highest supply tried, if some supplies alone would make the clamp conduct; else 0
	Doubts    []Doubt
	Swing     []Found // the same with half and twice the inductance, if a usual one stands in
}

// A Verdict is what a reader is told first.
type Verdict string

// The verdicts, most serious first.
const (
	VerdictOverLimit Verdict = "over_limit"
	VerdictOverCold  Verdict = "over_limit_cold" // over the driver's limit at a cold start
	VerdictTooHot    Verdict = "too_hot"         // too hot for its insulation
	VerdictPlain     Verdict = "plain"           // no warning: the average current is shown
)

// A Course says how the current flows during a period.
type Course string

// The courses.
const (
	NeverOn  Course = "off"
	AlwaysOn Course = "full"
	Flows    Course = "continuous"    // it never stops
	Stops    Course = "discontinuous" // it stops in each period
)

// A MeterDoubt says why a meter may show something else.
type MeterDoubt string

// The doubts about meters.
const (
	SlowPulses MeterDoubt = "slow" // a DC reading follows the pulses up and down
	FastPulses MeterDoubt = "fast" // many meters cannot measure pulses this fast
)

// Pulses below the first frequency, in Hz, are slow, and above the second they are fast; common practice.
const (
	slowest = 20
	fastest = 1000
)

// A Doubt is something that the reader must know about the answer.
type Doubt string

// The doubts, in the order in which they are told.
const (
	TemperatureAssumed Doubt = "temperature_assumed"
	InductanceAssumed  Doubt = "inductance_assumed"
	OverLimit          Doubt = "over_limit"
	OverLimitPullIn    Doubt = "over_limit_pull_in"
	OverLimitCold      Doubt = "over_limit_cold"
	OverLimitFullOn    Doubt = "over_limit_full_on"
	OverEveryClass     Doubt = "over_every_class"
	OverClass          Doubt = "over_class"   // for the winding's own class
	ClassNeeded        Doubt = "class_needed" // the winding's own class is not known
	LowSupply          Doubt = "low_supply"
	ClampConducts      Doubt = "clamp_conducts"
	TinyDuty           Doubt = "duty_tiny" // may be meant in per cent, not as a share
	IdealDiode         Doubt = "ideal_diode"
)

// A Limit compares the highest current in one case with the driver's limit.
type Limit struct {
	Case        Case
	Temperature quantity.Temperature // of the winding
	Current     quantity.Current
	Margin      quantity.Current // limit less current; negative if the limit is exceeded
	Over        Doubt            // the doubt if the limit is exceeded; else ""
}

// A Case is a situation in which the driver's limit is checked.
type Case string

// The cases.
const (
	Now        Case = "now"
	PullIn     Case = "pull_in"      // the start, while the driver is fully on and the winding has not warmed itself yet
	Cold       Case = "cold"         // the coldest start, at the same duty or current, including the time fully on
	FullOnCold Case = "full_on_cold" // the coldest start with the driver fully on
)

// A Supplied is the answer at another supply voltage.
type Supplied struct {
	Found
	Supply quantity.Voltage
	Codes  []string // codes of ISO 16750-2 whose lowest or highest supply this is
}

// How many points are drawn for each half of a period, and how many periods of a start.
const (
	wavePoints   = 20
	startPeriods = 24
)

// Find works out the answer to the inquiry.
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
	f.Averaging = quantity.Current(currents.Of(float64(s.Averaging)))
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
	if q.Usual {
		f.Swing = []Found{q.withInductance(0.5), q.withInductance(2)}
	}
	insulation, class := q.tooHot(f.Bears)
	f.TooHot = class
	f.Doubts = q.doubts(f, insulation)
	f.Verdict = verdict(f.Doubts)
	return f
}

// UsualTime is the time constant of a usual small solenoid with its plunger at rest: 5 to 20 mH at 5 ohm, 10 to 50 mH at 15 ohm and 20 to
// 150 mH at 25 ohm lie within a factor of three of it. Common practice.
const UsualTime quantity.Time = 2e-3

// UsualInductance returns the inductance that stands in for one that nobody knows, for a winding's resistance at 20 degC.
//
//	L = τ R
func UsualInductance(cold quantity.Resistance) quantity.Inductance {
	return quantity.Inductance(float64(UsualTime) * float64(cold))
}

// withInductance answers the question for another inductance, a multiple of its own.
func (q Inquiry) withInductance(times float64) Found {
	q.Circuit.Inductance *= quantity.Inductance(times)
	return q.Question.Find()
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

// rounded rounds the voltages that are differences.
func (p Pin) rounded(g measure.Grain) Pin {
	for _, v := range []*quantity.Voltage{&p.Average, &p.AC, &p.Averaging, &p.RMS, &p.Max, &p.Min} {
		*v = quantity.Voltage(g.Of(float64(*v)))
	}
	return p
}

// rounded rounds the currents of a curve, and drops points that repeat the one before.
func rounded(points []Point, g measure.Grain) []Point {
	out := make([]Point, 0, len(points))
	for i, p := range points {
		if i == 0 || p != points[i-1] {
			out = append(out, Point{p.T, quantity.Current(g.Of(float64(p.I)))})
		}
	}
	return out
}

// highest returns the highest current of a curve.
func highest(points []Point) (most quantity.Current) {
	for _, p := range points {
		most = max(most, p.I)
	}
	return most
}

// limits compares the highest current in each case with the driver's limit.
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

// top returns the highest current, including the start if the driver is fully on first.
func (q Inquiry) top(f Found) quantity.Current {
	if q.FullFor == 0 {
		return f.State.Max
	}
	start, _ := f.Circuit.Start(q.FullFor, startPeriods)
	return max(f.State.Max, highest(start))
}

// An asked is a supply at which the question is asked again.
type asked struct {
	volts quantity.Voltage
	codes []string
}

// The supplies at which the question is asked again, with the codes of ISO 16750-2: the lowest supply of codes A to D in a
// 12 V system and of code E in a 24 V system, and the highest of each.
var (
	asked12 = []asked{{9, []string{"C"}}, {10.5, []string{"D"}}, {12, nil}, {14, nil}, {16, []string{"A", "B", "C", "D"}}}
	asked24 = []asked{{10, []string{"E"}}, {24, nil}, {28, nil}, {32, []string{"E"}}}
)

// A supply above highest12, in volts, means a 24 V system, and one above highest24 neither system.
const (
	highest12 = 18
	highest24 = 36
)

// DiodeDrop is the assumed voltage drop of a diode, in volts, and the lowest voltage that a clamp can have; common practice.
const DiodeDrop = 0.7

// supplies answers the question at other supplies. It leaves out those at which a clamp across the switch would conduct;
// if there are any, conducts is the highest supply in the list.
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

// doubts returns what the reader must know. insulation is the doubt about the insulation, or "".
func (q Inquiry) doubts(f Finding, insulation Doubt) (doubts []Doubt) {
	note := func(is bool, d Doubt) {
		if is {
			doubts = append(doubts, d)
		}
	}
	note(q.Heating == nil && !q.NowGiven, TemperatureAssumed)
	note(q.Usual, InductanceAssumed)
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

// tooHot returns the doubt about the insulation and the index of the class that the winding is too hot for. bears is the
// index of the lowest class that withstands its temperature. If no class does, the winding is too hot for the highest.
// Otherwise its own class counts; if that is not known, the class below bears counts, but only from class 130 on, since
// windings of lower classes are rare (common practice).
func (q Inquiry) tooHot(bears int) (d Doubt, class int) {
	const rare = 3 // number of classes below 130
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

// verdict returns the most serious verdict that the doubts lead to.
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
