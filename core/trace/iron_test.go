package trace_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/trace"
)

// TestInductanceCovers: the inductance at rest and at little current, as a data sheet has it, or at the stop, lies within two standard
// uncertainties of the one told, though iron saturates and the plunger moves or creeps. Where neither does, the uncertainty stays small.
func TestInductanceCovers(t *testing.T) {
	saturates := func(least, at, power float64) func(t, i float64) float64 {
		return func(_, i float64) float64 { return loopHenries * (least + (1-least)/(1+math.Pow(i/at, power))) }
	}
	covered, told := 0, 0
	for _, c := range []struct {
		name    string
		henries func(t, i float64) float64
		stop    float64 // the inductance there, in shares of that at rest
		most    float64 // standard uncertainty, in shares
	}{
		{"plain", nil, 1, 0.02},
		{"moves", moving([3]float64{2, 4, 0.5}), 1.5, 0.03},
		{"moves slowly", moving([3]float64{1.5, 8, 0.8}), 1.8, 0.03},
		{"moves early", moving([3]float64{0.1, 3, 1}), 2, 0.06},
		{"creeps", moving([3]float64{0.3, 12, 0.5}), 1.5, 0.25},
		{"saturates", saturates(0.35, 1, 6), 1, 0.5},
		{"saturates sharply", saturates(0.2, 1.4, 8), 1, 0.5},
		{"saturates softly", saturates(0.5, 1.4, 2), 1, 0.5},
		{"saturates and moves", func(t, i float64) float64 {
			return saturates(0.6, 1.4, 3)(t, i) * moving([3]float64{2, 4, 0.5})(t, i) / loopHenries
		}, 1.5, 0.5},
	} {
		for seed := range int64(20) {
			f := circuit{from: -5e-3, to: 40e-3, henries: c.henries, hertz: 20e3, seed: seed}.find(trace.Expect{Supply: loopSupply})
			if f.Fit == nil {
				continue
			}
			truth := loopHenries
			if f.Fit.Seated {
				truth *= c.stop
			}
			told++
			if off := math.Abs(f.Fit.Inductance - truth); off <= 2*f.Fit.InductanceU {
				covered++
			} else {
				t.Logf("%s, seed %d: %.3g H is told as %.3g, u %.2g", c.name, seed, truth, f.Fit.Inductance, f.Fit.InductanceU)
			}
			assert.Less(t, f.Fit.InductanceU, c.most*f.Fit.Inductance, "%s, seed %d", c.name, seed)
		}
	}
	t.Logf("%d of %d covered", covered, told)
	assert.Greater(t, told, 160)
	assert.GreaterOrEqual(t, float64(covered), 0.95*float64(told))
}
