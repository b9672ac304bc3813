// Package circuit finds which part of a solenoid circuit is at fault, from readings, and what to measure next.
//
// The circuit is a chain: driver, harness, inner lead, winding, return path. One fault at a time changes one part of it,
// by a parameter with a distribution. For each test the chain in that test's state of plugs is a resistor network, solved
// by nodal analysis. Readings weigh the faults by Bayes' rule, the parameter and the healthy winding's resistance
// integrated; costs weigh the tests.
//
// The chain, its nominal resistances, the weights, minutes and thresholds are common practice, and open to change in a
// [Model]. What the package ignores: faults that come and go, two faults at once (but see [Finding.Pair]), inductance, and
// what a driver does to protect itself.
package circuit

import (
	"math"

	"ohmwright/core/measure"
)

// A Side says which end of the winding the control unit switches.
type Side uint8

// High: the control unit feeds the pin and the far end goes to ground. Low: the far end is fed and the control unit
// grounds the pin.
const (
	High Side = iota
	Low
)

// A Return says how the far end is connected.
type Return uint8

// Wire: through a pin of the component's connector. Case: through the component's case, which is ground; on the high side
// alone.
const (
	Wire Return = iota
	Case
)

// A Fault is one thing that can be wrong, None among them.
type Fault uint8

// The faults, by the part that has them.
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

// The parts, from the control unit to the far end.
const (
	Nowhere Part = iota
	Driver
	Harness
	Lead
	Winding
	Path
	Parts int = iota
)

// A Repair is what is replaced or mended.
type Repair uint8

// The repairs. Nothing is to hand the vehicle over as it is.
const (
	Nothing Repair = iota
	Component
	MendHarness
	MendPath
	ControlUnit
	Repairs int = iota
)

// A spread is how a fault's parameter is distributed: uniform between the limits, or uniform in its logarithm. The zero
// spread has no parameter.
type spread struct {
	min, max float64
	log      bool
}

// faults holds what the contract's table says of each fault. The weights are common practice.
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

// String is the fault's name in the contract; Part where it is, Repair what mends it, Weight its default prior weight.
func (f Fault) String() string  { return faults[f].name }
func (f Fault) Part() Part      { return faults[f].part }
func (f Fault) Repair() Repair  { return faults[f].repair }
func (f Fault) Weight() float64 { return faults[f].weight }

// Limits are the least and the largest parameter of a fault, and whether it is uniform in its logarithm; ok is false for
// a fault without a parameter.
func (f Fault) Limits() (min, max float64, log, ok bool) {
	s := faults[f].spread
	return s.min, s.max, s.log, s != spread{}
}

// spread is that of a fault's parameter with the model's own limits.
func (m *Model) spread(f Fault) spread {
	s := faults[f].spread
	if s != (spread{}) {
		s.min, s.max = m.Limits[f][0], m.Limits[f][1]
	}
	return s
}

// Parameter is a fault's parameter at a place between 0 and 1 of the scale on which it is uniform; 0 for a fault without one.
func (m *Model) Parameter(f Fault, u float64) float64 { return m.spread(f).at(u) }

var partNames = [Parts]string{"", "driver", "harness", "inner_lead", "winding", "return_path"}

// String is the part's name in the contract.
func (p Part) String() string { return partNames[p] }

var repairNames = [Repairs]string{"nothing", "component", "harness", "return_path", "control_unit"}

// String is the repair's name in the contract.
func (r Repair) String() string { return repairNames[r] }

// A Test is a way to take a reading.
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

// tests holds what the contract's table says of each test. The minutes are common practice.
var tests = [Tests]struct {
	name     string
	quantity Quantity
	minutes  float64
	parts    uint8 // that a fault of can change the reading, a bit each
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

// String is the test's name in the contract; Quantity what it measures, Minutes its default duration.
func (t Test) String() string     { return tests[t].name }
func (t Test) Quantity() Quantity { return tests[t].quantity }
func (t Test) Minutes() float64   { return tests[t].minutes }

// Possible says whether there is such a test for a side and a return: insulation of the component only where the winding
// does not return through the case, and a feed to measure only on the low side.
func (t Test) Possible(s Side, r Return) bool {
	switch t {
	case InsulationComponent:
		return r == Wire
	case VoltsFeed:
		return s == Low
	}
	return true
}

// A Code is what kind of trouble code the control unit has stored. The zero Code is none.
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

// String is the kind's name in the contract.
func (c Code) String() string { return codeNames[c] }

// A Meter is a meter's accuracy for one quantity, and whether it changes its range with the reading: then its resolution is
// that of a 4000-count meter for resistance, and Resolution means nothing.
type Meter struct {
	measure.Meter
	Auto bool
}

// OverLimit is the resistance above which a meter shows OL, in ohm.
const OverLimit = 40e6

// resolution is one count at a resistance, of a meter that changes its range: common practice of a 4000-count meter.
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

// at is the meter in the range that it uses for a reading.
func (m Meter) at(reading float64) measure.Meter {
	if m.Auto {
		m.Resolution = resolution(math.Abs(reading))
	}
	return m.Meter
}

// A Model is the circuit as it should be, and all that is assumed of it. [New] fills in common practice.
type Model struct {
	Side   Side
	Return Return
	Supply float64 // of the battery, V, above 0
	// Min and Max are the limits of a healthy winding at its temperature, ohm; anywhere between is equally likely.
	Min, Max float64
	Code     Code
	Nominal  Nominal
	Checks   Checks
	Meters   [Quantities]Meter
	Weights  [Faults]float64    // prior weights, 0 or more, not all 0
	Limits   [Faults][2]float64 // of the faults' parameters, above 0
	Minutes  [Tests]float64
	Hour     float64          // what an hour of labour costs
	Wrong    [Repairs]float64 // what it costs to do a repair in vain
}

// Nominal are the resistances of what is not the winding, in ohm.
type Nominal struct {
	Driver  float64 // when on
	Harness float64
	Lead    float64
	Path    float64 // from the far end to ground, or to the feed
	Source  float64 // of the battery
	Pull    float64 // of the driver's own check current, to the rail that the driver switches to
}

// Checks are what a driver's own checks take for a fault.
type Checks struct {
	Off   float64 // off: above it on the high side, below it on the low side, the pin is taken for open, V
	On    float64 // on: below it on the high side, above it on the low side, the output is taken for shorted, V
	Over  float64 // on: a larger current is taken for a short, A
	Open  float64 // on: a smaller current is taken for open, A
	Range float64 // share by which the current may be off the expected
}

// New is a model with the contract's defaults.
func New(side Side, ret Return, supply, min, max float64) *Model {
	m := &Model{Side: side, Return: ret, Supply: supply, Min: min, Max: max, Hour: 60,
		Meters: [Quantities]Meter{Ohms: {measure.Meter{Percent: 1, Counts: 2}, true},
			Volts: {measure.Meter{Percent: 0.5, Counts: 2, Resolution: 0.01}, false}, Amperes: {measure.Meter{Percent: 2, Counts: 3, Resolution: 0.01}, false}}}
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

// A Reading is what a test showed. Over is OL, of a resistance: no path that the meter can measure.
type Reading struct {
	Test  Test
	Value float64
	Over  bool
}

// Unmeasured spread of contacts and nominal values, standard deviations: common practice.
const (
	spreadOhms      = 0.12
	spreadVolts     = 0.06
	spreadOfCurrent = 0.03
	spreadAmperes   = 0.02
)

// U is the standard uncertainty of a reading of a test whose true value is known: that of the meter, and the spread of
// contacts and nominal values.
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

// Step is one count of the display at a reading; 0 where it shows everything.
func (m *Model) Step(t Test, value float64) float64 {
	return m.Meters[tests[t].quantity].at(value).Resolution
}
