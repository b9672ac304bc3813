// Package measure holds what a meter tells: a reading, its uncertainty, the meter's accuracy, and whether a value
// conforms to a band.
//
// Uncertainty follows JCGM 100:2008 (GUM): every half-width is a rectangular distribution, contributions are combined to
// first order. Conformity follows JCGM 106:2012 for a normally distributed result.
package measure

import (
	"math"
	"strings"

	"ohmwright/core/quantity"
)

// An Estimate is a value and its standard uncertainty, both in the contract's unit of the quantity (a temperature's
// uncertainty in K). U is zero for what is certain.
type Estimate struct{ Value, U float64 }

// Rectangular is the standard uncertainty of a quantity known to lie within ± a.
//
//	u = a / √3
//
// Source: JCGM 100:2008, 4.3.7. Checked in testdata/meters.json.
func Rectangular(a float64) float64 { return math.Abs(a) / math.Sqrt(3) }

// Combine is the combined standard uncertainty of independent contributions.
//
//	u = √(u₁² + u₂² + …)
//
// Source: JCGM 100:2008, 5.1.2. It ignores correlation.
func Combine(us ...float64) float64 {
	sum := 0.0
	for _, u := range us {
		sum = math.Hypot(sum, u)
	}
	return sum
}

// A Meter is the accuracy that a meter's manual states: ± (Percent of reading + Counts × Resolution).
type Meter struct {
	Percent    float64 // in per cent of the reading, 0 or more
	Counts     float64 // digits of the last place, 0 or more
	Resolution float64 // one digit of the last place in the range used, in the unit of the reading
}

// HalfWidth is the half-width of the meter's error at a reading, in the unit of the reading.
//
//	a = |reading| × Percent/100 + Counts × Resolution
//
// It ignores the error of probes and of the range's burden. Source: meter makers' accuracy statements, five of them in
// testdata/meters.json.
func (m Meter) HalfWidth(reading float64) float64 {
	return math.Abs(reading)*m.Percent/100 + m.Counts*m.Resolution
}

// U is the standard uncertainty of a reading: [Rectangular] of [Meter.HalfWidth].
func (m Meter) U(reading float64) float64 { return Rectangular(m.HalfWidth(reading)) }

// overSpellings are the ways in which meters and people write "over limit". An infinity sign is one.
var overSpellings = []string{"OL", "O.L", "O.L.", ".OL", "0L", "0.L", "0.L.", ".0L", "∞", "OVER LIMIT"}

// Over says whether a text is the display of a meter over its limit: no path that it can measure. A unit behind it is
// allowed, as some displays keep it.
func Over(text string) bool {
	t := strings.ToUpper(strings.TrimSpace(text))
	if len(t) > 16 {
		return false
	}
	for _, s := range overSpellings {
		if rest, ok := strings.CutPrefix(t, s); ok {
			rest = strings.TrimSpace(rest)
			switch rest {
			case "", "OHM", "KOHM", "MOHM", "Ω", "\u2126", "MΩ", "KΩ":
				return true
			}
		}
	}
	return false
}

// A Reading is what the display showed: a resistance, or over limit.
type Reading struct {
	Ohms quantity.Resistance // zero where Over
	Over bool
}
