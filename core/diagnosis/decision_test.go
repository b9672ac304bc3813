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
	"ohmwright/core/evidence"
	"ohmwright/testdata"
)

// accusing are the tests that are made before the control unit is condemned, and those whose readings accuse it.
var accusing = []circuit.Test{circuit.VoltsLoad, circuit.VoltsUnitFeed, circuit.VoltsUnitGround, circuit.VoltsHarnessOpen,
	circuit.VoltsPinOn, circuit.VoltsPinOff, circuit.CurrentOn}

// someCase draws a circuit and readings of some of its tests in a world with a fault. In every second case the fault may be taken for the
// control unit's, and the tests are those that accuse it.
func someCase(r *rand.Rand, most int) (*circuit.Model, circuit.Fault, []circuit.Reading) {
	m := usual()[r.IntN(4)]
	m.Code, m.Present = circuit.Code(r.IntN(circuit.Codes)), circuit.Presence(r.IntN(circuit.Presences))
	m.Stage = circuit.Stage(r.IntN(circuit.Stages))
	m.Warmth.Known = !nowAndThen(r, 4)
	f := circuit.Fault(r.IntN(int(circuit.Other)))
	tests := possible(m)
	if nowAndThen(r, 2) {
		like := [...]circuit.Fault{circuit.DriverNever, circuit.DriverAlways, circuit.DriverWeak, circuit.DriverShorted, circuit.FeedOpen,
			circuit.FeedHigh, circuit.GroundOpen, circuit.GroundHigh, circuit.UnitPlugOpen,
			circuit.ComesGoesUnit, circuit.HarnessToBattery, circuit.HarnessToGround}
		f, tests, most = like[r.IntN(len(like))], slices.Clone(accusing), len(accusing)
	}
	w := anyWorld(r, m, f)
	r.Shuffle(len(tests), func(i, j int) { tests[i], tests[j] = tests[j], tests[i] })
	var list []circuit.Reading
	for _, k := range tests[:1+r.IntN(most)] {
		list = append(list, w.reads(r, k))
	}
	return m, f, list
}

// TestRandomDecisions checks, over random readings and without a test that pays, that the control unit is condemned only after its feed,
// its ground, and its driver with the plug pulled were looked at, and the component for its ohms only after its row was, where
// another row is possible; and that the probabilities add up, with something left for what is none of the faults.
func TestRandomDecisions(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(31, 26))
	asked := map[circuit.Repair]int{}
	least := 1.0
	for range testdata.Several(2000) {
		m, f, readings := someCase(r, 4)
		w := evidence.Weigh(m, readings)
		p := w.Chances()
		sum := 0.0
		for _, q := range p {
			sum += q
		}
		require.InDelta(t, 1, sum, 1e-9, written(readings))
		if len(readings) <= 2 {
			least = min(least, p[circuit.Other])
		}
		d := decided(w, Question{m, readings})
		if d.Decision.Do != MakeRepair {
			continue
		}
		asked[d.Decision.Repair]++
		switch d.Decision.Repair {
		case circuit.ControlUnit:
			eliminated(t, d, about(m, readings), f)
		case circuit.Component:
			lookedUp(t, d, m, readings)
		}
	}
	t.Logf("decided: %v; other is at least %.2g after at most two readings", asked, least)
	assert.Greater(t, least, 1e-6, "nothing is left for what is none of the faults")
	require.Greater(t, asked[circuit.ControlUnit], testdata.Several(20))
	require.Greater(t, asked[circuit.Component], testdata.Several(20))
}

// decided returns what is decided where no test is left to offer, so that nothing but the rules stands before a repair: then nothing is
// spent on looking ahead.
func decided(w *evidence.Weigher, q Question) *Diagnosis {
	p := w.Chances()
	r := w.Repairs()
	d := &Diagnosis{Finding: Finding{Faults: ranked[circuit.Fault](p[:]), Repairs: ranked[circuit.Repair](r[:]), chances: p}}
	d.Cost, d.Repair = stop(q.Model, &r)
	d.RepairP, d.Surprise, d.Worst, d.Coil = r[d.Repair], w.Surprise(), w.Worst(), w.Coil()
	d.taken = q.Model.Latest(q.Readings)
	for t := range d.Latest {
		d.Latest[t] = -1
	}
	for i, k := range q.Readings {
		d.Latest[k.Test] = i
	}
	d.decide(q)
	return d
}

// eliminated checks that what has to be measured before the control unit is condemned was.
func eliminated(t *testing.T, d *Diagnosis, what string, f circuit.Fault) {
	always := d.Likeliest.Of == circuit.DriverAlways || d.Likeliest.Of == circuit.DriverShorted
	direct := d.Made(circuit.VoltsLoad) || always && d.Made(circuit.VoltsHarnessOpen)
	if !d.Made(circuit.VoltsUnitFeed) || !d.Made(circuit.VoltsUnitGround) || !direct {
		t.Errorf("the control unit is condemned for %v (it is %v) without feed, ground or a direct reading: %s", d.Likeliest.Of, f, what)
	}
}

// lookedUp checks that a component is not condemned for its ohms before its row was looked at, if these may be another row's.
func lookedUp(t *testing.T, d *Diagnosis, m *circuit.Model, readings []circuit.Reading) {
	switch d.Likeliest.Of {
	case circuit.WindingShorted, circuit.WindingHigh, circuit.LeadHigh:
	default:
		return
	}
	ratio := 0.0
	for _, k := range readings {
		if k.Test == circuit.OhmsWinding || k.Test == circuit.OhmsComponent {
			ratio = k.Value / halfway(m)
		}
	}
	if ratio > 0.6 && ratio < 1.7 && !d.Made(circuit.RowApplies) {
		t.Errorf("the component is condemned at %.2f times its row without a look at the row: %s", ratio, about(m, readings))
	}
}

// follow makes the tests that the decisions ask for in a healthy circuit whose driver is fully on, until a repair is decided on. What is
// read in words is right.
func follow(r *rand.Rand, w *world, first circuit.Test) (d Diagnosis, readings []circuit.Reading) {
	const most = 14
	w.look(electrical(w.m.Side, w.m.Return))
	w.settle(doesAsTold, r.Float64)
	next := first
	for len(readings) < most {
		reading := w.reads(r, next)
		if words := next.Quantity().Words(); words != nil {
			reading = word(next, words[0])
		}
		readings = append(readings, reading)
		d = Question{w.m, readings}.Diagnose()
		if d.Decision.Do == MakeRepair {
			break
		}
		next = d.Decision.Test
	}
	return d, readings
}

// TestHotPart checks that a healthy part which is read hot, with the temperature left out, is never condemned.
func TestHotPart(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(32, 26))
	for i := range testdata.Several(12) {
		m := usual()[i%4]
		m.Warmth.Known = false
		w := worldOf(m, circuit.None, 0, 0, r.Float64(), false, r.Float64)
		w.coil *= (120 + 234.5) / (w.at + 234.5)
		w.at = 120
		d, readings := follow(r, w, circuit.OhmsComponent)
		wrong := d.Decision.Do == MakeRepair && d.Decision.Repair == circuit.Component
		assert.False(t, wrong, "a healthy part is condemned at 120 degC, %v %.3f: %s", d.Likeliest.Of, d.RepairP,
			written(readings))
	}
}

// TestSupplyTypedTooHigh checks that a supply that is 0.3 V lower than typed never makes a bad harness.
func TestSupplyTypedTooHigh(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(33, 26))
	for i := range testdata.Several(12) {
		m := usual()[i%4]
		w := worldOf(m, circuit.None, 0, 0, r.Float64(), false, r.Float64)
		w.true.Supply = m.Supply - 0.3
		d, readings := follow(r, w, [...]circuit.Test{circuit.VoltsPinOn, circuit.CurrentOn, circuit.VoltsUnitFeed}[r.IntN(3)])
		wrong := d.Decision.Do == MakeRepair && d.Decision.Repair == circuit.MendHarness
		assert.False(t, wrong, "the harness is condemned, %v %.3f: %s", d.Likeliest.Of, d.RepairP, written(readings))
	}
}

// TestPreviewsHold checks that every value inside a range that the next test's card names leads to the repair that it names, as the
// meter shows it.
func TestPreviewsHold(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(34, 26))
	points, states, wrong := 0, 0, 0
	for range testdata.Several(75) {
		m, f, readings := someCase(r, 3)
		d := Question{m, readings}.Diagnose()
		if d.Decision.Do != MakeTest {
			continue
		}
		states++
		require.Equal(t, d.Decision.Test, d.Next[0].Test)
		for _, o := range d.Next[0].Outcomes {
			for range 3 {
				k := inside(r, m, d.Decision.Test, o)
				points++
				_, repairs := likely(m, append(slices.Clone(readings), k))
				if best := first(repairs); best != o.Repair {
					if wrong++; wrong <= 5 {
						t.Errorf("%s, named as %v at %.3g to %.3g, is %v %.3f (%v %.3f); it is %v: %s", written([]circuit.Reading{k}), o.Repair, o.From,
							o.To, best, repairs[best], o.Repair, repairs[o.Repair], f, about(m, readings))
					}
				}
				if o.Over || o.Word != circuit.NoWord {
					break
				}
			}
		}
	}
	t.Logf("%d points in %d states, %d wrong", points, states, wrong)
	assert.Zero(t, wrong)
	require.Greater(t, points, testdata.Several(300))
}

// inside draws a reading inside an outcome's range, as the meter would show it.
func inside(r *rand.Rand, m *circuit.Model, t circuit.Test, o Outcome) circuit.Reading {
	switch {
	case o.Over:
		return ol(t)
	case o.Word != circuit.NoWord:
		return word(t, o.Word)
	}
	from := o.From
	if math.IsInf(from, -1) {
		from = min(0, o.To)
	}
	v := between(from, o.To, false, r.Float64())
	if from > 0 && nowAndThen(r, 2) {
		v = wide(r, from, o.To)
	}
	if t.Quantity() <= circuit.Amperes {
		if step := m.Step(t, v); step > 0 && math.Round(v/step)*step >= from && math.Round(v/step)*step <= o.To {
			v = math.Round(v/step) * step
		}
	}
	return is(t, v)
}

// TestJudgeLeavesOut checks that Judge decides as Diagnose does, and leaves out only what the outcomes would mean and a pair of faults.
func TestJudgeLeavesOut(t *testing.T) {
	m := usual()[0]
	for name, readings := range map[string][]circuit.Reading{
		"nothing read": nil, "one reading": {is(circuit.OhmsUnit, 45)},
		"two faults": {{Test: circuit.OhmsWinding, Over: true}, {Test: circuit.OhmsHarness, Over: true}},
	} {
		q := Question{Model: m, Readings: readings}
		whole, soon := q.Diagnose(), q.Judge()
		wanted := [2]circuit.Fault{}
		if name == "two faults" {
			wanted = [2]circuit.Fault{circuit.WindingOpen, circuit.HarnessOpen}
			require.Contains(t, whole.Doubts, TwoFaults)
		} else {
			require.NotEmpty(t, whole.Next[0].Outcomes, name)
		}
		require.Equal(t, wanted, whole.Pair, name)
		whole.Pair, whole.Next[0].Outcomes, whole.Next[0].Rest = [2]circuit.Fault{}, nil, 0
		whole.Doubts = slices.DeleteFunc(whole.Doubts, func(d Doubt) bool { return d == TwoFaults })
		require.Equal(t, fmt.Sprintf("%+v", whole.Doubts), fmt.Sprintf("%+v", soon.Doubts), name)
		whole.Doubts, soon.Doubts = nil, nil
		require.Equal(t, fmt.Sprintf("%+v", whole), fmt.Sprintf("%+v", soon), name)
	}
}

// TestLooksThatExplain checks that readings which fit nothing known lead to a look at what was typed only where they would fit if it were
// something else, and to the worst of them again where they would not.
func TestLooksThatExplain(t *testing.T) {
	m := circuit.New(circuit.High, circuit.Case, 13.5, 11, 15)
	cold := circuit.New(circuit.High, circuit.Case, 13.5, 11, 11.4)
	again := func(t circuit.Test) Decision { return Decision{Do: Recheck, Test: t} }
	look := func(t circuit.Test) Decision { return Decision{Do: MakeTest, Test: t} }
	for name, c := range map[string]struct {
		m        *circuit.Model
		readings []circuit.Reading
		wanted   Decision
	}{
		"twice as much at the component as at its winding and at the unit": {m, []circuit.Reading{is(circuit.OhmsComponent, 26),
			is(circuit.OhmsWinding, 13), is(circuit.OhmsUnit, 13.4)}, again(circuit.OhmsComponent)},
		"more amperes than any supply gives": {m, []circuit.Reading{is(circuit.CurrentOn, 200), is(circuit.OhmsUnit, 13.4)},
			again(circuit.CurrentOn)},
		"an open wire, and a winding of another row": {m, []circuit.Reading{ol(circuit.OhmsUnit), is(circuit.OhmsComponent, 24),
			is(circuit.OhmsWinding, 24)}, look(circuit.RowApplies)},
		"an open wire, and a winding that is hot": {cold, []circuit.Reading{ol(circuit.OhmsUnit), is(circuit.OhmsComponent, 14.6),
			is(circuit.OhmsWinding, 14.5), word(circuit.RowApplies, circuit.Yes)}, look(circuit.Thermometer)},
		"a pin a volt too high": {cold, []circuit.Reading{is(circuit.VoltsReturn, 0.33), is(circuit.VoltsPinOn, 14.57),
			is(circuit.OhmsWinding, 10.7), is(circuit.VoltsHarnessOpen, 0)}, look(circuit.SupplyDriven)},
	} {
		d := Question{c.m, c.readings}.Judge()
		assert.Equal(t, c.wanted, d.Decision, "%s: surprise %.1f, other %.3f, worst %v", name, d.Surprise, d.chances[circuit.Other], d.Worst)
	}
}

// TestNothingIsNotSaidAgainstTheOdds checks that a circuit is not handed back as sound where that is next to impossible, however near
// the readings of a low winding may be to a healthy one's with a meter that shows tenths.
func TestNothingIsNotSaidAgainstTheOdds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		side             circuit.Side
		min, max, read   float64
		pinOff, unitFeed float64
	}{
		{circuit.Low, 0.8, 1.2, 0.4, 13.89, 13.6}, {circuit.Low, 0.8, 1.2, 0.5, 13.89, 13.6}, {circuit.High, 0.8, 1.2, 0.4, 0, 13.6},
		{circuit.High, 0.8, 1.2, 0.5, 0, 13.6}, {circuit.High, 1, 1.4, 0.6, 0, 13.6},
	} {
		m := circuit.New(c.side, circuit.Wire, 13.9, c.min, c.max)
		m.Warmth.Known = false
		readings := []circuit.Reading{is(circuit.OhmsComponent, c.read), word(circuit.RowApplies, circuit.Yes),
			is(circuit.VoltsPinOff, c.pinOff), is(circuit.VoltsUnitFeed, c.unitFeed)}
		d := Question{m, readings}.Diagnose()
		if d.Decision.Do == MakeRepair {
			assert.Equal(t, circuit.Component, d.Decision.Repair, "%+v", c)
		}
	}
	// As near, and shorted turns at nine in ten: not settled, rather than healthy at three in a hundred.
	m := circuit.New(circuit.Low, circuit.Wire, 13.8, 0.5, 0.9)
	m.Warmth.At, m.Stage, m.Code = 15, circuit.Plain, circuit.CodeHigh
	near := Question{m, []circuit.Reading{is(circuit.VoltsPinOn, 3.57), is(circuit.VoltsPinOff, 13.89), is(circuit.VoltsHarnessOpen, 0.01),
		word(circuit.Wiggle, circuit.Steady), is(circuit.VoltsUnitFeed, 13.76), word(circuit.RowApplies, circuit.Yes),
		{Test: circuit.InsulationHarness, Over: true}, is(circuit.OhmsComponent, 0.4),
		{Test: circuit.InsulationComponent, Over: true}}}.Diagnose()
	assert.Equal(t, TooDoubtful, near.Why, "%+v", near.Decision)
	assert.Greater(t, near.Repairs[0].P, 0.85)
	one := usual()[0]
	one.Weights = [circuit.Faults]float64{circuit.HarnessOpen: 1}
	d := Question{one, nil}.Diagnose()
	assert.Equal(t, circuit.MendHarness, d.Repair, "nothing else is possible: %+v", d.Decision)
	long := usual()[0]
	for k := range long.Minutes {
		long.Minutes[k] = 300
	}
	d = Question{long, nil}.Diagnose()
	assert.Equal(t, d.Repairs[0].Of, d.Repair, "every test costs more than being wrong: %+v", d.Decision)
}
