//go:build !js

package circuit_test

// This test runs another program, which js/wasm cannot. There, every other test of the package uses the same predictions.

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
	shuntOhms        = 1e10 // from every node to ground: the simulator needs a path to ground for each
	relativeAllowed  = 1e-3
	ohmsAllowed      = 1e-4 // a thousandth of a meter's finest digit: rounding and the shunts
	voltsAllowed     = 1e-4 // a hundredth of a digit: the shunts and the voltmeter
	amperesAllowed   = 1e-5 // a thousandth of a digit: the model keeps its voltmeter at the pin, 2.7 µA, the netlist does not
	casesOfTheTables = 4 * 3 * (12 + 11 + 13) * (7 + 10*5)
)

// tableFaults is the contract's table of faults: the limits of the parameter, and whether it is uniform in its logarithm.
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

// isPossible reports whether the contract has such a test.
func isPossible(test string, low, wire bool) bool {
	switch test {
	case "insulation_component":
		return wire
	case "voltage_feed":
		return low
	}
	return true
}

// testCalled returns the package's test with the contract's name.
func testCalled(t testing.TB, name string) circuit.Test {
	for k := range circuit.Test(circuit.Tests) {
		if k.String() == name {
			return k
		}
	}
	require.Fail(t, "no test called "+name)
	return 0
}

// faultCalled returns the package's fault with the contract's name.
func faultCalled(t testing.TB, name string) circuit.Fault {
	for f := range circuit.Fault(circuit.Faults) {
		if f.String() == name {
			return f
		}
	}
	require.Fail(t, "no fault called "+name)
	return 0
}

// A bench is one circuit in a netlist. Its nodes are the battery's post b, the pin p, the component's connector c, the winding's
// top w, middle m and far end f, and ground 0.
type bench struct {
	out          *strings.Builder
	id, parts    int
	low, wire    bool
	supply, coil float64
	fault        string
	x            float64
	plus, minus  string // where the meter is
	through      string // the source whose current it reads
	perUnit      float64
}

// node returns a node's name in the netlist.
func (b *bench) node(name string) string {
	if name == "0" {
		return name
	}
	return name + strconv.Itoa(b.id)
}

// ohms puts a resistor between two nodes, unless it is infinite.
func (b *bench) ohms(from, to string, value float64) {
	if math.IsInf(value, 1) {
		return
	}
	b.parts++
	fmt.Fprintf(b.out, "r%d_%d %s %s %.17g\n", b.id, b.parts, b.node(from), b.node(to), value)
}

func (b *bench) has(fault string) bool { return b.fault == fault }

// series returns the resistance of a part of the chain: infinite if open, more than nominal if the fault adds to it.
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

// unit writes the control unit, with its output at a node.
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

// ohmmeter sends its current from one node to another.
func (b *bench) ohmmeter(plus, minus string) {
	fmt.Fprintf(b.out, "i%d %s %s dc %g\n", b.id, b.node(minus), b.node(plus), testAmperes)
	b.plus, b.minus, b.perUnit = plus, minus, 1/testAmperes
}

// voltmeter is connected to two nodes.
func (b *bench) voltmeter(plus, minus string) {
	b.ohms(plus, minus, tableVoltmeter)
	b.plus, b.minus, b.perUnit = plus, minus, 1
}

// vehicle writes the whole circuit under voltage. The control unit's current flows through a source of 0 V, which measures it.
func (b *bench) vehicle(on bool) {
	b.battery()
	b.unit("u", on)
	fmt.Fprintf(b.out, "vs%d %s %s dc 0\n", b.id, b.node("u"), b.node("p"))
	b.harness()
	b.component()
	b.returnPath()
}

// connect writes the circuit of a test, in the order of the contract's table.
func (b *bench) connect(test string) {
	switch test {
	case "resistance_winding", "resistance_component", "resistance_unit", "continuity_harness", "insulation_harness",
		"insulation_component":
		b.connectOhms(test)
	default:
		b.connectVolts(test)
	}
}

// back returns the node that the winding's far end and the test load lead to.
func (b *bench) back() string {
	if b.low {
		return "b"
	}
	return "0"
}

// connectOhms writes the circuit of a test by resistance, without a battery.
func (b *bench) connectOhms(test string) {
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
		b.ohmmeter("p", b.back())
	case "continuity_harness":
		b.harness()
		b.ohmmeter("p", "c")
	case "insulation_harness":
		b.harness()
		b.ohmmeter("p", "0")
	case "insulation_component":
		b.component()
		b.ohmmeter("c", "0")
	}
}

// connectVolts writes the circuit of a test under voltage.
func (b *bench) connectVolts(test string) {
	switch test {
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
		b.ohms("p", b.back(), tableLoad)
		b.voltmeter("p", b.back())
		if b.low {
			b.plus, b.minus = "b", "p"
		}
	default:
		panic("no such test: " + test)
	}
}

// reads returns what the meter shows, from the simulator's voltages and currents.
func (b *bench) reads(t *testing.T, found map[string]float64) float64 {
	get := func(name string) float64 {
		v, ok := found[name]
		require.True(t, ok, "the simulator gave no %s", name)
		return v
	}
	if b.through != "" {
		return math.Abs(get(b.through)) // a clamp's sign depends on which way round it is put on
	}
	volts := func(node string) float64 {
		if node == "0" {
			return 0
		}
		return get("v(" + b.node(node) + ")")
	}
	return (volts(b.plus) - volts(b.minus)) * b.perUnit
}

// A benchCase is a circuit with the prediction of the package.
type benchCase struct {
	b    *bench
	want float64
	unit circuit.Quantity
	what string
}

// A kind is a kind of circuit, in the contract's words and in the package's.
type kind struct {
	low, wire bool
	side      circuit.Side
	ret       circuit.Return
}

var kinds = []kind{
	{false, true, circuit.High, circuit.Wire}, {false, false, circuit.High, circuit.Case}, {true, true, circuit.Low, circuit.Wire},
}

// A vehicle is a supply and the limits of a winding.
type vehicle struct{ supply, min, max float64 }

// vehicles are two usual ones, one with next to no winding, and one with a relay's kilohms.
var vehicles = []vehicle{{12.6, 5, 5.6}, {27, 20, 34}, {9, 0.05, 1.6}, {24, 100, 8e3}}

// casesOf makes the cases of a vehicle and a kind of circuit: each test and fault, five parameters over the fault's range, three
// windings. It writes them to a netlist, numbered from first.
func casesOf(t *testing.T, v vehicle, of kind, first int, netlist *strings.Builder) (cases []benchCase) {
	m := circuit.New(of.side, of.ret, v.supply, v.min, v.max)
	for _, test := range tableTests {
		k := testCalled(t, test)
		require.Equal(t, isPossible(test, of.low, of.wire), k.Possible(of.side, of.ret), "%s, low %v, wire %v", test, of.low, of.wire)
		if !isPossible(test, of.low, of.wire) {
			continue
		}
		for _, fault := range tableFaults {
			f := faultCalled(t, fault.name)
			for _, x := range scale(fault.min, fault.max, fault.log) {
				for _, coil := range []float64{v.min, (v.min + v.max) / 2, v.max} {
					b := &bench{out: netlist, id: first + len(cases), low: of.low, wire: of.wire, supply: v.supply, coil: coil,
						fault: fault.name, x: x}
					b.connect(test)
					what := fmt.Sprintf("%s under %s %g: %v V, winding %g ohm, low %v, wire %v",
						test, fault.name, x, v.supply, coil, of.low, of.wire)
					cases = append(cases, benchCase{b, m.Predict(k, f, x, coil), k.Quantity(), what})
				}
			}
		}
	}
	return cases
}

// A comparison counts what came of the cases.
type comparison struct {
	compared, over, nearZero, wrong int
	worst                           float64
}

// add compares the simulator's reading of a case with the package's.
func (n *comparison) add(t *testing.T, c benchCase, got float64) {
	floor := [circuit.Quantities]float64{circuit.Ohms: ohmsAllowed, circuit.Volts: voltsAllowed, circuit.Amperes: amperesAllowed}[c.unit]
	n.compared++
	ok := false
	switch off := math.Abs(got - c.want); {
	case c.unit == circuit.Ohms && got > tableOver:
		n.over++
		ok = math.IsInf(c.want, 1)
	case off <= floor:
		ok = true
		if math.Abs(got) < floor/relativeAllowed {
			n.nearZero++
		}
	default:
		n.worst = max(n.worst, off/math.Abs(got))
		ok = off <= relativeAllowed*math.Abs(got)
	}
	if !ok {
		if n.wrong++; n.wrong <= 20 {
			t.Errorf("%s: ngspice %.8g, the package %.8g", c.what, got, c.want)
		}
	}
}

// TestAgainstSpice compares every prediction with ngspice. The netlists are written from the contract and use nothing of the
// package. Source: ngspice (Debian package ngspice), operating points of resistive circuits.
func TestAgainstSpice(t *testing.T) {
	t.Parallel()
	var n comparison
	first := 0
	for _, v := range vehicles {
		for _, of := range kinds {
			netlist, found := &strings.Builder{}, map[string]float64{}
			cases := casesOf(t, v, of, first, netlist)
			first += len(cases)
			simulate(t, netlist.String(), found)
			for _, c := range cases {
				n.add(t, c, c.b.reads(t, found))
			}
		}
	}
	assert.Zero(t, n.wrong, "predictions that differ from ngspice; the first 20 are above")
	require.Equal(t, casesOfTheTables, n.compared)
	t.Logf("%d cases: %d OL, %d near zero; the others are off by at most %.2g", n.compared, n.over, n.nearZero, n.worst)
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

// simulate runs a netlist and adds its voltages and currents, by name.
func simulate(t *testing.T, netlist string, found map[string]float64) {
	dir := t.TempDir()
	in, raw := filepath.Join(dir, "circuit.cir"), filepath.Join(dir, "circuit.raw")
	text := "circuits that are not connected to each other\n.option rshunt=" + fmt.Sprint(shuntOhms) + " noacct\n" + netlist + ".op\n.end\n"
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

// last returns the end of a program's output.
func last(text string) string { return text[max(0, len(text)-2000):] }

// readRaw reads an operating point from an ASCII raw file: a list of variables, then their values in the same order.
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
		require.False(t, twice, "the simulator gave %s twice", name)
		found[name] = v
	}
}
