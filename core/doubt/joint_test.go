package doubt

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/testdata"
)

// A dense is a covariance as a full matrix, with the distances of the readings.
type dense struct {
	c   [][]float64
	off []float64
}

// covariance writes out the covariance of readings from the doubts that they share.
func covariance(list []Guess, off []float64) (d dense) {
	d.off = off
	for i := range list {
		row := make([]float64, len(list))
		for k := range list {
			for s := range list[i].Shared {
				row[k] += list[i].Shared[s] * list[k].Shared[s]
			}
		}
		row[i] += list[i].Own
		d.c = append(d.c, row)
	}
	return d
}

// inverse returns the inverse of the covariance and the logarithm of its determinant, by Gauss and Jordan with pivots.
func (d dense) inverse() (inv [][]float64, logDet float64) {
	n := len(d.c)
	a := make([][]float64, n)
	for i := range a {
		a[i] = append(slices.Clone(d.c[i]), make([]float64, n)...)
		a[i][n+i] = 1
	}
	for k := range n {
		p := k
		for i := k; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[p][k]) {
				p = i
			}
		}
		a[k], a[p] = a[p], a[k]
		pivot := a[k][k]
		logDet += math.Log(math.Abs(pivot))
		for c := range a[k] {
			a[k][c] /= pivot
		}
		for i := range n {
			if i == k {
				continue
			}
			f := a[i][k]
			for c := range a[i] {
				a[i][c] -= f * a[k][c]
			}
		}
	}
	for i := range a {
		inv = append(inv, a[i][n:])
	}
	return inv, logDet
}

// density returns χ² and the logarithm of the normal density.
func (d dense) density() (chi2, log float64) {
	inv, logDet := d.inverse()
	for i, row := range inv {
		for k, q := range row {
			chi2 += d.off[i] * q * d.off[k]
		}
	}
	return chi2, -chi2/2 - logDet/2 - float64(len(d.off))/2*math.Log(2*math.Pi)
}

// without returns the same without one reading.
func (d dense) without(k int) (e dense) {
	for i, row := range d.c {
		if i != k {
			e.c = append(e.c, slices.Delete(slices.Clone(row), k, k+1))
			e.off = append(e.off, d.off[i])
		}
	}
	return e
}

// guesses draws n readings with shared doubts, and distances that they may have.
func guesses(r *rand.Rand, n int) (list []Guess, off []float64) {
	for range n {
		g := Guess{Value: r.NormFloat64() * 10, Own: wide(r, 1e-3, 1)}
		for c := range g.Shared {
			if r.IntN(3) > 0 {
				g.Shared[c] = r.NormFloat64() * wide(r, 0.01, 1)
			}
		}
		list = append(list, g)
		off = append(off, r.NormFloat64()*math.Sqrt(g.Variance()))
	}
	return list, off
}

// TestJointDensity compares the density of readings, what leaving one out changes, and what they tell of one more, with the same
// worked out with full matrices.
func TestJointDensity(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 26))
	for range testdata.Several(2000) {
		n := r.IntN(circuit.Tests)
		list, off := guesses(r, n+1)
		more := list[n]
		d := covariance(list[:n], off[:n])
		var j Joint
		j.N = n
		for k := range n {
			j.G[k], j.Off[k] = &list[k], off[k]
		}
		require.True(t, j.Factor())
		chi2, log := d.density()
		require.InEpsilon(t, 1+chi2, 1+j.Chi2, 1e-8)
		require.InDelta(t, log, math.Log(j.Density()), 1e-7*(1+math.Abs(log)))
		var others, falls [circuit.Tests]float64
		j.Leaving(&others, &falls)
		for k := range n {
			less, logLess := d.without(k).density()
			require.InDelta(t, chi2-less, falls[k], 1e-6*(1+chi2), "reading %d of %d", k, n)
			require.InDelta(t, logLess, math.Log(others[k]), 1e-6*(1+math.Abs(log)), "reading %d of %d", k, n)
		}
		mean, u := j.Given(&more)
		wantMean, wantU := d.given(list[:n], more)
		require.InDelta(t, wantMean, mean, 1e-7*(1+math.Abs(wantMean)))
		require.InEpsilon(t, wantU, u, 1e-6)
	}
}

// given returns the mean and the standard deviation of one more reading.
//
//	mean = g + cᵀ C⁻¹ off;  u² = v − cᵀ C⁻¹ c
func (d dense) given(list []Guess, more Guess) (mean, u float64) {
	inv, _ := d.inverse()
	c := make([]float64, len(list))
	for i := range list {
		for s, q := range more.Shared {
			c[i] += q * list[i].Shared[s]
		}
	}
	mean, v := more.Value, more.Own
	for _, q := range more.Shared {
		v += q * q
	}
	for i, row := range inv {
		for k, q := range row {
			mean += c[i] * q * d.off[k]
			v -= c[i] * q * c[k]
		}
	}
	return mean, math.Sqrt(v)
}

// TestJointGivesUp checks that only two readings, each hopelessly far by itself, make a density not worth the work.
func TestJointGivesUp(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 26))
	for range 200 {
		n := 2 + r.IntN(6)
		list, off := guesses(r, n)
		far := r.IntN(n + 1)
		var j Joint
		j.N = n
		for k := range n {
			j.G[k], j.Off[k] = &list[k], off[k]
			if k < far {
				j.Off[k] = 9 * math.Sqrt(list[k].Variance())
			}
		}
		require.Equal(t, far < 2, j.Factor(), "%d of %d are nine standard deviations off", far, n)
	}
}
