package fastener

import (
	"math"
	"strconv"
	"strings"

	"ohmwright/core/quantity"
)

// An Agreement says whether two printed figures can be one torque. The zero Agreement is Agree.
type Agreement uint8

// The agreements, best first.
const (
	Agree    Agreement = iota // some torque rounds to both figures as printed
	Rounding                  // some torque does if they were rounded further: to fives or tens, or cut off
	Disagree
)

// String returns the agreement's word in an answer: agree, rounding, disagree.
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

// A Pair is two figures beside each other, as a manual prints one torque in two units.
type Pair struct {
	Figures    [2]quantity.Value
	Verdict    Agreement
	Difference quantity.Ratio // of the second from the first, as a share of the first; cut off at ±mostDifference
	Slips      []Slip         // if they disagree: the likeliest first
	Spans      [2]Span        // the torques that each figure may stand for
}

// A Span is the range of torques that a figure may stand for as printed, half of its last digit either way: 2 N·m is anything from 1.5
// to 2.5. Zeros at the end count as digits: 90 in-lb is 89.5 to 90.5.
type Span struct{ Least, Most quantity.Torque }

// Leeway returns how far the torque may be from the figure, as a share of it: 25 % for 2 N·m, 1.25 % for 40. It is 1 for a span from 0,
// and 0 for the zero Span. Checked in pair_test.go.
func (s Span) Leeway() quantity.Ratio {
	if s.Least+s.Most == 0 {
		return 0
	}
	return quantity.Ratio(math.Abs(float64((s.Most/2 - s.Least/2) / (s.Most/2 + s.Least/2))))
}

const (
	mostDifference = 1e9
	mostRounded    = 0.05 // of a figure, by rounding to two digits: 10.5 to 10
)

// Compare reports whether two figures agree as closely as their printed digits allow, and if not, which slips would explain it.
//
//	agree:    |a − b| ≤ half of a's last printed digit + half of b's
//	rounding: the same with one unit of the last digit (cut off), 2.5 of it where a figure ends in 5, half a ten or a hundred where
//	          it ends in zeros; never more than 5 % of a figure, which is rounding to two digits
//	disagree: else
//
// How coarse this is can be seen from the [Span] of each figure: 1 N·m and 13 in-lb agree although they differ by 47 %, as 1.5 N·m may be
// printed as either. If both are in one unit, the larger of the two tolerances counts instead of the sum: one may be the other, rounded.
// Values are torques as quantity reads them, in any unit. A torque of 0 or less agrees only with an equal one, and no slips are looked
// for. There are no errors. Which of the two the maker holds to is ignored.
//
// A slip is named if the pair agrees without it, or would by rounding; a slip in a single digit only if it agrees. They are sorted by how
// often such a slip is met (common practice) and how well it explains the pair. Checked in pair_test.go: pairs as manuals print them;
// honest rounding never disagrees; slips put in are found.
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

// Judge returns the verdict of [Compare] alone.
func Judge(a, b quantity.Value) Agreement {
	x, y := printedOf(a), printedOf(b)
	return agreement(x, x.unit, y, y.unit)
}

// A printed is a figure as printed: n = digits × 10^exp.
type printed struct {
	n      float64
	digits string // without leading zeros
	exp    int
	whole  bool    // no decimals: zeros at the end may be from rounding
	unit   float64 // N·m in one of its unit
}

func printedOf(v quantity.Value) (p printed) {
	p.n, _ = strconv.ParseFloat(v.Digits, 64)
	p.unit = v.Unit.From(1)
	body, e, _ := strings.Cut(v.Digits, "e")
	p.exp, _ = strconv.Atoi(e)
	head, tail, _ := strings.Cut(strings.TrimPrefix(body, "-"), ".")
	p.digits = strings.TrimLeft(head+tail, "0")
	p.exp -= len(tail)
	p.whole = p.exp >= 0
	return p
}

// span returns the torques that the figure may stand for. A figure that is not negative stands for none below 0.
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

// doubt returns how far a figure may be from what was rounded, in its unit: by its last printed digit, and if it was rounded further.
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

// agreement compares two figures, each in a unit of so many N·m.
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
