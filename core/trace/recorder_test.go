package trace_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/recording"
	"ohmwright/core/trace"
)

// passed is a recording behind a coupling of a time constant that lets no direct current through, at rest before: y' = x' − y/tau.
func passed(r recording.Samples, tau float64) recording.Samples {
	out := recording.Samples{T: r.T, I: make([]float64, len(r.I)), Interval: r.Interval}
	y := 0.0
	for k := 1; k < len(r.I); k++ {
		y = (y + r.I[k] - r.I[k-1]) / (1 + r.Interval/tau)
		out.I[k] = math.Round(y*1e3) / 1e3
	}
	return out
}

// cutOff is a recording whose range ends at a current.
func cutOff(r recording.Samples, at float64) recording.Samples {
	out := recording.Samples{T: r.T, I: make([]float64, len(r.I)), Interval: r.Interval}
	for k, i := range r.I {
		out.I[k] = min(i, at)
	}
	return out
}

// shots are recordings of the loop by name: single ones that end while on or after, of a stuck plunger and of one that moves, and pulses.
func shots(seed int64) map[string]recording.Samples {
	all := map[string]recording.Samples{}
	for name, henries := range map[string]func(t, i float64) float64{"stuck": nil, "moving": moving([3]float64{2, 4, 0.5})} {
		c := circuit{from: -5e-3, to: 60e-3, hertz: 20e3, seed: seed, henries: henries}
		all[name+", on"] = c.record()
		c.supply = func(t float64) (float64, bool) { return loopSupply, t >= 0 && t < 30e-3 }
		all[name+", on and off"] = c.record()
		c.supply = func(t float64) (float64, bool) { return loopSupply, t >= 0 && math.Mod(t*50, 1) < 0.6 }
		c.to = 250e-3
		all[name+", pulses"] = c.record()
	}
	return all
}

// TestACCoupled: a coupling that lets no direct current through is named, not taken for a plunger, a supply that sags or a zero error.
// Its time constant is 16 ms, that of a recorder's input of 10 Hz, or 40 ms (common practice: 1 to 10 Hz).
func TestACCoupled(t *testing.T) {
	for seed := range int64(5) {
		for name, r := range shots(seed) {
			for _, tau := range []float64{16e-3, 40e-3} {
				name := fmt.Sprintf("%s, %v s, seed %d", name, tau, seed)
				f := trace.Find(passed(r, tau), trace.Expect{Supply: loopSupply, Moves: true})
				finite(t, f)
				assert.Equal(t, trace.ACCoupled, f.Why, name)
				assert.Equal(t, trace.Dip{Why: trace.ACCoupled}, f.Dip, name)
				assert.Nil(t, f.Fit, name)
				assert.Empty(t, f.Differences, name)
				assert.Zero(t, f.Offset, name)
			}
			assert.NotEqual(t, trace.ACCoupled, trace.Find(r, trace.Expect{}).Why, name)
		}
	}
}

// TestClipped: a ramp that the recorder's range cuts off is named, at any height that shows; one that settles, and one that a driver
// limits, are not.
func TestClipped(t *testing.T) {
	for seed := range int64(5) {
		for name, r := range shots(seed) {
			for _, share := range []float64{0.4, 0.6, 0.8, 0.9} {
				name := fmt.Sprintf("%s, %v, seed %d", name, share, seed)
				f := trace.Find(cutOff(r, share*loopFinal), trace.Expect{Supply: loopSupply, Moves: true})
				finite(t, f)
				assert.Equal(t, trace.Clipped, f.Why, name)
				assert.Nil(t, f.Fit, name)
				assert.Empty(t, f.Differences, name)
			}
			assert.NotEqual(t, trace.Clipped, trace.Find(r, trace.Expect{}).Why, name)
		}
		f := circuit{from: -5e-3, to: 40e-3, most: 1, hertz: 20e3, seed: seed}.find(trace.Expect{})
		assert.Equal(t, trace.Limited, f.Why)
	}
	// Nothing but a plain rise, without noise, by a recorder of coarse steps: it settles at its highest.
	r := recording.Samples{Interval: 1e-4}
	for k := range 600 {
		at := float64(k-50) * 1e-4
		r.T, r.I = append(r.T, at), append(r.I, math.Round(max(0, -math.Expm1(-at/2e-3))*100)/50)
	}
	assert.NotEqual(t, trace.Clipped, trace.Find(r, trace.Expect{}).Why)
}

// TestRecordersKeepTheirPeace: noise, hum, offsets and clamps the wrong way round are no coupling and no cut.
func TestRecordersKeepTheirPeace(t *testing.T) {
	rnd := rand.New(rand.NewSource(12))
	for name, r := range shots(0) {
		for k := range 100 {
			offset, hum, of, sign := 0.4*(rnd.Float64()-0.5), 0.03*rnd.Float64(), 6.28*rnd.Float64(), 1-2*float64(k%2)
			disturbed := recording.Samples{T: r.T, Interval: r.Interval}
			for j, i := range r.I {
				disturbed.I = append(disturbed.I, sign*(i+offset+hum*math.Sin(2*math.Pi*50*r.T[j]+of)))
			}
			why := trace.Find(disturbed, trace.Expect{}).Why
			assert.NotContains(t, []trace.Reason{trace.ACCoupled, trace.Clipped}, why, "%s, offset %v, hum %v", name, offset, hum)
		}
	}
}
