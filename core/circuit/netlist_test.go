//go:build !js

package circuit

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

	"github.com/stretchr/testify/require"
)

// The contract's chain, nominal resistances and tester, and the surroundings as network.go states them, in ohm and volt.
const (
	nominalDriver   = 0.15
	nominalHarness  = 0.15
	nominalLead     = 0.10
	nominalPathHigh = 0.05
	nominalPathLow  = 0.15
	nominalSource   = 0.02
	nominalPullUp   = 20e3
	nominalPullDown = 50e3
	tableVoltmeter  = 10e6
	tableLoad       = 12
	tableOver       = 40e6
	unitDraws       = 12   // the control unit, whose feed or ground is bad
	outputsDraw     = 10e3 // the same, where only its outputs hang on the bad feed
	sensorSupply    = 5
	sensorInside    = 10
	sensorAlone     = 1500
	neighbourDriver = 0.4
	neighbourLoad   = 4
	neighbourShare  = 5 // of a bad return path that another load uses too: this part of the ohms
	testAmperes     = 1e-3
	shuntOhms       = 1e11 // from every node to ground: the simulator needs a path to ground for each
)

// A bench is one circuit in a netlist. Its nodes are the battery's post b, the control unit's supply pin s, its ground pin q and its
// output p, the harness's terminals h at the unit and c at the component, the component's own terminal i, the winding's top w, middle
// m and far end f, and ground 0.
type bench struct {
	out          *strings.Builder
	id, parts    int
	low, wire    bool
	supply, coil float64
	fault        string
	way          int
	x            float64
}

// node returns a node's name in the netlist.
func (b *bench) node(name string) string {
	if name == "0" {
		return name
	}
	return name + strconv.Itoa(b.id)
}

// ohms puts a resistor between two nodes, unless it is infinite; one of 0 ohm is a source of 0 V.
func (b *bench) ohms(from, to string, value float64) {
	b.parts++
	switch {
	case math.IsInf(value, 1):
	case value == 0:
		fmt.Fprintf(b.out, "vz%d_%d %s %s dc 0\n", b.id, b.parts, b.node(from), b.node(to))
	default:
		fmt.Fprintf(b.out, "r%d_%d %s %s %.17g\n", b.id, b.parts, b.node(from), b.node(to), value)
	}
}

// source puts a source of 0 V in, whose current is read.
func (b *bench) source(from, to string) {
	fmt.Fprintf(b.out, "vs%d %s %s dc 0\n", b.id, b.node(from), b.node(to))
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

// contact puts a plug's contact in.
func (b *bench) contact(plug, from, to string) { b.ohms(from, to, b.series(plug, 0)) }

func (b *bench) battery() {
	fmt.Fprintf(b.out, "v%d %s 0 dc %.17g\n", b.id, b.node("e"), b.supply)
	b.ohms("e", "b", nominalSource)
}

// home returns the node that the winding's far end and the test load lead to.
func (b *bench) home() string {
	if b.low {
		return "b"
	}
	return "0"
}

// harness writes the harness; live: under voltage; unit: the control unit drives its other outputs.
func (b *bench) harness(live, unit bool) {
	b.ohms("h", "c", b.series("harness", nominalHarness))
	switch {
	case b.has("harness.to_ground"):
		b.ohms("h", "0", b.x)
	case b.has("harness.to_battery"):
		b.ohms("h", "b", b.x)
	case b.has("harness.to_other") && b.way == 0 && live: // the supply of a sensor
		fmt.Fprintf(b.out, "v5_%d %s 0 dc %d\n", b.id, b.node("k"), sensorSupply)
		b.ohms("h", "k", b.x+sensorInside)
	case b.has("harness.to_other") && b.way == 0:
		b.ohms("h", "0", b.x+sensorAlone)
	case b.has("harness.to_other"):
		b.neighbour("h", b.home(), b.way == 2 && live && unit)
	}
}

// neighbour writes what a wire touches of another, equal winding's circuit; on: its driver is on.
func (b *bench) neighbour(at, home string, on bool) {
	switch {
	case on && b.low:
		b.ohms(at, "0", b.x+neighbourDriver)
	case on:
		b.ohms(at, "b", b.x+neighbourDriver)
	default:
		b.ohms(at, home, b.x+b.coil)
	}
}

func (b *bench) winding() {
	r := b.series("winding", b.coil)
	switch b.fault {
	case "winding.shorted_turns":
		r *= 1 - b.x
	case "other_row":
		r *= b.x
	}
	b.ohms("w", "m", r/2)
	b.ohms("m", "f", r/2)
}

// component writes the component; fitted: it is plugged in.
func (b *bench) component(fitted, live bool) {
	b.ohms("i", "w", b.series("inner_lead", nominalLead))
	b.winding()
	switch {
	case b.has("winding.to_case"):
		b.ohms("m", "0", b.x)
	case b.has("inner_lead.to_ground"):
		b.ohms("i", "0", b.x)
	case b.has("inner_lead.to_battery") && b.low: // to the feed, which is a pin of the component
		b.ohms("i", "f", b.x)
	case b.has("inner_lead.to_battery") && fitted:
		b.ohms("i", "b", b.x)
	case b.has("component.to_other"):
		home := "f"
		if !b.wire {
			home = "0"
		}
		b.neighbour("i", home, b.way == 1 && live && fitted)
	}
}

// returnPath writes the return path; live: under voltage, so that another load on it counts.
func (b *bench) returnPath(live bool) {
	nominal := nominalPathHigh
	if b.low {
		nominal = nominalPathLow
	}
	r := b.series("return_path", nominal)
	if shared := b.has("return_path.high_resistance") && b.way == 1; shared {
		r = nominal + b.x/neighbourShare
		switch {
		case live && b.low:
			b.ohms("f", "0", neighbourLoad)
		case live:
			b.ohms("b", "f", neighbourLoad)
		}
	}
	b.ohms("f", b.home(), r)
}

// unit writes the control unit.
func (b *bench) unit(on bool) {
	b.ohms("b", "s", b.series("unit_feed", 0))
	b.ohms("q", "0", b.series("unit_ground", 0))
	switch {
	case strings.HasPrefix(b.fault, "unit_feed.") && b.way == 1:
		b.ohms("s", "q", outputsDraw)
	case strings.HasPrefix(b.fault, "unit_feed."), strings.HasPrefix(b.fault, "unit_ground."):
		b.ohms("s", "q", unitDraws)
	}
	rail, pull := "s", float64(nominalPullUp)
	if b.low {
		rail, pull = "q", nominalPullDown
	}
	b.ohms(rail, "p", pull)
	switch {
	case b.has("driver.shorted") && b.way == 0:
		b.ohms("p", "s", b.x)
	case b.has("driver.shorted"):
		b.ohms("p", "q", b.x)
	}
	switch {
	case b.has("driver.never_on") || !on && !b.has("driver.always_on"):
	case b.has("driver.weak"):
		b.ohms(rail, "p", b.x)
	default:
		b.ohms(rail, "p", nominalDriver)
	}
}

// testLoad writes the control unit, unplugged, with the test load.
func (b *bench) testLoad(on bool) []meterage {
	b.battery()
	b.unit(on)
	b.ohms("p", b.home(), tableLoad)
	if b.low {
		return b.voltmeter("b", "p")
	}
	return b.voltmeter("p", "0")
}

// ohmmeter sends its current from one node to another.
func (b *bench) ohmmeter(plus, minus string) []meterage {
	fmt.Fprintf(b.out, "i%d %s %s dc %g\n", b.id, b.node(minus), b.node(plus), testAmperes)
	return []meterage{{plus: plus, minus: minus, perUnit: 1 / testAmperes, over: true, floor: ohmsAllowed}}
}

// voltmeter is connected to two nodes.
func (b *bench) voltmeter(plus, minus string) []meterage {
	b.ohms(plus, minus, tableVoltmeter)
	return []meterage{b.across("", plus, minus)}
}

// across returns the voltage between two nodes as a figure, without a meter in the circuit.
func (b *bench) across(what, plus, minus string) meterage {
	return meterage{what: what, plus: plus, minus: minus, perUnit: 1, floor: voltsAllowed}
}

// reads returns a figure from the simulator's voltages and currents.
func (b *bench) reads(t *testing.T, of *meterage, found map[string]float64) float64 {
	get := func(name string) float64 {
		v, ok := found[name]
		require.True(t, ok, "the simulator gave no %s", name)
		return v
	}
	if of.through != "" {
		return math.Abs(get(of.through)) // a clamp's sign depends on which way round it is put on
	}
	volts := func(node string) float64 {
		if node == "0" {
			return 0
		}
		return get("v(" + b.node(node) + ")")
	}
	return (volts(of.plus) - volts(of.minus)) * of.perUnit
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
