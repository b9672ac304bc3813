package circuit_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
)

// TestCodesThatFaultsSet compares the kinds of code with the contract's rules for a driver's checks, applied to the voltages and
// the current that the driver would see.
func TestCodesThatFaultsSet(t *testing.T) {
	sets := map[circuit.Code]int{}
	for _, m := range usual() {
		expected := m.Predict(circuit.CurrentOn, circuit.None, 0, middle(m))
		for f := range circuit.Fault(circuit.Faults) {
			for _, x := range parameters(f, 31) {
				for _, coil := range []float64{m.Min, middle(m), m.Max} {
					off, on := m.Predict(circuit.VoltsPinOff, f, x, coil), m.Predict(circuit.VoltsPinOn, f, x, coil)
					amperes := m.Predict(circuit.CurrentOn, f, x, coil)
					open, short, idle := off > 3, on < 2.8 || amperes > 4.5, amperes < 0.040
					much, little := circuit.CodeLow, circuit.CodeHigh
					if m.Side == circuit.Low {
						open, short, idle = off < 3, on > 2.5 || amperes > 4.5, amperes < 0.100
						much, little = circuit.CodeHigh, circuit.CodeLow
					}
					more, less := amperes > 1.2*expected, amperes < 0.8*expected
					want := map[circuit.Code]bool{circuit.CodeOpen: open || idle, circuit.CodeRange: more || less,
						much: short || more, little: open || idle || less}
					got := m.Sets(f, x, coil)
					for c := circuit.CodeLow; int(c) < circuit.Codes; c++ {
						if want[c] {
							sets[c]++
						}
						require.Equal(t, want[c], slices.Contains(got, c), "%v of %v %g: off %g V, on %g V, %g A", c, f, x, off, on, amperes)
					}
				}
			}
		}
	}
	for c := circuit.CodeLow; int(c) < circuit.Codes; c++ {
		require.Greater(t, sets[c], 100, "%v", c)
	}
}

func high() *circuit.Model     { return circuit.New(circuit.High, circuit.Wire, 12.6, 5, 5.6) }
func grounded() *circuit.Model { return circuit.New(circuit.High, circuit.Case, 12.6, 5, 5.6) }
func low() *circuit.Model      { return circuit.New(circuit.Low, circuit.Wire, 12.6, 11, 16) }

const certain = 1.0

// workedCases are common cases with what a good technician would say of them. Source of all: common practice; the readings follow
// from Ohm's law and the nominal values.
var workedCases = []struct {
	name     string
	m        *circuit.Model
	readings []circuit.Reading
	fault    circuit.Fault // the likeliest; None if it is not settled
	repair   circuit.Repair
	from, to float64 // of the repair's probability
	faultTo  float64 // the most that any one fault may have
}{
	{"low code, high side: the component is the likeliest", coded(high(), circuit.CodeLow), nil,
		circuit.WindingShorted, circuit.Component, 0.4, 0.9, 0.9},
	{"low code, high side, half the resistance: turns are shorted", coded(high(), circuit.CodeLow),
		[]circuit.Reading{is(circuit.OhmsComponent, 2.7)}, circuit.WindingShorted, circuit.Component, 0.95, certain, certain},
	{"no continuity: the harness is open", high(), []circuit.Reading{ol(circuit.OhmsHarness)},
		circuit.HarnessOpen, circuit.MendHarness, 0.95, certain, certain},
	{"open code, no continuity: the harness is open", coded(low(), circuit.CodeOpen), []circuit.Reading{ol(circuit.OhmsHarness)},
		circuit.HarnessOpen, circuit.MendHarness, 0.95, certain, certain},
	{"1.5 ohm too much from the unit, none in the component: harness or ground", high(),
		[]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 7.1)},
		circuit.None, circuit.MendHarness, 0.4, 0.8, 0.8},
	{"and 2.7 V across the ground: a corroded ground", high(),
		[]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 7.1), is(circuit.VoltsReturn, 2.7)},
		circuit.PathHigh, circuit.MendPath, 0.95, certain, certain},
	{"1.5 ohm too much through the case: connection within or ground without", grounded(),
		[]circuit.Reading{is(circuit.OhmsComponent, 6.9), is(circuit.OhmsUnit, 7.1)},
		circuit.None, circuit.MendPath, 0.3, 0.8, 0.8},
	{"and 2.7 V across the ground: a corroded ground again", grounded(),
		[]circuit.Reading{is(circuit.OhmsComponent, 6.9), is(circuit.OhmsUnit, 7.1), is(circuit.VoltsReturn, 2.7)},
		circuit.PathHigh, circuit.MendPath, 0.95, certain, certain},
	{"half the resistance through the case: shorted or leaking, no matter which", grounded(),
		[]circuit.Reading{is(circuit.OhmsComponent, 2.7), is(circuit.OhmsUnit, 2.9)},
		circuit.WindingShorted, circuit.Component, 0.9, certain, 0.95},
	{"no feed: what feeds it is open", low(), []circuit.Reading{is(circuit.VoltsFeed, 0)},
		circuit.PathOpen, circuit.MendPath, 0.95, certain, certain},
	{"nothing across the test load, high side: the driver", high(), []circuit.Reading{is(circuit.VoltsLoad, 0)},
		circuit.DriverNever, circuit.ControlUnit, 0.95, certain, certain},
	{"nothing across the test load, low side: the driver", low(), []circuit.Reading{is(circuit.VoltsLoad, 0)},
		circuit.DriverNever, circuit.ControlUnit, 0.95, certain, certain},
}

// TestWorkedCases checks what the readings of common cases lead to.
func TestWorkedCases(t *testing.T) {
	for _, c := range workedCases {
		found := c.m.Find(c.readings)
		_, repairs := chances(found)
		p := repairs[c.repair]
		assert.Equal(t, c.repair, found.Repairs[0].Of, c.name)
		assert.True(t, p >= c.from && p <= c.to, "%s: p(%v) is %.3f, not %g to %g", c.name, c.repair, p, c.from, c.to)
		assert.LessOrEqual(t, found.Faults[0].P, c.faultTo, "%s: %v", c.name, found.Faults[0].Of)
		if c.fault != circuit.None {
			assert.Equal(t, c.fault, found.Faults[0].Of, c.name)
		}
		assert.Less(t, found.Surprise, float64(circuit.Surprising), c.name)
		// If the fault is settled, its repair is advised, otherwise another test.
		assert.Equal(t, c.to < certain, found.Test, c.name)
		if !found.Test {
			assert.Equal(t, c.repair, found.Repair, c.name)
		}
	}
	unsettled := high().Find([]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 7.1)})
	p, _ := chances(unsettled)
	assert.Greater(t, p[circuit.HarnessHigh]+p[circuit.PathHigh], 0.95, "harness or ground")
	tests := []circuit.Test{circuit.VoltsReturn, circuit.OhmsHarness}
	assert.Contains(t, tests, unsettled.Next[0].Test, "the next test has to tell harness and ground apart")
}
