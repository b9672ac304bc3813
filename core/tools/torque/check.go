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

// checkAll notes what is wrong between fields that are each right, and returns the table that was pasted; nil for none.
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

// checkTorque holds torque, range, tolerance and the second figure to each other.
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

// figuresIn counts the numbers in a text.
func figuresIn(text string) int {
	return len(strings.FieldsFunc(text, func(c rune) bool { return !strings.ContainsRune("0123456789.,", c) }))
}

// leastReach is the part of the wrench's length that is left of the lever at least: common practice, as a hand that is a finger's
// width off then makes a quarter.
const leastReach = 5

// checkAdapter refuses an adapter with which no setting is right.
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

// checkThread holds the text of a thread to the table of threads, and the class to the thread.
func checkThread(g *tool.Record, f *tool.Faults) {
	if !thread.Given(g) || !thread.OK(g) {
		return
	}
	t, err := fastener.ParseThread(thread.Of(g))
	if e := (*fastener.ThreadError)(nil); errors.As(err, &e) {
		given, known := quantity.Clip(thread.Of(g)), strings.Join(e.Known, ", ")
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

// leastFriction is the least coefficient that the scatter of a friction may reach; common practice: not even waxed threads have less.
const leastFriction = 0.02

func checkFriction(g *tool.Record, f *tool.Faults) {
	mu, within := friction.Of(g), frictionWithin.Of(g)
	if tool.OK(g, friction, frictionWithin) && mu-within < leastFriction {
		s := f.Speak
		f.Conflict(frictionWithin.Path(g), frictionWithin.Raw(g), "friction_scatter",
			s.Number(mu, 2), s.Number(within, 2), s.Number(leastFriction, 2))
	}
}

// checkInto asks for the engagement where the material is given, and the other way round.
func checkInto(g *tool.Record, f *tool.Faults) {
	switch known := into.OK(g) && into.Of(g) != nil; {
	case known && !engagement.Given(g):
		f.Missing(engagement.Path(g), "engagement")
	case engagement.Given(g) && into.OK(g) && !known:
		f.Missing(into.Path(g), "into")
	}
}

// readTable reads the table that was pasted; nil for none.
func readTable(r *tool.Record, f *tool.Faults) *manual.Table {
	if !pasted.Given(r) || !pasted.OK(r) {
		return nil
	}
	table := manual.Read(pasted.Of(r), r.Mark())
	if !slices.ContainsFunc(table.Lines, func(l manual.Line) bool { return len(l.Figures) > 0 }) {
		f.Add(tool.Fault{Field: pasted.Path(r), Code: tool.Syntax, Given: pasted.Of(r)}, "table_nothing")
	}
	return &table
}

// checkBolts counts the bolts of a pattern and those of their own.
func checkBolts(r *tool.Record, f *tool.Faults) {
	g := pattern.Of(r)
	if all := count.Of(g) + len(single.Of(r)); pattern.Given(r) && tool.OK(r, pattern, single) && all > mostBolts {
		f.OutOf(count.Path(g), count.Raw(g), "bolts_many", strconv.Itoa(all), strconv.Itoa(mostBolts))
	}
}

// checkPasses holds that a pass to a share has one, and no other pass has.
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
