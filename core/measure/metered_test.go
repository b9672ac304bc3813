package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestOneMeterCancels checks that what two readings by one meter share cancels in a difference and in a ratio of equals, and that
// neither is ever less certain than it would be with two meters of the same kind.
func TestOneMeterCancels(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 2000 {
		m := Meter{Percent: r.Float64() * 3, Counts: r.Float64() * 5, Resolution: r.Float64() / 10}
		a, b := m.Read(1+r.Float64()*20), m.Read(1+r.Float64()*20)
		require.LessOrEqual(t, a.Minus(b).Estimate().U, Combine(a.Estimate().U, b.Estimate().U)+1e-15)
		q := a.Value / b.Value
		require.LessOrEqual(t, a.Over(b).Estimate().U, Combine(a.Estimate().U, q*b.Estimate().U)/b.Value+1e-15)
		same := a.Minus(a)
		require.Zero(t, same.Common)
		require.InDelta(t, a.Own*math.Sqrt2, same.Estimate().U, 1e-15)
		require.Zero(t, a.Over(a).Common)
		common, own := m.Split(a.Value)
		require.InDelta(t, m.HalfWidth(a.Value), common+own, 1e-12, "the parts of a half-width")
		require.InDelta(t, (common*common+own*own)/3, math.Pow(a.Estimate().U, 2), 1e-12)
	}
}

// TestMovingBandIsTheMean compares ConformMoving with the mean of Conform over a thousand places of the band.
func TestMovingBandIsTheMean(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 400 {
		e := Estimate{r.Float64() * 10, math.Pow(10, r.Float64()*4-3)}
		from := Band{r.Float64() * 5, 5 + r.Float64()*5}
		f := 0.5 + r.Float64()
		to := Band{from.Min * f, from.Max * f}
		switch r.IntN(4) {
		case 0:
			from.Min, to.Min = math.Inf(-1), math.Inf(-1)
		case 1:
			from.Max, to.Max = math.Inf(1), math.Inf(1)
		}
		mean, n := Conformity{}, 20000
		for i := range n {
			x := (float64(i) + 0.5) / float64(n)
			at := func(a, b float64) float64 {
				if math.IsInf(a, 0) {
					return a
				}
				return a + x*(b-a)
			}
			c := Conform(e, Band{at(from.Min, to.Min), at(from.Max, to.Max)})
			mean.Below, mean.Within, mean.Above = mean.Below+c.Below/float64(n), mean.Within+c.Within/float64(n), mean.Above+c.Above/float64(n)
		}
		got := ConformMoving(e, from, to)
		assert.InDelta(t, mean.Below, got.Below, 1e-4, "%v, %v to %v", e, from, to)
		assert.InDelta(t, mean.Within, got.Within, 1e-4, "%v, %v to %v", e, from, to)
		assert.InDelta(t, mean.Above, got.Above, 1e-4, "%v, %v to %v", e, from, to)
	}
}

// TestBandThatStaysIsConform checks that a band that does not move is [Conform], and that there is no gap where it hardly moves.
func TestBandThatStaysIsConform(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	for range 2000 {
		e := Estimate{r.NormFloat64(), r.Float64() * float64(r.IntN(3))}
		b := Band{r.NormFloat64(), 3}
		want := Conform(e, b)
		for _, by := range []float64{0, 1e-9, 1e-7, 1e-5, 1e-4} {
			got := ConformMoving(e, b, Band{b.Min + by*e.U, b.Max + by*e.U})
			require.InDelta(t, want.Below, got.Below, 1e-4)
			require.InDelta(t, want.Above, got.Above, 1e-4)
			require.InDelta(t, 1, got.Below+got.Within+got.Above, 1e-12)
		}
	}
	certain := ConformMoving(Estimate{Value: 5}, Band{4, 10}, Band{8, 14})
	assert.InDelta(t, 0.75, certain.Below, 1e-12, "the minimum is above 5 in three of four places")
	assert.InDelta(t, 0.25, certain.Within, 1e-12)
}
