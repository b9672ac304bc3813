package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strconv"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

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

// coded gives a model a stored code.
func coded(m *Model, c Code) *Model { m.Code = c; return m }

// plainly takes the doubts from a model: the supply, the temperature and the nominal resistances are as they are typed, and the driver
// is fully on.
func plainly(m *Model) *Model {
	m.SupplyWithin, m.Warmth.Within, m.Spans, m.Stage = 0, 0, Spans{}, Plain
	return m
}

// is returns a reading of a value, ol one of OL, and said of a word.
func is(t Test, value float64) Reading { return Reading{Test: t, Value: value} }
func ol(t Test) Reading                { return Reading{Test: t, Over: true} }
func word(t Test, w Word) Reading      { return Reading{Test: t, Word: w} }

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

// nowAndThen returns true once in n times.
func nowAndThen(r *rand.Rand, n int) bool { return r.IntN(n) == 0 }

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

// within draws a parameter within a fault's limits.
func within(r *rand.Rand, f Fault) float64 {
	lo, hi, log, ok := f.Limits()
	if !ok {
		return 0
	}
	return between(lo, hi, log, r.Float64())
}

// halfway returns the middle of the specification.
func halfway(m *Model) float64 { return (m.Row.Min + m.Row.Max) / 2 }

// shown returns what a perfect meter would show, with everything nominal and the driver as it is told.
func shown(m *Model, k Test, f Fault, x, coil float64) Reading {
	v := m.Predict(k, f, x, coil)
	if k.Quantity() == Ohms && v > OverLimit {
		return ol(k)
	}
	return is(k, v)
}

// showing returns what a fault shows in every test that is measured.
func showing(m *Model, f Fault, x, coil float64) (list []Reading) {
	for _, k := range measured(m) {
		list = append(list, shown(m, k, f, x, coil))
	}
	return list
}

// extreme draws a model with any values that a request may have; the ranges are those of the tool's fields.
func extreme(r *rand.Rand) *Model {
	side, ret := Side(r.IntN(2)), Return(r.IntN(2))
	if side == Low {
		ret = Wire
	}
	least := wide(r, 0.05, 1e6)
	most := least
	if !nowAndThen(r, 5) {
		most = min(1e6, least*wide(r, 1, 10))
	}
	m := New(side, ret, wide(r, 1e-3, 1000), least, most)
	m.Code, m.Stage, m.Present = Code(r.IntN(Codes)), Stage(r.IntN(Stages)), Presence(r.IntN(Presences))
	m.InnerApart = nowAndThen(r, 3)
	extremeDoubts(r, m)
	if nowAndThen(r, 2) {
		for f := range m.Weights {
			m.Weights[f] = []float64{0, 1, wide(r, 1e-3, 1e6)}[r.IntN(3)]
		}
		m.Weights[r.IntN(Faults)] = 1
	}
	if nowAndThen(r, 6) {
		m.Weights = [Faults]float64{}
		m.Weights[r.IntN(Faults)] = wide(r, 1e-3, 1e6)
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
func extremeDoubts(r *rand.Rand, m *Model) {
	m.SupplyWithin = []float64{0, 0.3, m.Supply / 2}[r.IntN(3)]
	m.Row.At = quantity.Temperature(r.IntN(100))
	m.Warmth = Warmth{r.IntN(3) > 0, quantity.Temperature(r.IntN(170) - 40), quantity.TemperatureDifference([]float64{0, 10, 60}[r.IntN(3)])}
	if nowAndThen(r, 4) {
		m.Set = wide(r, 1e-3, 100)
	}
	if nowAndThen(r, 3) {
		for q := range m.Meters {
			m.Meters[q].Meter = measure.Meter{Percent: r.Float64() * 20, Counts: float64(r.IntN(10)), Resolution: wide(r, 1e-6, 1)}
			m.Meters[q].Auto = q == int(Ohms) && nowAndThen(r, 2)
			if nowAndThen(r, 4) {
				m.Meters[q] = Meter{}
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
		for _, s := range []*Span{&m.Spans.Driver, &m.Spans.Harness, &m.Spans.Lead, &m.Spans.Path} {
			a, b := wide(r, 1e-3, 1e7), wide(r, 1e-3, 1e7)
			*s = []Span{{}, {a, a}, {min(a, b), max(a, b)}}[r.IntN(3)]
		}
	}
}

// extremeLimits draws limits for the parameters of the faults.
func extremeLimits(r *rand.Rand, m *Model) {
	for f := range Fault(Faults) {
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
func anyReadings(r *rand.Rand, m *Model, most int) (list []Reading) {
	tests := possible(m)
	r.Shuffle(len(tests), func(i, j int) { tests[i], tests[j] = tests[j], tests[i] })
	f := Fault(r.IntN(Faults))
	x := within(r, f)
	coil := between(m.Row.Min, m.Row.Max, false, r.Float64())
	for _, k := range tests[:r.IntN(min(most, len(tests))+1)] {
		if words := k.Quantity().Words(); words != nil {
			list = append(list, word(k, words[r.IntN(len(words))]))
			continue
		}
		if k == Thermometer {
			list = append(list, is(k, float64(r.IntN(200)-40)))
			continue
		}
		reading := shown(m, k, f, x, coil)
		if !reading.Over {
			reading.Value += m.U(k, reading.Value) * r.NormFloat64()
		}
		if nowAndThen(r, 4) {
			reading = is(k, []float64{0, -1000, 1e9, wide(r, 1e-3, 40e6), r.NormFloat64()}[r.IntN(5)])
			reading.Over = k.Quantity() == Ohms && nowAndThen(r, 4)
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
func about(m *Model, readings []Reading) string { return fmt.Sprintf("%+v\n%s", *m, written(readings)) }

// written returns readings as a text.
func written(readings []Reading) (text string) {
	for _, r := range readings {
		text += r.Test.String() + "="
		switch {
		case r.Over:
			text += "OL "
		case r.Word != NoWord:
			text += r.Word.String() + " "
		default:
			text += strconv.FormatFloat(r.Value, 'g', 6, 64) + " "
		}
	}
	return text
}

// chances returns a finding's probabilities by fault and by repair.
func chances(f Finding) (p [Faults]float64, r [Repairs]float64) {
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

// drawn adds the errors that the model expects to an exact reading, and rounds it as the meter's display does.
func drawn(r *rand.Rand, m *Model, exact Reading) Reading {
	if exact.Over {
		return exact
	}
	exact.Value += m.U(exact.Test, exact.Value) * r.NormFloat64()
	if step := m.Step(exact.Test, exact.Value); step > 0 {
		exact.Value = math.Round(exact.Value/step) * step
	}
	if exact.Test.Quantity() == Ohms {
		exact.Value = max(0, exact.Value)
	}
	return exact
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
