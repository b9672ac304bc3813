package bolts

import "math"

// A Point is where a bolt lies, in any unit of length: x to the right, y upwards.
type Point struct{ X, Y float64 }

// finite reports whether both coordinates are finite: ∞ − ∞ and NaN − NaN are not 0.
func (a Point) finite() bool { return a.X-a.X == 0 && a.Y-a.Y == 0 }

// from returns the distance between two bolts.
func (a Point) from(b Point) float64 {
	x, y := a.X-b.X, a.Y-b.Y
	return math.Sqrt(square(x) + square(y))
}

// square converts to float64 so that no machine fuses the product with a sum: distances are the same everywhere, and from
// either end.
func square(x float64) float64 { return float64(x * x) }

// Rectangle places n bolts on the rim of a rectangle, clockwise from its upper left corner.
//
//	four in the corners, the rest between them, evenly along each side
//
// Width and height are measured between bolt centres, in any unit of length, not negative. The rest is distributed so that the
// widest gap is as small as possible. With an even n, opposite sides have the same number, and the pattern is symmetric about
// both axes; with an odd n, one side has one more than the side opposite, and the pattern is symmetric about one axis. Fewer than
// four: one bolt lies in the middle; two lie in the middles of the short sides (of a square: left and right); three lie at both
// ends of one long side (the lower one of a rectangle that lies flat, the left one of one that stands) and in the middle of the
// other. The result is empty for n below 1. It ignores what a real part needs: dowels, ports, a bolt left out. No source: a
// convention of this package. Checked in TestRectangle.
func Rectangle(n int, width, height float64) []Point {
	x, y := width/2, height/2
	standing := height > width
	switch {
	case n < 1:
		return nil
	case n == 1:
		return []Point{{}}
	case n == 2 && standing:
		return []Point{{0, y}, {0, -y}}
	case n == 2:
		return []Point{{-x, 0}, {x, 0}}
	case n == 3 && standing:
		return []Point{{-x, y}, {x, 0}, {-x, -y}}
	case n == 3:
		return []Point{{0, y}, {x, -y}, {-x, -y}}
	}
	top, right, bottom, left := onSides(n-4, width, height)
	at := make([]Point, 0, n)
	side := func(from, to Point, between int) {
		for i := range between + 1 {
			// Along a side one coordinate is fixed and the other runs to its negative, so that mirror images are exact.
			share := float64(between+1-2*i) / float64(between+1)
			p := from
			if from.X != to.X {
				p.X *= share
			}
			if from.Y != to.Y {
				p.Y *= share
			}
			at = append(at, p)
		}
	}
	side(Point{-x, y}, Point{x, y}, top)
	side(Point{x, y}, Point{x, -y}, right)
	side(Point{x, -y}, Point{-x, -y}, bottom)
	side(Point{-x, -y}, Point{-x, y}, left)
	return at
}

// onSides returns how many of m bolts lie between the corners on each side of a rectangle.
func onSides(m int, width, height float64) (top, right, bottom, left int) {
	widest, narrowest := math.Inf(1), 0.0
	for flat := 0; flat <= m; flat++ {
		upright := m - flat
		if flat%2 == 1 && upright%2 == 1 {
			continue // two sides would have one more each: not symmetric
		}
		// Of two opposite sides, the one with more bolts has the smaller gap.
		gaps := []float64{
			width / float64(flat/2+1), width / float64((flat+1)/2+1),
			height / float64(upright/2+1), height / float64((upright+1)/2+1),
		}
		most, least := max(gaps[0], gaps[2]), min(gaps[1], gaps[3])
		near := sameLength * (width + height)
		if most < widest-near || most < widest+near && least > narrowest+near {
			widest, narrowest = most, least
			top, bottom, left, right = (flat+1)/2, flat/2, (upright+1)/2, upright/2
		}
	}
	return top, right, bottom, left
}

// Circle places n bolts evenly on a circle, clockwise from its top.
//
//	x = d/2·sin(2π·i/n), y = d/2·cos(2π·i/n)
//
// The diameter is that of the bolt circle, in any unit of length, not negative. A single bolt lies at the top too. The result is
// empty for n below 1. It ignores circles with uneven gaps. No source: geometry. Checked in TestCircle.
func Circle(n int, diameter float64) []Point {
	var at []Point
	for i := range n {
		// The sine is taken within an eighth of a turn, then turned by quarters, which is exact: mirror images are exact too.
		quarter, part := 4*i/n, 4*i%n
		var sin, cos float64
		if 2*part <= n {
			sin, cos = math.Sincos(math.Pi / 2 * float64(part) / float64(n))
		} else {
			cos, sin = math.Sincos(math.Pi / 2 * float64(n-part) / float64(n))
		}
		if 2*part == n {
			sin = cos
		}
		for range quarter {
			sin, cos = cos, -sin
		}
		at = append(at, Point{diameter/2*sin + 0, diameter/2*cos + 0}) // + 0: no negative zero
	}
	return at
}

// Row places n bolts evenly on a line, from left to right.
//
//	x = w·(i/(n − 1) − 1/2), y = 0
//
// The width is from the first bolt to the last, in any unit of length, not negative. A single bolt lies in the middle. The
// result is empty for n below 1. It ignores uneven gaps. No source: geometry. Checked in TestRow.
func Row(n int, width float64) []Point {
	if n == 1 {
		return []Point{{}}
	}
	var at []Point
	for i := range n {
		at = append(at, Point{X: width / 2 * float64(2*i-(n-1)) / float64(n-1)})
	}
	return at
}
