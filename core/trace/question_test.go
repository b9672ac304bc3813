package trace_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/recording"
	"ohmwright/core/trace"
	"ohmwright/core/winding"
)

// question returns a turn-on ramp of a 6 ohm loop at 13.8 V, of which the winding is 5.6 ohm. All other values are given.
func question(current func(t float64) float64) trace.Question {
	return trace.Question{
		Recording: recording.Recording{Samples: rough(record(1000, -5e-3, 5e-5, current), 0.008, 0.015)},
		Supply:    13.8, Winding: 5.6, At: 20, Now: 20, NowGiven: true, Material: winding.Copper, Wiring: 0.25, Driver: 0.15,
		ResistanceWithin: 0.1, InductanceWithin: 0.3, ClampWithin: 0.02, SupplyWithin: 0.005,
	}
}

// TestOverall checks that the first difference is the verdict, and what the verdict is if nothing differs.
func TestOverall(t *testing.T) {
	ramp, level := rise(2.3, 4e-3), func(float64) float64 { return 1 }
	for name, c := range map[string]struct {
		current func(t float64) float64
		change  func(q *trace.Question)
		overall trace.Overall
		dip     trace.DipSaid
		doubts  []trace.Doubt
	}{
		"nothing differs":     {ramp, func(*trace.Question) {}, trace.AsExpected, trace.DipNo, nil},
		"another resistance":  {ramp, func(q *trace.Question) { q.Winding = 4 }, "resistance_high", trace.DipNo, nil},
		"warmer than given":   {ramp, func(q *trace.Question) { q.Now = 120 }, "resistance_low", trace.DipNo, nil},
		"another inductance":  {ramp, func(q *trace.Question) { q.Inductance = 0.1 }, "inductance_low", trace.DipNo, nil},
		"a plunger that sits": {ramp, func(q *trace.Question) { q.Moves = true }, "dip_missing", trace.DipNo, nil},
		"a plunger that moves": {
			dipped, func(q *trace.Question) { q.Moves = true }, trace.AsExpected, trace.DipYes, nil,
		},
		"no resistance given": {ramp, func(q *trace.Question) { q.Winding = 0 }, trace.OnlyRead, trace.DipNo, nil},
		"no supply": {
			ramp, func(q *trace.Question) { q.Supply = 0 }, trace.OnlyRead, trace.DipNo, []trace.Doubt{trace.NoSupply},
		},
		"no temperature": {
			ramp, func(q *trace.Question) { q.NowGiven = false }, trace.AsExpected, trace.DipNo, []trace.Doubt{trace.TemperatureAssumed},
		},
		"no ramp": {level, func(*trace.Question) {}, trace.CannotCompare, trace.DipCannotShow, nil},
		"no ramp, nothing expected": {
			level, func(q *trace.Question) { q.Winding = 0 }, trace.OnlyRead, trace.DipCannotShow, nil,
		},
		"turned round": {
			func(t float64) float64 { return -ramp(t) }, func(*trace.Question) {}, trace.AsExpected, trace.DipNo,
			[]trace.Doubt{trace.ClampReversed},
		},
		"no units in the file": {
			func(t float64) float64 { return 100 * ramp(t) },
			func(q *trace.Question) { q.Recording.TimeAssumed, q.Recording.CurrentAssumed = true, true }, "resistance_low", trace.DipNo,
			[]trace.Doubt{trace.TimeUnitAssumed, trace.CurrentUnitAssumed, trace.InMilliamperes},
		},
	} {
		t.Run(name, func(t *testing.T) {
			q := question(c.current)
			c.change(&q)
			f := q.Find()
			assert.Equal(t, c.overall, f.Overall)
			assert.Equal(t, c.dip, f.DipSaid, "%+v", f.Dip)
			assert.Equal(t, c.doubts, f.Doubts)
		})
	}
}

// TestInstruments checks that the errors of clamp and voltmeter are added to the uncertainty from noise, and that the
// winding is the loop less wiring and driver.
func TestInstruments(t *testing.T) {
	q := question(rise(2.3, 4e-3))
	f := q.Find()
	q.ClampWithin, q.SupplyWithin = 0, 0
	bare := q.Find()
	require.NotNil(t, f.Fit)
	require.NotNil(t, bare.Fit)
	added := func(u, bare float64) float64 { return math.Sqrt(u*u - bare*bare) }
	assert.InEpsilon(t, 0.02/math.Sqrt(3)*f.Fit.Final, added(f.Fit.FinalU, bare.Fit.FinalU), 1e-9)
	both := math.Hypot(0.02, 0.005) / math.Sqrt(3)
	assert.InEpsilon(t, both*f.Fit.Resistance, added(f.Fit.ResistanceU, bare.Fit.ResistanceU), 1e-9)
	assert.InEpsilon(t, both*f.Fit.Inductance, added(f.Fit.InductanceU, bare.Fit.InductanceU), 1e-9)
	assert.Equal(t, bare.Fit.TimeConstantU, f.Fit.TimeConstantU, "no instrument but the clock enters the time constant")
	assert.Equal(t, quantity.Resistance(f.Fit.Resistance)-q.Wiring-q.Driver, f.Winding)
}

// TestOneUncertainty checks that what is compared has the uncertainty that is told, instruments included, and that a verdict needs 95 %.
func TestOneUncertainty(t *testing.T) {
	for name, c := range map[string]struct {
		clamp, supply quantity.Ratio
		winding       quantity.Resistance // with wiring and driver 0.4 ohm more; the loop has 6 ohm, u is 0.36, 0.36, 0.07, 0.01
		overall       trace.Overall
	}{
		"far outside":                  {0.1, 0.03, 4.2, "resistance_high"},
		"outside, by two in three":     {0.1, 0.03, 4.9, trace.Undecided},
		"outside, by four in five":     {0.02, 0.005, 5, trace.Undecided},
		"outside, by good instruments": {0.002, 0.0005, 5, "resistance_high"},
		"below, by two in three":       {0.1, 0.03, 6.6, trace.Undecided},
		"far below":                    {0.1, 0.03, 8.1, "resistance_low"},
		"within":                       {0.02, 0.005, 5.4, trace.AsExpected},
	} {
		t.Run(name, func(t *testing.T) {
			q := question(rise(2.3, 4e-3))
			q.Winding, q.ClampWithin, q.SupplyWithin = c.winding, c.clamp, c.supply
			f := q.Find()
			require.NotNil(t, f.Fit)
			assert.Equal(t, c.overall, f.Overall)
			compared := append(f.Differences, f.Unsure...)
			assert.Equal(t, c.overall != trace.AsExpected, len(compared) == 1, "%+v", compared)
			for _, d := range compared {
				assert.Equal(t, f.Fit.ResistanceU, d.GotU)
				assert.Equal(t, f.Fit.Resistance, d.Got)
			}
			q.Winding, q.Inductance, q.InductanceWithin = 5.6, 0.0180, 0.3 // the loop has 24 mH
			f = q.Find()
			compared = append(f.Differences, f.Unsure...)
			require.NotEmpty(t, compared)
			assert.Equal(t, f.Fit.InductanceU, compared[len(compared)-1].GotU)
		})
	}
}
