package drive_test

import (
	"testing"

	"ohmwright/core/quantity"
	"ohmwright/core/tools"
	"ohmwright/core/tools/drive"
	"ohmwright/core/tools/toolstest"
)

// FuzzFields fuzzes the text of each field, so that every input is a request, and lays out each answer. Nothing may panic.
func FuzzFields(f *testing.F) {
	f.Add("13.8 V", "5.3 ohm", "88 degC", "12 mH", "300 Hz", "45 %", "", "0.7 V", "", "", "", "3 A", "2 ms", "0.15 ohm")
	f.Add("1e5 V", "1e-9 ohm", "2000 degC", "1e4 H", "1e7 Hz", "", "1 A", "", "40 V", "90 degC", "1e6 K/W", "1e-9 A", "1e6 s", "0 ohm")
	f.Add("24 V", "1e12 ohm", "", "0 H", "1e-9 Hz", "0 %", "", "0 V", "", "-40 degC", "12 K/W", "", "", "1e12 ohm")
	f.Add("12 V", "4 ohm", "20 degC", "25 mH", "1000 Hz", "100 %", "", "", "0.7 V", "", "", "", "1 us", "")
	f.Fuzz(func(t *testing.T, supply, resistance, now, inductance, frequency, duty, target, drop, clamp, ambient, thermal, limit, peak,
		series string) {
		o := toolstest.Object{"supply": supply, "resistance": resistance, "inductance": inductance, "frequency": frequency}
		for k, v := range map[string]any{
			"winding_temperature": now, "duty": duty, "target_current": target, "driver_limit": limit, "driver": series, "wiring": series,
		} {
			if v != "" {
				o[k] = v
			}
		}
		if drop != "" {
			o["off_path"] = toolstest.Object{"drop": drop}
		}
		if clamp != "" {
			o["off_path"] = toolstest.Object{"kind": "clamp", "voltage": clamp, "across": []string{"winding", "switch"}[len(clamp)%2]}
		}
		if ambient != "" {
			delete(o, "winding_temperature")
			o["thermal"] = toolstest.Object{"ambient": ambient, "resistance": thermal}
		}
		if peak != "" {
			o["peak"] = toolstest.Object{"time": peak}
			o["side"] = "low"
		}
		request := toolstest.Encoded(t, o)
		response, err := tools.Run("drive", request, tools.English())
		toolstest.CheckResponse(t, request, response, err)
		if o := drive.Tool.Answer(request, quantity.Point, tools.English()); o.Answer != nil {
			o.Answer.Lay()
		}
	})
}
