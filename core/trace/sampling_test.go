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

// These tests ask what must not matter: how finely a recording is sampled, and at which point of a period it begins and ends. The loop
// is 13.8 V and 6 ohm, 17 mH; its driver pulses at 300 Hz.
const (
	sampledOhms, sampledTau, sampledPeriod = 6.0, 17e-3 / 6, 1 / 300.0
	sampledFinal                           = 13.8 / sampledOhms
)

// noisy returns a recording with noise.
func noisy(r recording.Samples, sigma float64, seed int64) recording.Samples {
	rnd := rand.New(rand.NewSource(seed))
	for k := range r.I {
		r.I[k] += sigma * rnd.NormFloat64()
	}
	return r
}

// soundOhms checks that a recording of the loop gives its resistance within three standard uncertainties, and without noise within 1 %.
func soundOhms(t *testing.T, r recording.Samples, clean bool, name string) {
	f := trace.Find(r, trace.Expect{Supply: 13.8, Resistance: sampledOhms, ResistanceWithin: 0.1, ClampWithin: 0.02, SupplyWithin: 0.005})
	finite(t, f)
	if f.Fit == nil && !clean { // too noisy for so short a ramp
		return
	}
	require.NotNil(t, f.Fit, "%s: %v", name, f.Why.Code())
	assert.InDelta(t, sampledOhms, f.Fit.Resistance, 3*f.Fit.ResistanceU, name)
	assert.Empty(t, f.Differences, name)
	if clean {
		assert.InEpsilon(t, sampledOhms, f.Fit.Resistance, 0.01, name)
	}
}

// TestFineSampling: a ramp that the driver ends early does not take in the fall after it, however many samples the first of that has.
func TestFineSampling(t *testing.T) {
	for _, n := range []int{400, 1500, 3000, 6000, 12000} {
		for _, sigma := range []float64{0, 1e-3, 3e-3} {
			for seed := range int64(10) {
				name := fmt.Sprintf("%d samples, noise %v A, %d", n, sigma, seed)
				length := 4.3 * sampledPeriod
				r := record(n, -0.09*float64(seed)*sampledPeriod, length/float64(n), pulsed(sampledFinal, sampledTau, sampledPeriod, 0.3))
				soundOhms(t, noisy(r, sigma, seed), sigma == 0, "pulses, "+name)
				for _, shown := range []float64{0.7, 1, 1.5, 4} {
					on := rise(sampledFinal, sampledTau)
					end := shown * sampledTau
					r := record(n, -0.15*end, (1.15*end+sampledTau)/float64(n), func(t float64) float64 {
						return on(min(t, end)) * math.Exp(-max(0, t-end)/sampledTau)
					})
					soundOhms(t, noisy(r, sigma, seed), sigma == 0, fmt.Sprintf("one pulse of %v time constants, %s", shown, name))
				}
			}
		}
	}
}

// TestShortRampIsFitted: of a ramp that shows little of its bend the least squares lie at the end of a long valley. A search that stopped
// in it gave 7 ohm instead of 6, without noise.
func TestShortRampIsFitted(t *testing.T) {
	for _, shown := range []float64{0.15, 0.2, 0.3, 0.5} { // time constants that the driver is on
		for _, sigma := range []float64{0, 1e-4} {
			for seed := range int64(5) {
				period := shown / 0.36 * sampledTau
				r := record(4000, -0.19*float64(seed)*period, 4.3*period/4000, pulsed(sampledFinal, sampledTau, period, 0.36))
				soundOhms(t, noisy(r, sigma, seed), sigma == 0, fmt.Sprintf("on for %v time constants, noise %v A, %d", shown, sigma, seed))
			}
		}
	}
}

// TestEdgesOfRecording: a rise that the recording cuts off at its beginning or its end has lost its foot or its top. Its period, and
// what the averages are taken over, are as from whole rises.
func TestEdgesOfRecording(t *testing.T) {
	for _, n := range []int{400, 3000} {
		for _, periods := range []float64{2.3, 3.3, 4.3, 8.3} {
			seen := 0
			for phase := range 80 {
				duty := []float64{0.2, 0.3, 0.5, 0.7}[phase%4]
				name := fmt.Sprintf("%d samples, %v periods, duty %v, phase %d", n, periods, duty, phase/4)
				interval := periods * sampledPeriod / float64(n)
				current := pulsed(sampledFinal, sampledTau, sampledPeriod, duty)
				f := trace.Find(record(n, float64(phase/4)/20*sampledPeriod, interval, current), trace.Expect{})
				finite(t, f)
				if f.Periods == 0 {
					continue
				}
				seen++
				assert.InDelta(t, sampledPeriod, f.Period, interval, name)
				assert.InDelta(t, float64(f.Periods)*sampledPeriod, f.To-f.From, interval, name)
				assert.InEpsilon(t, duty*sampledFinal, f.Average, 0.003, name)
			}
			if periods > 3 {
				assert.Equal(t, 80, seen, "%d samples, %v periods", n, periods)
			} else { // there are three rises in some
				assert.Greater(t, seen, 30, "%d samples, %v periods", n, periods)
			}
		}
	}
}

// TestStillMoving: where the driver switches off while the plunger is on its way, the ramp is neither near its level nor of a shape that
// tells one. What is fitted to it is no resistance. (Later in a motion the current may be level, and is taken for the end of the rise.)
func TestStillMoving(t *testing.T) {
	for _, c := range [][3]float64{{3, 0.2, 0.5}, {3, 0.2, 0.6}, {3, 0.3, 0.5}, {3, 0.5, 0.5}, {4, 0.2, 0.5}} {
		until, grows, share := c[0], c[1], c[2]
		off := (1 + share*(until-1)) * 1e-3
		loop := circuit{from: -0.5e-3, to: off + 2e-3, hertz: 200e3, noise: 1e-4, henries: moving([3]float64{1, until, grows})}
		loop.supply = func(t float64) (float64, bool) { return loopSupply, t >= 0 && t < off }
		f := loop.find(trace.Expect{Supply: loopSupply, Resistance: loopOhms, ResistanceWithin: 0.1})
		finite(t, f)
		assert.Equal(t, trace.TooShort, f.Why, "%v", c)
		assert.Empty(t, f.Differences, "%v", c)
	}
}
