package evidence

import (
	"math"
	"sync"
)

// Normal returns Φ, the distribution function of the standard normal distribution. It is read from a table, since looking ahead
// needs it ten thousand times, and is off by less than 1e-5.
func Normal(z float64) float64 {
	const from, steps = 6.0, 64.0
	at := (z + from) * steps
	if !(at > 0) {
		return 0
	}
	table := normalTable()
	if at >= float64(len(table)-1) {
		return 1
	}
	i := int(at)
	return table[i] + (table[i+1]-table[i])*(at-float64(i))
}

var normalTable = sync.OnceValue(func() *[769]float64 {
	var table [769]float64
	for i := range table {
		table[i] = math.Erfc((6-float64(i)/64)/math.Sqrt2) / 2
	}
	return &table
})

// bell returns e^(−z²/2), read from a table like [Normal].
func bell(z float64) float64 {
	const to, steps = 6.0, 64.0
	at := math.Abs(z) * steps
	if !(at < to*steps) {
		return 0
	}
	table := bellTable()
	i := int(at)
	return table[i] + (table[i+1]-table[i])*(at-float64(i))
}

var bellTable = sync.OnceValue(func() *[386]float64 {
	var table [386]float64
	for i := range table {
		z := float64(i) / 64
		table[i] = math.Exp(-z * z / 2)
	}
	return &table
})

// density returns the density of the normal distribution.
func density(v, mean, u float64) float64 {
	z := (v - mean) / u
	if z > 7 || z < -7 {
		return 0
	}
	return math.Exp(-z*z/2) / (u * math.Sqrt2 * math.SqrtPi)
}

// chiSquareTail returns the probability that χ² with n degrees of freedom is x or more, as a sum from partial integration.
//
//	n even: e^(−x/2) Σ (x/2)^k/k!;  n odd: erfc(√(x/2)) + e^(−x/2) Σ (x/2)^(k−½)/Γ(k+½)
func chiSquareTail(x float64, n int) float64 {
	h := x / 2
	sum, term := 0.0, math.Exp(-h)
	k := 0.0
	if n%2 == 1 {
		sum = math.Erfc(math.Sqrt(h))
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
