// Package circuit finds which part of a solenoid circuit is at fault, from readings, and what to measure next.
//
// The circuit is a chain: driver, harness, inner lead, winding, return path. A fault changes one part of it, by a parameter
// that has a distribution. In each test the chain, with the plugs connected or pulled as that test needs, is a network of
// resistors, solved by nodal analysis. Bayes' rule gives the probability of each fault from the readings, integrated over
// the parameter and the healthy winding's resistance. Tests are ranked by what they cost and save.
//
// The chain, its nominal resistances, the weights, minutes and thresholds are common practice; a [Model] can change them.
// The package ignores faults that come and go, two faults at once (but see [Finding.Pair]), inductance, and what a driver
// does to protect itself.
package circuit

import (
	"math"

	"ohmwright/core/measure"
)

// A Side is the end of the winding that the control unit switches.
type Side uint8

// High: the control unit feeds the pin, and the far end goes to ground. Low: the far end is fed, and the control unit grounds
// the pin.
const (
	High Side = iota
	Low
)

// A Return is how the far end is connected.
type Return uint8

// Wire: through a pin of the component's connector. Case: through the component's case, which is ground; only on the high
// side.
const (
	Wire Return = iota
	Case
)

// A Fault is one thing that can be wrong; None means that nothing is.
type Fault uint8

// The faults, in the order of the parts.
const (
	None Fault = iota
	WindingOpen
	WindingShorted
	WindingHigh
	WindingToCase
	LeadOpen
	LeadHigh
	LeadToGround
	HarnessOpen
	HarnessHigh
	HarnessToGround
	HarnessToBattery
	PathOpen
	PathHigh
	DriverNever
	DriverAlways
	DriverWeak
	Faults int = iota
)

// A Part is a part of the chain.
type Part uint8

// The parts, from the control unit to the far end. Nowhere is the part of None.
const (
	Nowhere Part = iota
	Driver
	Harness
	Lead
	Winding
	Path
	Parts int = iota
)

// A Repair is what is replaced or repaired.
type Repair uint8

// The repairs. Nothing means that the vehicle is handed over as it is.
const (
	Nothing Repair = iota
	Component
	MendHarness
	MendPath
	ControlUnit
	Repairs int = iota
)

// A spread is the distribution of a fault's parameter: uniform between the limits, or uniform in its logarithm. A fault with
// the zero spread has no parameter.
type spread struct {
	min, max float64
	log      bool
}

// faults is the contract's table of faults. The weights are common practice.
var faults = [Faults]struct {
	name   string
	part   Part
	repair Repair
	weight float64
	spread spread
}{
	None:             {"none", Nowhere, Nothing, 6, spread{}},
	WindingOpen:      {"winding.open", Winding, Component, 8, spread{}},
	WindingShorted:   {"winding.shorted_turns", Winding, Component, 12, spread{0.10, 0.98, false}},
	WindingHigh:      {"winding.high_resistance", Winding, Component, 5, spread{3, 1000, true}},
	WindingToCase:    {"winding.to_case", Winding, Component, 4, spread{0.1, 10e3, true}},
	LeadOpen:         {"inner_lead.open", Lead, Component, 5, spread{}},
	LeadHigh:         {"inner_lead.high_resistance", Lead, Component, 5, spread{1, 1000, true}},
	LeadToGround:     {"inner_lead.to_ground", Lead, Component, 4, spread{0.05, 1000, true}},
	HarnessOpen:      {"harness.open", Harness, MendHarness, 10, spread{}},
	HarnessHigh:      {"harness.high_resistance", Harness, MendHarness, 10, spread{1, 1000, true}},
	HarnessToGround:  {"harness.to_ground", Harness, MendHarness, 9, spread{0.05, 1000, true}},
	HarnessToBattery: {"harness.to_battery", Harness, MendHarness, 4, spread{0.05, 100, true}},
	PathOpen:         {"return_path.open", Path, MendPath, 4, spread{}},
	PathHigh:         {"return_path.high_resistance", Path, MendPath, 6, spread{0.5, 1000, true}},
	DriverNever:      {"driver.never_on", Driver, ControlUnit, 4, spread{}},
	DriverAlways:     {"driver.always_on", Driver, ControlUnit, 2, spread{}},
	DriverWeak:       {"driver.weak", Driver, ControlUnit, 2, spread{1, 100, true}},
}

// String returns the fault's name in the contract.
func (f Fault) String() string { return faults[f].name }

// Part returns the part that has the fault.
func (f Fault) Part() Part { return faults[f].part }

// Repair returns the repair that removes the fault.
func (f Fault) Repair() Repair { return faults[f].repair }

// Weight returns the default prior weight.
func (f Fault) Weight() float64 { return faults[f].weight }

// Limits returns the least and the largest parameter of a fault, and whether it is uniform in its logarithm; ok is false for
// a fault without a parameter.
func (f Fault) Limits() (min, max float64, log, ok bool) {
	s := faults[f].spread
	return s.min, s.max, s.log, s != spread{}
}

// spread returns the distribution of a fault's parameter, with the limits of the model.
func (m *Model) spread(f Fault) spread {
	s := faults[f].spread
	if s != (spread{}) {
		s.min, s.max = m.Limits[f][0], m.Limits[f][1]
	}
	return s
}

// Parameter returns a fault's parameter at u, 0 to 1, on the scale on which it is uniform; 0 for a fault without a parameter.
func (m *Model) Parameter(f Fault, u float64) float64 { return m.spread(f).at(u) }

var partNames = [Parts]string{"", "driver", "harness", "inner_lead", "winding", "return_path"}

// String returns the part's name in the contract.
func (p Part) String() string { return partNames[p] }

var repairNames = [Repairs]string{"nothing", "component", "harness", "return_path", "control_unit"}

// String returns the repair's name in the contract.
func (r Repair) String() string { return repairNames[r] }

// A Test is a kind of measurement on the circuit.
type Test uint8

// The tests.
const (
	OhmsWinding Test = iota
	OhmsComponent
	OhmsUnit
	OhmsHarness
	InsulationHarness
	InsulationComponent
	VoltsHarnessOpen
	VoltsPinOn
	VoltsPinOff
	CurrentOn
	VoltsReturn
	VoltsFeed
	VoltsLoad
	Tests int = iota
)

// A Quantity is what a test measures.
type Quantity uint8

// The quantities, in ohm, volt and ampere.
const (
	Ohms Quantity = iota
	Volts
	Amperes
	Quantities int = iota
)

// tests is the contract's table of tests. The minutes are common practice.
var tests = [Tests]struct {
	name     string
	quantity Quantity
	minutes  float64
	parts    uint8 // a bit for each part whose faults can change the reading
}{
	OhmsWinding:         {"resistance_winding", Ohms, 45, 1 << Winding},
	OhmsComponent:       {"resistance_component", Ohms, 10, 1<<Winding | 1<<Lead | 1<<Path},
	OhmsUnit:            {"resistance_unit", Ohms, 12, 1<<Winding | 1<<Lead | 1<<Path | 1<<Harness},
	OhmsHarness:         {"continuity_harness", Ohms, 15, 1 << Harness},
	InsulationHarness:   {"insulation_harness", Ohms, 12, 1 << Harness},
	InsulationComponent: {"insulation_component", Ohms, 10, 1<<Winding | 1<<Lead},
	VoltsHarnessOpen:    {"voltage_harness_open", Volts, 8, 1 << Harness},
	VoltsPinOn:          {"voltage_pin_on", Volts, 10, allParts},
	VoltsPinOff:         {"voltage_pin_off", Volts, 8, allParts},
	CurrentOn:           {"current_on", Amperes, 8, allParts},
	VoltsReturn:         {"voltage_drop_return", Volts, 12, allParts},
	VoltsFeed:           {"voltage_feed", Volts, 8, 1 << Path},
	VoltsLoad:           {"voltage_unit_test_load", Volts, 15, 1 << Driver},
}

const allParts = 1<<Driver | 1<<Harness | 1<<Lead | 1<<Winding | 1<<Path

// String returns the test's name in the contract.
func (t Test) String() string { return tests[t].name }

// Quantity returns what the test measures.
func (t Test) Quantity() Quantity { return tests[t].quantity }

// Minutes returns the default duration.
func (t Test) Minutes() float64 { return tests[t].minutes }

// Possible reports whether a circuit with this side and return has such a test: the component's insulation can only be
// measured if the winding does not return through the case, and only the low side has a feed.
func (t Test) Possible(s Side, r Return) bool {
	switch t {
	case InsulationComponent:
		return r == Wire
	case VoltsFeed:
		return s == Low
	}
	return true
}

// A Code is the kind of trouble code that the control unit has stored. The zero Code is none.
type Code uint8

// The kinds of code.
const (
	NoCode Code = iota
	CodeLow
	CodeHigh
	CodeOpen
	CodeRange
	Codes int = iota
)

var codeNames = [Codes]string{"", "low", "high", "open", "range"}

// String returns the kind's name in the contract.
func (c Code) String() string { return codeNames[c] }

// A Meter is a meter's accuracy for one quantity. If Auto, it changes its range with the reading: its resolution is then that
// of a 4000-count meter for resistance, and Resolution is ignored.
type Meter struct {
	measure.Meter
	Auto bool
}

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

// A Model is a healthy circuit and everything assumed about it. [New] fills in common practice.
type Model struct {
	Side   Side
	Return Return
	Supply float64 // of the battery, V, above 0
	// Min and Max are the limits of a healthy winding at its temperature, ohm; all resistances between them are equally likely.
	Min, Max float64
	Code     Code
	Nominal  Nominal
	Checks   Checks
	Meters   [Quantities]Meter
	Weights  [Faults]float64    // prior weights, 0 or more, not all 0
	Limits   [Faults][2]float64 // of the faults' parameters, above 0
	Minutes  [Tests]float64
	Hour     float64          // cost of an hour of labour
	Wrong    [Repairs]float64 // cost of each repair if it is the wrong one
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

// Checks are the thresholds from which a driver's own checks report a fault.
type Checks struct {
	Off   float64 // driver off: above this on the high side, below it on the low side, the pin counts as open, V
	On    float64 // driver on: below this on the high side, above it on the low side, the output counts as shorted, V
	Over  float64 // driver on: a larger current counts as a short, A
	Open  float64 // driver on: a smaller current counts as open, A
	Range float64 // share by which the current may differ from the expected one
}

// New returns a model with the contract's defaults.
func New(side Side, ret Return, supply, min, max float64) *Model {
	m := &Model{Side: side, Return: ret, Supply: supply, Min: min, Max: max, Hour: 60,
		Meters: [Quantities]Meter{
			Ohms:    {measure.Meter{Percent: 1, Counts: 2}, true},
			Volts:   {measure.Meter{Percent: 0.5, Counts: 2, Resolution: 0.01}, false},
			Amperes: {measure.Meter{Percent: 2, Counts: 3, Resolution: 0.01}, false},
		}}
	m.Nominal = Nominal{Driver: 0.15, Harness: 0.15, Lead: 0.10, Path: 0.05, Source: 0.02, Pull: 20e3}
	m.Checks = Checks{Off: 3, On: 2.8, Over: 4.5, Open: 0.04, Range: 0.2}
	if side == Low {
		m.Nominal.Path, m.Nominal.Pull = 0.15, 50e3
		m.Checks.On, m.Checks.Open = 2.5, 0.1
	}
	for f := range m.Weights {
		m.Weights[f] = faults[f].weight
		m.Limits[f] = [2]float64{faults[f].spread.min, faults[f].spread.max}
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

// A Reading is what a test showed. Over is OL, for a resistance: no path that the meter can measure.
type Reading struct {
	Test  Test
	Value float64
	Over  bool
}

// Spread of contacts and nominal values, which nobody measures, as standard deviations: common practice.
const (
	spreadOhms      = 0.12
	spreadVolts     = 0.06
	spreadOfCurrent = 0.03
	spreadAmperes   = 0.02
)

// U returns the standard uncertainty of a reading with that true value, from the meter and the spread of contacts and nominal
// values.
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

// Step returns one count of the display at a reading; 0 if the display does not round.
func (m *Model) Step(t Test, value float64) float64 {
	return m.Meters[tests[t].quantity].at(value).Resolution
}
