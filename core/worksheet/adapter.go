package worksheet

import (
	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// ends are the ends of the scales of torque wrenches, in N·m: usual sizes.
var ends = []int{5, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300}

// adapter draws a torque that has to be reached with an adapter on the wrench. Level 1 has it straight ahead; 2 at an angle; 3 the torque
// in inch-pounds and the wrench in newton metres as well.
func adapter(level Level, verdict func(int) int, d draw) Task {
	v := verdict(3)
	return until(d, func(d draw) (Task, bool) {
		target := newtonMetres(d.between(7, 60))
		turned := angle(0)
		if level > 1 {
			turned = angle(d.of(30, 45, 60, 120, 135))
		}
		if level > 2 {
			target = Figure{5 * d.between(14, 60), 0, quantity.OfTorque, "lbf.in"}
		}
		lever, extension := millimetres(5*d.between(44, 100)), millimetres(5*d.between(10, 32))
		a := fastener.Adapter{Wrench: quantity.Length(lever.In()), Extension: quantity.Length(extension.In())}
		straight := float64(a.Setting(quantity.Torque(target.In())))
		a.Angle = quantity.Angle(turned.In())
		t := Task{Question: Question{Adapter, level}, Kind: quantity.OfTorque, Unit: "N.m",
			Value:     float64(a.Setting(quantity.Torque(target.In()))),
			Facts:     []Fact{{"torque", target}, {"adapter.wrench", lever}, {"adapter.extension", extension}, {"adapter.angle", turned}},
			Condition: "as_held", Conditions: []string{"as_held", "any_angle", "any_grip"},
			Decisions: []string{"usable", "below_fifth", "above_scale"},
			Reasons:   []string{"on_scale", "not_trusted_low", "not_reached", "as_printed"}}
		t.Decision, t.Reason = t.Decisions[v], t.Reasons[v]
		most, ok := scaleFor(d, t.Value, v)
		t.Facts = append(t.Facts, Fact{"wrench.max", newtonMetres(most)})
		t.Borders = []Border{{t.Value, float64(most), 0.05}, {t.Value, float64(most) / 5, 0.1}, {target.In(), float64(most), 0.03}}
		t.Misses = []Miss{{ForgotAdapter, target.In()}, {AdapterInverted, float64(a.Reached(quantity.Torque(target.In())))}}
		if turned.N != 0 {
			t.Misses = append(t.Misses, Miss{ForgotAngle, straight})
		}
		t.Lines = adapterLines(target, lever, extension, turned, a, t.Value)
		if level > 2 {
			t.Own = []string{"N.m", "cN.m"} // the wrench has one scale
			t.Misses = append(t.Misses, Miss{NotConverted, float64(a.Setting(quantity.Torque(target.Number())))}, Miss{InchForFoot, 12 * t.Value})
		}
		return t, ok
	})
}

// scaleFor draws the end of a scale on which a setting is usable, below a fifth, or above the end.
func scaleFor(d draw, setting float64, v int) (most int, ok bool) {
	limits := [3][2]float64{{0.28, 0.9}, {0.06, 0.17}, {1.1, 2}}[v]
	var fit []int
	for _, end := range ends {
		if share := setting / float64(end); share > limits[0] && share < limits[1] {
			fit = append(fit, end)
		}
	}
	if len(fit) == 0 {
		return ends[0], false
	}
	return fit[d.below(len(fit))], true
}

// adapterLines returns the solution: the torque in the wrench's unit, the reach, the setting.
func adapterLines(target, lever, extension, turned Figure, a fastener.Adapter, setting float64) []Line {
	var list []Line
	if target.Unit != "N.m" {
		list = append(list, Line{"converted", "1 in·lb = 0.1129848 N·m", "? × ?", []Figure{target, pure(1130, 4)}, quantity.OfTorque, target.In(),
			"definition"})
	}
	if turned.N == 0 {
		list = append(list, Line{"reach", "L′ = L + E", "? + ?", []Figure{lever, extension}, quantity.OfLength, float64(a.Reach()),
			"geometry"})
	} else {
		list = append(list, Line{"reach", "L′ = L + E·cos α", "? + ? × cos ?", []Figure{lever, extension, turned}, quantity.OfLength,
			float64(a.Reach()), "geometry"})
	}
	to := Figure{int(target.In()*100 + 0.5), 2, quantity.OfTorque, "N.m"}
	reach := Figure{int(float64(a.Reach())*10 + 0.5), 1, quantity.OfLength, "mm"}
	return append(list, Line{"setting", "T_set = T·L/L′", "? × ?/?", []Figure{to, lever, reach}, quantity.OfTorque, setting, "geometry"})
}
