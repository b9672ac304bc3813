package measure

import (
	"math"
	"sync"

	"ohmwright/core/portable"
)

// Normal returns Φ, the distribution function of the standard normal distribution. It is read from a table, since looking ahead
// needs it ten thousand times, and is off by less than 1e-5.
func Normal(z float64) float64 {
	const from, steps = 6.0, 64.0
	at := (z + from) * steps
	if !(at > 0) {
		return 0
	}
	tabled.Do(table)
	if at >= float64(len(normals)-1) {
		return 1
	}
	i := int(at)
	return normals[i] + (normals[i+1]-normals[i])*(at-float64(i))
}

// Bell returns e^(−z²/2), read from a table like [Normal].
func Bell(z float64) float64 {
	at := math.Abs(z) * bellSteps
	if !(at < bellTo*bellSteps) {
		return 0
	}
	tabled.Do(table)
	i := int(at)
	return bells[i] + (bells[i+1]-bells[i])*(at-float64(i))
}

// How far the table of [Bell] goes, and its steps to 1.
const bellTo, bellSteps = 6.0, 64.0

// The tables of [Normal] and [Bell], made when first needed.
var (
	tabled  sync.Once
	normals [769]float64
	bells   [386]float64
)

func table() {
	for i := range normals {
		normals[i] = portable.Erfc((6-float64(i)/64)/math.Sqrt2) / 2
	}
	for i := range bells {
		z := float64(i) / 64
		bells[i] = portable.Exp(-z * z / 2)
	}
}

// Density returns the density of the normal distribution.
func Density(v, mean, u float64) float64 {
	z := (v - mean) / u
	if z > 7 || z < -7 {
		return 0
	}
	return portable.Exp(-z*z/2) / (u * math.Sqrt2 * math.SqrtPi)
}

// ChiSquareTail returns the probability that χ² with n degrees of freedom is x or more, as a sum from partial integration.
//
//	n even: e^(−x/2) Σ (x/2)^k/k!;  n odd: erfc(√(x/2)) + e^(−x/2) Σ (x/2)^(k−½)/Γ(k+½)
func ChiSquareTail(x float64, n int) float64 {
	h := x / 2
	sum, term := 0.0, portable.Exp(-h)
	k := 0.0
	if n%2 == 1 {
		sum = portable.Erfc(math.Sqrt(h))
		term *= math.Sqrt(h) / (math.SqrtPi / 2)
		k = 0.5
	}
	for range n / 2 {
		sum += term
		k++
		term *= h / k
	}
	return min(1, max(sum, leastTail))
}

// leastTail is the least probability that is returned, so that a surprise stays finite.
const leastTail = 1e-300

// Rounded drops the digits of a difference that are only rounding errors, which vary from machine to machine.
func Rounded(v float64) float64 { return math.Round(v*1e9) / 1e9 }
