package recording

import (
	"math"
	"strconv"
	"strings"
)

const minus = "\u2212" // the typographic one

// numberLike reports whether a cell is a number, whichever its decimal mark.
func numberLike(c string) bool {
	digits := 0
	for k := 0; k < len(c); k++ {
		switch b := c[k]; {
		case b >= '0' && b <= '9':
			digits++
		case b == '.' || b == ',':
		case b == '-' || b == '+':
			if k > 0 && c[k-1]|0x20 != 'e' {
				return false
			}
		case b|0x20 == 'e':
			if digits == 0 || k == len(c)-1 {
				return false
			}
		case k == 0 && strings.HasPrefix(c, minus):
			return digits == 0 && numberLike(c[len(minus):])
		default:
			return false
		}
	}
	return digits > 0
}

// parse reads a cell with the decimal mark; the other mark separates groups of digits.
func parse(c string, decimal mark) (float64, FaultKind) {
	if !numberLike(c) {
		switch strings.ToLower(strings.TrimLeft(c, "+-")) {
		case "nan", "inf", "infinity", "∞", "-∞":
			return 0, OutOfRange
		}
		return 0, NotNumber
	}
	if rest, ok := strings.CutPrefix(c, minus); ok {
		c = "-" + rest
	}
	if decimal == comma {
		c = strings.Replace(strings.ReplaceAll(c, ".", ""), ",", ".", 1)
	} else {
		c = strings.ReplaceAll(c, ",", "")
	}
	v, err := strconv.ParseFloat(c, 64)
	switch {
	case err != nil && math.IsInf(v, 0):
		return 0, OutOfRange
	case err != nil:
		return 0, NotNumber
	}
	return v, 0
}
