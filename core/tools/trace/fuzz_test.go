package trace_test

import (
	"encoding/json"
	"testing"

	"ohmwright/core/quantity"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/core/tools/trace"
)

// sawtooth is a recording of a pulsed drive, with decimal points and semicolons.
const sawtooth = "t;I\n0;0\n1e-3;1\n2e-3;2\n3e-3;1\n4e-3;2\n5e-3;1\n6e-3;2\n7e-3;1\n8e-3;2\n9e-3;1\n1e-2;2\n11e-3;1\n12e-3;2\n13e-3;1\n" +
	"14e-3;2\n15e-3;1\n16e-3;2"

// FuzzFields fuzzes a recording and what it is compared with, and lays out each answer. Nothing may panic.
func FuzzFields(f *testing.F) {
	var example struct{ Recording string }
	if err := json.Unmarshal([]byte(trace.Tool.Example), &example); err != nil {
		f.Fatal(err)
	}
	f.Add(example.Recording, "13.8 V", "5.3 ohm", "12 mH", "")
	f.Add(sawtooth, "", "", "", "100")
	f.Fuzz(func(t *testing.T, recording, supply, resistance, inductance, probe string) {
		o := toolstest.Object{"recording": recording, "plunger": "moves"}
		for k, v := range map[string]any{"supply": supply, "resistance": resistance, "inductance": inductance} {
			if v != "" {
				o[k] = v
			}
		}
		if probe != "" {
			o["probe"] = toolstest.Object{"mv_per_a": probe}
		}
		request := toolstest.Encoded(t, o)
		response, err := tools.Run("trace", request, tools.English())
		toolstest.CheckResponse(t, request, response, err)
		if o := trace.Tool.Answer(request, quantity.Point, tools.English()); o.Answer != nil {
			o.Answer.Lay()
		}
	})
}
