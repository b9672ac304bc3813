package measure_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/measure"
)

// A mixture is the sum of its parts, whether they are near each other or not.
func TestMixtures(t *testing.T) {
	const mixtures = 3
	r := rand.New(rand.NewPCG(4, 7))
	var at []float64
	for v := -20.0; v < 20; v += 0.3 {
		at = append(at, v)
	}
	for range 50 {
		m := measure.Mix(mixtures, at, 0.02)
		var want [mixtures][]float64
		for i := range want {
			want[i] = make([]float64, len(at))
		}
		most := 0.0
		for range 100 {
			mean, u, to := r.Float64()*20-10, 0.3+r.Float64(), r.IntN(mixtures)
			for range 1 + r.IntN(5) {
				mass := r.Float64()
				near, width := mean+0.2*u*r.Float64(), u*(1+0.1*r.Float64())
				m.Add(to, mass, near, width)
				for i, v := range at {
					want[to][i] += mass * measure.Density(v, near, width)
					most = max(most, want[to][i])
				}
			}
		}
		for k, densities := range m.Densities() {
			for i, got := range densities {
				require.InDelta(t, want[k][i], got, 3e-3*most)
			}
		}
	}
}
