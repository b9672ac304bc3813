package evidence

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"

	"ohmwright/core/circuit"
)

// likely returns the probabilities of faults and repairs, without looking ahead.
func likely(m *circuit.Model, readings []circuit.Reading) (p [circuit.Faults]float64, r [circuit.Repairs]float64) {
	w := Weigh(m, readings)
	return w.Chances(), w.Repairs()
}

// first returns the likeliest repair.
func first(r [circuit.Repairs]float64) (best circuit.Repair) {
	for i, q := range r {
		if q > r[best] {
			best = circuit.Repair(i)
		}
	}
	return best
}

// usual returns common circuits: a transmission solenoid on each kind of switch, and a relay on 24 V.
func usual() []*circuit.Model {
	return []*circuit.Model{
		circuit.New(circuit.High, circuit.Wire, 12.6, 5, 5.6), circuit.New(circuit.High, circuit.Case, 13.8, 9, 14),
		circuit.New(circuit.Low, circuit.Wire, 12.6, 11, 16), circuit.New(circuit.Low, circuit.Wire, 27, 280, 340),
	}
}

// changed returns a model after a change.
func changed(m *circuit.Model, change func(m *circuit.Model)) *circuit.Model {
	change(m)
	return m
}

// coded gives a model a stored code.
func coded(m *circuit.Model, c circuit.Code) *circuit.Model { m.Code = c; return m }

// plainly takes the doubts from a model: the supply, the temperature and the nominal resistances are as they are typed, and the driver
// is fully on.
func plainly(m *circuit.Model) *circuit.Model {
	m.SupplyWithin, m.Warmth.Within, m.Spans, m.Stage = 0, 0, circuit.Spans{}, circuit.Plain
	return m
}

// is returns a reading of a value, ol one of OL, and said of a word.
func is(t circuit.Test, value float64) circuit.Reading { return circuit.Reading{Test: t, Value: value} }

func ol(t circuit.Test) circuit.Reading { return circuit.Reading{Test: t, Over: true} }

// between returns the value at u, 0 to 1, of a scale from lo to hi.
func between(lo, hi float64, log bool, u float64) float64 {
	if log {
		return lo * math.Pow(hi/lo, u)
	}
	return lo + (hi-lo)*u
}

// wide draws a number that is uniform in its logarithm.
func wide(r *rand.Rand, lo, hi float64) float64 { return between(lo, hi, true, r.Float64()) }

// nowAndThen returns true once in n times.
func nowAndThen(r *rand.Rand, n int) bool { return r.IntN(n) == 0 }

// possible returns the tests that a model has, measured those of them that are read in ohms, volts or amperes.
func possible(m *circuit.Model) (list []circuit.Test) {
	for k := range circuit.Test(circuit.Tests) {
		if k.Possible(m.Side, m.Return) {
			list = append(list, k)
		}
	}
	return list
}

func measured(m *circuit.Model) []circuit.Test {
	return slices.DeleteFunc(possible(m), func(k circuit.Test) bool { return k.Quantity() > circuit.Amperes })
}

// parameters returns n values of a fault's parameter, from limit to limit and evenly spaced on its scale; a single 0 for a fault
// without one.
func parameters(f circuit.Fault, n int) (list []float64) {
	lo, hi, log, ok := f.Limits()
	if !ok {
		return []float64{0}
	}
	for i := range n {
		list = append(list, between(lo, hi, log, float64(i)/float64(n-1)))
	}
	return list
}

// within draws a parameter within a fault's limits.
func within(r *rand.Rand, f circuit.Fault) float64 {
	lo, hi, log, ok := f.Limits()
	if !ok {
		return 0
	}
	return between(lo, hi, log, r.Float64())
}

// halfway returns the middle of the specification.
func halfway(m *circuit.Model) float64 { return (m.Row.Min + m.Row.Max) / 2 }

// shown returns what a perfect meter would show, with everything nominal and the driver as it is told.
func shown(m *circuit.Model, k circuit.Test, f circuit.Fault, x, coil float64) circuit.Reading {
	v := m.Predict(k, f, x, coil)
	if k.Quantity() == circuit.Ohms && v > circuit.OverLimit {
		return ol(k)
	}
	return is(k, v)
}

// showing returns what a fault shows in every test that is measured.
func showing(m *circuit.Model, f circuit.Fault, x, coil float64) (list []circuit.Reading) {
	for _, k := range measured(m) {
		list = append(list, shown(m, k, f, x, coil))
	}
	return list
}

// written returns readings as a text.
func written(readings []circuit.Reading) (text string) {
	for _, r := range readings {
		text += r.Test.String() + "="
		switch {
		case r.Over:
			text += "OL "
		case r.Word != circuit.NoWord:
			text += r.Word.String() + " "
		default:
			text += strconv.FormatFloat(r.Value, 'g', 6, 64) + " "
		}
	}
	return text
}

// apart reports whether a fault's predictions are more than so many u from a reading, whatever the winding. The model has no doubts.
func apart(m *circuit.Model, reading circuit.Reading, f circuit.Fault, x, times float64) bool {
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
func plain(m *circuit.Model, reading circuit.Reading) bool {
	return apart(m, reading, circuit.None, 0, 8)
}

// electrical are the tests that are read in ohms, volts or amperes.
func electrical(side circuit.Side, ret circuit.Return) (s circuit.Set) {
	for t := range circuit.Test(circuit.Tests) {
		if t.Quantity() <= circuit.Amperes && t.Possible(side, ret) {
			s = s.With(t)
		}
	}
	return s
}
