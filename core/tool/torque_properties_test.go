package tool_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
	"ohmwright/testdata"
)

type (
	request map[string]any
	reply   struct {
		OK       bool
		Warnings []struct{ Code string }
		Errors   []struct{ Field, Code, Message string }
		whole    any
	}
)

// asked puts a request to the torque question. A fault of the program, such as a number that JSON cannot hold, fails the test.
func asked(t testing.TB, o request) reply {
	t.Helper()
	text, err := json.Marshal(o)
	require.NoError(t, err)
	response, err := tool.Run("torque", text, wording.English())
	require.False(t, errors.Is(err, tool.ErrProgram), "the program failed on %s: %s", text, response)
	var r reply
	require.NoError(t, json.Unmarshal(response, &r), "%s", response)
	require.NoError(t, json.Unmarshal(response, &r.whole))
	return r
}

// answer is the reply to a request that has to be answered.
func answer(t testing.TB, o request) reply {
	t.Helper()
	r := asked(t, o)
	require.True(t, r.OK, "%v: %v", o, r.Errors)
	return r
}

// at is a figure of the result.
func (r reply) at(t testing.TB, path string) float64 {
	t.Helper()
	v, ok := testdata.Look(r.whole, "result."+path)
	require.True(t, ok, path)
	return v.(float64)
}

// word and is are a word and a truth of the result.
func (r reply) word(t testing.TB, path string) string {
	v, ok := testdata.Look(r.whole, "result."+path)
	require.True(t, ok, path)
	return v.(string)
}

func (r reply) is(t testing.TB, path string) bool {
	v, ok := testdata.Look(r.whole, "result."+path)
	require.True(t, ok, path)
	return v.(bool)
}

// order is the order of tightening.
func (r reply) order(t testing.TB) (rows []float64) {
	v, ok := testdata.Look(r.whole, "result.sequence.order")
	require.True(t, ok)
	for _, row := range v.([]any) {
		rows = append(rows, row.(float64))
	}
	return rows
}

func wide(r *rand.Rand, lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

// text writes a figure of a unit with so many digits, or with all there are.
func text(v float64, digits int, unit string) string {
	return strconv.FormatFloat(v, 'g', digits, 64) + " " + unit
}

func unitsOf(k quantity.Kind) (symbols []string) {
	for _, u := range quantity.Units(k) {
		symbols = append(symbols, u.Symbol)
	}
	return symbols
}

func pick[T any](r *rand.Rand, from []T) T { return from[r.IntN(len(from))] }

// randomTorque is a request that the tool answers, all its fields now and then there.
func randomTorque(r *rand.Rand) request {
	maybe := func() bool { return r.IntN(2) == 0 }
	torque := func(lo, hi float64) string {
		u := pick(r, quantity.Units(quantity.OfTorque))
		return text(wide(r, lo, hi)*u.Den/u.Num*math.Pow10(-u.Exp), 2+r.IntN(7), u.Symbol)
	}
	o := request{}
	switch r.IntN(4) {
	case 0:
		o["min"], o["max"] = torque(1, 10), torque(11, 100)
	case 1:
		o["torque"], o["tolerance"] = torque(1, 300), []string{"10 %", "0.5 %", "0.5 N.m", "4 in-lb"}[r.IntN(4)]
	default:
		o["torque"] = torque(0.01, 1000)
		if maybe() {
			o["printed_as"] = torque(0.01, 1000)
		}
	}
	if maybe() {
		length := wide(r, 50, 1000)
		o["adapter"] = request{"wrench": text(length, 4, "mm"), "extension": text(length*0.9*r.Float64()/25.4, 3, "in"), "angle": text(180*r.Float64(), 3, "deg")}
	}
	if maybe() {
		w := request{"kind": pick(r, []string{"click", "beam", "electronic"}), "max": torque(10, 1000), "shows": pick(r, append(unitsOf(quantity.OfTorque)[:2], "any"))}
		if maybe() {
			w["min"] = torque(0.01, 9)
		}
		if maybe() {
			w["graduation"] = torque(0.01, 9)
		}
		if maybe() {
			w["deviation"] = text(1+9*r.Float64(), 2, "%")
		}
		o["wrench"] = w
	}
	if maybe() {
		f := request{"thread": pick(r, []string{"M6", "M6x1", "M8x1", "M10×1,25", "M1.6", "m 24 x 1.5"}), "class": pick(r, []string{"4.8", "5.8", "8.8", "10.9", "12.9"}),
			"friction": 0.1 + float64(r.IntN(20))/100, "friction_within": float64(r.IntN(8)) / 100, "utilisation": text(20+70*r.Float64(), 3, "%")}
		if maybe() {
			f["into"], f["engagement"] = pick(r, []string{"aluminium", "magnesium", "cast_iron", "steel"}), text(wide(r, 0.5, 40), 3, "mm")
		}
		o["fastener"] = f
	}
	if maybe() {
		o["table"] = fmt.Sprintf("M5 6 N·m 53 in-lb\nM6  %d N·m  %d in-lb\n\nM8 | 25–30 Nm", 1+r.IntN(20), 1+r.IntN(200))
	}
	if maybe() {
		o["pattern"] = request{"kind": pick(r, []string{"rectangle", "circle", "row"}), "count": 1 + r.IntN(30), "width": 1 + r.IntN(200), "height": "3 in"}
	}
	if maybe() {
		rows := []any{}
		for range 1 + r.IntN(12) {
			b := request{"x": math.Round(1000*r.Float64()) / 10, "y": text(100*r.Float64(), 4, "mm")}
			if maybe() {
				b["length"] = pick(r, []string{"30 mm", "3 cm", "1.5 in"})
			}
			if r.IntN(4) == 0 {
				b["kept"] = "yes"
			}
			rows = append(rows, b)
		}
		o["bolts"] = rows
	}
	if maybe() {
		o["passes"] = []any{request{"kind": "snug"}, request{"kind": "share", "share": text(10+80*r.Float64(), 3, "%")}, request{"share": "100 %"}, request{"kind": "check"}}
	}
	if maybe() {
		o["progress"] = request{"done": r.IntN(40), "of": pick(r, []string{"", "1a2b", "f8ed84a"})}
	}
	return o
}

// TestTorqueThereAndBack holds that a torque written in any unit that the answer gives is the same torque again.
func TestTorqueThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 1))
	worst := 0.0
	for range 300 {
		from := pick(r, unitsOf(quantity.OfTorque))
		got := answer(t, request{"torque": text(wide(r, 1e-4, 1e4), 1+r.IntN(17), from)})
		want := got.at(t, "torque.value")
		list, _ := testdata.Look(got.whole, "result.units")
		units := list.(map[string]any)
		require.Len(t, units, len(quantity.Units(quantity.OfTorque)))
		for symbol, in := range units {
			amount := in.(map[string]any)
			require.Equal(t, symbol, amount["unit"])
			back := answer(t, request{"torque": text(amount["value"].(float64), -1, symbol)}).at(t, "torque.value")
			worst = max(worst, math.Abs(back/want-1))
		}
	}
	assert.Less(t, worst, 1e-15)
	t.Logf("worst %.2g", worst)
}

// TestSetThenReached holds that a wrench without deviation, set as the answer says, reaches the torque wanted; and the balance of
// moments, one pull on two levers, whatever the adapter.
func TestSetThenReached(t *testing.T) {
	r := rand.New(rand.NewPCG(52, 1))
	for range 500 {
		length := wide(r, 50, 1000)
		o := request{"torque": text(wide(r, 0.1, 500), 5, "N.m"), "adapter": request{"wrench": text(length, -1, "mm"), "extension": text(length*0.79*r.Float64(), -1, "mm"), "angle": text(180*r.Float64(), 4, "deg")},
			"wrench": request{"kind": "electronic", "min": "1e-6 N.m", "max": "1e5 N.m", "deviation": "25 %"}}
		got := answer(t, o)
		torque, setting, reach := got.at(t, "torque.value"), got.at(t, "setting.value"), got.at(t, "reach.value")
		require.InEpsilon(t, torque/reach, setting/length, 1e-14, "%v", o)
		require.InEpsilon(t, torque, got.at(t, "wrench_check.reached.min.value")*1.25, 1e-14, "%v", o)
		require.InEpsilon(t, torque, got.at(t, "wrench_check.reached.max.value")*0.75, 1e-14, "%v", o)
		require.InEpsilon(t, setting, answer(t, request{"torque": text(setting, -1, "N.m")}).at(t, "torque.value"), 1e-15)
	}
}

// TestTorqueMonotone holds which way figures go as one thing grows and all else stays.
func TestTorqueMonotone(t *testing.T) {
	const up, down = 1.0, -1.0
	for _, c := range []struct {
		what  string
		with  func(v float64) request
		from  float64
		to    float64
		moves map[string]float64
	}{
		{"torque", func(v float64) request {
			return request{"torque": text(v, -1, "N.m"), "adapter": request{"wrench": "300 mm", "extension": "50 mm", "angle": "30 deg"}, "wrench": request{"kind": "electronic", "min": "0.1 N.m", "max": "1e4 N.m"},
				"fastener": request{"thread": "M8", "class": "8.8", "into": "aluminium", "engagement": "12 mm"}}
		}, 1, 20, map[string]float64{"setting.value": up, "wrench_check.reached.min.value": up, "wrench_check.reached.max.value": up, "fastener.preload_at.value": up,
			"fastener.preload_band.max.value": up, "fastener.stressed.value": up, "fastener.strip_check.engagement_needed.value": up, "fastener.strip_check.load.min.value": 0, "fastener.torque.value": 0}},
		{"angle", func(v float64) request {
			return request{"torque": "30 N.m", "adapter": request{"wrench": "300 mm", "extension": "100 mm", "angle": text(v, -1, "deg")}}
		}, 0, 180, map[string]float64{"setting.value": up, "reach.value": down, "torque.value": 0}},
		{"extension, straight on", func(v float64) request {
			return request{"torque": "30 N.m", "adapter": request{"wrench": "300 mm", "extension": text(v, -1, "mm")}}
		}, 1, 299, map[string]float64{"setting.value": down, "reach.value": up}},
		{"extension, folded back", func(v float64) request {
			return request{"torque": "30 N.m", "adapter": request{"wrench": "300 mm", "extension": text(v, -1, "mm"), "angle": "180 deg"}}
		}, 1, 239, map[string]float64{"setting.value": up, "reach.value": down}},
		{"deviation", func(v float64) request {
			return request{"torque": "30 N.m", "wrench": request{"max": "60 N.m", "deviation": text(v, -1, "%")}}
		}, 0.5, 40, map[string]float64{"wrench_check.reached.min.value": down, "wrench_check.reached.max.value": up}},
		{"friction", func(v float64) request {
			return request{"torque": "10 N.m", "fastener": request{"thread": "M6", "class": "8.8", "friction": v}}
		}, 0.07, 0.5, map[string]float64{"fastener.preload.value": down, "fastener.preload_at.value": down, "fastener.torque.value": up, "fastener.proof_load.value": 0}},
		{"scatter of friction", func(v float64) request {
			return request{"torque": "10 N.m", "fastener": request{"thread": "M6", "class": "8.8", "friction": 0.2, "friction_within": v}}
		}, 0.001, 0.17, map[string]float64{"fastener.preload_band.min.value": down, "fastener.preload_band.max.value": up, "fastener.stressed_max.value": up, "fastener.preload_at.value": 0}},
		{"utilisation", func(v float64) request {
			return request{"fastener": request{"thread": "M6", "class": "8.8", "utilisation": text(v, -1, "%")}}
		}, 10, 100, map[string]float64{"fastener.preload.value": up, "fastener.torque.value": up, "fastener.stressed.value": up}},
		{"engagement", func(v float64) request {
			return request{"torque": "10 N.m", "fastener": request{"thread": "M6", "class": "8.8", "into": "cast_iron", "engagement": text(v, -1, "mm")}}
		}, 1, 15, map[string]float64{"fastener.strip_check.load.min.value": up, "fastener.strip_check.load.max.value": up, "fastener.strip_check.engagement_needed.value": 0}},
	} {
		last := map[string]float64{}
		for k := range 40 {
			got := answer(t, c.with(c.from+(c.to-c.from)*float64(k)/39))
			for path, way := range c.moves {
				v := got.at(t, path)
				if was, ok := last[path]; ok && way != 0 {
					require.Positive(t, (v-was)*way, "%s: %s goes from %v to %v", c.what, path, was, v)
				} else if ok {
					require.Equal(t, was, v, "%s: %s", c.what, path)
				}
				last[path] = v
			}
		}
	}
	// a stronger class, and a larger thread, hold more
	last := 0.0
	for _, class := range []string{"4.8", "5.8", "8.8", "9.8", "10.9", "12.9"} {
		v := answer(t, request{"fastener": request{"thread": "M6", "class": class}}).at(t, "fastener.torque.value")
		require.Greater(t, v, last)
		last = v
	}
	last = 0.0
	for _, thread := range []string{"M1.6", "M2", "M2.5", "M3", "M3.5", "M4", "M5", "M6", "M7", "M8", "M10", "M12", "M14", "M16", "M18", "M20", "M22", "M24"} {
		v := answer(t, request{"fastener": request{"thread": thread, "class": "10.9"}}).at(t, "fastener.torque.value")
		require.Greater(t, v, last)
		last = v
	}
}

// TestTorqueLinks holds that a random request and its link are answered alike, and that the link of the link is the same.
func TestTorqueLinks(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 1))
	speak := wording.English()
	refused := 0
	for range 400 {
		o := randomTorque(r)
		body, err := json.Marshal(o)
		require.NoError(t, err)
		record, a, faults := tool.Torque.Answer(body, quantity.Point, speak)
		if len(faults) > 0 {
			refused++
			continue
		}
		written := link.Write(tool.Torque, record)
		d, faults := link.Read(written, speak)
		require.Empty(t, faults, written)
		again, b, faults := tool.Torque.Answer(d.Request(), quantity.Point, speak)
		require.Empty(t, faults, "%s\n%s", body, written)
		want, err := json.Marshal(a.Result)
		require.NoError(t, err)
		got, err := json.Marshal(b.Result)
		require.NoError(t, err)
		require.Equal(t, string(want), string(got), written)
		require.Equal(t, a.Warnings, b.Warnings, written)
		require.Equal(t, written, link.Write(tool.Torque, again))
	}
	assert.Less(t, refused, 40, "the requests are drawn so that nearly all are answered")
	t.Logf("%d refused", refused)
}

// finite fails where a figure is none.
func finite(t testing.TB, o request, path string, v any) {
	switch v := v.(type) {
	case nil:
		require.Fail(t, "null", "%s of %v", path, o)
	case float64:
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%s of %v", path, o)
	case map[string]any:
		for k, in := range v {
			finite(t, o, path+"."+k, in)
		}
	case []any:
		for i, in := range v {
			finite(t, o, path+"."+strconv.Itoa(i), in)
		}
	}
}

// TestTorqueExtremes holds the promise at the ends of every range: no figure is none, no request is the program's fault, and every
// answer can be laid out.
func TestTorqueExtremes(t *testing.T) {
	r := rand.New(rand.NewPCG(54, 1))
	torques := []string{"1.1e-12 N.m", "1e-6 ozf.in", "1 N.m", "101971 kgf.m", "1e6 N.m", "1e8 cN.m"}
	lengths := []string{"1.1e-12 mm", "1e-9 in", "1 mm", "99999 mm", "1e5 mm", "100 m"}
	places := []any{-1e5, "-100 m", 0, "-0 mm", 5e-324, 1e5, "1e-300 in", 50}
	answered := 0
	rounds := 4000
	if runtime.GOOS == "js" { // a tenth as fast
		rounds = 800
	}
	for range rounds {
		o := request{}
		maybe := func(name string, v any) {
			if r.IntN(2) == 0 {
				o[name] = v
			}
		}
		two := func(of []string) (less, more string) { // in the order of the list, which rises
			i, j := r.IntN(len(of)), r.IntN(len(of))
			return of[min(i, j)], of[max(i, j)]
		}
		maybe("torque", pick(r, torques))
		if o["torque"] != nil {
			maybe("printed_as", pick(r, torques))
			maybe("tolerance", pick(r, []string{"99.9999999 %", "2e-10 %"}))
		} else if r.IntN(2) == 0 {
			o["min"], o["max"] = two(torques)
		}
		short, long := two(lengths)
		maybe("adapter", request{"wrench": long, "extension": short, "angle": pick(r, []string{"0 deg", "1e-300 deg", "90 deg", "89.99999999999999 deg", "179.99999999999997 deg", "180 deg"})})
		fine, most := two(torques)
		maybe("wrench", request{"kind": pick(r, []string{"click", "beam", "electronic"}), "max": most, "graduation": fine, "deviation": pick(r, []string{"2e-10 %", "50 %"})})
		maybe("fastener", request{"thread": pick(r, []string{"M1.6x0.2", "M24", "M24x1"}), "class": pick(r, []string{"4.8", "12.9"}), "friction": pick(r, []float64{0.04, 0.6}), "friction_within": pick(r, []float64{0, 1e-300, 0.02}),
			"utilisation": pick(r, []string{"5 %", "100 %"}), "into": pick(r, []string{"aluminium", "steel"}), "engagement": pick(r, []string{"1.1e-12 mm", "1e-9 mm", "1000 mm"})})
		maybe("pattern", request{"kind": pick(r, []string{"rectangle", "circle", "row"}), "count": pick(r, []int{1, 2, 3, 4, 12, 40}), "width": pick(r, []any{1.1e-12, 1e5, 1}), "height": pick(r, []any{1.1e-12, 1e5, 1})})
		maybe("bolts", []any{request{"x": pick(r, places), "y": pick(r, places), "length": pick(r, lengths)}, request{"x": pick(r, places), "y": pick(r, places), "kept": pick(r, []string{"no", "yes"})}})
		maybe("passes", []any{request{"share": pick(r, []string{"2e-10 %", "100 %"})}})
		maybe("progress", request{"done": pick(r, []int{0, 1, 800})})
		got := asked(t, o)
		finite(t, o, "", got.whole)
		if !got.OK {
			continue
		}
		answered++
		if body, _ := json.Marshal(o); answered%4 == 0 {
			record, a, faults := tool.Torque.Glance(body, quantity.Point, wording.English())
			require.Empty(t, faults)
			tool.Torque.Lay(record, a)
		}
	}
	assert.Greater(t, answered, rounds/3)
	t.Logf("%d answered", answered)
}

// TestOrderTurns holds that a pattern that is turned, mirrored, moved or scaled has the same order, through the tool.
func TestOrderTurns(t *testing.T) {
	r := rand.New(rand.NewPCG(55, 1))
	for round := range 150 {
		n := 1 + r.IntN(24)
		type point struct{ x, y float64 }
		at := make([]point, n)
		for i := range at {
			switch round % 3 {
			case 0: // anywhere
				at[i] = point{80*r.Float64() - 40, 80*r.Float64() - 40}
			case 1: // on a circle
				s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				at[i] = point{40 * s, 40 * c}
			default: // on a grid, where much is equally far
				at[i] = point{float64(10 * (i % 5)), float64(10 * (i / 5))}
			}
		}
		order := func(turn, size, x, y, mirror float64) []float64 {
			rows := []any{}
			s, c := math.Sincos(turn)
			for _, p := range at {
				px, py := mirror*p.x, p.y
				rows = append(rows, request{"x": x + size*(c*px-s*py), "y": y + size*(s*px+c*py)})
			}
			got := answer(t, request{"bolts": rows})
			require.EqualValues(t, 4*n, got.at(t, "sequence.steps"))
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

// TestEveryWarningOfTorque holds that each warning that the code can give is given: by a vector or by a request here.
func TestEveryWarningOfTorque(t *testing.T) {
	given := map[string]bool{}
	gather := func(r reply) {
		for _, w := range r.Warnings {
			given[w.Code] = true
		}
	}
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	for _, v := range vectors {
		if v.In.Tool == "torque" && v.WantError == nil {
			var o request
			require.NoError(t, json.Unmarshal(v.In.Request, &o))
			gather(answer(t, o))
		}
	}
	gather(answer(t, request{"fastener": request{"thread": "M8", "class": "8.8", "into": "aluminium", "engagement": "10 mm"}})) // between weak and usual metal
	for _, o := range []request{
		{"torque": "1 N.m", "printed_as": "13 in-lb"},
		{"table": "M8 20 N·m + 90°"},
		{"torque": "12 N.m", "fastener": request{"thread": "M6", "class": "8.8"}},
		{"torque": "10 N.m", "adapter": request{"wrench": "300 mm", "extension": "200 mm", "angle": "180 deg"}},
		{"torque": "10 N.m", "adapter": request{"wrench": "12 in", "extension": "3 mm"}},
		{"torque": "3 N.m", "wrench": request{"max": "10 N.m", "graduation": "10 N.m"}},
		{"torque": "9 N.m", "wrench": request{"min": "5 N.m", "max": "25 N.m"}, "pattern": request{"count": 8}},
		{"pattern": request{"count": 8}, "passes": []any{request{"share": "90 %"}, request{"share": "50 %"}}},
		{"bolts": []any{request{"x": 1, "y": 1}, request{"x": 1, "y": 1}, request{"x": 1, "y": 1}, request{"x": 1, "y": 1}, request{"x": 1, "y": 1}}},
	} {
		gather(answer(t, o))
	}
	gather(answer(t, request{"table": "M6 10 N·m" + strings.Repeat("\nM6 9 N·m", 400)}))
	files, err := filepath.Glob("torque*.go")
	require.NoError(t, err)
	warned := regexp.MustCompile(`\.warn\("([a-z0-9_]+)"`)
	can := map[string]bool{}
	for _, name := range append(files, "tightening.go") {
		source, err := os.ReadFile(name)
		require.NoError(t, err)
		for _, m := range warned.FindAllStringSubmatch(string(source), -1) {
			can[m[1]] = true
		}
	}
	assert.GreaterOrEqual(t, len(can), 12, "the warnings were not found in the code: this test looks in the wrong place")
	for code := range can {
		assert.True(t, given[code], "no request gets the warning %s", code)
		assert.True(t, wording.Has("torque.warn."+code), code)
	}
	t.Log(slices.Sorted(maps.Keys(can)))
}

// TestProgress holds that a count of steps goes on only where nothing has changed that it rests on.
func TestProgress(t *testing.T) {
	ask := func() request {
		return request{"torque": "10 N.m", "adapter": request{"wrench": "300 mm", "extension": "50 mm"}, "bolts": []any{
			request{"x": 10, "y": 10}, request{"x": 90, "y": 10}, request{"x": 90, "y": 80}, request{"x": 10, "y": 80}, request{"x": 50, "y": 40}}}
	}
	of := answer(t, ask()).word(t, "sequence.of")
	changed := func(o request, done int, of string) bool {
		o["progress"] = request{"done": done, "of": of}
		got := answer(t, o)
		require.EqualValues(t, done, got.at(t, "sequence.progress.done"))
		return got.is(t, "sequence.progress.changed")
	}
	assert.False(t, changed(ask(), 7, of))
	assert.False(t, changed(ask(), 20, of), "all done")
	assert.True(t, changed(ask(), 21, of), "more than there are")
	assert.True(t, changed(ask(), 7, ""))
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
		o := ask()
		change(o)
		assert.True(t, changed(o, 7, of), what)
	}
	// the same bolts, written otherwise, and a length or a slip of the wrench's data, change nothing
	o := ask()
	o["torque"], o["bolts"].([]any)[0] = "1000 cN.m", request{"x": "1 cm", "y": "10.001 mm", "length": "30 mm"}
	assert.False(t, changed(o, 7, of))
}
