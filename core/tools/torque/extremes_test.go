package torque_test

import (
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/core/tools/torque"
)

// Values at the ends of the fields' ranges. Each list of texts is in ascending order.
var (
	extremeTorques = []string{"1.1e-12 N.m", "1e-6 ozf.in", "1 N.m", "101971 kgf.m", "1e6 N.m", "1e8 cN.m"}
	extremeLengths = []string{"1.1e-12 mm", "1e-9 in", "1 mm", "99999 mm", "1e5 mm", "100 m"}
	extremePlaces  = []any{-1e5, "-100 m", 0, "-0 mm", 5e-324, 1e5, "1e-300 in", 50}
	extremeAngles  = []string{"0 deg", "1e-300 deg", "90 deg", "89.99999999999999 deg", "179.99999999999997 deg", "180 deg"}
)

// two draws two texts from an ascending list, in its order.
func two(r *rand.Rand, of []string) (less, more string) {
	i, j := r.IntN(len(of)), r.IntN(len(of))
	return of[min(i, j)], of[max(i, j)]
}

// TestExtremes checks requests with values at the ends of their ranges: every figure is finite, the program is never at
// fault, and every answer can be laid out.
func TestExtremes(t *testing.T) {
	r := rand.New(rand.NewPCG(54, 1))
	answered := 0
	rounds := 4000
	if runtime.GOOS == "js" { // WebAssembly is about ten times slower
		rounds = 800
	}
	for range rounds {
		o := extreme(r)
		got := asked(t, o)
		if !got.OK {
			continue
		}
		answered++
		if answered%4 == 0 {
			layOut(t, toolstest.Encoded(t, o))
		}
	}
	assert.Greater(t, answered, rounds/3)
	t.Logf("%d of %d requests were answered", answered, rounds)
}

// layOut lays an answer out, in full and brief.
func layOut(t testing.TB, body []byte) {
	o := torque.Tool.Answer(body, quantity.Point, tools.English())
	require.Empty(t, o.Faults)
	o.Answer.Lay()
	d, faults := link.Read(link.Write(torque.Tool, o.Record), tools.English())
	require.Empty(t, faults)
	o = torque.Tool.Ask(d.Request(), quantity.Point, tools.English(), tool.Brief)
	require.Empty(t, o.Faults)
	o.Answer.Lay()
}

// extreme draws a request with values at the ends of their ranges.
func extreme(r *rand.Rand) request {
	o := request{}
	add := func(name string, v any) {
		if maybe(r) {
			o[name] = v
		}
	}
	add("torque", pick(r, extremeTorques))
	if o["torque"] != nil {
		add("printed_as", pick(r, extremeTorques))
		add("tolerance", pick(r, []string{"99.9999999 %", "2e-10 %"}))
	} else if maybe(r) {
		o["min"], o["max"] = two(r, extremeTorques)
	}
	short, long := two(r, extremeLengths)
	add("adapter", request{"wrench": long, "extension": short, "angle": pick(r, extremeAngles)})
	fine, most := two(r, extremeTorques)
	add("wrench", request{"kind": pick(r, []string{"click", "beam", "electronic"}), "max": most, "graduation": fine,
		"deviation": pick(r, []string{"2e-10 %", "50 %"})})
	add("fastener", request{"thread": pick(r, []string{"M1.6x0.2", "M24", "M24x1"}), "class": pick(r, []string{"4.8", "12.9"}),
		"friction": pick(r, []float64{0.04, 0.6}), "friction_within": pick(r, []float64{0, 1e-300, 0.02}),
		"utilisation": pick(r, []string{"5 %", "100 %"}), "into": pick(r, []string{"aluminium", "steel"}),
		"engagement": pick(r, []string{"1.1e-12 mm", "1e-9 mm", "1000 mm"})})
	add("pattern", request{"kind": pick(r, []string{"rectangle", "circle", "row"}), "count": pick(r, []int{1, 2, 3, 4, 12, 40}),
		"width": pick(r, []any{1.1e-12, 1e5, 1}), "height": pick(r, []any{1.1e-12, 1e5, 1})})
	add("bolts", []any{
		request{"x": pick(r, extremePlaces), "y": pick(r, extremePlaces), "length": pick(r, extremeLengths)},
		request{"x": pick(r, extremePlaces), "y": pick(r, extremePlaces), "kept": pick(r, []string{"no", "yes"})}})
	add("passes", []any{request{"share": pick(r, []string{"2e-10 %", "100 %"})}})
	add("progress", request{"done": pick(r, []int{0, 1, 800})})
	return o
}
