package measure_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/measure"
)

// A mixture is the sum of its parts, whether they are near each other or not.
func TestMixture(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 7))
	var at []float64
	for v := -20.0; v < 20; v += 0.3 {
		at = append(at, v)
	}
	for range 50 {
		m, want := measure.Mix(at), make([]float64, len(at))
		most := 0.0
		for range 100 {
			mean, u := r.Float64()*20-10, 0.3+r.Float64()
			for range 1 + r.IntN(5) {
				mass := r.Float64()
				near, width := mean+0.01*u*r.Float64(), u*(1+0.01*r.Float64())
				m.Add(mass, near, width)
				for i, v := range at {
					want[i] += mass * measure.Density(v, near, width)
					most = max(most, want[i])
				}
			}
		}
		for i, got := range m.Densities() {
			require.InDelta(t, want[i], got, 1e-3*most)
		}
	}
}
