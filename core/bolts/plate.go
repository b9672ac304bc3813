package bolts

import "math"

const (
	// sameLength is the largest difference at which two lengths count as equal, as a share of the outermost bolt's distance from
	// the centre: far above what rounding does, far below what is measured on a plate.
	sameLength = 1e-6
	// onePlace is the size of a pattern, as a share of its largest coordinate, up to which all its bolts lie in one place.
	onePlace = 1e-12
)

// Neighbours returns, for each bolt, the indices of its neighbours.
//
//	all bolts on the rim of their pattern: the next ones along it, as around an opening
//	in a row:                              the next ones along it
//	else:                                  two bolts are neighbours if no third is nearer to both than they are to each other
//	                                       (the relative neighbourhood graph)
//
// A bolt is on the rim if it lies inside the convex hull of all by no more than 4 % of the longest distance between two bolts, or
// a sixth of the hull's width, whichever is less. A row is a pattern whose width is at most 8 % of its length; bolts beside each
// other across a row share a place in it. Two bolts in one place are neighbours and have the same other neighbours. Lengths equal
// to a millionth of the pattern's radius are equal. A bolt whose coordinates are not finite has no neighbours.
//
// It ignores what lies between: around an opening with a deep step, or with a bolt inside it, bolts that face each other remain
// neighbours if none is nearer to both, however far apart they are. Source: the first two are a convention of this package (common
// practice: crossing an opening is not a step to the next bolt); G. T. Toussaint, The relative neighbourhood graph of a finite
// planar set, 1980 (from memory). Checked in TestNeighbours, TestRim.
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

// A plate is a pattern's pairwise distances and neighbours; rotation and mirroring change neither.
type plate struct {
	n      int       // bolts with finite coordinates
	index  []int     // of these bolts in the caller's list
	radius []float64 // distances from the centre; 1 for the outermost
	apart  []float64 // n rows of n: distances between bolts, in the same measure
	beside []bool    // n rows of n: neighbours
	level  []int     // of a row, a rectangle or a grid, see [outwards]; else nil
}

func (p *plate) gap(i, j int) float64 { return p.apart[i*p.n+j] }
func (p *plate) near(i, j int) bool   { return p.beside[i*p.n+j] }

// step returns 1 if a step of an order leads from a bolt to its neighbour, else 0. A bolt below 0 is nobody's neighbour.
func (p *plate) step(i, j int) int {
	if i >= 0 && j >= 0 && p.near(i, j) {
		return 1
	}
	return 0
}

// facing returns the scalar product of two bolts' positions relative to the centre: negative on opposite sides.
func (p *plate) facing(i, j int) float64 {
	return (square(p.radius[i]) + square(p.radius[j]) - square(p.gap(i, j))) / 2
}

// mirrored returns the distance of j from the mirror image of i through the centre: the other diagonal of a parallelogram.
func (p *plate) mirrored(i, j int) float64 {
	return math.Sqrt(max(0, 2*square(p.radius[i])+2*square(p.radius[j])-square(p.gap(i, j))))
}

// measure works out the distances of a pattern, and who is next to whom.
func measure(at []Point) *plate {
	p := &plate{}
	places := p.finite(at)
	p.n = len(places)
	p.radius, p.apart, p.beside = make([]float64, p.n), make([]float64, p.n*p.n), make([]bool, p.n*p.n)
	p.distances(places)
	var turn *rim
	if o := outlineOf(places); o != nil {
		p.level, turn = o.outwards(places), o.alongRim(places)
	}
	for i := range p.n {
		for j := range i {
			if turn != nil {
				p.join(i, j, turn.beside(i, j))
			} else {
				p.join(i, j, !p.between(i, j))
			}
		}
	}
	return p
}

// finite notes the index of every bolt with finite coordinates and returns the bolts, scaled and moved so that the first is at
// the origin. The scale is a power of two, which is exact, so that nothing overflows, and bolts in one place stay in one place.
func (p *plate) finite(at []Point) (places []Point) {
	largest := 0.0
	for i, a := range at {
		if a.finite() {
			p.index = append(p.index, i)
			places = append(places, a)
			largest = max(largest, math.Abs(a.X), math.Abs(a.Y))
		}
	}
	_, exponent := math.Frexp(largest)
	var first Point
	for i, a := range places {
		a = Point{math.Ldexp(a.X, -exponent), math.Ldexp(a.Y, -exponent)}
		if i == 0 {
			first = a
		}
		places[i] = Point{a.X - first.X, a.Y - first.Y}
	}
	return places
}

// distances fills in radius and apart, and moves the places to the centre, with the outermost at a distance of 1.
func (p *plate) distances(places []Point) {
	var centre Point
	for _, a := range places {
		centre.X += a.X / float64(p.n)
		centre.Y += a.Y / float64(p.n)
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
			p.apart[i*p.n+j], p.apart[j*p.n+i] = gap, gap
		}
	}
	for i, a := range places {
		places[i] = Point{(a.X - centre.X) / size, (a.Y - centre.Y) / size}
	}
}

// join notes whether two bolts are neighbours.
func (p *plate) join(i, j int, beside bool) { p.beside[i*p.n+j], p.beside[j*p.n+i] = beside, beside }

// between reports whether some bolt is nearer to both of two bolts than they are to each other.
func (p *plate) between(i, j int) bool {
	fromI, fromJ := p.apart[i*p.n:i*p.n+p.n], p.apart[j*p.n:j*p.n+p.n]
	within := fromI[j] - sameLength
	for k, d := range fromI {
		if d < within && fromJ[k] < within {
			return true
		}
	}
	return false
}
