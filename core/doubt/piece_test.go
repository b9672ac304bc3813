package doubt

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// spreads returns the distributions of all faults' parameters, and as many others.
func spreads(r *rand.Rand) (list []circuit.Spread) {
	for f := range circuit.Fault(circuit.Faults) {
		if lo, hi, log, ok := f.Limits(); ok {
			list = append(list, circuit.Spread{Min: lo, Max: hi, Log: log})
			if log {
				lo = wide(r, 1e-2, 100)
				list = append(list, circuit.Spread{Min: lo, Max: lo * wide(r, 3, 1e5), Log: true})
			} else {
				lo = between(0.01, 0.5, false, r.Float64())
				list = append(list, circuit.Spread{Min: lo, Max: between(lo+0.2, 0.99, false, r.Float64()), Log: false})
			}
		}
	}
	return list
}

// below returns the probability that a parameter is below x.
func below(s circuit.Spread, x float64) float64 {
	if s.Log {
		return math.Log(x/s.Min) / math.Log(s.Max/s.Min)
	}
	return (x - s.Min) / (s.Max - s.Min)
}

// exactMean returns a distribution's mean.
func exactMean(s circuit.Spread) float64 {
	if s.Log {
		return (s.Max - s.Min) / math.Log(s.Max/s.Min)
	}
	return (s.Min + s.Max) / 2
}

// TestPieces checks that the pieces of a parameter's distribution add up to it: their shares to 1, their means to the mean, their
// distribution function to its own within a third of a piece, and away from the ends and from where the width of the pieces
// changes their density to its own within an eighth, where they are coarse within a fifth.
func TestPieces(t *testing.T) {
	r := rand.New(rand.NewPCG(24, 26))
	worst, uneven := 0.0, 0.0
	for _, s := range spreads(r) {
		parts := Pieces(s, 1)
		share, mean, widest := 0.0, 0.0, 0.0
		for _, p := range parts {
			require.Positive(t, p.Share)
			share, mean, widest = share+p.Share, mean+p.Share*p.Mean, max(widest, p.Share)
		}
		require.InDelta(t, 1, share, 1e-9, "%+v", s)
		require.InEpsilon(t, exactMean(s), mean, 0.01, "%+v", s)
		for u := 0.02; u < 0.99; u += 0.01 {
			x := between(s.Min, s.Max, s.Log, u)
			under, density := 0.0, 0.0
			for _, p := range parts {
				z := (x - p.Mean) / p.U
				under += p.Share * math.Erfc(-z/math.Sqrt2) / 2
				density += p.Share * math.Exp(-z*z/2) / (p.U * math.Sqrt(2*math.Pi))
			}
			worst = max(worst, math.Abs(under-u))
			require.InDelta(t, u, under, 0.3*widest, "%+v below %g", s, x)
			h := 1e-4 * (s.Max - s.Min) // the density of the distribution itself
			if s.Log {
				h = 1e-4 * x
			}
			ends := min(u, 1-u) < 1.3*widest || s.Log && math.Abs(math.Log10(x/finely)) < 1.5/perCoarse
			if !ends {
				ratio := density * 2 * h / (below(s, x+h) - below(s, x-h))
				uneven = max(uneven, math.Abs(ratio-1))
				allowed := 0.125
				if s.Log && x > finely && s.Max > finely {
					allowed = 0.18 // of coarse pieces
				}
				require.InDelta(t, 1, ratio, allowed, "%+v at %g", s, x)
			}
		}
	}
	t.Logf("distribution functions are off by at most %.3f, densities by %.3f", worst, uneven)
}

// TestPiecesOfNothing checks the pieces of a fault without a parameter, and of limits that are one value.
func TestPiecesOfNothing(t *testing.T) {
	assert.Equal(t, []Piece{{Share: 1}}, Pieces(circuit.Spread{}, 1))
	assert.Equal(t, []Piece{{Mean: 7, Share: 1}}, Pieces(circuit.Spread{Min: 7, Max: 7, Log: true}, 1))
}

// A wind is a model for TestWindings.
type wind struct {
	row    circuit.Row
	warmth circuit.Warmth
	wide   bool
}

// winds draws what may be known of a winding.
func winds(r *rand.Rand) (list []wind) {
	for i := range 24 {
		w := wind{row: circuit.Row{At: quantity.Temperature(20 + 5*r.IntN(3))}, wide: i%4 == 3}
		w.row.Min = wide(r, 0.5, 500)
		w.row.Max = w.row.Min * wide(r, 1, 2)
		if i%3 > 0 {
			w.warmth = circuit.Warmth{Known: true, At: quantity.Temperature(r.Float64() * 100),
				Within: quantity.TemperatureDifference(wide(r, 1, 20))}
		}
		list = append(list, w)
	}
	return list
}

// TestWindings compares the pieces of the winding with draws: row, temperature and, where the row does not apply, the ratio of
// another row. Mean and spread of the resistance and of the temperature have to be right within what 40,000 draws can tell, and
// half a per cent; the spread of all pieces together may be 4 % too large, for their overlap.
func TestWindings(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	const draws = 40000
	for _, c := range winds(r) {
		m := circuit.New(circuit.High, circuit.Wire, 12.6, c.row.Min, c.row.Max)
		m.Row, m.Warmth = c.row, c.warmth
		var sr, srr, st, stt float64
		for range draws {
			lo, hi := winding.Anywhere.From, winding.Anywhere.To
			if c.warmth.Known {
				within := quantity.Temperature(c.warmth.Within)
				lo, hi = c.warmth.At-within, c.warmth.At+within
			}
			at := between(float64(lo), float64(hi), false, r.Float64())
			ohms := between(c.row.Min, c.row.Max, false, r.Float64()) * (at + 234.5) / (float64(c.row.At) + 234.5)
			if c.wide {
				ohms *= wide(r, 0.5, 2)
			}
			sr, srr, st, stt = sr+ohms/draws, srr+ohms*ohms/draws, st+at/draws, stt+at*at/draws
		}
		var share, pr, prr, pt, ptt float64
		for _, w := range Windings(m, c.wide) {
			share += w.Share
			pr, prr = pr+w.Share*w.Mean, prr+w.Share*(w.Mean*w.Mean+w.U*w.U)
			pt, ptt = pt+w.Share*w.At, ptt+w.Share*(w.At*w.At+w.Within*w.Within)
		}
		u, pu := math.Sqrt(srr-sr*sr), math.Sqrt(prr-pr*pr)
		ut, put := math.Sqrt(stt-st*st), math.Sqrt(max(0, ptt-pt*pt))
		const root = 200 // of the draws
		require.InDelta(t, 1, share, 1e-9, "%+v", c)
		require.InDelta(t, sr, pr, 5*u/root+0.005*sr, "%+v: mean", c)
		require.InDelta(t, u, pu, 5*u/root+0.05*u+0.002*sr, "%+v: spread", c)
		require.InDelta(t, st, pt, 5*ut/root+0.2, "%+v: mean temperature", c)
		require.InDelta(t, ut, put, 5*ut/root+0.05*ut, "%+v: spread of the temperature", c)
	}
}

// between returns the value at u, 0 to 1, of a scale from lo to hi.
func between(lo, hi float64, log bool, u float64) float64 {
	if log {
		return lo * math.Pow(hi/lo, u)
	}
	return lo + (hi-lo)*u
}

// wide draws a number that is uniform in its logarithm.
func wide(r *rand.Rand, lo, hi float64) float64 { return between(lo, hi, true, r.Float64()) }
