package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A Mark is the decimal mark of the reader. Both marks are always read; it decides only which of them a text with three
// digits behind a lone mark is taken to use.
type Mark uint8

const (
	Point Mark = iota // 9.7; "1,250" can be read in two ways
	Comma             // 9,7; "1.250" can be read in two ways
)

// A Fault says in which way a text is not a quantity. Code compares faults, never the text of an error.
type Fault uint8

const (
	Empty     Fault = iota + 1 // nothing given
	Syntax                     // no number is there
	NoUnit                     // a number alone
	WrongUnit                  // a unit of another kind, or none that is known
	Ambiguous                  // two readings
	TooLarge                   // beyond a float64
)

// An Error says what was given, what is wrong, and what would be right.
type Error struct {
	Fault Fault
	Kind  Kind      // what was wanted
	Given string    // the text, shortened
	Unit  string    // WrongUnit: the unit found
	Is    []Kind    // WrongUnit: what that unit measures, if it is known
	Reads [2]string // Ambiguous: the two readings, in plain form
	Want  []string  // the units that would be right
}

// Error gives the fault in one line of English.
func (e *Error) Error() string {
	head := "quantity: parse " + strconv.Quote(e.Given) + ": "
	want := "; want " + orList(e.Want)
	switch e.Fault {
	case Empty:
		return head + "nothing given" + want
	case NoUnit:
		return head + "a number without a unit" + want
	case WrongUnit:
		if len(e.Is) > 0 {
			return head + strconv.Quote(e.Unit) + " is a unit of " + e.Is[0].String() + want
		}
		return head + "unknown unit " + strconv.Quote(e.Unit) + want
	case Ambiguous:
		return head + "can be read as " + e.Reads[0] + " or as " + e.Reads[1]
	case TooLarge:
		return head + "larger than can be held; want at most 1e308"
	}
	return head + "no number" + want
}

func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// longest is the length in bytes beyond which no quantity is looked for: a float64 in full takes 24 digits.
const longest = 80

// Clip shortens a text for an error: at most 40 characters, cut at a character's border and marked with an ellipsis.
func Clip(s string) string {
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "\ufffd")
	}
	n := 0
	for i := range s {
		if n == 40 {
			return s[:i] + "…"
		}
		n++
	}
	return s
}

// A Value is a text that was read.
type Value struct {
	In     float64 // the value in the contract's unit
	Unit   Unit    // the unit it was given in
	Digits string  // the number as given, in plain form: point as decimal mark, nothing between digits
}

// String writes the value as it was given, in plain form and without a space: "6.90ohm". [Parse] reads it back the same.
func (v Value) String() string {
	if v.Unit.Symbol == "1" {
		return v.Digits
	}
	return v.Digits + v.Unit.Symbol
}

// Parse reads a text as a quantity of one of the kinds.
//
//	number [space] unit        "9.7 ohm", "9,7Ω", "1.2 kohm", "75 degF", "−40 °C", "1 250,5 ohm", "3e-2 ohm"
//
// Range: any float64; "1e999 ohm" is TooLarge. A text that two readers would read differently is Ambiguous and names
// both readings; see [Mark]. Where two kinds are asked for, the unit decides, the first kind winning.
// Errors: *[Error], of each [Fault].
// It ignores white space at either end, and takes ' ', ’, thin and no-break spaces between groups of three digits.
// Checked in quantity_test.go, by properties over every unit and mark, and by fuzzing.
func Parse(text string, mark Mark, kinds ...Kind) (Value, error) {
	fail := func(f Fault) *Error {
		e := &Error{Fault: f, Kind: kinds[0], Given: Clip(strings.TrimSpace(text))}
		for _, k := range kinds {
			for _, u := range byKind[k] {
				if u.Symbol != "1" {
					e.Want = append(e.Want, u.Symbol)
				}
			}
		}
		return e
	}
	t := strings.TrimSpace(text)
	if t == "" {
		return Value{}, fail(Empty)
	}
	if len(t) > longest {
		return Value{}, fail(Syntax)
	}
	n, fault := scan(t, mark)
	if fault == Syntax {
		return Value{}, fail(Syntax)
	}
	name := strings.TrimSpace(n.rest)
	for _, k := range kinds {
		u, ok := unitNamed(k, name)
		if name == "" && k == OfRatio {
			u, ok = byKind[OfRatio][0], true
		}
		if !ok {
			continue
		}
		if fault == Ambiguous {
			e := fail(Ambiguous)
			suffix := ""
			if name != "" {
				suffix = " " + u.Symbol
			}
			e.Reads = [2]string{n.decimal + suffix, n.grouped + suffix}
			return Value{}, e
		}
		v, ok := u.value(n)
		if !ok {
			return Value{}, fail(TooLarge)
		}
		return Value{v, u, n.plain()}, nil
	}
	if name == "" {
		return Value{}, fail(NoUnit)
	}
	e := fail(WrongUnit)
	e.Unit, e.Is = Clip(name), kindsOf(name)
	if len(e.Is) == 0 && !looksLikeUnit(name) {
		e.Fault = Syntax
	}
	return Value{}, e
}

// looksLikeUnit is false for what follows a number in "1.2.3" or "5 - 6": those are no unit misspelt.
func looksLikeUnit(s string) bool {
	return !strings.ContainsAny(s, "0123456789") && strings.IndexAny(s, ".,-\u2212") != 0
}

// plain is the number with its exponent, as strconv reads it.
func (n number) plain() string {
	if n.exp != 0 {
		return n.decimal + "e" + strconv.Itoa(n.exp)
	}
	return n.decimal
}

// value applies the unit's definition to the digits: the decimal prefix first, on the digits, so that 9.7 mohm is the
// float64 nearest to 0.0097 and not the product of two rounded numbers.
func (u Unit) value(n number) (float64, bool) {
	digits, exp := n.decimal, n.exp+u.Exp
	if exp != 0 {
		digits += "e" + strconv.Itoa(exp)
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return 0, false
	}
	v = (v + u.Before) * u.Num / u.Den
	return v, !math.IsInf(v, 0)
}

// A number is the front of a text, with its digits in plain form.
type number struct {
	decimal string // the digits with a point; where two readings exist, the one that takes the mark as a decimal mark
	grouped string // the other reading
	exp     int
	rest    string
}

// scan reads a number at the start of t. The fault is 0, Syntax or Ambiguous.
func scan(t string, mark Mark) (n number, fault Fault) {
	var out strings.Builder
	switch {
	case strings.HasPrefix(t, "-"):
		out.WriteByte('-')
		t = t[1:]
	case strings.HasPrefix(t, "\u2212"):
		out.WriteByte('-')
		t = t[len("\u2212"):]
	case strings.HasPrefix(t, "+"):
		t = t[1:]
	}
	sign := out.String()
	// Cut the body into runs of digits and the marks between them.
	var runs []string
	var marks []rune
	for {
		i := 0
		for i < len(t) && t[i] >= '0' && t[i] <= '9' {
			i++
		}
		runs = append(runs, t[:i])
		t = t[i:]
		m, size := markAt(t)
		if size == 0 {
			break
		}
		marks, t = append(marks, m), t[size:]
	}
	n.rest = t
	whole, fraction, two, ok := arrange(runs, marks, mark)
	if !ok {
		return n, Syntax
	}
	// An exponent: e, a sign, digits. "e" without digits belongs to what follows.
	if len(t) > 1 && (t[0] == 'e' || t[0] == 'E') {
		i := 1
		if t[i] == '+' || t[i] == '-' {
			i++
		}
		j := i
		for j < len(t) && t[j] >= '0' && t[j] <= '9' {
			j++
		}
		if j > i {
			exp, err := strconv.Atoi(t[1:j])
			if err != nil || exp > 9999 || exp < -9999 {
				exp = 9999 * max(-1, min(1, exp)) // too large or too small either way, and said by ParseFloat
			}
			n.exp, n.rest = exp, t[j:]
		}
	}
	n.decimal = sign + whole
	if fraction != "" {
		n.decimal += "." + fraction
	}
	if two {
		n.grouped = sign + whole + fraction
		return n, Ambiguous
	}
	return n, 0
}

// markAt says which mark stands at the start of t: '.', ',' or ' ' for any sign that groups digits. A space counts only
// where a digit follows.
func markAt(t string) (rune, int) {
	r, size := utf8.DecodeRuneInString(t)
	switch r {
	case '.', ',':
		return r, size
	case ' ', '\u00a0', '\u2009', '\u202f', '\'', '’':
		if size < len(t) && t[size] >= '0' && t[size] <= '9' {
			return ' ', size
		}
	}
	return 0, 0
}

// arrange makes a whole part and a fraction of runs of digits and the marks between them. two says that the last mark,
// taken here as the decimal mark, might as well group thousands.
func arrange(runs []string, marks []rune, mark Mark) (whole, fraction string, two, ok bool) {
	own := '.'
	if mark == Comma {
		own = ','
	}
	last := len(marks) - 1
	if last < 0 {
		return runs[0], "", false, runs[0] != ""
	}
	// A mark with nothing behind it, "9." or "9,": a decimal mark still waiting for its digits.
	// All marks alike and each group of three digits: grouped, or one decimal mark.
	groups := grouped(runs)
	same := true
	for _, m := range marks {
		same = same && m == marks[0]
	}
	switch {
	case same && marks[0] == ' ':
		return strings.Join(runs, ""), "", false, groups
	case same && last == 0:
		two = groups && runs[0] != "0" && marks[0] != own
		return zero(runs[0]), runs[1], two, runs[0] != "" || runs[1] != ""
	case same:
		return strings.Join(runs, ""), "", false, groups
	}
	// Groups, then one decimal mark of another sign: 1,250.5 or 1.250,5 or 1 250,5.
	for _, m := range marks[:last] {
		if m != marks[0] || m == marks[last] {
			return "", "", false, false
		}
	}
	if marks[last] == ' ' {
		return "", "", false, false
	}
	return strings.Join(runs[:last+1], ""), runs[last+1], false, grouped(runs[:last+1])
}

// grouped says whether runs of digits can be groups of thousands: one to three digits, then threes.
func grouped(runs []string) bool {
	if len(runs[0]) < 1 || len(runs[0]) > 3 {
		return false
	}
	for _, r := range runs[1:] {
		if len(r) != 3 {
			return false
		}
	}
	return true
}

func zero(s string) string {
	if s == "" {
		return "0"
	}
	return s
}
