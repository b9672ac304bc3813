package manual

import (
	"slices"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A Finding is what was found about a table, line by line.
type Finding struct {
	Lines    []Judged
	Disagree int // lines whose two figures disagree
	Doubts   []Doubt
}

// A Judged is a line and what was found about it.
type Judged struct {
	Line
	Torque  *quantity.Torque // the first torque; nil if there is none
	Span    *fastener.Span   // if the line gives a range or a tolerance
	Other   *quantity.Torque // the second torque, in another unit
	Verdict Verdict
	Under   string // the line of a smaller size with a higher torque; "" if there is none
	Differs bool   // another line gives the same size another torque
}

// A Verdict says how the two figures of a line agree, that it has only one torque, or why it has none.
type Verdict string

// The verdicts.
const (
	Single      Verdict = "single"
	Agrees      Verdict = "agree"
	Rounded     Verdict = "rounding"
	Disagrees   Verdict = "disagree"
	HasNone     Verdict = "no_torque"
	TwoWays     Verdict = "ambiguous"
	NotReadable Verdict = "unreadable"
)

// A Doubt is something that the reader must know about a table.
type Doubt string

// The doubts, in the order in which they are told.
const (
	HasAngles Doubt = "table_angle" // after the torque, a bolt is turned further by an angle
	TooLong   Doubt = "table_long"  // the rest of the table was not read
)

// Find judges each line of a table, by itself and compared with the others.
func (t Table) Find() Finding {
	f := Finding{}
	for i, l := range t.Lines {
		j := l.judge()
		if smaller, falls := t.Under(i); falls {
			j.Under = t.Lines[smaller].Text
		}
		if j.Verdict == Disagrees {
			f.Disagree++
		}
		f.Lines = append(f.Lines, j)
	}
	for _, same := range t.Differs() {
		for _, i := range same {
			f.Lines[i].Differs = true
		}
	}
	if slices.ContainsFunc(t.Lines, func(l Line) bool { return l.Angle > 0 }) {
		f.Doubts = append(f.Doubts, HasAngles)
	}
	if t.More {
		f.Doubts = append(f.Doubts, TooLong)
	}
	return f
}

// judge judges a line by itself.
func (l Line) judge() Judged {
	j := Judged{Line: l, Verdict: Single}
	torque := func(v quantity.Value) *quantity.Torque {
		t := quantity.Torque(v.In)
		return &t
	}
	if len(l.Figures) > 0 {
		j.Torque = torque(l.Figures[0].Value)
		if ends := l.Figures[0].ends(); ends.Most > ends.Least {
			j.Span = &ends
		}
	}
	switch {
	case l.Pair != nil:
		j.Torque, j.Other = torque(l.Pair.Figures[0]), torque(l.Pair.Figures[1])
		j.Verdict = Verdict(l.Pair.Verdict.String())
	case l.Fault != 0:
		j.Verdict = Verdict(l.Fault.String())
	}
	return j
}

// ends returns the lowest and the highest torque that a figure gives.
func (f Figure) ends() fastener.Span {
	if f.Ranges() {
		return fastener.Span{Least: quantity.Torque(f.In), Most: quantity.Torque(f.To.In)}
	}
	less := f.Within
	if f.Less.Digits != "" {
		less = f.Less
	}
	return fastener.Span{Least: quantity.Torque(f.In - f.share(less)), Most: quantity.Torque(f.In + f.share(f.Within))}
}

// share returns a tolerance as a torque.
func (f Figure) share(within quantity.Value) float64 {
	switch {
	case within.Digits == "":
		return 0
	case within.Unit.Kind == quantity.OfRatio:
		return within.In * f.In
	}
	return within.In
}
