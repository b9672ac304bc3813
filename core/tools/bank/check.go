package bank

import (
	"strconv"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

// check notes faults between fields that are correct by themselves.
func check(r *tool.Record, f *tool.Faults) {
	if material.OK(r) {
		m := material.Of(r)
		for _, t := range []bench.TemperatureField{at, otherAt, reference} {
			bench.CheckAbove(m, r, t, f)
		}
		if spec.Given(r) {
			bench.CheckAbove(m, spec.Of(r), spec.At, f)
		}
		for _, w := range windings.Of(r) {
			bench.CheckAbove(m, w, specAt, f)
		}
	}
	checkUnknown(r, f)
	if g := spec.Of(r); spec.Given(r) {
		spec.CheckOrder(r, f)
		if !spec.Min.Given(g) && !spec.Max.Given(g) {
			f.Missing(spec.Min.Path(g), "row_empty")
		}
	}
	read := false
	for _, w := range windings.Of(r) {
		checkWinding(r, w, f)
		read = read || reading.Given(w)
	}
	if rows := windings.Of(r); len(rows) > 0 && !read {
		f.Lacks(reading.Path(rows[0]), "5.3 ohm")
	}
	for _, p := range pins.Of(r) {
		checkPin(r, p, f)
	}
}

// checkUnknown asks for the temperature where it cannot be left out, as the winding tool does.
func checkUnknown(r *tool.Record, f *tool.Faults) {
	zero := material.Of(r).ZeroResistanceAt
	if !at.Given(r) && (atWithin.Given(r) || material.OK(r) && zero >= winding.Anywhere.From-1) {
		f.Lacks("at", "24 degC")
	}
}

// checkWinding notes faults between the fields of one winding.
func checkWinding(r, w *tool.Record, f *tool.Faults) {
	bench.CheckOrder(w, rowMin, rowMax, f)
	if specAt.Given(w) && !ownSpec(w) {
		f.Missing(rowMin.Path(w), "own_spec")
	}
	left, ok := withoutLeads(r, w, other, f)
	if ok && left <= tool.Tiny {
		f.OutOf(other.Path(w), other.Raw(w), "other_is_zero")
	}
	withoutLeads(r, w, reading, f)
}

// withoutLeads is what a reading leaves without the leads; ok is false where there is no figure. It notes leads that are more.
func withoutLeads(r, w *tool.Record, field tool.MeasureField, f *tool.Faults) (left float64, ok bool) {
	if !field.Given(w) || !field.OK(w) || !leads.OK(r) && leads.Given(r) || field.Of(w).Over {
		return 0, false
	}
	whole, off := field.Of(w).In, float64(leads.Of(r))
	if off > whole {
		f.Conflict(field.Path(w), field.Raw(w), "leads", f.Speak.Ohms(off, 0), f.Speak.Ohms(whole, 0))
		return 0, false
	}
	return whole - off, true
}

// checkPin holds that a check is between two pins, and that they are windings of the sheet where their sum is expected.
func checkPin(r, p *tool.Record, f *tool.Faults) {
	if !tool.OK(p, from, to) {
		return
	}
	a, b := strings.TrimSpace(from.Of(p)), strings.TrimSpace(to.Of(p))
	if a == b {
		f.Conflict(to.Path(p), to.Raw(p), "same_pin")
		return
	}
	if !common.Of(r) {
		return
	}
	for _, end := range []tool.TextField{from, to} {
		if rowNamed(r, strings.TrimSpace(end.Of(p)), f.Speak) < 0 {
			f.Conflict(end.Path(p), end.Raw(p), "no_such_pin", strings.TrimSpace(end.Of(p)), namesOf(r))
		}
	}
	withoutLeads(r, p, between, f)
}

// mostNamed is the most windings that a fault names.
const mostNamed = 8

func namesOf(r *tool.Record) string {
	names := []string{}
	for i, w := range windings.Of(r) {
		if i == mostNamed {
			return strings.Join(append(names, "…"), ", ")
		}
		n := strings.TrimSpace(rowName.Of(w))
		if n == "" {
			n = strconv.Itoa(i + 1)
		}
		names = append(names, n)
	}
	return strings.Join(names, ", ")
}
