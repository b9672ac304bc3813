package trace

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/recording"
)

// TestRippleIsNoPlunger checks that a ripple on a clean exponential, from the mains or another drive, is not taken for a
// plunger: it has many troughs, all alike. It must never be called a motion, and if a fit is given, the fit must be right.
func TestRippleIsNoPlunger(t *testing.T) {
	const tau, final, length = 1.5e-3, 1.95, 25e-3
	fits := 0
	for _, n := range []int{250, 500, 2000, 20000} {
		for _, amplitude := range []float64{0.002, 0.01, 0.05} {
			for _, troughs := range []float64{9, 17, 34, 68, 270} {
				if float64(n)/troughs < 7 {
					continue // hardly a ripple to the recorder
				}
				r := recording.Samples{Interval: length / float64(n)}
				for k := -n / 10; k < n; k++ {
					at := float64(k) * length / float64(n)
					i := amplitude * math.Sin(2*math.Pi*troughs*at/length)
					if at > 0 {
						i += final * -math.Expm1(-at/tau)
					}
					r.T, r.I = append(r.T, at), append(r.I, i)
				}
				f := Find(r, Expect{Supply: 13.8, Moves: true})
				assert.NotContains(t, []Verdict{Yes, Kink}, f.Dip.Found, "%d samples, %v A, %v troughs: %+v", n, amplitude, troughs, f.Dip)
				assert.Empty(t, f.Differences, "%d samples, %v A, %v troughs: a plunger that ripple hides is not missed", n, amplitude, troughs)
				if f.Fit != nil {
					fits++
					assert.InEpsilon(t, final, f.Fit.Final, 0.03, "%d samples, %v A, %v troughs", n, amplitude, troughs)
				}
			}
		}
	}
	assert.Greater(t, fits, 10)
	t.Logf("%d fits", fits)
}
