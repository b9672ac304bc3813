package bolts

import (
	"math"
	"slices"
	"sort"

	"ohmwright/core/portable"
)

// outwards numbers the levels in which the bolts of a row, a rectangle or a grid are tightened, from the middle out: all of a level
// before any of the next. It returns nil for any other pattern, a circle among them.
//
//	row:        the places along it, from the middle one or two to the ends
//	rectangle:  bolts in its corners, the others along its sides: by distance from its middle, so that the middles of the long sides
//	            come first and the corners last
//	grid:       rectangle with further rows across it: the same
//
// Turning, mirroring or scaling the pattern does not change the result, as only lengths decide.
func (o *outline) outwards(at []Point) []int {
	if row := o.row; row != nil {
		level := make([]int, len(at))
		for i, place := range row.place {
			level[i] = max(2*place-(row.places-1), row.places-1-2*place) / 2
		}
		return level
	}
	b, ok := boxOf(at, o.hull)
	if !ok || !b.cornered(offRim*o.longest) || !b.rowed(offRim*o.longest) {
		return nil
	}
	return b.levels()
}

// A box is a rectangle around a pattern, and the bolts in its coordinates, relative to its middle.
type box struct {
	at            []Point
	width, height float64
}

// boxOf lays the least box around a pattern, along a side of its hull.
func boxOf(at, hull []Point) (least box, ok bool) {
	area := math.Inf(1)
	sides(hull, func(a, b Point, length float64) {
		x, y := Point{(b.X - a.X) / length, (b.Y - a.Y) / length}, 0.0
		low, high := math.Inf(1), math.Inf(-1)
		for _, c := range hull {
			along := dot(c, x)
			low, high, y = min(low, along), max(high, along), max(y, cross(a, b, c)/length)
		}
		if size := (high - low) * y; size < area-sameLength {
			area, ok = size, true
			least = box{width: high - low, height: y, at: make([]Point, len(at))}
			for i, c := range at {
				least.at[i] = Point{dot(c, x) - (low+high)/2, cross(a, b, c)/length - y/2}
			}
		}
	})
	return least, ok
}

// dot is the scalar product.
func dot(a, b Point) float64 { return float64(a.X*b.X) + float64(a.Y*b.Y) }

// cornered reports whether there is a bolt in each corner of the box.
func (b *box) cornered(within float64) bool {
	for _, corner := range [4]Point{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
		at := Point{corner.X * b.width / 2, corner.Y * b.height / 2}
		if !slices.ContainsFunc(b.at, func(a Point) bool { return a.from(at) <= within }) {
			return false
		}
	}
	return true
}

// rowed reports whether each bolt lies on a side of the box, or in a row, in either direction, that reaches from side to side.
func (b *box) rowed(within float64) bool {
	for _, a := range b.at {
		x, y := b.width/2-math.Abs(a.X), b.height/2-math.Abs(a.Y)
		if min(x, y) > within && !b.reaches(a, within, false) && !b.reaches(a, within, true) {
			return false
		}
	}
	return true
}

// reaches reports whether the row or the column of a bolt has bolts at both of its ends.
func (b *box) reaches(a Point, within float64, column bool) bool {
	far := [2]bool{}
	for _, c := range b.at {
		off, end, half := c.Y-a.Y, c.X, b.width/2
		if column {
			off, end, half = c.X-a.X, c.Y, b.height/2
		}
		if math.Abs(off) <= within {
			far[0], far[1] = far[0] || end < within-half, far[1] || end > half-within
		}
	}
	return far[0] && far[1]
}

// levels numbers the bolts' distances from the middle. Those of a pattern as it is drawn count as one if they are equal; those of one
// tapped by hand if they differ by no more than its bolts stray from straight rows.
func (b *box) levels() []int {
	within := max(sameLength, b.strays())
	order := make([]int, len(b.at))
	for i := range order {
		order[i] = i
	}
	radius := func(i int) float64 { return b.at[i].from(Point{}) }
	sort.SliceStable(order, func(i, j int) bool { return radius(order[i]) < radius(order[j]) })
	level := make([]int, len(b.at))
	first := order[0]
	for k, i := range order {
		if k > 0 {
			level[i] = level[order[k-1]]
			if radius(i)-radius(first) > within {
				level[i]++
				first = i
			}
		}
	}
	return level
}

// strays returns how far bolts on the sides of the box are from these at most.
func (b *box) strays() (most float64) {
	for _, a := range b.at {
		d := min(b.width/2-math.Abs(a.X), b.height/2-math.Abs(a.Y))
		if d <= offRim*portable.Hypot(b.width, b.height) {
			most = max(most, d)
		}
	}
	return most
}

const mostOfLevel = 10 // bolts of a level that are tried in every order

// A climb knows the fewest neighbouring steps that the rest of an outward order can have.
type climb struct {
	*plate
	members [][]int        // of each level
	known   map[[3]int]int // by level, set of its bolts left, and the bolt before
}

// climb returns nil where there are no levels, or one has too many bolts for every order to be tried.
func (p *plate) climb() *climb {
	if p.level == nil {
		return nil
	}
	c := &climb{plate: p, members: make([][]int, slices.Max(p.level)+1), known: map[[3]int]int{}}
	for i, l := range p.level {
		c.members[l] = append(c.members[l], i)
		if len(c.members[l]) > mostOfLevel {
			return nil
		}
	}
	if len(c.members) == 1 {
		return nil // nothing is farther out than anything else: crosswise, as a circle
	}
	return c
}

// left returns the level that is next, and the set of its bolts left.
func (c *climb) left(done []bool) (level, set int) {
	for level = range c.members {
		for v, i := range c.members[level] {
			if !done[i] {
				set |= 1 << v
			}
		}
		if set != 0 {
			return level, set
		}
	}
	return len(c.members), 0
}

// fewest returns the fewest neighbouring steps from a bolt on, below 0 for none, through what is left.
func (c *climb) fewest(level, set, one int) int {
	if set == 0 {
		if level++; level >= len(c.members) {
			return 0
		}
		set = 1<<len(c.members[level]) - 1
	}
	key := [3]int{level, set, one}
	if steps, ok := c.known[key]; ok {
		return steps
	}
	least := c.n
	for v, i := range c.members[level] {
		if set&(1<<v) != 0 {
			least = min(least, c.step(one, i)+c.fewest(level, set&^(1<<v), i))
		}
	}
	c.known[key] = least
	return least
}

// open appends the bolts that may come next: of the innermost level left, with the fewest neighbouring steps in the end.
func (c *climb) open(open []int, done []bool, one int) []int {
	level, set := c.left(done)
	least := c.fewest(level, set, one)
	for v, i := range c.members[level] {
		if set&(1<<v) != 0 && c.step(one, i)+c.fewest(level, set&^(1<<v), i) == least {
			open = append(open, i)
		}
	}
	return open
}
