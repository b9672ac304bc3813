package circuit

import (
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
)

// first returns the likeliest repair.
func first(r [Repairs]float64) (best Repair) {
	for i, q := range r {
		if q > r[best] {
			best = Repair(i)
		}
	}
	return best
}

// usual returns common circuits: a transmission solenoid on each kind of switch, and a relay on 24 V.
func usual() []*Model {
	return []*Model{
		New(High, Wire, 12.6, 5, 5.6), New(High, Case, 13.8, 9, 14), New(Low, Wire, 12.6, 11, 16), New(Low, Wire, 27, 280, 340),
	}
}

// changed returns a model after a change.
func changed(m *Model, change func(m *Model)) *Model {
	change(m)
	return m
}

// is returns a reading of a value, ol one of OL, and said of a word.
func is(t Test, value float64) Reading { return Reading{Test: t, Value: value} }

func ol(t Test) Reading { return Reading{Test: t, Over: true} }

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

// shown returns what a perfect meter would show, with everything nominal and the driver as it is told.
func shown(m *Model, k Test, f Fault, x, coil float64) Reading {
	v := m.Predict(k, f, x, coil)
	if k.Quantity() == Ohms && v > OverLimit {
		return ol(k)
	}
	return is(k, v)
}

// apart reports whether a fault's predictions are more than so many u from a reading, whatever the winding. The model has no doubts.
func apart(m *Model, reading Reading, f Fault, x, times float64) bool {
	for i := range 21 {
		would := shown(m, reading.Test, f, x, between(m.Row.Min, m.Row.Max, false, float64(i)/20))
		if would.Over && reading.Over {
			return false
		}
		if would.Over != reading.Over {
			continue
		}
		if math.Abs(would.Value-reading.Value) <= times*max(m.U(reading.Test, would.Value), m.U(reading.Test, reading.Value)) {
			return false
		}
	}
	return true
}

// plain reports whether a reading is more than 8 u from that of a healthy circuit, whatever the winding.
func plain(m *Model, reading Reading) bool { return apart(m, reading, None, 0, 8) }

// electrical are the tests that are read in ohms, volts or amperes.
func electrical(side Side, ret Return) (s Set) {
	for t := range Test(Tests) {
		if t.Quantity() <= Amperes && t.Possible(side, ret) {
			s = s.With(t)
		}
	}
	return s
}
