package bolts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// samePlaces reports whether two patterns have the same places, in any order.
func samePlaces(a, b []Point) bool {
	left := append([]Point(nil), b...)
	for _, p := range a {
		found := -1
		for i, q := range left {
			if math.Hypot(p.X-q.X, p.Y-q.Y) < 1e-9 {
				found = i
				break
			}
		}
		if found < 0 {
			return false
		}
		left = append(left[:found], left[found+1:]...)
	}
	return len(left) == 0
}

// moved applies a change to every bolt.
func moved(at []Point, change func(Point) Point) []Point {
	to := make([]Point, len(at))
	for i, p := range at {
		to[i] = change(p)
	}
	return to
}

func leftRight(p Point) Point { return Point{-p.X, p.Y} }
func upDown(p Point) Point    { return Point{p.X, -p.Y} }

func TestRectangle(t *testing.T) {
	for _, size := range []Point{{80, 50}, {50, 80}, {60, 60}, {200, 20}, {3, 900}, {1e-3, 2e-3}, {1e6, 1}} {
		for n := 1; n <= 100; n++ {
			at := Rectangle(n, size.X, size.Y)
			require.Len(t, at, n)
			lr, ud := samePlaces(at, moved(at, leftRight)), samePlaces(at, moved(at, upDown))
			assert.True(t, lr || ud, "%d on %v: an axis", n, size)
			if n%2 == 0 || n == 1 {
				assert.True(t, lr && ud, "%d on %v: both axes", n, size)
			}
			if n < 4 {
				continue
			}
			corners := 0
			for i, p := range at {
				x, y := math.Abs(p.X), math.Abs(p.Y)
				assert.True(t, x == size.X/2 && y <= size.Y/2 || y == size.Y/2 && x <= size.X/2, "%v on the rim of %v", p, size)
				if x == size.X/2 && y == size.Y/2 {
					corners++
				}
				assert.NotContains(t, at[:i], p)
			}
			assert.Equal(t, 4, corners)
			// No other distribution over the sides has a smaller widest gap.
			widest := 0.0
			for i, p := range at {
				q := at[(i+1)%n]
				widest = max(widest, p.from(q))
			}
			for flat := 0; flat <= n-4; flat++ {
				if n%2 == 0 && flat%2 == 1 {
					continue
				}
				upright := n - 4 - flat
				other := max(size.X/float64(flat/2+1), size.Y/float64(upright/2+1))
				assert.LessOrEqual(t, widest, other*(1+1e-6)+1e-6*(size.X+size.Y), "%d on %v, %d of them on the level sides", n, size, flat)
			}
		}
	}
	assert.Empty(t, Rectangle(0, 80, 50))
	assert.Empty(t, Rectangle(-3, 80, 50))
	assert.Equal(t, []Point{{}}, Rectangle(1, 80, 50))
	assert.Equal(t, []Point{{-40, 0}, {40, 0}}, Rectangle(2, 80, 50))
	assert.Equal(t, []Point{{0, 40}, {0, -40}}, Rectangle(2, 50, 80))
	assert.Equal(t, []Point{{0, 25}, {40, -25}, {-40, -25}}, Rectangle(3, 80, 50))
	assert.Equal(t, []Point{{-25, 40}, {25, 0}, {-25, -40}}, Rectangle(3, 50, 80))
	assert.Equal(t, []Point{{-40, 25}, {40, 25}, {40, -25}, {-40, -25}}, Rectangle(4, 80, 50))
	assert.Equal(t, []Point{{-40, 25}, {0, 25}, {40, 25}, {40, -25}, {0, -25}, {-40, -25}}, Rectangle(6, 80, 50))
	assert.Equal(t, []Point{{-40, 25}, {0, 25}, {40, 25}, {40, 0}, {40, -25}, {0, -25}, {-40, -25}, {-40, 0}}, Rectangle(8, 80, 50))
}

func TestCircle(t *testing.T) {
	for n := 1; n <= 100; n++ {
		at := Circle(n, 60)
		require.Len(t, at, n)
		assert.Equal(t, Point{0, 30}, at[0], "the first at the top")
		assert.True(t, samePlaces(at, moved(at, leftRight)))
		assert.Equal(t, n%2 == 0, samePlaces(at, moved(at, upDown)))
		turn := 2 * math.Pi / float64(n)
		for i, p := range at {
			assert.InDelta(t, 30*math.Sin(turn*float64(i)), p.X, 1e-12)
			assert.InDelta(t, 30*math.Cos(turn*float64(i)), p.Y, 1e-12)
			if i > 0 {
				assert.Equal(t, leftRight(p), at[n-i], "mirror images are exact")
			}
		}
	}
	assert.Equal(t, []Point{{0, 1}, {1, 0}, {0, -1}, {-1, 0}}, Circle(4, 2))
	assert.Empty(t, Circle(0, 60))
	assert.Empty(t, Circle(-1, 60))
}

func TestRow(t *testing.T) {
	for n := 1; n <= 100; n++ {
		at := Row(n, 80)
		require.Len(t, at, n)
		assert.True(t, samePlaces(at, moved(at, leftRight)))
		for i, p := range at {
			assert.Zero(t, p.Y)
			if i > 0 {
				assert.InDelta(t, 80/float64(n-1), p.X-at[i-1].X, 1e-12)
			}
		}
		if n > 1 {
			assert.Equal(t, []float64{-40, 40}, []float64{at[0].X, at[n-1].X})
		}
	}
	assert.Equal(t, []Point{{}}, Row(1, 80))
	assert.Empty(t, Row(0, 80))
	assert.Empty(t, Row(-1, 80))
}
