package fastener

import (
	"math"
	"math/bits"
)

// A Point is where a bolt lies, in any unit of length: x to the right, y upwards.
type Point struct{ X, Y float64 }

const (
	// sameLength is up to where two lengths count as the same, as a share of the outermost bolt's distance from the centre: far
	// above what rounding does, far below what is measured on a plate.
	sameLength = 1e-6
	// onePlace is the size of a pattern, as a share of its largest coordinate, up to which all its bolts lie in one place.
	onePlace = 1e-12
	// ringWidth is how much farther out than the innermost, as a share of the outermost bolt's distance from the centre, a bolt
	// may lie and still count as one of the same ring. A partner may lie two rings out. Found by looking at patterns.
	ringWidth = 0.15
	// lastBolts is the number of bolts, at the end, of which every order is looked through. At most 16.
	lastBolts = 12
)

// Order is an order in which bolts are tightened: from the centre outwards, crossing sides, and not from a bolt to its
// neighbour.
//
//	opener: the innermost, and of those in its ring, first the ones that do not bar what lies farther in, then those on the other
//	side of the one before, then the farthest from all that are tight, then the farthest from the last two, then the innermost
//	partner: on the other side of the opener, not more than two rings out, the nearest to its mirror image through the centre
//
// Openers and partners take turns; where there is no partner, another opener follows. Neither is a neighbour of the one
// before ([Neighbours]) unless it has to be: up to twelve bolts have the fewest neighbouring steps that any order of them has,
// and so do the last twelve of more, given those before them; a neighbouring step that is left is then freed, if it can be, by
// moving one bolt. The centre is the mean of all bolts. The result has every index once; coordinates are in any unit and of any
// size, and more than a hundred bolts take long (the cube of their number). All is decided by distances and by the order along the
// rim, and what is equal to a millionth of the pattern's radius goes by index: a pattern that is turned, mirrored, moved or scaled
// has the same order. A
// bolt whose place is not finite is left out of all this and comes at the end, by index. It ignores the shape of the parts,
// their stiffness, gasket and dowels: a maker's order takes precedence. Source: common practice (centre outwards,
// crosswise). Checked in TestKnownOrders, TestFewest, TestInvariance, TestOutwards, FuzzOrder.
func Order(at []Point) []int {
	p := measure(at)
	order := p.order()
	p.free(order)
	for k, i := range order {
		order[k] = p.index[i]
	}
	for i, a := range at {
		if !a.finite() {
			order = append(order, i)
		}
	}
	return order
}

// Neighbours says of each bolt which others are next to it, by index.
//
//	all bolts on the rim of their pattern: those next to each other along it, as around an opening
//	in a row: those next to each other along it
//	else: those that have no third nearer to both than they are to each other (the relative neighbourhood graph)
//
// A bolt is on the rim if it lies not farther inside the convex hull of all than 4 % of the longest distance between two of them, or
// a sixth of the hull's width; a row is a pattern not wider than 8 % of its length, and bolts beside each other across it have one
// place in it. Two in one place are neighbours, and have the same ones. Lengths equal to a millionth of the pattern's radius are equal.
// A bolt whose place is not finite has none. It ignores what lies between: around an opening with a deep step or a bolt within it,
// facing bolts that have none nearer to both are neighbours still, however far they are apart. Source: the first two are a convention
// of this package (common practice: crossing an opening is not a step to the next bolt); G. T. Toussaint, The relative neighbourhood
// graph of a finite planar set, 1980 (from memory). Checked in TestNeighbours, TestRim.
func Neighbours(at []Point) [][]int {
	p := measure(at)
	all := make([][]int, len(at))
	for a, i := range p.index {
		for b, j := range p.index {
			if p.near(a, b) {
				all[i] = append(all[i], j)
			}
		}
	}
	return all
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

func (a Point) finite() bool { return a.X-a.X == 0 && a.Y-a.Y == 0 }

func (a Point) from(b Point) float64 {
	x, y := a.X-b.X, a.Y-b.Y
	return math.Sqrt(square(x) + square(y))
}

// square is not fused with a sum to one operation, so that distances are the same on every machine, whichever way round.
func square(x float64) float64 { return float64(x * x) }

// A plate is all that is known of a pattern when its order is decided: distances, nothing that turning or mirroring
// changes, but for who is next to whom along the rim, which nothing of that changes either.
type plate struct {
	n      int
	index  []int     // of these bolts in the caller's list
	radius []float64 // from the centre; 1 for the outermost
	apart  []float64 // n rows of n: from bolt to bolt, in the same measure
	beside []bool    // n rows of n: neighbours
}

func (p *plate) gap(i, j int) float64 { return p.apart[i*p.n+j] }
func (p *plate) near(i, j int) bool   { return p.beside[i*p.n+j] }

// facing is the scalar product of the places of two bolts seen from the centre: negative on opposite sides.
func (p *plate) facing(i, j int) float64 {
	return (square(p.radius[i]) + square(p.radius[j]) - square(p.gap(i, j))) / 2
}

// mirrored is the distance of j from the mirror image of i through the centre: the other diagonal of a parallelogram.
func (p *plate) mirrored(i, j int) float64 {
	return math.Sqrt(max(0, 2*square(p.radius[i])+2*square(p.radius[j])-square(p.gap(i, j))))
}

// measure measures a pattern.
func measure(at []Point) *plate {
	p := &plate{}
	var places []Point
	largest := 0.0
	for i, a := range at {
		if a.finite() {
			p.index = append(p.index, i)
			places = append(places, a)
			largest = max(largest, math.Abs(a.X), math.Abs(a.Y))
		}
	}
	n := len(places)
	p.n, p.radius, p.apart, p.beside = n, make([]float64, n), make([]float64, n*n), make([]bool, n*n)

	// By a power of two, which is exact, to where nothing overflows; then from the first bolt, so that bolts in one place
	// stay in one place; then from the centre.
	_, exponent := math.Frexp(largest)
	var centre, first Point
	for i, a := range places {
		a = Point{math.Ldexp(a.X, -exponent), math.Ldexp(a.Y, -exponent)}
		if i == 0 {
			first = a
		}
		places[i] = Point{a.X - first.X, a.Y - first.Y}
		centre.X += places[i].X / float64(n)
		centre.Y += places[i].Y / float64(n)
	}
	size := 0.0
	for i, a := range places {
		p.radius[i] = a.from(centre)
		size = max(size, p.radius[i])
	}
	if size <= onePlace {
		size = math.Inf(1)
	}
	for i, a := range places {
		p.radius[i] /= size
		for j, b := range places[:i] {
			gap := a.from(b) / size
			p.apart[i*n+j], p.apart[j*n+i] = gap, gap
		}
	}

	for i, a := range places {
		places[i] = Point{(a.X - centre.X) / size, (a.Y - centre.Y) / size}
	}
	if turn := alongRim(places); turn != nil {
		for i := range n {
			for j := range i {
				beside := turn.beside(i, j)
				p.beside[i*n+j], p.beside[j*n+i] = beside, beside
			}
		}
		return p
	}
	for i := range n {
		fromI := p.apart[i*n : i*n+n]
		for j := range i {
			fromJ := p.apart[j*n : j*n+n]
			within := fromI[j] - sameLength
			between := false
			for k := 0; k < n && !between; k++ {
				between = fromI[k] < within && fromJ[k] < within
			}
			p.beside[i*n+j], p.beside[j*n+i] = !between, !between
		}
	}
	return p
}

// order is the order before it is freed of what neighbouring steps are left.
func (p *plate) order() []int {
	s := sequence{plate: p, done: make([]bool, p.n), clear: make([]float64, p.n)}
	for i := range s.clear {
		s.clear[i] = math.Inf(1)
	}
	var end *ending
	room := make([]int, 0, 2*p.n)
	awaits := false // the last one awaits its partner
	for left := p.n; left > 0; left-- {
		if end == nil && left <= lastBolts {
			end = p.ending(s.done, s.before(1))
		}
		open := room[:0]
		if end != nil {
			open = end.open(open)
		} else {
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
	return s.order
}

// A sequence is an order in the making.
type sequence struct {
	*plate
	order []int
	done  []bool
	clear []float64 // of each bolt, the distance from all that are tight
}

// before is the bolt that was tightened so many steps ago; the first one for more steps than there were, -1 before it.
func (s *sequence) before(steps int) int {
	if len(s.order) == 0 {
		return -1
	}
	return s.order[max(0, len(s.order)-steps)]
}

func (s *sequence) take(i int) {
	s.order = append(s.order, i)
	s.done[i] = true
	for j := range s.clear {
		s.clear[j] = min(s.clear[j], s.gap(i, j))
	}
}

// open appends the bolts that may come next: those that are not neighbours of the last one; all, where there are none.
func (s *sequence) open(open []int) []int {
	one := s.before(1)
	for i, done := range s.done {
		if !done && (one < 0 || !s.near(one, i)) {
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

// partner is the bolt of those open that goes with the last one, -1 if there is none.
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

// opener is the bolt of those open with which a pair begins. It sorts out in place.
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
			if s.facing(one, i) < sameLength { // square to it will do
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

func (s *sequence) inner(of []int) float64 {
	inner := math.Inf(1)
	for _, i := range of {
		inner = min(inner, s.radius[i])
	}
	return inner
}

// barred are the innermost bolts left, if they lie farther in than a radius: what keeps them out is that they are next to
// the last one.
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

// leastOf keeps, in place, those with the least value or one equal to it.
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

// An ending knows of the last bolts which may come next if the rest is to have the fewest neighbouring steps. A set of
// them is a number, a bit for each.
type ending struct {
	bolt    []int
	distant []uint16   // of each, those that are not its neighbours
	reach   uint16     // those that are not neighbours of the one before
	left    uint16     // those not tightened
	within  [][]uint16 // within[k][set]: with which the set can begin so that it has at most k neighbouring steps
	steps   int        // the fewest neighbouring steps of those left, with the one from the bolt before
}

// ending looks through all orders of the bolts not done, by sets. With one below 0 there is no bolt before.
func (p *plate) ending(done []bool, one int) *ending {
	e := &ending{}
	for i, done := range done {
		if !done {
			e.bolt = append(e.bolt, i)
		}
	}
	m := len(e.bolt)
	e.left = 1<<m - 1
	e.distant = make([]uint16, m)
	for v, i := range e.bolt {
		for w, j := range e.bolt {
			if v != w && !p.near(i, j) {
				e.distant[v] |= 1 << w
			}
		}
		if one < 0 || !p.near(one, i) {
			e.reach |= 1 << v
		}
	}
	// With a step to spare any bolt may follow any: a set that has a beginning within k−1 follows every bolt within k. A
	// set has none within k if none smaller by one has.
	for k := 0; ; k++ {
		begin := make([]uint16, 1<<m)
		var some [lastBolts + 1]bool // by the size of the set
		some[0] = true
		for set := range begin {
			size := bits.OnesCount16(uint16(set))
			if size <= 1 {
				begin[set], some[size] = uint16(set), true
				continue
			}
			if !some[size-1] {
				continue
			}
			if k > 0 {
				begin[set] = e.within[k-1][set]
			}
			for missing := uint16(set) &^ begin[set]; missing != 0; missing &= missing - 1 {
				v := bits.TrailingZeros16(missing)
				rest := set &^ (1 << v)
				if begin[rest]&e.distant[v] != 0 || k > 0 && e.within[k-1][rest] != 0 {
					begin[set] |= 1 << v
				}
			}
			some[size] = some[size] || begin[set] != 0
		}
		e.within = append(e.within, begin)
		e.steps = k
		if e.next() != 0 {
			return e
		}
	}
}

// next is the set of those that may come next.
func (e *ending) next() uint16 {
	next := e.within[e.steps][e.left] & e.reach
	if e.steps > 0 {
		next |= e.within[e.steps-1][e.left] &^ e.reach
	}
	return next
}

// open appends the bolts that may come next.
func (e *ending) open(open []int) []int {
	for next := e.next(); next != 0; next &= next - 1 {
		open = append(open, e.bolt[bits.TrailingZeros16(next)])
	}
	return open
}

func (e *ending) take(i int) {
	for v, bolt := range e.bolt {
		if bolt != i {
			continue
		}
		if e.reach&(1<<v) == 0 {
			e.steps--
		}
		e.left &^= 1 << v
		e.reach = e.distant[v]
	}
}

// free moves single bolts in an order, as little as will do, as long as that leaves fewer neighbouring steps.
func (p *plate) free(order []int) {
	step := func(i, j int) int { // the ends of the order are next to nothing
		if i >= 0 && j >= 0 && p.near(i, j) {
			return 1
		}
		return 0
	}
	bolt := func(k int) int {
		if k < 0 || k >= len(order) {
			return -1
		}
		return order[k]
	}
	for {
		best, from, to := len(order), -1, -1
		for k, i := range order {
			before, after := bolt(k-1), bolt(k+1)
			has := step(before, i) + step(i, after)
			if has == 0 {
				continue
			}
			saved := has - step(before, after)
			for q := range order {
				if q == k || max(q-k, k-q) >= best {
					continue
				}
				l, r := bolt(q-1), bolt(q) // it comes between these
				if q > k {
					l, r = bolt(q), bolt(q+1)
				}
				if step(l, i)+step(i, r)-step(l, r) < saved {
					best, from, to = max(q-k, k-q), k, q
				}
			}
		}
		if from < 0 {
			return
		}
		i := order[from]
		if from < to {
			copy(order[from:to], order[from+1:to+1])
		} else {
			copy(order[to+1:from+1], order[to:from])
		}
		order[to] = i
	}
}
