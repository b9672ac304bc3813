package loop

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// TestVerdictsAreRight draws loops with their errors as they are stated, and counts the verdicts that are wrong: at 95 %, at most one
// in twenty. The voltage lost is drawn evenly over a range that is wide beside the doubt.
func TestVerdictsAreRight(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 8))
	within := func(half float64) float64 { return half * (r.Float64()*2 - 1) }
	for _, known := range []bool{true, false} {
		given, wrong := 0, 0
		for range 60000 {
			meter := measure.Meter{Percent: 0.2 + r.Float64()*2, Counts: float64(r.IntN(4)), Resolution: 0.01}
			supply, ohms, hot := 10+r.Float64()*5, 2+r.Float64()*20, r.Float64()*150-20
			lost := r.Float64()*6 - 2
			real := ohms * winding.Copper.Factor(20, quantity.Temperature(hot))
			current := (supply - lost) / (real + 0.15)
			common, own := meter.Split(current)
			test := Test{
				Supply: quantity.Voltage(supply + within(0.2)), SupplyWithin: 0.2, Meter: meter, At: 20, DriverOhms: 0.15, Limit: 0.5,
				Current: quantity.Current(current + within(common) + within(own)),
				Winding: measure.Estimate{Value: ohms / (1 + within(0.03)), U: 0}, Driver: DriverPlain,
				WindingAt: quantity.Temperature(hot + within(10)), WindingWithin: 10,
			}
			test.Winding.U = measure.Rectangular(0.03 * test.Winding.Value)
			if !known {
				test.WindingAt, test.WindingWithin = winding.Anywhere.Middle(), winding.Anywhere.HalfWidth()
			}
			right := map[Verdict]bool{Clean: lost <= 0.5, Unwanted: lost > 0.5, DrawsTooMuch: lost < 0}
			if v := test.Find().Overall(); v != Undecided {
				given++
				if !right[v] {
					wrong++
				}
			}
		}
		require.Greater(t, given, 500)
		share := float64(wrong) / float64(given)
		t.Logf("temperature known %v: of %d verdicts %.2f %% wrong", known, given, share*100)
		assert.LessOrEqual(t, share, 0.05, "temperature known: %v", known)
	}
}
