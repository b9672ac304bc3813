package diagnosis

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/testdata"
)

// holds checks what is true of every finding, and returns what is not; "" if all is.
func holds(m *circuit.Model, readings []circuit.Reading, f Finding) string {
	made := map[circuit.Test]bool{}
	numbers := false
	for _, k := range readings {
		made[k.Test] = true
		numbers = numbers || k.Test.Quantity() <= circuit.Amperes && k.Test != circuit.SupplyDriven
	}
	if fault := chancesHold(m, f); fault != "" {
		return fault
	}
	if fault := adviceHolds(m, f); fault != "" {
		return fault
	}
	if !finite(f.Surprise, f.Held, f.Plausible, f.ComesAndGoesNow()) || f.Surprise < 0 || math.IsNaN(f.Coil) {
		return fmt.Sprintf("surprise %v, held %v, plausible %v, coil %v", f.Surprise, f.Held, f.Plausible, f.Coil)
	}
	if numbers && !made[f.Worst] {
		return fmt.Sprintf("the worst reading is %v, which was not made", f.Worst)
	}
	return nextHolds(m, f, made)
}

// ComesAndGoesNow adds up the faults that come and go.
func (f Finding) ComesAndGoesNow() (p float64) {
	for _, c := range f.Faults {
		if c.Of.ComesAndGoes() {
			p += c.P
		}
	}
	return p
}

// chancesHold checks the probabilities: they are in order and add up, and a repair has those of its faults.
func chancesHold(m *circuit.Model, f Finding) string {
	_, r := chances(f)
	sum, seen := 0.0, map[circuit.Fault]bool{}
	var by [circuit.Repairs]float64
	for i, c := range f.Faults {
		switch {
		case !(c.P >= 0 && c.P <= 1+1e-12):
			return fmt.Sprintf("p(%v) is %v", c.Of, c.P)
		case m.Weights[c.Of] == 0 && c.P != 0 && (c.Of != circuit.Other || c.P != 1): // 1 where nothing with a weight could be
			return fmt.Sprintf("%v has no prior and p %v", c.Of, c.P)
		case i > 0 && c.P > f.Faults[i-1].P+1e-11:
			return "faults are not in order"
		}
		sum += c.P
		by[m.Repair(c.Of)] += c.P
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

// adviceHolds checks the cost of the repair, and that an advised test pays. A wrong repair costs what the model says, as often as the
// repair is wrong.
func adviceHolds(m *circuit.Model, f Finding) string {
	_, r := chances(f)
	cost := m.Wrong[f.Repair] * (1 - r[f.Repair])
	if !finite(f.Cost) || math.Abs(f.Cost-cost) > 1e-9*(1+slices.Max(m.Wrong[:])) || math.Abs(f.RepairP-r[f.Repair]) > 1e-12 {
		return fmt.Sprintf("repairing costs %v, not %v", f.Cost, cost)
	}
	if f.Test && !slices.ContainsFunc(f.Next, func(n Next) bool { return n.Value > 0 }) {
		return "a test is advised that does not pay"
	}
	return ""
}

// nextHolds checks the tests that are offered: all that are possible and not made, the one to make now first and the others in order,
// with sensible figures.
func nextHolds(m *circuit.Model, f Finding, made map[circuit.Test]bool) string {
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
		case n.Value > slices.Max(m.Wrong[:])*(1+1e-9):
			return fmt.Sprintf("%v saves %v, more than any wrong repair costs", n.Test, n.Value)
		case i > 1 && n.Value > f.Next[i-1].Value+1e-8*(1+math.Abs(n.Value)):
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
func outcomesHold(n Next) string {
	sum, last := 0.0, math.Inf(-1)
	words := n.Test.Quantity().Words()
	for _, o := range n.Outcomes {
		value := !o.Over && o.Word == circuit.NoWord
		switch {
		case !(o.P > 0 && o.P <= 1+1e-9 && o.FaultP >= 0 && o.FaultP <= 1+1e-9),
			!(o.RepairP >= o.FaultP-1e-9 && o.RepairP <= 1+1e-9):
			return fmt.Sprintf("an outcome with %+v", o)
		case o.Over && n.Test.Quantity() != circuit.Ohms:
			return "OL, but not of a resistance"
		case (o.Word != circuit.NoWord) != (words != nil), o.Word != circuit.NoWord && !slices.Contains(words, o.Word):
			return fmt.Sprintf("the word %v", o.Word)
		case value && (math.IsNaN(o.From) || math.IsNaN(o.To) || o.From < last || o.From >= o.To):
			return fmt.Sprintf("outcome from %v to %v after %v", o.From, o.To, last)
		}
		sum += o.P
		if value {
			last = o.To
		}
	}
	if sum > 1+1e-3 { // the distribution function is read from a table
		return fmt.Sprintf("outcomes add up to %v", sum)
	}
	return ""
}

// TestWhateverIsAsked checks what is true of every finding, over any models and readings that a request may have.
func TestWhateverIsAsked(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(11, 25))
	models := testdata.Several(120)
	wrong := map[string]int{}
	for range models {
		m := extreme(r)
		readings := anyReadings(r, m, circuit.Tests)
		fault := holds(m, readings, Question{m, readings}.Diagnose().Finding)
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
	for range testdata.Several(30) {
		m := extreme(r)
		if nowAndThen(r, 2) {
			m = usual()[r.IntN(4)]
		}
		readings := anyReadings(r, m, 6)
		told := func(readings []circuit.Reading) string { // each number to its last bit
			f := Find(m, readings)
			if f.Surprising() {
				return fmt.Sprintf("%+v %v", f, f.pair())
			}
			return fmt.Sprintf("%+v", f)
		}
		found, want := Find(m, readings), told(readings)
		_, p := chances(found)
		for k, q := range p {
			require.LessOrEqual(t, found.Cost, m.Wrong[k]*(1-q)+1e-9*(1+m.Wrong[k]), "%v is dearer than %v", found.Repair, circuit.Repair(k))
		}
		shuffled := slices.Clone(readings)
		r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		require.Equal(t, want, told(shuffled), about(m, readings))
		var again []circuit.Reading
		for _, k := range readings { // first another reading of each test
			other := is(k.Test, wide(r, 0.01, 1e4))
			if words := k.Test.Quantity().Words(); words != nil {
				other = word(k.Test, words[r.IntN(2)])
			}
			again = append(again, other)
		}
		require.Equal(t, want, told(append(again, shuffled...)), about(m, again))
	}
}

// TestImpossibleReadingsAreIgnored checks that Find ignores readings of tests that the side or the return does not have.
func TestImpossibleReadingsAreIgnored(t *testing.T) {
	for _, m := range usual() {
		for k := range circuit.Test(circuit.Tests) {
			if !k.Possible(m.Side, m.Return) {
				assert.Equal(t, fmt.Sprintf("%+v", Find(m, nil)), fmt.Sprintf("%+v", Find(m, []circuit.Reading{is(k, 3)})), "%v, side %v", k, m.Side)
			}
		}
	}
}

// TestSurpriseIsFinite checks the surprise of readings that contradict each other as much as possible.
func TestSurpriseIsFinite(t *testing.T) {
	for _, m := range usual() {
		var nonsense, over []circuit.Reading
		for _, k := range measured(m) {
			nonsense = append(nonsense, is(k, -1000))
			if k.Quantity() == circuit.Ohms {
				over = append(over, ol(k))
			}
		}
		none := *m
		none.Weights = [circuit.Faults]float64{circuit.None: 1}
		for name, f := range map[string]Finding{
			"nonsense": Find(m, nonsense), "OL everywhere": Find(m, over),
			"0 ohm where nothing can be wrong": Find(&none, []circuit.Reading{is(circuit.OhmsWinding, 0)}),
		} {
			surprised := finite(f.Surprise) && f.Surprising()
			assert.True(t, surprised, "spec %g to %g: the surprise of %s is %v", m.Row.Min, m.Row.Max, name, f.Surprise)
		}
	}
}

// TestWhatATestIsWorth checks bits and value where they can be worked out by hand. With two equally likely faults and no doubts, a
// test that tells them apart for certain gains 1 bit, and saves half of what a wrong repair costs, less its own cost. A test that
// reads the same under both gains nothing, and costs its minutes.
func TestWhatATestIsWorth(t *testing.T) {
	certain, alike := 0, 0
	for _, m := range usual() {
		plainly(m)
		for _, f := range []circuit.Fault{circuit.WindingOpen, circuit.HarnessOpen, circuit.PathOpen, circuit.DriverNever} {
			m.Weights = [circuit.Faults]float64{}
			m.Weights[circuit.None], m.Weights[f] = 3, 3
			found := Find(m, nil)
			require.InDelta(t, 150, found.Cost, 1e-9)
			for _, n := range found.Next {
				if n.Test.Quantity() > circuit.Amperes || n.Test == circuit.SupplyDriven {
					continue
				}
				healthy, broken := shown(m, n.Test, circuit.None, 0, halfway(m)), shown(m, n.Test, f, 0, halfway(m))
				switch {
				case apart(m, healthy, f, 0, 8) && plain(m, broken):
					certain++
					held := 3.0 * told01(n.Test) // a driver is held off now and then
					assert.InDelta(t, 1, n.Bits, 0.01+0.05*held, "%v of %v", n.Test, f)
					assert.InDelta(t, 150-n.Minutes, n.Value, 1+4*held, "%v of %v", n.Test, f) // 60 an hour is 1 a minute
				case healthy == broken:
					alike++
					assert.InDelta(t, 0, n.Bits, 1e-6, "%v of %v", n.Test, f)
					assert.InDelta(t, -n.Minutes, n.Value, 1e-3, "%v of %v saves nothing, whatever comes after it", n.Test, f)
				}
			}
		}
	}
	require.Greater(t, certain, 60)
	require.Greater(t, alike, 60)
}

// told01 returns 1 for a test on a driver that is told to be on.
func told01(t circuit.Test) float64 {
	if t.Driven() {
		return 1
	}
	return 0
}

// TestUselessLook checks that a look which tells nothing is not credited with what the next test saves, and one that tells only together
// with a reading still to come is with what it adds to that.
func TestUselessLook(t *testing.T) {
	m := circuit.New(circuit.High, circuit.Case, 13.5, 11, 15)
	useless := 0
	for _, n := range Find(m, []circuit.Reading{ol(circuit.OhmsComponent), is(circuit.OhmsWinding, 13)}).Next {
		if n.Bits == 0 {
			useless++
			assert.InEpsilon(t, -n.Minutes, n.Value, 0.01, "%v", n.Test) // 60 an hour is 1 a minute; unlikely faults are left out
		}
	}
	assert.Positive(t, useless)
}
