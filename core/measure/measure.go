// Package measure holds readings of meters, their uncertainty, and whether a value conforms to a band.
//
// Uncertainty follows JCGM 100:2008 (GUM): every half-width stands for a rectangular distribution, and contributions are
// combined to first order. Conformity follows JCGM 106:2012 for a normally distributed result.
package measure

import (
	"math"
	"strings"

	"ohmwright/core/portable"
	"ohmwright/core/quantity"
)

// An Estimate is a value and its standard uncertainty, both in the contract's unit (a temperature's uncertainty in K). U is 0
// for a certain value.
type Estimate struct{ Value, U float64 }

// Rectangular returns the standard uncertainty of a quantity that is known to within ± a.
//
//	u = a / √3
//
// Source: JCGM 100:2008, 4.3.7. Checked in testdata/meters.json.
func Rectangular(a float64) float64 { return math.Abs(a) / math.Sqrt(3) }

// Combine returns the combined standard uncertainty of independent contributions.
//
//	u = √(u₁² + u₂² + …)
//
// Source: JCGM 100:2008, 5.1.2. It ignores correlation.
func Combine(us ...float64) float64 {
	sum := 0.0
	for _, u := range us {
		sum = portable.Hypot(sum, u)
	}
	return sum
}

// A Meter is a meter's accuracy as its manual states it: ± (Percent of reading + Counts × Resolution).
type Meter struct {
	Percent    float64 // per cent of the reading, 0 or more
	Counts     float64 // steps of the last digit, 0 or more
	Resolution float64 // one step of the last digit in the range used, in the unit of the reading
}

// HalfWidth returns the half-width of the meter's error at a reading, in the unit of the reading.
//
//	a = |reading| × Percent/100 + Counts × Resolution
//
// It ignores the error of probes and the burden of the range. Source: accuracy statements of meter makers, five of them in
// testdata/meters.json.
func (m Meter) HalfWidth(reading float64) float64 {
	return math.Abs(reading)*m.Percent/100 + m.Counts*m.Resolution
}

// U returns the standard uncertainty of a reading if its whole half-width is one rectangle: [Rectangular] of [Meter.HalfWidth]. Where
// other readings by the same meter stand beside it, see [Meter.Read].
func (m Meter) U(reading float64) float64 { return Rectangular(m.HalfWidth(reading)) }

// overSpellings are the ways in which meters and people write "over limit".
var overSpellings = []string{"OL", "O.L", "O.L.", ".OL", "0L", "0.L", "0.L.", ".0L", "∞", "OVER LIMIT"}

// Over reports whether a text is what a meter displays over its limit, when it finds no path. A unit may follow, since some
// displays keep it.
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

// A Reading is what a display showed: a resistance, or over limit.
type Reading struct {
	Ohms quantity.Resistance // 0 if Over
	Over bool
}
