package torque_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools/toolstest"
)

type point struct{ x, y float64 }

// TestOrderTurns checks, through the tool, that turning, mirroring, moving or scaling a pattern does not change its order.
func TestOrderTurns(t *testing.T) {
	r := rand.New(rand.NewPCG(55, 1))
	for round := range 150 {
		at := drawPattern(r, round%3)
		order := func(turn, size, x, y, mirror float64) []float64 {
			rows := []any{}
			s, c := math.Sincos(turn)
			for _, p := range at {
				px, py := mirror*p.x, p.y
				rows = append(rows, request{"x": x + size*(c*px-s*py), "y": y + size*(s*px+c*py)})
			}
			got := answer(t, request{"bolts": rows})
			require.EqualValues(t, 4*len(at), got.at(t, "sequence.steps"))
			return got.order(t)
		}
		want := order(0, 1, 0, 0, 1)
		seen := slices.Sorted(slices.Values(want))
		for i, row := range seen {
			require.EqualValues(t, i+1, row, "every bolt once")
		}
		for range 3 {
			turn, size, x, y := 2*math.Pi*r.Float64(), wide(r, 0.1, 10), 200*r.Float64()-100, 200*r.Float64()-100
			require.Equal(t, want, order(turn, size, x, y, 1), "turned by %v: %v", turn, at)
			require.Equal(t, want, order(turn, size, x, y, -1), "turned and mirrored: %v", at)
		}
	}
}

// drawPattern places up to 24 bolts: at random, on a circle, or on a grid, where many distances are equal.
func drawPattern(r *rand.Rand, kind int) []point {
	at := make([]point, 1+r.IntN(24))
	for i := range at {
		switch kind {
		case 0:
			at[i] = point{80*r.Float64() - 40, 80*r.Float64() - 40}
		case 1:
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(len(at)))
			at[i] = point{40 * s, 40 * c}
		default:
			at[i] = point{float64(10 * (i % 5)), float64(10 * (i / 5))}
		}
	}
	return at
}

// fiveBolts asks for the order of five bolts, tightened with an adapter.
func fiveBolts() request {
	return request{"torque": "10 N.m", "adapter": request{"wrench": "300 mm", "extension": "50 mm"}, "bolts": []any{
		request{"x": 10, "y": 10}, request{"x": 90, "y": 10}, request{"x": 90, "y": 80}, request{"x": 10, "y": 80}, request{"x": 50, "y": 40}}}
}

// changed reports whether the answer says that the order or the passes have changed since the steps were counted.
func changed(t *testing.T, o request, done int, of string) bool {
	o["progress"] = request{"done": done, "of": of}
	got := answer(t, o)
	require.EqualValues(t, done, got.at(t, "sequence.progress.done"))
	return got.is(t, "sequence.progress.changed")
}

// TestProgress checks that a count of steps stays valid only while everything that it depends on is unchanged.
func TestProgress(t *testing.T) {
	of := answer(t, fiveBolts()).word(t, "sequence.of")
	assert.False(t, changed(t, fiveBolts(), 7, of))
	assert.False(t, changed(t, fiveBolts(), 20, of), "all done")
	assert.True(t, changed(t, fiveBolts(), 21, of), "more than there are")
	assert.True(t, changed(t, fiveBolts(), 7, ""))
	for what, change := range map[string]func(o request){
		"torque":  func(o request) { o["torque"] = "11 N.m" },
		"adapter": func(o request) { o["adapter"] = request{"wrench": "300 mm", "extension": "60 mm"} },
		"passes":  func(o request) { o["passes"] = []any{request{"share": "30 %"}, request{"share": "100 %"}} },
		"a bolt":  func(o request) { o["bolts"] = o["bolts"].([]any)[:4] },
		"a place": func(o request) { o["bolts"].([]any)[2] = request{"x": 90, "y": 85} },
		"turned": func(o request) {
			for i, b := range o["bolts"].([]any) {
				p := b.(request)
				o["bolts"].([]any)[i] = request{"x": 100 - p["x"].(int), "y": 90 - p["y"].(int)}
			}
		},
	} {
		o := fiveBolts()
		change(o)
		assert.True(t, changed(t, o, 7, of), what)
	}
	// Writing the same values differently, moving a bolt slightly or giving its length makes no difference.
	o := fiveBolts()
	o["torque"], o["bolts"].([]any)[0] = "1000 cN.m", request{"x": "1 cm", "y": "10.001 mm", "length": "30 mm"}
	assert.False(t, changed(t, o, 7, of))
}

// TestNoBolts checks that an empty list of bolts gives an empty list in the result, because the contract has no null.
func TestNoBolts(t *testing.T) {
	o := request{"torque": "10 N.m", "bolts": []any{}}
	got := answer(t, o)
	assert.Empty(t, got.order(t))
	assert.Zero(t, got.at(t, "sequence.steps"))
	layOut(t, toolstest.Encoded(t, o))
}
