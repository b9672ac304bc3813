package circuit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
)

// holds checks what is true of every finding, and returns what is not; "" if all is.
func holds(m *circuit.Model, readings []circuit.Reading, f circuit.Finding) string {
	made := map[circuit.Test]bool{}
	for _, k := range readings {
		made[k.Test] = true
	}
	if fault := chancesHold(m, f); fault != "" {
		return fault
	}
	if fault := adviceHolds(m, f); fault != "" {
		return fault
	}
	if !finite(f.Surprise) || f.Surprise < 0 {
		return fmt.Sprintf("surprise is %v", f.Surprise)
	}
	if len(made) > 0 && !made[f.Worst] {
		return fmt.Sprintf("the worst reading is %v, which was not made", f.Worst)
	}
	return nextHolds(m, f, made)
}

// chancesHold checks the probabilities: they are in order and add up, and a repair has those of its faults.
func chancesHold(m *circuit.Model, f circuit.Finding) string {
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
	return ""
}

// adviceHolds checks the cost of the best repair, and that an advised test pays. A wrong repair costs what the model says, as often
// as the repair is wrong.
func adviceHolds(m *circuit.Model, f circuit.Finding) string {
	_, r := chances(f)
	cost := math.Inf(1)
	for k, q := range r {
		cost = min(cost, m.Wrong[k]*(1-q))
	}
	if !finite(f.Cost) || math.Abs(f.Cost-cost) > 1e-9*(1+slices.Max(m.Wrong[:])) || math.Abs(f.RepairP-r[f.Repair]) > 1e-12 {
		return fmt.Sprintf("repairing costs %v, not %v", f.Cost, cost)
	}
	if f.Test && (len(f.Next) == 0 || f.Next[0].Value <= 0) {
		return "a test is advised that does not pay"
	}
	return ""
}

// nextHolds checks the tests that are offered: all that are possible and not made, in order, with sensible figures.
func nextHolds(m *circuit.Model, f circuit.Finding, made map[circuit.Test]bool) string {
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
	return ""
}

// outcomesHold checks the outcomes of a test: their probabilities, and that their ranges follow each other.
func outcomesHold(n circuit.Next) string {
	sum, last := 0.0, math.Inf(-1)
	for _, o := range n.Outcomes {
		switch {
		case !(o.P > 0 && o.P <= 1+1e-9 && o.FaultP > 0 && o.FaultP <= 1+1e-9),
			!(o.RepairP >= o.FaultP-1e-9 && o.RepairP <= 1+1e-9):
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

// TestWhateverIsAsked checks what is true of every finding, over any models and readings that a request may have.
func TestWhateverIsAsked(t *testing.T) {
	t.Parallel()
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
	require.Empty(t, wrong, "what is wrong in a finding, and how often in %d models; examples are above", models)
}

// TestOrderChangesNothing checks that the order of readings does not matter, to the last bit, and that the last of several
// readings of one test counts.
func TestOrderChangesNothing(t *testing.T) {
	t.Parallel()
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
		for _, k := range readings { // first another reading of each test
			over := !k.Over && k.Test.Quantity() == circuit.Ohms
			again = append(again, circuit.Reading{Test: k.Test, Value: wide(r, 0.01, 1e4), Over: over})
		}
		require.Equal(t, want, m.Find(append(again, shuffled...)), about(m, again))
	}
}

// TestImpossibleReadingsAreIgnored checks that Find ignores readings of tests that the side or the return does not have.
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

// TestNoPathIsNoPath checks that whether a test finds a path at all does not depend on the winding's resistance.
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
							wrong[fmt.Sprint(k)] = fmt.Sprintf("%v %g, winding %g ohm, side %v, return %v: %g",
								f, x, coil, m.Side, m.Return, v)
						}
					}
				}
			}
		}
	}
	require.Greater(t, compared, 100000)
	assert.Empty(t, wrong, "tests that find a path for only some windings, each with an example")
}

// TestSurpriseIsFinite checks the surprise of readings that contradict each other as much as possible.
func TestSurpriseIsFinite(t *testing.T) {
	for _, m := range usual() {
		var nonsense []circuit.Reading
		for _, k := range possible(m) {
			nonsense = append(nonsense, circuit.Reading{Test: k, Value: -1000})
		}
		f := m.Find(nonsense)
		surprised := finite(f.Surprise) && f.Surprise >= circuit.Surprising
		assert.True(t, surprised, "spec %g to %g: the surprise of nonsense is %v", m.Min, m.Max, f.Surprise)
		m.Weights = [circuit.Faults]float64{circuit.None: 1}
		f = m.Find([]circuit.Reading{{Test: circuit.OhmsWinding}})
		surprised = finite(f.Surprise) && f.Surprise >= circuit.Surprising
		assert.True(t, surprised, "spec %g to %g: the surprise of 0 ohm where nothing can be wrong is %v", m.Min, m.Max, f.Surprise)
	}
}

// TestWhatATestIsWorth checks bits, value and outcomes where they can be worked out by hand. With two equally likely faults, a test
// that tells them apart for certain gains 1 bit, and saves half of what a wrong repair costs, less its own cost. A test that
// reads the same under both gains nothing.
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
						inside := o.Over == value.Over && (o.Over || value.Value >= o.From && value.Value <= o.To)
						assert.True(t, inside, "%v of %v: %v from %g to %g", n.Test, f, o.Fault, o.From, o.To)
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
