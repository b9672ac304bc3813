// Package bank answers what all windings of one body say together: each against its specification, the odd one among alike, this unit
// beside another, insulation, and whether the whole bank is off by one factor.
//
// What a single winding says is core/winding's: this package asks it for each row and adds only what rows say of each other.
package bank

import (
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// Fewest is how many alike rows are needed before one of them can be called odd.
const Fewest = 3

// A Question is a bench sheet: the windings of one body, read in one run with one meter at one temperature.
type Question struct {
	Base      winding.Measurement // what all rows share: leads, temperature, meter, material; without a reading
	OtherBase winding.Measurement // the same for the second unit
	// OtherAsThis means that the second unit's temperature is this one's, known or not: they lie side by side.
	OtherAsThis bool
	Reference   quantity.Temperature
	Place       winding.Place
	Rows        []Row
	Pins        []Pin
	Common      bool // the windings share a feed: pin to pin reads two of them in series

	OtherTolerance quantity.Ratio      // how far a winding and the second unit's may differ
	AlikeWithin    quantity.Ratio      // how far alike windings may be from their median
	FalseAlarm     quantity.Ratio      // the most that a sheet without an odd one may be said to have one
	Insulation     quantity.Resistance // the least from a pin to the case, or to a pin it shares nothing with
}

// A Row is one winding. A reading that was not taken is nil.
type Row struct {
	Reading *measure.Reading
	Other   *measure.Reading // the second unit's
	ToCase  *measure.Reading
	Spec    *winding.Row // nil for none
}

// A Pin is a reading between the pins of two windings.
type Pin struct {
	From, To int // rows; −1 where Common is false and the pins are no rows
	Reading  measure.Reading
}

// A Finding is what the sheet says.
type Finding struct {
	Rows    []Judged // in the order of the question's
	Pins    []Joined
	Shared  *Shared // nil where the bank is not off as a whole
	Overall Overall
	Count   int // of the rows and pins that Overall is about
}

// An Overall is the verdict of the whole sheet: the first of these that holds.
type Overall string

// The verdicts, worst first.
const (
	Out         Overall = "out"          // windings outside their specification that nothing common explains
	Leak        Overall = "leak"         // insulation, or a pair of pins
	OffTogether Overall = "off_together" // all off by one factor: the temperature, the meter or the specification, not the windings
	Odd         Overall = "odd"          // one is unlike the others
	Unlike      Overall = "unlike"       // alike windings that are not alike, and which is odd cannot be told
	Differs     Overall = "differs"      // no specification, and unlike the second unit
	Undecided   Overall = "undecided"
	NotRead     Overall = "not_read"
	NoSpec      Overall = "no_specification"
	Plausible   Overall = "plausible" // all of them
)

// A Judged is what the sheet says of one winding.
type Judged struct {
	Read       bool
	Winding    winding.Finding
	Comparison *winding.Compared // with the second unit; nil for none
	Other      *winding.Finding  // the second unit's winding; nil if not read
	Alike      *Alike            // nil where there are too few alike rows with values
	ToCase     Insulated         // "" if not read
	Explained  bool              // outside its specification by the factor that the whole bank is off by
}

// An Alike is a winding beside the median of those with the same specification.
type Alike struct {
	Ratio   measure.Estimate // to the median
	P       float64          // the most that a ratio so far out has of being by chance anywhere on the sheet
	Verdict Likeness
	Of      int // how many rows were compared
}

// A Likeness is the verdict on a winding among alike ones.
type Likeness string

// The verdicts on a winding among alike ones.
const (
	LikeAlike    Likeness = "alike" // within the tolerance, at 95 % or more
	LikeOdd      Likeness = "odd"
	LikeUnsure   Likeness = "undecided"
	LikeDisagree Likeness = "disagree" // half of the rows or more are far from the median: which is odd cannot be told
)

// An Insulated is the verdict on a path that should not be there.
type Insulated string

// The verdicts on insulation.
const (
	InsulationPlausible Insulated = "plausible"
	InsulationLeaks     Insulated = "leak"
	InsulationUnsure    Insulated = "undecided"
)

// A Joined is what a reading between two pins says.
type Joined struct {
	Ratio   *measure.Estimate // to the sum of the two windings; nil where there is no such sum
	Verdict Pair
}

// A Pair is the verdict on a reading between two pins.
type Pair string

// The verdicts on a reading between two pins.
const (
	PairPlausible Pair = "plausible"
	PairLeak      Pair = "leak" // a path where none should be
	PairLow       Pair = "low"  // less than the two windings have: a bridge between them
	PairHigh      Pair = "high" // more: resistance in what they share
	PairOpen      Pair = "open"
	PairUnsure    Pair = "undecided"
)

// A Shared is one factor that the whole bank is off by.
type Shared struct {
	Factor measure.Estimate // of the winding in the middle, to the middle of its specification
	Side   measure.Verdict  // Below or Above
	Rows   int              // how many windings have it
	// FitsAt is the temperature at which a winding in the middle of its specification would read this, in degC.
	FitsAt measure.Estimate
	Second Second
}

// A Second says what the second unit, read with the same meter, tells of such a factor.
type Second string

// What the second unit tells.
const (
	SecondSilent Second = "none" // not read, or neither of these
	SecondFits   Second = "fits" // within specification: the meter, the leads and the rows are as they should be
	SecondToo    Second = "too"  // off to the same side
)
