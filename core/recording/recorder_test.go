package recording

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestCalm: a lone sample is cut, an edge and a pair are not.
func TestCalm(t *testing.T) {
	assert.Equal(t, []float64{0, 0, 0, 0, 2, 2, 2}, Calm([]float64{0, 0, 9, 0, 2, 2, 2}, 1))
	assert.Equal(t, []float64{0, 0, 9, 9, 0, 0}, Calm([]float64{0, 0, 9, 9, 0, 0}, 1))
	assert.Equal(t, []float64{9, 0, 0}, Calm([]float64{9, 0, 0}, 1), "the first has one neighbour alone")
	assert.Empty(t, Calm(nil, 1))
}

// TestOfARecorder: what the recorder adds, by hand: an exponential of 20 samples as time constant, cut off, settled, and behind a coupling
// of 160 samples.
func TestOfARecorder(t *testing.T) {
	wave := func(of func(t float64) float64) (s Samples) {
		for k := range 400 {
			t := float64(k - 40)
			s.T, s.I = append(s.T, t), append(s.I, 0)
			if t > 0 {
				s.I[k] = math.Round(of(t)*1e3) / 1e3
			}
		}
		s.Interval = 1
		return s
	}
	rise := func(t float64) float64 { return -math.Expm1(-t / 20) }
	coupled := func(t float64) float64 { return 160. / 140 * (math.Exp(-t/160) - math.Exp(-t/20)) }
	off := func(t float64) float64 { // switched off after 200: a diode takes it down as quickly as it rose
		if t < 200 {
			return 1
		}
		return math.Exp(-(t - 200) / 20)
	}
	for name, c := range map[string]struct {
		s                           Samples
		clipped, droops, undershoot bool
	}{
		"plain":   {wave(rise), false, false, false},
		"cut off": {wave(func(t float64) float64 { return min(0.8, rise(t)) }), true, false, false},
		"coupled": {wave(coupled), false, true, false},
		"shot":    {wave(func(t float64) float64 { return min(rise(t), off(t)) }), false, false, false},
		"and back": {wave(func(t float64) float64 { return coupled(t) - max(0, math.Copysign(coupled(max(0, t-200)), t-200)) }),
			false, false, true},
		"nothing": {wave(func(float64) float64 { return 0 }), false, false, false},
	} {
		sigma, step := Noise(c.s.I)
		top, bottom := Extremes(c.s.I, 4*sigma)
		assert.Equal(t, c.clipped, Clipped(c.s.I, sigma, step), "%s: clipped", name)
		assert.Equal(t, c.droops, Droops(c.s.I, 0), "%s: droops", name)
		assert.Equal(t, c.undershoot, Undershoots(c.s, top, bottom), "%s: undershoots", name)
	}
}
