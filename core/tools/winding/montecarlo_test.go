//go:build !js

package winding_test

// This test runs another program, which WebAssembly in a page cannot do.

import (
	"math"
	"math/rand/v2"
	"testing"

	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

// meterFor draws a meter suitable for a resistance in thousandths of an ohm: its resolution is fine enough.
func meterFor(r *rand.Rand, thousandths int) toolstest.Object {
	resolution := "0.010 ohm"
	if thousandths > 8000 && r.IntN(2) == 0 {
		resolution = "0.100 ohm"
	}
	return toolstest.Object{"percent": float64(2+r.IntN(20)) / 10, "counts": 1 + r.IntN(4), "resolution": resolution}
}

// drawWinding is a reading of a winding that is near a limit of its row, so that no probability is plain. Its temperature may not be
// given.
func drawWinding(r *rand.Rand, known bool) toolstest.Drawn {
	zeros := map[string]float64{"copper": 234.5, "aluminium": 228}
	material := []string{"copper", "copper", "aluminium"}[r.IntN(3)]
	at20, at := 2000+r.IntN(40000), r.IntN(120000)-20000
	share, arrangement := drawArrangement(r, at20)
	k := zeros[material]
	reading := int(float64(at20) * share * (k + float64(at)/1000) / (k + 20))
	o := toolstest.Object{"material": material, "meter": meterFor(r, reading)}
	if known {
		o["at"], o["at_within"] = toolstest.Milli(at, "degC"), toolstest.Milli(r.IntN(8000), "K")
	}
	if arrangement != nil {
		o["arrangement"] = arrangement
	}
	off := 0
	if r.IntN(2) == 0 {
		off = 50 + r.IntN(450)
		o["leads"] = toolstest.Milli(off, "ohm")
	}
	if r.IntN(3) == 0 {
		loom := 100 + r.IntN(900)
		off += loom
		o["measured_at"], o["loom"], o["loom_within"] = "control_unit", toolstest.Milli(loom, "ohm"), toolstest.Milli(r.IntN(200), "ohm")
	}
	o["reading"] = toolstest.Milli(reading+off, "ohm")
	o["specs"] = []any{drawRow(r, at20)}
	if r.IntN(2) == 0 {
		good := max(4000, at20+r.IntN(2000)-1000)
		o["known_good"] = toolstest.Object{"reading": toolstest.Milli(int(float64(good)*math.Max(1, share)), "ohm"), "at": "21.000 degC",
			"at_within": toolstest.Milli(r.IntN(4000), "K")}
	}
	if r.IntN(3) == 0 {
		was := int(float64(at20)*share*(k+15)/(k+20)) + off
		o["cold"] = toolstest.Object{"reading": toolstest.Milli(was, "ohm"), "at": "15.000 degC", "at_within": toolstest.Milli(r.IntN(3000), "K")}
		if o["leads"] != nil {
			o["cold"].(toolstest.Object)["leads"] = o["leads"]
		}
	}
	return toolstest.Drawn{Tool: "winding", Request: o}
}

// drawArrangement is how many windings are read at once, and what share of one of them is read.
func drawArrangement(r *rand.Rand, at20 int) (share float64, arrangement toolstest.Object) {
	switch r.IntN(3) {
	case 0:
		n := 2 + r.IntN(3)
		return float64(n), toolstest.Object{"series": n}
	case 1:
		if at20 > 8000 {
			n := 2 + r.IntN(2)
			return 1 / float64(n), toolstest.Object{"parallel": n}
		}
	}
	return 1, nil
}

// drawRow is a row with a limit near a winding.
func drawRow(r *rand.Rand, at20 int) toolstest.Object {
	near := func(side float64) string {
		return toolstest.Milli(int(float64(at20)*(1+side*(0.01+0.04*r.Float64()))), "ohm")
	}
	row := toolstest.Object{}
	if w := r.IntN(3); w != 0 {
		row["min"] = near(-1)
	} else {
		row["min"] = near(0.2)
	}
	if r.IntN(3) != 0 {
		row["max"] = near(1)
		if row["min"].(string) > row["max"].(string) && len(row["min"].(string)) == len(row["max"].(string)) {
			delete(row, "min")
		}
	}
	return row
}

// given reads what the tool says of a case.
func given(t *testing.T, c toolstest.Drawn) map[string]toolstest.Given {
	got := toolstest.Answered(t, c.Tool, c.Request)
	row := "result.specs.0."
	p := []float64{toolstest.Number(t, got, row+"p_below"), toolstest.Number(t, got, row+"p_within"), toolstest.Number(t, got, row+"p_above")}
	verdict := func(path string) string {
		v, _ := testdata.Look(got, path)
		text, _ := v.(string)
		return text
	}
	u := func(path string) float64 { return toolstest.Number(t, got, path+".u") }
	out := map[string]toolstest.Given{
		"winding":   {U: u("result.winding")},
		"corrected": {U: u(row + "corrected"), P: p, Verdict: verdict(row + "verdict")},
	}
	if c.Request["known_good"] != nil {
		out["ratio"] = toolstest.Given{U: u("result.comparison.ratio"), Verdict: verdict("result.comparison.verdict")}
	}
	if c.Request["cold"] != nil {
		out["cold_temperature"] = toolstest.Given{U: u("result.cold.temperature")}
		out["rise"] = toolstest.Given{U: u("result.cold.rise")}
		if c.Request["at"] != nil {
			out["cold_ratio"] = toolstest.Given{U: u("result.cold.ratio"), Verdict: verdict("result.cold.verdict")}
		}
	}
	return out
}

// TestUncertaintyBySampling draws 200 windings as one measures them: meters fit for the reading, temperatures within 8 K, and not
// given in one of five.
func TestUncertaintyBySampling(t *testing.T) {
	r := rand.New(rand.NewPCG(101, 2008))
	var cases []toolstest.Drawn
	for i := range 200 {
		c := drawWinding(r, i%5 != 0)
		c.Given = given(t, c)
		cases = append(cases, c)
	}
	toolstest.CheckSampled(t, cases)
}
