package winding

import (
	"ohmwright/core/bench"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

// check notes faults between fields that are correct by themselves.
func check(r *tool.Record, f *tool.Faults) {
	if material.OK(r) {
		m := material.Of(r)
		bench.CheckAbove(m, r, at, f)
		bench.CheckAbove(m, r, reference, f)
		if knownGood.Given(r) {
			bench.CheckAbove(m, knownGood.Of(r), atKnown, f)
		}
		if cold.Given(r) {
			bench.CheckAbove(m, cold.Of(r), atKnown, f)
		}
		for _, s := range specs.Of(r) {
			bench.CheckAbove(m, s, rowAt, f)
		}
	}
	loomWire.Check(r, f)
	checkUnknown(r, f)
	checkLeads(r, f)
	if knownGood.Given(r) {
		checkBeside(knownGood.Of(r), 0, "good_is_zero", f)
	}
	if cold.Given(r) {
		wires, _ := loomOf(r)
		checkBeside(cold.Of(r), float64(wires), "cold_is_zero", f)
	}
	checkLoom(r, f)
	if driverLimit.Given(r) && !supply.Given(r) {
		f.Lacks("supply", "13.8 V")
	}
	for _, s := range specs.Of(r) {
		checkRow(s, f)
	}
}

// checkUnknown asks for the temperature where it cannot be left out: how well it is known says nothing alone, and a wire that has no
// resistance at some temperature that it may have cannot be corrected.
func checkUnknown(r *tool.Record, f *tool.Faults) {
	if at.Given(r) {
		return
	}
	zero := material.Of(r).ZeroResistanceAt
	if atWithin.Given(r) || material.OK(r) && zero >= winding.Anywhere.From-1 {
		f.Lacks("at", "24 degC")
	}
}

// withoutLeads returns what a reading leaves without its leads. It notes leads that are more than the reading; ok is false for these,
// and where there is no figure.
func withoutLeads(g *tool.Record, f *tool.Faults) (left float64, ok bool) {
	if !reading.OK(g) || reading.Of(g).Over {
		return 0, false
	}
	whole, off := reading.Of(g).In, float64(leads.Of(g))
	if leads.OK(g) && off > whole {
		f.Conflict(leads.Path(g), leads.Raw(g), "leads", f.Speak.Ohms(off, 0), f.Speak.Ohms(whole, 0))
		return 0, false
	}
	return whole - off, true
}

// checkLeads holds what is taken off the reading to less than the reading.
func checkLeads(r *tool.Record, f *tool.Faults) {
	left, ok := withoutLeads(r, f)
	if !ok {
		return
	}
	is, _ := loomOf(r)
	if wires := float64(is); (!loom.Given(r) || loom.OK(r)) && wires > left {
		field, given := "loom", loom.Raw(r)
		if loomWire.Given(r) {
			field, given = "loom_wire", ""
		}
		f.Conflict(field, given, "loom", f.Speak.Ohms(wires, 0), f.Speak.Ohms(left, 0))
	}
}

// checkBeside holds that a reading of another part, or of this one cold, leaves something behind its leads and wires.
func checkBeside(g *tool.Record, wires float64, key string, f *tool.Faults) {
	if left, ok := withoutLeads(g, f); ok && left-wires <= tool.Tiny {
		f.OutOf(reading.Path(g), reading.Raw(g), key)
	}
}

func checkLoom(r *tool.Record, f *tool.Faults) {
	if place.OK(r) && place.Of(r) == winding.AtWinding {
		switch {
		case loom.Given(r):
			f.Conflict("loom", loom.Raw(r), "loom_at_winding")
		case loomWire.Given(r):
			f.Conflict("loom_wire", "", "loom_at_winding")
		case loomWithin.Given(r):
			f.Conflict("loom_within", loomWithin.Raw(r), "loom_at_winding")
		}
	}
	if loom.Given(r) && loomWire.Given(r) {
		f.Conflict("loom_wire", "", "loom_twice")
	}
	if loomWithin.Given(r) && !loom.Given(r) && !loomWire.Given(r) {
		f.Lacks("loom", "0.4 ohm")
	}
}

// checkRow notes faults between the fields of one row.
func checkRow(s *tool.Record, f *tool.Faults) {
	limits, one := rowMin.Given(s) || rowMax.Given(s), nominal.Given(s)
	switch {
	case limits && one:
		f.Conflict(nominal.Path(s), nominal.Raw(s), "row_both")
	case tolerance.Given(s) && !one:
		f.Lacks(nominal.Path(s), "5.3 ohm")
	case one && !tolerance.Given(s):
		f.Lacks(tolerance.Path(s), "10 %")
	case !limits && !one:
		f.Missing(rowMin.Path(s), "row_empty")
	}
	bench.CheckOrder(s, rowMin, rowMax, f)
	if (validFrom.Given(s) || validTo.Given(s)) && rowAt.Given(s) {
		f.Conflict(rowAt.Path(s), rowAt.Raw(s), "row_at")
	}
	if from, to := validFrom.Of(s), validTo.Of(s); tool.OK(s, validFrom, validTo) && from > to {
		f.Conflict(validFrom.Path(s), validFrom.Raw(s), "from_to", f.Speak.Celsius(float64(from), 0), f.Speak.Celsius(float64(to), 0))
	}
}
