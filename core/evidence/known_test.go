package evidence

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/circuit"
)

// TestNothingAtThePin checks that one 0 V at the pin, on a driver that is told to be on, never says "control unit" with more than 60 %:
// a protected driver into a shorted harness reads the same, and one that is not on.
func TestNothingAtThePin(t *testing.T) {
	worst := 0.0
	for _, m := range usual()[:2] {
		for code := range circuit.Code(circuit.Codes) {
			for stage := range circuit.Stage(circuit.Stages) {
				for _, volts := range [...]float64{0, 0.02, 0.1} {
					m.Code, m.Stage = code, stage
					_, r := likely(m, []circuit.Reading{is(circuit.VoltsPinOn, volts)})
					worst = max(worst, r[circuit.ControlUnit])
					assert.LessOrEqual(t, r[circuit.ControlUnit], 0.6, "%g V at the pin, code %v, stage %v", volts, code, stage)
				}
			}
		}
	}
	t.Logf("at most %.3f", worst)
}

// TestSupplyLookedAt checks that readings which agree with a supply that is lower than typed, after it was measured, leave a healthy
// circuit likely. What is read while the driver is off still counts 0.3 V off: the supply then was not looked at.
func TestSupplyLookedAt(t *testing.T) {
	for _, m := range usual() {
		right := *m
		right.Supply = m.Supply - 0.3
		for _, others := range [][]circuit.Test{{circuit.VoltsUnitFeed}, {circuit.VoltsPinOff}, {circuit.VoltsUnitFeed, circuit.VoltsPinOff},
			{circuit.VoltsPinOn, circuit.VoltsUnitFeed, circuit.VoltsPinOff}} {
			readings := []circuit.Reading{shown(&right, circuit.SupplyDriven, circuit.None, 0, halfway(m))}
			for _, k := range others {
				readings = append(readings, shown(&right, k, circuit.None, 0, halfway(m)))
			}
			want, _ := likely(&right, readings)
			got, _ := likely(m, readings)
			assert.Greater(t, got[circuit.None], want[circuit.None]/2.5, "typed %g V: %s", m.Supply, written(readings))
		}
	}
}

// TestTypedTwice checks that a thermometer's reading stands for the temperature that is typed for all readings.
func TestTypedTwice(t *testing.T) {
	for _, m := range usual() {
		readings := []circuit.Reading{is(circuit.OhmsComponent, halfway(m)*1.25), is(circuit.CurrentOn, m.Supply/halfway(m)/1.3)}
		typed := *m
		typed.Warmth = circuit.Warmth{Known: true, At: 85, Within: thermometerWithin}
		m.Warmth.Known = false
		want, _ := likely(&typed, readings)
		got, _ := likely(m, append(readings, is(circuit.Thermometer, 85)))
		assert.InDeltaSlice(t, want[:], got[:], 1e-9)
	}
}

// TestRestsOnOne checks that a repair which one reading alone speaks for is said to rest on it, whether that reading is a number or OL;
// and not where a second one says the same. Without the reading, the probabilities are those of the others.
func TestRestsOnOne(t *testing.T) {
	m := usual()[0]
	for _, c := range []struct {
		readings []circuit.Reading
		on       circuit.Test
		alone    bool
	}{
		{[]circuit.Reading{ol(circuit.OhmsHarness)}, circuit.OhmsHarness, true},
		{[]circuit.Reading{is(circuit.OhmsHarness, 40)}, circuit.OhmsHarness, true},
		{[]circuit.Reading{ol(circuit.OhmsHarness), is(circuit.OhmsComponent, 5.4)}, circuit.OhmsHarness, true},
		{[]circuit.Reading{ol(circuit.OhmsHarness), ol(circuit.OhmsUnit), is(circuit.VoltsReturn, 0), is(circuit.OhmsComponent, 5.4)}, 0, false},
		{[]circuit.Reading{is(circuit.OhmsHarness, 40), is(circuit.OhmsUnit, 45.8), is(circuit.VoltsReturn, 0.02),
			is(circuit.OhmsComponent, 5.4)}, 0, false},
		{[]circuit.Reading{is(circuit.InsulationHarness, 0.4), is(circuit.OhmsComponent, 5.4)}, circuit.InsulationHarness, true},
	} {
		w := Weigh(m, c.readings)
		repairs := w.Repairs()
		best := first(repairs)
		on, alone := w.Alone(best, repairs[best])
		assert.Equal(t, c.alone, alone, "%s: %v %.3f", written(c.readings), best, repairs[best])
		if c.alone && alone {
			assert.Equal(t, c.on, on, written(c.readings))
		}
		for k, reading := range w.readings {
			rest := slices.DeleteFunc(slices.Clone(c.readings), func(o circuit.Reading) bool { return o.Test == reading.Test })
			_, want := likely(m, rest)
			for r := range want {
				assert.InDelta(t, want[r], w.leaving(k, circuit.Repair(r)), 0.06, "%v without %s of %s", circuit.Repair(r),
					written([]circuit.Reading{reading}),
					written(c.readings))
			}
		}
	}
}

// TestFarReadings checks that a reading which is hopelessly far from every guess leaves the rest as it is: the probabilities with it
// are those of a reading that is simply wrong, whatever its value.
func TestFarReadings(t *testing.T) {
	for _, m := range []*circuit.Model{usual()[0], usual()[2]} {
		for _, k := range []circuit.Test{circuit.OhmsWinding, circuit.OhmsComponent, circuit.VoltsPinOn, circuit.VoltsUnitFeed,
			circuit.CurrentOn} {
			want, _ := likely(m, []circuit.Reading{is(circuit.VoltsReturn, 0.05), is(k, 3e5)})
			for _, far := range []float64{2e7, 1e9} {
				got, _ := likely(m, []circuit.Reading{is(circuit.VoltsReturn, 0.05), is(k, far)})
				for f := range got {
					if !(math.Abs(got[f]-want[f]) < 0.02) {
						assert.Fail(t, "a far reading weighs", "%v = %g, spec %g to %g: p(%v) is %v, at 3e5 %v", k, far, m.Row.Min,
							m.Row.Max, circuit.Fault(f), got[f], want[f])
						break
					}
				}
			}
		}
	}
}

// TestLoadAlone checks that what happens in the circuit counts though a load test, made without it, is the only reading: a driver that
// protects itself has tripped into a dead short, and a control unit with a little resistance in its feed still works.
func TestLoadAlone(t *testing.T) {
	m := circuit.New(circuit.High, circuit.Wire, 12.6, 5, 5.6)
	m.Stage, m.Weights = circuit.Protected, [circuit.Faults]float64{circuit.HarnessToGround: 1}
	m.Limits[circuit.HarnessToGround] = [2]float64{0.05, 0.1}
	held := Weigh(m, []circuit.Reading{is(circuit.VoltsLoad, 12.4)}).Held()
	assert.Greater(t, held, 0.99, "one that tries again is off for most of the time")

	m = circuit.New(circuit.High, circuit.Wire, 12.6, 5, 5.6)
	m.Stage, m.Weights = circuit.Plain, [circuit.Faults]float64{circuit.FeedHigh: 1, circuit.DriverNever: 1}
	m.Limits[circuit.FeedHigh] = [2]float64{0.5, 1}
	faults := Weigh(m, []circuit.Reading{is(circuit.VoltsLoad, 0)}).Chances()
	assert.Greater(t, faults[circuit.DriverNever], 0.95, "a volt or two less in the feed do not keep the driver off")
}
