package wording

import (
	"math"
	"strconv"
	"strings"

	"ohmwright/core/portable"
	"ohmwright/core/quantity"
)

// Number writes a number with so many decimals, in the digits 0 to 9 and with the decimal mark of the reader's locale.
// Without grouping, the mark is all that a locale changes. Thousands are not grouped: a grouping mark can be mistaken for
// a decimal mark, and the units here keep numbers short.
func (s *Speaker) Number(v float64, decimals int) string {
	text := s.mark.In(strconv.FormatFloat(math.Abs(v), 'f', decimals, 64))
	if v < 0 && strings.ContainsAny(text, "123456789") {
		return "\u2212" + text
	}
	return text
}

// Exact writes a number in the fewest digits that represent it exactly.
func (s *Speaker) Exact(v float64) string {
	_, fraction, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	return s.Number(v, len(fraction))
}

// Marked writes a text whose numbers have a point, such as a formula, with the decimal mark of the reader's locale. The point of N.m stays.
func (s *Speaker) Marked(text string) string {
	parts := strings.Split(text, ".")
	out := parts[0]
	for _, part := range parts[1:] {
		point := "."
		if s.mark == quantity.Comma && endsInDigit(out) && startsWithDigit(part) {
			point = ","
		}
		out += point + part
	}
	return out
}

func endsInDigit(s string) bool     { return s != "" && '0' <= s[len(s)-1] && s[len(s)-1] <= '9' }
func startsWithDigit(s string) bool { return s != "" && '0' <= s[0] && s[0] <= '9' }

// Figures writes a number to so many significant digits, but never rounds its whole part.
func (s *Speaker) Figures(v float64, digits int) string {
	return s.Number(v, max(0, digits-1-magnitude(v)))
}

// magnitude returns the power of ten of a number's first digit; 0 for 0.
func magnitude(v float64) int {
	v = math.Abs(v)
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	return max(-9, int(math.Floor(portable.Log10(v))))
}

// Of writes a value, given in the contract's unit of its kind, in the unit that a person would use. It has the digits that
// are meaningful for the standard uncertainty u; if u is 0, it is written as typed, or to four figures.
func (s *Speaker) Of(k quantity.Kind, v, u float64) string {
	v, u, unit := personal(k, v, u)
	return s.digits(v, u) + unit
}

// PlusMinus writes a value as [Speaker.Of] does, with its expanded uncertainty (k = 2, about 95 %).
func (s *Speaker) PlusMinus(k quantity.Kind, v, u float64) string {
	if u == 0 {
		return s.Of(k, v, 0)
	}
	v, u, unit := personal(k, v, u)
	// One figure of the uncertainty is enough, or two if it begins with a 1 or a 2.
	wide := 2 * u
	decimals := -magnitude(wide)
	if wide < 3*portable.Pow(10, float64(magnitude(wide))) {
		decimals++
	}
	decimals = max(0, min(6, decimals))
	return s.Number(v, decimals) + " ± " + s.Number(wide, decimals) + unit
}

// Ohms writes a resistance as [Speaker.Of] does.
func (s *Speaker) Ohms(v, u float64) string { return s.Of(quantity.OfResistance, v, u) }

// Volts writes a voltage as [Speaker.Of] does.
func (s *Speaker) Volts(v, u float64) string { return s.Of(quantity.OfVoltage, v, u) }

// Amperes writes a current as [Speaker.Of] does.
func (s *Speaker) Amperes(v, u float64) string { return s.Of(quantity.OfCurrent, v, u) }

// Celsius writes a temperature as [Speaker.Of] does.
func (s *Speaker) Celsius(v, u float64) string { return s.Of(quantity.OfTemperature, v, u) }

// personal converts a value and its uncertainty to the unit that a person would use. The text is the unit to write after the number.
func personal(k quantity.Kind, v, u float64) (float64, float64, string) {
	switch k {
	case quantity.OfResistance:
		switch a := math.Abs(v); {
		case a >= 1e6:
			return v / 1e6, u / 1e6, "\u00a0MΩ"
		case a >= 1e4:
			return v / 1e3, u / 1e3, "\u00a0kΩ"
		}
	case quantity.OfInductance, quantity.OfTime, quantity.OfEnergy, quantity.OfPower:
		sign := quantity.Units(k)[0].Sign
		switch a := math.Abs(v); {
		case a == 0 || a >= 1 || k == quantity.OfPower && a >= 0.1:
		case a >= 1e-3 || k == quantity.OfPower || k == quantity.OfEnergy:
			return v * 1e3, u * 1e3, "\u00a0m" + sign
		default:
			return v * 1e6, u * 1e6, "\u00a0µ" + sign
		}
	case quantity.OfForce:
		if math.Abs(v) >= 1e3 {
			return v / 1e3, u / 1e3, "\u00a0kN"
		}
	case quantity.OfFrequency:
		if math.Abs(v) >= 1e4 {
			return v / 1e3, u / 1e3, "\u00a0kHz"
		}
	case quantity.OfAngle:
		return v, u, "°"
	case quantity.OfRatio:
		return v * 100, u * 100, "\u00a0%"
	}
	return v, u, "\u00a0" + quantity.Units(k)[0].Sign
}

// digits writes v to the decimal place of the second figure of its uncertainty.
func (s *Speaker) digits(v, u float64) string {
	if u > 0 {
		return s.Number(v, max(0, min(6, 1-magnitude(u))))
	}
	p := 1.0
	for d := 0; d < 4; d, p = d+1, p*10 {
		if math.Round(v*p)/p == v {
			return s.Number(v, d)
		}
	}
	return s.Figures(v, 4)
}

// Percent writes a share in whole per cent.
func (s *Speaker) Percent(p float64) string { return s.Number(p*100, 0) + "\u00a0%" }

// Chance writes a probability in whole per cent, but never as 0 or 100.
func (s *Speaker) Chance(p float64) string {
	switch {
	case p > 0.995:
		return ">\u00a0" + s.Percent(0.99)
	case p < 0.005:
		return "<\u00a0" + s.Percent(0.01)
	}
	return s.Percent(p)
}

// Share writes a share in per cent, to a tenth unless that is 0.
func (s *Speaker) Share(v float64) string {
	tenths := math.Round(v * 1e3)
	return s.Number(tenths/10, min(1, int(math.Abs(math.Mod(tenths, 10))))) + "\u00a0%"
}

// AtMost writes a number to at most so many figures, without trailing zeros.
func (s *Speaker) AtMost(v float64, figures int) string {
	if v == 0 {
		return s.Number(0, 0)
	}
	power := int(math.Floor(portable.Log10(math.Abs(v))))
	decimals := max(0, figures-1-power)
	short := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(short, ".") {
		short = strings.TrimRight(short, "0")
		decimals = len(short) - strings.IndexByte(short, '.') - 1
	}
	return s.Number(v, decimals)
}

// Whole writes an estimate as a whole number.
func (s *Speaker) Whole(v float64) string { return s.Number(math.Round(v), 0) }

// Degrees writes a temperature to a tenth of a degree.
func (s *Speaker) Degrees(t float64) string { return s.Celsius(math.Round(t*10)/10, 0) }

// Three writes a quantity to three figures.
func (s *Speaker) Three(k quantity.Kind, v float64) string {
	if v == 0 {
		return s.Of(k, 0, 0)
	}
	return s.Of(k, v, 1.5*portable.Pow(10, math.Floor(portable.Log10(math.Abs(v)))-1))
}

// Typed writes a number as it was typed, but to at most two decimals.
func (s *Speaker) Typed(v float64) string {
	switch {
	case v == math.Trunc(v):
		return s.Number(v, 0)
	case math.Round(v*10)/10 == v:
		return s.Number(v, 1)
	}
	return s.Number(v, 2)
}
