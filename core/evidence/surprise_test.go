package evidence

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/testdata"
)

// TestWhatIsHealthyClears checks that a healthy reading does not make a fault likelier if that test would have read something else
// under the fault: its odds against "nothing wrong" do not rise. The fault's parameter is fixed, the model has no doubts, and
// the predictions are more than 3 u from the reading, whatever the winding.
func TestWhatIsHealthyClears(t *testing.T) {
	compared := map[circuit.Test]int{}
	for _, m := range usual() {
		plainly(m)
		m.Minutes, m.Hour = [circuit.Tests]float64{}, 0
		for f := circuit.None + 1; f <= circuit.DriverShorted; f++ {
			m.Weights = [circuit.Faults]float64{}
			m.Weights[circuit.None], m.Weights[f] = 6, 5
			for _, x := range parameters(f, 5) {
				m.Limits[f] = [2]float64{x, x}
				for _, k := range measured(m) {
					healthy := shown(m, k, circuit.None, 0, halfway(m))
					if f.Ways() > 1 || k == circuit.SupplyDriven || !apart(m, healthy, f, x, 3) {
						continue
					}
					compared[k]++
					w := Weigh(m, []circuit.Reading{healthy})
					p := w.Chances()
					require.LessOrEqual(t, p[f]/p[circuit.None], 5.0/6*(1+1e-9), "%v %g: %s of spec %g to %g",
						f, x, written([]circuit.Reading{healthy}), m.Row.Min, m.Row.Max)
				}
			}
		}
	}
	for k := range circuit.Test(circuit.Tests) {
		if k.Quantity() <= circuit.Amperes && k != circuit.SupplyDriven {
			require.Positive(t, compared[k], "%v", k)
		}
	}
	t.Logf("compared: %v", compared)
}

// TestOneFaultIsNoSurprise checks that readings of a single fault nearly always fit, in worlds with everything that nobody knows drawn.
func TestOneFaultIsNoSurprise(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(14, 25))
	n, surprised := 0, map[circuit.Fault]int{}
	for _, m := range usual() {
		for f := range circuit.Other {
			for range testdata.Several(4) {
				w := anyWorld(r, m, f)
				var some []circuit.Reading
				for _, k := range measured(m) {
					if nowAndThen(r, 3) {
						some = append(some, w.reads(r, k))
					}
				}
				n++
				if surpriseOf(m, some) >= doubt.Surprising {
					surprised[f]++
				}
			}
		}
	}
	sum := 0
	for _, k := range surprised {
		sum += k
	}
	t.Logf("of %d drawn, %d surprised: %v", n, sum, surprised)
	// One in 128, and three standard deviations more.
	assert.LessOrEqual(t, float64(sum), float64(n)/128+3*math.Sqrt(float64(n)/128))
}

// surpriseOf returns the surprise alone.
func surpriseOf(m *circuit.Model, readings []circuit.Reading) float64 {
	w := Weigh(m, readings)
	return w.Surprise()
}

// TestContradictionsSurprise checks that readings which no single fault explains are surprising, not even one that comes and goes.
func TestContradictionsSurprise(t *testing.T) {
	for _, m := range usual() {
		plainly(m) // a driver that protects or regulates itself may show any current
		healthy := func(k circuit.Test) circuit.Reading { return shown(m, k, circuit.None, 0, halfway(m)) }
		cases := map[string][]circuit.Reading{
			"a harness to ground, all else as it should be": {is(circuit.InsulationHarness, 0.3), healthy(circuit.CurrentOn),
				healthy(circuit.VoltsPinOff)},
			"two open ends": {ol(circuit.OhmsHarness), ol(circuit.OhmsComponent), healthy(circuit.InsulationHarness)},
			"a harness both to ground and under voltage":     {is(circuit.InsulationHarness, 0.3), is(circuit.VoltsHarnessOpen, m.Supply)},
			"a winding of half its ohms behind an open loom": {is(circuit.OhmsWinding, halfway(m)/2), ol(circuit.OhmsHarness)},
			"a lifted ground and a dead feed, lamps bright": {is(circuit.VoltsUnitGround, m.Supply/2), is(circuit.VoltsUnitFeed, 0),
				healthy(circuit.VoltsPinOn)},
		}
		for name, readings := range cases {
			assert.GreaterOrEqual(t, surpriseOf(m, readings), float64(doubt.Surprising), "%s, spec %g to %g: %s", name, m.Row.Min, m.Row.Max,
				written(readings))
		}
	}
}

// TestWhatComesAndGoes checks that a reading which contradicts healthy ones, but shows what a fault that comes and goes shows while it
// is there, leads to that fault.
func TestWhatComesAndGoes(t *testing.T) {
	for _, m := range usual()[:3] {
		healthy := func(k circuit.Test) circuit.Reading { return shown(m, k, circuit.None, 0, halfway(m)) }
		cases := map[circuit.Fault][]circuit.Reading{
			circuit.ComesGoesHarness:   {ol(circuit.OhmsHarness), healthy(circuit.OhmsUnit), healthy(circuit.CurrentOn)},
			circuit.ComesGoesComponent: {ol(circuit.OhmsComponent), healthy(circuit.OhmsUnit), healthy(circuit.CurrentOn)},
			circuit.ComesGoesUnit: {is(circuit.VoltsLoad, 0), healthy(circuit.CurrentOn), healthy(circuit.VoltsUnitFeed),
				healthy(circuit.VoltsUnitGround)},
		}
		for f, readings := range cases {
			p, _ := likely(m, readings)
			assert.Equal(t, f, circuit.Fault(slices.Index(p[:], slices.Max(p[:]))), "%s: %.3f", written(readings), p)
		}
	}
}

// TestTheOddOneOut checks that among healthy readings a grossly wrong one is named. If it contradicts only one other reading,
// nothing tells which of the two is wrong, and the other may be named.
func TestTheOddOneOut(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 25))
	named, either := 0, 0
	for _, m := range usual() {
		m.Stage = circuit.Plain // of one that regulates its current, a healthy current is the odd one as well
		for _, k := range measured(m) {
			if k == circuit.SupplyDriven { // stands for what is typed, and is not weighed
				continue
			}
			var others []circuit.Reading
			for _, o := range showing(m, circuit.None, 0, halfway(m)) {
				if o.Test != k {
					others = append(others, o)
				}
			}
			for _, gross := range errorsOf(m, k) {
				for i := range testdata.Several(2) {
					n := 6
					if i == 0 {
						n = len(others)
					}
					r.Shuffle(len(others), func(i, j int) { others[i], others[j] = others[j], others[i] })
					readings := append(slices.Clone(others[:n]), gross)
					w := Weigh(m, readings)
					switch worst := w.Worst(); {
					case w.Surprise() < doubt.Surprising: // one fault explains it, or it is not wrong for a healthy circuit
					case worst == k:
						named++
					default:
						either++
						wrong := written([]circuit.Reading{gross})
						require.Less(t, n, len(others), "%v named; wrong is %s, all others are healthy", worst, wrong)
						rest := slices.DeleteFunc(slices.Clone(readings), func(o circuit.Reading) bool { return o.Test == worst })
						require.Less(t, surpriseOf(m, rest), float64(doubt.Surprising), "%v named; wrong is %s among %s", worst, wrong,
							written(readings))
					}
				}
			}
		}
	}
	t.Logf("named the wrong reading %d times, the only one that it contradicts %d times", named, either)
	require.Greater(t, named, testdata.Several(40))
	require.Less(t, either*10, named)
}

// TestThePairIsFound checks that two faults at once are named if each shows in tests that the other does not affect. Each reading is
// then that of one of them alone.
func TestThePairIsFound(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(17, 25))
	tests := []circuit.Test{circuit.OhmsWinding, circuit.OhmsHarness, circuit.InsulationHarness, circuit.VoltsHarnessOpen, circuit.VoltsFeed,
		circuit.VoltsLoad}
	faults := []circuit.Fault{circuit.WindingOpen, circuit.WindingShorted, circuit.WindingHigh, circuit.HarnessOpen, circuit.HarnessHigh,
		circuit.HarnessToGround, circuit.HarnessToBattery, circuit.PathOpen,
		circuit.DriverNever}
	tried, found, missed := 0, 0, map[string]string{}
	for _, m := range usual() {
		plainly(m)
		for i, a := range faults {
			for _, b := range faults[i+1:] {
				for range 1 {
					x, y := within(r, a), within(r, b)
					readings, ok := both(m, tests, a, x, b, y)
					if !ok {
						continue
					}
					tried++
					pair := [2]circuit.Fault{a, b}
					w := Weigh(m, readings)
					surprise, got := w.Surprise(), w.Pair()
					if surprise >= doubt.Surprising && got == pair {
						found++
						continue
					}
					missed[fmt.Sprint(pair)] = fmt.Sprintf("%g and %g, spec %g to %g: surprise %.1f, %v: %s",
						x, y, m.Row.Min, m.Row.Max, surprise, got, written(readings))
				}
			}
		}
	}
	t.Logf("tried %d, found %d", tried, found)
	require.Greater(t, tried, 80)
	assert.Equal(t, tried, found, "pairs found")
	for _, pair := range slices.Sorted(maps.Keys(missed))[:min(30, len(missed))] {
		assert.Fail(t, "a pair missed", "%s: %s", pair, missed[pair])
	}
}

// both returns the readings of two faults at once; ok is false if both affect the same test, or if one of them shows in none.
func both(m *circuit.Model, tests []circuit.Test, a circuit.Fault, x float64, b circuit.Fault, y float64) (list []circuit.Reading,
	ok bool) {
	if a == circuit.HarnessToGround && b == circuit.HarnessToBattery { // together they divide the voltage
		return nil, false
	}
	coil := halfway(m)
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

// TestExpected checks that at least 94 of 100 readings of a healthy circuit, drawn with all its doubts and a driver that is fully on, lie
// in the range that Expect gives for 95.
func TestExpected(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 25))
	const draws = 2000
	for i, m := range append(usual(), usual()...) {
		m.Warmth.Known = i < 4
		all := Expectations(m, nil)
		var inside [circuit.Tests]int
		for range draws {
			w := anyWorld(r, m, circuit.None)
			w.settle(doesAsTold, r.Float64)
			for _, k := range possible(m) {
				reading, e := w.reads(r, k), all[k]
				reading.Value = max(reading.Value, min(e.Low, 0)) // a meter about 0 V shows either sign
				require.Equal(t, e.Over, reading.Over, "%v", k)
				if e.Over || e.Word == reading.Word && (e.Word != circuit.NoWord || reading.Value >= e.Low && reading.Value <= e.High) {
					inside[k]++
				}
			}
		}
		for _, k := range possible(m) {
			require.GreaterOrEqual(t, float64(inside[k])/draws, 0.94, "%v from %g to %g, spec %g to %g", k, all[k].Low, all[k].High,
				m.Row.Min, m.Row.Max)
		}
	}
}

// errorsOf returns grossly wrong readings of a test on a healthy circuit.
func errorsOf(m *circuit.Model, k circuit.Test) []circuit.Reading {
	h := shown(m, k, circuit.None, 0, halfway(m))
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
