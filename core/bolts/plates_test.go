package bolts

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// pan is the rim of an oil pan with a step, controlBody a control body full of bolts. Both are made up, as tapped by hand and
// snapped to five units.
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

// randomPoints spreads bolts evenly over a rectangle.
func randomPoints(r *rand.Rand, n int) []Point {
	at := make([]Point, n)
	for i := range at {
		at[i] = Point{r.Float64() * 100, r.Float64() * 70}
	}
	return at
}

// snapped makes a pattern as tapped by hand: rounded to five units, some bolts twice in one place.
func snapped(r *rand.Rand, n int) []Point {
	at := make([]Point, n)
	for i := range at {
		at[i] = Point{float64(5 * r.IntN(21)), float64(5 * r.IntN(15))}
	}
	return at
}

// disc spreads bolts evenly over a disc.
func disc(r *rand.Rand, n int) []Point {
	at := make([]Point, n)
	for i := range at {
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		d := 50 * math.Sqrt(r.Float64())
		at[i] = Point{d * cos, d * sin}
	}
	return at
}

// centroid returns the mean of the bolts.
func centroid(at []Point) (c Point) {
	for _, p := range at {
		c.X += p.X / float64(len(at))
		c.Y += p.Y / float64(len(at))
	}
	return c
}

// regular returns patterns by name, most of them symmetric.
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

// sorted returns the keys in order, so that a failing test fails the same way again.
func sorted(all map[string][]Point) []string {
	var names []string
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// fewest returns the least number of neighbouring steps that any order has, worked out independently of the code: by sets of
// bolts and the bolt that each ends with. For up to about fifteen bolts.
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

// fewestOutwards returns the same of orders that take one level after the other, worked out level by level and by sets of a level's
// bolts, from the fewest steps with which each bolt can be reached.
func fewestOutwards(at []Point, level []int) int {
	beside := make([]map[int]bool, len(at))
	for i, row := range Neighbours(at) {
		beside[i] = map[int]bool{}
		for _, j := range row {
			beside[i][j] = true
		}
	}
	step := func(i, j int) int {
		if beside[i][j] {
			return 1
		}
		return 0
	}
	reach := map[int]int{} // by the last bolt
	for l := 0; slices.Contains(level, l); l++ {
		var of []int
		for i, k := range level {
			if k == l {
				of = append(of, i)
			}
		}
		sets := make([]map[int]int, 1<<len(of))
		for set := 1; set < len(sets); set++ {
			sets[set] = map[int]int{}
			for v, i := range of {
				before := reach
				if rest := set &^ (1 << v); rest == set {
					continue
				} else if rest != 0 {
					before = sets[rest]
				}
				least := len(at)
				if l == 0 && set == 1<<v {
					least = 0
				}
				for j, steps := range before {
					least = min(least, steps+step(j, i))
				}
				sets[set][i] = least
			}
		}
		reach = sets[len(sets)-1]
	}
	least := len(at)
	for _, steps := range reach {
		least = min(least, steps)
	}
	return least
}

// everyOrder returns the same by trying every order. For a handful of bolts.
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

// isOrder requires that every index is there once.
func isOrder(t *testing.T, order []int, n int) {
	t.Helper()
	all := slices.Clone(order)
	slices.Sort(all)
	require.Len(t, all, n)
	for i, j := range all {
		require.Equal(t, i, j)
	}
}
