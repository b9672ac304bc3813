// Package trace says what a recording of a winding's current shows: period, duty and averages of a pulsed drive, loop resistance
// and time constant from the ramp after turn-on, the dip that a moving plunger leaves in it, and what differs from expected.
//
// The loop is a supply, a resistance and an inductance. While the plunger is at rest or seated, the inductance is constant and
// the current is an exponential; both exponentials head for the same final current. While the plunger moves, the growing
// inductance holds the current back: that part is left out of the fit. What the package ignores: saturation and eddy
// currents of the iron, a supply that sags, the recorder's bandwidth.
package trace

// Expect is what is known of the circuit. Zero means unknown.
type Expect struct {
	Supply                           float64 // V, at the ends of the loop
	Resistance, ResistanceWithin     float64 // of the whole loop at its temperature, ohm; relative tolerance
	Inductance, InductanceWithin     float64 // H, of the plunger at rest; relative tolerance: compared where Supply is known
	TimeConstant, TimeConstantWithin float64 // s; relative tolerance: compared where Supply is unknown
	ClampWithin, SupplyWithin        float64 // half the width of the range of the clamp's and the voltmeter's errors, relative
	Moves                            bool    // a plunger should move in this recording
}

// A Reason says why there is no fit, or why the recording cannot show whether there is a dip.
type Reason uint8

const (
	NoReason    Reason = iota
	NoRamp             // the current never rises from rest or from a low
	TooCoarse          // too few samples on the ramp
	TooNoisy           // noise or the recorder's steps hide it
	TooShort           // the ramp ends too early: at the end of the recording, or because the drive switches off
	Interrupted        // the current breaks off during the ramp
	OtherShape         // the ramp is neither one exponential nor two with a motion between
	Limited            // the driver limits the current, so its level says nothing about the resistance
	ACCoupled          // recorder or probe lets no direct current through
	Clipped            // the recorder's or the probe's range is too small: the highest is cut off
)

// A Finding is what a recording shows.
type Finding struct {
	From, To      float64 // s: the averages are over this time: whole periods in the steady state, or the whole recording
	Average, RMS  float64 // A
	Max, Min      float64 // A, over the whole recording; a single sample that sticks out is cut to its neighbours
	Ripple        float64 // A, from least to most within a mean period; 0 for a single shot
	Offset        float64 // A, the clamp's zero error, taken off all figures and points; 0: none above noise
	Reversed      bool    // the clamp is the wrong way round: the signs of all figures and points are turned
	Noise         float64 // A, standard deviation of a sample, the recorder's steps included
	Step          float64 // A, the recorder's step; 0: none seen
	Period, Duty  float64 // s, and the share of it that the driver is on; 0 for a single shot. Duty is 0 if it changes, or has just begun
	Frequency     float64 // Hz
	Periods       int     // whole ones seen; 0: a single shot
	Fit           *Fit    // nil: there is none, see Why
	Why           Reason
	Dip           Dip
	Steps         []Sudden
	Differences   []Difference
	Unsure        []Difference // compared, and neither surely within its tolerance nor surely outside; Kind is the side on which it lies
	Points, Model []Point      // for a drawing: the recording, and the fitted curve where it holds
	building      bool         // a pulsed drive has just begun: hardly a period is steady
}

// A Point of a drawing, s and A.
type Point struct{ T, I float64 }

// A Fit is the ramp after turn-on as an exponential, or as two with the plunger's motion between.
//
//	at rest  i = offset + Final·(1 − exp(−(t − Start)/AtRest))
//	at stop  i = offset + Final − drop·exp(−(t − MotionTo)/AtStop)
//
// offset is the current before the start. Both are fitted at once by least squares and share Final. A time constant is the
// inductance, with the plunger where it then is, over the resistance of the whole loop. TimeConstant is AtRest; it is AtStop if
// AtRest is uncertain by more than 3 % and AtStop is less uncertain. If the recording starts with the ramp, or an earlier
// current may still be dying away, the offset is unknown and taken as zero. Fields that end in U are standard uncertainties:
// from the residuals, from how alike neighbouring ones are, from the recorder's steps, and from the errors of the clamp and of
// Supply. InductanceU also covers what iron and a plunger that creeps change it by along the ramp: by as much as its time
// constant changes from the first half of the part to the second it may be off either way.
// Checked in spice_test.go: resistance within 2 % and time constant within 5 % of the simulated ones; iron_test.go.
type Fit struct {
	Start                       float64 // of the ramp, between samples, s
	OffsetKnown                 bool    // the current before the start was seen, is small, and no earlier one: it is taken off Final
	Final, FinalU               float64 // where the ramp ends up, A
	Reached                     float64 // share of Final that the recording reaches
	TimeConstant, TimeConstantU float64 // s
	Seated                      bool    // TimeConstant is AtStop, not AtRest
	AtRest, AtRestU             float64 // time constant before the plunger moves; 0: uncertain by over 30 %
	AtStop, AtStopU             float64 // after it has arrived; 0: uncertain by over 30 %, or it did not move
	Resistance, ResistanceU     float64 // Supply / Final, ohm; 0: supply unknown
	Inductance, InductanceU     float64 // Resistance · TimeConstant, H
	Rest                        float64 // rms of the residuals, A
	From, To                    float64 // the part of the recording that was fitted, s
	MotionFrom, MotionTo        float64 // the part between that is left out; both 0: none
}

// A Verdict says whether the ramp has the dip of a moving plunger.
type Verdict uint8

const (
	CannotShow Verdict = iota // see Why
	No                        // none deeper than Smallest
	Yes                       // the current falls and rises again
	Kink                      // it rises more slowly for a while but never falls
)

// A Dip is what a moving plunger leaves in the ramp.
type Dip struct {
	Found    Verdict
	Why      Reason
	At       float64 // s, the time of the minimum or the kink: the plunger arrives
	Since    float64 // s, from the ramp's start to At
	Current  float64 // A, at At
	Depth    float64 // A, below the maximum before it; 0 for a kink
	Smallest float64 // A, the least depth that this recording would show
}

// A Sudden is a change of the current that neither drive nor plunger explains. During the rise, when a plunger moves, it is a change
// that is quicker than the winding allows; after the current has settled, any change of 3 % or more above noise; and a fall to
// a lower level that lasts, clearly above nothing. A fall to nothing is a switch-off.
type Sudden struct {
	At, Until float64 // s
	Change    float64 // A, negative for a fall
	Recovers  bool    // the current comes back
}

// A DifferenceKind is one way in which a recording differs from what is expected.
type DifferenceKind uint8

const (
	ResistanceHigh DifferenceKind = iota + 1 // the level is low
	ResistanceLow
	TimeConstantShort
	TimeConstantLong
	DipMissing
	StepsSeen
	InductanceLow
	InductanceHigh
)

// A Difference says what differs, with the figures compared.
type Difference struct {
	Kind            DifferenceKind
	Got, GotU, Want float64 // measured, and its standard uncertainty; expected
}
