package circuit

import (
	"math"
	"math/rand/v2"
	"runtime"
)

// several returns how many of n cases to try: all, or a quarter under js/wasm, where the code is the same and five times slower.
func several(n int) int {
	if runtime.GOOS == "js" {
		return max(1, n/4)
	}
	return n
}

// between returns the value at u, 0 to 1, of a scale from lo to hi.
func between(lo, hi float64, log bool, u float64) float64 {
	if log {
		return lo * math.Pow(hi/lo, u)
	}
	return lo + (hi-lo)*u
}

// wide draws a number that is uniform in its logarithm.
func wide(r *rand.Rand, lo, hi float64) float64 { return between(lo, hi, true, r.Float64()) }
