package diagnosis

import (
	"cmp"
	"math"
	"slices"
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
