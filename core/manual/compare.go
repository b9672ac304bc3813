package manual

import (
	"math"
	"slices"
	"strings"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A printing is one torque as it is printed, as a rule once in each unit.
type printing struct {
	figures []Figure
	stage   bool // it begins a stage
}

// printings groups the torques of a part. If apart is set, torques in the same unit are stages, except those in brackets.
func printings(torques []torque, apart bool) (list []printing) {
	for k, t := range torques {
		begins, another := k == 0, k == 0
		if k > 0 {
			now := list[len(list)-1].figures
			begins = t.stage != torques[k-1].stage || t.added && t.figure.In > now[0].In
			another = !t.bracket && slices.ContainsFunc(now, func(f Figure) bool { return f.Unit.Symbol == t.figure.Unit.Symbol })
		}
		if begins || another {
			list = append(list, printing{[]Figure{t.figure}, begins || apart})
			continue
		}
		last := &list[len(list)-1]
		last.figures = append(last.figures, t.figure)
	}
	return list
}

// compare fills in the figures of a Line, its stages and its pair.
func (l *Line) compare(list []printing) {
	last := 0
	var stages []Figure
	for k, p := range list {
		if p.stage {
			last, stages = k, append(stages, p.figures[0])
		}
	}
	if len(stages) > 1 {
		l.Stages = stages
	}
	for _, p := range list[last:] {
		l.Figures = append(l.Figures, p.figures...)
	}
	if halves := inHalves(l.Figures); halves != nil {
		for _, two := range halves {
			l.note(pairOf(two), fastener.Agree)
		}
	} else {
		for _, p := range list[last:] {
			l.note(pairOf(p.figures), fastener.Agree)
		}
	}
	for _, p := range list[:last] {
		l.note(pairOf(p.figures), fastener.Disagree)
	}
}

// note keeps a pair if it agrees less than the one kept so far. A pair that agrees better than best is ignored.
func (l *Line) note(p *fastener.Pair, best fastener.Agreement) {
	if p != nil && (l.Pair == nil || p.Verdict > l.Pair.Verdict) && p.Verdict >= best {
		l.Pair = p
	}
}

// inHalves pairs figures if the first half is in one unit and the second in another: 8 10 N·m 71 89 in-lb. Else it returns nil.
func inHalves(figures []Figure) (pairs [][]Figure) {
	n := len(figures) / 2
	if n < 2 || len(figures)%2 != 0 || figures[0].Unit.Symbol == figures[n].Unit.Symbol {
		return nil
	}
	for k := range n {
		a, b := figures[k], figures[n+k]
		if a.Unit.Symbol != figures[0].Unit.Symbol || b.Unit.Symbol != figures[n].Unit.Symbol {
			return nil
		}
		pairs = append(pairs, []Figure{a, b})
	}
	return pairs
}

// mostCompared is how many figures of one torque are compared.
const mostCompared = 6

// pairOf compares figures in different units, and returns the first two of those that agree least.
func pairOf(figures []Figure) (worst *fastener.Pair) {
	note := func(a, b quantity.Value) {
		if p := fastener.Compare(a, b); worst == nil || p.Verdict > worst.Verdict {
			worst = &p
		}
	}
	figures = figures[:min(len(figures), mostCompared)]
	for i, a := range figures {
		for _, b := range figures[i+1:] {
			if a.Unit.Symbol == b.Unit.Symbol || a.Ranges() != b.Ranges() {
				continue
			}
			if note(a.Value, b.Value); a.Ranges() {
				note(a.To, b.To)
			}
		}
	}
	return worst
}

// within is the relative difference up to which two torques count as equal: one in ft-lb has no exact float64 in N·m.
const within = 1e-9

// Under looks for lines with a smaller diameter than line i but a larger torque, and returns the index of the one with the largest. Lines
// that name different classes are not compared.
//
// A torque is larger only if the lower end of its range is above the upper end of the other's. Lines with an angle are left out: their
// torque is not all that tightens the bolt. So are sizes in inches. That bolts into aluminium, studs or bolts with sealant have torques of
// their own is ignored: the result is a hint, no fault. Checked in compare_test.go.
func (t Table) Under(i int) (smaller int, falls bool) {
	l := t.Lines[i]
	if l.Diameter == 0 || len(l.Figures) == 0 || l.Angle > 0 {
		return 0, false
	}
	least := 0.0
	for k, s := range t.Lines {
		other := s.Class != "" && l.Class != "" && s.Class != l.Class
		if s.Diameter == 0 || s.Diameter >= l.Diameter || len(s.Figures) == 0 || s.Angle > 0 || other {
			continue
		}
		if low := s.Figures[0].In; low > l.Figures[0].top()*(1+within) && low > least && !l.Figures[0].agrees(s.Figures[0]) {
			smaller, falls, least = k, true, low
		}
	}
	return smaller, falls
}

// agrees reports whether two figures are the same torque as printed, in any units.
func (f Figure) agrees(g Figure) bool {
	same := func(a, b quantity.Value) bool {
		if a.Unit.Symbol == b.Unit.Symbol {
			return a.In == b.In
		}
		return fastener.Judge(a, b) == fastener.Agree
	}
	if f.Ranges() != g.Ranges() || !same(f.Value, g.Value) {
		return false
	}
	return !f.Ranges() || same(f.To, g.To)
}

// A kind is what two lines share if they are about the same bolt.
type kind struct {
	size  string
	pitch quantity.Length // infinite if the diameter is known and the thread is not
	class string
}

// kind returns the kind of a line. Metric sizes are compared by diameter and pitch, others by their text.
func (l Line) kind() kind {
	k := kind{strings.ToLower(strings.ReplaceAll(l.Size, " ", "")), 0, l.Class}
	switch {
	case l.Thread != nil:
		k.size, k.pitch = decimal(float64(l.Diameter)), l.Thread.Pitch
	case l.Diameter > 0:
		k.pitch = quantity.Length(math.Inf(1))
	}
	return k
}

// Differs returns groups of lines, by index, that have the same size and class and different torques: "M6 is 8, 12, 14 and 16 N·m in one
// table". It is a hint that a size does not give a torque, no fault. Checked in compare_test.go.
func (t Table) Differs() (groups [][]int) {
	var order []kind
	by := map[kind][]int{}
	for i, l := range t.Lines {
		if l.Size == "" || len(l.Figures) == 0 {
			continue
		}
		k := l.kind()
		if by[k] == nil {
			order = append(order, k)
		}
		by[k] = append(by[k], i)
	}
	for _, k := range order {
		list := by[k]
		if slices.ContainsFunc(list, func(i int) bool { return !t.Lines[i].Figures[0].agrees(t.Lines[list[0]].Figures[0]) }) {
			groups = append(groups, list)
		}
	}
	return groups
}
