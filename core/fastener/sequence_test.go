package fastener

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pan is the rim of an oil pan with a step, controlBody a control body full of bolts, both made up: as tapped by hand, snapped
// to five units.
var pan = []Point{
	{0, 90}, {25, 95}, {50, 95}, {75, 95}, {100, 95}, {125, 90}, {140, 75}, {145, 55}, {140, 35}, {120, 25}, {95, 20},
	{80, 5}, {60, 0}, {35, 0}, {10, 5}, {0, 25}, {-5, 45}, {-5, 70},
}

var controlBody = []Point{
	{10, 5}, {35, 0}, {60, 5}, {85, 0}, {110, 5}, {135, 10}, {5, 25}, {25, 20}, {50, 25}, {70, 20}, {95, 25}, {120, 25}, {140, 30},
	{10, 45}, {30, 40}, {55, 45}, {80, 40}, {100, 45}, {125, 45}, {0, 60}, {20, 65}, {40, 60}, {65, 65}, {90, 60}, {115, 65}, {140, 55},
	{15, 85}, {35, 80}, {60, 85}, {75, 80}, {105, 85}, {130, 80}, {5, 105}, {30, 100}, {50, 105}, {85, 100}, {95, 110}, {120, 100},
	{70, 115}, {20, 120},
}

// grid numbers its bolts row by row, from the upper left.
func grid(rows, columns int, dx, dy float64) []Point {
	var at []Point
	for r := range rows {
		for c := range columns {
			at = append(at, Point{float64(c) * dx, -float64(r) * dy})
		}
	}
	return at
}

func randomPoints(r *rand.Rand, n int) []Point {
	at := make([]Point, n)
	for i := range at {
		at[i] = Point{r.Float64() * 100, r.Float64() * 70}
	}
	return at
}

// snapped is as tapped by hand: to five units, some twice in one place.
func snapped(r *rand.Rand, n int) []Point {
	at := make([]Point, n)
	for i := range at {
		at[i] = Point{float64(5 * r.IntN(21)), float64(5 * r.IntN(15))}
	}
	return at
}

func disc(r *rand.Rand, n int) []Point {
	at := make([]Point, n)
	for i := range at {
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		d := 50 * math.Sqrt(r.Float64())
		at[i] = Point{d * cos, d * sin}
	}
	return at
}

func centroid(at []Point) (c Point) {
	for _, p := range at {
		c.X += p.X / float64(len(at))
		c.Y += p.Y / float64(len(at))
	}
	return c
}

// regular are the patterns with a name, most of them symmetric.
func regular() map[string][]Point {
	all := map[string][]Point{"pan": pan, "controlBody": controlBody}
	for n := 1; n <= 24; n++ {
		all[fmt.Sprint("circle ", n)] = Circle(n, 60)
		all[fmt.Sprint("rectangle ", n)] = Rectangle(n, 80, 50)
		all[fmt.Sprint("standing rectangle ", n)] = Rectangle(n, 30, 90)
		all[fmt.Sprint("square ", n)] = Rectangle(n, 60, 60)
		all[fmt.Sprint("row ", n)] = Row(n, 80)
		all[fmt.Sprint("one place ", n)] = make([]Point, n)
		all[fmt.Sprint("circle with a centre ", n)] = append(Circle(n, 60), Point{})
		all[fmt.Sprint("two circles ", n)] = append(Circle(n, 60), Circle(n, 110)...)
	}
	for rows := 2; rows <= 6; rows++ {
		for columns := rows; columns <= 8; columns++ {
			all[fmt.Sprint("grid ", rows, columns)] = grid(rows, columns, 20, 20)
			all[fmt.Sprint("wide grid ", rows, columns)] = grid(rows, columns, 30, 20)
		}
	}
	return all
}

// sorted are the keys in an order that is always the same, so that a failure is found again.
func sorted(all map[string][]Point) []string {
	var names []string
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// fewest is the least number of steps from neighbour to neighbour of any order: by sets of bolts and the bolt that they end
// with, apart from the code. For up to about fifteen.
func fewest(at []Point) int {
	n := len(at)
	if n == 0 {
		return 0
	}
	beside := make([][]bool, n)
	for i, row := range Neighbours(at) {
		beside[i] = make([]bool, n)
		for _, j := range row {
			beside[i][j] = true
		}
	}
	cost := make([]int, n<<n)
	for i := range cost {
		cost[i] = n
	}
	for i := range n {
		cost[(1<<i)*n+i] = 0
	}
	for set := 1; set < 1<<n; set++ {
		for end := range n {
			for next := range n {
				if set>>end&1 == 0 || set>>next&1 == 1 {
					continue
				}
				step := 0
				if beside[end][next] {
					step = 1
				}
				to := (set|1<<next)*n + next
				cost[to] = min(cost[to], cost[set*n+end]+step)
			}
		}
	}
	return slices.Min(cost[(1<<n-1)*n:])
}

// everyOrder is the same by trying every order, for the smallest.
func everyOrder(at []Point) int {
	least := len(at)
	var try func(order []int)
	try = func(order []int) {
		if len(order) == len(at) {
			least = min(least, AdjacentSteps(order, at))
		}
		for i := range at {
			if !slices.Contains(order, i) {
				try(append(order[:len(order):len(order)], i))
			}
		}
	}
	try(nil)
	return least
}

// isOrder says that every index is there once.
func isOrder(t *testing.T, order []int, n int) {
	t.Helper()
	all := slices.Clone(order)
	slices.Sort(all)
	require.Len(t, all, n)
	for i, j := range all {
		require.Equal(t, i, j)
	}
}

// Orders written down elsewhere than in this project's code, counted from 1.
func TestKnownOrders(t *testing.T) {
	for name, c := range map[string]struct {
		at    []Point
		order []int
	}{
		// Common practice: a square crosswise, a wheel of five as a star.
		"square":      {Circle(4, 60), []int{1, 3, 2, 4}},
		"star":        {Circle(5, 60), []int{1, 3, 5, 2, 4}},
		"circle of 6": {Circle(6, 60), []int{1, 4, 2, 5, 3, 6}},       // from memory
		"circle of 8": {Circle(8, 60), []int{1, 5, 3, 7, 2, 6, 4, 8}}, // from memory
		// https://wjlr.roverradio.com/post/12-bolt-flange-torque-pattern
		"circle of 12": {Circle(12, 60), []int{1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12}},
		// By the rule, with pencil and paper.
		"row of 12": {Row(12, 110), []int{6, 8, 5, 7, 4, 9, 3, 10, 2, 11, 1, 12}},
		"row of 3":  {Row(3, 80), []int{2, 1, 3}},
		"row of 4":  {Row(4, 80), []int{2, 4, 1, 3}},
		"two":       {Row(2, 80), []int{1, 2}},
		"one":       {Row(1, 80), []int{1}},
	} {
		order := Order(c.at)
		for k := range order {
			order[k]++
		}
		assert.Equal(t, c.order, order, name)
	}
	assert.Empty(t, Order(nil))
	assert.Equal(t, []int{0, 1, 2, 3, 4}, Order(make([]Point, 5)), "all in one place: by index")
}

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
	// Three are next to each other along their rim. With a fourth within, 3, 4, 5: the long side has the corner nearer to both.
	assert.Equal(t, [][]int{{1, 2}, {0, 2}, {0, 1}}, Neighbours([]Point{{0, 0}, {3, 0}, {0, 4}}))
	assert.Equal(t, [][]int{{3}, {3}, {3}, {0, 1, 2}}, Neighbours([]Point{{0, 0}, {3, 0}, {0, 4}, {1, 1}}))
	assert.Equal(t, [][]int{{2}, nil, {0}}, Neighbours([]Point{{0, 0}, {math.NaN(), 0}, {0, 4}}))
	assert.Equal(t, [][]int{nil}, Neighbours([]Point{{7, 7}}))
	assert.Empty(t, Neighbours(nil))
	// By the definition, with the plain distances of random patterns that have a bolt well within.
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

// seenInside looks at a pattern from 3600 sides: how deep a bolt lies within at most, and how wide it is at least, as shares of how
// long it is.
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

// TestRim holds that bolts on a rim have those beside them along it for neighbours, whatever faces them.
func TestRim(t *testing.T) {
	around := func(n int) (want [][]int) { // numbered along the rim
		for i := range n {
			row := []int{(i + n - 1) % n, (i + 1) % n}
			slices.Sort(row)
			want = append(want, slices.Compact(row))
		}
		return want
	}
	r := rand.New(rand.NewPCG(5, 7))
	for n := 4; n <= 40; n++ {
		for _, side := range [][2]float64{{80, 50}, {60, 60}, {30, 90}, {100, 12}} {
			at := Rectangle(n, side[0], side[1])
			assert.Equal(t, around(n), Neighbours(at), "rectangle of %d, %v", n, side)
			// Tapped by hand: each off by up to 1.5 % of the length, all ways, and no nearer to each other than that.
			for range 3 {
				tapped := moved(at, func(p Point) Point {
					return Point{p.X + (r.Float64()-0.5)*0.02*side[0], p.Y + (r.Float64()-0.5)*0.02*side[1]}
				})
				if gap := 2 * (side[0] + side[1]) / float64(n); gap > 0.06*(side[0]+side[1]) && side[1] > 20 {
					assert.Equal(t, around(n), Neighbours(tapped), "rectangle of %d, %v: %v", n, side, tapped)
				}
			}
		}
		// Any convex rim: on an ellipse, with gaps of all sizes.
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
	// Six around an opening of 80 by 50: both middles first, then the corners crosswise. By hand, numbered clockwise from the upper left.
	assert.Equal(t, []int{1, 4, 0, 3, 5, 2}, Order(Rectangle(6, 80, 50)))
	// Two in one place on a rim, and one close behind another: one place, next to those on both sides.
	square := []Point{{0, 0}, {10, 0}, {10, 10}, {0, 10}}
	assert.Equal(t, [][]int{{1, 3, 4}, {0, 2, 4}, {1, 3}, {0, 2, 4}, {0, 1, 3}}, Neighbours(append(slices.Clone(square), Point{0, 0})))
	assert.Equal(t, [][]int{{1, 3, 4}, {0, 2, 4}, {1, 3}, {0, 2, 4}, {0, 1, 3}}, Neighbours(append(slices.Clone(square), Point{0.3, 0.3})))
	// A bolt well within: the relative neighbourhood graph.
	assert.Equal(t, [][]int{{4}, {4}, {4}, {4}, {0, 1, 2, 3}}, Neighbours(append(slices.Clone(square), Point{5, 5})))
	// A row, one that is tapped by hand, and a narrow cover whose bolts face each other.
	assert.Equal(t, [][]int{{1}, {0, 2}, {1, 3}, {2}}, Neighbours([]Point{{0, 0}, {10, 0}, {40, 0}, {45, 0}}))
	assert.Equal(t, [][]int{{1}, {0, 2}, {1, 3}, {2, 4}, {3}}, Neighbours([]Point{{0, 0}, {25, 4}, {50, 0}, {75, 5}, {100, 2}}))
	narrow := grid(2, 4, 40, 6)
	assert.Equal(t, []int{1, 4, 5}, Neighbours(narrow)[0])
	assert.Equal(t, []int{0, 2, 4, 5, 6}, Neighbours(narrow)[1])
	// All of it turned, mirrored, moved and scaled, is the same.
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

func TestFewest(t *testing.T) {
	check := func(name string, at []Point) {
		order := Order(at)
		isOrder(t, order, len(at))
		if len(at) <= 12 {
			assert.Equal(t, fewest(at), AdjacentSteps(order, at), "%s: %v %v", name, at, order)
		} else {
			assert.Zero(t, AdjacentSteps(order, at), "%s: %v %v", name, at, order)
		}
	}
	all := regular()
	for _, name := range sorted(all) {
		at := all[name]
		switch centre := strings.HasPrefix(name, "circle with a centre"); {
		case len(at) <= 12 || !centre && at[0] != at[1]:
			check(name, at)
		case centre: // all on the circle are as far from it as it is from them: it is everyone's neighbour
			assert.Equal(t, 1, AdjacentSteps(Order(at), at), name)
		}
	}
	r := rand.New(rand.NewPCG(5, 2))
	for k := range 1500 {
		n := r.IntN(10)
		check(fmt.Sprint("random ", k), randomPoints(r, n))
		check(fmt.Sprint("snapped ", k), snapped(r, n))
	}
	for k := range 30 {
		check(fmt.Sprint("random ", k), randomPoints(r, 10+k%3))
		check(fmt.Sprint("snapped ", k), snapped(r, 10+k%3))
	}
	for k := range 1000 {
		n := 13 + r.IntN(40)
		check(fmt.Sprint("random ", k), randomPoints(r, n))
		check(fmt.Sprint("snapped ", k), snapped(r, n))
		check(fmt.Sprint("disc ", k), disc(r, n))
	}
	check("random 100", randomPoints(r, 100))

	// What the tests count with, by every order there is.
	for range 20 {
		at := snapped(r, 1+r.IntN(6))
		assert.Equal(t, everyOrder(at), fewest(at), at)
	}
	for n, want := range []int{0, 0, 1, 1, 0, 0, 0} {
		assert.Equal(t, want, fewest(Row(n, 80)), "row of %d", n)
	}
}

// A heap of bolts in one place is spread among the others where there are enough of them.
func TestHeap(t *testing.T) {
	for _, place := range []Point{{8, 3}, {50, 0}, {-20, 5}} {
		for heap := 2; heap <= 14; heap++ {
			at := Circle(20, 100)
			for range heap {
				at = append(at, place)
			}
			order := Order(at)
			isOrder(t, order, len(at))
			assert.Zero(t, AdjacentSteps(order, at), "%d in %v: %v", heap, place, order)
		}
	}
	for _, n := range []int{2, 12, 13, 40, 100} {
		at := make([]Point, n)
		for i := range at {
			at[i] = Point{0.1, 1.0 / 3}
		}
		assert.Equal(t, n-1, AdjacentSteps(Order(at), at), "%d in one place", n)
		at[n-1] = Point{5, 5}
		isOrder(t, Order(at), n)
		assert.Equal(t, n-1, AdjacentSteps(Order(at), at), "%d in two places: all are neighbours", n)
	}
}

func TestInvariance(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 3))
	check := func(name string, at []Point, times int) {
		order := Order(at)
		for range times {
			angle := 2 * math.Pi * r.Float64()
			sin, cos := math.Sincos(angle)
			scale := math.Pow(10, 6*r.Float64()-3)
			by := Point{200*r.Float64() - 100, 200*r.Float64() - 100}
			mirror := float64(1 - 2*r.IntN(2))
			there := moved(at, func(p Point) Point {
				p.Y *= mirror
				p = Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
				return Point{scale * (p.X + by.X), scale * (p.Y + by.Y)}
			})
			require.Equal(t, order, Order(there), "%s: mirror %v, angle %v, scale %v, by %v: %v", name, mirror, angle, scale, by, at)
		}
	}
	all := regular()
	for _, name := range sorted(all) {
		check(name, all[name], 8)
		assert.Equal(t, Order(all[name]), Order(moved(all[name], leftRight)), name)
		assert.Equal(t, Order(all[name]), Order(moved(all[name], upDown)), name)
		assert.Equal(t, Order(all[name]), Order(moved(all[name], func(p Point) Point { return Point{p.Y, -p.X} })), name)
	}
	for k := range 400 {
		n := r.IntN(41)
		check(fmt.Sprint("random ", k), randomPoints(r, n), 3)
		check(fmt.Sprint("snapped ", k), snapped(r, n), 3)
		check(fmt.Sprint("disc ", k), disc(r, n), 3)
	}
	check("random 100", randomPoints(r, 100), 3)
}

// Which bolt was named first says nothing, where no two look alike.
func TestNumbering(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 4))
	for k := range 1500 {
		at := randomPoints(r, 3+r.IntN(38))
		order := Order(at)
		shuffle := r.Perm(len(at))
		shuffled := make([]Point, len(at))
		for i, j := range shuffle {
			shuffled[i] = at[j]
		}
		again := Order(shuffled)
		for i := range again {
			again[i] = shuffle[again[i]]
		}
		require.Equal(t, order, again, "%d: %v", k, at)
	}
}

// thirds are the mean distances from the centre of the first, second and last third of an order, as a share of the
// farthest.
func thirds(at []Point, order []int) (first, second, third float64) {
	c, far := centroid(at), 0.0
	var sum, count [3]float64
	for k, i := range order {
		d := math.Hypot(at[i].X-c.X, at[i].Y-c.Y)
		far = max(far, d)
		sum[k*3/len(order)] += d
		count[k*3/len(order)]++
	}
	return sum[0] / count[0] / far, sum[1] / count[1] / far, sum[2] / count[2] / far
}

// crossing is the share of steps that lead to the other side of the centre.
func crossing(at []Point, order []int) float64 {
	c, n := centroid(at), 0.0
	for k := 1; k < len(order); k++ {
		a, b := at[order[k-1]], at[order[k]]
		if (a.X-c.X)*(b.X-c.X)+(a.Y-c.Y)*(b.Y-c.Y) < -1e-9 {
			n++
		}
	}
	return n / float64(len(order)-1)
}

func TestOutwards(t *testing.T) {
	// rise is what each third is farther out than the one before, cross the least share of crossing steps.
	check := func(name string, at []Point, rise, cross float64) float64 {
		order := Order(at)
		first, second, third := thirds(at, order)
		assert.LessOrEqual(t, first+rise, second, "%s: %v", name, order)
		assert.LessOrEqual(t, second+rise, third, "%s: %v", name, order)
		assert.GreaterOrEqual(t, crossing(at, order), cross, "%s: %v", name, order)
		c, inner, far := centroid(at), math.Inf(1), 0.0
		for _, p := range at {
			inner, far = min(inner, p.from(c)), max(far, p.from(c))
		}
		if len(at) > 12 {
			assert.InDelta(t, inner, at[order[0]].from(c), 1e-9*far, "%s begins at the centre", name)
		}
		return crossing(at, order)
	}
	sum, count := 0.0, 0.0
	for rows := 3; rows <= 8; rows++ {
		for columns := max(rows, 4); columns <= 12; columns++ {
			sum += check(fmt.Sprint("grid ", rows, columns), grid(rows, columns, 20, 20), 0.1, 0.65)
			count++
		}
	}
	assert.Greater(t, sum/count, 0.85, "grids")
	r := rand.New(rand.NewPCG(5, 5))
	sum, count = 0, 0
	for k := range 1000 {
		sum += check(fmt.Sprint("disc ", k), disc(r, 20+r.IntN(41)), 0, 0.5)
		count++
	}
	assert.Greater(t, sum/count, 0.85, "discs")
	check("controlBody", controlBody, 0.15, 0.9)
	check("pan", pan, 0.05, 0.9)
	for n := 7; n <= 40; n++ {
		check(fmt.Sprint("row ", n), Row(n, 80), 0.01, 0.7)
	}
	for n := 10; n <= 40; n += 2 {
		check(fmt.Sprint("rectangle ", n), Rectangle(n, 80, 50), 0, 0.9)
	}
	for n := 4; n <= 100; n++ {
		assert.Greater(t, crossing(Circle(n, 60), Order(Circle(n, 60))), 0.6, "circle of %d", n)
		if n%2 == 0 {
			order := Order(Circle(n, 60))
			for k := 0; k < n; k += 2 {
				assert.Equal(t, n/2, (order[k+1]-order[k]+n)%n, "circle of %d, step %d", n, k)
			}
		}
	}
}

// What is not finite comes at the end; what is huge or tiny is a pattern like any other.
func TestOrderOfAnyNumbers(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	at := []Point{{nan, 0}, {0, 1}, {0, inf}, {1, 0}, {0, -1}, {-inf, nan}, {-1, 0}}
	assert.Equal(t, []int{1, 4, 3, 6, 0, 2, 5}, Order(at))
	assert.Equal(t, []int{0, 1}, Order([]Point{{nan, nan}, {inf, -inf}}))
	for _, exponent := range []int{1017, -1000} {
		assert.Equal(t, Order(controlBody), Order(moved(controlBody, func(p Point) Point {
			return Point{math.Ldexp(p.X-70, exponent), math.Ldexp(p.Y-60, exponent)}
		})), "times 2^%d", exponent)
	}
	far := math.MaxFloat64
	isOrder(t, Order([]Point{{far, far}, {-far, far}, {far, -far}, {-far, -far}, {0, 0}, {5e-324, -5e-324}}), 6)
}

func FuzzOrder(f *testing.F) {
	for _, at := range [][]Point{nil, {{}}, Circle(8, 60), Row(12, 80), pan, controlBody, make([]Point, 14), {{math.NaN(), 1}, {math.Inf(1), 2}, {1e308, -1e308}}} {
		var seed []byte
		for _, p := range at {
			seed = binary.LittleEndian.AppendUint64(seed, math.Float64bits(p.X))
			seed = binary.LittleEndian.AppendUint64(seed, math.Float64bits(p.Y))
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var at []Point
		for len(data) >= 16 && len(at) < 100 {
			at = append(at, Point{
				math.Float64frombits(binary.LittleEndian.Uint64(data)), math.Float64frombits(binary.LittleEndian.Uint64(data[8:])),
			})
			data = data[16:]
		}
		order := Order(at)
		isOrder(t, order, len(at))
		require.Equal(t, order, Order(at), "the same again")
		ended := false
		for k, i := range order {
			finite := at[i].finite()
			require.False(t, ended && finite, "what is not finite comes at the end")
			require.True(t, !ended || order[k-1] < i, "by index")
			ended = ended || !finite
		}
		var finite []Point
		for _, p := range at {
			if p.finite() {
				finite = append(finite, p)
			}
		}
		if len(finite) <= 8 {
			require.Equal(t, fewest(finite), AdjacentSteps(order, at))
		}
		require.Equal(t, order, Order(moved(at, func(p Point) Point { return Point{p.Y, p.X} })), "mirrored")
		require.Equal(t, order, Order(moved(at, func(p Point) Point { return Point{-p.Y, p.X} })), "a quarter turn")
		for i, row := range Neighbours(at) {
			require.NotContains(t, row, i)
			require.True(t, slices.IsSorted(row))
		}
	})
}

func BenchmarkOrder(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, c := range []struct {
		name string
		at   []Point
	}{
		{"rectangle12", Rectangle(12, 80, 50)}, {"body40", controlBody}, {"circle40", Circle(40, 60)}, {"place40", make([]Point, 40)},
		{"random100", randomPoints(r, 100)}, {"grid100", grid(10, 10, 20, 20)}, {"place100", make([]Point, 100)},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Order(c.at)
			}
		})
	}
}
