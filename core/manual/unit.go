package manual

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"ohmwright/core/quantity"
)

const (
	mostUnitWords = 5  // of one unit
	mostUnitBytes = 40 // before the last of them
)

// unit reads a unit of torque: the longest spelling of one that the text begins with.
func (x *lexer) unit(rest string) (quantity.Unit, int) {
	if !strings.ContainsRune("ncdmlifkop", unicode.ToLower(rune(rest[0]))) {
		return quantity.Unit{}, 0
	}
	ends := unitEnds(rest)
	for k := len(ends) - 1; k >= 0; k-- {
		if u := x.named(rest[:ends[k]]); u.Symbol != "" {
			return u, ends[k]
		}
	}
	return quantity.Unit{}, 0
}

// named returns the unit of torque of a name; the zero Unit is none.
func (x *lexer) named(name string) quantity.Unit {
	u, seen := x.known[name]
	if !seen {
		if v, err := quantity.Parse("1 "+strings.Replace(name, "/", "-", 1), quantity.Point, quantity.OfTorque); err == nil {
			u = v.Unit
		}
		x.known[name] = u
	}
	return u
}

// unitEnds returns where a unit may end: after each of the first words. Blanks and up to two signs may come between words: lbs.-ft.
func unitEnds(rest string) (ends []int) {
	for at, words := 0, 0; at < len(rest) && words < mostUnitWords && at < mostUnitBytes; words++ {
		n := at
		for n < len(rest) {
			c, w := utf8.DecodeRuneInString(rest[n:])
			if !unicode.IsLetter(c) {
				break
			}
			n += w
		}
		if n == at {
			break
		}
		if n >= len(rest) || !digit(rest[n]) {
			ends = append(ends, n)
		}
		at = n
		for signs := 0; at < len(rest); {
			c, w := utf8.DecodeRuneInString(rest[at:])
			if c != ' ' {
				if signs++; signs > 2 || !strings.ContainsRune(".-/·⋅∙•*×", c) {
					break
				}
			}
			at += w
		}
	}
	return ends
}

// unitFollows reports whether the number at the end of a size is a torque instead: M6-10 N·m.
func (x *lexer) unitFollows(size, rest string) bool {
	if size == "" || !digit(size[len(size)-1]) {
		return false
	}
	rest = strings.TrimLeft(rest, " ")
	if rest == "" {
		return false
	}
	_, n := x.unit(rest)
	return n > 0
}
