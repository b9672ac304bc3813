package trace_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/recording"
	"ohmwright/core/trace"
)

// The loop of these tests: 13.8 V, 7.066 ohm and 10.5 mH, so 1.953 A and 1.486 ms.
const (
	loopSupply, loopOhms, loopHenries = 13.8, 7.066, 10.5e-3
	loopFinal                         = loopSupply / loopOhms
)

// A circuit is the loop with a driver: L·di/dt = v − R·i − i·dL/dt. The inductance depends on the time, since the plunger
// moves, and on the current, since iron saturates. It is solved by implicit steps of a fortieth of a sample. Functions
// that are nil are as usual. When the driver is off, the current flows through a diode of 0.7 V.
type circuit struct {
	supply          func(t float64) (volts float64, on bool)
	ohms            func(t float64) float64
	henries         func(t, i float64) float64
	initial, most   float64 // most: limit of the driver; 0: no limit
	offset, noise   float64
	from, to, hertz float64
	seed            int64
}

func (c circuit) find(e trace.Expect) trace.Finding { return trace.Find(c.record(), e) }

func (c circuit) record() (r recording.Samples) {
	if c.hertz == 0 {
		c.hertz = 10e3
	}
	if c.noise == 0 {
		c.noise = 4e-3
	}
	if c.supply == nil {
		c.supply = func(t float64) (float64, bool) { return loopSupply, t >= 0 }
	}
	if c.ohms == nil {
		c.ohms = func(float64) float64 { return loopOhms }
	}
	if c.henries == nil {
		c.henries = func(float64, float64) float64 { return loopHenries }
	}
	const parts = 40
	rnd, i, h := rand.New(rand.NewSource(c.seed+1)), c.initial, 1/c.hertz/parts
	r.Interval = 1 / c.hertz
	for k := range int(math.Round((c.to-c.from)*c.hertz)) + 1 {
		t := c.from + float64(k)/c.hertz
		r.T = append(r.T, t)
		r.I = append(r.I, math.Round((i+c.offset+c.noise*rnd.NormFloat64())*1e3)/1e3)
		for range parts {
			t += h
			volts, on := c.supply(t)
			if !on {
				volts = -0.7
			}
			l := c.henries(t, i)
			grows := l - c.henries(t-h, i) // because the plunger moves
			if i = (i + h*volts/l) / (1 + (h*c.ohms(t)+grows)/l); i < 0 && volts <= 0 {
				i = 0
			}
			if c.most > 0 {
				i = min(i, c.most)
			}
		}
	}
	return r
}

// within reports whether a time is in one of the stretches, in ms.
func within(t float64, stretches ...[2]float64) bool {
	for _, s := range stretches {
		if t*1e3 > s[0] && t*1e3 < s[1] {
			return true
		}
	}
	return false
}

// smooth returns a value that goes smoothly from 0 to 1 between two times in ms.
func smooth(t, from, to float64) float64 {
	u := min(1, max(0, (t*1e3-from)/(to-from)))
	return u * u * (3 - 2*u)
}

func steady(float64) (float64, bool) { return loopSupply, true }
func off(float64) (float64, bool)    { return 0, false }

func TestNoiseIsNoStep(t *testing.T) {
	for seed := range int64(12) {
		for name, c := range map[string]circuit{
			"no current":       {supply: off, noise: 10e-3, to: 45e-3},
			"direct current":   {supply: steady, initial: loopFinal, to: 45e-3},
			"long and noisy":   {supply: steady, initial: loopFinal, noise: 20e-3, to: 200e-3},
			"noisy switch-on":  {noise: 30e-3, from: -5e-3, to: 100e-3},
			"very noisy still": {noise: 0.1, from: -5e-3, to: 45e-3},
		} {
			c.seed = seed
			f := c.find(trace.Expect{Supply: loopSupply})
			finite(t, f)
			assert.Empty(t, f.Steps, "%s, seed %d", name, seed)
		}
		c := circuit{noise: 20e-3, from: -5e-3, to: 60e-3, seed: seed, ohms: withContact(2000-loopOhms, [2]float64{30, 33})}
		assert.Len(t, c.find(trace.Expect{Supply: loopSupply}).Steps, 1, "a break in noise, seed %d", seed)
	}
}

// withContact returns the loop's resistance, with more of it during the stretches.
func withContact(more float64, stretches ...[2]float64) func(t float64) float64 {
	return func(t float64) float64 {
		if within(t, stretches...) {
			return loopOhms + more
		}
		return loopOhms
	}
}

// withBreaks returns a supply that is switched on at 0 and low during the stretches; 0 means switched off.
func withBreaks(low float64, stretches ...[2]float64) func(t float64) (float64, bool) {
	return func(t float64) (float64, bool) {
		if within(t, stretches...) {
			return low, low > 0
		}
		return loopSupply, t >= 0
	}
}

// TestDisturbed checks that disturbances of a settled current are never taken for a plunger, however it falls and comes back.
func TestDisturbed(t *testing.T) {
	contact := func(more float64, stretches ...[2]float64) circuit {
		return circuit{ohms: withContact(more, stretches...)}
	}
	driven := func(low float64, stretches ...[2]float64) circuit {
		return circuit{supply: withBreaks(low, stretches...)}
	}
	for _, c := range []struct {
		name      string
		c         circuit
		from      []float64 // ms
		least     []float64 // A
		recovered bool
	}{
		{"nothing", circuit{}, nil, nil, false},
		{"6 ohm for 3 ms", contact(6, [2]float64{25, 28}), []float64{25}, []float64{1.08}, true},
		{"20 ohm for 1 ms", contact(20, [2]float64{25, 26}), []float64{25}, []float64{0.62}, true},
		{"3 ohm for 10 ms", contact(3, [2]float64{20, 30}), []float64{20}, []float64{1.371}, true},
		{"2 ohm from then on", contact(2, [2]float64{30, 1e3}), []float64{30}, []float64{1.522}, false},
		{"broken off twice", contact(2000, [2]float64{20, 23}, [2]float64{35, 36}), []float64{20, 35}, []float64{0, 0}, true},
		{"driver off for 3, 1 and 1 ms", driven(0, [2]float64{20, 23}, [2]float64{35, 36}, [2]float64{48, 49}),
			[]float64{20, 35, 48}, []float64{0.18, 0.99, 0.99}, true},
		{"supply falls for 5 ms", driven(10.5, [2]float64{20, 25}), []float64{20}, []float64{1.502}, true},
	} {
		for seed := range int64(3) {
			c.c.seed, c.c.from, c.c.to = seed, -5e-3, 60e-3
			f := c.c.find(trace.Expect{Supply: loopSupply, Moves: true})
			finite(t, f)
			require.NotNil(t, f.Fit, c.name)
			assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.01, c.name)
			assert.InEpsilon(t, loopHenries, f.Fit.Inductance, 0.03, c.name)
			assert.Equal(t, trace.No, f.Dip.Found, "%s: %+v", c.name, f.Dip)
			require.Len(t, f.Steps, len(c.from), "%s: %+v", c.name, f.Steps)
			for k, s := range f.Steps {
				assert.InDelta(t, c.from[k]*1e-3, s.At, 3e-4, c.name)
				assert.InDelta(t, c.least[k]-loopFinal, s.Change, 0.05, c.name)
				assert.Equal(t, c.recovered, s.Recovers, c.name)
			}
		}
	}
}

// TestSwitchedOff checks a break: during the rise it is listed as a step, because it is deeper than the dip of a plunger;
// a long one, or one at the end of the recording, is not listed.
func TestSwitchedOff(t *testing.T) {
	off := func(from, to float64) func(t float64) (float64, bool) {
		return func(t float64) (float64, bool) { return loopSupply, t >= 0 && !within(t, [2]float64{from, to}) }
	}
	e := trace.Expect{Supply: loopSupply}
	f := circuit{from: -5e-3, to: 40e-3, hertz: 20e3, supply: off(3, 4.5)}.find(e)
	assert.NotEmpty(t, f.Steps)
	assert.Equal(t, trace.CannotShow, f.Dip.Found, "%+v", f.Dip)
	c := circuit{from: -5e-3, to: 90e-3, supply: off(30, 60)}
	assert.Empty(t, c.find(e).Steps)
	c.to = 31e-3
	assert.Empty(t, c.find(e).Steps, "ends just after switch-off")
}

// TestLost checks that a current that falls and stays low, but above nothing, is a step, though it had hardly settled before; what goes to
// nothing is a switch-off, by way of a plunger that drops or of iron that lets go slowly, or with a clamp that nobody zeroed.
func TestLost(t *testing.T) {
	e := trace.Expect{Supply: loopSupply, Resistance: loopOhms, ResistanceWithin: 0.1}
	for seed := range int64(3) {
		for _, more := range []float64{0.7, 1.5, 4, 7.066, 12, 30, 80} {
			for _, at := range []float64{10, 14, 25} {
				c := circuit{from: -4e-3, to: 36e-3, hertz: 5e3, noise: 3e-3, seed: seed, ohms: withContact(more, [2]float64{at, 1e3})}
				f := c.find(e)
				name := fmt.Sprintf("%v ohm more at %v ms, seed %d", more, at, seed)
				require.Len(t, f.Steps, 1, name)
				assert.InDelta(t, at*1e-3, f.Steps[0].At, 0.7e-3, name)
				assert.InDelta(t, loopSupply/(loopOhms+more)-loopFinal, f.Steps[0].Change, 0.05, name)
				assert.False(t, f.Steps[0].Recovers, name)
				require.NotNil(t, f.Fit, name)
				assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.01, name)
			}
		}
		until := func(ms float64) func(t float64) (float64, bool) {
			return func(t float64) (float64, bool) { return loopSupply, t >= 0 && t < ms/1e3 }
		}
		drops := func(from, to float64) func(t, i float64) float64 {
			return moving([3]float64{2, 4, 0.5}, [3]float64{from, to, -0.5})
		}
		for name, c := range map[string]circuit{
			"the plunger drops":        {from: -5e-3, to: 60e-3, supply: until(20), henries: drops(21, 24)},
			"the plunger drops slowly": {from: -5e-3, to: 60e-3, supply: until(20), henries: drops(21, 30)},
			"the plunger drops early":  {from: -5e-3, to: 60e-3, supply: until(12), henries: drops(12.5, 15)},
			"a clamp not zeroed":       {to: 60e-3, supply: until(20), offset: 0.3},
			"zeroed wrongly":           {from: -5e-3, to: 60e-3, supply: until(20), offset: 0.3},
			"noise":                    {from: -5e-3, to: 60e-3, supply: until(20), noise: 40e-3},
		} {
			for _, to := range []float64{22, 23, 24, 26, 28, 32, 60} {
				c.seed, c.to = seed, to*1e-3
				assert.Empty(t, c.find(e).Steps, "%s, until %v ms, seed %d", name, to, seed)
			}
		}
		r := circuit{from: -5e-3, to: 60e-3, supply: until(20), seed: seed}.record()
		for k, at := range r.T { // a twentieth goes ten times as slowly
			if at > 20e-3 {
				r.I[k] += 0.05 * loopFinal * (math.Exp(-(at-20e-3)/15e-3) - math.Exp(-(at-20e-3)/1.5e-3))
			}
		}
		assert.Empty(t, trace.Find(r, e).Steps, "iron that lets go slowly, seed %d", seed)
	}
}

// moving returns the inductance while a plunger moves: each stretch, in ms, adds a share of the inductance at rest.
func moving(stretches ...[3]float64) func(t, i float64) float64 {
	return func(t, _ float64) float64 {
		share := 1.0
		for _, s := range stretches {
			share += s[2] * smooth(t, s[0], s[1])
		}
		return share * loopHenries
	}
}

func TestMotions(t *testing.T) {
	e := trace.Expect{Supply: loopSupply, Moves: true}
	// A recording that ends before the plunger moves does not show whether it moves.
	late := moving([3]float64{4, 6, 0.5})
	f := circuit{henries: late, from: -5e-3, to: 3.2e-3, hertz: 20e3}.find(e)
	assert.Equal(t, trace.CannotShow, f.Dip.Found)
	assert.Equal(t, trace.TooShort, f.Dip.Why)
	assert.Empty(t, f.Differences)
	f = circuit{henries: late, from: -5e-3, to: 20e-3, hertz: 20e3}.find(e)
	assert.Equal(t, trace.Yes, f.Dip.Found)
	for seed := range int64(4) {
		// The plunger bounces: the current falls from 1.495 to 1.379 A, then from 1.803 to 1.662 A, which is deeper.
		bounces := moving([3]float64{2, 4, 0.5}, [3]float64{4, 4.8, -0.2}, [3]float64{5, 6, 0.2})
		f = circuit{henries: bounces, from: -5e-3, to: 30e-3, hertz: 20e3, seed: seed}.find(e)
		finite(t, f)
		assert.Equal(t, trace.Yes, f.Dip.Found)
		assert.InDelta(t, 5.88e-3, f.Dip.At, 2e-4)
		assert.InDelta(t, 1.803-1.662, f.Dip.Depth, 0.02)
		require.NotNil(t, f.Fit)
		assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.01)
		// The plunger moves so slowly that the current almost settles before it arrives.
		for _, end := range []float64{15, 30} {
			f = circuit{henries: moving([3]float64{2, end, 0.6}), from: -5e-3, to: 60e-3, seed: seed}.find(e)
			finite(t, f)
			assert.Empty(t, f.Steps, "to %v ms: %+v", end, f.Steps)
			assert.NotEqual(t, trace.No, f.Dip.Found)
			if f.Fit != nil {
				assert.InDelta(t, 0, f.Fit.Start, 2e-4, "to %v ms, seed %d", end, seed)
				assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.01)
				assert.LessOrEqual(t, f.Fit.AtStopU, 0.31*f.Fit.AtStop)
				assert.LessOrEqual(t, f.Fit.AtRestU, 0.31*f.Fit.AtRest)
			}
		}
		// The plunger moves twice, the second time before the current has settled after the first.
		f = circuit{henries: moving([3]float64{2, 4, 0.4}, [3]float64{12, 14, 0.4}), from: -5e-3, to: 60e-3, hertz: 20e3, seed: seed}.find(e)
		assert.Equal(t, trace.Yes, f.Dip.Found)
		assert.Empty(t, f.Steps)
		// The supply sags: the current falls and stays low. That is no motion, and no value can be given.
		sags := func(t float64) (float64, bool) { return loopSupply - 1.5*(1-math.Exp(-t/4e-3)), t >= 0 }
		f = circuit{supply: sags, from: -5e-3, to: 40e-3, seed: seed}.find(e)
		finite(t, f)
		assert.Equal(t, trace.Dip{Why: trace.OtherShape}, f.Dip)
		assert.Equal(t, trace.OtherShape, f.Why)
		assert.Nil(t, f.Fit)
	}
}

// expected is the loop without a fault.
var expected = trace.Expect{Supply: loopSupply, Resistance: loopOhms, ResistanceWithin: 0.1, Inductance: loopHenries, InductanceWithin: 0.3}

// TestResistanceAlone checks that a bad contact changes the time constant, but not the inductance.
func TestResistanceAlone(t *testing.T) {
	for ohms, want := range map[float64]trace.DifferenceKind{loopOhms + 7: trace.ResistanceHigh, 0.7 * loopOhms: trace.ResistanceLow} {
		c := circuit{from: -5e-3, to: 40e-3, ohms: func(float64) float64 { return ohms }}
		e := expected
		e.TimeConstant, e.TimeConstantWithin = loopHenries/loopOhms, 0.3
		f := c.find(e)
		require.Len(t, f.Differences, 1)
		assert.Equal(t, want, f.Differences[0].Kind)
		assert.InEpsilon(t, ohms, f.Differences[0].Got, 0.01)
	}
	// Shorted turns lower the inductance.
	c := circuit{from: -5e-3, to: 40e-3, henries: func(float64, float64) float64 { return 0.5 * loopHenries }}
	f := c.find(expected)
	require.Len(t, f.Differences, 1)
	assert.Equal(t, trace.InductanceLow, f.Differences[0].Kind)
	// If only the seated plunger is seen, its inductance is not compared with the expected one, which is for the plunger at
	// rest. Here it moves too early to be seen at rest.
	c = circuit{from: -5e-3, to: 40e-3, henries: moving([3]float64{0.1, 3, 1})}
	f = c.find(expected)
	require.NotNil(t, f.Fit)
	require.True(t, f.Fit.Seated)
	assert.Empty(t, f.Differences)
}

func TestOffset(t *testing.T) {
	want := circuit{from: -5e-3, to: 40e-3}.find(trace.Expect{Supply: loopSupply})
	require.NotNil(t, want.Fit)
	assert.Zero(t, want.Offset)
	assert.True(t, want.Fit.OffsetKnown)
	for _, off := range []float64{0.2, -0.3, 0.5, 0.05, -0.9} {
		f := circuit{from: -5e-3, to: 40e-3, offset: off}.find(trace.Expect{Supply: loopSupply, Resistance: loopOhms, ResistanceWithin: 0.05})
		finite(t, f)
		require.NotNil(t, f.Fit, "%v", off)
		assert.InDelta(t, off, f.Offset, 2e-3)
		assert.True(t, f.Fit.OffsetKnown, "%v", off)
		assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.01, "%v", off)
		for name, pair := range map[string][2]float64{
			"average": {want.Average, f.Average}, "rms": {want.RMS, f.RMS}, "max": {want.Max, f.Max}, "min": {want.Min, f.Min},
			"point": {want.Points[40].I, f.Points[40].I}, "model": {want.Model[60].I, f.Model[60].I},
		} {
			assert.InDelta(t, pair[0], pair[1], 4e-3, "%s at %v", name, off)
		}
		assert.Empty(t, f.Differences)
	}
	// Without samples before switch-on the offset cannot be known.
	f := circuit{to: 40e-3, offset: 0.2}.find(trace.Expect{Supply: loopSupply})
	require.NotNil(t, f.Fit)
	assert.Zero(t, f.Offset)
	assert.False(t, f.Fit.OffsetKnown)
	// A current of more than half of the final one is no offset.
	f = circuit{from: -5e-3, to: 40e-3, offset: 1.4}.find(trace.Expect{Supply: loopSupply})
	assert.Zero(t, f.Offset)
}

// TestLeftOver checks that what is left of the current between pulses, nearly level at the end, is not taken off as the clamp's zero error:
// only a recording that shows the loop before the first pulse, or long after one, knows that.
func TestLeftOver(t *testing.T) {
	for seed := range int64(3) {
		for _, hertz := range []float64{100, 120, 150, 180, 200} {
			for _, begins := range []float64{0, 0.3, 0.55, 0.8, 0.9, 0.97} { // of a period that is on at first
				pulses := func(t float64) (float64, bool) { return loopSupply, math.Mod(t, 1/hertz) < 0.5/hertz }
				c := circuit{from: (10 + begins) / hertz, to: 20 / hertz, hertz: 20e3, seed: seed, supply: pulses}
				before := c
				before.from = 0
				steady := before.record()
				c.initial = steady.I[int(c.from*c.hertz)]
				f := c.find(expected)
				name := fmt.Sprintf("%v Hz from %v, seed %d: %+v", hertz, begins, seed, f.Fit)
				require.NotNil(t, f.Fit, name)
				assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.015, name)
				assert.False(t, f.Fit.OffsetKnown, name)
				assert.Empty(t, f.Differences, name)
			}
			f := circuit{from: -5e-3, to: 10 / hertz, hertz: 20e3, seed: seed, supply: func(t float64) (float64, bool) {
				return loopSupply, t > 0 && math.Mod(t, 1/hertz) < 0.5/hertz
			}}.find(expected)
			require.NotNil(t, f.Fit)
			assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.015, "%v Hz", hertz)
			if hertz >= 150 { // less is left between slower pulses than the recording shows
				assert.True(t, f.Fit.OffsetKnown, "%v Hz", hertz)
			}
		}
	}
	// A single shot after another one: the first is hardly over, or long.
	for pause, known := range map[float64]bool{4: false, 25: true} {
		f := circuit{from: 0, initial: loopFinal, to: 60e-3, supply: func(t float64) (float64, bool) {
			return loopSupply, t < 8e-3 || t > 8e-3+pause/1e3
		}}.find(expected)
		require.NotNil(t, f.Fit, "%v ms", pause)
		assert.Equal(t, known, f.Fit.OffsetKnown, "%v ms", pause)
		assert.Zero(t, f.Offset)
		assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.01, "%v ms", pause)
	}
}

// TestBuildUp checks that the first pulses of a quick drive, each higher than the one before, are no steps, and no duty or resistance is
// made of them; a pulse that is missing is a step still.
func TestBuildUp(t *testing.T) {
	for seed := range int64(4) {
		for _, hertz := range []float64{1000, 1500, 2000} {
			for _, duty := range []float64{0.3, 0.4, 0.5} {
				for _, periods := range []float64{4, 5, 6, 8, 10, 20} {
					pulses := func(t float64) (float64, bool) { return loopSupply, t > 0 && math.Mod(t, 1/hertz) < duty/hertz }
					c := circuit{from: -1 / hertz, to: periods / hertz, hertz: 100 * hertz, noise: 3e-3, seed: seed, supply: pulses}
					f := c.find(expected)
					name := fmt.Sprintf("%v Hz, duty %v, %v periods, seed %d", hertz, duty, periods, seed)
					assert.Empty(t, f.Steps, name)
					assert.Empty(t, f.Differences, name)
					if f.Duty > 0 {
						assert.InDelta(t, duty, f.Duty, 0.05, name) // of a few noisy periods; one case is off by 0.046
					}
				}
			}
			c := circuit{from: -1 / hertz, to: 24 / hertz, hertz: 100 * hertz, noise: 3e-3, seed: seed}
			c.supply = func(t float64) (float64, bool) {
				return loopSupply, t > 0 && math.Mod(t, 1/hertz) < 0.4/hertz && int(t*hertz) != 15
			}
			assert.NotEmpty(t, c.find(expected).Steps, "a pulse is missing, %v Hz, seed %d", hertz, seed)
		}
	}
}

// TestLimited checks that no resistance is given if the driver limits the current.
func TestLimited(t *testing.T) {
	e := expected
	e.Moves = true
	for seed := range int64(4) {
		for _, most := range []float64{0.8, 1, 1.3} {
			f := circuit{from: -5e-3, to: 40e-3, most: most, hertz: 20e3, seed: seed}.find(e)
			finite(t, f)
			assert.Nil(t, f.Fit, "%v A", most)
			assert.Equal(t, trace.Limited, f.Why, "%v A", most)
			assert.Equal(t, trace.Dip{Why: trace.Limited}, f.Dip)
			assert.Empty(t, f.Differences)
			assert.Empty(t, f.Steps)
		}
		f := circuit{from: -5e-3, to: 40e-3, most: 1, seed: seed}.find(e)
		assert.Equal(t, trace.Limited, f.Why, "ten samples of rise")
		// These rises are neither clean, nor a plunger's, nor those of saturated iron.
		for name, henries := range map[string]func(t, i float64) float64{
			"clean": nil, "a plunger": moving([3]float64{2, 4, 0.5}), "a slow one": moving([3]float64{1.5, 8, 0.8}),
			"saturated": func(_, i float64) float64 { return loopHenries * (0.35 + 0.65/(1+math.Pow(i, 6))) },
			"sharply":   func(_, i float64) float64 { return loopHenries * (0.2 + 0.8/(1+math.Pow(i/1.4, 8))) },
		} {
			for _, hertz := range []float64{5e3, 10e3, 20e3, 50e3} {
				f := circuit{from: -5e-3, to: 40e-3, henries: henries, hertz: hertz, seed: seed}.find(e)
				finite(t, f)
				assert.NotEqual(t, trace.Limited, f.Why, "%s at %v Hz", name, hertz)
				if f.Fit != nil {
					assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.03, "%s at %v Hz", name, hertz)
				}
				for _, d := range f.Differences {
					assert.Equal(t, trace.DipMissing, d.Kind, "%s at %v Hz: %+v", name, hertz, f.Fit)
				}
			}
		}
	}
}

func TestDisturbedPulses(t *testing.T) {
	pulses := func(duty func(t float64) float64) func(t float64) (float64, bool) {
		return func(t float64) (float64, bool) { return loopSupply, t >= 0 && math.Mod(t*300, 1) < duty(t) }
	}
	usual := pulses(func(float64) float64 { return 0.45 })
	for name, c := range map[string]circuit{
		"none":           {supply: usual},
		"a break":        {supply: usual, ohms: withContact(2000, [2]float64{50, 55})},
		"a poor contact": {supply: usual, ohms: withContact(6, [2]float64{50, 60})},
	} {
		c.from, c.to = -5e-3, 100e-3
		f := c.find(trace.Expect{Supply: loopSupply})
		finite(t, f)
		assert.InEpsilon(t, 1./300, f.Period, 0.01, name)
		assert.InDelta(t, 0.45, f.Duty, 0.015, name)
		assert.Equal(t, name != "none", len(f.Steps) == 1, "%s: %+v", name, f.Steps)
	}
	// The pulses of a drive that pulses from the start are not breaks, however deep they are.
	for _, duty := range []float64{0.3, 0.5} {
		fast := func(t float64) (float64, bool) { return loopSupply, t >= 0 && math.Mod(t*1000, 1) < duty }
		f := circuit{from: -5e-3, to: 50e-3, hertz: 20e3, supply: fast}.find(trace.Expect{Supply: loopSupply})
		assert.InDelta(t, duty, f.Duty, 0.03)
		assert.Empty(t, f.Steps)
	}
	// If the duty changes within the recording, no duty is given.
	for _, change := range []float64{40e-3, 50e-3, 60e-3} {
		c := circuit{from: -5e-3, to: 100e-3, supply: pulses(func(t float64) float64 {
			if t < change {
				return 0.3
			}
			return 0.6
		})}
		f := c.find(trace.Expect{Supply: loopSupply})
		finite(t, f)
		assert.InEpsilon(t, 1./300, f.Period, 0.02)
		assert.Zero(t, f.Duty, "at %v", change)
		assert.NotEmpty(t, f.Steps)
	}
}

// TestSupplyRipple checks that the supply's ripple on a current that is fully on is not taken for a pulsed drive.
func TestSupplyRipple(t *testing.T) {
	for _, c := range []struct{ volts, hertz float64 }{{0.5, 150}, {0.5, 900}, {1, 300}, {0.3, 2000}} {
		name := fmt.Sprint(c)
		f := circuit{from: -5e-3, to: 60e-3, supply: func(t float64) (float64, bool) {
			return loopSupply + c.volts*math.Sin(2*math.Pi*c.hertz*t), t >= 0
		}}.find(trace.Expect{Supply: loopSupply, Moves: true})
		finite(t, f)
		assert.Zero(t, f.Periods, name)
		assert.Zero(t, f.Duty, name)
		assert.Empty(t, f.Steps, name)
		assert.NotContains(t, []trace.Verdict{trace.Yes, trace.Kink}, f.Dip.Found, name)
		require.NotNil(t, f.Fit, name)
		assert.InEpsilon(t, loopOhms, f.Fit.Resistance, 0.02, name)
	}
	// Fast pulses with as little ripple are a drive: they occur during the rise too, or hold a level below the first.
	for name, supply := range map[string]func(t float64) (float64, bool){
		"from the start": func(t float64) (float64, bool) { return loopSupply, t >= 0 && math.Mod(t*8000, 1) < 0.5 },
		"held":           func(t float64) (float64, bool) { return loopSupply, t >= 0 && (t < 12e-3 || math.Mod(t*8000, 1) < 0.5) },
	} {
		f := circuit{from: -5e-3, to: 40e-3, hertz: 100e3, noise: 1e-3, supply: supply}.find(trace.Expect{Supply: loopSupply})
		finite(t, f)
		assert.InEpsilon(t, 1./8000, f.Period, 0.01, name)
	}
}

// TestHeldBySwitching checks that no resistance is given if a drive holds the current between two levels, but the
// recording is too coarse to show its pulses.
func TestHeldBySwitching(t *testing.T) {
	for _, hertz := range []float64{5e3, 10e3} {
		r, rnd, i, on := recording.Samples{Interval: 1 / hertz}, rand.New(rand.NewSource(1)), 0.0, true
		for k := -int(5e-3 * hertz); k < int(60e-3*hertz); k++ {
			r.T, r.I = append(r.T, float64(k)/hertz), append(r.I, math.Round((i+4e-3*rnd.NormFloat64())*1e3)/1e3)
			for range int(1e6 / hertz) { // microseconds
				if k < 0 {
					break
				}
				if on = on && i < 0.83 || i < 0.77; on {
					i += 1e-6 * (loopSupply - loopOhms*i) / loopHenries
				} else {
					i -= 1e-6 * (0.7 + loopOhms*i) / loopHenries
				}
			}
		}
		f := trace.Find(r, trace.Expect{Supply: loopSupply, Resistance: loopOhms, ResistanceWithin: 0.1, Moves: true})
		finite(t, f)
		assert.Nil(t, f.Fit, "%v Hz", hertz)
		assert.Contains(t, []trace.Reason{trace.Limited, trace.OtherShape}, f.Why)
		assert.Empty(t, f.Differences)
		assert.Empty(t, f.Steps)
	}
}
