package lesson

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
)

// TestMark checks the marks of a few ways on an open control wire with a code for a low current, worked out by hand from the formula.
func TestMark(t *testing.T) {
	m := circuit.New(circuit.High, circuit.Wire, 13.8, 5, 5.6)
	h := Put(m, circuit.HarnessOpen, 0, 5.3, circuit.CodeRange, [Tests]float64{})
	best := 30.0
	all, minutes := []circuit.Test{}, 0.0
	for test := range circuit.Test(Tests) {
		if test.Possible(circuit.High, circuit.Wire) {
			all, minutes = append(all, test), minutes+test.Minutes()
		}
	}
	// 45 + 10 + 12 + 15 + 12 + 10 + 8 + 10 + 8 + 8 + 12 + 15, without the low side's feed
	require.Equal(t, 165.0, minutes)
	for name, c := range map[string]struct {
		tests []circuit.Test
		name  circuit.Repair
		want  float64
	}{
		"guessed right: a third":               {nil, circuit.MendHarness, 33.3},
		"guessed wrong":                        {nil, circuit.Component, 0},
		"continuity alone shows it, 15 min":    {[]circuit.Test{circuit.OhmsHarness}, circuit.MendHarness, 100},
		"everything: 45 in a hundred are lost": {all, circuit.MendHarness, 55},
		"shown, and another repair named":      {[]circuit.Test{circuit.OhmsHarness}, circuit.Component, 0},
	} {
		got := h.Mark(c.tests, c.name, best)
		assert.Equal(t, c.want, got.Marks, name)
		assert.Equal(t, c.name == circuit.MendHarness, got.Right, name)
		assert.Equal(t, 165.0, got.Most, name)
	}
}

// TestSureGuess checks that a guess earns a third at most even where nothing else is possible, so that the repair is certain before any
// reading.
func TestSureGuess(t *testing.T) {
	m := circuit.New(circuit.High, circuit.Wire, 13.8, 5, 5.6)
	clear(m.Weights[:])
	m.Weights[circuit.HarnessOpen] = 1
	h := Put(m, circuit.HarnessOpen, 0, 5.3, circuit.CodeRange, [Tests]float64{})
	got := h.Mark(nil, circuit.MendHarness, 0)
	assert.Equal(t, []float64{1, 33.3}, []float64{got.Supported, got.Marks})
	assert.Equal(t, 97.8, h.Mark([]circuit.Test{circuit.CurrentOn}, circuit.MendHarness, 0).Marks, "100 × (1 − 0.45 × 8/165)")
}

// TestGuessIsWorthLess checks, for many hidden faults, that a right repair without a reading earns a third at most, and less than the same
// repair after the best way where that is right.
func TestGuessIsWorthLess(t *testing.T) {
	t.Parallel()
	for _, m := range models() {
		for i := range 15 {
			h := Hide(m, "guess "+strconv.Itoa(i), Any)
			best := h.Best()
			guess, honest := h.Mark(nil, h.Fault.Repair(), best.Minutes), h.Mark(best.Tests, best.Repair, best.Minutes)
			assert.LessOrEqual(t, guess.Marks, 33.4)
			if best.Right && len(best.Tests) > 0 {
				assert.Less(t, guess.Marks, honest.Marks, "%v after %v", h.Fault, best.Tests)
			}
		}
	}
}
