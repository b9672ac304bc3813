package circuit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/measure"
)

// usual returns common circuits: a transmission solenoid on each kind of switch, and a relay on 24 V.
func usual() []*circuit.Model {
	return []*circuit.Model{
		high(),
		circuit.New(circuit.High, circuit.Case, 13.8, 9, 14),
		low(),
		circuit.New(circuit.Low, circuit.Wire, 27, 280, 340),
	}
}

// coded gives a model a stored code.
func coded(m *circuit.Model, c circuit.Code) *circuit.Model {
	m.Code = c
	return m
}

// possible returns the tests that a model has.
func possible(m *circuit.Model) (list []circuit.Test) {
	for k := range circuit.Test(circuit.Tests) {
		if k.Possible(m.Side, m.Return) {
			list = append(list, k)
		}
	}
	return list
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

// between returns the value at u, 0 to 1, of a scale from lo to hi.
func between(lo, hi float64, log bool, u float64) float64 {
	if log {
		return lo * math.Pow(hi/lo, u)
	}
	return lo + (hi-lo)*u
}

// middle returns the middle of the specification.
func middle(m *circuit.Model) float64 { return (m.Min + m.Max) / 2 }

// shown returns what a perfect meter would show.
func shown(m *circuit.Model, k circuit.Test, f circuit.Fault, x, coil float64) circuit.Reading {
	v := m.Predict(k, f, x, coil)
	if k.Quantity() == circuit.Ohms && v > circuit.OverLimit {
		return circuit.Reading{Test: k, Over: true}
	}
	return circuit.Reading{Test: k, Value: v}
}

// several returns how many of n cases to try: all, or a quarter under js/wasm, where the code is the same and five times slower.
func several(n int) int {
	if runtime.GOOS == "js" {
		return max(1, n/4)
	}
	return n
}

// wide draws a number that is uniform in its logarithm.
func wide(r *rand.Rand, lo, hi float64) float64 { return between(lo, hi, true, r.Float64()) }

// nowAndThen returns true once in n times.
func nowAndThen(r *rand.Rand, n int) bool { return r.IntN(n) == 0 }

// extreme draws a model with any values that a request may have; the ranges are those of the tool's fields.
func extreme(r *rand.Rand) *circuit.Model {
	side, ret := circuit.Side(r.IntN(2)), circuit.Return(r.IntN(2))
	if side == circuit.Low {
		ret = circuit.Wire
	}
	least := wide(r, 0.05, 1e6)
	most := least
	if !nowAndThen(r, 5) {
		most = min(1e6, least*wide(r, 1, 10))
	}
	m := circuit.New(side, ret, wide(r, 1e-3, 1000), least, most)
	m.Code = circuit.Code(r.IntN(circuit.Codes))
	if nowAndThen(r, 2) {
		for f := range m.Weights {
			m.Weights[f] = []float64{0, 1, wide(r, 1e-3, 1e6)}[r.IntN(3)]
		}
		m.Weights[r.IntN(circuit.Faults)] = 1
	}
	if nowAndThen(r, 6) {
		m.Weights = [circuit.Faults]float64{}
		m.Weights[r.IntN(circuit.Faults)] = wide(r, 1e-3, 1e6)
	}
	if nowAndThen(r, 3) {
		for k := range m.Minutes {
			m.Minutes[k] = []float64{0, 10, 10000}[r.IntN(3)]
		}
		m.Hour = []float64{0, 60, 1e6}[r.IntN(3)]
		for k := range m.Wrong {
			m.Wrong[k] = []float64{0, 300, 1e9}[r.IntN(3)]
		}
	}
	if nowAndThen(r, 3) {
		for q := range m.Meters {
			m.Meters[q].Meter = measure.Meter{Percent: r.Float64() * 20, Counts: float64(r.IntN(10)), Resolution: wide(r, 1e-6, 1)}
			m.Meters[q].Auto = q == int(circuit.Ohms) && nowAndThen(r, 2)
			if nowAndThen(r, 4) {
				m.Meters[q] = circuit.Meter{}
			}
		}
	}
	if nowAndThen(r, 3) {
		n := &m.Nominal
		for _, ohms := range []*float64{&n.Driver, &n.Harness, &n.Lead, &n.Path, &n.Source, &n.Pull} {
			*ohms = wide(r, 1e-3, 1e7)
		}
	}
	if nowAndThen(r, 3) {
		extremeLimits(r, m)
	}
	return m
}

// extremeLimits draws limits for the parameters of the faults.
func extremeLimits(r *rand.Rand, m *circuit.Model) {
	for f := range circuit.Fault(circuit.Faults) {
		_, _, log, ok := f.Limits()
		if !ok {
			continue
		}
		a, b := wide(r, 1e-3, 1e7), wide(r, 1e-3, 1e7)
		if !log {
			a, b = between(0.001, 0.999, false, r.Float64()), between(0.001, 0.999, false, r.Float64())
		}
		m.Limits[f] = [2]float64{min(a, b), max(a, b)}
	}
}

// anyReadings draws readings of at most so many tests: those of one fault, with the meter's error, mixed with nonsense.
func anyReadings(r *rand.Rand, m *circuit.Model, most int) (list []circuit.Reading) {
	tests := possible(m)
	r.Shuffle(len(tests), func(i, j int) { tests[i], tests[j] = tests[j], tests[i] })
	f := circuit.Fault(r.IntN(circuit.Faults))
	x := within(r, f)
	coil := between(m.Min, m.Max, false, r.Float64())
	for _, k := range tests[:r.IntN(min(most, len(tests))+1)] {
		reading := shown(m, k, f, x, coil)
		if !reading.Over {
			reading.Value += m.U(k, reading.Value) * r.NormFloat64()
		}
		if nowAndThen(r, 4) {
			reading = circuit.Reading{Test: k, Value: []float64{0, -1000, 1e9, wide(r, 1e-3, 40e6), r.NormFloat64()}[r.IntN(5)]}
			reading.Over = k.Quantity() == circuit.Ohms && nowAndThen(r, 4)
		}
		list = append(list, reading)
	}
	return list
}

// about describes a case in a message.
func about(m *circuit.Model, readings []circuit.Reading) string {
	return fmt.Sprintf("%+v\n%s", *m, written(readings))
}

// written returns readings as a text.
func written(readings []circuit.Reading) (text string) {
	for _, k := range readings {
		text += fmt.Sprintf("%v=%g", k.Test, k.Value)
		if k.Over {
			text += "(OL)"
		}
		text += " "
	}
	return text
}

// chances returns a finding's probabilities by fault and by repair.
func chances(f circuit.Finding) (p [circuit.Faults]float64, r [circuit.Repairs]float64) {
	for _, c := range f.Faults {
		p[c.Of] = c.P
	}
	for _, c := range f.Repairs {
		r[c.Of] = c.P
	}
	return p, r
}

// finite reports whether all values are neither infinite nor NaN.
func finite(values ...float64) bool {
	return !slices.ContainsFunc(values, func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) })
}

// all returns what a fault shows in every possible test.
func all(m *circuit.Model, f circuit.Fault, x, coil float64) (list []circuit.Reading) {
	for _, k := range possible(m) {
		list = append(list, shown(m, k, f, x, coil))
	}
	return list
}

// drawn adds the errors that the model expects to an exact reading, and rounds it as the meter's display does.
func drawn(r *rand.Rand, m *circuit.Model, exact circuit.Reading) circuit.Reading {
	if exact.Over {
		return exact
	}
	exact.Value += m.U(exact.Test, exact.Value) * r.NormFloat64()
	if step := m.Step(exact.Test, exact.Value); step > 0 {
		exact.Value = math.Round(exact.Value/step) * step
	}
	if exact.Test.Quantity() == circuit.Ohms {
		exact.Value = max(0, exact.Value)
	}
	return exact
}

// within draws a parameter within a fault's limits.
func within(r *rand.Rand, f circuit.Fault) float64 {
	lo, hi, log, ok := f.Limits()
	if !ok {
		return 0
	}
	return between(lo, hi, log, r.Float64())
}

// ol returns a reading of OL.
func ol(k circuit.Test) circuit.Reading { return circuit.Reading{Test: k, Over: true} }

// is returns a reading of a value.
func is(k circuit.Test, v float64) circuit.Reading { return circuit.Reading{Test: k, Value: v} }

// far reports whether a fault's predictions are more than 3 u from a reading, whatever the winding.
func far(m *circuit.Model, reading circuit.Reading, f circuit.Fault, x float64) bool {
	for i := range 21 {
		would := shown(m, reading.Test, f, x, between(m.Min, m.Max, false, float64(i)/20))
		if would.Over && reading.Over {
			return false
		}
		if would.Over != reading.Over {
			continue
		}
		if math.Abs(would.Value-reading.Value) <= 3*max(m.U(reading.Test, would.Value), m.U(reading.Test, reading.Value)) {
			return false
		}
	}
	return true
}

// plain reports whether a reading is more than 8 u from that of a healthy circuit, whatever the winding.
func plain(m *circuit.Model, reading circuit.Reading) bool {
	for i := range 21 {
		h := shown(m, reading.Test, circuit.None, 0, between(m.Min, m.Max, false, float64(i)/20))
		if h.Over == reading.Over && math.Abs(h.Value-reading.Value) <= 8*max(m.U(h.Test, h.Value), m.U(h.Test, reading.Value)) {
			return false
		}
	}
	return true
}

// errorsOf returns grossly wrong readings of a test on a healthy circuit.
func errorsOf(m *circuit.Model, k circuit.Test) []circuit.Reading {
	h := shown(m, k, circuit.None, 0, middle(m))
	switch {
	case h.Over:
		return []circuit.Reading{is(k, 0.3), is(k, 500)}
	case k.Quantity() == circuit.Ohms:
		return []circuit.Reading{ol(k), is(k, h.Value*3+5), is(k, h.Value+1000)}
	case k.Quantity() == circuit.Volts:
		return []circuit.Reading{is(k, 0), is(k, m.Supply/2), is(k, m.Supply*1.1)}
	}
	return []circuit.Reading{is(k, 0), is(k, h.Value*2), is(k, h.Value/2)}
}
