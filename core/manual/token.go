package manual

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A token is the smallest part of a line that means something.
type token struct {
	kind tokenKind
	text string // of an angle the degrees alone
	cell int
	unit quantity.Unit // of a unit
	size size          // of a size
	// stage is the number of a stage, 0 for a word that has none, or follows.
	stage int
}

// follows marks a word such as "then": the next torque is another stage.
const follows = -1

type tokenKind uint8

const (
	aWord tokenKind = iota
	aNumber
	aUnit
	aSize
	aDash // or a word such as "to"
	aPlusMinus
	aMark
	anAngle
	aStage
)

// A size is what is known of a metric size. It is zero for one in inches.
type size struct {
	thread   *fastener.Thread
	diameter quantity.Length
}

// A row is a line in cells and tokens.
type row struct {
	split
	tokens []token
}

// is reports whether token k exists and is of a kind.
func (r row) is(k int, kind tokenKind) bool {
	return k >= 0 && k < len(r.tokens) && r.tokens[k].kind == kind
}

// isMark reports whether token k exists and is a sign.
func (r row) isMark(k int, text string) bool { return r.is(k, aMark) && r.tokens[k].text == text }

// same reports whether two tokens are in one cell.
func (r row) same(a, b int) bool { return r.tokens[a].cell == r.tokens[b].cell }

// A lexer reads tokens.
type lexer struct {
	known  map[string]quantity.Unit // spellings looked up before; the zero Unit is none
	staged bool                     // the token before names a stage
}

// row reads the cells of a line.
func (x *lexer) row(s split) row {
	r := row{split: s}
	x.staged = false
	for k, c := range s.cells {
		for at := 0; at < len(c.text); {
			t, n := x.token(c.text, at)
			if n <= 0 {
				_, n = utf8.DecodeRuneInString(c.text[at:])
			} else {
				t.cell = k
				r.tokens = append(r.tokens, t)
				x.staged = t.kind == aStage
			}
			at += n
		}
	}
	return r
}

// token reads the token at a position and returns its length, 0 for a blank.
func (x *lexer) token(s string, at int) (token, int) {
	rest := s[at:]
	c, n := utf8.DecodeRuneInString(rest)
	if (c == 'M' || c == 'm') && (!letterBefore(s, at) || at > 1 && s[at-1]|0x20 == 'x' && digit(s[at-2])) { // M6, 4xM6
		if t, n := x.metric(rest); n > 0 {
			return t, n
		}
	}
	switch {
	case unicode.IsSpace(c):
		return token{}, 0
	case digit(rest[0]) || rest[0] == '.' && len(rest) > 1 && digit(rest[1]) && !letterBefore(s, at), c == '#':
		return x.number(rest)
	case strings.ContainsRune(fractions, c):
		if tail, by := turnTail(rest[n:]); tail > 0 && by > 1 {
			return ofTurn("0"+decimals(c), by), n + tail
		}
		return token{kind: aNumber, text: "0" + decimals(c)}, n
	case unicode.IsLetter(c):
		if !letterBefore(s, at) || at > 0 && digit(s[at-1]) {
			if u, n := x.unit(rest); n > 0 {
				return token{kind: aUnit, text: rest[:n], unit: u}, n
			}
		}
		return x.word(rest)
	case strings.ContainsRune("-–~÷…", c):
		return token{kind: aDash, text: rest[:n]}, n
	case strings.HasPrefix(rest, ".."):
		const leaders = 4 // dots that lead from a name to its figure
		if n = len(rest) - len(strings.TrimLeft(rest, ".")); n >= leaders {
			return token{kind: aMark, text: rest[:n]}, n
		}
		return token{kind: aDash, text: rest[:n]}, n
	case c == '±':
		return token{kind: aPlusMinus, text: rest[:n]}, n
	}
	return token{kind: aMark, text: rest[:n]}, n
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// letterBefore reports whether a letter or a digit comes directly before a position.
func letterBefore(s string, at int) bool {
	c, _ := utf8.DecodeLastRuneInString(s[:at])
	return at > 0 && (unicode.IsLetter(c) || unicode.IsDigit(c))
}

// letterFirst reports whether a text begins with a letter or a digit.
func letterFirst(s string) bool {
	c, _ := utf8.DecodeRuneInString(s)
	return s != "" && (unicode.IsLetter(c) || unicode.IsDigit(c))
}

// lettersFrom returns where the letters and digits end that begin at a position.
func lettersFrom(s string, at int) int {
	for at < len(s) {
		c, w := utf8.DecodeRuneInString(s[at:])
		if !unicode.IsLetter(c) && !unicode.IsDigit(c) {
			break
		}
		at += w
	}
	return at
}
