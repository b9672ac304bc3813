package tool

import (
	"encoding/json"
	"testing"
)

func FuzzRunTorque(f *testing.F) { fuzzRun(f, "torque") }

// FuzzRunTorqueFields fuzzes the texts of the fields, so that what is fuzzed is always a request, and lays out each answer.
func FuzzRunTorqueFields(f *testing.F) {
	f.Add("90 in-lb", "10 N.m", "12 in", "3 in", "45 deg", "150 in-lb", "5 in-lb", "10 %", "M6x1", "8.8", "0.12", "12 mm", "M6 10 N·m 89 in-lb\nM8 25 N·m", "12", "20", "50 %")
	f.Add("210 N·m", "115 lb ft", "1 ft", "11 in", "180 deg", "1e6 N.m", "1e-9 N.m", "5 N.m", "M1,6", "12.9", "0.6", "1000 mm", "", "100", "-1e5", "0.0001 %")
	f.Add("1e-300 ozf.in", "1e6 kgf.m", "1e-9 mm", "1e-10 mm", "90 deg", "1e-9 N.m", "", "", "M24x3", "4.8", "0.04", "1e-9 mm", "Bolt | N·m | ft-lb\nM10 | 45.0 | 34", "1", "1 in", "100 %")
	f.Add("1,2 mkg", "", "", "", "", "", "", "", "", "", "", "", "M6 8-10 Nm\n\nM6 12 Nm", "", "", "")
	f.Fuzz(func(t *testing.T, torque, printed, length, extension, angle, scale, graduation, tolerance, thread, class, friction, engagement, table, count, x, share string) {
		o := object{}
		for k, v := range map[string]any{"torque": torque, "printed_as": printed, "tolerance": tolerance, "table": table} {
			if v != "" {
				o[k] = v
			}
		}
		if length != "" {
			o["adapter"] = object{"wrench": length, "extension": extension, "angle": angle}
		}
		if scale != "" {
			w := object{"max": scale, "kind": []string{"click", "beam", "electronic"}[len(scale)%3]}
			if graduation != "" {
				w["graduation"] = graduation
			}
			o["wrench"] = w
		}
		if thread != "" {
			g := object{"thread": thread, "class": class, "friction": friction, "friction_within": "0.02"}
			if engagement != "" {
				g["into"], g["engagement"] = []string{"aluminium", "magnesium", "cast_iron", "steel"}[len(engagement)%4], engagement
			}
			o["fastener"] = g
		}
		if count != "" {
			o["pattern"] = object{"kind": []string{"rectangle", "circle", "row"}[len(count)%3], "count": count}
		}
		if x != "" {
			o["bolts"] = []any{object{"x": x, "y": "20"}, object{"x": "20", "y": x, "length": extension}, object{"x": "0", "y": "0", "kept": "yes"}}
			if extension == "" {
				delete(o["bolts"].([]any)[1].(object), "length")
			}
		}
		if share != "" {
			o["passes"] = []any{object{"kind": "snug"}, object{"kind": "share", "share": share}}
			o["progress"] = object{"done": len(share)}
		}
		request, err := json.Marshal(o)
		if err != nil {
			t.Skip() // a text of no UTF-8 is written by JSON as another
		}
		laid(t, "torque", request)
	})
}
