package diagnosis

import (
	"math"
	"sort"
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
	sort.SliceStable(list, func(i, j int) bool {
		a, b := math.Round(list[i].P*1e12), math.Round(list[j].P*1e12)
		return a > b || a == b && list[i].Of.String() < list[j].Of.String()
	})
	return list
}
