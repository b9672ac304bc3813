package circuit

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// A Meter is a meter's accuracy for one quantity. If Auto, it changes its range with the reading: its resolution is then that
// of a 4000-count meter for resistance, and Resolution is ignored.
type Meter struct {
	measure.Meter
	Auto bool
}

// Meters is the number of quantities that a multimeter reads here: resistance, voltage, current.
const Meters = int(Amperes) + 1

// OverLimit is the resistance above which a meter shows OL, in ohm.
const OverLimit = 40e6

// resolution returns one count at a resistance, for a 4000-count meter that changes its range: common practice.
func resolution(ohms float64) float64 {
	switch {
	case ohms < 400:
		return 0.1
	case ohms < 4e3:
		return 1
	case ohms < 40e3:
		return 10
	}
	return 1e3
}

// at returns the meter in the range that it uses for a reading.
func (m Meter) at(reading float64) measure.Meter {
	if m.Auto {
		m.Resolution = resolution(math.Abs(reading))
	}
	return m.Meter
}

// A Row is a row of the specification as printed: anything between Min and Max, in ohm, is equally likely of a healthy winding
// at the temperature At.
type Row struct {
	Min, Max float64
	At       quantity.Temperature
}

// A Warmth is the winding's temperature while it is measured: At, within a half-width of Within; or not Known, and anything
// that a winding may have.
type Warmth struct {
	Known  bool
	At     quantity.Temperature
	Within quantity.TemperatureDifference
}

// Span returns the lowest and the highest temperature that the winding may have.
func (w Warmth) Span() (cold, hot quantity.Temperature) {
	if !w.Known {
		return winding.Anywhere.From, winding.Anywhere.To
	}
	return w.At - quantity.Temperature(w.Within), w.At + quantity.Temperature(w.Within)
}

// Middle returns the temperature that it is taken to have in the middle.
func (w Warmth) Middle() quantity.Temperature {
	if !w.Known {
		return winding.Anywhere.Middle()
	}
	return w.At
}

// A Model is a circuit and everything assumed about it. [New] fills in common practice.
//
// What nobody knows exactly is not taken as exact: the supply, the winding's temperature, the healthy resistances within their
// Spans, and one meter's error, which all of its readings share.
type Model struct {
	Side         Side
	Return       Return
	Supply       float64 // of the battery, V, above 0
	SupplyWithin float64 // half-width of the doubt about it, V
	Row          Row
	Warmth       Warmth
	InnerApart   bool // the component's inner leads are sold apart from it
	Code         Code
	Present      Presence
	Stage        Stage
	Set          float64 // the current that a regulating driver holds, A; 0 if not known
	Nominal      Nominal
	Spans        Spans
	Checks       Checks
	Meters       [Meters]Meter
	Weights      [Faults]float64    // prior weights, 0 or more, not all 0
	Limits       [Faults][2]float64 // of the faults' parameters, above 0
	Minutes      [Tests]float64
	Hour         float64          // cost of an hour of labour
	Wrong        [Repairs]float64 // cost of each repair if it is the wrong one
}

// Nominal holds the resistances of everything but the winding, in ohm.
type Nominal struct {
	Driver  float64 // when on
	Harness float64
	Lead    float64
	Path    float64 // from the far end to ground, or to the feed
	Source  float64 // of the battery
	Pull    float64 // that supplies the driver's own check current, to the rail that the driver switches to
}

// A Span is the least and the largest of a healthy resistance, in ohm; anything between them is equally likely in its
// logarithm. The zero Span means that the nominal resistance is exact.
type Span struct{ Min, Max float64 }

// Spans holds the spans of the nominal resistances that differ from vehicle to vehicle.
type Spans struct{ Driver, Harness, Lead, Path Span }

// Checks are the thresholds from which a driver's own checks report a fault.
type Checks struct {
	Off   float64 // driver off: above this on the high side, below it on the low side, the pin counts as open, V
	On    float64 // driver on: below this on the high side, above it on the low side, the output counts as shorted, V
	Over  float64 // driver on: a larger current counts as a short, A
	Open  float64 // driver on: a smaller current counts as open, A
	Range float64 // share by which the current may differ from the expected one
}

// Doubts that a user at the bench really has, from the contract.
const (
	SupplyWithin = 0.3 // V
	WarmthWithin = 10  // K
)

// New returns a model with the contract's defaults, for a winding at 20 degC.
func New(side Side, ret Return, supply, min, max float64) *Model {
	m := &Model{Side: side, Return: ret, Supply: supply, SupplyWithin: SupplyWithin, Hour: 60,
		Row: Row{min, max, 20}, Warmth: Warmth{true, 20, WarmthWithin},
		Meters: [Meters]Meter{
			Ohms:    {measure.Meter{Percent: 1, Counts: 2}, true},
			Volts:   {measure.Meter{Percent: 0.5, Counts: 2, Resolution: 0.01}, false},
			Amperes: {measure.Meter{Percent: 2, Counts: 3, Resolution: 0.01}, false},
		}}
	m.Nominal = Nominal{Driver: 0.15, Harness: 0.15, Lead: 0.10, Path: 0.05, Source: 0.02, Pull: 20e3}
	m.Spans = Spans{Driver: Span{0.1, 0.8}, Harness: Span{0.05, 0.9}, Lead: Span{0.05, 0.3}, Path: Span{0.02, 0.3}}
	m.Checks = Checks{Off: 3, On: 2.8, Over: 4.5, Open: 0.04, Range: 0.2}
	if side == Low {
		m.Nominal.Path, m.Nominal.Pull = 0.15, 50e3
		m.Checks.On, m.Checks.Open = 2.5, 0.1
	}
	for f := range m.Weights {
		m.Weights[f] = faults[f].weight
		m.Limits[f] = [2]float64{faults[f].spread.Min, faults[f].spread.Max}
	}
	for t := range m.Minutes {
		m.Minutes[t] = tests[t].minutes
	}
	for r := range m.Wrong {
		m.Wrong[r] = 300
	}
	return m
}

// WeightSum returns the sum of the prior weights: each over it is a prior probability.
func (m *Model) WeightSum() (sum float64) {
	for _, w := range m.Weights {
		sum += w
	}
	return sum
}

// Spread of contacts, which nobody measures, as standard deviations: common practice.
const (
	spreadOhms      = 0.12
	spreadVolts     = 0.06
	spreadOfCurrent = 0.03
	spreadAmperes   = 0.02
)

// U returns the standard uncertainty of a reading with that true value, from the meter and the spread of contacts.
func (m *Model) U(t Test, value float64) float64 {
	q := tests[t].quantity
	s := spreadOhms
	switch q {
	case Volts:
		s = spreadVolts
	case Amperes:
		s = spreadOfCurrent*math.Abs(value) + spreadAmperes
	}
	u := m.Meters[q].at(value).U(value)
	return math.Sqrt(s*s + u*u)
}

// A Doubter is what the readings of a test are doubted by, at any value.
type Doubter struct {
	auto        bool
	share       float64         // of the value, that the meter's common error moves a reading by
	common, own [ranges]float64 // what it moves it by beside, and the variance of the rest, in each of the meter's ranges
	spread      float64         // of contacts, as a share of the value
}

// ranges is how many ranges a meter has for resistance.
const ranges = 4

// Doubter returns that of a test; nothing of one that no multimeter reads.
func (m *Model) Doubter(t Test) (d Doubter) {
	q := tests[t].quantity
	if int(q) >= Meters {
		return d
	}
	meter := m.Meters[q]
	d.auto, d.share = meter.Auto, measure.Rectangular(meter.Percent/100)
	spread := spreadOhms
	switch {
	case q == Amperes:
		spread, d.spread = 0, spreadOfCurrent
	case t == VoltsUnitFeed || t == VoltsUnitGround:
		spread = spreadOfPower
	case q == Volts:
		spread = spreadVolts
	}
	for i, ohms := range [ranges]float64{0, 400, 4e3, 40e3} {
		at := meter.at(ohms)
		_, single := at.Split(0)
		d.common[i] = (at.Counts*at.Resolution - single) / math.Sqrt(3)
		d.own[i] = spread*spread + single*single/3
	}
	return d
}

// At returns what one meter's common error moves a reading by, as a standard deviation, and the variance of the rest; 0 for no path.
func (d *Doubter) At(value float64) (common, own float64) {
	if value < 0 {
		value = -value
	}
	i := 0
	switch {
	case value > math.MaxFloat64:
		return 0, 0
	case !d.auto || value < 400:
	case value < 4e3:
		i = 1
	case value < 40e3:
		i = 2
	default:
		i = 3
	}
	own = d.own[i]
	if d.spread > 0 {
		s := d.spread*value + spreadAmperes
		own += s * s
	}
	if common = d.share*value + d.common[i]; common < 0 {
		common = 0
	}
	return common, own
}

// spreadOfPower is the spread of the control unit's own feed and ground, which carry what it draws for everything, in volt.
const spreadOfPower = 0.1

// Step returns one count of the display at a reading; 0 if the display does not round.
func (m *Model) Step(t Test, value float64) float64 {
	return m.Meters[tests[t].quantity].at(value).Resolution
}
