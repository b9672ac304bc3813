//go:build !js

package circuit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	relativeAllowed = 1e-3
	ohmsAllowed     = 1e-4 // a thousandth of a meter's finest digit: rounding and the shunts
	voltsAllowed    = 1e-4 // a hundredth of a digit: the shunts and the voltmeter
	amperesAllowed  = 1e-5 // a thousandth of a digit: the model keeps its voltmeter at the pin, 2.7 µA, the netlist does not
)

// meterMoved is how much less a voltmeter across an open feed reads than the model's, which stays at the pin:
// one of 10 Mohm beside a pull-down of 50 kohm, and two of them.
const meterMoved = 0.0075

// tableFaults is the contract's tables of faults: the limits of the parameter, whether it is uniform in its logarithm, and in how
// many ways the fault occurs, as [ways] says in words.
var tableFaults = []struct {
	name     string
	min, max float64
	log      bool
	ways     int
}{
	{"none", 0, 0, false, 1},
	{"winding.open", 0, 0, false, 1},
	{"winding.shorted_turns", 0.10, 0.98, false, 1},
	{"winding.high_resistance", 3, 1000, true, 1},
	{"winding.to_case", 0.1, 10e3, true, 1},
	{"inner_lead.open", 0, 0, false, 1},
	{"inner_lead.high_resistance", 1, 1000, true, 1},
	{"inner_lead.to_ground", 0.05, 1000, true, 1},
	{"harness.open", 0, 0, false, 1},
	{"harness.high_resistance", 1, 1000, true, 1},
	{"harness.to_ground", 0.05, 1000, true, 1},
	{"harness.to_battery", 0.05, 100, true, 1},
	{"return_path.open", 0, 0, false, 1},
	{"return_path.high_resistance", 0.5, 1000, true, 2},
	{"driver.never_on", 0, 0, false, 1},
	{"driver.always_on", 0, 0, false, 1},
	{"driver.weak", 1, 100, true, 1},
	{"unit_feed.open", 0, 0, false, 2},
	{"unit_feed.high_resistance", 0.5, 100, true, 2},
	{"unit_ground.open", 0, 0, false, 1},
	{"unit_ground.high_resistance", 0.5, 100, true, 1},
	{"unit_connector.open", 0, 0, false, 1},
	{"unit_connector.high_resistance", 1, 1000, true, 1},
	{"component_connector.open", 0, 0, false, 1},
	{"component_connector.high_resistance", 1, 1000, true, 1},
	{"inner_lead.to_battery", 0.05, 100, true, 1},
	{"harness.to_other", 0.05, 100, true, 3},
	{"component.to_other", 0.05, 100, true, 2},
	{"driver.shorted", 0.02, 200, true, 2},
	// At rest, what comes and goes reads healthy, and so does what is none of the faults as far as the chain goes.
	{"intermittent.harness", 0, 0, false, 1},
	{"intermittent.component", 0, 0, false, 1},
	{"intermittent.return_path", 0, 0, false, 1},
	{"intermittent.unit", 0, 0, false, 1},
	{"other_row", 0.5, 2, true, 1},
	{"other", 0, 0, false, 1},
}

// A meterage is one figure that a netlist gives: the voltage between two nodes, or the current of a source; and the package's.
type meterage struct {
	what        string
	plus, minus string
	through     string
	perUnit     float64
	over        bool // a resistance, which may be OL
	floor       float64
	relative    float64 // 0 for relativeAllowed
	want        float64
}

// A benchCase is a circuit in the netlist, what is read on it, and what it is.
type benchCase struct {
	b     *bench
	reads []meterage
	what  string
}

// A benchTest connects one circuit and says what is read on it.
type benchTest struct {
	name     string
	possible func(low, wire bool) bool
	connect  func(b *bench) []meterage
	want     func(v *View, of *meterage) float64
}

func always(bool, bool) bool { return true }

// resistances are the tests without a battery.
var resistances = []benchTest{
	{"resistance_winding", always, func(b *bench) []meterage { b.winding(); return b.ohmmeter("w", "f") }, nil},
	{"resistance_component", always, func(b *bench) []meterage {
		b.component(false, false)
		if b.wire {
			return b.ohmmeter("i", "f")
		}
		b.returnPath(false)
		return b.ohmmeter("i", "0")
	}, nil},
	{"resistance_unit", always, func(b *bench) []meterage {
		b.harness(false, false)
		b.contact("component_connector", "c", "i")
		b.component(true, false)
		b.returnPath(false)
		return b.ohmmeter("h", b.home())
	}, nil},
	{"continuity_harness", always, func(b *bench) []meterage { b.harness(false, false); return b.ohmmeter("h", "c") }, nil},
	{"insulation_harness", always, func(b *bench) []meterage { b.harness(false, false); return b.ohmmeter("h", "0") }, nil},
	{"insulation_component", func(_, wire bool) bool { return wire },
		func(b *bench) []meterage { b.component(false, false); return b.ohmmeter("i", "0") }, nil},
}

// unplugged are the tests under voltage with a plug pulled.
var unplugged = []benchTest{
	{"voltage_harness_open", always, func(b *bench) []meterage {
		b.battery()
		b.harness(true, false)
		return b.voltmeter("h", "0")
	}, nil},
	{"voltage_feed", func(low, _ bool) bool { return low }, func(b *bench) []meterage {
		b.battery()
		b.returnPath(true)
		return b.voltmeter("f", "0")
	}, nil},
	{"voltage_unit_test_load", always, func(b *bench) []meterage { return b.testLoad(true) }, nil},
	{"voltage_unit_test_load", always, func(b *bench) []meterage { return b.testLoad(false) },
		func(v *View, _ *meterage) float64 { return v.Off[VoltsLoad].Value }},
}

// wholes are the tests with everything plugged in: at the pin, at the far end, and without a voltmeter in the circuit.
func wholes(on bool) []benchTest {
	of := func(b *bench) []meterage {
		b.battery()
		b.unit(on)
		b.source("p", "u")
		b.contact("unit_connector", "u", "h")
		b.harness(true, true)
		b.contact("component_connector", "c", "i")
		b.component(true, true)
		b.returnPath(true)
		return nil
	}
	return []benchTest{
		{"voltage_pin", always, func(b *bench) []meterage {
			of(b)
			return append(b.voltmeter("h", "0"), b.across("inside", "p", "q"))
		}, wantWhole(on)},
		{"voltage_drop_return", always, func(b *bench) []meterage {
			of(b)
			if !b.low {
				return b.voltmeter("f", "0")
			}
			list := b.voltmeter("b", "f")
			if !on { // only the driver's check current flows: where the voltmeter is matters, and the model keeps it at the pin
				list[0].relative = meterMoved
			}
			return list
		}, wantWhole(on)},
		{"clamp", always, func(b *bench) []meterage {
			of(b)
			return []meterage{{what: "current_on", through: fmt.Sprintf("i(vs%d)", b.id), floor: amperesAllowed},
				b.across("voltage_unit_feed", "s", "0"), b.across("voltage_unit_ground", "q", "0"),
				b.across("supply_driven", "b", "0"), b.across("left", "s", "q")}
		}, wantWhole(on)},
	}
}

// wantWhole returns what the package says of a figure of the whole circuit.
func wantWhole(on bool) func(v *View, of *meterage) float64 {
	return func(v *View, of *meterage) float64 {
		switch of.what {
		case "inside":
			if on {
				return v.Inside[1].Value
			}
			return v.Inside[0].Value
		case "left": // what the control unit is left with: known for a driver that is on
			if on {
				return v.Volts
			}
			return math.NaN()
		case "voltage_pin":
			if on {
				return v.On[VoltsPinOn].Value
			}
			if a, b := v.On[VoltsPinOff].Value, v.Off[VoltsPinOn].Value; a != b {
				return math.Inf(-1) // the driver is off in both
			}
			return v.Off[VoltsPinOn].Value
		}
		for t := range Test(Tests) {
			if t.String() == of.what && on {
				return v.On[t].Value
			} else if t.String() == of.what {
				return v.Off[t].Value
			}
		}
		panic("no such figure: " + of.what)
	}
}

// wantOn returns what the package says of a test by its name, the driver doing as it is told.
func wantOn(v *View, of *meterage) float64 {
	for t := range Test(Tests) {
		if t.String() == of.what {
			return v.On[t].Value
		}
	}
	panic("no such test: " + of.what)
}

// A kind is a kind of circuit, in the contract's words and in the package's.
type kind struct {
	low, wire bool
	side      Side
	ret       Return
}

var kinds = []kind{{false, true, High, Wire}, {false, false, High, Case}, {true, true, Low, Wire}}

// A vehicle is a supply and the limits of a winding.
type vehicle struct{ supply, min, max float64 }

// vehicles are two usual ones, one with next to no winding, and one with a relay's kilohms.
var vehicles = []vehicle{{12.6, 5, 5.6}, {27, 20, 34}, {9, 0.05, 1.6}, {24, 100, 8e3}}

// casesOf makes the cases of a vehicle and a kind of circuit: each fault in each way, five parameters over the fault's range, in
// turn with the least and the largest winding. It writes them to a netlist, numbered from first.
func casesOf(t *testing.T, v vehicle, of kind, first int, netlist *strings.Builder) (cases []benchCase) {
	m := New(of.side, of.ret, v.supply, v.min, v.max)
	list := append(append(append(append([]benchTest{}, resistances...), unplugged...), wholes(true)...), wholes(false)...)
	for f, fault := range tableFaults {
		require.Equal(t, fault.name, Fault(f).String())
		require.Equal(t, fault.ways, Fault(f).Ways(), fault.name)
		for way := range fault.ways {
			for i, x := range scale(fault.min, fault.max, fault.log) {
				coils := []float64{v.min, v.max}
				if fault.max > 0 {
					coils = coils[i%2 : i%2+1]
				}
				for _, coil := range coils {
					var seen View
					c := m.Chain(&m.Nominal, coil).With(Fault(f), x, way)
					c.Predict(electrical(of.side, of.ret)|InsideToo, &seen)
					for _, test := range list {
						if !test.possible(of.low, of.wire) {
							continue
						}
						b := &bench{out: netlist, id: first + len(cases), low: of.low, wire: of.wire, supply: v.supply, coil: coil,
							fault: fault.name, x: x, way: way}
						what := fmt.Sprintf("under %s %g, way %d: %v V, winding %g ohm, low %v, wire %v", fault.name, x, way,
							v.supply, coil, of.low, of.wire)
						cases = append(cases, benchCase{b, figures(test, b, &seen), what})
					}
				}
			}
		}
	}
	return cases
}

// figures writes the circuit of a test and returns what is read on it, with what the package says.
func figures(test benchTest, b *bench, seen *View) (list []meterage) {
	want := test.want
	if want == nil {
		want = wantOn
	}
	for _, of := range test.connect(b) {
		if of.what == "" {
			of.what = test.name
		}
		if of.want = want(seen, &of); !math.IsNaN(of.want) {
			list = append(list, of)
		}
	}
	return list
}

// A comparison counts what came of the figures.
type comparison struct {
	compared, over, nearZero, wrong int
	by                              map[string]int
	worst                           float64
}

// add compares the simulator's figure with the package's.
func (n *comparison) add(t *testing.T, c *benchCase, of *meterage, got float64) {
	n.compared++
	n.by[of.what]++
	ok := false
	switch off := math.Abs(got - of.want); {
	case of.over && got > tableOver:
		n.over++
		ok = math.IsInf(of.want, 1)
	case off <= of.floor:
		ok = true
		if math.Abs(got) < of.floor/relativeAllowed {
			n.nearZero++
		}
	case of.relative > 0:
		ok = off <= of.relative*math.Abs(got)
	default:
		n.worst = max(n.worst, off/math.Abs(got))
		ok = off <= relativeAllowed*math.Abs(got)
	}
	if !ok {
		if n.wrong++; n.wrong <= 20 {
			t.Errorf("%s %s: ngspice %.8g, the package %.8g", of.what, c.what, got, of.want)
		}
	}
}

// TestAgainstSpice compares every prediction with ngspice: of each test, driver on and, where that matters, off, and of what the
// control unit sees at its own output and is left with. The netlists are written from the contract and from what network.go says
// of the surroundings, and use nothing of the package. Source: ngspice (Debian package ngspice), operating points of resistive
// circuits.
func TestAgainstSpice(t *testing.T) {
	t.Parallel()
	require.Len(t, tableFaults, Faults)
	n := comparison{by: map[string]int{}}
	first, circuits := 0, 0
	for _, v := range vehicles {
		for _, of := range kinds {
			netlist, found := &strings.Builder{}, map[string]float64{}
			cases := casesOf(t, v, of, first, netlist)
			first += len(cases)
			circuits += len(cases)
			simulate(t, netlist.String(), found)
			for i := range cases {
				for k := range cases[i].reads {
					n.add(t, &cases[i], &cases[i].reads[k], cases[i].b.reads(t, &cases[i].reads[k], found))
				}
			}
		}
	}
	assert.Zero(t, n.wrong, "predictions that differ from ngspice; the first 20 are above")
	everyTestCompared(t, n.by)
	t.Logf("%d circuits, %d figures: %d OL, %d near zero; the others are off by at most %.2g", circuits, n.compared, n.over,
		n.nearZero, n.worst)
}

// everyTestCompared checks that no electrical test is left out, nor what the control unit sees.
func everyTestCompared(t *testing.T, by map[string]int) {
	require.Positive(t, by["inside"])
	require.Positive(t, by["left"])
	for k := range Test(Tests) {
		name := k.String()
		if k == VoltsPinOn || k == VoltsPinOff {
			name = "voltage_pin"
		}
		if k.Quantity() <= Amperes {
			require.Greater(t, by[name], 500, name)
		}
	}
}

// scale returns five values of a parameter from limit to limit, evenly spaced on its scale; a single 0 for a fault without one.
func scale(min, max float64, log bool) (list []float64) {
	if min == max {
		return []float64{0}
	}
	for i := range 5 {
		u := float64(i) / 4
		if log {
			list = append(list, math.Exp((1-u)*math.Log(min)+u*math.Log(max)))
		} else {
			list = append(list, (1-u)*min+u*max)
		}
	}
	return list
}
