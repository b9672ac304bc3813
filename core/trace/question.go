package trace

import (
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/recording"
	"ohmwright/core/winding"
)

// A Question is a recording, and what is known about the circuit and the instruments. Zero means not known.
type Question struct {
	Recording recording.Recording

	Supply         quantity.Voltage    // at the ends of the loop
	Winding        quantity.Resistance // expected at the temperature At
	At, Now        quantity.Temperature
	NowGiven       bool // Now, the winding's temperature during the recording, is given, not taken from At
	Material       winding.Material
	Wiring, Driver quantity.Resistance // the rest of the loop
	Inductance     quantity.Inductance // expected with the plunger at rest
	Moves          bool                // a plunger should move in this recording

	// How far loop and inductance may be from what is expected, and half the width of the range of the clamp's and the voltmeter's errors.
	ResistanceWithin, InductanceWithin, ClampWithin, SupplyWithin quantity.Ratio
}

// A Judged is a finding and what it means for the reader.
type Judged struct {
	Finding
	Expected Expect
	Overall  Overall
	DipSaid  DipSaid
	Winding  quantity.Resistance // the winding's resistance during the recording; 0 without a fit or a supply
	Doubts   []Doubt
}

// An Overall is the verdict: the code of the first difference, or one of these.
type Overall string

// The verdicts if nothing differs.
const (
	AsExpected    Overall = "as_expected"
	CannotCompare Overall = "cannot_compare" // a resistance is expected, but no fit gives one
	OnlyRead      Overall = "read"           // there is nothing to compare with
	Undecided     Overall = "undecided"      // of something compared it is not sure whether it is within its tolerance
)

// A DipSaid says whether the dip was found. It tells two kinds of no apart.
type DipSaid string

// The verdicts on the dip.
const (
	DipYes        DipSaid = "yes"
	DipKink       DipSaid = "kink"
	DipNo         DipSaid = "no"   // none deeper than Dip.Smallest, the smallest that would have been seen
	DipNone       DipSaid = "none" // none at all
	DipCannotShow DipSaid = "cannot_show"
)

// A Doubt is something that the reader must know about the answer.
type Doubt string

// The doubts, in the order in which they are told.
const (
	TimeUnitAssumed    Doubt = "time_assumed"
	CurrentUnitAssumed Doubt = "current_assumed"
	InMilliamperes     Doubt = "in_milliamperes" // the unit is assumed, and the current would be more than a solenoid takes
	SamplesMissing     Doubt = "missing"
	DutyChanges        Doubt = "duty_changes"
	ZeroError          Doubt = "zero_error" // the clamp's zero was off, and has been corrected
	ClampReversed      Doubt = "reversed"
	NoSupply           Doubt = "no_supply" // without the supply there is no resistance
	OffsetUnknown      Doubt = "offset"    // the recording does not show the current before switch-on
	TemperatureAssumed Doubt = "temperature_assumed"
	CoarsePeriods      Doubt = "coarse"     // few samples in a period
	NoDirectCurrent    Doubt = "ac_coupled" // through the recorder or its probe: averages and level are not the current's
	CutOff             Doubt = "clipped"    // the highest is not the current's
)

const (
	unlikely      = 100 // ampere; no solenoid takes as much
	enoughSamples = 20  // samples per period that are needed for ripple and duty
)

// Code returns the name that the contract gives a kind of difference.
func (k DifferenceKind) Code() string {
	return [...]string{
		ResistanceHigh: "resistance_high", ResistanceLow: "resistance_low", TimeConstantShort: "time_constant_short",
		TimeConstantLong: "time_constant_long", DipMissing: "dip_missing", StepsSeen: "steps", InductanceLow: "inductance_low",
		InductanceHigh: "inductance_high",
	}[k]
}

// Code returns the name that the contract gives a reason; "" for none.
func (r Reason) Code() string {
	return [...]string{
		NoReason: "", NoRamp: "no_ramp", TooCoarse: "too_coarse", TooNoisy: "too_noisy", TooShort: "too_short",
		Interrupted: "interrupted", OtherShape: "other_shape", Limited: "limited", ACCoupled: "ac_coupled", Clipped: "clipped",
	}[r]
}

// Code returns the name that the contract gives a verdict on the dip.
func (v Verdict) Code() string {
	return [...]string{CannotShow: "cannot_show", No: "no", Yes: "yes", Kink: "kink"}[v]
}

// Find works out what the recording shows.
func (q Question) Find() Judged {
	e := q.expect()
	f := Judged{Finding: Find(q.Recording.Samples, e), Expected: e}
	if f.Fit != nil {
		f.Fit.Start = measure.GrainOf(f.To - f.From).Of(f.Fit.Start)
		if q.Supply > 0 {
			f.Winding = quantity.Resistance(f.Fit.Resistance) - q.Wiring - q.Driver
		}
	}
	f.Overall = q.overall(f)
	f.DipSaid = f.Dip.said()
	f.Doubts = q.doubts(f)
	return f
}

// expect returns what the recording is compared with.
func (q Question) expect() Expect {
	e := Expect{
		Supply: float64(q.Supply), ClampWithin: float64(q.ClampWithin), SupplyWithin: float64(q.SupplyWithin), Moves: q.Moves,
	}
	if q.Winding == 0 {
		return e
	}
	e.Resistance = float64(q.Winding)*q.Material.Factor(q.At, q.Now) + float64(q.Wiring) + float64(q.Driver)
	e.ResistanceWithin = float64(q.ResistanceWithin)
	if q.Inductance > 0 {
		e.Inductance, e.InductanceWithin = float64(q.Inductance), float64(q.InductanceWithin)
		e.TimeConstant, e.TimeConstantWithin = e.Inductance/e.Resistance, e.InductanceWithin
	}
	return e
}

// overall returns the first difference. If there is none, it says that nothing differs, or why that is not sure.
func (q Question) overall(f Judged) Overall {
	switch {
	case len(f.Differences) > 0:
		return Overall(f.Differences[0].Kind.Code())
	case len(f.Unsure) > 0:
		return Undecided
	case q.Winding > 0 && q.Supply > 0 && f.Fit != nil:
		return AsExpected
	case q.Winding > 0 && f.Fit == nil:
		return CannotCompare
	}
	return OnlyRead
}

func (d Dip) said() DipSaid {
	if d.Found == No && d.Smallest == 0 {
		return DipNone
	}
	return DipSaid(d.Found.Code())
}

// doubts returns what the reader must know.
func (q Question) doubts(f Judged) (doubts []Doubt) {
	note := func(is bool, d Doubt) {
		if is {
			doubts = append(doubts, d)
		}
	}
	r := q.Recording
	note(r.TimeAssumed, TimeUnitAssumed)
	note(r.CurrentAssumed, CurrentUnitAssumed)
	note(r.CurrentAssumed && f.Max > unlikely, InMilliamperes)
	note(r.Missing > 0, SamplesMissing)
	note(f.Periods > 0 && f.Duty == 0 && !f.building, DutyChanges)
	note(f.Offset != 0, ZeroError)
	note(f.Reversed, ClampReversed)
	note(f.Fit != nil && q.Supply == 0, NoSupply)
	note(f.Fit != nil && !f.Fit.OffsetKnown, OffsetUnknown)
	note(q.Winding > 0 && !q.NowGiven, TemperatureAssumed)
	note(f.Why == ACCoupled, NoDirectCurrent)
	note(f.Why == Clipped, CutOff)
	note(f.Periods > 0 && f.Period < enoughSamples*r.Interval, CoarsePeriods)
	return doubts
}
