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
	LoomWire    *Wire // the loom is worked out from its wire, without contacts; nil where it was read
	WithinGiven bool  // LoomWithin is given
	Reference   quantity.Temperature
	Rows        []Row
	Good        *Good            // a known good part; nil for none
	Cold        *Cold            // the same winding read cold; nil for none
	Supply      quantity.Voltage // 0: the current is not asked for
	Limit       quantity.Current // of the driver; 0: not known
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
	Doubts      []Doubt // what makes the number itself doubtful
	Disagree    bool    // rows decide differently
	Settled     *Settled
	Undecided   *Undecided
	Comparison  *Compared
	Warmed      *Warmed
	Driver      *Driver
}

// A Judged is a row and what the reading says about it.
type Judged struct {
	Row
	Judgement
	HealthyAt *measure.Estimate // °C: the temperature at which a winding in the middle of the row would give this reading
	Lost      *Lost
	Misleads  bool // plausible once corrected, and not so without: the temperature would have misled
	OneOpen   bool // of windings in parallel, one that is open would explain the reading
}

// A Settled says which of several rows applies, and by what that is known.
type Settled struct {
	Row int
	By  Settler
}

// A Settler is what settles which row applies.
type Settler string

// ByKnownGood means that a known good part fits that row and none of the others.
const ByKnownGood Settler = "known_good"

// A Lost is the share of turns that would have to be lost for a low reading.
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
	AnyTemperature Doubt = "temperature_unknown"
	LoomOfWire     Doubt = "loom_of_wire"  // worked out, without its contacts
	OneIsOpen      Doubt = "one_open"      // of windings in parallel
	StraightLine   Doubt = "straight_line" // the law of resistance over temperature does not hold so far out
	NextToNothing  Doubt = "near_zero"
	GoodIsOpen     Doubt = "good_is_open"
	LeadsOnce      Doubt = "leads_once" // given for only one of the two readings
	GoodTogether   Doubt = "good_arrangement"
	GoodBehindLoom Doubt = "good_loom"
	ColdIsOpen     Doubt = "cold_is_open"
	ColdTooNear    Doubt = "cold_near" // the two temperatures of one winding are too near to each other
)

// An Undecided names the largest uncertainty for the first undecided row: reducing that one helps most.
type Undecided struct {
	Row int
	Contribution
}

// A Compared is the comparison with a known good part.
type Compared struct {
	Comparison
	HasRatio bool    // both have a value
	OneOpen  bool    // of windings in parallel, one that is open would explain the difference
	Doubts   []Doubt // about the comparison
}

// A Driver says what the winding draws from a control unit.
type Driver struct {
	Current *measure.Estimate // in ampere; nil where the winding is next to nothing
	Within  Allowed           // "" where no limit is known
	Cold    quantity.Current  // where it is within the limit now and may not be when cold: the current then, at most; else 0
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
	f := q.verdicts()
	if !f.Open {
		f.Doubts = q.doubts(f)
	}
	if q.Cold != nil && !f.Open {
		w := Warm(q.Measurement, *q.Cold)
		f.Warmed = &w
	}
	return f
}

// verdicts finds all that is decided.
func (q Question) verdicts() Finding {
	f := Finding{Open: q.Reading.Over}
	if f.Open {
		f.Doubts = append(f.Doubts, ReadsOpen)
		if q.Place != AtWinding || q.Arrangement != (Arrangement{}) {
			f.Doubts = append(f.Doubts, OpenSomewhere)
		}
	} else {
		f.Winding, f.AtReference = q.Winding(), q.Corrected(q.Reference)
	}
	q.judge(&f)
	f.Comparison = q.compare()
	f.Settled = q.settle()
	f.Overall = f.overall()
	if q.Supply > 0 && !f.Open {
		f.Driver = q.driver(f.Winding)
	}
	return f
}

// doubts are what makes the number doubtful.
func (q Question) doubts(f Finding) (doubts []Doubt) {
	note := func(is bool, d Doubt) {
		if is {
			doubts = append(doubts, d)
		}
	}
	note(q.Arrangement.Series > 1, AlikeSeries)
	note(q.inParallel(), AlikeParallel)
	note(q.oneOpen(f), OneIsOpen)
	note(q.Place == AtControlUnit && !q.LoomGiven && q.LoomWire == nil, LoomMissing)
	note(q.LoomWire != nil, LoomOfWire)
	note(q.Loom != 0 && !q.WithinGiven && q.LoomWire == nil, LoomExact)
	note(q.leadsMatter(f), LeadsMissing)
	note(q.AtUnknown, AnyTemperature)
	note(q.At < -100 || q.At > 200, StraightLine)
	note(f.nothing(), NextToNothing)
	return doubts
}

// nothing reports whether next to nothing is left of the winding.
func (f Finding) nothing() bool { return !f.Open && f.Winding.Value <= 2*f.Winding.U }

// commonLeads are what meter leads commonly read, in ohm, at most. Source: contract, winding.
const commonLeads = 0.5

// leadsMatter reports whether leads that were left out could change a verdict: of a row, of all, beside the known good part or on
// the driver. Anything up to what leads commonly read is tried.
func (q Question) leadsMatter(f Finding) bool {
	if q.LeadsGiven {
		return false
	}
	const tries = 5
	for i := 1; i <= tries; i++ {
		off := quantity.Resistance(commonLeads * float64(i) / tries)
		with := q
		with.Leads = min(off, q.Reading.Ohms-q.Loom)
		if g := q.Good; g != nil && !g.Reading.Over && !g.LeadsGiven {
			good := *g
			good.Leads = min(off, g.Reading.Ohms/2)
			with.Good = &good
		}
		if !sameVerdicts(f, with.verdicts()) {
			return true
		}
	}
	return false
}

// sameVerdicts reports whether two findings on the same question decide alike.
func sameVerdicts(a, b Finding) bool {
	if a.Overall != b.Overall {
		return false
	}
	for i := range a.Rows {
		if a.Rows[i].Verdict != b.Rows[i].Verdict {
			return false
		}
	}
	if a.Comparison != nil && a.Comparison.Verdict != b.Comparison.Verdict {
		return false
	}
	return a.Driver == nil || a.Driver.Within == b.Driver.Within
}

// oneOpen reports whether one of the windings in parallel that is open would explain a reading: too high for a row that applies, or
// beside the known good part.
func (q Question) oneOpen(f Finding) bool {
	if c := f.Comparison; c != nil && c.OneOpen {
		return true
	}
	for _, r := range f.Rows {
		if r.OneOpen {
			return true
		}
	}
	return false
}

// inParallel reports whether several windings in parallel were read at once.
func (q Question) inParallel() bool { return q.Arrangement.Parallel > 1 && q.Arrangement.Series <= 1 }

// lessOne is the measurement as it would be if one of the windings in parallel were open: the value worked out for each of them is
// then n/(n − 1) times too high.
func (q Question) lessOne() Measurement {
	m := q.Measurement
	m.Arrangement.Parallel--
	return m
}

// settle finds out which of several rows applies: the one that the known good part fits, where it fits none of the others. Nil where
// that is not known.
func (q Question) settle() *Settled {
	if len(q.Rows) < 2 || q.Good == nil || q.Good.Reading.Over {
		return nil
	}
	fits := -1
	for i, row := range q.Rows {
		switch q.Good.Judge(row).Verdict {
		case measure.Undecided:
			return nil
		case measure.Within:
			if fits >= 0 {
				return nil
			}
			fits = i
		}
	}
	if fits < 0 {
		return nil
	}
	return &Settled{fits, ByKnownGood}
}

// judge weighs the reading against every row.
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
		j.Lost = q.lostTurns(j.Judgement, row)
		j.OneOpen = q.inParallel() && j.Verdict == measure.Above && q.lessOne().plausible(row)
		j.Misleads = row.Span == nil && !q.AtUnknown && j.Verdict == measure.Within && math.Abs(float64(q.At-row.At)) > 5 &&
			measure.Conform(f.Winding, row.Band).Verdict() != measure.Within
		f.Rows = append(f.Rows, j)
	}
	f.Disagree = disagree(f.Rows)
}

// plausible reports whether a row is not ruled out.
func (m Measurement) plausible(row Row) bool {
	j := m.Judge(row)
	return !j.Outside && j.Chance.Within >= 1-measure.Sure
}

// largest is the largest contribution to the doubt. A row that spans temperatures has none of the temperature's.
func (q Question) largest(spans bool) (most Contribution) {
	for _, c := range q.Budget(q.At) {
		if c.U > most.U && !(spans && c.Of == ShareTemperature) {
			most = c
		}
	}
	return most
}

// lostTurns is the share of turns lost that would explain a reading below the row, over all that the winding's temperature may be;
// nil where it is not below.
func (q Question) lostTurns(j Judgement, row Row) *Lost {
	if !row.Band.HasMin() || j.Outside || j.Corrected.Value >= row.Band.Min {
		return nil
	}
	most, least := j.Corrected.Value, j.Corrected.Value
	if q.AtUnknown && row.Span == nil {
		most *= q.Material.Factor(Anywhere.From, q.At)
		least *= q.Material.Factor(Anywhere.To, q.At)
	}
	out := &Lost{Min: LostTurns(quantity.Resistance(most), quantity.Resistance(row.Band.Min))}
	if row.Band.HasMax() {
		lost := LostTurns(quantity.Resistance(least), quantity.Resistance(row.Band.Max))
		out.Max = &lost
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
	if f.Settled != nil {
		word = Overall(f.Rows[f.Settled.Row].Verdict)
	}
	if f.nothing() && word != Overall(measure.Below) && word != RowsDisagree {
		return Shorted
	}
	return word
}

// Telling is the row that a reader is told of first: the one that applies, where that is settled.
func (f Finding) Telling() int {
	if f.Settled != nil {
		return f.Settled.Row
	}
	return 0
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
	if q.inParallel() && c.Verdict == Differs && c.Ratio.Value > 1 {
		c.OneOpen = Compare(q.lessOne(), q.Good.Measurement, q.Good.Tolerance).Verdict != Differs
	}
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
		m := q.Measurement
		if m.AtUnknown { // the worst that it may be
			m.AtUnknown, m.At, m.AtWithin = false, Anywhere.To, 0
		}
		cold := m.Corrected(Coldest)
		if m.At > Coldest && q.Material.ZeroResistanceAt < Coldest-10 && q.allowed(cold) != measure.Within {
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
