package torque_test

import (
	"testing"

	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
)

// FuzzFields fuzzes the text of each field, so that every input is a request, and lays out each answer.
func FuzzFields(f *testing.F) {
	f.Add("90 in-lb", "10 N.m", "12 in", "3 in", "45 deg", "150 in-lb", "5 in-lb", "10 %", "M6x1", "8.8", "0.12", "12 mm",
		"M6 10 N·m 89 in-lb\nM8 25 N·m", "12", "20", "50 %")
	f.Add("210 N·m", "115 lb ft", "1 ft", "11 in", "180 deg", "1e6 N.m", "1e-9 N.m", "5 N.m", "M1,6", "12.9", "0.6", "1000 mm",
		"", "100", "-1e5", "0.0001 %")
	f.Add("1e-300 ozf.in", "1e6 kgf.m", "1e-9 mm", "1e-10 mm", "90 deg", "1e-9 N.m", "", "", "M24x3", "4.8", "0.04", "1e-9 mm",
		"Bolt | N·m | ft-lb\nM10 | 45.0 | 34", "1", "1 in", "100 %")
	f.Add("1,2 mkg", "", "", "", "", "", "", "", "", "", "", "", "M6 8-10 Nm\n\nM6 12 Nm", "", "", "")
	f.Fuzz(func(t *testing.T, torque, printed, length, extension, angle, scale, graduation, tolerance, thread, class, friction, engagement,
		table, count, x, share string) {
		o := request{}
		for k, v := range map[string]any{"torque": torque, "printed_as": printed, "tolerance": tolerance, "table": table} {
			if v != "" {
				o[k] = v
			}
		}
		if length != "" {
			o["adapter"] = request{"wrench": length, "extension": extension, "angle": angle}
		}
		if scale != "" {
			o["wrench"] = scaleFrom(scale, graduation)
		}
		if thread != "" {
			o["fastener"] = screwFrom(thread, class, friction, engagement)
		}
		tightenFrom(o, count, x, extension, share)
		body := toolstest.Encoded(t, o)
		response, err := tools.Run("torque", body, tools.English())
		toolstest.CheckResponse(t, body, response, err)
		if err == nil {
			layOut(t, body)
		}
	})
}

func scaleFrom(scale, graduation string) request {
	w := request{"max": scale, "kind": []string{"click", "beam", "electronic"}[len(scale)%3]}
	if graduation != "" {
		w["graduation"] = graduation
	}
	return w
}

func screwFrom(thread, class, friction, engagement string) request {
	g := request{"thread": thread, "class": class, "friction": friction, "friction_within": "0.02"}
	if engagement != "" {
		g["into"], g["engagement"] = []string{"aluminium", "magnesium", "cast_iron", "steel"}[len(engagement)%4], engagement
	}
	return g
}

// tightenFrom adds bolts and passes to a request.
func tightenFrom(o request, count, x, length, share string) {
	if count != "" {
		o["pattern"] = request{"kind": []string{"rectangle", "circle", "row"}[len(count)%3], "count": count}
	}
	if x != "" {
		second := request{"x": "20", "y": x}
		if length != "" {
			second["length"] = length
		}
		o["bolts"] = []any{request{"x": x, "y": "20"}, second, request{"x": "0", "y": "0", "kept": "yes"}}
	}
	if share != "" {
		o["passes"] = []any{request{"kind": "snug"}, request{"kind": "share", "share": share}}
		o["progress"] = request{"done": len(share)}
	}
}
