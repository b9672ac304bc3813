package winding

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// random draws a measurement that the tool accepts.
func random(r *rand.Rand) Measurement {
	m := Measurement{
		Reading:  measure.Reading{Ohms: quantity.Resistance(math.Pow(10, r.Float64()*6-1))},
		At:       quantity.Temperature(r.Float64()*300 - 100),
		AtWithin: quantity.TemperatureDifference(r.Float64() * 10),
		Meter:    measure.Meter{Percent: r.Float64() * 3, Counts: float64(r.IntN(5)), Resolution: 0.01},
		Material: []Material{Copper, Aluminium, {-235}, {-1000}}[r.IntN(4)],
	}
	if r.IntN(2) == 0 {
		m.LeadsGiven, m.Leads = true, m.Reading.Ohms*quantity.Resistance(r.Float64()/3)
	}
	if r.IntN(2) == 0 {
		m.Loom, m.LoomWithin = m.Reading.Ohms*quantity.Resistance(r.Float64()/3), quantity.Resistance(r.Float64()/10)
	}
	m.Arrangement = []Arrangement{{}, {Series: 1 + r.IntN(5)}, {Parallel: 1 + r.IntN(5)}}[r.IntN(3)]
	return m
}

// TestThereAndBack checks that correcting to another temperature and back changes nothing, and neither does a detour.
func TestThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 5000 {
		m := random(r)
		draw := func() quantity.Temperature { return quantity.Temperature(r.Float64()*300 - 100) }
		a, b, c := draw(), draw(), draw()
		require.InEpsilon(t, 1, m.Material.Factor(a, b)*m.Material.Factor(b, a), 1e-12)
		require.InEpsilon(t, m.Material.Factor(a, c), m.Material.Factor(a, b)*m.Material.Factor(b, c), 1e-12)
		require.InEpsilon(t, m.Winding().Value, m.Corrected(m.At).Value, 1e-12, "at its own temperature")
		now := quantity.Resistance(m.Winding().Value)
		healthy := m.Material.TemperatureOf(now, quantity.Resistance(m.Corrected(b).Value), b)
		require.InDelta(t, float64(m.At), float64(healthy), 1e-9, "where a winding of the corrected resistance would read this")
	}
}

// TestHotHasMore checks the direction: a warmer conductor has more resistance.
func TestHotHasMore(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for range 2000 {
		m := random(r)
		require.Greater(t, m.Corrected(m.At+10).Value, m.Winding().Value)
		require.Less(t, m.Corrected(m.At-10).Value, m.Winding().Value)
	}
}

// TestBudgetAddsUp checks that the squares of the contributions add up to the square of u, at any temperature.
func TestBudgetAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 3000 {
		m := random(r)
		to := quantity.Temperature(r.Float64()*300 - 100)
		sum := 0.0
		for _, c := range m.Budget(to) {
			sum += c.U * c.U
		}
		require.InEpsilon(t, m.Corrected(to).U, math.Sqrt(sum)+1e-300, 1e-9)
	}
}

// TestArrangementUndone checks that n equal windings measured at once give the resistance of one.
func TestArrangementUndone(t *testing.T) {
	for n := 1; n < 6; n++ {
		of := func(ohms float64, a Arrangement) float64 {
			return Measurement{Reading: measure.Reading{Ohms: quantity.Resistance(ohms)}, Arrangement: a}.Winding().Value
		}
		one := of(12, Arrangement{})
		assert.InDelta(t, one, of(12*float64(n), Arrangement{Series: n}), 1e-12, "%d in series", n)
		assert.InDelta(t, one, of(12/float64(n), Arrangement{Parallel: n}), 1e-12, "%d in parallel", n)
	}
}

// TestBandMovesWithTheWinding checks that correcting the band to the winding's temperature gives the same probabilities as correcting
// the winding to the band's, if the temperature is certain.
func TestBandMovesWithTheWinding(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 3000 {
		m := random(r)
		m.AtWithin = 0
		at := quantity.Temperature(r.Float64()*100 - 20)
		middle := m.Corrected(at).Value
		row := Row{Band: measure.Band{Min: middle * (0.9 + r.Float64()/10), Max: middle * (1.0 + r.Float64()/10)}, At: at}
		j := m.Judge(row)
		direct := measure.Conform(m.Winding(), j.BandNow)
		require.InDelta(t, j.Chance.Below, direct.Below, 1e-9)
		require.InDelta(t, j.Chance.Within, direct.Within, 1e-9)
		require.InDelta(t, j.Chance.Above, direct.Above, 1e-9)
	}
}

// TestAlikeWithItself checks that a winding compared with itself has the ratio 1, and that swapping two windings inverts the ratio.
func TestAlikeWithItself(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 2000 {
		m, g := random(r), random(r)
		g.Material = m.Material
		require.InDelta(t, 1, Compare(m, m, 0.1).Ratio.Value, 1e-12)
		ab, ba := Compare(m, g, 0.1).Ratio, Compare(g, m, 0.1).Ratio
		require.InEpsilon(t, 1, ab.Value*ba.Value, 1e-12)
		require.InEpsilon(t, ab.U/ab.Value+1e-300, ba.U/ba.Value+1e-300, 1e-9, "relative u of a ratio and its reverse")
	}
}

func TestSpan(t *testing.T) {
	s := Span{20, 80}
	for at, in := range map[quantity.Temperature]bool{19.999: false, 20: true, 50: true, 80: true, 80.001: false} {
		assert.Equal(t, in, s.Holds(at))
	}
	m := Measurement{Reading: measure.Reading{Ohms: 14}, At: 90, Meter: measure.Meter{Percent: 1}, Material: Copper}
	j := m.Judge(Row{Band: measure.Band{Min: 13, Max: 15}, Span: &s})
	assert.True(t, j.Outside)
	assert.Equal(t, measure.Undecided, j.Verdict)
	assert.Equal(t, 14.0, j.Corrected.Value, "a row with a span must not be corrected")
}

// TestSpanHoldsTheDoubt checks that a row with a span decides only where the temperature is in it with a probability of 95 %.
func TestSpanHoldsTheDoubt(t *testing.T) {
	row := Row{Band: measure.Band{Min: 10, Max: 15}, Span: &Span{20, 80}}
	for _, c := range []struct {
		at      quantity.Temperature
		within  quantity.TemperatureDifference
		outside bool
	}{{80, 50, true}, {80, 2, true}, {80, 0, false}, {78.2, 2, false}, {78.1, 2, false}, {78.3, 2, true}, {50, 30, false}, {50, 31.5, false},
		{50, 32, true}, {81, 2, true}} {
		m := Measurement{Reading: measure.Reading{Ohms: 12.3}, At: c.at, AtWithin: c.within, Meter: measure.Meter{Percent: 1}, Material: Copper}
		j := m.Judge(row)
		assert.Equal(t, c.outside, j.Outside, "%v ± %v", c.at, c.within)
		assert.Equal(t, c.outside, j.Verdict == measure.Undecided, "%v ± %v", c.at, c.within)
	}
}

// TestImpossiblyWarm checks that a temperature which no running machine has is told apart: only where it is clearly so, and not where the
// winding follows its material up to a temperature that somebody has measured.
func TestImpossiblyWarm(t *testing.T) {
	for _, c := range []struct {
		ohms   quantity.Resistance
		at     quantity.Temperature // 0: not known
		beyond measure.Verdict
	}{{60, 0, measure.Above}, {17, 0, ""}, {17.6, 0, ""}, {19, 0, measure.Above}, {10.2, 0, ""}, {6, 0, measure.Below}, {19.2, 165, ""},
		{19.2, 60, measure.Above}} {
		m := Measurement{Reading: measure.Reading{Ohms: c.ohms}, LeadsGiven: true, Meter: measure.Meter{Percent: 1, Counts: 2, Resolution: 0.1},
			Material: Copper, At: c.at, AtWithin: 2, AtUnknown: c.at == 0}
		cold := m
		cold.Reading.Ohms, cold.At, cold.AtUnknown = 12.3, 20, false
		w := Warm(m, Cold{Measurement: cold, Tolerance: 0.05})
		assert.Equal(t, c.beyond, w.Beyond, "%g ohm: %+v", c.ohms, w)
	}
}
