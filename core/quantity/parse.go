package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A Mark is the decimal mark that a person uses. Parse accepts both marks; this one only matters for a text such as "1,250",
// where three digits follow a single mark.
type Mark uint8

const (
	Point Mark = iota // 9.7; "1,250" is ambiguous
	Comma             // 9,7; "1.250" is ambiguous
)

// In writes digits that have a decimal point with the mark.
func (m Mark) In(digits string) string {
	if m == Comma {
		return strings.Replace(digits, ".", ",", 1)
	}
	return digits
}

// A Fault is the reason why a text is not a quantity. Compare faults, never the text of an error.
type Fault uint8

const (
	Empty     Fault = iota + 1 // nothing given
	Syntax                     // no number
	NoUnit                     // a number without a unit
	WrongUnit                  // a unit of another kind, or an unknown one
	Ambiguous                  // the text can mean two numbers
	TooLarge                   // more than a float64 can hold
)

// An Error holds the text given, what is wrong with it, and which units are accepted.
type Error struct {
	Fault Fault
	Kind  Kind      // what was wanted
	Given string    // the text, shortened by Clip
	Unit  string    // WrongUnit: the unit found
	Is    []Kind    // WrongUnit: what that unit measures; empty if it is unknown
	Reads [2]string // Ambiguous: the two numbers it can mean, with a decimal point, each with the unit
	Want  []string  // symbols of the accepted units
}

// Error returns the fault in one line of English.
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

// In returns the error with what an ambiguous text can mean written with a mark, which is that of its reader: with the other one it might
// be ambiguous again.
func (e *Error) In(mark Mark) *Error {
	own := *e
	for i, may := range e.Reads {
		number, unit, _ := strings.Cut(may, " ")
		own.Reads[i] = strings.TrimSpace(mark.In(number) + " " + unit)
	}
	return &own
}

func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// longest is the most bytes a text may have; a float64 written in full takes 24.
const longest = 80

// Clip shortens a text for an error message to 40 characters and an ellipsis, and replaces bytes that are not UTF-8.
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

// A Value is a quantity read from a text.
type Value struct {
	In     float64 // the value in the contract's unit
	Unit   Unit    // the unit it was given in
	Digits string  // the number as given, with a decimal point and without grouping
}

// String returns the value as it was given, without a space: "6.90ohm". [Parse] reads the same value back.
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
// Range: any float64; "1e999 ohm" is TooLarge. A text that can mean two numbers is Ambiguous, and the error names both; see
// [Mark]. If several kinds are accepted, the unit decides; a unit that belongs to two of them means the first.
// Errors: *[Error], with any [Fault].
// It ignores white space at either end. Groups of three digits may be separated by ' ', ’, thin and no-break spaces.
// Checked in quantity_test.go, in parse_test.go for every unit and mark, and by fuzzing.
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

// looksLikeUnit reports whether the text behind a number may be a misspelt unit. In "1.2.3" and "5 - 6" it is not.
func looksLikeUnit(s string) bool {
	return !strings.ContainsAny(s, "0123456789") && strings.IndexAny(s, ".,-\u2212") != 0
}

// plain returns the number with its exponent, as strconv reads it.
func (n number) plain() string {
	if n.exp != 0 {
		return n.decimal + "e" + strconv.Itoa(n.exp)
	}
	return n.decimal
}

// value converts a number to the contract's unit. The decimal prefix is applied to the digits, before anything is rounded, so
// that 9.7 mohm is the float64 nearest to 0.0097 and not a product of two rounded numbers. It returns false if that is too large.
func (u Unit) value(n number) (float64, bool) {
	digits, exp := n.decimal, n.exp+u.Exp
	if exp != 0 {
		digits += "e" + strconv.Itoa(exp)
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return 0, false
	}
	u.Exp = 0 // already in the digits
	v = u.From(v)
	return v, !math.IsInf(v, 0)
}

// A number is the number at the start of a text, its digits without grouping.
type number struct {
	decimal string // with a decimal point; if ambiguous, the reading that takes the mark as the decimal mark
	grouped string // if ambiguous, the reading that takes the mark as a separator of thousands
	exp     int
	rest    string // what follows the number
}

// scan reads a number at the start of t. The fault is 0, Syntax or Ambiguous.
func scan(t string, mark Mark) (n number, fault Fault) {
	sign, t := signAt(t)
	runs, marks, t := cut(t)
	n.rest = t
	whole, fraction, two, ok := arrange(runs, marks, mark)
	if !ok {
		return n, Syntax
	}
	n.exp, n.rest = exponentAt(t)
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

// signAt reads a sign, if t begins with one, and returns "-" for either minus sign, else "".
func signAt(t string) (sign, rest string) {
	for _, minus := range [...]string{"-", "\u2212"} {
		if rest, ok := strings.CutPrefix(t, minus); ok {
			return "-", rest
		}
	}
	return "", strings.TrimPrefix(t, "+")
}

// cut separates runs of digits from the marks between them; there is one run more than there are marks.
func cut(t string) (runs []string, marks []rune, rest string) {
	for {
		i := leadingDigits(t)
		runs, t = append(runs, t[:i]), t[i:]
		m, size := markAt(t)
		if size == 0 {
			return runs, marks, t
		}
		marks, t = append(marks, m), t[size:]
	}
}

// leadingDigits counts the digits at the start of t.
func leadingDigits(t string) (n int) {
	for n < len(t) && t[n] >= '0' && t[n] <= '9' {
		n++
	}
	return n
}

// exponentAt reads "e", a sign and digits. An "e" without digits belongs to what follows, as in "5 eV".
func exponentAt(t string) (exp int, rest string) {
	if len(t) < 2 || t[0] != 'e' && t[0] != 'E' {
		return 0, t
	}
	from := 1
	if t[1] == '+' || t[1] == '-' {
		from = 2
	}
	to := from + leadingDigits(t[from:])
	if to == from {
		return 0, t
	}
	exp, err := strconv.Atoi(t[1:to])
	if err != nil || exp > 9999 || exp < -9999 {
		exp = 9999 * max(-1, min(1, exp)) // no float64 has it: ParseFloat refuses it or returns 0
	}
	return exp, t[to:]
}

// markAt returns the mark at the start of t and its length in bytes: '.', ',', or ' ' for any character that only groups digits,
// if a digit follows it. Without a mark the length is 0.
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

// arrange finds the whole part and the fraction in runs of digits and the marks between them. two means that the only mark,
// taken here as the decimal mark, could also separate thousands.
func arrange(runs []string, marks []rune, mark Mark) (whole, fraction string, two, ok bool) {
	own := '.'
	if mark == Comma {
		own = ','
	}
	last := len(marks) - 1
	if last < 0 {
		return runs[0], "", false, runs[0] != ""
	}
	groups := grouped(runs)
	same := true
	for _, m := range marks {
		same = same && m == marks[0]
	}
	switch {
	case same && marks[0] == ' ':
		return strings.Join(runs, ""), "", false, groups
	case same && last == 0: // also "9." and "9,", where the digits are still to be typed
		two = groups && runs[0] != "0" && marks[0] != own
		return zero(runs[0]), runs[1], two, runs[0] != "" || runs[1] != ""
	case same:
		return strings.Join(runs, ""), "", false, groups
	}
	// Groups, then a decimal mark that differs from the separator: 1,250.5 or 1.250,5 or 1 250,5.
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

// grouped reports whether runs of digits can be groups of thousands: one to three digits, then three each.
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

// zero returns "0" for the missing whole part of ".5".
func zero(s string) string {
	if s == "" {
		return "0"
	}
	return s
}
