package evidence

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/selfcheck"
)

// TestCodesThatFaultsSet compares the kinds of code with the contract's rules for a driver's checks, applied to the voltages and
// the current that the driver sees at the control unit's own output.
func TestCodesThatFaultsSet(t *testing.T) {
	sets := map[circuit.Code]int{}
	for _, m := range usual() {
		expected := m.Predict(circuit.CurrentOn, circuit.None, 0, halfway(m))
		for f := range circuit.Fault(circuit.Faults) {
			for _, x := range parameters(f, 31) {
				for _, coil := range []float64{m.Row.Min, halfway(m), m.Row.Max} {
					var v circuit.View
					c := m.Chain(&m.Nominal, coil).With(f, x, 0)
					c.Predict(selfcheck.Tests, &v)
					off, on, amperes := v.Inside[0].Value, v.Inside[1].Value, v.On[circuit.CurrentOn].Value
					want := rules(m, off, on, amperes, expected)
					got := selfcheck.Sets(m, f, x, coil)
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

// rules are the contract's checks of a driver: which codes are set by the output's volts, driver off and on, and its current.
func rules(m *circuit.Model, off, on, amperes, expected float64) map[circuit.Code]bool {
	open, short, idle := off > 3, on < 2.8 || amperes > 4.5, amperes < 0.040
	much, little := circuit.CodeLow, circuit.CodeHigh
	if m.Side == circuit.Low {
		open, short, idle = off < 3, on > 2.5 || amperes > 4.5, amperes < 0.100
		much, little = circuit.CodeHigh, circuit.CodeLow
	}
	more, less := amperes > 1.2*expected, amperes < 0.8*expected
	return map[circuit.Code]bool{circuit.CodeOpen: open || idle, circuit.CodeRange: more || less, much: short || more, little: open ||
		idle || less}
}
