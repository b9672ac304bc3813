//go:build !js

package winding_test

// This test runs another program, which WebAssembly in a page cannot do.

import (
	"math"
	"math/rand/v2"
	"testing"

	"ohmwright/core/tools/toolstest"
)

// meterFor draws a meter suitable for a resistance in thousandths of an ohm: its resolution is fine enough.
func meterFor(r *rand.Rand, thousandths int) toolstest.Object {
	resolution := "0.010 ohm"
	if thousandths > 8000 && r.IntN(2) == 0 {
		resolution = "0.100 ohm"
	}
	return toolstest.Object{"percent": float64(2+r.IntN(20)) / 10, "counts": 1 + r.IntN(4), "resolution": resolution}
}

// drawWinding draws a reading near a limit of its row, so that no probability is close to 0 or 1.
func drawWinding(r *rand.Rand) toolstest.Drawn {
	zeros := map[string]float64{"copper": 234.5, "aluminium": 228}
	material := []string{"copper", "copper", "aluminium"}[r.IntN(3)]
	at20 := 2000 + r.IntN(40000)
	at := r.IntN(120000) - 20000
	share, arrangement := 1.0, toolstest.Object(nil)
	switch r.IntN(3) {
	case 0:
		n := 2 + r.IntN(3)
		share, arrangement = float64(n), toolstest.Object{"series": n}
	case 1:
		if at20 > 8000 {
			n := 2 + r.IntN(2)
			share, arrangement = 1/float64(n), toolstest.Object{"parallel": n}
		}
	}
	k := zeros[material]
	reading := int(float64(at20) * share * (k + float64(at)/1000) / (k + 20))
	o := toolstest.Object{"at": toolstest.Milli(at, "degC"), "at_within": toolstest.Milli(r.IntN(8000), "K"),
		"material": material, "meter": meterFor(r, reading)}
	if arrangement != nil {
		o["arrangement"] = arrangement
	}
	if r.IntN(2) == 0 {
		leads := 50 + r.IntN(450)
		reading += leads
		o["leads"] = toolstest.Milli(leads, "ohm")
	}
	if r.IntN(3) == 0 {
		loom := 100 + r.IntN(900)
		reading += loom
		o["measured_at"], o["loom"], o["loom_within"] = "control_unit", toolstest.Milli(loom, "ohm"), toolstest.Milli(r.IntN(200), "ohm")
	}
	o["reading"] = toolstest.Milli(reading, "ohm")
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
	o["specs"] = []any{row}
	if r.IntN(2) == 0 {
		good := max(4000, at20+r.IntN(2000)-1000)
		o["known_good"] = toolstest.Object{"reading": toolstest.Milli(int(float64(good)*math.Max(1, share)), "ohm"),
			"at": "21.000 degC", "at_within": toolstest.Milli(r.IntN(4000), "K")}
	}
	return toolstest.Drawn{Tool: "winding", Request: o}
}

// TestUncertaintyBySampling draws 200 windings as they occur in practice: meters suitable for the reading, temperatures within 8 K.
func TestUncertaintyBySampling(t *testing.T) {
	r := rand.New(rand.NewPCG(101, 2008))
	var cases []toolstest.Drawn
	for range 200 {
		cases = append(cases, drawWinding(r))
	}
	for i := range cases {
		c := &cases[i]
		c.Given = map[string]toolstest.Given{}
		got := toolstest.Answered(t, c.Tool, c.Request)
		row := "result.specs.0."
		p := []float64{toolstest.Number(t, got, row+"p_below"), toolstest.Number(t, got, row+"p_within"), toolstest.Number(t, got, row+"p_above")}
		c.Given["corrected"] = toolstest.Given{U: toolstest.Number(t, got, row+"corrected.u"), P: &p}
		if c.Request["known_good"] != nil {
			c.Given["ratio"] = toolstest.Given{U: toolstest.Number(t, got, "result.comparison.ratio.u")}
		}
	}
	toolstest.CheckSampled(t, cases)
}
