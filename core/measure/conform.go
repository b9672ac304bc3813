package measure

import (
	"math"

	"ohmwright/core/portable"
)

// A Band is an interval of permitted values. A limit that is not given is infinite.
type Band struct{ Min, Max float64 }

// Everything returns the band without limits. Set the limits that are given.
func Everything() Band { return Band{math.Inf(-1), math.Inf(1)} }

// HasMin reports whether the lower limit is given.
func (b Band) HasMin() bool { return !math.IsInf(b.Min, -1) }

// HasMax reports whether the upper limit is given.
func (b Band) HasMax() bool { return !math.IsInf(b.Max, 1) }

// A Verdict is where a value is relative to a band.
type Verdict string

// The verdicts of a value against a band.
const (
	Undecided Verdict = "undecided"
	Below     Verdict = "below"
	Within    Verdict = "within"
	Above     Verdict = "above"
)

// Sure is the probability from which there is a verdict: 95 %, the default of ISO 14253-1:2017 (from memory).
const Sure = 0.95

// tie is how much a probability may fall short of a limit and still reach it: more than machines differ by in their last bits.
const tie = 1e-12

// Reaches reports whether a probability is enough for a verdict.
func Reaches(p float64) bool { return p >= Sure-tie }

// Conformity holds the probabilities that the true value is below, within and above a band. They add up to 1.
type Conformity struct{ Below, Within, Above float64 }

// Conform compares an estimate with a band.
//
//	p(below) = Φ((min − y)/u), p(above) = Φ((y − max)/u), p(within) = the rest
//
// With u = 0 the probabilities are 0 or 1, and a value on a limit is within. It ignores anything known before the measurement.
// Source: JCGM 106:2012, 7.2. Checked in testdata/conformity.json.
func Conform(e Estimate, b Band) Conformity {
	if e.U == 0 {
		switch {
		case e.Value < b.Min:
			return Conformity{Below: 1}
		case e.Value > b.Max:
			return Conformity{Above: 1}
		}
		return Conformity{Within: 1}
	}
	zMin, zMax := (b.Min-e.Value)/e.U, (e.Value-b.Max)/e.U
	c := Conformity{Below: normal(zMin), Above: normal(zMax)}
	c.Within = max(0, 1-c.Below-c.Above)
	return c
}

// ConformMoving compares an estimate with a band that is not known exactly: anywhere between two places is alike likely, its limits
// moving together. So does a specification move with a temperature that nobody has measured.
//
//	p(below) = mean of Φ((min − y)/u) while min goes from one place to the other = (H(z₂) − H(z₁))/(z₂ − z₁)
//	H(z) = ∫ Φ = z Φ(z) + φ(z), z = (min − y)/u
//
// Both places have the same limits given. Checked by testdata/montecarlo.py.
func ConformMoving(e Estimate, from, to Band) Conformity {
	c := Conformity{}
	if from.HasMin() {
		c.Below = meanNormal(from.Min-e.Value, to.Min-e.Value, e.U)
	}
	if from.HasMax() {
		c.Above = meanNormal(e.Value-from.Max, e.Value-to.Max, e.U)
	}
	c.Within = max(0, 1-c.Below-c.Above)
	return c
}

// meanNormal returns the mean of Φ(x/u) while x goes evenly from a to b.
func meanNormal(a, b, u float64) float64 {
	if a > b {
		a, b = b, a
	}
	const (
		near = 1e-4 // of u: the midpoint is then exact to 1e-9
		far  = 40   // Φ(−far) is nothing
	)
	switch {
	case a > far*u:
		return 1
	case b < -far*u:
		return 0
	case b-a <= near*u:
		if u == 0 { // then a and b are 0
			return 0
		}
		return normal((a + b) / 2 / u)
	case u <= (b-a)*1e-12: // Φ is a step
		return min(max(b, 0)/(b-a), 1)
	}
	integral := func(z float64) float64 { return z*normal(z) + portable.Exp(-z*z/2)/math.Sqrt(2*math.Pi) }
	return min(1, max(0, (integral(b/u)-integral(a/u))/((b-a)/u)))
}

// Verdict returns the verdict whose probability reaches [Sure], or Undecided.
func (c Conformity) Verdict() Verdict {
	switch {
	case Reaches(c.Below):
		return Below
	case Reaches(c.Within):
		return Within
	case Reaches(c.Above):
		return Above
	}
	return Undecided
}

// normal returns Φ, the distribution function of the standard normal distribution.
func normal(z float64) float64 { return portable.Erfc(-z/math.Sqrt2) / 2 }
