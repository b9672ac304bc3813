package bolts

import (
	"math"
	"slices"
	"sort"
)

const (
	// offRim is how far inside the convex hull a bolt may lie and still count as on the rim, as a share of the longest distance
	// between two bolts: a place tapped by hand may be off by that much.
	offRim = 0.04
	// offRimWidth is the same limit as a share of the pattern's width. The smaller of the two applies: this one keeps a bolt of a
	// narrow pattern on its own side of the middle.
	offRimWidth = 1.0 / 6
)

// A rim numbers places along the rim of a pattern whose bolts all lie on it. Bolts beside each other across the rim, or the row,
// share a place.
type rim struct {
	place  []int // of each bolt
	places int
	closed bool // the last place is next to the first
}

// beside reports whether two bolts share a place or have places next to each other.
func (r *rim) beside(i, j int) bool {
	d := max(r.place[i]-r.place[j], r.place[j]-r.place[i])
	return d <= 1 || r.closed && d == r.places-1
}

// An outline is the convex hull of a pattern and its size.
type outline struct {
	hull           []Point
	longest, width float64
	row            *rim // nil unless the pattern is a row: no wider than twice offRim, and ordered along its first principal axis
}

// outlineOf returns nil where all bolts lie in one place. Coordinates are relative to the mean of the bolts, with the outermost at a
// distance of 1.
func outlineOf(at []Point) *outline {
	if len(at) < 2 {
		return nil
	}
	o := &outline{hull: hullOf(at)}
	for i, a := range o.hull {
		for _, b := range o.hull[:i] {
			o.longest = max(o.longest, a.from(b))
		}
	}
	if o.longest <= sameLength {
		return nil
	}
	o.width = widthOf(o.hull)
	if o.width <= 2*offRim*o.longest+sameLength {
		o.row = inOrder(along(at), 0)
	}
	return o
}

// alongRim numbers the places along the rim; it returns nil where some bolt lies well inside.
//
// A pattern that is no row is ordered by the angle at which each bolt is seen from the centroid of the hull's area. That centroid
// is at least a third of the width away from every side, so a bolt slightly inside the rim keeps its turn. Places less than a
// millionth apart are one place. Turning, mirroring or scaling the pattern does not change the result.
func (o *outline) alongRim(at []Point) *rim {
	if o.row != nil {
		return o.row
	}
	within := min(offRim*o.longest, offRimWidth*o.width) + sameLength
	for _, a := range at {
		if depth(a, o.hull) > within {
			return nil
		}
	}
	middle := middleOf(o.hull)
	angle := make([]float64, len(at))
	for i, a := range at {
		angle[i] = math.Atan2(a.Y-middle.Y, a.X-middle.X)
	}
	return inOrder(angle, 2*math.Pi)
}

// inOrder numbers the places by a measure along the rim. A round above 0 is the measure of one full turn: the rim is closed.
func inOrder(measure []float64, round float64) *rim {
	order := make([]int, len(measure))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return measure[order[i]] < measure[order[j]] })
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

// cross returns twice the area of a triangle, positive where its corners turn left.
func cross(a, b, c Point) float64 {
	return float64((b.X-a.X)*(c.Y-a.Y)) - float64((b.Y-a.Y)*(c.X-a.X))
}

// hullOf returns the corners of the convex hull, counterclockwise. Rounding decides whether a bolt on a side is a corner.
func hullOf(at []Point) []Point {
	sorted := slices.Clone(at)
	sort.SliceStable(sorted, func(i, j int) bool {
		a, b := sorted[i], sorted[j]
		return a.X < b.X || a.X == b.X && a.Y < b.Y
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

// sides calls f with every side of a hull, except sides too short to have a direction.
func sides(hull []Point, f func(a, b Point, length float64)) {
	for i, a := range hull {
		b := hull[(i+1)%len(hull)]
		if length := a.from(b); length > sameLength {
			f(a, b, length)
		}
	}
}

// widthOf returns the width of a hull: the least distance between two parallel lines with the hull between them.
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

// depth returns the distance of a bolt from the nearest side of the hull around it.
func depth(p Point, hull []Point) float64 {
	least := math.Inf(1)
	sides(hull, func(a, b Point, length float64) { least = min(least, cross(a, b, p)/length) })
	return least
}

// middleOf returns the centroid of a hull's area, which must be above 0.
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

// along returns the bolts' coordinates along their first principal axis. Their mean must be the origin.
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
