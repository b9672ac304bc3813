//go:build !js

package loop_test

// This test runs another program, which WebAssembly in a page cannot do.

import (
	"math/rand/v2"
	"testing"

	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

// drawLoop is a loaded test whose doubts are given, left to their defaults or, of the temperature, not known at all.
func drawLoop(r *rand.Rand) toolstest.Drawn {
	winding := 2000 + r.IntN(20000)
	supply := 9000 + r.IntN(7000)
	hot := r.IntN(120000) - 10000
	ohms := float64(winding)/1000*(234.5+float64(hot)/1000)/254.5 + 0.15 + r.Float64()*2*float64(r.IntN(2))
	o := toolstest.Object{"supply": toolstest.Milli(supply, "V"), "current": toolstest.Milli(max(300, int(float64(supply)/ohms)), "A"),
		"meter": toolstest.Object{"percent": float64(5+r.IntN(20)) / 10, "counts": 1 + r.IntN(3), "resolution": "0.010 A"}}
	if r.IntN(3) != 0 {
		o["supply_within"] = toolstest.Milli(r.IntN(200), "V")
	}
	if r.IntN(4) != 0 {
		o["winding_temperature"] = toolstest.Milli(hot, "degC")
		if r.IntN(3) != 0 {
			o["winding_temperature_within"] = toolstest.Milli(r.IntN(10000), "K")
		}
	}
	if r.IntN(2) == 0 {
		o["winding"] = toolstest.Milli(winding, "ohm")
		if r.IntN(2) == 0 {
			o["winding_within"] = toolstest.Milli(r.IntN(300), "ohm")
		}
	} else {
		o["spec"] = toolstest.Object{"min": toolstest.Milli(winding-200, "ohm"), "max": toolstest.Milli(winding+200, "ohm")}
	}
	return toolstest.Drawn{Tool: "loop", Request: o}
}

// TestUncertaintyBySampling draws 60 loaded tests as one measures them.
func TestUncertaintyBySampling(t *testing.T) {
	r := rand.New(rand.NewPCG(102, 2008))
	var cases []toolstest.Drawn
	for range 60 {
		c := drawLoop(r)
		c.Given = map[string]toolstest.Given{}
		got := toolstest.Answered(t, c.Tool, c.Request)
		for _, name := range []string{"total", "winding", "unwanted", "unwanted_drop"} {
			c.Given[name] = toolstest.Given{U: toolstest.Number(t, got, "result."+name+".u")}
		}
		verdict, _ := testdata.Look(got, "result.overall")
		if verdict != "too_much" {
			drop := c.Given["unwanted_drop"]
			drop.Verdict = verdict.(string)
			c.Given["unwanted_drop"] = drop
		}
		cases = append(cases, c)
	}
	toolstest.CheckSampled(t, cases)
}
