package doubt

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/portable"
)

// The columns of a reading's doubts that other readings share: the knobs, then the supply, what the driver does, and the errors of
// the meter for each quantity.
const (
	SupplyColumn = circuit.Knobs + iota
	DriveColumn
	MeterColumn
	Columns = MeterColumn + circuit.Meters
)

// The sums below are written out for this many columns.
var _ = [1]int{Columns - 11: 0}

// A Guess is what a reading should be: its value, +Inf for no path; how far one standard deviation of each shared doubt moves
// it; and the variance of what it shares with no other reading.
type Guess struct {
	Value  float64
	Shared [Columns]float64
	Own    float64
}

// Variance returns the variance of a reading about its guess.
func (g *Guess) Variance() float64 {
	s := &g.Shared
	return g.Own + (s[0]*s[0] + s[1]*s[1] + s[2]*s[2] + s[3]*s[3]) + (s[4]*s[4] + s[5]*s[5] + s[6]*s[6] + s[7]*s[7]) +
		(s[8]*s[8] + s[9]*s[9] + s[10]*s[10])
}

// with returns the covariance of two readings.
func (g *Guess) with(h *Guess) float64 {
	s, r := &g.Shared, &h.Shared
	return (s[0]*r[0] + s[1]*r[1] + s[2]*r[2] + s[3]*r[3]) + (s[4]*r[4] + s[5]*r[5] + s[6]*r[6] + s[7]*r[7]) +
		(s[8]*r[8] + s[9]*r[9] + s[10]*r[10])
}

// Hopeless is the square of the distance, in standard deviations, from which a reading counts only as simply wrong.
const Hopeless = 60

// Surprising is the surprise, in bits, from which readings do not fit a single fault: less than one in 128 by chance.
const Surprising = 7

// Mismatch is the distance, in standard deviations, that counts if one of guess and reading is OL and the other a number.
const Mismatch = 12

// A Joint is the joint normal distribution of readings: their guesses, the factor of their covariance (LLᵀ), and the readings'
// distances from the guesses.
type Joint struct {
	N    int
	G    [circuit.Tests]*Guess
	Off  [circuit.Tests]float64
	V    [circuit.Tests]float64 // their variances
	l    [circuit.Tests][circuit.Tests]float64
	inv  [circuit.Tests]float64 // 1 over the diagonal of L
	z    [circuit.Tests]float64 // L⁻¹ off
	Top  float64                // the density if every reading were its guess
	Chi2 float64                // Σz²
	// The same of the first readings, up to each.
	tops, chi2s [circuit.Tests]float64
}

// Density returns the density of the readings.
func (j *Joint) Density() float64 { return j.Top * Falling(j.Chi2) }

// Falling returns e^(−χ²/2), 0 where nothing is left of it.
func Falling(chi2 float64) float64 {
	const nothing = 1400
	if chi2 > nothing {
		return 0
	}
	return portable.Decay(chi2 / 2)
}

// Factor works out the density of the readings. It returns false if it is not worth the work: at least two readings are so far from
// their guesses that they cannot matter, whatever they share.
func (j *Joint) Factor() bool {
	far := 0
	for a := range j.N {
		j.V[a] = j.G[a].Variance()
		if j.Off[a]*j.Off[a] > Hopeless*j.V[a] {
			if far++; far > 1 {
				return false
			}
		}
	}
	j.Rows(0)
	return true
}

// Rows works out the density of the readings where those before one are worked out.
func (j *Joint) Rows(from int) {
	j.Top, j.Chi2 = 1, 0
	if from > 0 {
		j.Top, j.Chi2 = j.tops[from-1], j.chi2s[from-1]
	}
	for a := from; a < j.N; a++ {
		row := &j.l[a]
		d, z := j.V[a], j.Off[a]
		for b := range a {
			s := j.G[a].with(j.G[b])
			other := &j.l[b]
			for c := range b {
				s -= row[c] * other[c]
			}
			s *= j.inv[b]
			row[b] = s
			d -= s * s
			z -= s * j.z[b]
		}
		if d < 1e-12 {
			d = 1e-12
		}
		d = math.Sqrt(d)
		inv := 1 / d
		row[a], j.inv[a] = d, inv
		z *= inv
		j.z[a] = z
		j.Chi2 += z * z
		j.Top *= inv / (math.Sqrt2 * math.SqrtPi)
		j.tops[a], j.chi2s[a] = j.Top, j.Chi2
	}
}

// Leaving returns, for each reading, the density of the others, and by how much χ² falls without it.
//
//	with P the inverse of the covariance: √(2π/Pₖₖ) exp(½ (P·off)ₖ²/Pₖₖ) times the density;  (P·off)ₖ²/Pₖₖ
func (j *Joint) Leaving(others, falls *[circuit.Tests]float64) {
	var col [circuit.Tests]float64
	for k := range j.N {
		// Column k of L⁻¹ gives both: Pₖₖ is the sum of its squares, and (P·off)ₖ its product with z.
		s := j.inv[k]
		col[k] = s
		p, q := s*s, s*j.z[k]
		for a := k + 1; a < j.N; a++ {
			s, row := 0.0, &j.l[a]
			for c := k; c < a; c++ {
				s -= row[c] * col[c]
			}
			s *= j.inv[a]
			col[a] = s
			p += s * s
			q += s * j.z[a]
		}
		falls[k] = q * q / p
		others[k] = j.Top * math.Sqrt(2*math.Pi/p) * Falling(j.Chi2-falls[k])
	}
}

// Given returns the mean and the standard deviation of one more reading, from its guess and the readings.
func (j *Joint) Given(g *Guess) (mean, u float64) {
	mean = g.Value
	v := g.Variance()
	var w [circuit.Tests]float64
	for a := range j.N {
		s := g.with(j.G[a])
		for c := range a {
			s -= j.l[a][c] * w[c]
		}
		w[a] = s * j.inv[a]
		mean += w[a] * j.z[a]
		v -= w[a] * w[a]
	}
	return mean, math.Sqrt(max(v, g.Own))
}

// Without sets another to the same without one reading.
func (j *Joint) Without(k int, into *Joint) {
	into.N = 0
	for a := range j.N {
		if a != k {
			into.G[into.N], into.Off[into.N], into.V[into.N] = j.G[a], j.Off[a], j.V[a]
			into.N++
		}
	}
	into.Rows(0)
}
