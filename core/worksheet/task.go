package worksheet

import (
	"math"

	"ohmwright/core/quantity"
)

// A Figure is a number as it stands on the sheet: N × 10^-Decimals, in a unit. Both are whole, so it is exact everywhere.
type Figure struct {
	N        int
	Decimals int
	Kind     quantity.Kind
	Unit     string // its symbol
}

// Number returns the figure's number in its unit.
func (f Figure) Number() float64 { return float64(f.N) / pow10[f.Decimals] }

// In returns the figure in the contract's unit.
func (f Figure) In() float64 {
	u, ok := quantity.UnitNamed(f.Kind, f.Unit)
	if !ok {
		panic("worksheet: no unit " + f.Unit)
	}
	return u.From(f.Number())
}

var pow10 = [...]float64{1, 10, 100, 1000, 1e4}

func centiohm(ohms int) Figure    { return Figure{ohms, 2, quantity.OfResistance, "ohm"} }
func degrees(t int) Figure        { return Figure{t, 0, quantity.OfTemperature, "degC"} }
func centivolts(v int) Figure     { return Figure{v, 2, quantity.OfVoltage, "V"} }
func percent(p int) Figure        { return Figure{p, 0, quantity.OfRatio, "%"} }
func millimetres(l int) Figure    { return Figure{l, 0, quantity.OfLength, "mm"} }
func angle(a int) Figure          { return Figure{a, 0, quantity.OfAngle, "deg"} }
func newtonMetres(t int) Figure   { return Figure{t, 0, quantity.OfTorque, "N.m"} }
func pure(n, decimals int) Figure { return Figure{n, decimals, quantity.OfRatio, "1"} }

// A Fact is something that the sheet gives: its name in a request, and its figure.
type Fact struct {
	Name string
	Figure
}

// A Slip is a known way to go wrong.
type Slip string

// The slips. Source: facts/needs 24, and common practice.
const (
	CoefficientAtZero Slip = "coefficient_at_0"  // copper's 0.00427 per degree, which holds at 0 degC, used from 20 degC
	Direction         Slip = "direction"         // corrected the wrong way
	LeadsKept         Slip = "leads_kept"        // the leads not taken off
	LeadsAdded        Slip = "leads_added"       // the leads added
	LoomKept          Slip = "loom_kept"         // the wiring up to the winding not taken off
	NotCorrected      Slip = "not_corrected"     // left at its own temperature
	Celsius           Slip = "ratio_of_celsius"  // in the ratio of the temperatures in degC
	KiloForOne        Slip = "kilo"              // a thousand times too much or too little
	OtherUnit         Slip = "other_unit"        // the number is right and the unit is not
	ForgotAdapter     Slip = "adapter_forgotten" // set to the torque itself
	ForgotAngle       Slip = "angle_forgotten"   // as if the adapter were straight
	AdapterInverted   Slip = "adapter_inverted"  // multiplied where it is divided
	InchForFoot       Slip = "inch_for_foot"     // inch-pounds for foot-pounds, or the other way round
	NotConverted      Slip = "not_converted"     // left in another unit than the one asked for
	DutyInverted      Slip = "duty_inverted"     // duty for 1 − duty
	SupplyItself      Slip = "supply_itself"     // as if it were on all the time
	NeverOn           Slip = "as_if_never_on"    // the supply itself where that shows while it is never on: on the low side
	DropForSupply     Slip = "drop_for_supply"   // the driver's drop for the supply
	DropForgotten     Slip = "drop_forgotten"    // without the driver's drop
	ColdWinding       Slip = "cold_winding"      // the resistance at 20 degC for the hot one
)

// A Miss is the value that a slip leads to, in the contract's unit.
type Miss struct {
	Slip  Slip
	Value float64
}

// A Line is one line of the solution: what, formula, the same with numbers (each "?" is the next figure), and the value.
type Line struct {
	What, Formula, With string
	Figures             []Figure
	Kind                quantity.Kind
	Value               float64
	Source              string
}

// A Border is a value that a verdict turns at: in units of what is compared, and how far the value has to stay away, as a share.
type Border struct{ Value, At, Apart float64 }

// A Task is what a student is given where a figure is asked for.
type Task struct {
	Question
	Facts []Fact
	Kind  quantity.Kind // of the value asked for
	Unit  string        // that the value is asked in
	Own   []string      // the units that the value may be in; nil for all of its kind
	Value float64       // in the contract's unit
	// Condition, Decision and Reason are the right ones of what can be chosen.
	Condition, Decision, Reason    string
	Conditions, Decisions, Reasons []string
	Misses                         []Miss
	Also                           []Miss // slips as they come out on another way: marked alike, and no reason to draw again
	Lines                          []Line
	Borders                        []Border
}

// Separations between what is right and what a slip leads to, as shares. A figure written to three or four digits is off by at most
// half a per cent, and by a fifth of one where it has more than its first digits.
const (
	apart = 0.0125 // a slip from the right value: more than the usual tolerance of 1 %
	known = 0.004  // within this of a slip's value, the slip is named
)

// Check reports whether a task can be set: every slip can be told from the right value and from the other slips, and no value is near a
// border. The draw goes on until it can.
func (t *Task) Check() bool {
	for i, m := range t.Misses {
		if near(m.Value, t.Value, apart) || near(m.Value, t.Value*1000, apart) || near(m.Value, t.Value/1000, apart) {
			return false
		}
		for _, other := range t.Misses[:i] {
			if near(m.Value, other.Value, 2*known) {
				return false
			}
		}
	}
	for _, b := range t.Borders {
		if near(b.Value, b.At, b.Apart) {
			return false
		}
	}
	return t.Value > 0
}

// near reports whether a value is within a share of another.
func near(value, of, share float64) bool { return math.Abs(value-of) <= share*math.Abs(of) }

// until draws tasks until one can be set.
func until(d draw, one func(d draw) (Task, bool)) Task {
	for range mostDraws {
		if t, ok := one(d); ok && t.Check() {
			return t
		}
	}
	panic("worksheet: nothing drawn can be set") // a test draws some thousands of each
}

// mostDraws is far more than any draw needs: most need fewer than ten.
const mostDraws = 100000

// rounded returns a/b as a whole number, half upwards; both are 0 or more.
func rounded(a, b int) int { return (2*a + b) / (2 * b) }
