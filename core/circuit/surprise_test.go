package circuit_test

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
)

// TestWhatIsHealthyClears checks that a healthy reading does not make a fault likelier if that test would have read something else
// under the fault: its odds against "nothing wrong" do not rise. The fault's parameter is fixed, and its predictions are more
// than 3 u from the reading, whatever the winding. If the winding is known, this is true after any other readings too.
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
					require.LessOrEqual(t, p[f]/p[circuit.None], 5.0/6*(1+1e-9), "%v %g: %s of spec %g to %g",
						f, x, written([]circuit.Reading{healthy}), m.Min, m.Max)
					if k == circuit.Test(r.IntN(circuit.Tests)) {
						after++
						clearsAfterOthers(t, r, *m, f, x, healthy)
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

// clearsAfterOthers checks that a healthy reading does not raise the odds of a fault after any other readings, with a winding that
// is known.
func clearsAfterOthers(t *testing.T, r *rand.Rand, sure circuit.Model, f circuit.Fault, x float64, healthy circuit.Reading) {
	sure.Min, sure.Max = middle(&sure), middle(&sure)
	var others []circuit.Reading
	for _, o := range anyReadings(r, &sure, 3) {
		if o.Test != healthy.Test {
			others = append(others, o)
		}
	}
	before, _ := chances(sure.Find(others))
	then, _ := chances(sure.Find(append(others, healthy)))
	most := before[f] * then[circuit.None] * (1 + 1e-9)
	require.LessOrEqual(t, then[f]*before[circuit.None], most+1e-300, "%v %g: %s after %s",
		f, x, written([]circuit.Reading{healthy}), written(others))
}

// TestOneFaultIsNoSurprise checks that readings of a single fault fit, whatever its parameter and the winding: always if they are
// exact, and nearly always if they have errors.
func TestOneFaultIsNoSurprise(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(14, 25))
	exact, inexact, surprised := 0, 0, 0
	for _, m := range usual() {
		m.Hour = 1e6 // no test pays: nothing is spent on looking ahead
		for f := range circuit.Fault(circuit.Faults) {
			for _, x := range append(parameters(f, 1+several(4)), within(r, f)) {
				coil := between(m.Min, m.Max, false, r.Float64())
				readings := all(m, f, x, coil)
				exact++
				found := m.Find(readings)
				if !(found.Surprise < circuit.Surprising) {
					t.Errorf("surprise is %v of %v %g, winding %g: %s", found.Surprise, f, x, coil, written(readings))
				}
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
	// One in 128, and three standard deviations more.
	assert.LessOrEqual(t, float64(surprised), float64(inexact)/128+3*math.Sqrt(float64(inexact)/128))
}

// TestContradictionsSurprise checks that readings which no single fault explains are surprising.
func TestContradictionsSurprise(t *testing.T) {
	for _, m := range usual() {
		healthy := func(k circuit.Test) circuit.Reading { return shown(m, k, circuit.None, 0, middle(m)) }
		cases := map[string][]circuit.Reading{
			"an open harness with a healthy winding behind it": {ol(circuit.OhmsHarness), healthy(circuit.OhmsUnit)},
			"an open component with a healthy winding in it":   {ol(circuit.OhmsComponent), healthy(circuit.OhmsUnit)},
			"an open component that carries its current":       {ol(circuit.OhmsComponent), healthy(circuit.CurrentOn)},
			"an open winding that carries its current":         {ol(circuit.OhmsWinding), healthy(circuit.CurrentOn)},
			"a harness to ground, all else as it should be": {is(circuit.InsulationHarness, 0.3), healthy(circuit.CurrentOn),
				healthy(circuit.VoltsPinOff)},
			"two open ends": {ol(circuit.OhmsHarness), ol(circuit.OhmsComponent)},
			"a driver that feeds no load and yet the winding": {is(circuit.VoltsLoad, 0), healthy(circuit.CurrentOn)},
			"a harness both to ground and under voltage":      {is(circuit.InsulationHarness, 0.3), is(circuit.VoltsHarnessOpen, m.Supply)},
		}
		for name, readings := range cases {
			found := m.Find(readings)
			assert.GreaterOrEqual(t, found.Surprise, float64(circuit.Surprising), "%s, spec %g to %g: %s",
				name, m.Min, m.Max, written(readings))
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
					case found.Surprise < circuit.Surprising: // one fault explains it, or it is not wrong for a healthy circuit
					case found.Worst == k:
						named++
					default:
						either++
						wrong := written([]circuit.Reading{gross})
						require.Less(t, n, len(others), "%v named; wrong is %s, all others are healthy", found.Worst, wrong)
						rest := slices.DeleteFunc(slices.Clone(readings), func(o circuit.Reading) bool { return o.Test == found.Worst })
						require.Less(t, m.Find(rest).Surprise, float64(circuit.Surprising), "%v named; wrong is %s among %s",
							found.Worst, wrong, written(readings))
					}
				}
			}
		}
	}
	t.Logf("named the wrong reading %d times, the only one that it contradicts %d times", named, either)
	require.Greater(t, named, 80)
	require.Less(t, either*20, named)
}

// TestThePairIsFound checks that two faults at once are named if each shows in tests that the other does not affect. Each reading is
// then that of one of them alone.
func TestThePairIsFound(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(17, 25))
	apart := []circuit.Test{circuit.OhmsWinding, circuit.OhmsHarness, circuit.InsulationHarness, circuit.VoltsHarnessOpen,
		circuit.VoltsFeed, circuit.VoltsLoad}
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
					missed[fmt.Sprint(pair)] = fmt.Sprintf("%g and %g, spec %g to %g: surprise %.1f, %v: %s",
						x, y, m.Min, m.Max, got.Surprise, got.Pair, written(readings))
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

// both returns the readings of two faults at once; ok is false if both affect the same test, or if one of them shows in none.
func both(m *circuit.Model, tests []circuit.Test, a circuit.Fault, x float64, b circuit.Fault, y float64) (
	list []circuit.Reading, ok bool) {
	if a == circuit.HarnessToGround && b == circuit.HarnessToBattery { // together they divide the voltage
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

// TestExpected checks that at least 94 of 100 readings of a healthy circuit lie in the range that Expect gives for 95.
func TestExpected(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 25))
	const draws = 4000
	for _, m := range usual() {
		for _, k := range possible(m) {
			expected := m.Expect(k)
			low, high, over := expected.Low, expected.High, expected.Over
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
