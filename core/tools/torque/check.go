package torque

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/manual"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
)

// checkAll notes faults between fields that are correct by themselves. It returns the table that was pasted, or nil.
func checkAll(r *tool.Record, f *tool.Faults) *manual.Table {
	checkTorque(r, f)
	checkAdapter(adapter.Of(r), f)
	checkWrench(wrench.Of(r), f)
	if g := screw.Of(r); screw.Given(r) {
		checkThread(g, f)
		checkFriction(g, f)
		checkInto(g, f)
	}
	table := readTable(r, f)
	checkBolts(r, f)
	checkPasses(r, f)
	asked := wanted.Given(r) || from.Given(r) || to.Given(r) || screw.Given(r) || pasted.Given(r) || single.Given(r) || pattern.Given(r)
	if !asked && !f.Any() {
		f.Missing("torque", "torque_none")
	}
	return table
}

// checkTorque notes faults between torque, range, tolerance and the second figure.
func checkTorque(r *tool.Record, f *tool.Faults) {
	switch {
	case wanted.Given(r) && (from.Given(r) || to.Given(r)):
		f.Conflict("torque", wanted.Raw(r), "torque_and_range")
	case from.Given(r) && !to.Given(r):
		f.Missing("max", "range_max")
	case to.Given(r) && !from.Given(r):
		f.Missing("min", "range_min")
	case tool.OK(r, from, to) && from.Of(r) > to.Of(r):
		f.Conflict("max", to.Raw(r), "range_order", quantity.Clip(from.Raw(r)), quantity.Clip(to.Raw(r)))
	case tolerance.Given(r) && !wanted.Given(r):
		f.Conflict("tolerance", tolerance.Raw(r), "tolerance_alone")
	case tool.OK(r, wanted, tolerance) && toleranceOf(r) >= wanted.Of(r):
		f.OutOf("tolerance", tolerance.Raw(r), "tolerance_wide", quantity.Clip(tolerance.Raw(r)))
	}
	for _, h := range []torqueField{wanted, second} {
		if figuresIn(h.Raw(r)) > 1 {
			f.Rehint(h.Path(r), tool.Syntax, "torque_two")
		}
	}
	if second.Given(r) && !wanted.Given(r) {
		f.Missing("torque", "pair_alone")
	}
}

// figuresIn returns how many numbers a text contains.
func figuresIn(text string) int {
	return len(strings.FieldsFunc(text, func(c rune) bool { return !strings.ContainsRune("0123456789.,", c) }))
}

// leastReach limits how short an adapter may make the lever: to this fraction (1/5) of the wrench's length. Common
// practice: on a shorter lever, a hand that is a finger's width off changes the torque by a quarter.
const leastReach = 5

// checkAdapter refuses an adapter for which no setting is right.
func checkAdapter(g *tool.Record, f *tool.Faults) {
	if !tool.OK(g, handle, extension, angle) {
		return
	}
	a := adapterOf(g)
	switch long, short := quantity.Clip(handle.Raw(g)), quantity.Clip(extension.Raw(g)); {
	case a.Reach() <= 0:
		f.Conflict(extension.Path(g), extension.Raw(g), "adapter_past", short, long)
	case a.Extension >= a.Wrench:
		f.Conflict(extension.Path(g), extension.Raw(g), "adapter_long", short, long)
	case a.Reach() < a.Wrench/leastReach:
		reach := f.Speak.Of(quantity.OfLength, math.Round(float64(a.Reach())*10)/10, 0)
		f.Conflict(angle.Path(g), angle.Raw(g), "adapter_back", reach, long)
	}
}

func checkWrench(g *tool.Record, f *tool.Faults) {
	if tool.OK(g, scaleFrom, scaleTo) && scaleFrom.Of(g) >= scaleTo.Of(g) {
		f.Conflict(scaleFrom.Path(g), scaleFrom.Raw(g), "scale_order", quantity.Clip(scaleFrom.Raw(g)), quantity.Clip(scaleTo.Raw(g)))
	}
	if tool.OK(g, graduation, scaleTo) && graduation.Of(g) > scaleTo.Of(g) {
		f.Conflict(graduation.Path(g), graduation.Raw(g), "graduation_wide", quantity.Clip(graduation.Raw(g)), quantity.Clip(scaleTo.Raw(g)))
	}
}

// checkThread notes a thread that is not in the table of threads, or a class that does not cover its diameter.
func checkThread(g *tool.Record, f *tool.Faults) {
	if !thread.Given(g) || !thread.OK(g) {
		return
	}
	t, err := fastener.ParseThread(thread.Of(g))
	if e := (*fastener.ThreadError)(nil); errors.As(err, &e) {
		given, known := e.Given, strings.Join(e.Known, ", ")
		fault := tool.Fault{Field: thread.Path(g), Code: tool.Unknown, Given: given}
		switch e.Fault {
		case fastener.UnknownSize:
			f.Add(fault, "thread_size", given, known)
		case fastener.UnknownPitch:
			f.Add(fault, "thread_pitch", given, known)
		default:
			fault.Code = tool.Syntax
			f.Add(fault, "thread", given)
		}
		return
	}
	if class.OK(g) && !class.Of(g).Covers(t.Diameter) {
		f.Conflict(class.Path(g), class.Raw(g), "class_size", class.Raw(g))
	}
}

// leastFriction is the lowest coefficient that friction less its scatter may reach. Common practice: even waxed threads have more.
const leastFriction = 0.02

func checkFriction(g *tool.Record, f *tool.Faults) {
	mu, within := friction.Of(g), frictionWithin.Of(g)
	if tool.OK(g, friction, frictionWithin) && mu-within < leastFriction {
		s := f.Speak
		f.Conflict(frictionWithin.Path(g), frictionWithin.Raw(g), "friction_scatter",
			s.Number(mu, 2), s.Number(within, 2), s.Number(leastFriction, 2))
	}
}

// checkInto notes a fault if only one of material and engagement is given.
func checkInto(g *tool.Record, f *tool.Faults) {
	switch known := into.OK(g) && into.Of(g) != nil; {
	case known && !engagement.Given(g):
		f.Missing(engagement.Path(g), "engagement")
	case engagement.Given(g) && into.OK(g) && !known:
		f.Missing(into.Path(g), "into")
	}
}

// readTable reads the table that was pasted. It returns nil if there is none.
func readTable(r *tool.Record, f *tool.Faults) *manual.Table {
	if !pasted.Given(r) || !pasted.OK(r) {
		return nil
	}
	table := manual.Read(pasted.Of(r), r.Mark())
	if slices.ContainsFunc(table.Lines, func(l manual.Line) bool { return len(l.Figures) > 0 }) {
		return &table
	}
	unclear := slices.IndexFunc(table.Lines, func(l manual.Line) bool { return l.Fault == manual.Ambiguous })
	if unclear < 0 {
		f.Add(tool.Fault{Field: pasted.Path(r), Code: tool.Syntax, Given: pasted.Of(r)}, "table_nothing")
	} else {
		line := quantity.Clip(table.Lines[unclear].Text)
		f.Add(tool.Fault{Field: pasted.Path(r), Code: tool.Ambiguous, Given: pasted.Of(r)}, "table_unclear", line)
	}
	return &table
}

// checkBolts notes a fault if the pattern and the single bolts together are too many.
func checkBolts(r *tool.Record, f *tool.Faults) {
	g := pattern.Of(r)
	if all := count.Of(g) + len(single.Of(r)); pattern.Given(r) && tool.OK(r, pattern, single) && all > mostBolts {
		f.OutOf(count.Path(g), count.Raw(g), f.Speak.Form("bolts_many", all), strconv.Itoa(all), strconv.Itoa(mostBolts))
	}
}

// checkPasses notes a pass to a share that has no share, and any other pass that has one.
func checkPasses(r *tool.Record, f *tool.Faults) {
	for _, row := range passList.Of(r) {
		switch {
		case !passIs.OK(row):
		case passIs.Of(row) == bolts.ToShare && !passShare.Given(row):
			f.Missing(passShare.Path(row), "pass_share")
		case passIs.Of(row) != bolts.ToShare && passShare.Given(row):
			f.Conflict(passShare.Path(row), passShare.Raw(row), "pass_no_share")
		}
	}
}
