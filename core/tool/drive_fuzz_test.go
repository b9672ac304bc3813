package tool

import (
	"encoding/json"
	"testing"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

func FuzzRunDrive(f *testing.F) { fuzzRun(f, "drive") }
func FuzzRunTrace(f *testing.F) { fuzzRun(f, "trace") }

// laid is an answer that was laid out too; whatever the request, that panics on nothing.
func laid(t *testing.T, name string, request []byte) {
	t.Helper()
	response, err := Run(name, request, wording.English())
	checkResponse(t, request, response, err)
	tl, _ := Named(name)
	if r, a, failed := tl.Glance(request, quantity.Point, wording.English()); failed == nil {
		tl.Lay(r, a)
	}
}

// FuzzRunDriveFields fuzzes the texts of the fields, so that what is fuzzed is always a request, and lays out each answer.
func FuzzRunDriveFields(f *testing.F) {
	f.Add("13.8 V", "5.3 ohm", "88 degC", "12 mH", "300 Hz", "45 %", "", "0.7 V", "", "", "", "3 A", "2 ms", "0.15 ohm")
	f.Add("1e5 V", "1e-9 ohm", "2000 degC", "1e4 H", "1e7 Hz", "", "1 A", "", "40 V", "90 degC", "1e6 K/W", "1e-9 A", "1e6 s", "0 ohm")
	f.Add("24 V", "1e12 ohm", "", "0 H", "1e-9 Hz", "0 %", "", "0 V", "", "-40 degC", "12 K/W", "", "", "1e12 ohm")
	f.Add("12 V", "4 ohm", "20 degC", "25 mH", "1000 Hz", "100 %", "", "", "0.7 V", "", "", "", "1 us", "")
	f.Fuzz(func(t *testing.T, supply, resistance, now, inductance, frequency, duty, target, drop, clamp, ambient, thermal, limit, peak, series string) {
		o := object{"supply": supply, "resistance": resistance, "inductance": inductance, "frequency": frequency}
		for k, v := range map[string]any{"winding_temperature": now, "duty": duty, "target_current": target, "driver_limit": limit, "driver": series, "wiring": series} {
			if v != "" {
				o[k] = v
			}
		}
		if drop != "" {
			o["off_path"] = object{"drop": drop}
		}
		if clamp != "" {
			o["off_path"] = object{"kind": "clamp", "voltage": clamp, "across": []string{"winding", "switch"}[len(clamp)%2]}
		}
		if ambient != "" {
			delete(o, "winding_temperature")
			o["thermal"] = object{"ambient": ambient, "resistance": thermal}
		}
		if peak != "" {
			o["peak"] = object{"time": peak}
			o["side"] = "low"
		}
		request, err := json.Marshal(o)
		if err != nil {
			t.Skip() // a text of no UTF-8 is written by JSON as another
		}
		laid(t, "drive", request)
	})
}

// FuzzRunTraceFields fuzzes a recording and what it is held against, and lays out each answer.
func FuzzRunTraceFields(f *testing.F) {
	var example struct{ Recording string }
	if err := json.Unmarshal([]byte(Trace.Example), &example); err != nil {
		f.Fatal(err)
	}
	f.Add(example.Recording, "13.8 V", "5.3 ohm", "12 mH", "")
	f.Add("t;I\n0;0\n1e-3;1\n2e-3;2\n3e-3;1\n4e-3;2\n5e-3;1\n6e-3;2\n7e-3;1\n8e-3;2\n9e-3;1\n1e-2;2\n11e-3;1\n12e-3;2\n13e-3;1\n14e-3;2\n15e-3;1\n16e-3;2", "", "", "", "100")
	f.Fuzz(func(t *testing.T, recording, supply, resistance, inductance, probe string) {
		o := object{"recording": recording, "plunger": "moves"}
		for k, v := range map[string]any{"supply": supply, "resistance": resistance, "inductance": inductance} {
			if v != "" {
				o[k] = v
			}
		}
		if probe != "" {
			o["probe"] = object{"mv_per_a": probe}
		}
		request, err := json.Marshal(o)
		if err != nil {
			t.Skip() // a text of no UTF-8 is written by JSON as another
		}
		laid(t, "trace", request)
	})
}
