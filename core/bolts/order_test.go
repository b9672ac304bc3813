package bolts

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

	"ohmwright/testdata"
)

// TestKnownOrders checks orders from sources other than this code. They count from 1.
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
		"row of 12": {Row(12, 110), []int{6, 7, 5, 8, 4, 9, 3, 10, 2, 11, 1, 12}},
		"row of 3":  {Row(3, 80), []int{2, 1, 3}},
		"row of 4":  {Row(4, 80), []int{2, 3, 1, 4}},
		"row of 5":  {Row(5, 80), []int{3, 2, 4, 1, 5}},
		// Two rows of five, as bolts of a cylinder head lie: the middle pair, then outwards, each step to the other side, the ends last. By hand.
		"two rows of 5": {grid(2, 5, 20, 30), []int{3, 8, 2, 9, 7, 4, 1, 10, 6, 5}},
		// Nine in a square, by hand: the middle, the middles of the sides, the corners.
		"grid of 9": {grid(3, 3, 20, 20), []int{5, 2, 8, 4, 6, 1, 9, 3, 7}},
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

// TestFewest checks that no order of up to twelve bolts has fewer neighbouring steps, and that longer orders have none; of rows,
// rectangles and grids, that no order that goes outwards has fewer.
func TestFewest(t *testing.T) {
	check := func(name string, at []Point) {
		order := Order(at)
		isOrder(t, order, len(at))
		if p := measure(at); p.climb() != nil {
			assert.Equal(t, fewestOutwards(at, p.level), AdjacentSteps(order, at), "%s: %v %v", name, at, order)
		} else if len(at) <= 12 {
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
		case centre: // the centre is everyone's neighbour
			assert.Equal(t, 1, AdjacentSteps(Order(at), at), name)
		}
	}
	r := rand.New(rand.NewPCG(5, 2))
	for k := range testdata.Several(1500) {
		n := r.IntN(10)
		check(fmt.Sprint("random ", k), randomPoints(r, n))
		check(fmt.Sprint("snapped ", k), snapped(r, n))
	}
	for k := range 30 {
		check(fmt.Sprint("random ", k), randomPoints(r, 10+k%3))
		check(fmt.Sprint("snapped ", k), snapped(r, 10+k%3))
	}
	for k := range testdata.Several(1000) {
		n := 13 + r.IntN(40)
		check(fmt.Sprint("random ", k), randomPoints(r, n))
		check(fmt.Sprint("snapped ", k), snapped(r, n))
		check(fmt.Sprint("disc ", k), disc(r, n))
	}
	check("random 100", randomPoints(r, 100))

	// Checks fewest itself, by trying every order.
	for range 20 {
		at := snapped(r, 1+r.IntN(6))
		assert.Equal(t, everyOrder(at), fewest(at), at)
	}
	for n, want := range []int{0, 0, 1, 1, 0, 0, 0} {
		assert.Equal(t, want, fewest(Row(n, 80)), "row of %d", n)
	}
	for n, want := range []int{0, 0, 1, 1, 1, 1, 1} { // the middle two, or the middle and the next, are neighbours
		assert.Equal(t, want, AdjacentSteps(Order(Row(n, 80)), Row(n, 80)), "row of %d", n)
	}
}

// TestFromTheMiddle checks that a row, a rectangle and a grid are tightened from the middle out: no bolt before one that is nearer to
// the middle, the ends and the corners last. Common practice; EN 1090-2, 8.3, has bolts of a group tightened from the most rigid part
// of the joint towards the least rigid (as andrewsfasteners.uk restates it); "for rectangular patterns, a spiral often starts at the
// center and progresses outward" (engineerfix.com). The standard itself was not at hand, nor was ASME PCC-1's part on such joints.
func TestFromTheMiddle(t *testing.T) {
	all := regular()
	checked := 0
	for _, name := range sorted(all) {
		at := all[name]
		four := strings.Contains(name, "rectangle") || strings.Contains(name, "square") || strings.Contains(name, "grid")
		if !strings.HasPrefix(name, "row") && !(four && len(at) > 3) {
			continue
		}
		checked++
		low, high := at[0], at[0]
		for _, p := range at {
			low, high = Point{min(low.X, p.X), min(low.Y, p.Y)}, Point{max(high.X, p.X), max(high.Y, p.Y)}
		}
		middle := Point{(low.X + high.X) / 2, (low.Y + high.Y) / 2}
		order, before := Order(at), 0.0
		for k, i := range order {
			d := at[i].from(middle)
			assert.GreaterOrEqual(t, d, before-1e-4, "%s, step %d: %v", name, k, order)
			before = d
		}
		assert.InDelta(t, high.from(middle), before, 1e-4, "%s: a corner or an end is last", name)
	}
	assert.Greater(t, checked, 100)
	// Tapped by hand: the same levels, as long as it strays little.
	r := rand.New(rand.NewPCG(5, 8))
	for range 200 {
		at := moved(grid(3, 6, 20, 20), func(p Point) Point { return Point{p.X + 2*r.Float64() - 1, p.Y + 2*r.Float64() - 1} })
		order := Order(at)
		assert.Contains(t, []int{8, 9}, order[0], at)
		for _, i := range order[14:] {
			assert.Contains(t, []int{0, 5, 12, 17}, i, at)
		}
	}
	// No level on a circle, a rim with a step, or a body full of bolts: crosswise as before.
	for name, at := range map[string][]Point{"circle": Circle(12, 60), "pan": pan, "controlBody": controlBody, "four": Circle(4, 60)} {
		assert.Nil(t, measure(at).climb(), name)
	}
}

// TestHeap checks that bolts in one place are spread among the others where there are enough others.
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

// TestInvariance checks that turning, mirroring, scaling and moving a pattern does not change the order.
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

// TestNumbering checks that numbering makes no difference where no two distances are equal.
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

// thirds returns the mean distances from the centre of the first, second and last third of an order, as shares of the largest
// distance.
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

// crossing returns the share of steps that lead to the other side of the centre.
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

// TestOutwards checks that orders run from the centre outwards, crossing sides.
func TestOutwards(t *testing.T) {
	// rise is how much farther out each third has to be than the one before, cross the least share of crossing steps.
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

// TestOrderOfAnyNumbers checks that bolts with coordinates that are not finite come at the end, and that huge and tiny patterns
// are ordered like any other.
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

// FuzzOrder checks that any coordinates have an order: each bolt once, the same again and mirrored, with the fewest neighbouring
// steps.
func FuzzOrder(f *testing.F) {
	for _, at := range [][]Point{
		nil, {{}}, Circle(8, 60), Row(12, 80), pan, controlBody, make([]Point, 14),
		{{math.NaN(), 1}, {math.Inf(1), 2}, {1e308, -1e308}},
	} {
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
		if p := measure(at); p.climb() != nil {
			require.Equal(t, fewestOutwards(finite, p.level), AdjacentSteps(order, at))
		} else if len(finite) <= 8 {
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
