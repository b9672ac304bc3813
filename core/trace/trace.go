// Package trace says what a recording of a winding's current shows: period, duty and averages of a pulsed
// drive, loop resistance and time constant from a turn-on ramp, the dip that a moving plunger leaves in it, and what differs
// from expected.
//
// The loop is a supply, a resistance and an inductance. While the plunger rests or is seated the inductance is constant and
// the current is an exponential; both exponentials aim at the same final current. While the plunger moves, the growing
// inductance holds the current back: that part is left out of the fit. What the package ignores: saturation and eddy
// currents of the iron, a supply that sags, the recorder's bandwidth.
package trace

// Expect is what is known of the circuit. Zero means unknown.
type Expect struct {
	Supply                           float64 // V, at the ends of the loop
	Resistance, ResistanceWithin     float64 // of the whole loop at its temperature, ohm; relative tolerance
	Inductance, InductanceWithin     float64 // H, of the plunger at rest; relative tolerance: compared where Supply is known
	TimeConstant, TimeConstantWithin float64 // s; relative tolerance: compared where Supply is unknown
	Moves                            bool    // a plunger should move in this recording
}

// A Reason says why there is no fit, or why a recording cannot show a dip.
type Reason uint8

const (
	NoReason    Reason = iota
	NoRamp             // the current never rises from rest or from a low
	TooCoarse          // too few samples on the ramp
	TooNoisy           // noise or the recorder's steps hide it
	TooShort           // the ramp is cut off too early: by the end of the recording or by the drive
	Interrupted        // the current breaks off within the ramp
	OtherShape         // the ramp is no exponential, nor two with a motion between
	Limited            // the ramp heads for more than the driver lets through: its level says nothing of the resistance
)

// A Finding is what a recording shows.
type Finding struct {
	From, To      float64 // the time that averages are over, s: whole periods in the steady state, or the whole recording
	Average, RMS  float64 // A
	Max, Min      float64 // A, over the whole recording; a lone sample that sticks out is cut to its neighbours
	Ripple        float64 // A, from least to most within a mean period; 0 of a single shot
	Offset        float64 // A, the clamp's zero error, seen before switch-on; 0: none above noise. All figures and points are without it
	Reversed      bool    // the current flows backwards: the clamp is the wrong way round; all figures and points are turned
	Noise         float64 // A, standard deviation of a sample, the recorder's steps included
	Step          float64 // A, the recorder's step; 0: none seen
	Period, Duty  float64 // s, and share of the period that the driver is on; 0 of a single shot. Duty is 0 too where it changes
	Frequency     float64 // Hz
	Periods       int     // whole ones seen; 0: a single shot
	Fit           *Fit    // nil: none, for Why
	Why           Reason
	Dip           Dip
	Steps         []Sudden
	Differences   []Difference
	Points, Model []Point // for a drawing: the recording, and the fitted model where it holds
}

// A Point is one of a drawing, s and A.
type Point struct{ T, I float64 }

// A Fit is a turn-on ramp as an exponential, or as two with the plunger's motion between.
//
//	at rest  i = Offset + Final·(1 − exp(−(t − Start)/AtRest))
//	at stop  i = Offset + Final − drop·exp(−(t − MotionTo)/AtStop)
//
// by least squares over both at once, which share Final. A time constant is inductance over the resistance of the whole loop,
// of the plunger where it then is. TimeConstant is that at rest, or at the stop where the part before the motion tells it to
// no better than 3 % and the part after it does better. Where a recording shows nothing before the ramp, its offset is unknown
// and taken for none. A U is a standard uncertainty, from the residuals, how long they stay alike, and the recorder's steps;
// it ignores the error of the recorder's scale and of Supply.
// Checked in spice_test.go: resistance within 2 % and time constant within 5 % of the simulated ones.
type Fit struct {
	Start                float64 // of the ramp, between samples, s
	Offset, OffsetU      float64 // the current shown before the start: taken off Final where OffsetKnown
	OffsetKnown          bool    // the current before was seen, and is small
	Final, FinalU        float64 // where the ramp ends up, A
	Reached              float64 // share of Final that the recording reaches
	TimeConstant         float64 // s: of the plunger at rest, or of the seated one where Seated
	TimeConstantU        float64
	Seated               bool
	AtRest, AtRestU      float64 // time constant before the plunger moves; 0: cannot be had to 30 %
	AtStop, AtStopU      float64 // after it arrived; 0: cannot be had to 30 %, or it did not move
	Resistance           float64 // Supply / Final, ohm; 0: supply unknown
	ResistanceU          float64
	Inductance           float64 // Resistance · TimeConstant, H
	InductanceU          float64
	Rest                 float64 // rms of what the model leaves, A
	From, To             float64 // the part of the recording that was fitted, s
	MotionFrom, MotionTo float64 // left out between; both 0: nothing
}

// A Verdict says whether a turn-on ramp has the dip of a moving plunger.
type Verdict uint8

const (
	CannotShow Verdict = iota // for Why
	No                        // none deeper than Smallest
	Yes                       // the current falls and rises again
	Kink                      // it only rises more slowly for a while: a motion without a fall
)

// A Dip is the mark of a moving plunger in a turn-on ramp.
type Dip struct {
	Found    Verdict
	Why      Reason
	At       float64 // s, the time of the minimum, or of the kink: the plunger arrives
	Since    float64 // s, At from the ramp's start
	Current  float64 // A, then
	Depth    float64 // A, below the maximum before it; 0 of a kink
	Smallest float64 // A, the depth from which on this recording would have shown one
}

// A Sudden is a change of the current that neither drive nor plunger explains: quicker than the winding allows within the
// rise, or any of 3 % or more that stands out of noise after the current has settled. A plunger's motion belongs to the rise.
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

// A Difference is one, with the figures it rests on.
type Difference struct {
	Kind      DifferenceKind
	Got, GotU float64
	Want      float64
	Within    float64 // relative
}
