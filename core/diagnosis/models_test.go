package diagnosis

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"

	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// likely returns the probabilities of faults and repairs, without looking ahead.
func likely(m *circuit.Model, readings []circuit.Reading) (p [circuit.Faults]float64, r [circuit.Repairs]float64) {
	w := evidence.Weigh(m, readings)
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

func word(t circuit.Test, w circuit.Word) circuit.Reading { return circuit.Reading{Test: t, Word: w} }

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
	m.Code, m.Stage, m.Present = circuit.Code(r.IntN(circuit.Codes)), circuit.Stage(r.IntN(circuit.Stages)),
		circuit.Presence(r.IntN(circuit.Presences))
	m.InnerApart = nowAndThen(r, 3)
	extremeDoubts(r, m)
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
		extremeLimits(r, m)
	}
	return m
}

// extremeDoubts draws what a user may say of supply, temperature, meters and healthy resistances.
func extremeDoubts(r *rand.Rand, m *circuit.Model) {
	m.SupplyWithin = []float64{0, 0.3, m.Supply / 2}[r.IntN(3)]
	m.Row.At = quantity.Temperature(r.IntN(100))
	m.Warmth = circuit.Warmth{Known: r.IntN(3) > 0, At: quantity.Temperature(r.IntN(170) - 40),
		Within: quantity.TemperatureDifference([]float64{0, 10, 60}[r.IntN(3)])}
	if nowAndThen(r, 4) {
		m.Set = wide(r, 1e-3, 100)
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
		for _, s := range []*circuit.Span{&m.Spans.Driver, &m.Spans.Harness, &m.Spans.Lead, &m.Spans.Path} {
			a, b := wide(r, 1e-3, 1e7), wide(r, 1e-3, 1e7)
			*s = []circuit.Span{{}, {Min: a, Max: a}, {Min: min(a, b), Max: max(a, b)}}[r.IntN(3)]
		}
	}
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
	coil := between(m.Row.Min, m.Row.Max, false, r.Float64())
	for _, k := range tests[:r.IntN(min(most, len(tests))+1)] {
		if words := k.Quantity().Words(); words != nil {
			list = append(list, word(k, words[r.IntN(len(words))]))
			continue
		}
		if k == circuit.Thermometer {
			list = append(list, is(k, float64(r.IntN(200)-40)))
			continue
		}
		reading := shown(m, k, f, x, coil)
		if !reading.Over {
			reading.Value += m.U(k, reading.Value) * r.NormFloat64()
		}
		if nowAndThen(r, 4) {
			reading = is(k, []float64{0, -1000, 1e9, wide(r, 1e-3, 40e6), r.NormFloat64()}[r.IntN(5)])
			reading.Over = k.Quantity() == circuit.Ohms && nowAndThen(r, 4)
		}
		if nowAndThen(r, 8) {
			reading.Supply = wide(r, 1e-3, 1000)
		}
		if nowAndThen(r, 8) {
			at := quantity.Temperature(r.IntN(170) - 40)
			reading.At = &at
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

// chances returns a finding's probabilities by fault and by repair.
func chances(f Finding) (p [circuit.Faults]float64, r [circuit.Repairs]float64) {
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
