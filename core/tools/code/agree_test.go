package code_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/circuit"
	"ohmwright/core/code"
	"ohmwright/core/selfcheck"
)

// TestCodeAndCircuitAgree checks that two tools agree: if a fault in the circuit model sets a kind of code (worked out
// from thresholds and resistors), the code tool must list the state of that fault for such a code on that side. One case
// is not listed: a current of zero is also outside the expected range, but it has a code kind of its own, open and the
// side.
func TestCodeAndCircuitAgree(t *testing.T) {
	ground := []code.State{code.ShortToGround, code.LeakToGround}
	states := map[circuit.Fault][]code.State{
		circuit.WindingOpen: {code.OpenCircuit}, circuit.LeadOpen: {code.OpenCircuit}, circuit.HarnessOpen: {code.OpenCircuit},
		circuit.WindingHigh: {code.HighResistance}, circuit.LeadHigh: {code.HighResistance}, circuit.HarnessHigh: {code.HighResistance},
		circuit.PathHigh: {code.HighResistance}, circuit.PathOpen: {code.LostGround, code.LostFeed},
		circuit.WindingToCase: ground, circuit.LeadToGround: ground, circuit.HarnessToGround: ground,
		circuit.HarnessToBattery: {code.ShortToBattery}, circuit.WindingShorted: {code.ShortedWinding},
		circuit.DriverNever: {code.Driver}, circuit.DriverAlways: {code.Driver}, circuit.DriverWeak: {code.Driver},
	}
	assert.Len(t, states, int(circuit.DriverWeak), "every fault of the chain")
	for f, is := range map[circuit.Fault][]code.State{ // those outside the chain that have a state of the code tool's
		circuit.UnitPlugOpen: {code.OpenCircuit}, circuit.PlugOpen: {code.OpenCircuit},
		circuit.UnitPlugHigh: {code.HighResistance}, circuit.PlugHigh: {code.HighResistance},
		circuit.LeadToBattery: {code.ShortToBattery}, circuit.DriverShorted: {code.Driver},
	} {
		states[f] = is
	}
	asked := 0
	for _, side := range []circuit.Side{circuit.High, circuit.Low} {
		m := circuit.New(side, circuit.Wire, 13.5, 5, 5.6)
		for f, is := range states {
			for i := range 41 {
				least, most, log, _ := f.Limits()
				x := least + (most-least)*float64(i)/40
				if log {
					x = least * math.Pow(most/least, float64(i)/40)
				}
				for _, kind := range selfcheck.Sets(m, f, x, 5.3) {
					open := is[0] == code.OpenCircuit || is[0] == code.LostGround
					if kind == circuit.CodeRange && open {
						continue
					}
					meaning := code.Mean(code.Entry{Circuit: "any", Failure: code.Failure(kind.String())}, "")
					list := meaning.High
					if side == circuit.Low {
						list = meaning.Low
					}
					listed := slices.ContainsFunc(is, func(s code.State) bool { return slices.Contains(list, s) })
					assert.True(t, listed,
						"side %d: fault %s with parameter %v sets a code of kind %s, but the code tool does not list it: %v", side, f, x, kind, list)
					asked++
				}
			}
		}
	}
	assert.Greater(t, asked, 500)
}
