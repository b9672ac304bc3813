package measure

import "math"

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

// Verdict returns the verdict whose probability reaches [Sure], or Undecided.
func (c Conformity) Verdict() Verdict {
	switch {
	case c.Below >= Sure:
		return Below
	case c.Within >= Sure:
		return Within
	case c.Above >= Sure:
		return Above
	}
	return Undecided
}

// normal returns Φ, the distribution function of the standard normal distribution.
func normal(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
