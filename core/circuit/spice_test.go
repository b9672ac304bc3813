//go:build !js

package circuit_test

// This test runs a program beside it, which a module in a page cannot. Under js/wasm the same predictions feed every other
// test of the package.

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
)

// The contract's chain, nominal resistances and tester, in ohm.
const (
	nominalDriver    = 0.15
	nominalHarness   = 0.15
	nominalLead      = 0.10
	nominalPathHigh  = 0.05
	nominalPathLow   = 0.15
	nominalSource    = 0.02
	nominalPullUp    = 20e3
	nominalPullDown  = 50e3
	tableVoltmeter   = 10e6
	tableLoad        = 12
	tableOver        = 40e6
	testAmperes      = 1e-3 // of the ohmmeter
	shuntOhms        = 1e10 // from every node to ground: the simulator wants a way to ground for each
	relativeAllowed  = 1e-3
	ohmsAllowed      = 1e-4 // a thousandth of a meter's finest digit: a short is rounding and shunts
	voltsAllowed     = 1e-4 // a hundredth of a digit: what shunts and voltmeter leave where nothing flows
	amperesAllowed   = 1e-5 // a thousandth of a digit: the model leaves its voltmeter at the pin, 2.7 µA, the netlist does not
	casesOfTheTables = 4 * 3 * (12 + 11 + 13) * (7 + 10*5)
)

// tableFaults is the contract's table of faults: the parameter's limits, and whether it is log-uniform.
var tableFaults = []struct {
	name     string
	min, max float64
	log      bool
}{
	{"none", 0, 0, false},
	{"winding.open", 0, 0, false},
	{"winding.shorted_turns", 0.10, 0.98, false},
	{"winding.high_resistance", 3, 1000, true},
	{"winding.to_case", 0.1, 10e3, true},
	{"inner_lead.open", 0, 0, false},
	{"inner_lead.high_resistance", 1, 1000, true},
	{"inner_lead.to_ground", 0.05, 1000, true},
	{"harness.open", 0, 0, false},
	{"harness.high_resistance", 1, 1000, true},
	{"harness.to_ground", 0.05, 1000, true},
	{"harness.to_battery", 0.05, 100, true},
	{"return_path.open", 0, 0, false},
	{"return_path.high_resistance", 0.5, 1000, true},
	{"driver.never_on", 0, 0, false},
	{"driver.always_on", 0, 0, false},
	{"driver.weak", 1, 100, true},
}

// tableTests is the contract's table of tests.
var tableTests = []string{"resistance_winding", "resistance_component", "resistance_unit", "continuity_harness", "insulation_harness",
	"insulation_component", "voltage_harness_open", "voltage_pin_on", "voltage_pin_off", "current_on", "voltage_drop_return",
	"voltage_feed", "voltage_unit_test_load"}

// isPossible is the contract's word on which tests there are.
func isPossible(test string, low, wire bool) bool {
	switch test {
	case "insulation_component":
		return wire
	case "voltage_feed":
		return low
	}
	return true
}

// testCalled and faultCalled find the package's own by the contract's names.
func testCalled(t testing.TB, name string) circuit.Test {
	for k := range circuit.Test(circuit.Tests) {
		if k.String() == name {
			return k
		}
	}
	require.Fail(t, "no test called "+name)
	return 0
}

func faultCalled(t testing.TB, name string) circuit.Fault {
	for f := range circuit.Fault(circuit.Faults) {
		if f.String() == name {
			return f
		}
	}
	require.Fail(t, "no fault called "+name)
	return 0
}

// A bench is one circuit on paper, a case of its own in the netlist: nodes are the battery's post b, the pin p, the
// component's connector c, the winding's top w, middle m and far end f, and ground 0.
type bench struct {
	out          *strings.Builder
	id, parts    int
	low, wire    bool
	supply, coil float64
	fault        string
	x            float64
	plus, minus  string // where the meter is
	through      string // of which source it reads the current
	perUnit      float64
}

// node is a node's name in the netlist.
func (b *bench) node(name string) string {
	if name == "0" {
		return name
	}
	return name + strconv.Itoa(b.id)
}

// ohms puts a resistor between two nodes; an infinite one is left out.
func (b *bench) ohms(from, to string, value float64) {
	if math.IsInf(value, 1) {
		return
	}
	b.parts++
	fmt.Fprintf(b.out, "r%d_%d %s %s %.17g\n", b.id, b.parts, b.node(from), b.node(to), value)
}

func (b *bench) has(fault string) bool { return b.fault == fault }

// series is a part of the chain: open, or with ohms added to the nominal ones.
func (b *bench) series(part string, nominal float64) float64 {
	switch {
	case b.has(part + ".open"):
		return math.Inf(1)
	case b.has(part + ".high_resistance"):
		return nominal + b.x
	}
	return nominal
}

func (b *bench) battery() {
	fmt.Fprintf(b.out, "v%d %s 0 dc %.17g\n", b.id, b.node("e"), b.supply)
	b.ohms("e", "b", nominalSource)
}

func (b *bench) harness() {
	b.ohms("p", "c", b.series("harness", nominalHarness))
	if b.has("harness.to_ground") {
		b.ohms("p", "0", b.x)
	}
	if b.has("harness.to_battery") {
		b.ohms("p", "b", b.x)
	}
}

func (b *bench) winding() {
	r := b.series("winding", b.coil)
	if b.has("winding.shorted_turns") {
		r *= 1 - b.x
	}
	b.ohms("w", "m", r/2)
	b.ohms("m", "f", r/2)
}

func (b *bench) component() {
	b.ohms("c", "w", b.series("inner_lead", nominalLead))
	b.winding()
	if b.has("winding.to_case") {
		b.ohms("m", "0", b.x)
	}
	if b.has("inner_lead.to_ground") {
		b.ohms("c", "0", b.x)
	}
}

func (b *bench) returnPath() {
	if b.low {
		b.ohms("f", "b", b.series("return_path", nominalPathLow))
	} else {
		b.ohms("f", "0", b.series("return_path", nominalPathHigh))
	}
}

// unit is the control unit, what it carries coming out at a node.
func (b *bench) unit(at string, on bool) {
	rail, pull := "b", nominalPullUp
	if b.low {
		rail, pull = "0", nominalPullDown
	}
	b.ohms(rail, at, pull)
	switch {
	case b.has("driver.never_on") || !on && !b.has("driver.always_on"):
	case b.has("driver.weak"):
		b.ohms(rail, at, b.x)
	default:
		b.ohms(rail, at, nominalDriver)
	}
}

// ohmmeter sends its current from one node to another; voltmeter is connected to two.
func (b *bench) ohmmeter(plus, minus string) {
	fmt.Fprintf(b.out, "i%d %s %s dc %g\n", b.id, b.node(minus), b.node(plus), testAmperes)
	b.plus, b.minus, b.perUnit = plus, minus, 1/testAmperes
}

func (b *bench) voltmeter(plus, minus string) {
	b.ohms(plus, minus, tableVoltmeter)
	b.plus, b.minus, b.perUnit = plus, minus, 1
}

// vehicle is all plugged, under voltage, the control unit's current going through a wire without resistance.
func (b *bench) vehicle(on bool) {
	b.battery()
	b.unit("u", on)
	fmt.Fprintf(b.out, "vs%d %s %s dc 0\n", b.id, b.node("u"), b.node("p"))
	b.harness()
	b.component()
	b.returnPath()
}

// connect writes the circuit of a test, line for line the contract's table.
func (b *bench) connect(test string) {
	switch test {
	case "resistance_winding":
		b.winding()
		b.ohmmeter("w", "f")
	case "resistance_component":
		b.component()
		if b.wire {
			b.ohmmeter("c", "f")
		} else {
			b.returnPath()
			b.ohmmeter("c", "0")
		}
	case "resistance_unit":
		b.harness()
		b.component()
		b.returnPath()
		if b.low {
			b.ohmmeter("p", "b")
		} else {
			b.ohmmeter("p", "0")
		}
	case "continuity_harness":
		b.harness()
		b.ohmmeter("p", "c")
	case "insulation_harness":
		b.harness()
		b.ohmmeter("p", "0")
	case "insulation_component":
		b.component()
		b.ohmmeter("c", "0")
	case "voltage_harness_open":
		b.battery()
		b.harness()
		b.voltmeter("p", "0")
	case "voltage_pin_on", "voltage_pin_off":
		b.vehicle(test == "voltage_pin_on")
		b.voltmeter("p", "0")
	case "current_on":
		b.vehicle(true)
		b.through = fmt.Sprintf("i(vs%d)", b.id)
	case "voltage_drop_return":
		b.vehicle(true)
		if b.low {
			b.voltmeter("b", "f")
		} else {
			b.voltmeter("f", "0")
		}
	case "voltage_feed":
		b.battery()
		b.returnPath()
		b.voltmeter("f", "0")
	case "voltage_unit_test_load":
		b.battery()
		b.unit("p", true)
		rail := "0"
		if b.low {
			rail = "b"
		}
		b.ohms("p", rail, tableLoad)
		b.voltmeter("p", rail)
		if b.low {
			b.plus, b.minus = "b", "p"
		}
	default:
		panic("no such test: " + test)
	}
}

// reads is what the meter shows, by the simulator's voltages and currents.
func (b *bench) reads(t *testing.T, found map[string]float64) float64 {
	get := func(name string) float64 {
		v, ok := found[name]
		require.True(t, ok, "the simulator gave no %s", name)
		return v
	}
	if b.through != "" {
		return math.Abs(get(b.through)) // a clamp's sign is which way round it is put on
	}
	volts := func(node string) float64 {
		if node == "0" {
			return 0
		}
		return get("v(" + b.node(node) + ")")
	}
	return (volts(b.plus) - volts(b.minus)) * b.perUnit
}

// TestAgainstSpice holds every prediction against ngspice: each side, return, test and fault, five parameters over the
// fault's range, three windings, four vehicles (two usual ones, one with next to no winding, one with a relay's kilohms).
// The netlists are written from the contract, apart from the package. Source: ngspice (Debian package ngspice), operating
// points of resistive circuits.
func TestAgainstSpice(t *testing.T) {
	type entry struct {
		b    *bench
		want float64 // the package's
		unit circuit.Quantity
		what string
	}
	var cases []entry
	netlists := []*strings.Builder{}
	for _, vehicle := range []struct{ supply, min, max float64 }{{12.6, 5, 5.6}, {27, 20, 34}, {9, 0.05, 1.6}, {24, 100, 8e3}} {
		for _, of := range []struct {
			low, wire bool
			side      circuit.Side
			ret       circuit.Return
		}{{false, true, circuit.High, circuit.Wire}, {false, false, circuit.High, circuit.Case}, {true, true, circuit.Low, circuit.Wire}} {
			m := circuit.New(of.side, of.ret, vehicle.supply, vehicle.min, vehicle.max)
			netlist := &strings.Builder{}
			netlists = append(netlists, netlist)
			for _, test := range tableTests {
				k := testCalled(t, test)
				require.Equal(t, isPossible(test, of.low, of.wire), k.Possible(of.side, of.ret), "%s, low %v, wire %v", test, of.low, of.wire)
				if !isPossible(test, of.low, of.wire) {
					continue
				}
				for _, fault := range tableFaults {
					f := faultCalled(t, fault.name)
					for _, x := range scale(fault.min, fault.max, fault.log) {
						for _, coil := range []float64{vehicle.min, (vehicle.min + vehicle.max) / 2, vehicle.max} {
							b := &bench{out: netlist, id: len(cases), low: of.low, wire: of.wire, supply: vehicle.supply, coil: coil, fault: fault.name, x: x}
							b.connect(test)
							cases = append(cases, entry{b, m.Predict(k, f, x, coil), k.Quantity(),
								fmt.Sprintf("%s under %s %g: %v V, winding %g ohm, low %v, wire %v", test, fault.name, x, vehicle.supply, coil, of.low, of.wire)})
						}
					}
				}
			}
		}
	}
	require.Len(t, cases, casesOfTheTables)
	found := map[string]float64{}
	for _, netlist := range netlists {
		simulate(t, netlist.String(), found)
	}
	compared, over, nearZero, wrong, worst := 0, 0, 0, 0, 0.0
	for _, c := range cases {
		got := c.b.reads(t, found)
		floor := [circuit.Quantities]float64{circuit.Ohms: ohmsAllowed, circuit.Volts: voltsAllowed, circuit.Amperes: amperesAllowed}[c.unit]
		compared++
		ok := false
		switch off := math.Abs(got - c.want); {
		case c.unit == circuit.Ohms && got > tableOver:
			over++
			ok = math.IsInf(c.want, 1)
		case off <= floor:
			ok = true
			if math.Abs(got) < floor/relativeAllowed {
				nearZero++
			}
		default:
			worst = max(worst, off/math.Abs(got))
			ok = off <= relativeAllowed*math.Abs(got)
		}
		if !ok {
			wrong++
			if wrong <= 20 {
				assert.Fail(t, fmt.Sprintf("%s: ngspice %.8g, the package %.8g", c.what, got, c.want))
			}
		}
	}
	assert.Zero(t, wrong, "predictions that ngspice does not bear out, the first 20 above")
	require.Equal(t, casesOfTheTables, compared)
	t.Logf("%d cases: %d OL, %d near zero; the others are off by at most %.2g", compared, over, nearZero, worst)
}

// scale is the least, the largest and three values between of a parameter, even on its own scale; one 0 where there is none.
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

// simulate runs one netlist and adds its voltages and currents, by their names.
func simulate(t *testing.T, netlist string, found map[string]float64) {
	dir := t.TempDir()
	in, raw := filepath.Join(dir, "circuit.cir"), filepath.Join(dir, "circuit.raw")
	text := "circuits, each a subnetwork of its own\n.option rshunt=" + fmt.Sprint(shuntOhms) + " noacct\n" + netlist + ".op\n.end\n"
	require.NoError(t, os.WriteFile(in, []byte(text), 0o600))
	program, err := exec.LookPath("ngspice")
	require.NoError(t, err, "ngspice is not installed. Install it: apt-get install -y ngspice")
	cmd := exec.Command(program, "-b", "-r", raw, in)
	cmd.Env = append(os.Environ(), "SPICE_ASCIIRAWFILE=1")
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	require.NoError(t, cmd.Run(), "ngspice: %s", last(said.String()))
	content, err := os.ReadFile(raw)
	require.NoError(t, err, "ngspice: %s", last(said.String()))
	readRaw(t, string(content), found)
}

// last is the end of what a program said.
func last(text string) string { return text[max(0, len(text)-2000):] }

// readRaw reads an operating point from a raw file in ASCII: a list of variables, then their values in the same order.
func readRaw(t *testing.T, content string, found map[string]float64) {
	head, values, ok := strings.Cut(content, "\nValues:\n")
	require.True(t, ok, "no values in the raw file")
	_, variables, ok := strings.Cut(head, "\nVariables:\n")
	require.True(t, ok, "no variables in the raw file")
	var names []string
	for line := range strings.Lines(variables) {
		if f := strings.Fields(line); len(f) >= 3 {
			names = append(names, strings.ToLower(f[1]))
		}
	}
	numbers := strings.Fields(values)
	require.Len(t, numbers, len(names)+1, "the number of the point, then a value for each variable")
	for i, name := range names {
		v, err := strconv.ParseFloat(numbers[i+1], 64)
		require.NoError(t, err)
		_, twice := found[name]
		require.False(t, twice, "%s is there twice", name)
		found[name] = v
	}
}
