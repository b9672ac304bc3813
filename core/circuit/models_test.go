package circuit

import (
	"math"
	"math/rand/v2"
	"slices"
)

// usual returns common circuits: a transmission solenoid on each kind of switch, and a relay on 24 V.
func usual() []*Model {
	return []*Model{
		New(High, Wire, 12.6, 5, 5.6), New(High, Case, 13.8, 9, 14), New(Low, Wire, 12.6, 11, 16), New(Low, Wire, 27, 280, 340),
	}
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

// possible returns the tests that a model has, measured those of them that are read in ohms, volts or amperes.
func possible(m *Model) (list []Test) {
	for k := range Test(Tests) {
		if k.Possible(m.Side, m.Return) {
			list = append(list, k)
		}
	}
	return list
}

func measured(m *Model) []Test {
	return slices.DeleteFunc(possible(m), func(k Test) bool { return k.Quantity() > Amperes })
}

// parameters returns n values of a fault's parameter, from limit to limit and evenly spaced on its scale; a single 0 for a fault
// without one.
func parameters(f Fault, n int) (list []float64) {
	lo, hi, log, ok := f.Limits()
	if !ok {
		return []float64{0}
	}
	for i := range n {
		list = append(list, between(lo, hi, log, float64(i)/float64(n-1)))
	}
	return list
}

// electrical are the tests that are read in ohms, volts or amperes.
func electrical(side Side, ret Return) (s Set) {
	for t := range Test(Tests) {
		if t.Quantity() <= Amperes && t.Possible(side, ret) {
			s = s.With(t)
		}
	}
	return s
}
