package circuit

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// A Chance is a fault or a repair and its probability.
type Chance[T any] struct {
	Of T
	P  float64
}

// ranked returns faults or repairs with their probabilities, likeliest first, ties in the order of names.
func ranked[T interface {
	~uint8
	String() string
}](p []float64) []Chance[T] {
	list := make([]Chance[T], len(p))
	for i, q := range p {
		list[i] = Chance[T]{T(i), q}
	}
	// Rounded, since math.Exp rounds differently on other machines: what differs only by that has to be a tie.
	slices.SortFunc(list, func(a, b Chance[T]) int {
		return cmp.Or(cmp.Compare(math.Round(b.P*1e12), math.Round(a.P*1e12)), cmp.Compare(a.Of.String(), b.Of.String()))
	})
	return list
}

// normal returns Φ, the distribution function of the standard normal distribution. It is read from a table, since looking ahead
// needs it ten thousand times, and is off by less than 1e-5.
func normal(z float64) float64 {
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

// bell returns e^(−z²/2), read from a table like [normal].
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

// rounded drops the digits of a difference that are only rounding errors, which vary from machine to machine.
func rounded(v float64) float64 { return math.Round(v*1e9) / 1e9 }
