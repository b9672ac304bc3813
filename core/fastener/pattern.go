package fastener

import "math"

// Rectangle places n bolts on the rim of a rectangle, clockwise from its upper left corner.
//
//	four in the corners, the rest between them, evenly along each side
//
// Width and height are of the bolts' lines, in any unit of length, not negative. The rest is shared out so that the widest
// gap is as small as it can be. With n even, opposite sides have the same number, and the pattern is its own mirror image
// in both axes; with n odd, one of two opposite sides has one more, and one axis is left. Fewer than four have no
// corners to fill: one lies in the middle, two in the middles of the short sides (the left and right ones of a square), three
// in both ends of one long side (the lower one if it lies flat, the left one if it stands) and the middle of the other. It is
// empty for n below 1. It ignores what a real part needs: dowels, ports, a bolt left out. No source: a convention of this
// package. Checked in TestRectangle.
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
			// Along a side one coordinate stays and the other runs to its opposite: mirror images are exact.
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

// onSides says how many of m bolts lie between the corners on each side of a rectangle.
func onSides(m int, width, height float64) (top, right, bottom, left int) {
	widest, narrowest := math.Inf(1), 0.0
	for flat := 0; flat <= m; flat++ {
		upright := m - flat
		if flat%2 == 1 && upright%2 == 1 {
			continue // two sides with one more each: no axis would be left
		}
		// The fuller of two opposite sides has the smaller gap, the other the larger.
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
// The diameter is that of the bolts' circle, in any unit of length, not negative. One bolt lies at the top, as those of more
// do. It is empty for n below 1. It ignores circles with uneven gaps. No source: geometry. Checked in TestCircle.
func Circle(n int, diameter float64) []Point {
	var at []Point
	for i := range n {
		// Within an eighth of a turn, and turned by quarters, which are exact: so are the mirror images.
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
// The width is from the first to the last, in any unit of length, not negative. One bolt lies in the middle. It is empty for n
// below 1. It ignores uneven gaps. No source: geometry. Checked in TestRow.
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
