package fastener

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"ohmwright/core/quantity"
)

// A SlipKind is a way in which a printed torque goes wrong. The zero SlipKind is none.
type SlipKind uint8

// The slips. That manuals have each of them is common practice.
const (
	WrongUnit      SlipKind = iota + 1 // the figure is right and its unit is not: inch-pounds for foot-pounds, a figure printed twice
	FactorInverted                     // multiplied by the factor instead of divided
	DecimalPoint                       // ten, a hundred or a thousand times too large or too small
	Transposed                         // two neighbouring digits are swapped
	Digit                              // one digit is wrong
)

// String returns the slip's word in an answer: wrong_unit, factor_inverted, decimal_point, transposed, digit.
func (k SlipKind) String() string {
	switch k {
	case WrongUnit:
		return "wrong_unit"
	case FactorInverted:
		return "factor_inverted"
	case DecimalPoint:
		return "decimal_point"
	case Transposed:
		return "transposed"
	case Digit:
		return "digit"
	}
	return "unknown"
}

// A Slip is a slip that would explain why two figures disagree. The pair alone does not show which of its figures is wrong: if a slip in
// either would explain it, both are named.
type Slip struct {
	Kind   SlipKind
	Figure int            // the index in the pair of the wrong figure
	Meant  quantity.Value // instead of it: the same digits in another unit, or other digits in the same unit
}

// String returns the word of the slip's kind.
func (s Slip) String() string { return s.Kind.String() }

// Number returns the figure that is meant, in the unit that is meant.
func (s Slip) Number() float64 {
	n, _ := strconv.ParseFloat(s.Meant.Digits, 64) // digits that quantity has read
	return n
}

const (
	mostSlips     = 6
	longestDigits = 12 // of a figure in which a wrong digit is looked for
)

// A guess is a slip and how likely it is.
type guess struct {
	Slip
	weight float64
}

// slips looks for the slips that would explain why two figures disagree.
func slips(a, b quantity.Value, x, y printed) []Slip {
	second := &suspect{figure: 1, own: b, other: a, mine: y, opposite: x}
	first := &suspect{figure: 0, own: a, other: b, mine: x, opposite: y}
	var found []guess
	for _, s := range []*suspect{second, first} {
		s.tryUnits()
		s.tryFactor()
		if len(s.mine.digits) <= longestDigits && s.mine.exp >= -longestDigits && s.mine.exp <= longestDigits {
			s.tryPoints()
			s.trySwaps()
			s.tryDigit()
		}
		found = append(found, s.found...)
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].weight > found[j].weight })
	list := make([]Slip, 0, min(len(found), mostSlips))
	for _, g := range found[:min(len(found), mostSlips)] {
		list = append(list, g.Slip)
	}
	return list
}

// A suspect is a figure in which slips are looked for, with the other figure of the pair, which is taken to be right.
type suspect struct {
	figure         int
	own, other     quantity.Value
	mine, opposite printed
	found          []guess
}

// try puts another figure in place of this one, in a unit of so many N·m, and notes a slip if the other figure agrees with it. digits and
// symbol are what is then meant.
func (s *suspect) try(kind SlipKind, weight float64, p printed, unit float64, digits, symbol string) {
	verdict := agreement(s.opposite, s.opposite.unit, p, unit)
	if verdict == Disagree {
		return
	}
	if verdict == Rounding {
		if kind == Digit {
			return
		}
		weight *= 0.3
	}
	if s.figure == 0 { // as a rule the second figure is the converted one
		weight *= 0.9
	}
	if meant, err := quantity.Parse(digits+symbol, quantity.Point, quantity.OfTorque); err == nil && meant.In > 0 {
		s.found = append(s.found, guess{Slip{kind, s.figure, meant}, weight})
	}
}

func (s *suspect) tryUnits() {
	own, other := s.own.Unit.Symbol, s.other.Unit.Symbol
	same := s.mine.digits == s.opposite.digits && s.mine.exp == s.opposite.exp
	for _, u := range quantity.Units(quantity.OfTorque) {
		if u.Symbol != own {
			s.try(WrongUnit, mistaken(own, u.Symbol, other, same), s.mine, u.From(1), s.own.Digits, u.Symbol)
		}
	}
}

func (s *suspect) tryFactor() {
	own := s.own.Unit.Symbol
	if own == s.other.Unit.Symbol {
		return
	}
	mine, opposite := s.mine, s.opposite
	right := opposite.n * opposite.unit / mine.unit
	s.try(FactorInverted, 5, mine, opposite.unit*opposite.unit/mine.unit, rounded(right, mine.exp), own)
}

func (s *suspect) tryPoints() {
	for k, weight := range [...]float64{5, 1.5, 0.5} {
		for _, by := range [2]int{k + 1, -k - 1} {
			p := s.mine
			p.exp += by
			for s.mine.whole && p.exp < 0 && strings.HasSuffix(p.digits, "0") { // 710 is 71, not 71.0
				p.digits, p.exp = p.digits[:len(p.digits)-1], p.exp+1
			}
			if p.exp > 0 {
				p.digits, p.exp = p.digits+strings.Repeat("0", p.exp), 0
			}
			s.tryDigits(DecimalPoint, weight, p.with([]byte(p.digits)))
		}
	}
}

func (s *suspect) trySwaps() {
	for k := 1; k < len(s.mine.digits); k++ {
		if d := []byte(s.mine.digits); d[k] != d[k-1] {
			d[k], d[k-1] = d[k-1], d[k]
			s.tryDigits(Transposed, 4, s.mine.with(d))
		}
	}
}

func (s *suspect) tryDigit() {
	if p, ok := s.mine.oneDigit(s.opposite.n * s.opposite.unit / s.mine.unit); ok {
		s.tryDigits(Digit, 2, p)
	}
}

// tryDigits tries other digits in the same unit.
func (s *suspect) tryDigits(kind SlipKind, weight float64, p printed) {
	s.try(kind, weight, p, p.unit, p.plain(), s.own.Unit.Symbol)
}

// confused are the units that are printed for each other, and how readily.
var confused = [...]struct {
	a, b   string
	weight float64
}{
	{"lbf.in", "lbf.ft", 10}, {"kgf.cm", "kgf.m", 6}, {"N.m", "cN.m", 4}, {"N.m", "daN.m", 4}, {"lbf.in", "ozf.in", 4},
	{"N.m", "kgf.m", 3}, {"N.m", "lbf.ft", 3}, {"N.m", "lbf.in", 3}, {"N.m", "kgf.cm", 2},
}

// mistaken returns how likely it is that one unit is printed where another is meant. If the one meant is that of the other figure and the
// digits are the same, one figure was probably printed twice.
func mistaken(printed, meant, other string, same bool) float64 {
	if meant == other {
		if same {
			return 12
		}
		return 0.5
	}
	for _, m := range confused {
		if printed == m.a && meant == m.b || printed == m.b && meant == m.a {
			return m.weight
		}
	}
	return 1
}

// with returns the figure with as many other digits.
func (p printed) with(digits []byte) printed {
	p.digits = string(digits)
	p.n, _ = strconv.ParseFloat(p.digits+"e"+strconv.Itoa(p.exp), 64)
	p.whole = p.exp >= 0
	return p
}

// oneDigit changes the one digit that brings the figure nearest to the right number; ok is false if it has only one digit.
func (p printed) oneDigit(right float64) (best printed, ok bool) {
	if len(p.digits) < 2 {
		return p, false
	}
	for k := range len(p.digits) {
		for c := byte('0'); c <= '9'; c++ {
			if c == p.digits[k] || k == 0 && c == '0' {
				continue
			}
			d := []byte(p.digits)
			d[k] = c
			if q := p.with(d); !ok || math.Abs(q.n-right) < math.Abs(best.n-right) {
				best, ok = q, true
			}
		}
	}
	return best, ok
}

// plain writes digits × 10^exp with a point and without needless zeros.
func (p printed) plain() string {
	digits, exp := strings.TrimLeft(p.digits, "0"), p.exp
	switch {
	case exp >= 0:
		return digits + strings.Repeat("0", exp)
	case len(digits) <= -exp:
		digits = strings.Repeat("0", -exp-len(digits)+1) + digits
	}
	cut := len(digits) + exp
	return digits[:cut] + "." + digits[cut:]
}

// rounded writes a number to the digit 10^exp if that leaves two to four digits, else with three digits.
func rounded(n float64, exp int) string {
	if step := math.Pow10(exp); exp <= 0 && exp > -longestDigits && n >= 10*step && n < 1e4*step {
		return strconv.FormatFloat(n, 'f', -exp, 64)
	}
	s := strconv.FormatFloat(n, 'g', 3, 64)
	return strings.Replace(s, "e+", "e", 1)
}
