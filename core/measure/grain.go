package measure

import (
	"math"

	"ohmwright/core/portable"
)

// A Grain rounds a difference of larger numbers to the digits that are certain. Machines differ in the last digits of an
// exponential; without rounding they would show differences of 1e-17 where another shows 0.
type Grain float64 // ten to the number of decimals; 0 rounds nothing

// GrainOf returns the grain for differences of numbers of a size: to thirteen digits of that size.
func GrainOf(size float64) Grain {
	if size == 0 || math.Abs(portable.Log10(size)) > 250 {
		return 0
	}
	return Grain(portable.Pow(10, 13-math.Floor(portable.Log10(size))))
}

// Of rounds a difference.
func (g Grain) Of(v float64) float64 {
	if g == 0 {
		return v
	}
	return math.Round(v*float64(g)) / float64(g)
}
