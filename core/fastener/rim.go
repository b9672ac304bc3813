package fastener

import (
	"cmp"
	"math"
	"slices"
)

const (
	// offRim is how far inside the convex hull of all bolts one may lie and still count as one on the rim, as a share of the
	// longest distance between two: as far as a place tapped by hand may be off.
	offRim = 0.04
	// offRimWidth is the same as a share of the pattern's width. It keeps bolts on the rim on their side of the middle.
	offRimWidth = 1.0 / 6
)

// A rim is the order of bolts all of which lie on the rim of their pattern: of each bolt its place along it. Bolts that lie
// beside each other across it have one place.
type rim struct {
	place  []int
	places int
	closed bool // the last place is next to the first
}

func (r *rim) beside(i, j int) bool {
	d := max(r.place[i]-r.place[j], r.place[j]-r.place[i])
	return d <= 1 || r.closed && d == r.places-1
}

// alongRim orders bolts along their rim; it is nil where one of them lies within it, and where there are no two places. The
// bolts are measured from their mean, the outermost at 1.
//
// A pattern that is nowhere wider than twice offRim is a row, and its bolts are ordered along its longest spread (the first
// principal axis). Else they are ordered by the angle under which the middle of their hull's area sees them: it lies at least a
// third of the width within every side, so that a bolt that is a little inside the rim keeps its place. Places that differ by
// less than a millionth are one. What is decided changes with no turning, mirroring or scaling.
func alongRim(at []Point) *rim {
	if len(at) < 2 {
		return nil
	}
	hull := hullOf(at)
	longest := 0.0
	for i, a := range hull {
		for _, b := range hull[:i] {
			longest = max(longest, a.from(b))
		}
	}
	if longest <= sameLength {
		return nil
	}
	width := widthOf(hull)
	if width <= 2*offRim*longest+sameLength {
		return inOrder(along(at), 0)
	}
	within := min(offRim*longest, offRimWidth*width) + sameLength
	for _, a := range at {
		if depth(a, hull) > within {
			return nil
		}
	}
	middle := middleOf(hull)
	angle := make([]float64, len(at))
	for i, a := range at {
		angle[i] = math.Atan2(a.Y-middle.Y, a.X-middle.X)
	}
	return inOrder(angle, 2*math.Pi)
}

// inOrder gives the bolts places by a measure along the rim, which is closed where it comes round after so much.
func inOrder(measure []float64, round float64) *rim {
	order := make([]int, len(measure))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(measure[i], measure[j]) })
	r := &rim{place: make([]int, len(measure)), places: 1, closed: round > 0}
	for k, i := range order {
		if k > 0 && measure[i]-measure[order[k-1]] > sameLength {
			r.places++
		}
		r.place[i] = r.places - 1
	}
	if first, last := measure[order[0]], measure[order[len(order)-1]]; r.closed && r.places > 1 && first+round-last <= sameLength {
		r.places-- // the last place is the first
		for i, k := range r.place {
			if k == r.places {
				r.place[i] = 0
			}
		}
	}
	return r
}

// cross is twice the area of a triangle, above 0 where it turns left.
func cross(a, b, c Point) float64 {
	return float64((b.X-a.X)*(c.Y-a.Y)) - float64((b.Y-a.Y)*(c.X-a.X))
}

// hullOf is the convex hull, round to the left. Bolts on its sides, by rounding, may be corners of it or not.
func hullOf(at []Point) []Point {
	sorted := slices.Clone(at)
	slices.SortFunc(sorted, func(a, b Point) int {
		if c := cmp.Compare(a.X, b.X); c != 0 {
			return c
		}
		return cmp.Compare(a.Y, b.Y)
	})
	half := func(from []Point) (side []Point) {
		for _, p := range from {
			for len(side) > 1 && cross(side[len(side)-2], side[len(side)-1], p) <= 0 {
				side = side[:len(side)-1]
			}
			side = append(side, p)
		}
		return side[:len(side)-1]
	}
	lower := half(sorted)
	slices.Reverse(sorted)
	return append(lower, half(sorted)...)
}

// sides calls f with every side of a hull that is long enough to have a direction.
func sides(hull []Point, f func(a, b Point, length float64)) {
	for i, a := range hull {
		b := hull[(i+1)%len(hull)]
		if length := a.from(b); length > sameLength {
			f(a, b, length)
		}
	}
}

// widthOf is how wide a hull is where it is narrowest: the least distance of two parallels that have it between them.
func widthOf(hull []Point) float64 {
	least := math.Inf(1)
	sides(hull, func(a, b Point, length float64) {
		most := 0.0
		for _, c := range hull {
			most = max(most, cross(a, b, c)/length)
		}
		least = min(least, most)
	})
	return least
}

// depth is how far a bolt lies within a hull.
func depth(p Point, hull []Point) float64 {
	least := math.Inf(1)
	sides(hull, func(a, b Point, length float64) { least = min(least, cross(a, b, p)/length) })
	return least
}

// middleOf is the middle of a hull's area, which is above 0.
func middleOf(hull []Point) (middle Point) {
	area := 0.0
	for i := 2; i < len(hull); i++ {
		a, b, c := hull[0], hull[i-1], hull[i]
		part := cross(a, b, c)
		area += part
		middle.X += part * (a.X + b.X + c.X) / 3
		middle.Y += part * (a.Y + b.Y + c.Y) / 3
	}
	return Point{middle.X / area, middle.Y / area}
}

// along measures bolts, whose mean is the origin, along their longest spread.
func along(at []Point) []float64 {
	var xx, xy, yy float64
	for _, a := range at {
		xx += square(a.X)
		xy += float64(a.X * a.Y)
		yy += square(a.Y)
	}
	sin, cos := math.Sincos(math.Atan2(2*xy, xx-yy) / 2)
	list := make([]float64, len(at))
	for i, a := range at {
		list[i] = float64(a.X*cos) + float64(a.Y*sin)
	}
	return list
}
