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

// random draws a test of a loop with extra unwanted ohms.
func random(r *rand.Rand) (t Test, extra float64) {
	t = Test{
		Supply: quantity.Voltage(9 + r.Float64()*7), SupplyWithin: quantity.Voltage(r.Float64() / 5),
		Meter:   measure.Meter{Percent: r.Float64() * 3, Counts: float64(r.IntN(4)), Resolution: 0.01},
		Winding: measure.Estimate{Value: 1 + r.Float64()*20, U: r.Float64() / 10}, At: 20,
		WindingAt: quantity.Temperature(r.Float64()*150 - 20), WindingWithin: quantity.TemperatureDifference(r.Float64() * 10), Limit: 0.5,
	}
	extra = r.Float64() * 3
	hot := t.Winding.Value * winding.Copper.Factor(t.At, t.WindingAt)
	if r.IntN(2) == 0 {
		t.DriverOhms = quantity.Resistance(r.Float64() / 2)
		t.Current = quantity.Current(float64(t.Supply) / (hot + float64(t.DriverOhms) + extra))
	} else {
		t.DriverVolts = quantity.Voltage(r.Float64())
		t.Current = quantity.Current((float64(t.Supply) - float64(t.DriverVolts)) / (hot + extra))
	}
	return t, extra
}

// TestFindsWhatWasPutIn checks that the unwanted ohms of a loop are found, and that the voltages of winding, driver and the rest add
// up to the supply.
func TestFindsWhatWasPutIn(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 5000 {
		test, extra := random(r)
		f := test.Find()
		i := float64(test.Current)
		require.InDelta(t, extra, f.Unwanted.Value, 1e-9)
		require.InDelta(t, extra*i, f.Drop.Value, 1e-9)
		require.InDelta(t, float64(test.Supply), i*f.Winding.Value+i*float64(test.DriverOhms)+float64(test.DriverVolts)+f.Drop.Value, 1e-9)
		require.InDelta(t, f.Total.Value, float64(test.Supply)/i, 1e-12)
	}
}

// TestMoreResistanceIsNeverCleaner checks that less current at the same supply never moves a verdict towards clean.
func TestMoreResistanceIsNeverCleaner(t *testing.T) {
	rank := map[Verdict]int{Clean: 0, Undecided: 1, Unwanted: 2}
	r := rand.New(rand.NewPCG(2, 2))
	for range 500 {
		test, _ := random(r)
		last := -1
		for range 40 {
			now := rank[test.Find().Verdict]
			require.GreaterOrEqual(t, now, last, "%+v", test)
			last = now
			test.Current *= 0.95
		}
	}
}

// TestTooMuchIsNeverUnwanted checks that a loop with less resistance than its winding is not called unwanted.
func TestTooMuchIsNeverUnwanted(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	seen := 0
	for range 3000 {
		test, _ := random(r)
		test.Current *= quantity.Current(0.8 + r.Float64())
		if f := test.Find(); f.TooMuch {
			seen++
			require.NotEqual(t, Unwanted, f.Verdict)
			require.Negative(t, f.Drop.Value)
		}
	}
	assert.Positive(t, seen)
}
