package drive_test

import (
	"math"
	"math/rand/v2"
)

// wide is uniform in the logarithm.
func wide(r *rand.Rand, lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }
