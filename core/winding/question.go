package winding

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// A Place is where a reading was taken.
type Place string

// The places.
const (
	AtWinding            Place = "winding"
	AtComponentConnector Place = "component_connector"
	AtControlUnit        Place = "control_unit"
)

// A Question is a reading, and what the reader wants to know about it.
type Question struct {
	Measurement
	Place       Place
	LoomGiven   bool
	WithinGiven bool // LoomWithin is given
	Reference   quantity.Temperature
	Rows        []Row
	Good        *Good            // nil if there is none
	Supply      quantity.Voltage // 0: do not work out the current
	Limit       quantity.Current // highest current of the driver; 0 if not known
}

// A Good is a known good part, measured with the same meter.
type Good struct {
	Measurement
	Tolerance quantity.Ratio // how far two good parts may differ
}

// A Finding is what a reading says about the winding.
type Finding struct {
	Open        bool             // the meter showed OL: nothing is calculated from the value
	Winding     measure.Estimate // one winding at its own temperature, in ohm
	AtReference measure.Estimate
	Rows        []Judged
	Overall     Overall
	Doubts      []Doubt // reasons to doubt the number itself
	Disagree    bool    // rows have different verdicts
	Undecided   *Undecided
	Comparison  *Compared
	Driver      *Driver
}

// A Judged is a row and what the reading says about it.
type Judged struct {
	Row
	Judgement
	HealthyAt *measure.Estimate // °C: the temperature at which a winding in the middle of the row would give this reading
	Lost      *Lost
	Misleads  bool // within the row after correction, but not before it: ignoring the temperature would have misled
}

// A Lost is the share of turns that must be lost to explain a reading that is too low.
type Lost struct {
	Min quantity.Ratio
	Max *quantity.Ratio // nil if the row has no upper limit
}

// An Overall is the verdict of all rows together.
type Overall string

// The verdicts that a single row cannot have.
const (
	OverallOpen     Overall = "open"
	Shorted         Overall = "shorted" // hardly any resistance is left
	RowsDisagree    Overall = "rows_disagree"
	NoSpecification Overall = "no_specification"
)

// A Doubt is a reason for caution about the number, which the reader is told.
type Doubt string

// The doubts, in the order in which they are told.
const (
	ReadsOpen      Doubt = "open"
	OpenSomewhere  Doubt = "open_where" // in the winding or on the way to it
	AlikeSeries    Doubt = "alike_series"
	AlikeParallel  Doubt = "alike_parallel"
	LoomMissing    Doubt = "loom_missing"
	LoomExact      Doubt = "loom_exact"
	LeadsMissing   Doubt = "leads_missing"
	StraightLine   Doubt = "straight_line" // the formula for resistance over temperature does not hold this far from room temperature
	NextToNothing  Doubt = "near_zero"
	GoodIsOpen     Doubt = "good_is_open"
	LeadsOnce      Doubt = "leads_once" // given for only one of the two readings
	GoodTogether   Doubt = "good_arrangement"
	GoodBehindLoom Doubt = "good_loom"
)

// An Undecided names the largest uncertainty for the first undecided row: reducing that one helps most.
type Undecided struct {
	Row int
	Contribution
}

// A Compared is the comparison with a known good part.
type Compared struct {
	Comparison
	HasRatio bool    // neither reading is OL
	Doubts   []Doubt // about the comparison
}

// A Driver says what the winding draws from a control unit.
type Driver struct {
	Current *measure.Estimate // ampere; nil if the winding has hardly any resistance
	Within  Allowed           // "" if no limit is known
	Cold    quantity.Current  // the current of a cold winding, if it may exceed a limit that is kept now; else 0
}

// An Allowed says whether the winding may be connected to a control unit.
type Allowed string

// The answers.
const (
	Yes           Allowed = "yes"
	No            Allowed = "no"
	AllowedUnsure Allowed = "undecided"
)

// Find works out what the reading says.
func (q Question) Find() Finding {
	f := Finding{Open: q.Reading.Over}
	if f.Open {
		f.Doubts = append(f.Doubts, ReadsOpen)
		if q.Place != AtWinding || q.Arrangement != (Arrangement{}) {
			f.Doubts = append(f.Doubts, OpenSomewhere)
		}
	} else {
		f.Winding, f.AtReference = q.Winding(), q.Corrected(q.Reference)
		f.Doubts = q.doubts(f.Winding)
	}
	q.judge(&f)
	f.Overall = f.overall()
	f.Comparison = q.compare()
	if q.Supply > 0 && !f.Open {
		f.Driver = q.driver(f.Winding)
	}
	return f
}

// doubts returns the reasons to doubt the number.
func (q Question) doubts(w measure.Estimate) (doubts []Doubt) {
	note := func(is bool, d Doubt) {
		if is {
			doubts = append(doubts, d)
		}
	}
	note(q.Arrangement.Series > 1, AlikeSeries)
	note(q.Arrangement.Parallel > 1 && q.Arrangement.Series <= 1, AlikeParallel)
	note(q.Place == AtControlUnit && !q.LoomGiven, LoomMissing)
	note(q.Loom != 0 && !q.WithinGiven, LoomExact)
	note(!q.LeadsGiven && q.Reading.Ohms < 20, LeadsMissing)
	note(q.At < -100 || q.At > 200, StraightLine)
	note(w.Value <= 2*w.U, NextToNothing)
	return doubts
}

// judge compares the reading with every row.
func (q Question) judge(f *Finding) {
	for i, row := range q.Rows {
		if f.Open {
			f.Rows = append(f.Rows, Judged{Row: row, Judgement: Judgement{BandNow: q.BandNow(row), Verdict: measure.Above}})
			continue
		}
		j := Judged{Row: row, Judgement: q.Judge(row)}
		if !j.Outside && j.Verdict == measure.Undecided && f.Undecided == nil {
			f.Undecided = &Undecided{Row: i, Contribution: q.largest(row.Span != nil)}
		}
		if row.Nominal > 0 && row.Span == nil {
			h := q.HealthyAt(row)
			j.HealthyAt = &h
		}
		j.Lost = lostTurns(j.Judgement, row)
		j.Misleads = row.Span == nil && j.Verdict == measure.Within && math.Abs(float64(q.At-row.At)) > 5 &&
			measure.Conform(f.Winding, row.Band).Verdict() != measure.Within
		f.Rows = append(f.Rows, j)
	}
	f.Disagree = disagree(f.Rows)
}

// largest returns the largest contribution to the uncertainty. For a row that spans temperatures, the temperature contributes nothing.
func (q Question) largest(spans bool) (most Contribution) {
	for _, c := range q.Budget(q.At) {
		if c.U > most.U && !(spans && c.Of == ShareTemperature) {
			most = c
		}
	}
	return most
}

// lostTurns returns the share of lost turns that would explain a reading below the row; nil if it is not below.
func lostTurns(j Judgement, row Row) *Lost {
	if !row.Band.HasMin() || j.Outside || j.Corrected.Value >= row.Band.Min {
		return nil
	}
	now := quantity.Resistance(j.Corrected.Value)
	out := &Lost{Min: LostTurns(now, quantity.Resistance(row.Band.Min))}
	if row.Band.HasMax() {
		most := LostTurns(now, quantity.Resistance(row.Band.Max))
		out.Max = &most
	}
	return out
}

// disagree reports whether two rows have different verdicts; undecided rows are ignored.
func disagree(rows []Judged) bool {
	decided := measure.Undecided
	for _, r := range rows {
		switch {
		case r.Verdict == measure.Undecided:
		case decided == measure.Undecided:
			decided = r.Verdict
		case decided != r.Verdict:
			return true
		}
	}
	return false
}

// overall returns the verdict of all rows together. It ignores rows that are not valid at the winding's temperature.
func (f Finding) overall() Overall {
	if f.Open {
		return OverallOpen
	}
	word := f.ofRows()
	for _, d := range f.Doubts {
		if d == NextToNothing && word != Overall(measure.Below) && word != RowsDisagree {
			return Shorted
		}
	}
	return word
}

func (f Finding) ofRows() Overall {
	switch {
	case len(f.Rows) == 0:
		return NoSpecification
	case f.Disagree:
		return RowsDisagree
	}
	word := measure.Verdict("")
	for _, r := range f.Rows {
		if !r.Outside && word != measure.Undecided {
			word = r.Verdict
		}
	}
	if word == "" {
		word = measure.Undecided
	}
	return Overall(word)
}

// compare compares the winding with the known good one. It returns nil if there is none.
func (q Question) compare() *Compared {
	switch {
	case q.Good == nil:
		return nil
	case q.Good.Reading.Over:
		return &Compared{Comparison: Comparison{Verdict: Unsure}, Doubts: []Doubt{GoodIsOpen}}
	case q.Reading.Over:
		return &Compared{Comparison: Comparison{Verdict: Differs}}
	}
	c := &Compared{Comparison: Compare(q.Measurement, q.Good.Measurement, q.Good.Tolerance), HasRatio: true}
	if q.LeadsGiven != q.Good.LeadsGiven {
		c.Doubts = append(c.Doubts, LeadsOnce)
	}
	if q.Arrangement != (Arrangement{}) {
		c.Doubts = append(c.Doubts, GoodTogether)
	}
	if q.Loom != 0 {
		c.Doubts = append(c.Doubts, GoodBehindLoom)
	}
	return c
}

// Coldest is the temperature at which a winding must still be safe, in °C: a cold start by the low codes of ISO 16750-4 (from memory).
const Coldest = -40

// LeastAbove is how far, in kelvin, a temperature must be above the zero-resistance point, since the formula divides by the distance.
const LeastAbove = 1e-3

// nothing is a resistance, in ohm, below which a calculated current means nothing.
const nothing = 1e-12

// driver returns the winding's current, and whether a control unit withstands it: now, and cold, when the current is higher.
func (q Question) driver(w measure.Estimate) *Driver {
	d := &Driver{}
	if w.Value > 2*w.U && w.Value > nothing {
		i := float64(q.Supply) / w.Value
		d.Current = &measure.Estimate{Value: i, U: i / w.Value * w.U}
	}
	if q.Limit == 0 {
		return d
	}
	switch q.allowed(w) {
	case measure.Below:
		d.Within = No
	case measure.Undecided:
		d.Within = AllowedUnsure
	default:
		d.Within = Yes
		cold := q.Corrected(Coldest)
		if q.At > Coldest && q.Material.ZeroResistanceAt < Coldest-10 && q.allowed(cold) != measure.Within {
			d.Cold = quantity.Current(float64(q.Supply) / cold.Value)
		}
	}
	return d
}

// allowed compares a resistance with the lowest that the driver withstands.
func (q Question) allowed(w measure.Estimate) measure.Verdict {
	return ResistanceDoubt(w, q.Supply, q.Limit).Verdict()
}

// Middle returns the middle of a band. ok is false if the band has no finite middle that a winding could have.
func Middle(b measure.Band) (middle float64, ok bool) {
	middle = (b.Min + b.Max) / 2
	return middle, !math.IsNaN(middle) && !math.IsInf(middle, 0) && middle > nothing
}
