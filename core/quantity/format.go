package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Format converts a value from the contract's unit and returns it as a text from which [Parse] with the same mark reads the
// same value: with the fewest digits for that, without grouping, and a space before the unit.
//
//	Format(0.0097, "mohm", OfResistance, Point) = "9.7 mohm"
//
// Units: the symbol of any unit of the kind; for an unknown symbol, the contract's unit.
// Not every float64 in degC has an exact decimal in degF or K. A temperature that was read in that unit is read back the same;
// any other may differ by a rounding of its last digit.
// Checked in parse_test.go for every unit and mark.
func Format(value float64, symbol string, k Kind, mark Mark) string {
	u, ok := unitNamed(k, symbol)
	if !ok {
		u = byKind[k][0]
	}
	var digits string
	if u.Before == 0 && u.Num == 1 && u.Den == 1 {
		digits = shifted(value, -u.Exp)
	} else {
		digits = u.digits(value)
	}
	digits = mark.In(digits)
	if u.Symbol == "1" {
		return digits
	}
	return digits + " " + u.Symbol
}

// digits returns the shortest decimal that is read back as value: the converted number or a float64 close to it.
func (u Unit) digits(value float64) string {
	guess := u.To(value)
	best := shifted(guess, 0)
	for prec := 6; prec <= 17; prec++ {
		s := strconv.FormatFloat(guess, 'g', prec, 64)
		f, _ := strconv.ParseFloat(s, 64)
		if u.From(f) == value {
			return shifted(f, 0)
		}
	}
	for _, toward := range []float64{math.Inf(-1), math.Inf(1)} {
		f := guess
		for range 4 {
			f = math.Nextafter(f, toward)
			if u.From(f) == value {
				return shifted(f, 0)
			}
		}
	}
	return best
}

// shifted returns value × 10^exp in the fewest digits that identify value. It moves the decimal point in the text, so that
// nothing is rounded.
func shifted(value float64, exp int) string {
	s := strconv.FormatFloat(value, 'e', -1, 64)
	mantissa, tail, _ := strings.Cut(s, "e")
	e, err := strconv.Atoi(tail)
	if err != nil {
		return s // infinity or NaN, which Parse never returns
	}
	sign := ""
	if mantissa[0] == '-' {
		sign, mantissa = "-", mantissa[1:]
	}
	digits := strings.Replace(mantissa, ".", "", 1)
	if strings.Trim(digits, "0") == "" {
		return sign + "0"
	}
	point := e + exp + 1 // digits before the decimal point
	switch {
	case point > 15 || point < -6:
		s := digits[:1]
		if len(digits) > 1 {
			s += "." + digits[1:]
		}
		return sign + s + "e" + strconv.Itoa(point-1)
	case point <= 0:
		return sign + "0." + strings.Repeat("0", -point) + digits
	case point >= len(digits):
		return sign + digits + strings.Repeat("0", point-len(digits))
	}
	return sign + digits[:point] + "." + digits[point:]
}
