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
			bench.CheckAbove(m, knownGood.Of(r), at, f)
		}
		for _, s := range specs.Of(r) {
			bench.CheckAbove(m, s, rowAt, f)
		}
	}
	checkLeads(r, f)
	if knownGood.Given(r) {
		checkGood(knownGood.Of(r), f)
	}
	checkLoom(r, f)
	if driverLimit.Given(r) && !supply.Given(r) {
		f.Missing("supply", "missing", "supply", "13.8 V")
	}
	for _, s := range specs.Of(r) {
		checkRow(s, f)
	}
}

// checkLeads notes a fault if leads or wiring have more resistance than the reading.
func checkLeads(r *tool.Record, f *tool.Faults) {
	if !reading.OK(r) || reading.Of(r).Over {
		return
	}
	whole, off := reading.Of(r).In, float64(leads.Of(r))
	if leads.OK(r) && off > whole {
		f.Conflict("leads", leads.Raw(r), "leads", f.Speak.Ohms(off, 0), f.Speak.Ohms(whole, 0))
	} else if wires := float64(loom.Of(r)); loom.OK(r) && wires > whole-off {
		f.Conflict("loom", loom.Raw(r), "loom", f.Speak.Ohms(wires, 0), f.Speak.Ohms(whole-off, 0))
	}
}

// checkGood notes a fault if the known good part's leads leave nothing of its reading.
func checkGood(g *tool.Record, f *tool.Faults) {
	if !reading.OK(g) || reading.Of(g).Over {
		return
	}
	whole, off := reading.Of(g).In, float64(leads.Of(g))
	if leads.OK(g) && off > whole {
		f.Conflict(leads.Path(g), leads.Raw(g), "leads", f.Speak.Ohms(off, 0), f.Speak.Ohms(whole, 0))
	} else if whole-off <= tool.Tiny {
		f.OutOf(reading.Path(g), reading.Raw(g), "good_is_zero")
	}
}

func checkLoom(r *tool.Record, f *tool.Faults) {
	if place.OK(r) && place.Of(r) == winding.AtWinding {
		if loom.Given(r) {
			f.Conflict("loom", loom.Raw(r), "loom_at_winding")
		} else if loomWithin.Given(r) {
			f.Conflict("loom_within", loomWithin.Raw(r), "loom_at_winding")
		}
	}
	if loomWithin.Given(r) && !loom.Given(r) {
		f.Missing("loom", "missing", "loom", "0.4 ohm")
	}
}

// checkRow notes faults between the fields of one row.
func checkRow(s *tool.Record, f *tool.Faults) {
	limits, one := rowMin.Given(s) || rowMax.Given(s), nominal.Given(s)
	switch {
	case limits && one:
		f.Conflict(nominal.Path(s), nominal.Raw(s), "row_both")
	case tolerance.Given(s) && !one:
		f.Missing(nominal.Path(s), "missing", "nominal", "5.3 ohm")
	case one && !tolerance.Given(s):
		f.Missing(tolerance.Path(s), "missing", "tolerance", "10 %")
	case !limits && !one:
		f.Missing(rowMin.Path(s), "row_empty")
	}
	if tool.OK(s, rowMin, rowMax) && rowMin.Of(s) > rowMax.Of(s) {
		bench.MinAboveMax(s, rowMin, rowMax, f)
	}
	if (validFrom.Given(s) || validTo.Given(s)) && rowAt.Given(s) {
		f.Conflict(rowAt.Path(s), rowAt.Raw(s), "row_at")
	}
	if from, to := validFrom.Of(s), validTo.Of(s); tool.OK(s, validFrom, validTo) && from > to {
		f.Conflict(validFrom.Path(s), validFrom.Raw(s), "from_to", f.Speak.Celsius(float64(from), 0), f.Speak.Celsius(float64(to), 0))
	}
}
