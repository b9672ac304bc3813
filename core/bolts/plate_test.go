package bolts

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNeighbours(t *testing.T) {
	for i, row := range Neighbours(grid(4, 5, 20, 20)) {
		var want []int
		for j := range 20 {
			if dr, dc := i/5-j/5, i%5-j%5; dr*dr+dc*dc == 1 {
				want = append(want, j)
			}
		}
		assert.Equal(t, want, row, "grid, bolt %d", i)
	}
	for n := 3; n <= 40; n++ {
		for i, row := range Neighbours(Circle(n, 60)) {
			want := []int{(i + n - 1) % n, (i + 1) % n}
			slices.Sort(want)
			assert.Equal(t, want, row, "circle of %d, bolt %d", n, i)
		}
	}
	for i, row := range Neighbours(Row(9, 80)) {
		for _, j := range row {
			assert.Equal(t, 1, max(i-j, j-i))
		}
	}
	// Two in one place, a third on its own.
	assert.Equal(t, [][]int{{1, 2}, {0, 2}, {0, 1}}, Neighbours([]Point{{1, 1}, {1, 1}, {5, 5}}))
	// Three bolts are next to each other along their rim. A fourth inside the triangle is nearer to both ends of every side.
	assert.Equal(t, [][]int{{1, 2}, {0, 2}, {0, 1}}, Neighbours([]Point{{0, 0}, {3, 0}, {0, 4}}))
	assert.Equal(t, [][]int{{3}, {3}, {3}, {0, 1, 2}}, Neighbours([]Point{{0, 0}, {3, 0}, {0, 4}, {1, 1}}))
	assert.Equal(t, [][]int{{2}, nil, {0}}, Neighbours([]Point{{0, 0}, {math.NaN(), 0}, {0, 4}}))
	assert.Equal(t, [][]int{nil}, Neighbours([]Point{{7, 7}}))
	assert.Empty(t, Neighbours(nil))
	// By the definition, with plain distances, on random patterns that have a bolt well inside.
	r := rand.New(rand.NewPCG(5, 1))
	for checked := 0; checked < 200; {
		at := randomPoints(r, 4+r.IntN(30))
		if deep, width := seenInside(at); deep < 0.05 || width < 0.1 {
			continue
		}
		checked++
		all := Neighbours(at)
		for i, p := range at {
			for j, q := range at[:i] {
				beside := true
				for _, k := range at {
					beside = beside && max(math.Hypot(p.X-k.X, p.Y-k.Y), math.Hypot(q.X-k.X, q.Y-k.Y)) >= math.Hypot(p.X-q.X, p.Y-q.Y)
				}
				assert.Equal(t, beside, slices.Contains(all[i], j))
				assert.Equal(t, beside, slices.Contains(all[j], i))
			}
		}
	}
}

// seenInside looks at a pattern from 3600 sides. It returns how deep inside the deepest bolt lies, and the pattern's least width,
// both as shares of its length.
func seenInside(at []Point) (deepest, width float64) {
	inside := make([]float64, len(at))
	for i := range inside {
		inside[i] = math.Inf(1)
	}
	width, length := math.Inf(1), 0.0
	for k := range 3600 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 3600)
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range at {
			low, high = min(low, p.X*cos+p.Y*sin), max(high, p.X*cos+p.Y*sin)
		}
		width, length = min(width, high-low), max(length, high-low)
		for i, p := range at {
			inside[i] = min(inside[i], high-p.X*cos-p.Y*sin)
		}
	}
	return slices.Max(inside) / length, width / length
}

// TestRim checks that the neighbours of bolts on a rim are the next ones along it, whatever lies opposite.
func TestRim(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	checkRims(t, r)
	checkRimsByHand(t)
	checkRimsTurned(t, r)
}

// around returns the neighbours of n bolts that are numbered along a closed rim.
func around(n int) (want [][]int) {
	for i := range n {
		row := []int{(i + n - 1) % n, (i + 1) % n}
		slices.Sort(row)
		want = append(want, slices.Compact(row))
	}
	return want
}

// checkRims checks rectangles, exact and as tapped by hand, and ellipses.
func checkRims(t *testing.T, r *rand.Rand) {
	for n := 4; n <= 40; n++ {
		for _, side := range [][2]float64{{80, 50}, {60, 60}, {30, 90}, {100, 12}} {
			at := Rectangle(n, side[0], side[1])
			assert.Equal(t, around(n), Neighbours(at), "rectangle of %d, %v", n, side)
			// Tapped by hand: each bolt is off by up to 1 % of the sides either way, and the bolts are farther apart than that.
			for range 3 {
				tapped := moved(at, func(p Point) Point {
					return Point{p.X + (r.Float64()-0.5)*0.02*side[0], p.Y + (r.Float64()-0.5)*0.02*side[1]}
				})
				if gap := 2 * (side[0] + side[1]) / float64(n); gap > 0.06*(side[0]+side[1]) && side[1] > 20 {
					assert.Equal(t, around(n), Neighbours(tapped), "rectangle of %d, %v: %v", n, side, tapped)
				}
			}
		}
		// Any convex rim: an ellipse, with gaps of all sizes.
		var turns []float64
		for range n {
			turns = append(turns, 2*math.Pi*r.Float64())
		}
		slices.Sort(turns)
		var at []Point
		for _, turn := range turns {
			sin, cos := math.Sincos(turn)
			at = append(at, Point{90 * cos, 40 * sin})
		}
		if _, width := seenInside(at); width > 0.1 {
			assert.Equal(t, around(n), Neighbours(at), "ellipse of %d: %v", n, at)
		}
	}
}

func checkRimsByHand(t *testing.T) {
	// Six around an opening of 80 by 50: both middles first, then the corners crosswise. By hand, numbered clockwise from the upper left.
	assert.Equal(t, []int{1, 4, 0, 3, 5, 2}, Order(Rectangle(6, 80, 50)))
	// Two in one place on a rim, and one close behind another, share a place, next to those on both sides.
	square := []Point{{0, 0}, {10, 0}, {10, 10}, {0, 10}}
	assert.Equal(t, [][]int{{1, 3, 4}, {0, 2, 4}, {1, 3}, {0, 2, 4}, {0, 1, 3}}, Neighbours(append(slices.Clone(square), Point{0, 0})))
	assert.Equal(t, [][]int{{1, 3, 4}, {0, 2, 4}, {1, 3}, {0, 2, 4}, {0, 1, 3}}, Neighbours(append(slices.Clone(square), Point{0.3, 0.3})))
	// A bolt well inside: the relative neighbourhood graph.
	assert.Equal(t, [][]int{{4}, {4}, {4}, {4}, {0, 1, 2, 3}}, Neighbours(append(slices.Clone(square), Point{5, 5})))
	// A row, one that is tapped by hand, and a narrow cover whose bolts face each other.
	assert.Equal(t, [][]int{{1}, {0, 2}, {1, 3}, {2}}, Neighbours([]Point{{0, 0}, {10, 0}, {40, 0}, {45, 0}}))
	assert.Equal(t, [][]int{{1}, {0, 2}, {1, 3}, {2, 4}, {3}}, Neighbours([]Point{{0, 0}, {25, 4}, {50, 0}, {75, 5}, {100, 2}}))
	narrow := grid(2, 4, 40, 6)
	assert.Equal(t, []int{1, 4, 5}, Neighbours(narrow)[0])
	assert.Equal(t, []int{0, 2, 4, 5, 6}, Neighbours(narrow)[1])
}

// checkRimsTurned checks that a pattern which is turned, mirrored, moved and scaled has the same neighbours.
func checkRimsTurned(t *testing.T, r *rand.Rand) {
	for k := range 400 {
		n := 3 + r.IntN(20)
		at := Rectangle(n, 20+80*r.Float64(), 10+80*r.Float64())
		switch k % 4 {
		case 1:
			at = moved(at, func(p Point) Point { return Point{p.X + 6*r.Float64(), p.Y + 6*r.Float64()} })
		case 2:
			at = snapped(r, n)
		case 3:
			at = moved(at, func(p Point) Point { return Point{5 * math.Round(p.X/5), 5 * math.Round(p.Y/5)} })
		}
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		there := moved(at, func(p Point) Point { return Point{7*(p.X*cos+p.Y*sin) + 13, 7*(p.X*sin-p.Y*cos) - 5} })
		assert.Equal(t, Neighbours(at), Neighbours(there), "%v", at)
	}
}
