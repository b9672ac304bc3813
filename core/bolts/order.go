package bolts

import "math"

const (
	// ringWidth is how much farther out than the innermost bolt another may lie and still count as one of the same ring, as a
	// share of the outermost bolt's distance from the centre. A partner may lie two rings out. Found by looking at patterns.
	ringWidth = 0.15
	// lastBolts is for how many bolts at the end every possible order is tried. At most 16.
	lastBolts = 12
)

// Order returns an order in which to tighten bolts: from the centre outwards, crossing sides, and not from a bolt to its
// neighbour.
//
// A row, a rectangle and a grid go strictly outwards, ends and corners last ([outwards]): a level of bolts equally far out is finished
// before the next begins. Any other pattern, a circle among them, goes crosswise, and outwards as far as that allows:
//
//	opener:  of the bolts in the innermost ring, by these rules in turn: one that does not block a bolt farther in, one on the
//	         other side of the bolt before, the one farthest from all that are tight, the one farthest from the last two, the
//	         innermost
//	partner: of the bolts on the other side of the opener, at most two rings out, the one nearest to the opener's mirror image
//	         through the centre, and of equals the innermost
//
// Openers and partners alternate, within a level too; where there is no partner, another opener follows. Neither is a neighbour of the
// bolt before ([Neighbours]) unless that cannot be avoided: a strictly outward order has the fewest neighbouring steps that any such
// order has. So has, of all orders, one of up to twelve bolts of any other pattern, and so have the last twelve of a longer one, given
// the bolts before them. If neighbouring steps are left after that, single bolts are moved where that removes one.
//
// The centre is the mean of all bolts. The result has every index once. Coordinates may be in any unit and of any size; over a
// hundred bolts take long (the cube of their number). Only distances and the order along the rim decide, and what is equal to a
// millionth of the pattern's radius goes by index, so a pattern that is turned, mirrored, moved or scaled has the same order. A
// bolt whose coordinates are not finite is ignored and comes at the end, by index.
//
// It ignores the shape of the parts, their stiffness, gasket and dowels: a maker's order takes precedence. Source: common
// practice (centre outwards, crosswise; see TestFromTheMiddle for what could be read). Checked in TestKnownOrders, TestFewest,
// TestFromTheMiddle, TestInvariance, TestOutwards, FuzzOrder.
func Order(at []Point) []int {
	order, _ := ordered(at)
	return order
}

// ordered returns the order of bolts, and how many of its steps lead from a bolt to its neighbour.
func ordered(at []Point) (order []int, adjacent int) {
	p := measure(at)
	order = p.order()
	for k := 1; k < len(order); k++ {
		adjacent += p.step(order[k-1], order[k])
	}
	for k, i := range order {
		order[k] = p.index[i]
	}
	for i, a := range at {
		if !a.finite() {
			order = append(order, i)
		}
	}
	return order, adjacent
}

// AdjacentSteps counts the steps of an order, made of indices of at, that lead from a bolt to its neighbour ([Neighbours]).
// Checked in TestFewest.
func AdjacentSteps(order []int, at []Point) int {
	all := Neighbours(at)
	steps := 0
	for k := 1; k < len(order); k++ {
		for _, j := range all[order[k-1]] {
			if j == order[k] {
				steps++
			}
		}
	}
	return steps
}

// order returns the order, of the plate's own numbers.
func (p *plate) order() []int {
	s := sequence{plate: p, done: make([]bool, p.n), clear: make([]float64, p.n)}
	for i := range s.clear {
		s.clear[i] = math.Inf(1)
	}
	climb := p.climb()
	var end *ending
	room := make([]int, 0, 2*p.n)
	awaits := false // the last bolt was an opener: a partner is looked for
	for left := p.n; left > 0; left-- {
		if climb == nil && end == nil && left <= lastBolts {
			end = p.ending(s.done, s.before(1))
		}
		open := room[:0]
		switch {
		case climb != nil:
			open = climb.open(open, s.done, s.before(1))
		case end != nil:
			open = end.open(open)
		default:
			open = s.open(open)
		}
		next := -1
		if awaits {
			next = s.partner(open, open[len(open):])
		}
		awaits = next < 0
		if next < 0 {
			next = s.opener(open)
		}
		if end != nil {
			end.take(next)
		}
		s.take(next)
	}
	if climb == nil {
		p.free(s.order)
	}
	return s.order
}

// A sequence is an order in the making.
type sequence struct {
	*plate
	order []int
	done  []bool
	clear []float64 // of each bolt, the distance to the nearest one that is tight
}

// before returns the bolt tightened so many steps ago: the first one if there were fewer steps, −1 if there were none.
func (s *sequence) before(steps int) int {
	if len(s.order) == 0 {
		return -1
	}
	return s.order[max(0, len(s.order)-steps)]
}

// take tightens a bolt.
func (s *sequence) take(i int) {
	s.order = append(s.order, i)
	s.done[i] = true
	for j := range s.clear {
		s.clear[j] = min(s.clear[j], s.gap(i, j))
	}
}

// open appends the bolts that may come next: those that are not neighbours of the last one, or all that are left if all are.
func (s *sequence) open(open []int) []int {
	one := s.before(1)
	for i, done := range s.done {
		if !done && s.step(one, i) == 0 {
			open = append(open, i)
		}
	}
	if len(open) > 0 {
		return open
	}
	for i, done := range s.done {
		if !done {
			open = append(open, i)
		}
	}
	return open
}

// partner returns the open bolt that pairs with the last one, −1 if there is none. It writes to room.
func (s *sequence) partner(open, room []int) int {
	one, inner, among := s.before(1), s.inner(open), room
	for _, i := range open {
		if s.facing(one, i) < -sameLength && s.radius[i] <= inner+2*ringWidth+sameLength {
			among = append(among, i)
		}
	}
	if len(among) == 0 {
		return -1
	}
	among = leastOf(among, func(i int) float64 { return s.mirrored(one, i) })
	among = leastOf(among, func(i int) float64 { return s.radius[i] })
	return among[0]
}

// opener returns the open bolt with which a pair begins. It overwrites open.
func (s *sequence) opener(open []int) int {
	inner, among := s.inner(open), open[:0]
	for _, i := range open {
		if s.radius[i] <= inner+ringWidth+sameLength {
			among = append(among, i)
		}
	}
	if one, two := s.before(1), s.before(2); one >= 0 {
		barred := s.barred(inner)
		among = leastOf(among, func(i int) float64 {
			for _, j := range barred {
				if s.near(i, j) {
					return 1
				}
			}
			return 0
		})
		among = leastOf(among, func(i int) float64 {
			if s.facing(one, i) < sameLength { // a right angle is enough
				return 0
			}
			return 1
		})
		among = leastOf(among, func(i int) float64 { return -s.clear[i] })
		among = leastOf(among, func(i int) float64 { return -min(s.gap(one, i), s.gap(two, i)) })
	}
	among = leastOf(among, func(i int) float64 { return s.radius[i] })
	return among[0]
}

// inner returns the least distance of some bolts from the centre.
func (s *sequence) inner(of []int) float64 {
	inner := math.Inf(1)
	for _, i := range of {
		inner = min(inner, s.radius[i])
	}
	return inner
}

// barred returns the innermost bolts left if they lie farther in than a radius: only being neighbours of the last bolt keeps
// them from being next.
func (s *sequence) barred(radius float64) []int {
	inner := math.Inf(1)
	for i, done := range s.done {
		if !done {
			inner = min(inner, s.radius[i])
		}
	}
	if inner >= radius-sameLength {
		return nil
	}
	var barred []int
	for i, done := range s.done {
		if !done && s.radius[i] <= inner+sameLength {
			barred = append(barred, i)
		}
	}
	return barred
}

// leastOf keeps the bolts with the least value, or one that counts as equal, in place.
func leastOf(among []int, value func(int) float64) []int {
	if len(among) == 1 {
		return among
	}
	lowest := math.Inf(1)
	for _, i := range among {
		lowest = min(lowest, value(i))
	}
	kept := among[:0]
	for _, i := range among {
		if value(i) <= lowest+sameLength {
			kept = append(kept, i)
		}
	}
	return kept
}
