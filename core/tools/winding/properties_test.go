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
	o := toolstest.Object{"reading": toolstest.Milli(reading, "ohm")}
	if r.IntN(4) != 0 {
		o["at"], o["at_within"] = toolstest.Milli(r.IntN(140000)-30000, "degC"), toolstest.Milli(r.IntN(10000), "K")
	}
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
		o["meter"] = toolstest.Object{"percent": float64(r.IntN(30)) / 10, "counts": r.IntN(6),
			"resolution": []string{"0.01 ohm", "0.1 ohm", "1 mohm"}[r.IntN(3)]}
	}
	if maybe() {
		o["cold"] = toolstest.Object{"reading": toolstest.Milli(reading, "ohm"), "at": toolstest.Milli(r.IntN(40000), "degC")}
	}
	o["material"] = []any{"copper", "aluminium", toolstest.Object{"zero_resistance_at": "-235 degC"}}[r.IntN(3)]
	o["specs"] = randomRows(r, reading)
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

// randomRows are up to three rows of a specification of all forms.
func randomRows(r *rand.Rand, reading int) []any {
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
	return specs
}

func TestEveryResponseKeepsThePromises(t *testing.T) {
	toolstest.CheckPromises(t, "winding", randomWinding)
}

// extremes draws requests at the ends of every range.
type extremes struct{ r *rand.Rand }

func (e extremes) pick(from ...string) string { return from[e.r.IntN(len(from))] }

func (e extremes) ohms(also ...string) string {
	return e.pick(append(also, "0 ohm", "-0 ohm", "1e-300 ohm", "1e-12 ohm", "2e-12 ohm", "1 ohm", "1e12 ohm", "5e-324 Mohm")...)
}

func (e extremes) celsius() string {
	return e.pick("-273.15 degC", "-234.49999999999997 degC", "-227.99999999999997 degC", "-1e-300 degC", "0 degC", "1e-300 degC",
		"5e-324 degC", "20 degC", "2000 degC", "0 K")
}

func (e extremes) material() any {
	zero := func(at string) any { return toolstest.Object{"zero_resistance_at": at} }
	all := []any{"copper", "aluminium", zero("0 degC"), zero("-1000 degC"), zero("-1e-300 degC"), zero("-22 degC")}
	return all[e.r.IntN(len(all))]
}

func (e extremes) meter() toolstest.Object {
	return toolstest.Object{"percent": []float64{0, 1e-300, 100}[e.r.IntN(3)], "counts": []float64{0, 1e-300, 10000}[e.r.IntN(3)],
		"resolution": e.pick("0 ohm", "1e6 ohm", "1e-300 ohm")}
}

func (e extremes) request() toolstest.Object {
	o := toolstest.Object{"reading": e.ohms("OL"), "at": e.celsius(), "at_within": e.pick("0 K", "2000 K", "1e-300 K"),
		"material": e.material(), "reference": e.celsius(), "meter": e.meter(),
		"arrangement": toolstest.Object{[]string{"series", "parallel"}[e.r.IntN(2)]: []int{1, 2, 100}[e.r.IntN(3)]},
		"specs": []any{toolstest.Object{"min": e.ohms(), "at": e.celsius()}, toolstest.Object{"max": e.ohms(), "valid_from": e.celsius()},
			toolstest.Object{"nominal": e.ohms(), "tolerance": e.pick("100 %", "1e-10 %"), "at": e.celsius()}},
		"known_good": toolstest.Object{"reading": e.ohms("OL"), "at": e.celsius(), "tolerance": "100 %"},
		"cold":       toolstest.Object{"reading": e.ohms("OL"), "at": e.celsius(), "tolerance": e.pick("100 %", "1e-10 %")},
		"supply":     e.pick("1e-11 V", "1e5 V", "60 V"), "driver_limit": e.pick("1e-11 A", "1e6 A")}
	if e.r.IntN(4) == 0 {
		o["measured_at"] = "control_unit"
		o["loom_wire"] = toolstest.Object{"section": e.pick("0.011 mm2", "1000 mm2"), "length": e.pick("1e7 mm", "1e-9 mm")}
	}
	for _, name := range []string{"specs", "known_good", "cold"} {
		if e.r.IntN(2) == 0 {
			delete(o, name)
		}
	}
	if e.r.IntN(3) == 0 {
		delete(o, "at")
		delete(o, "at_within")
	}
	return o
}

// TestExtremes holds the promise at the ends of every range: no request is the program's fault.
func TestExtremes(t *testing.T) {
	e := extremes{rand.New(rand.NewPCG(2, 2))}
	broken := map[string]bool{}
	answered := 0
	for range testdata.Several(30000) {
		request := toolstest.Encoded(t, e.request())
		response, err := tools.Run("winding", request, tools.English())
		if errors.Is(err, tools.ErrProgram) {
			if !broken[string(response)] && len(broken) < 3 {
				t.Errorf("winding: the program is at fault for %s: %s", request, response)
			}
			broken[string(response)] = true
			continue
		}
		if err == nil {
			answered++
		}
		toolstest.CheckResponse(t, request, response, err)
	}
	assert.Greater(t, answered, testdata.Several(1000))
}

// TestMoreResistanceNeverReadsLower checks that as a reading grows, a row's chance of "below" never grows, its chance of
// "above" never shrinks, and its verdict never moves back.
func TestMoreResistanceNeverReadsLower(t *testing.T) {
	rank := map[string]int{"below": 0, "undecided": 1, "within": 1, "above": 2}
	r := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		o := randomWinding(r)
		row := toolstest.Object{"min": toolstest.Milli(8000+r.IntN(4000), "ohm"), "max": toolstest.Milli(12000+r.IntN(4000), "ohm")}
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

func TestUnitsDoNotMatter(t *testing.T) { toolstest.CheckUnits(t, "winding", randomWinding) }

// TestOrderDoesNotMatter checks that the order of a request's fields changes nothing, as they are read in the declared order.
func TestOrderDoesNotMatter(t *testing.T) {
	a, err := tools.Run("winding", []byte(`{"at":"88 degC","reading":"6.9 ohm","meter":{"counts":3,"percent":0.5}}`), tools.English())
	require.NoError(t, err)
	b, err := tools.Run("winding", []byte(` { "meter":{"percent":0.5 , "counts":3},"reading":"6.9 ohm", "at":"88 degC" } `), tools.English())
	require.NoError(t, err)
	assert.Equal(t, string(a), string(b))
}
