//go:build !js

package loop_test

// This test runs another program, which WebAssembly in a page cannot do.

import (
	"math/rand/v2"
	"testing"

	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

func drawLoop(r *rand.Rand) toolstest.Drawn {
	winding := 2000 + r.IntN(20000)
	supply := 9000 + r.IntN(7000)
	hot := r.IntN(120000) - 10000
	ohms := float64(winding)/1000*(234.5+float64(hot)/1000)/254.5 + 0.15 + r.Float64()*2
	o := toolstest.Object{"supply": toolstest.Milli(supply, "V"), "supply_within": toolstest.Milli(r.IntN(200), "V"),
		"current":             toolstest.Milli(max(300, int(float64(supply)/ohms)), "A"),
		"winding_temperature": toolstest.Milli(hot, "degC"), "winding_temperature_within": toolstest.Milli(r.IntN(10000), "K"),
		"meter": toolstest.Object{"percent": float64(5+r.IntN(20)) / 10, "counts": 1 + r.IntN(3), "resolution": "0.010 A"}}
	if r.IntN(2) == 0 {
		o["winding"], o["winding_within"] = toolstest.Milli(winding, "ohm"), toolstest.Milli(r.IntN(300), "ohm")
	} else {
		o["spec"] = toolstest.Object{"min": toolstest.Milli(winding-200, "ohm"), "max": toolstest.Milli(winding+200, "ohm")}
	}
	return toolstest.Drawn{Tool: "loop", Request: o}
}

// TestUncertaintyBySampling draws 40 loaded tests with values as they occur in practice, and checks their uncertainties.
func TestUncertaintyBySampling(t *testing.T) {
	r := rand.New(rand.NewPCG(102, 2008))
	var cases []toolstest.Drawn
	for range 40 {
		cases = append(cases, drawLoop(r))
	}
	for i := range cases {
		c := &cases[i]
		c.Given = map[string]toolstest.Given{}
		got := toolstest.Answered(t, c.Tool, c.Request)
		for _, name := range []string{"total", "winding", "unwanted", "unwanted_drop"} {
			u, _ := testdata.Look(got, "result."+name+".u")
			v, _ := u.(float64)
			c.Given[name] = toolstest.Given{U: v}
		}
	}
	toolstest.CheckSampled(t, cases)
}
