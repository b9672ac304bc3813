package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/portable"
)

// The columns of a reading's doubts that other readings share: the knobs, then the supply, what the driver does, and the errors of
// the meter for each quantity.
const (
	supplyColumn = circuit.Knobs + iota
	driveColumn
	meterColumn
	columns = meterColumn + circuit.Meters
)

// A guess is what a reading should be: its value, +Inf for no path; how far one standard deviation of each shared doubt moves
// it; and the variance of what it shares with no other reading.
type guess struct {
	value  float64
	shared [columns]float64
	own    float64
}

// variance returns the variance of a reading about its guess.
func (g *guess) variance() float64 {
	v := g.own
	for _, s := range g.shared {
		v += s * s
	}
	return v
}

// with returns the covariance of two readings.
func (g *guess) with(h *guess) (v float64) {
	for c, s := range g.shared {
		v += s * h.shared[c]
	}
	return v
}

// hopeless is the square of the distance, in standard deviations, from which a reading counts only as simply wrong.
const hopeless = 60

// A joint is the joint normal distribution of readings: their guesses, the factor of their covariance (LLᵀ), and the readings'
// distances from the guesses.
type joint struct {
	n    int
	g    [circuit.Tests]*guess
	off  [circuit.Tests]float64
	l    [circuit.Tests][circuit.Tests]float64
	z    [circuit.Tests]float64 // L⁻¹ off
	top  float64                // the density if every reading were its guess
	chi2 float64                // Σz²
}

// density returns the density of the readings.
func (j *joint) density() float64 { return j.top * falling(j.chi2) }

// falling returns e^(−χ²/2), 0 where nothing is left of it.
func falling(chi2 float64) float64 {
	const nothing = 1400
	if chi2 > nothing {
		return 0
	}
	return portable.Exp(-chi2 / 2)
}

// factor works out the density of the readings. It returns false if it is not worth the work: at least two readings are so far from
// their guesses that they cannot matter, whatever they share.
func (j *joint) factor() bool {
	far := 0
	for a := range j.n {
		v := j.g[a].variance()
		j.l[a][a] = v
		if j.off[a]*j.off[a] > hopeless*v {
			if far++; far > 1 {
				return false
			}
		}
	}
	j.top, j.chi2 = 1, 0
	for a := range j.n {
		row := &j.l[a]
		for b := range a {
			s := j.g[a].with(j.g[b])
			for c := range b {
				s -= row[c] * j.l[b][c]
			}
			row[b] = s / j.l[b][b]
		}
		d := row[a]
		z := j.off[a]
		for c := range a {
			d -= row[c] * row[c]
			z -= row[c] * j.z[c]
		}
		if d < 1e-12 {
			d = 1e-12
		}
		d = math.Sqrt(d)
		row[a] = d
		z /= d
		j.z[a] = z
		j.chi2 += z * z
		j.top /= math.Sqrt2 * math.SqrtPi * d
	}
	return true
}

// leaving returns, for each reading, the density of the others, and by how much χ² falls without it.
//
//	with P the inverse of the covariance: √(2π/Pₖₖ) exp(½ (P·off)ₖ²/Pₖₖ) times the density;  (P·off)ₖ²/Pₖₖ
func (j *joint) leaving(others, falls *[circuit.Tests]float64) {
	for k := range j.n {
		// Column k of L⁻¹ gives both: Pₖₖ is the sum of its squares, and (P·off)ₖ its product with z.
		var col [circuit.Tests]float64
		p, q := 0.0, 0.0
		for a := k; a < j.n; a++ {
			s := 0.0
			if a == k {
				s = 1
			}
			for c := k; c < a; c++ {
				s -= j.l[a][c] * col[c]
			}
			col[a] = s / j.l[a][a]
			p += col[a] * col[a]
			q += col[a] * j.z[a]
		}
		falls[k] = q * q / p
		others[k] = j.top * math.Sqrt(2*math.Pi/p) * falling(j.chi2-falls[k])
	}
}

// given returns the mean and the standard deviation of one more reading, from its guess and the readings.
func (j *joint) given(g *guess) (mean, u float64) {
	mean = g.value
	v := g.variance()
	var w [circuit.Tests]float64
	for a := range j.n {
		s := g.with(j.g[a])
		for c := range a {
			s -= j.l[a][c] * w[c]
		}
		w[a] = s / j.l[a][a]
		mean += w[a] * j.z[a]
		v -= w[a] * w[a]
	}
	return mean, math.Sqrt(max(v, g.own))
}

// without leaves one reading out.
func (j *joint) without(k int) {
	copy(j.g[k:], j.g[k+1:j.n])
	copy(j.off[k:], j.off[k+1:j.n])
	j.n--
	j.factor()
}
