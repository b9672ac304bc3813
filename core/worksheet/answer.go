package worksheet

import (
	"math"
	"slices"

	"ohmwright/core/quantity"
)

// An Answer is what a student decided on a task. What is left out is "" or not given.
type Answer struct {
	Number                      float64
	Given                       bool   // there is a number
	Unit                        string // its symbol
	Condition, Decision, Reason string
}

// A Part is one thing that is marked: whether it is right, and what it earned of what it can.
type Part struct {
	Right      bool
	Earned, Of float64
}

// A Marked is an answer, marked.
type Marked struct {
	Value, Unit, Condition, Decision, Reason Part
	Slip                                     Slip // that explains a wrong value or unit; "" for none
	Marks                                    float64
}

// What the parts of an answer are worth, of 100.
const (
	ofValue     = 40
	ofUnit      = 10
	ofCondition = 15
	ofDecision  = 20
	ofReason    = 15
	ofSlip      = 1.0 / 4 // of the value's marks, where a known slip explains it: the way was right but for one step
)

// Mark marks an answer.
//
// The value is right within the tolerance, unless it is what a known slip leads to: that is the slip however large the tolerance is, so
// that a slip earns the same whatever the figures. A decision, condition or reason without a value that is right, or wrong by a known slip,
// earns a third: it may be a guess. So it does beside a slip whose value was copied off the sheet: that took no step, and shows no work.
// What a slip is called is told only where the value is not right, or right in another unit.
func (t *Task) Mark(a Answer, tolerance float64) Marked {
	m := Marked{Value: Part{Of: ofValue}, Unit: Part{Of: ofUnit}}
	valued, united, slip := t.value(a, tolerance)
	m.Value.Right, m.Unit.Right, m.Slip = valued, united, slip
	worth := 1.0
	switch {
	case valued:
		m.Value.Earned = ofValue
	case slip != "" && !t.copied(slip, a.Unit):
		m.Value.Earned = ofValue * ofSlip
	default:
		worth = 1.0 / 3
	}
	if united && worth == 1 {
		m.Unit.Earned = ofUnit
	}
	part := func(right bool, of float64) Part {
		p := Part{Right: right, Of: of}
		if right {
			p.Earned = round(of*worth, 10)
		}
		return p
	}
	m.Condition = part(a.Condition == t.Condition, ofCondition)
	m.Decision = part(a.Decision == t.Decision, ofDecision)
	m.Reason = part(a.Reason == t.Reason, ofReason)
	for _, p := range []Part{m.Value, m.Unit, m.Condition, m.Decision, m.Reason} {
		m.Marks += p.Earned
	}
	m.Marks = round(m.Marks, 10)
	return m
}

// copied reports whether a slip's value is a figure of the sheet as it stands there. A reading with the leads taken off is not: that is a
// step, with the student's own figures, as much as correcting it with the leads left on.
func (t *Task) copied(slip Slip, unit string) bool {
	switch slip {
	case NotCorrected, SupplyItself:
		return t.Level == 1
	case NeverOn:
		return true
	case ForgotAdapter:
		return t.Level < 3 || t.foreign(unit) // else it was converted
	}
	return false
}

// value reports whether the number is right, and its unit; slip is the one that explains what is wrong.
func (t *Task) value(a Answer, tolerance float64) (valued, united bool, slip Slip) {
	unit, fits := quantity.UnitNamed(t.Kind, a.Unit)
	own := fits && !t.foreign(a.Unit)
	if !a.Given {
		return false, own, ""
	}
	asked, _ := quantity.UnitNamed(t.Kind, t.Unit)
	alone := asked.From(a.Number) // the number as if it were in the unit asked for
	in := alone
	if fits {
		in = unit.From(a.Number)
	}
	right := func(v float64) bool { return near(v, t.Value, tolerance+grain) && t.nearest(v) == "" }
	switch slip := t.nearest(in); {
	case slip != "":
		return false, own, slip
	case own && right(in):
		return true, true, ""
	case fits && right(in): // the quantity is right, and cannot be set on this scale
		return true, false, NotConverted
	case right(alone) && fits && thousandfold(in, alone):
		return true, false, KiloForOne
	case right(alone):
		return true, false, OtherUnit
	case right(in/1000) || right(in*1000):
		return false, own, KiloForOne
	}
	return false, own, ""
}

// foreign reports whether a unit is of the kind asked for and still has to be converted.
func (t *Task) foreign(unit string) bool {
	_, fits := quantity.UnitNamed(t.Kind, unit)
	return fits && t.Own != nil && !slices.Contains(t.Own, unit)
}

// grain is far below any digit that is written, and above what rounding in a conversion adds.
const grain = 1e-9

// thousandfold reports whether one value is a power of a thousand times another.
func thousandfold(a, b float64) bool {
	return near(a, b*1000, grain) || near(a, b/1000, grain) || near(a, b*1e6, grain) || near(a, b/1e6, grain)
}

// nearest returns the slip whose value is nearest, if that is near enough; "" for none. What is right, and a thousand times it, is never as
// near to a slip ([Task.Check]).
func (t *Task) nearest(value float64) (slip Slip) {
	least := known
	for _, m := range slices.Concat(t.Misses, t.Also) {
		if off := math.Abs(value-m.Value) / math.Abs(m.Value); off <= least {
			slip, least = m.Slip, off
		}
	}
	return slip
}

// round rounds to so many parts of one.
func round(v, parts float64) float64 { return math.Round(v*parts) / parts }

// The words that can be chosen, each once: of the conditions, decisions and reasons of all kinds, and the units.
var (
	allConditions = []string{"at_reference", "at_20", "at_good", "at_now", "at_own", "at_any", "as_held", "any_angle", "any_grip", "average",
		"while_on", "any_duty"}
	allDecisions = []string{"within", "below", "above", "row_1", "row_2", "no_row", "alike", "reads_less", "reads_more", "usable",
		"below_fifth", "above_scale", "as_commanded", "always_on", "never_on"}
	allReasons = []string{"heat_explains", "only_heat", "lost_turns", "added_resistance", "as_read", "fits_one", "fits_none", "fits_both",
		"on_scale", "not_trusted_low", "not_reached", "as_printed", "follows_duty", "on_all_the_time", "off_all_the_time", "shows_peak"}
	allUnits = []string{"ohm", "kohm", "V", "mV", "A", "mA", "N.m", "cN.m", "lbf.in", "lbf.ft"}
)

// Conditions returns the conditions of all kinds.
func Conditions() []string { return allConditions }

// Decisions returns the decisions of all kinds.
func Decisions() []string { return allDecisions }

// Reasons returns the reasons of all kinds.
func Reasons() []string { return allReasons }

// Units returns the units that can be chosen in all.
func Units() []string { return allUnits }

// Offered returns the units to choose from on a task: its own, and others that are taken for it.
func (t *Task) Offered() []string {
	return map[quantity.Kind][]string{
		quantity.OfResistance: {"ohm", "kohm", "V", "A"}, quantity.OfVoltage: {"V", "mV", "A", "ohm"},
		quantity.OfCurrent: {"A", "mA", "V", "ohm"}, quantity.OfTorque: {"N.m", "cN.m", "lbf.in", "lbf.ft"},
	}[t.Kind]
}
