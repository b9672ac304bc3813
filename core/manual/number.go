package manual

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ohmwright/core/quantity"
)

// number reads what begins with a digit, a point or "#": a number, an angle, a size in inches, or a name such as "6g" or "1st".
func (x *lexer) number(rest string) (token, int) {
	if a, b, n := ratio(rest); n > 0 {
		if tail, by := turnTail(rest[n:]); tail > 0 && by > 1 {
			return token{kind: anAngle, text: decimal(float64(by*a) / float64(b))}, n + tail
		}
	}
	if text, n := x.mixed(rest); n > 0 {
		return token{kind: aNumber, text: text}, n
	}
	if t, n := inch(rest); n > 0 && !x.unitFollows(rest[:n], rest[n:]) {
		return t, n
	}
	n := digitsEnd(rest)
	if n == 0 {
		return token{kind: aMark, text: "#"}, 1
	}
	text := rest[:n]
	if text[0] == '.' {
		text = "0" + text
	}
	if tail, by := turnTail(rest[n:]); tail > 0 {
		return ofTurn(text, by), n + tail
	}
	tail := strings.TrimLeft(rest[n:], " ")
	if c, w := utf8.DecodeRuneInString(tail); strings.ContainsRune(fractions, c) && strings.Trim(text, "0123456789") == "" {
		return token{kind: aNumber, text: text + decimals(c)}, len(rest) - len(tail) + w
	}
	return x.name(rest, text, n)
}

// digitsEnd returns how long the digits at the beginning of a text are, with the points, commas and apostrophes between them.
func digitsEnd(s string) (n int) {
	for n < len(s) {
		c, w := utf8.DecodeRuneInString(s[n:])
		if !digit(s[n]) && !(strings.ContainsRune(".,'’", c) && n+w < len(s) && digit(s[n+w])) {
			break
		}
		n += w
	}
	return n
}

// name decides what a number of n bytes is by the letters right after it: with a unit, or nothing, it is a number; else it is part of a
// name.
func (x *lexer) name(rest, number string, n int) (token, int) {
	c, _ := utf8.DecodeRuneInString(rest[n:])
	if !unicode.IsLetter(c) {
		return token{kind: aNumber, text: number}, n
	}
	if _, w := x.unit(rest[n:]); w > 0 {
		return token{kind: aNumber, text: number}, n
	}
	if c == 'x' || c == 'X' { // 4xM6, or 4x
		return token{kind: aWord, text: rest[:n+1]}, n + 1
	}
	n = lettersFrom(rest, n)
	if number, w := integer(rest); w > 0 && w <= 2 && oneOf([]string{"st", "nd", "rd", "th"}, rest[w:n]) {
		return token{kind: aStage, text: rest[:n], stage: number}, n
	}
	return token{kind: aWord, text: rest[:n]}, n
}

// fractions are those that have a character of their own.
const fractions = "½¼¾⅛⅜⅝⅞"

// decimals returns such a fraction as decimals, with the point.
func decimals(c rune) string {
	return map[rune]string{'½': ".5", '¼': ".25", '¾': ".75", '⅛': ".125", '⅜': ".375", '⅝': ".625", '⅞': ".875"}[c]
}

// decimal writes a number with as few digits as it takes, with a point.
func decimal(n float64) string { return strconv.FormatFloat(n, 'f', -1, 64) }

// mixed reads a number with a fraction before pounds or ounces, as a decimal: 7 1/2 ft-lb.
func (x *lexer) mixed(s string) (string, int) {
	whole, n := integer(s)
	numerator, denominator, m := fraction(s)
	if m == 0 && n > 0 && n < len(s) && (s[n] == ' ' || s[n] == '-') {
		if numerator, denominator, m = fraction(s[n+1:]); m > 0 {
			m += n + 1
		}
	} else {
		whole = 0
	}
	if m == 0 || denominator > 8 {
		return "", 0
	}
	if !x.inPounds(s[m:]) && !x.inPounds(behindSecond(s[m:])) {
		return "", 0
	}
	return decimal(float64(whole) + float64(numerator)/float64(denominator)), m
}

// inPounds reports whether a text begins with a unit of pounds or ounces.
func (x *lexer) inPounds(s string) bool {
	tail := strings.TrimLeft(s, " -")
	if tail == "" {
		return false
	}
	u, w := x.unit(tail)
	return w > 0 && (strings.HasPrefix(u.Symbol, "lbf") || strings.HasPrefix(u.Symbol, "ozf"))
}

// behindSecond returns what comes behind the second number of a range or a tolerance, "" where there is none: 6 1/2 - 7 1/2 ft-lb.
func behindSecond(s string) string {
	s = strings.TrimLeft(s, " ")
	for _, sign := range []string{"-", "–", "±", "to ", "bis "} {
		rest, is := strings.CutPrefix(s, sign)
		if !is {
			continue
		}
		rest = strings.TrimLeft(rest, " ")
		if n := digitsEnd(rest); n > 0 && (n == len(rest) || rest[n] != '/') {
			rest = strings.TrimLeft(rest[n:], " -")
		}
		if _, _, n := fraction(rest); n > 0 {
			rest = rest[n:]
		}
		return rest
	}
	return ""
}

// integer reads a whole number of at most four digits.
func integer(s string) (value, n int) {
	for n < len(s) && digit(s[n]) {
		n++
	}
	if n > 4 {
		return 0, 0
	}
	value, _ = strconv.Atoi(s[:n])
	return value, n
}

// fraction reads a fraction of an inch, less than one and in lowest terms.
func fraction(s string) (numerator, denominator, n int) {
	numerator, n = integer(s)
	if n == 0 || n+1 >= len(s) || s[n] != '/' {
		return 0, 0, 0
	}
	denominator, w := integer(s[n+1:])
	if w == 0 || !slices.Contains([]int{2, 4, 8, 16, 32, 64}, denominator) || numerator%2 == 0 || numerator >= denominator {
		return 0, 0, 0
	}
	n += 1 + w
	if n < len(s) && (s[n] == '/' || s[n] == '.' && n+1 < len(s) && digit(s[n+1])) {
		return 0, 0, 0
	}
	return numerator, denominator, n
}

// ratio reads any fraction of numbers of one or two digits: 1/4, 2/3.
func ratio(s string) (a, b, n int) {
	a, n = integer(s)
	if n == 0 || n > 2 || n >= len(s) || s[n] != '/' {
		return 0, 0, 0
	}
	b, w := integer(s[n+1:])
	if w == 0 || w > 2 || b == 0 || a == 0 {
		return 0, 0, 0
	}
	return a, b, n + 1 + w
}

// plainNumber reads a number with at most one point or comma in it, followed by a digit.
func plainNumber(s string) (value float64, n int) {
	marked := false
	for n < len(s) && n < 8 && (digit(s[n]) || !marked && n > 0 && (s[n] == '.' || s[n] == ',') && n+1 < len(s) && digit(s[n+1])) {
		marked = marked || !digit(s[n])
		n++
	}
	value, _ = strconv.ParseFloat(strings.Replace(s[:n], ",", ".", 1), 64)
	return value, n
}

// degrees is the unit of angles.
var degrees = quantity.Units(quantity.OfAngle)[0]

func isDegrees(u quantity.Unit) bool { return u.Symbol == degrees.Symbol }

// turnTail reads what makes the number before it an angle, and returns its length and the degrees of one: 1 for °, 360 for a turn. The
// length is 0 if there is none, or if it is a temperature.
func turnTail(rest string) (n, by int) {
	tail := strings.TrimLeft(rest, " ")
	if len(rest)-len(tail) > 1 {
		return 0, 0 // the next cell
	}
	c, w := utf8.DecodeRuneInString(tail)
	switch {
	case isDegreeSign(c):
		by = 1
	default:
		tail = strings.TrimPrefix(tail, "-")
		w = len(tail) - len(strings.TrimLeftFunc(tail, unicode.IsLetter))
		switch word := tail[:w]; {
		case oneOf(degreeNames, word):
			by = 1
		case oneOf(turnNames, word):
			return len(rest) - len(tail) + w, 360
		default:
			return 0, 0
		}
	}
	if scale := strings.TrimLeft(tail[w:], " ."); scale != "" && strings.IndexByte("CFKcfk", scale[0]) >= 0 && !letterFirst(scale[1:]) {
		return 0, 0
	}
	return len(rest) - len(tail) + w, by
}

// isDegreeSign reports whether a character is a degree sign, or one that is taken for it.
func isDegreeSign(c rune) bool { return c == '°' || c == 'º' || c == '˚' }

// ofTurn returns an angle: a number of times so many degrees.
func ofTurn(number string, by int) token {
	if by > 1 {
		n, _ := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
		number = decimal(n * float64(by))
	}
	return token{kind: anAngle, text: number}
}
