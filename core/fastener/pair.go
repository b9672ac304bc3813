package fastener

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/quantity"
)

// An Agreement is what two printed figures of one torque are to each other. The zero Agreement is Agree.
type Agreement uint8

// What two figures can be to each other.
const (
	Agree    Agreement = iota // one torque rounds to both as they are printed
	Rounding                  // one does if they were rounded further: to fives or tens, or cut off
	Disagree
)

// String is the agreement's word in an answer: agree, rounding, disagree.
func (a Agreement) String() string {
	switch a {
	case Agree:
		return "agree"
	case Rounding:
		return "rounding"
	case Disagree:
		return "disagree"
	}
	return "unknown"
}

// A SlipKind is a way in which a printed torque goes wrong. The zero SlipKind is none.
type SlipKind uint8

// The slips. That manuals have each of them is common practice.
const (
	WrongUnit      SlipKind = iota + 1 // the figure is right and its unit is not: inch-pounds for foot-pounds, a figure printed twice
	FactorInverted                     // multiplied by the factor where it had to be divided
	DecimalPoint                       // ten, a hundred or a thousand times too much or too little
	Transposed                         // two neighbouring digits have changed places
	Digit                              // one digit is another
)

// String is the slip's word in an answer: wrong_unit, factor_inverted, decimal_point, transposed, digit.
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

// A Slip is a slip that would explain why two figures disagree. A pair alone does not show which of its figures is the wrong one:
// where a slip in either would do, both are named.
type Slip struct {
	Kind   SlipKind
	Figure int            // of the pair, 0 or 1: the one that is wrong
	Meant  quantity.Value // what is meant in its place: the same digits in another unit, or other digits in the same
}

// String is the word of the slip's kind.
func (s Slip) String() string { return s.Kind.String() }

// Number is the figure that is meant, in the unit that is meant.
func (s Slip) Number() float64 {
	n, _ := strconv.ParseFloat(s.Meant.Digits, 64) // digits that quantity has read
	return n
}

// A Pair is two figures beside each other, as a manual prints one torque in two units.
type Pair struct {
	Figures    [2]quantity.Value
	Verdict    Agreement
	Difference quantity.Ratio // of the second from the first, as part of the first: at most mostDifference
	Slips      []Slip         // where they disagree: the most telling first
	Spans      [2]Span        // what each figure may stand for, by its last digit
}

// A Span is what a figure may stand for as it is printed, half of its last digit either way: 2 N·m is anything from 1.5 to 2.5. Zeros at
// the end are digits like others: 90 in-lb is 89.5 to 90.5.
type Span struct{ Least, Most quantity.Torque }

// Leeway is how far the torque may lie from the figure, as part of it: 25 % for 2 N·m, 1.25 % for 40. It is 1 for a span from 0, and 0
// for the zero Span. Checked in pair_test.go.
func (s Span) Leeway() quantity.Ratio {
	if s.Least+s.Most == 0 {
		return 0
	}
	return quantity.Ratio(math.Abs(float64((s.Most/2 - s.Least/2) / (s.Most/2 + s.Least/2))))
}

const (
	mostDifference = 1e9
	mostRounded    = 0.05 // of a figure, by rounding to two digits: 10.5 to 10
	mostSlips      = 6
	longestDigits  = 12
)

// Compare says whether two figures agree as the digits they are printed with allow, and if not which slips would explain it.
//
//	agree:    |a − b| ≤ a's + b's half of the last digit printed
//	rounding: the same with one unit of it (cut off), 2.5 of it where a figure ends in 5, half a ten or a hundred where it ends in
//	          zeros; never more than 5 % of a figure, which is rounding to two digits
//	disagree: else
//
// How coarse that is the [Span] of each figure says: 1 N·m and 13 in-lb agree, at 47 %, as 1.5 N·m may be printed as either. Where both
// are in one unit the larger of the two doubts counts and not their sum: one may be the other, rounded. Values are torques as quantity reads them, in any unit. A torque of 0 or less agrees with none but the same, and no slip is looked
// for. It has no errors. It ignores which of the two a maker holds to. A slip is named if without it the pair agrees, or would by
// rounding; one of a digit or of two only if it agrees. The order is that of how often a slip is met (common practice) and of how well
// it explains the pair. Checked in pair_test.go: pairs as manuals print them, honest rounding never disagrees, slips put in are found.
func Compare(a, b quantity.Value) Pair {
	p := Pair{Figures: [2]quantity.Value{a, b}}
	switch {
	case a.In != 0:
		p.Difference = quantity.Ratio(max(-mostDifference, min(mostDifference, b.In/a.In-1)))
	case b.In != 0:
		p.Difference = 1
	}
	x, y := printedOf(a), printedOf(b)
	p.Spans = [2]Span{x.span(), y.span()}
	if p.Verdict = agreement(x, x.unit, y, y.unit); p.Verdict == Disagree && x.n > 0 && y.n > 0 {
		p.Slips = slips(a, b, x, y)
	}
	return p
}

// A printed is a figure as it is printed: n = digits × 10^exp, in a unit of so many N.m.
type printed struct {
	n      float64
	digits string // without zeros before the first other digit
	exp    int
	whole  bool // no digits behind a mark: zeros at the end may be rounded ones
	unit   float64
}

func inUnit(u quantity.Unit) float64 { return u.Num / u.Den * math.Pow10(u.Exp) }

func printedOf(v quantity.Value) (p printed) {
	p.n, _ = strconv.ParseFloat(v.Digits, 64)
	p.unit = inUnit(v.Unit)
	body, e, _ := strings.Cut(v.Digits, "e")
	p.exp, _ = strconv.Atoi(e)
	head, tail, _ := strings.Cut(strings.TrimPrefix(body, "-"), ".")
	p.digits = strings.TrimLeft(head+tail, "0")
	p.exp -= len(tail)
	p.whole = p.exp >= 0
	return p
}

// span is what the last digit leaves open, in N.m; a figure of 0 or more stands for none below 0.
func (p printed) span() Span {
	last, _ := p.doubt()
	least, most := p.n-last, p.n+last
	if p.n >= 0 {
		least = max(0, least)
	}
	bound := func(n float64) quantity.Torque {
		return quantity.Torque(max(-math.MaxFloat64, min(math.MaxFloat64, n*p.unit)))
	}
	return Span{bound(least), bound(most)}
}

// doubt is how far a figure as printed may lie from what was rounded, in its unit: by the last digit printed, and with rounding
// further.
func (p printed) doubt() (last, further float64) {
	step := math.Pow10(p.exp)
	last, further = step/2, step
	zeros := len(p.digits) - len(strings.TrimRight(p.digits, "0"))
	switch {
	case strings.HasSuffix(p.digits, "5"):
		further = 2.5 * step
	case p.whole && zeros > 0:
		further = step * math.Pow10(zeros) / 2
	}
	return last, max(last, min(further, mostRounded*math.Abs(p.n)))
}

// agreement holds two figures to each other, each in a unit of so many N.m.
func agreement(a printed, ua float64, b printed, ub float64) Agreement {
	x, y := a.n*ua, b.n*ub
	if !(x > 0) || !(y > 0) {
		if x == y {
			return Agree
		}
		return Disagree
	}
	la, fa := a.doubt()
	lb, fb := b.doubt()
	slack := within * (x + y)
	if ua == ub { // one may be the other, rounded: 10 and 10.2, not 10 and 9
		la, fa = max(la, lb), max(fa, fb)
		lb, fb = 0, 0
	}
	switch d := math.Abs(x - y); {
	case d <= la*ua+lb*ub+slack:
		return Agree
	case d <= fa*ua+fb*ub+slack:
		return Rounding
	}
	return Disagree
}

// A guess is a slip with what speaks for it.
type guess struct {
	Slip
	weight float64
}

// slips looks for the slips that would explain why two figures disagree.
func slips(a, b quantity.Value, x, y printed) []Slip {
	var found []guess
	for _, side := range [2]struct {
		figure         int
		own, other     quantity.Value
		mine, opposite printed
	}{{1, b, a, y, x}, {0, a, b, x, y}} {
		mine, opposite := side.mine, side.opposite
		// try holds the other figure to this one with other digits or in another unit, and notes what is then meant.
		try := func(kind SlipKind, weight float64, p printed, unit float64, digits, symbol string) {
			verdict := agreement(opposite, opposite.unit, p, unit)
			if verdict == Disagree {
				return
			}
			if verdict == Rounding {
				if kind == Digit {
					return
				}
				weight *= 0.3
			}
			if side.figure == 0 { // the second figure is the converted one as a rule
				weight *= 0.9
			}
			if meant, err := quantity.Parse(digits+symbol, quantity.Point, quantity.OfTorque); err == nil && meant.In > 0 {
				found = append(found, guess{Slip{kind, side.figure, meant}, weight})
			}
		}
		own, other := side.own.Unit, side.other.Unit
		for _, u := range quantity.Units(quantity.OfTorque) {
			if u.Symbol != own.Symbol {
				try(WrongUnit, mistaken(own.Symbol, u.Symbol, other.Symbol, mine.digits == opposite.digits && mine.exp == opposite.exp), mine, inUnit(u), side.own.Digits, u.Symbol)
			}
		}
		if own.Symbol != other.Symbol {
			right := opposite.n * opposite.unit / mine.unit
			try(FactorInverted, 5, mine, opposite.unit*opposite.unit/mine.unit, rounded(right, mine.exp), own.Symbol)
		}
		if len(mine.digits) > longestDigits || mine.exp < -longestDigits || mine.exp > longestDigits {
			continue
		}
		for k, weight := range [...]float64{5, 1.5, 0.5} {
			for _, by := range [2]int{k + 1, -k - 1} {
				p := mine
				p.exp += by
				for mine.whole && p.exp < 0 && strings.HasSuffix(p.digits, "0") { // 710 is 71, not 71.0
					p.digits, p.exp = p.digits[:len(p.digits)-1], p.exp+1
				}
				if p.exp > 0 {
					p.digits, p.exp = p.digits+strings.Repeat("0", p.exp), 0
				}
				p = p.with([]byte(p.digits))
				try(DecimalPoint, weight, p, p.unit, p.plain(), own.Symbol)
			}
		}
		for k := 1; k < len(mine.digits); k++ {
			if d := []byte(mine.digits); d[k] != d[k-1] {
				d[k], d[k-1] = d[k-1], d[k]
				p := mine.with(d)
				try(Transposed, 4, p, p.unit, p.plain(), own.Symbol)
			}
		}
		if p, ok := mine.oneDigit(opposite.n * opposite.unit / mine.unit); ok {
			try(Digit, 2, p, p.unit, p.plain(), own.Symbol)
		}
	}
	slices.SortStableFunc(found, func(a, b guess) int { return cmp.Compare(b.weight, a.weight) })
	list := make([]Slip, 0, min(len(found), mostSlips))
	for _, g := range found[:min(len(found), mostSlips)] {
		list = append(list, g.Slip)
	}
	return list
}

// mistaken weighs how readily a unit is printed for the one that is meant, which may be that of the other figure: then that figure
// was printed twice, digit by digit.
func mistaken(printed, meant, other string, same bool) float64 {
	if meant == other {
		if same {
			return 12
		}
		return 0.5
	}
	for _, m := range [...]struct {
		a, b   string
		weight float64
	}{{"lbf.in", "lbf.ft", 10}, {"kgf.cm", "kgf.m", 6}, {"N.m", "cN.m", 4}, {"N.m", "daN.m", 4}, {"lbf.in", "ozf.in", 4}, {"N.m", "kgf.m", 3}, {"N.m", "lbf.ft", 3}, {"N.m", "lbf.in", 3}, {"N.m", "kgf.cm", 2}} {
		if printed == m.a && meant == m.b || printed == m.b && meant == m.a {
			return m.weight
		}
	}
	return 1
}

// with is the figure with other digits, as many.
func (p printed) with(digits []byte) printed {
	p.digits = string(digits)
	p.n, _ = strconv.ParseFloat(p.digits+"e"+strconv.Itoa(p.exp), 64)
	p.whole = p.exp >= 0
	return p
}

// oneDigit is the figure of two digits or more that differs from this one in one digit and comes nearest to what is right.
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

// plain writes digits × 10^exp with a point, without zeros that say nothing.
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

// rounded writes a number to the last digit 10^exp where that leaves two to four digits, else to three.
func rounded(n float64, exp int) string {
	if step := math.Pow10(exp); exp <= 0 && exp > -longestDigits && n >= 10*step && n < 1e4*step {
		return strconv.FormatFloat(n, 'f', -exp, 64)
	}
	s := strconv.FormatFloat(n, 'g', 3, 64)
	return strings.Replace(s, "e+", "e", 1)
}

// Judge returns the verdict of [Compare] alone.
func Judge(a, b quantity.Value) Agreement {
	x, y := printedOf(a), printedOf(b)
	return agreement(x, x.unit, y, y.unit)
}
