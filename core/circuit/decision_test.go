package circuit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
)

// likely returns the probabilities of faults and repairs, without looking ahead.
func likely(m *Model, readings []Reading) (p [Faults]float64, r [Repairs]float64) {
	w := newWeigher(m, readings)
	w.all()
	p = w.chances()
	return p, m.byRepair(p)
}

// first returns the likeliest repair.
func first(r [Repairs]float64) (best Repair) {
	for i, q := range r {
		if q > r[best] {
			best = Repair(i)
		}
	}
	return best
}

// TestNothingAtThePin checks that one 0 V at the pin, on a driver that is told to be on, never says "control unit" with more than 60 %:
// a protected driver into a shorted harness reads the same, and one that is not on.
func TestNothingAtThePin(t *testing.T) {
	worst := 0.0
	for _, m := range usual()[:2] {
		for code := range Code(Codes) {
			for stage := range Stage(Stages) {
				for _, volts := range [...]float64{0, 0.02, 0.1} {
					m.Code, m.Stage = code, stage
					_, r := likely(m, []Reading{is(VoltsPinOn, volts)})
					worst = max(worst, r[ControlUnit])
					assert.LessOrEqual(t, r[ControlUnit], 0.6, "%g V at the pin, code %v, stage %v", volts, code, stage)
				}
			}
		}
	}
	t.Logf("at most %.3f", worst)
}

// accusing are the tests that are made before the control unit is condemned, and those whose readings accuse it.
var accusing = []Test{VoltsLoad, VoltsUnitFeed, VoltsUnitGround, VoltsHarnessOpen, VoltsPinOn, VoltsPinOff, CurrentOn}

// someCase draws a circuit and readings of some of its tests in a world with a fault. In every second case the fault may be taken for the
// control unit's, and the tests are those that accuse it.
func someCase(r *rand.Rand, most int) (*Model, Fault, []Reading) {
	m := usual()[r.IntN(4)]
	m.Code, m.Present = Code(r.IntN(Codes)), Presence(r.IntN(Presences))
	m.Stage = Stage(r.IntN(Stages))
	m.Warmth.Known = !nowAndThen(r, 4)
	f := Fault(r.IntN(int(Other)))
	tests := possible(m)
	if nowAndThen(r, 2) {
		like := [...]Fault{DriverNever, DriverAlways, DriverWeak, DriverShorted, FeedOpen, FeedHigh, GroundOpen, GroundHigh, UnitPlugOpen,
			ComesGoesUnit, HarnessToBattery, HarnessToGround}
		f, tests, most = like[r.IntN(len(like))], slices.Clone(accusing), len(accusing)
	}
	w := anyWorld(r, m, f)
	r.Shuffle(len(tests), func(i, j int) { tests[i], tests[j] = tests[j], tests[i] })
	var list []Reading
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
	asked := map[Repair]int{}
	least := 1.0
	for range several(2000) {
		m, f, readings := someCase(r, 4)
		w := newWeigher(m, readings)
		w.all()
		p := w.chances()
		sum := 0.0
		for _, q := range p {
			sum += q
		}
		require.InDelta(t, 1, sum, 1e-9, written(readings))
		if len(readings) <= 2 {
			least = min(least, p[Other])
		}
		d := w.decided(Question{m, readings})
		if d.Decision.Do != MakeRepair {
			continue
		}
		asked[d.Decision.Repair]++
		switch d.Decision.Repair {
		case ControlUnit:
			eliminated(t, d, about(m, readings), f)
		case Component:
			lookedUp(t, d, m, readings)
		}
	}
	t.Logf("decided: %v; other is at least %.2g after at most two readings", asked, least)
	assert.Greater(t, least, 1e-6, "nothing is left for what is none of the faults")
	require.Greater(t, asked[ControlUnit], several(20))
	require.Greater(t, asked[Component], several(20))
}

// decided returns what is decided where no test is left to offer, so that nothing but the rules stands before a repair: then nothing is
// spent on looking ahead.
func (w *weigher) decided(q Question) *Diagnosis {
	p := w.chances()
	r := q.byRepair(p)
	d := &Diagnosis{Finding: Finding{Faults: ranked[Fault](p[:]), Repairs: ranked[Repair](r[:]), chances: p}}
	d.Cost, d.Repair = q.stop(&r)
	d.RepairP, d.Surprise, d.Worst, d.Coil = r[d.Repair], w.surprise(), w.worst(), w.coilNow()
	d.taken = q.latest(q.Readings)
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
func eliminated(t *testing.T, d *Diagnosis, what string, f Fault) {
	always := d.Likeliest.Of == DriverAlways || d.Likeliest.Of == DriverShorted
	direct := d.Made(VoltsLoad) || always && d.Made(VoltsHarnessOpen)
	if !d.Made(VoltsUnitFeed) || !d.Made(VoltsUnitGround) || !direct {
		t.Errorf("the control unit is condemned for %v (it is %v) without feed, ground or a direct reading: %s", d.Likeliest.Of, f, what)
	}
}

// lookedUp checks that a component is not condemned for its ohms before its row was looked at, if these may be another row's.
func lookedUp(t *testing.T, d *Diagnosis, m *Model, readings []Reading) {
	switch d.Likeliest.Of {
	case WindingShorted, WindingHigh, LeadHigh:
	default:
		return
	}
	ratio := 0.0
	for _, k := range readings {
		if k.Test == OhmsWinding || k.Test == OhmsComponent {
			ratio = k.Value / halfway(m)
		}
	}
	if ratio > 0.6 && ratio < 1.7 && !d.Made(RowApplies) {
		t.Errorf("the component is condemned at %.2f times its row without a look at the row: %s", ratio, about(m, readings))
	}
}

// follow makes the tests that the decisions ask for in a healthy circuit whose driver is fully on, until a repair is decided on. What is
// read in words is right.
func follow(r *rand.Rand, w *world, first Test) (d Diagnosis, readings []Reading) {
	const most = 14
	w.look(electrical(w.m.Side, w.m.Return))
	w.settle(fully, r.Float64)
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
	for i := range several(12) {
		m := usual()[i%4]
		m.Warmth.Known = false
		w := worldOf(m, None, 0, 0, r.Float64(), false, r.Float64)
		w.coil *= (120 + 234.5) / (w.at + 234.5)
		w.at = 120
		d, readings := follow(r, w, OhmsComponent)
		wrong := d.Decision.Do == MakeRepair && d.Decision.Repair == Component
		assert.False(t, wrong, "a healthy part is condemned at 120 degC, %v %.3f: %s", d.Likeliest.Of, d.RepairP,
			written(readings))
	}
}

// TestSupplyTypedTooHigh checks that a supply that is 0.3 V lower than typed never makes a bad harness.
func TestSupplyTypedTooHigh(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(33, 26))
	for i := range several(12) {
		m := usual()[i%4]
		w := worldOf(m, None, 0, 0, r.Float64(), false, r.Float64)
		w.true.Supply = m.Supply - 0.3
		d, readings := follow(r, w, [...]Test{VoltsPinOn, CurrentOn, VoltsUnitFeed}[r.IntN(3)])
		wrong := d.Decision.Do == MakeRepair && d.Decision.Repair == MendHarness
		assert.False(t, wrong, "the harness is condemned, %v %.3f: %s", d.Likeliest.Of, d.RepairP, written(readings))
	}
}

// TestSupplyLookedAt checks that readings which agree with a supply that is lower than typed, after it was measured, leave a healthy
// circuit not much less likely than if the supply had been typed right.
func TestSupplyLookedAt(t *testing.T) {
	for _, m := range usual() {
		right := *m
		right.Supply = m.Supply - 0.3
		for _, others := range [][]Test{{VoltsUnitFeed}, {VoltsPinOff}, {VoltsUnitFeed, VoltsPinOff}, {VoltsPinOn, VoltsUnitFeed, VoltsPinOff}} {
			readings := []Reading{shown(&right, SupplyDriven, None, 0, halfway(m))}
			for _, k := range others {
				readings = append(readings, shown(&right, k, None, 0, halfway(m)))
			}
			want, _ := likely(&right, readings)
			got, _ := likely(m, readings)
			assert.Greater(t, got[None], want[None]/3, "typed %g V: %s", m.Supply, written(readings))
		}
	}
}

// TestPreviewsHold checks that values inside a range that the next test's card names lead to the repair that it names, as the
// meter shows it.
func TestPreviewsHold(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(34, 26))
	points, states, wrong := 0, 0, 0
	for range several(75) {
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
						t.Errorf("%s, named as %v at %.3g to %.3g, is %v %.3f (%v %.3f); it is %v: %s", written([]Reading{k}), o.Repair, o.From,
							o.To, best, repairs[best], o.Repair, repairs[o.Repair], f, about(m, readings))
					}
				}
				if o.Over || o.Word != NoWord {
					break
				}
			}
		}
	}
	t.Logf("%d points in %d states, %d wrong", points, states, wrong)
	// Where two repairs are nearly as likely the pieces of what is in doubt, which differ before and after, can decide.
	assert.LessOrEqual(t, wrong, points/100)
	require.Greater(t, points, several(300))
}

// inside draws a reading inside an outcome's range, as the meter would show it.
func inside(r *rand.Rand, m *Model, t Test, o Outcome) Reading {
	switch {
	case o.Over:
		return ol(t)
	case o.Word != NoWord:
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
	if t.Quantity() <= Amperes {
		if step := m.Step(t, v); step > 0 && math.Round(v/step)*step >= from && math.Round(v/step)*step <= o.To {
			v = math.Round(v/step) * step
		}
	}
	return is(t, v)
}

// TestTypedTwice checks that a thermometer's reading stands for the temperature that is typed for all readings.
func TestTypedTwice(t *testing.T) {
	for _, m := range usual() {
		readings := []Reading{is(OhmsComponent, halfway(m)*1.25), is(CurrentOn, m.Supply/halfway(m)/1.3)}
		typed := *m
		typed.Warmth = Warmth{true, 85, quantity.TemperatureDifference(thermometerWithin)}
		m.Warmth.Known = false
		want, _ := likely(&typed, readings)
		got, _ := likely(m, append(readings, is(Thermometer, 85)))
		assert.InDeltaSlice(t, want[:], got[:], 1e-9)
	}
}

// TestRestsOnOne checks that a repair which one reading alone speaks for is said to rest on it, whether that reading is a number or OL;
// and not where a second one says the same. Without the reading, the probabilities are those of the others.
func TestRestsOnOne(t *testing.T) {
	m := usual()[0]
	for _, c := range []struct {
		readings []Reading
		on       Test
		alone    bool
	}{
		{[]Reading{ol(OhmsHarness)}, OhmsHarness, true},
		{[]Reading{is(OhmsHarness, 40)}, OhmsHarness, true},
		{[]Reading{ol(OhmsHarness), is(OhmsComponent, 5.4)}, OhmsHarness, true},
		{[]Reading{ol(OhmsHarness), ol(OhmsUnit), is(VoltsReturn, 0), is(OhmsComponent, 5.4)}, 0, false},
		{[]Reading{is(OhmsHarness, 40), is(OhmsUnit, 45.8), is(VoltsReturn, 0.02), is(OhmsComponent, 5.4)}, 0, false},
		{[]Reading{is(InsulationHarness, 0.4), is(OhmsComponent, 5.4)}, InsulationHarness, true},
	} {
		f := m.Find(c.readings)
		assert.Equal(t, c.alone, f.Alone, "%s: %v %.3f", written(c.readings), f.Repair, f.RepairP)
		if c.alone && f.Alone {
			assert.Equal(t, c.on, f.On, written(c.readings))
		}
		w := newWeigher(m, c.readings)
		w.all()
		for k, reading := range w.readings {
			rest := slices.DeleteFunc(slices.Clone(c.readings), func(o Reading) bool { return o.Test == reading.Test })
			_, want := likely(m, rest)
			for r := range want {
				assert.InDelta(t, want[r], w.leaving(k, Repair(r)), 0.06, "%v without %s of %s", Repair(r), written([]Reading{reading}),
					written(c.readings))
			}
		}
	}
}
