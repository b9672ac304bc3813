package circuit

import "ohmwright/core/quantity"

// A Test is a kind of measurement on the circuit, or a look at something that was typed.
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
	VoltsUnitFeed
	VoltsUnitGround
	Wiggle
	RowApplies
	Thermometer
	SupplyDriven
	Heat
	Tests int = iota
)

// A Quantity is what a test measures.
type Quantity uint8

// The quantities, in ohm, volt, ampere and degC; and what moving or warming does, and yes or no.
const (
	Ohms Quantity = iota
	Volts
	Amperes
	Degrees
	Behaviour
	Answer
	Quantities int = iota
)

// A Word is a reading that is no number. The zero Word is none.
type Word uint8

// The words. A resistance is steady or jumps while wires are moved or the part warms; the row of the specification applies:
// yes or no.
const (
	NoWord Word = iota
	Steady
	Jumps
	Yes
	No
	Words int = iota
)

var wordNames = [Words]string{"", "steady", "jumps", "yes", "no"}

// String returns the word in the contract.
func (w Word) String() string { return wordNames[w] }

// Words returns the words that a quantity is read in; none for a number.
func (q Quantity) Words() []Word {
	switch q {
	case Behaviour:
		return []Word{Steady, Jumps}
	case Answer:
		return []Word{Yes, No}
	}
	return nil
}

// tests is the contract's tables of tests. The minutes are common practice.
var tests = [Tests]struct {
	name     string
	quantity Quantity
	minutes  float64
	driven   bool // all plugged, driver commanded on
}{
	OhmsWinding:         {"resistance_winding", Ohms, 45, false},
	OhmsComponent:       {"resistance_component", Ohms, 10, false},
	OhmsUnit:            {"resistance_unit", Ohms, 12, false},
	OhmsHarness:         {"continuity_harness", Ohms, 15, false},
	InsulationHarness:   {"insulation_harness", Ohms, 12, false},
	InsulationComponent: {"insulation_component", Ohms, 10, false},
	VoltsHarnessOpen:    {"voltage_harness_open", Volts, 8, false},
	VoltsPinOn:          {"voltage_pin_on", Volts, 10, true},
	VoltsPinOff:         {"voltage_pin_off", Volts, 8, false},
	CurrentOn:           {"current_on", Amperes, 8, true},
	VoltsReturn:         {"voltage_drop_return", Volts, 12, true},
	VoltsFeed:           {"voltage_feed", Volts, 8, false},
	VoltsLoad:           {"voltage_unit_test_load", Volts, 15, false},
	VoltsUnitFeed:       {"voltage_unit_feed", Volts, 8, true},
	VoltsUnitGround:     {"voltage_unit_ground", Volts, 8, true},
	Wiggle:              {"wiggle_harness", Behaviour, 10, false},
	RowApplies:          {"row_applies", Answer, 5, false},
	Thermometer:         {"winding_temperature", Degrees, 3, false},
	SupplyDriven:        {"supply_driven", Volts, 4, true},
	Heat:                {"heat_component", Behaviour, 20, false},
}

// String returns the test's name in the contract.
func (t Test) String() string { return tests[t].name }

// Quantity returns what the test measures.
func (t Test) Quantity() Quantity { return tests[t].quantity }

// Minutes returns the default duration.
func (t Test) Minutes() float64 { return tests[t].minutes }

// Driven reports whether the test is made with everything plugged in and the driver commanded on.
func (t Test) Driven() bool { return tests[t].driven }

// Live reports whether the test is made with the supply on.
func (t Test) Live() bool { return tests[t].quantity == Volts || tests[t].quantity == Amperes }

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

// A Reading is what a test showed. Over is OL, for a resistance: no path that the meter can measure. Word stands in place of
// the value where the test is read in words.
type Reading struct {
	Test   Test
	Value  float64
	Over   bool
	Word   Word
	Supply float64               // at that reading, V; 0 if that of the model
	At     *quantity.Temperature // of the winding at that reading; nil if that of the model
}

// Latest returns the last reading of each possible test, in the order of tests, so that the order of the readings changes nothing
// else.
func (m *Model) Latest(readings []Reading) (kept []Reading) {
	var by [Tests]*Reading
	for i := range readings {
		by[readings[i].Test] = &readings[i]
	}
	for _, r := range by {
		if r != nil && r.Test.Possible(m.Side, m.Return) {
			kept = append(kept, *r)
		}
	}
	return kept
}
