package winding_test

import (
	"errors"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

// randomWinding draws a request that the tool answers. Every field occurs now and then.
func randomWinding(r *rand.Rand) toolstest.Object {
	maybe := func() bool { return r.IntN(2) == 0 }
	reading := 2000 + r.IntN(60000)
	o := toolstest.Object{"reading": toolstest.Milli(reading, "ohm"), "at": toolstest.Milli(r.IntN(140000)-30000, "degC"),
		"at_within": toolstest.Milli(r.IntN(10000), "K")}
	rest := reading
	if maybe() {
		leads := r.IntN(600)
		rest -= leads
		o["leads"] = toolstest.Milli(leads, "ohm")
	}
	if maybe() {
		o["measured_at"] = "control_unit"
		loom := r.IntN(rest / 2)
		o["loom"], o["loom_within"] = toolstest.Milli(loom, "ohm"), toolstest.Milli(r.IntN(200), "ohm")
	}
	if maybe() {
		o["arrangement"] = toolstest.Object{[]string{"series", "parallel"}[r.IntN(2)]: 1 + r.IntN(4)}
	}
	if maybe() {
		o["meter"] = toolstest.Object{"percent": float64(r.IntN(30)) / 10, "counts": r.IntN(6), "resolution": []string{"0.01 ohm",
			"0.1 ohm", "1 mohm"}[r.IntN(3)]}
	}
	o["material"] = []any{"copper", "aluminium", toolstest.Object{"zero_resistance_at": "-235 degC"}}[r.IntN(3)]
	specs := []any{}
	for range r.IntN(4) {
		lo := reading/2 + r.IntN(reading)
		row := toolstest.Object{"name": "row"}
		switch r.IntN(4) {
		case 0:
			row["min"] = toolstest.Milli(lo, "ohm")
		case 1:
			row["max"] = toolstest.Milli(lo, "ohm")
		case 2:
			row["nominal"], row["tolerance"] = toolstest.Milli(lo+1, "ohm"), strconv.Itoa(1+r.IntN(40))+" %"
		case 3:
			row["min"], row["max"] = toolstest.Milli(lo, "ohm"), toolstest.Milli(lo+r.IntN(3000), "ohm")
		}
		switch r.IntN(3) {
		case 0:
			row["at"] = toolstest.Milli(r.IntN(80000), "degC")
		case 1:
			row["valid_from"], row["valid_to"] = "20 degC", toolstest.Milli(20000+r.IntN(80000), "degC")
		}
		specs = append(specs, row)
	}
	o["specs"] = specs
	if maybe() {
		o["known_good"] = toolstest.Object{"reading": toolstest.Milli(2000+r.IntN(60000), "ohm"), "at": toolstest.Milli(r.IntN(100000), "degC")}
	}
	if maybe() {
		o["supply"] = toolstest.Milli(6000+r.IntN(10000), "V")
		if maybe() {
			o["driver_limit"] = toolstest.Milli(100+r.IntN(5000), "A")
		}
	}
	return o
}

func TestEveryResponseKeepsThePromises(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 800 {
		for _, o := range []toolstest.Object{randomWinding(r)} {
			request := toolstest.Encoded(t, o)
			response, err := tools.Run("winding", request, tools.English())
			require.NoError(t, err, "%s\n%s", request, response)
			toolstest.CheckResponse(t, request, response, err)
		}
	}
}

// TestExtremes checks that no request with values at the ends of their ranges is reported as a fault of the program.
func TestExtremes(t *testing.T) {
	ohmsAt := []string{"0 ohm", "-0 ohm", "1e-300 ohm", "1e-12 ohm", "2e-12 ohm", "1 ohm", "1e12 ohm", "5e-324 Mohm"}
	celsius := []string{"-273.15 degC", "-234.49999999999997 degC", "-227.99999999999997 degC", "-1e-300 degC", "0 degC",
		"1e-300 degC", "5e-324 degC", "20 degC", "2000 degC", "0 K"}
	materials := []any{"copper", "aluminium", toolstest.Object{"zero_resistance_at": "0 degC"},
		toolstest.Object{"zero_resistance_at": "-1000 degC"}, toolstest.Object{"zero_resistance_at": "-1e-300 degC"}}
	r := rand.New(rand.NewPCG(2, 2))
	pick := func(from []string) string { return from[r.IntN(len(from))] }
	broken := map[string]bool{}
	for range 20000 {
		o := toolstest.Object{"reading": pick(append(ohmsAt, "OL")), "at": pick(celsius), "at_within": pick([]string{"0 K",
			"2000 K", "1e-300 K"}), "material": materials[r.IntN(len(materials))],
			"reference": pick(celsius), "meter": toolstest.Object{"percent": []float64{0, 1e-300, 100}[r.IntN(3)],
				"counts": []float64{0, 10000}[r.IntN(2)], "resolution": pick([]string{"0 ohm", "1e6 ohm", "1e-300 ohm"})},
			"arrangement": toolstest.Object{[]string{"series", "parallel"}[r.IntN(2)]: []int{1, 100}[r.IntN(2)]},
			"specs": []any{toolstest.Object{"min": pick(ohmsAt), "at": pick(celsius)}, toolstest.Object{"max": pick(ohmsAt),
				"valid_from": pick(celsius)}, toolstest.Object{"nominal": pick(ohmsAt), "tolerance": pick([]string{"100 %", "1e-10 %"}),
				"at": pick(celsius)}},
			"known_good": toolstest.Object{"reading": pick(append(ohmsAt, "OL")), "at": pick(celsius), "tolerance": "100 %"},
			"supply":     pick([]string{"1e-11 V", "1e5 V"}), "driver_limit": pick([]string{"1e-11 A", "1e6 A"})}
		if r.IntN(2) == 0 {
			delete(o, "specs")
		}
		if r.IntN(2) == 0 {
			delete(o, "known_good")
		}
		request := toolstest.Encoded(t, o)
		response, err := tools.Run("winding", request, tools.English())
		if errors.Is(err, tools.ErrProgram) {
			if !broken[string(response)] && len(broken) < 3 {
				t.Errorf("winding: the program is at fault for %s: %s", request, response)
			}
			broken[string(response)] = true
			continue
		}
		toolstest.CheckResponse(t, request, response, err)
	}
}

// TestMoreResistanceNeverReadsLower checks that as a reading grows, a row's chance of "below" never grows, its chance of
// "above" never shrinks, and its verdict never moves back.
func TestMoreResistanceNeverReadsLower(t *testing.T) {
	rank := map[string]int{"below": 0, "undecided": 1, "within": 1, "above": 2}
	r := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		o := randomWinding(r)
		row := toolstest.Object{"min": toolstest.Milli(8000+r.IntN(4000), "ohm"), "max": toolstest.Milli(12000+r.IntN(4000),
			"ohm"), "at": "20 degC"}
		o["specs"] = []any{row}
		delete(o, "loom")
		delete(o, "loom_within")
		if o["measured_at"] != nil {
			o["loom"] = "0.3 ohm"
		}
		below, above, last := 1.0, 0.0, 0
		for n := 1000; n < 60000; n += 500 + r.IntN(1500) {
			o["reading"] = toolstest.Milli(n, "ohm")
			got := toolstest.Answered(t, "winding", o)
			b, a := toolstest.Number(t, got, "result.specs.0.p_below"), toolstest.Number(t, got, "result.specs.0.p_above")
			verdict, _ := testdata.Look(got, "result.specs.0.verdict")
			require.LessOrEqual(t, b, below+1e-12, "%v", o)
			require.GreaterOrEqual(t, a, above-1e-12, "%v", o)
			require.GreaterOrEqual(t, rank[verdict.(string)], last, "%v", o)
			below, above, last = b, a, rank[verdict.(string)]
		}
	}
}

// TestUnitsDoNotMatter checks that the answer does not depend on the units of the request.
func TestUnitsDoNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		for _, o := range []toolstest.Object{randomWinding(r)} {
			want := toolstest.Answered(t, "winding", o)["result"]
			for _, ohm := range []string{"ohm", "kohm", "mohm"} {
				got := toolstest.Answered(t, "winding", toolstest.Rewritten(o, ohm, "degC", "K"))["result"]
				require.Equal(t, want, got, "in %s, exactly: %v", ohm, o)
				for _, point := range []string{"degF", "K"} {
					toolstest.Near(t, "winding", want, toolstest.Answered(t, "winding", toolstest.Rewritten(o, ohm, point, "degF"))["result"])
				}
			}
		}
	}
}

// TestOrderDoesNotMatter checks that the order of a request's fields changes nothing, as they are read in the declared order.
func TestOrderDoesNotMatter(t *testing.T) {
	a, err := tools.Run("winding", []byte(`{"at":"88 degC","reading":"6.9 ohm","meter":{"counts":3,"percent":0.5}}`), tools.English())
	require.NoError(t, err)
	b, err := tools.Run("winding", []byte(` { "meter":{"percent":0.5 , "counts":3},"reading":"6.9 ohm", "at":"88 degC" } `), tools.English())
	require.NoError(t, err)
	assert.Equal(t, string(a), string(b))
}
