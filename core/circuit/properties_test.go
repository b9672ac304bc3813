package circuit_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/measure"
)

// usual are circuits as one meets them: a transmission solenoid on each kind of switch, a relay on 24 V.
func usual() []*circuit.Model {
	return []*circuit.Model{
		circuit.New(circuit.High, circuit.Wire, 12.6, 5, 5.6),
		circuit.New(circuit.High, circuit.Case, 13.8, 9, 14),
		circuit.New(circuit.Low, circuit.Wire, 12.6, 11, 16),
		circuit.New(circuit.Low, circuit.Wire, 27, 280, 340),
	}
}

func possible(m *circuit.Model) (list []circuit.Test) {
	for k := range circuit.Test(circuit.Tests) {
		if k.Possible(m.Side, m.Return) {
			list = append(list, k)
		}
	}
	return list
}

// parameters are n values of a fault's parameter, even on its scale, the limits among them; one 0 where it has none.
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

// between is the place u, 0 to 1, of a scale.
func between(lo, hi float64, log bool, u float64) float64 {
	if log {
		return lo * math.Pow(hi/lo, u)
	}
	return lo + (hi-lo)*u
}

// middle is the winding in the middle of the specification.
func middle(m *circuit.Model) float64 { return (m.Min + m.Max) / 2 }

// shown is what a test shows without error.
func shown(m *circuit.Model, k circuit.Test, f circuit.Fault, x, coil float64) circuit.Reading {
	v := m.Predict(k, f, x, coil)
	if k.Quantity() == circuit.Ohms && v > circuit.OverLimit {
		return circuit.Reading{Test: k, Over: true}
	}
	return circuit.Reading{Test: k, Value: v}
}

// several is how many cases of many are tried: all, or a quarter under js/wasm, where each takes five times as long and the
// code is the same.
func several(n int) int {
	if runtime.GOOS == "js" {
		return max(1, n/4)
	}
	return n
}

// wide is uniform in the logarithm.
func wide(r *rand.Rand, lo, hi float64) float64 { return between(lo, hi, true, r.Float64()) }

// nowAndThen is one chance in n.
func nowAndThen(r *rand.Rand, n int) bool { return r.IntN(n) == 0 }

// extreme is a model with anything in it that a request may hold: see the ranges of the tool's fields.
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
		for _, ohms := range []*float64{&m.Nominal.Driver, &m.Nominal.Harness, &m.Nominal.Lead, &m.Nominal.Path, &m.Nominal.Source, &m.Nominal.Pull} {
			*ohms = wide(r, 1e-3, 1e7)
		}
	}
	if nowAndThen(r, 3) {
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
	return m
}

// anyReadings are readings of some tests: what a fault would show, with the meter's error, or nonsense.
func anyReadings(r *rand.Rand, m *circuit.Model, most int) (list []circuit.Reading) {
	tests := possible(m)
	r.Shuffle(len(tests), func(i, j int) { tests[i], tests[j] = tests[j], tests[i] })
	f := circuit.Fault(r.IntN(circuit.Faults))
	x := 0.0
	if lo, hi, log, ok := f.Limits(); ok {
		x = between(lo, hi, log, r.Float64())
	}
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

// about names a case, for a message.
func about(m *circuit.Model, readings []circuit.Reading) string {
	return fmt.Sprintf("%+v\n%s", *m, written(readings))
}

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

// chances are a finding's probabilities by fault, and by repair.
func chances(f circuit.Finding) (p [circuit.Faults]float64, r [circuit.Repairs]float64) {
	for _, c := range f.Faults {
		p[c.Of] = c.P
	}
	for _, c := range f.Repairs {
		r[c.Of] = c.P
	}
	return p, r
}

func finite(values ...float64) bool {
	return !slices.ContainsFunc(values, func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) })
}

// holds checks what is true of every finding, and says what is not; empty where all is.
func holds(m *circuit.Model, readings []circuit.Reading, f circuit.Finding) string {
	_, r := chances(f)
	sum, seen := 0.0, map[circuit.Fault]bool{}
	var by [circuit.Repairs]float64
	for i, c := range f.Faults {
		switch {
		case !(c.P >= 0 && c.P <= 1+1e-12):
			return fmt.Sprintf("p(%v) is %v", c.Of, c.P)
		case m.Weights[c.Of] == 0 && c.P != 0:
			return fmt.Sprintf("%v has no prior and p %v", c.Of, c.P)
		case i > 0 && c.P > f.Faults[i-1].P+1e-11:
			return "faults are not in order"
		}
		sum += c.P
		by[c.Of.Repair()] += c.P
		seen[c.Of] = true
	}
	if len(seen) != circuit.Faults || len(f.Faults) != circuit.Faults || math.Abs(sum-1) > 1e-9 {
		return fmt.Sprintf("%d faults, p adds up to %v", len(f.Faults), sum)
	}
	if len(f.Repairs) != circuit.Repairs {
		return "repairs missing"
	}
	for k := range r {
		if math.Abs(r[k]-by[k]) > 1e-9 {
			return fmt.Sprintf("p(%v) is %v, its faults have %v", circuit.Repair(k), r[k], by[k])
		}
	}
	// Repairing costs what doing it in vain costs, as often as it is the wrong one.
	cost := math.Inf(1)
	for k, q := range r {
		cost = min(cost, m.Wrong[k]*(1-q))
	}
	if !finite(f.Cost) || math.Abs(f.Cost-cost) > 1e-9*(1+slices.Max(m.Wrong[:])) || math.Abs(f.RepairP-r[f.Repair]) > 1e-12 {
		return fmt.Sprintf("repairing costs %v, not %v", f.Cost, cost)
	}
	if !finite(f.Surprise) || f.Surprise < 0 {
		return fmt.Sprintf("surprise is %v", f.Surprise)
	}
	made := map[circuit.Test]bool{}
	for _, k := range readings {
		made[k.Test] = true
	}
	if len(made) > 0 && !made[f.Worst] {
		return fmt.Sprintf("the worst reading is %v, which was not made", f.Worst)
	}
	left := map[circuit.Test]bool{}
	for i, n := range f.Next {
		switch {
		case !n.Test.Possible(m.Side, m.Return):
			return fmt.Sprintf("%v is not possible", n.Test)
		case made[n.Test]:
			return fmt.Sprintf("%v has been made", n.Test)
		case left[n.Test]:
			return fmt.Sprintf("%v is there twice", n.Test)
		case !finite(n.Bits, n.Value, n.Minutes) || n.Bits < 0 || n.Bits > math.Log2(float64(circuit.Faults))+1e-9:
			return fmt.Sprintf("%v: %v bits, value %v", n.Test, n.Bits, n.Value)
		case n.Value > f.Cost+1e-6*(1+f.Cost):
			return fmt.Sprintf("%v saves %v of %v", n.Test, n.Value, f.Cost)
		case i > 0 && n.Value > f.Next[i-1].Value+1e-8*(1+math.Abs(n.Value)):
			return "next tests are not in order"
		}
		left[n.Test] = true
		if fault := outcomesHold(n); fault != "" {
			return fmt.Sprintf("%v: %s", n.Test, fault)
		}
	}
	for _, k := range possible(m) {
		if !made[k] && !left[k] {
			return fmt.Sprintf("%v is neither made nor offered", k)
		}
	}
	if f.Test && (len(f.Next) == 0 || f.Next[0].Value <= 0) {
		return "a test is advised that does not pay"
	}
	return ""
}

func outcomesHold(n circuit.Next) string {
	sum, last := 0.0, math.Inf(-1)
	for _, o := range n.Outcomes {
		switch {
		case !(o.P > 0 && o.P <= 1+1e-9 && o.FaultP > 0 && o.FaultP <= 1+1e-9 && o.RepairP >= o.FaultP-1e-9 && o.RepairP <= 1+1e-9):
			return fmt.Sprintf("an outcome with %+v", o)
		case o.Over && n.Test.Quantity() != circuit.Ohms:
			return "OL, but not of a resistance"
		case !o.Over && (math.IsNaN(o.From) || math.IsNaN(o.To) || o.From < last || o.From >= o.To):
			return fmt.Sprintf("outcome from %v to %v after %v", o.From, o.To, last)
		}
		sum += o.P
		if !o.Over {
			last = o.To
		}
	}
	if sum > 1+1e-6 {
		return fmt.Sprintf("outcomes add up to %v", sum)
	}
	return ""
}

// TestWhateverIsAsked holds what is true of every finding, over models and readings as wild as a request may be.
func TestWhateverIsAsked(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 25))
	models := several(1600)
	wrong := map[string]int{}
	for range models {
		m := extreme(r)
		readings := anyReadings(r, m, circuit.Tests)
		fault := holds(m, readings, m.Find(readings))
		if fault == "" {
			continue
		}
		if wrong[fault]++; wrong[fault] == 1 && len(wrong) <= 3 {
			assert.Fail(t, fault, about(m, readings))
		}
	}
	require.Empty(t, wrong, "how often, of %d models", models)
}

// TestOrderChangesNothing holds that it does not matter in which order readings were taken, to the last bit, and that of
// several readings of a test the last counts.
func TestOrderChangesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 25))
	for range several(180) {
		m := extreme(r)
		if nowAndThen(r, 2) {
			m = usual()[r.IntN(4)]
		}
		readings := anyReadings(r, m, 6)
		want := m.Find(readings)
		shuffled := slices.Clone(readings)
		r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		require.Equal(t, want, m.Find(shuffled), about(m, readings))
		var again []circuit.Reading
		for _, k := range readings { // each test first with something else
			again = append(again, circuit.Reading{Test: k.Test, Value: wide(r, 0.01, 1e4), Over: !k.Over && k.Test.Quantity() == circuit.Ohms})
		}
		require.Equal(t, want, m.Find(append(again, shuffled...)), about(m, again))
	}
}

// TestImpossibleReadingsAreIgnored holds what Find promises of tests that a side and a return do not have.
func TestImpossibleReadingsAreIgnored(t *testing.T) {
	for _, m := range usual() {
		for k := range circuit.Test(circuit.Tests) {
			if k.Possible(m.Side, m.Return) {
				continue
			}
			want := m.Find(nil)
			got := m.Find([]circuit.Reading{{Test: k, Value: 3}})
			p, _ := chances(want)
			q, _ := chances(got)
			assert.InDeltaSlice(t, p[:], q[:], 1e-12, "%v, side %v, return %v", k, m.Side, m.Return)
			assert.Equal(t, want.Surprise, got.Surprise, "%v, side %v, return %v", k, m.Side, m.Return)
		}
	}
}

// TestNoPathIsNoPath holds that whether a test finds a path at all does not hang on how many ohms the winding has.
func TestNoPathIsNoPath(t *testing.T) {
	compared, wrong := 0, map[string]string{}
	for _, m := range usual() {
		for _, k := range possible(m) {
			if k.Quantity() != circuit.Ohms {
				continue
			}
			for f := range circuit.Fault(circuit.Faults) {
				for _, x := range parameters(f, 7) {
					over := math.IsInf(m.Predict(k, f, x, 10), 1)
					for e := -1.0; e <= 6; e += 0.05 {
						coil := math.Pow(10, e)
						compared++
						if v := m.Predict(k, f, x, coil); math.IsInf(v, 1) != over || v > circuit.OverLimit && !over {
							wrong[fmt.Sprint(k)] = fmt.Sprintf("%v %g, winding %g ohm, side %v, return %v: %g", f, x, coil, m.Side, m.Return, v)
						}
					}
				}
			}
		}
	}
	require.Greater(t, compared, 100000)
	assert.Empty(t, wrong, "tests that find a path for some windings alone, each with an example")
}

// TestSurpriseIsFinite holds it for readings that contradict one another as much as they can.
func TestSurpriseIsFinite(t *testing.T) {
	for _, m := range usual() {
		var nonsense []circuit.Reading
		for _, k := range possible(m) {
			nonsense = append(nonsense, circuit.Reading{Test: k, Value: -1000})
		}
		f := m.Find(nonsense)
		assert.True(t, finite(f.Surprise) && f.Surprise >= circuit.Surprising, "spec %g to %g: surprise %v of nonsense", m.Min, m.Max, f.Surprise)
		m.Weights = [circuit.Faults]float64{circuit.None: 1}
		f = m.Find([]circuit.Reading{{Test: circuit.OhmsWinding}})
		assert.True(t, finite(f.Surprise) && f.Surprise >= circuit.Surprising, "spec %g to %g: surprise %v of no ohm where nothing can be wrong", m.Min, m.Max, f.Surprise)
	}
}

// TestWhatIsHealthyClears holds that a reading as of a healthy circuit never speaks for a fault under which that test would
// have read something else: against "nothing wrong", the odds of the fault do not rise. The fault's parameter is held at one
// value, and every winding's prediction is more than 3 u from the reading. With a winding that is known, it has to hold
// after any other readings too.
func TestWhatIsHealthyClears(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 25))
	compared := map[circuit.Test]int{}
	after := 0
	for _, m := range usual() {
		m.Minutes, m.Hour = [circuit.Tests]float64{}, 0
		for f := circuit.None + 1; int(f) < circuit.Faults; f++ {
			m.Weights = [circuit.Faults]float64{}
			m.Weights[circuit.None], m.Weights[f] = 6, 5
			for _, x := range parameters(f, 5) {
				m.Limits[f] = [2]float64{x, x}
				for _, k := range possible(m) {
					healthy := shown(m, k, circuit.None, 0, middle(m))
					if !far(m, healthy, f, x) {
						continue
					}
					compared[k]++
					p, _ := chances(m.Find([]circuit.Reading{healthy}))
					require.LessOrEqual(t, p[f]/p[circuit.None], 5.0/6*(1+1e-9), "%v %g: %s of spec %g to %g", f, x, written([]circuit.Reading{healthy}), m.Min, m.Max)
					if k == circuit.Test(r.IntN(circuit.Tests)) {
						after++
						sure := *m
						sure.Min, sure.Max = middle(m), middle(m)
						var others []circuit.Reading
						for _, o := range anyReadings(r, &sure, 3) {
							if o.Test != k {
								others = append(others, o)
							}
						}
						before, _ := chances(sure.Find(others))
						then, _ := chances(sure.Find(append(others, healthy)))
						require.LessOrEqual(t, then[f]*before[circuit.None], before[f]*then[circuit.None]*(1+1e-9)+1e-300, "%v %g: %s after %s", f, x, written([]circuit.Reading{healthy}), written(others))
					}
				}
			}
		}
	}
	for k := range circuit.Test(circuit.Tests) {
		require.Positive(t, compared[k], "%v", k)
	}
	require.Greater(t, after, 20)
	t.Logf("compared: %v; after other readings: %d", compared, after)
}

// far says whether a fault's predictions for every winding are more than 3 u from a reading.
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

// all are a fault's readings of every possible test.
func all(m *circuit.Model, f circuit.Fault, x, coil float64) (list []circuit.Reading) {
	for _, k := range possible(m) {
		list = append(list, shown(m, k, f, x, coil))
	}
	return list
}

// drawn is a reading with the errors that the model expects, as a meter shows it.
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

// TestOneFaultIsNoSurprise holds that the readings of any single fault surprise nobody, whatever its parameter and the
// winding: all tests' readings as predicted, and, now and then by chance alone, with errors.
func TestOneFaultIsNoSurprise(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 25))
	exact, inexact, surprised := 0, 0, 0
	for _, m := range usual() {
		m.Hour = 1e6 // looking ahead is not what is asked
		for f := range circuit.Fault(circuit.Faults) {
			for _, x := range append(parameters(f, 1+several(4)), within(r, f)) {
				coil := between(m.Min, m.Max, false, r.Float64())
				readings := all(m, f, x, coil)
				exact++
				found := m.Find(readings)
				assert.Less(t, found.Surprise, float64(circuit.Surprising), "%v %g, winding %g: %s", f, x, coil, written(readings))
				for _, n := range []int{len(readings), 1 + r.IntN(5)} {
					r.Shuffle(len(readings), func(i, j int) { readings[i], readings[j] = readings[j], readings[i] })
					some := slices.Clone(readings[:n])
					for i := range some {
						some[i] = drawn(r, m, some[i])
					}
					inexact++
					if m.Find(some).Surprise >= circuit.Surprising {
						surprised++
					}
				}
			}
		}
	}
	t.Logf("%d exact; of %d with errors, %d surprised", exact, inexact, surprised)
	// One in 128, and three of its standard deviations.
	assert.LessOrEqual(t, float64(surprised), float64(inexact)/128+3*math.Sqrt(float64(inexact)/128))
}

// within is a parameter somewhere within a fault's limits.
func within(r *rand.Rand, f circuit.Fault) float64 {
	lo, hi, log, ok := f.Limits()
	if !ok {
		return 0
	}
	return between(lo, hi, log, r.Float64())
}

// ol is a reading of no path, is one of a value.
func ol(k circuit.Test) circuit.Reading            { return circuit.Reading{Test: k, Over: true} }
func is(k circuit.Test, v float64) circuit.Reading { return circuit.Reading{Test: k, Value: v} }

// TestContradictionsSurprise holds that readings which no single fault explains are said to be such.
func TestContradictionsSurprise(t *testing.T) {
	for _, m := range usual() {
		healthy := func(k circuit.Test) circuit.Reading { return shown(m, k, circuit.None, 0, middle(m)) }
		cases := map[string][]circuit.Reading{
			"an open harness with a healthy winding behind it": {ol(circuit.OhmsHarness), healthy(circuit.OhmsUnit)},
			"an open component with a healthy winding in it":   {ol(circuit.OhmsComponent), healthy(circuit.OhmsUnit)},
			"an open component that carries its current":       {ol(circuit.OhmsComponent), healthy(circuit.CurrentOn)},
			"an open winding that carries its current":         {ol(circuit.OhmsWinding), healthy(circuit.CurrentOn)},
			"a harness to ground, all else as it should be":    {is(circuit.InsulationHarness, 0.3), healthy(circuit.CurrentOn), healthy(circuit.VoltsPinOff)},
			"two open ends": {ol(circuit.OhmsHarness), ol(circuit.OhmsComponent)},
			"a driver that feeds no load and yet the winding": {is(circuit.VoltsLoad, 0), healthy(circuit.CurrentOn)},
			"a harness both to ground and under voltage":      {is(circuit.InsulationHarness, 0.3), is(circuit.VoltsHarnessOpen, m.Supply)},
		}
		for name, readings := range cases {
			found := m.Find(readings)
			assert.GreaterOrEqual(t, found.Surprise, float64(circuit.Surprising), "%s, spec %g to %g: %s", name, m.Min, m.Max, written(readings))
		}
	}
}

// TestTheOddOneOut holds that of healthy readings and one gross error the error is named. Where it contradicts one other
// reading alone, nothing says which of the two is wrong, and the other may be named.
func TestTheOddOneOut(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 25))
	named, either := 0, 0
	for _, m := range usual() {
		m.Hour = 1e6
		for _, k := range possible(m) {
			var others []circuit.Reading
			for _, o := range all(m, circuit.None, 0, middle(m)) {
				if o.Test != k {
					others = append(others, o)
				}
			}
			for _, gross := range errorsOf(m, k) {
				for i := range several(3) {
					n := 6
					if i == 0 {
						n = len(others)
					}
					r.Shuffle(len(others), func(i, j int) { others[i], others[j] = others[j], others[i] })
					readings := append(slices.Clone(others[:n]), gross)
					found := m.Find(readings)
					switch {
					case found.Surprise < circuit.Surprising: // one fault explains it, or it is a reading of a healthy circuit too
					case found.Worst == k:
						named++
					default:
						either++
						require.Less(t, n, len(others), "%v named; wrong is %s, all others are as healthy", found.Worst, written([]circuit.Reading{gross}))
						rest := slices.DeleteFunc(slices.Clone(readings), func(o circuit.Reading) bool { return o.Test == found.Worst })
						require.Less(t, m.Find(rest).Surprise, float64(circuit.Surprising), "%v named; wrong is %s among %s", found.Worst, written([]circuit.Reading{gross}), written(readings))
					}
				}
			}
		}
	}
	t.Logf("named %d, the only other one to contradict it %d", named, either)
	require.Greater(t, named, 80)
	require.Less(t, either*20, named)
}

// errorsOf are gross errors of a test on a healthy circuit.
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

// TestThePairIsFound holds that two faults at once are named where each shows in tests that the other does not touch. Then
// the readings of both together are those of the one or of the other.
func TestThePairIsFound(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 25))
	apart := []circuit.Test{circuit.OhmsWinding, circuit.OhmsHarness, circuit.InsulationHarness, circuit.VoltsHarnessOpen, circuit.VoltsFeed, circuit.VoltsLoad}
	faults := []circuit.Fault{circuit.WindingOpen, circuit.WindingShorted, circuit.WindingHigh, circuit.HarnessOpen, circuit.HarnessHigh,
		circuit.HarnessToGround, circuit.HarnessToBattery, circuit.PathOpen, circuit.DriverNever, circuit.DriverWeak}
	tried, found, missed := 0, 0, map[string]string{}
	for _, m := range usual() {
		for i, a := range faults {
			for _, b := range faults[i+1:] {
				for range several(4) {
					x, y := within(r, a), within(r, b)
					readings, ok := both(m, apart, a, x, b, y)
					if !ok {
						continue
					}
					tried++
					pair := [2]circuit.Fault{a, b}
					got := m.Find(readings)
					if got.Surprise >= circuit.Surprising && got.Pair == pair {
						found++
						continue
					}
					missed[fmt.Sprint(pair)] = fmt.Sprintf("%g and %g, spec %g to %g: surprise %.1f, %v: %s", x, y, m.Min, m.Max, got.Surprise, got.Pair, written(readings))
				}
			}
		}
	}
	t.Logf("tried %d, found %d", tried, found)
	require.Greater(t, tried, several(400))
	assert.Equal(t, tried, found, "pairs found")
	for _, pair := range slices.Sorted(maps.Keys(missed))[:min(3, len(missed))] {
		assert.Fail(t, "a pair missed", "%s: %s", pair, missed[pair])
	}
}

// both are the readings of two faults at once; ok is false where they touch the same test, or one is not plain to see.
func both(m *circuit.Model, tests []circuit.Test, a circuit.Fault, x float64, b circuit.Fault, y float64) (list []circuit.Reading, ok bool) {
	if a == circuit.HarnessToGround && b == circuit.HarnessToBattery { // share the voltage between them
		return nil, false
	}
	coil := middle(m)
	var seenA, seenB bool
	for _, k := range tests {
		if !k.Possible(m.Side, m.Return) {
			continue
		}
		h, of, or := shown(m, k, circuit.None, 0, coil), shown(m, k, a, x, coil), shown(m, k, b, y, coil)
		if of != h && or != h {
			return nil, false
		}
		seenA, seenB = seenA || plain(m, of), seenB || plain(m, or)
		if of != h {
			list = append(list, of)
		} else {
			list = append(list, or)
		}
	}
	return list, seenA && seenB
}

// plain says whether a reading is far from that of any healthy winding: as far as two paths can be told, and further.
func plain(m *circuit.Model, reading circuit.Reading) bool {
	for i := range 21 {
		h := shown(m, reading.Test, circuit.None, 0, between(m.Min, m.Max, false, float64(i)/20))
		if h.Over == reading.Over && math.Abs(h.Value-reading.Value) <= 8*max(m.U(h.Test, h.Value), m.U(h.Test, reading.Value)) {
			return false
		}
	}
	return true
}

// TestExpected holds that 95 of 100 readings of a healthy circuit lie within what is expected, or a few more.
func TestExpected(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 25))
	const draws = 4000
	for _, m := range usual() {
		for _, k := range possible(m) {
			low, high, over := m.Expect(k)
			inside := 0
			for range draws {
				exact := shown(m, k, circuit.None, 0, between(m.Min, m.Max, false, r.Float64()))
				require.Equal(t, over, exact.Over, "%v", k)
				if v := max(0, exact.Value+m.U(k, exact.Value)*r.NormFloat64()); over || v >= low && v <= high {
					inside++
				}
			}
			assert.GreaterOrEqual(t, float64(inside)/draws, 0.94, "%v from %g to %g, spec %g to %g", k, low, high, m.Min, m.Max)
		}
	}
}

// The contract's spread and meters, and what weigh.go says of readings that are simply wrong.
const (
	slipped    = 1e-3
	ohmsSpread = 0.12
	voltSpread = 0.06
)

// uncertainty is the standard deviation that the contract gives a test's reading.
func uncertainty(k circuit.Test, v float64) float64 {
	v = math.Abs(v)
	spread, half := ohmsSpread, 0.0
	switch k.Quantity() {
	case circuit.Volts:
		spread, half = voltSpread, 0.005*v+2*0.01
	case circuit.Amperes:
		spread, half = 0.03*v+0.02, 0.02*v+3*0.01
	default:
		count := 1e3
		for _, r := range [][2]float64{{40e3, 10}, {4e3, 1}, {400, 0.1}} {
			if v < r[0] {
				count = r[1]
			}
		}
		half = 0.01*v + 2*count
	}
	return math.Sqrt(spread*spread + half*half/3)
}

// likelihood is that of a reading under a prediction: normal, or the probability that the display stops at 0, or OL; and
// once in a thousand anything at all.
func likelihood(m *circuit.Model, k circuit.Reading, prediction float64) float64 {
	var right, wrong float64
	ohms, none := k.Test.Quantity() == circuit.Ohms, math.IsInf(prediction, 1)
	u := uncertainty(k.Test, prediction)
	switch {
	case k.Over && none:
		right = 1
	case k.Over || none:
	case ohms && k.Value == 0:
		const count = 0.1
		right = (1 + math.Erf((count/2-prediction)/(u*math.Sqrt2))) / 2 / count
	default:
		z := (k.Value - prediction) / u
		right = math.Exp(-z*z/2) / (u * math.Sqrt(2*math.Pi))
	}
	switch {
	case k.Over:
		wrong = 0.25
	case ohms:
		wrong = 0.75 / (k.Value + 0.1) / math.Log(40e6/0.1)
	case k.Test.Quantity() == circuit.Volts:
		wrong = 1 / (m.Supply + 1)
	default:
		wrong = 1 / (k.Value + 0.05) / math.Log(100/0.05)
	}
	return (1-slipped)*right + slipped*wrong
}

// integrated are the faults' probabilities by an even grid over parameter and winding.
func integrated(m *circuit.Model, readings []circuit.Reading, values, windings int) (p [circuit.Faults]float64) {
	sum := 0.0
	for f := range circuit.Fault(circuit.Faults) {
		lo, hi, log, ok := f.Limits()
		n := 1
		if ok {
			n = values
		}
		for i := range n {
			x := 0.0
			if ok {
				x = between(lo, hi, log, (float64(i)+0.5)/float64(n))
			}
			for j := range windings {
				coil := between(m.Min, m.Max, false, (float64(j)+0.5)/float64(windings))
				l := 1.0
				if m.Code != circuit.NoCode && !slices.Contains(m.Sets(f, x, coil), m.Code) {
					l = 0.05
				}
				for _, k := range readings {
					l *= likelihood(m, k, m.Predict(k.Test, f, x, coil))
				}
				p[f] += l * f.Weight() / float64(n*windings)
			}
		}
		sum += p[f]
	}
	for f := range p {
		p[f] /= sum
	}
	return p
}

// TestTheIntegral holds the probabilities against a plain fine grid, written from the contract's words on the likelihood.
func TestTheIntegral(t *testing.T) {
	coded := func(m *circuit.Model, c circuit.Code) *circuit.Model { m.Code = c; return m }
	for i, c := range []struct {
		m                *circuit.Model
		readings         []circuit.Reading
		values, windings int
	}{
		{coded(usual()[0], circuit.CodeLow), nil, 3000, 16},
		{coded(usual()[2], circuit.CodeRange), []circuit.Reading{is(circuit.OhmsUnit, 19.2)}, 3000, 16},
		{usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 4.9)}, 3000, 16},
		{usual()[0], []circuit.Reading{is(circuit.OhmsUnit, 7.1), is(circuit.OhmsComponent, 5.6)}, 3000, 16},
		{usual()[1], []circuit.Reading{is(circuit.OhmsComponent, 6.2), is(circuit.VoltsPinOn, 13.1)}, 3000, 24},
		{usual()[1], []circuit.Reading{is(circuit.OhmsUnit, 0), is(circuit.CurrentOn, 30)}, 3000, 24},
		{usual()[2], []circuit.Reading{is(circuit.CurrentOn, 0.55), is(circuit.VoltsReturn, 0.3)}, 3000, 24},
		{usual()[2], []circuit.Reading{ol(circuit.InsulationHarness), is(circuit.VoltsPinOff, 11.9), is(circuit.VoltsPinOn, 1.1)}, 3000, 16},
		{usual()[3], []circuit.Reading{is(circuit.OhmsUnit, 365), is(circuit.OhmsHarness, 52)}, 3000, 48},
		// Readings that contradict one another.
		{usual()[0], []circuit.Reading{ol(circuit.OhmsHarness), is(circuit.OhmsUnit, 5.6), is(circuit.CurrentOn, 2.2)}, 3000, 16},
		{usual()[0], []circuit.Reading{ol(circuit.OhmsHarness), is(circuit.CurrentOn, 2.2)}, 3000, 16},
		// A code that a healthy circuit sets with some windings alone, and a fault with some parameters and windings.
		{coded(usual()[1], circuit.CodeLow), nil, 500, 200},
		{coded(usual()[1], circuit.CodeRange), []circuit.Reading{is(circuit.OhmsHarness, 0.26), is(circuit.VoltsPinOn, 13.48)}, 500, 200},
		{coded(usual()[2], circuit.CodeHigh), []circuit.Reading{is(circuit.OhmsHarness, 0), is(circuit.VoltsReturn, 0), is(circuit.VoltsPinOff, 12.24)}, 500, 200},
		// A display that stops at 0, and a parameter at the end of its range.
		{usual()[1], []circuit.Reading{is(circuit.OhmsWinding, 0), is(circuit.VoltsHarnessOpen, 0)}, 3000, 24},
		{usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 0), is(circuit.InsulationComponent, 1.14)}, 3000, 16},
	} {
		want := integrated(c.m, c.readings, several(c.values), c.windings)
		got, _ := chances(c.m.Find(c.readings))
		worst := 0.0
		for f := range want {
			worst = max(worst, math.Abs(got[f]-want[f]))
			assert.InDelta(t, want[f], got[f], 0.01, "case %d, %v: %s", i, circuit.Fault(f), written(c.readings))
		}
		t.Logf("case %d: off by at most %.5f", i, worst)
	}
}

// TestCodesThatFaultsSet holds the kinds of code against the contract's words on a driver's checks, put to the readings that
// the checks would see.
func TestCodesThatFaultsSet(t *testing.T) {
	sets := map[circuit.Code]int{}
	for _, m := range usual() {
		expected := m.Predict(circuit.CurrentOn, circuit.None, 0, middle(m))
		for f := range circuit.Fault(circuit.Faults) {
			for _, x := range parameters(f, 31) {
				for _, coil := range []float64{m.Min, middle(m), m.Max} {
					off, on := m.Predict(circuit.VoltsPinOff, f, x, coil), m.Predict(circuit.VoltsPinOn, f, x, coil)
					amperes := m.Predict(circuit.CurrentOn, f, x, coil)
					open, short, idle := off > 3, on < 2.8 || amperes > 4.5, amperes < 0.040
					much, little := circuit.CodeLow, circuit.CodeHigh
					if m.Side == circuit.Low {
						open, short, idle = off < 3, on > 2.5 || amperes > 4.5, amperes < 0.100
						much, little = circuit.CodeHigh, circuit.CodeLow
					}
					more, less := amperes > 1.2*expected, amperes < 0.8*expected
					want := map[circuit.Code]bool{circuit.CodeOpen: open || idle, circuit.CodeRange: more || less, much: short || more, little: open || idle || less}
					got := m.Sets(f, x, coil)
					for c := circuit.CodeLow; int(c) < circuit.Codes; c++ {
						if want[c] {
							sets[c]++
						}
						require.Equal(t, want[c], slices.Contains(got, c), "%v of %v %g: off %g V, on %g V, %g A", c, f, x, off, on, amperes)
					}
				}
			}
		}
	}
	for c := circuit.CodeLow; int(c) < circuit.Codes; c++ {
		require.Greater(t, sets[c], 100, "%v", c)
	}
}

// TestWorkedCases holds what a good technician would say of cases that come up every week. Source of every one: common
// practice; the readings follow from Ohm's law and the nominal values.
func TestWorkedCases(t *testing.T) {
	high := func() *circuit.Model { return circuit.New(circuit.High, circuit.Wire, 12.6, 5, 5.6) }
	grounded := func() *circuit.Model { return circuit.New(circuit.High, circuit.Case, 12.6, 5, 5.6) }
	low := func() *circuit.Model { return circuit.New(circuit.Low, circuit.Wire, 12.6, 11, 16) }
	coded := func(m *circuit.Model, c circuit.Code) *circuit.Model { m.Code = c; return m }
	const all = 1.0
	for _, c := range []struct {
		name     string
		m        *circuit.Model
		readings []circuit.Reading
		fault    circuit.Fault // on top; None where it is not settled
		repair   circuit.Repair
		from, to float64 // of the repair's probability
		faultTo  float64 // the most that any one fault may have
	}{
		{"low code, high side: the component is the likeliest", coded(high(), circuit.CodeLow), nil,
			circuit.WindingShorted, circuit.Component, 0.4, 0.9, 0.9},
		{"low code, high side, half the resistance: turns are shorted", coded(high(), circuit.CodeLow), []circuit.Reading{is(circuit.OhmsComponent, 2.7)},
			circuit.WindingShorted, circuit.Component, 0.95, all, all},
		{"no continuity: the harness is open", high(), []circuit.Reading{ol(circuit.OhmsHarness)},
			circuit.HarnessOpen, circuit.MendHarness, 0.95, all, all},
		{"open code, no continuity: the harness is open", coded(low(), circuit.CodeOpen), []circuit.Reading{ol(circuit.OhmsHarness)},
			circuit.HarnessOpen, circuit.MendHarness, 0.95, all, all},
		{"1.5 ohm too much from the unit, none in the component: harness or ground", high(),
			[]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 7.1)},
			circuit.None, circuit.MendHarness, 0.4, 0.8, 0.8},
		{"and 2.7 V across the ground: a corroded ground", high(),
			[]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 7.1), is(circuit.VoltsReturn, 2.7)},
			circuit.PathHigh, circuit.MendPath, 0.95, all, all},
		{"1.5 ohm too much through the case: connection within or ground without", grounded(),
			[]circuit.Reading{is(circuit.OhmsComponent, 6.9), is(circuit.OhmsUnit, 7.1)},
			circuit.None, circuit.MendPath, 0.3, 0.8, 0.8},
		{"and 2.7 V across the ground: a corroded ground again", grounded(),
			[]circuit.Reading{is(circuit.OhmsComponent, 6.9), is(circuit.OhmsUnit, 7.1), is(circuit.VoltsReturn, 2.7)},
			circuit.PathHigh, circuit.MendPath, 0.95, all, all},
		{"half the resistance through the case: shorted or leaking, no matter which", grounded(),
			[]circuit.Reading{is(circuit.OhmsComponent, 2.7), is(circuit.OhmsUnit, 2.9)},
			circuit.WindingShorted, circuit.Component, 0.9, all, 0.95},
		{"no feed: what feeds it is open", low(), []circuit.Reading{is(circuit.VoltsFeed, 0)},
			circuit.PathOpen, circuit.MendPath, 0.95, all, all},
		{"nothing across the test load, high side: the driver", high(), []circuit.Reading{is(circuit.VoltsLoad, 0)},
			circuit.DriverNever, circuit.ControlUnit, 0.95, all, all},
		{"nothing across the test load, low side: the driver", low(), []circuit.Reading{is(circuit.VoltsLoad, 0)},
			circuit.DriverNever, circuit.ControlUnit, 0.95, all, all},
	} {
		found := c.m.Find(c.readings)
		_, repairs := chances(found)
		assert.Equal(t, c.repair, found.Repairs[0].Of, c.name)
		assert.True(t, repairs[c.repair] >= c.from && repairs[c.repair] <= c.to, "%s: p(%v) is %.3f", c.name, c.repair, repairs[c.repair])
		assert.LessOrEqual(t, found.Faults[0].P, c.faultTo, "%s: %v", c.name, found.Faults[0].Of)
		if c.fault != circuit.None {
			assert.Equal(t, c.fault, found.Faults[0].Of, c.name)
		}
		assert.Less(t, found.Surprise, float64(circuit.Surprising), c.name)
		// Where it is settled, that repair is the advice; where it is not, a test is.
		assert.Equal(t, c.to < all, found.Test, c.name)
		if !found.Test {
			assert.Equal(t, c.repair, found.Repair, c.name)
		}
	}
	unsettled := high().Find([]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 7.1)})
	p, _ := chances(unsettled)
	assert.Greater(t, p[circuit.HarnessHigh]+p[circuit.PathHigh], 0.95, "harness or ground")
	assert.Contains(t, []circuit.Test{circuit.VoltsReturn, circuit.OhmsHarness}, unsettled.Next[0].Test, "the test that parts the two")
}

// TestWhatATestIsWorth holds bits, value and outcomes where they can be worked out by hand: two faults alike in
// probability, and a test that tells them apart for certain gains 1 bit, and saves half of what being wrong costs less its
// own cost; one that reads the same under both gains nothing.
func TestWhatATestIsWorth(t *testing.T) {
	apart, alike := 0, 0
	for _, m := range usual() {
		for _, f := range []circuit.Fault{circuit.WindingOpen, circuit.HarnessOpen, circuit.PathOpen, circuit.DriverNever} {
			m.Weights = [circuit.Faults]float64{}
			m.Weights[circuit.None], m.Weights[f] = 3, 3
			m.Wrong = [circuit.Repairs]float64{300, 300, 300, 300, 300}
			found := m.Find(nil)
			require.InDelta(t, 150, found.Cost, 1e-9)
			for _, n := range found.Next {
				healthy, broken := shown(m, n.Test, circuit.None, 0, middle(m)), shown(m, n.Test, f, 0, middle(m))
				switch {
				case far(m, healthy, f, 0) && plain(m, broken):
					apart++
					assert.InDelta(t, 1, n.Bits, 0.01, "%v of %v", n.Test, f)
					assert.InDelta(t, 150-n.Minutes, n.Value, 1, "%v of %v", n.Test, f) // 60 an hour is 1 a minute
					require.Len(t, n.Outcomes, 2, "%v of %v", n.Test, f)
					for _, o := range n.Outcomes {
						assert.InDelta(t, 0.5, o.P, 0.01, "%v of %v", n.Test, f)
						assert.Greater(t, o.FaultP, 0.99, "%v of %v", n.Test, f)
						value := healthy
						if o.Fault == f {
							value = broken
						}
						assert.True(t, o.Over == value.Over && (o.Over || value.Value >= o.From && value.Value <= o.To), "%v of %v: %v from %g to %g", n.Test, f, o.Fault, o.From, o.To)
					}
				case healthy == broken:
					alike++
					assert.InDelta(t, 0, n.Bits, 1e-6, "%v of %v", n.Test, f)
					assert.Less(t, n.Value, 150-n.Minutes-7, "%v of %v needs a second test", n.Test, f)
				}
			}
		}
	}
	require.Greater(t, apart, 60)
	require.Greater(t, alike, 60)
}
