package bank

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// Find works out what the sheet says.
func (q Question) Find() Finding {
	f := Finding{Rows: make([]Judged, len(q.Rows))}
	for i, row := range q.Rows {
		f.Rows[i] = q.judge(row)
	}
	q.compareAlike(f.Rows)
	for _, p := range q.Pins {
		f.Pins = append(f.Pins, q.join(p))
	}
	f.Shared = q.shared(f.Rows)
	f.Overall, f.Count = f.overall()
	return f
}

// judge asks what each winding says by itself, and beside the second unit's.
func (q Question) judge(row Row) Judged {
	j := Judged{Read: row.Reading != nil}
	if row.ToCase != nil {
		j.ToCase = q.insulated(*row.ToCase)
	}
	if row.Other != nil {
		f := q.single(q.otherOf(row), row).Find()
		j.Other = &f
	}
	if !j.Read {
		return j
	}
	one := q.single(q.measured(row), row)
	switch {
	case row.Other == nil:
	case q.Base.AtUnknown && q.OtherAsThis:
		j.Comparison = q.sideBySide(row)
	default:
		one.Good = &winding.Good{Measurement: q.otherOf(row), Tolerance: q.OtherTolerance}
	}
	j.Winding = one.Find()
	if j.Comparison == nil {
		j.Comparison = j.Winding.Comparison
	}
	return j
}

// single is the question about one winding.
func (q Question) single(m winding.Measurement, row Row) winding.Question {
	one := winding.Question{Measurement: m, Place: q.Place, Reference: q.Reference}
	if row.Spec != nil {
		one.Rows = []winding.Row{*row.Spec}
	}
	return one
}

func (q Question) measured(row Row) winding.Measurement {
	m := q.Base
	m.Reading = *row.Reading
	return m
}

func (q Question) otherOf(row Row) winding.Measurement {
	m := q.OtherBase
	m.Reading = *row.Other
	return m
}

// sideBySide compares two windings at one temperature that nobody has read: their ratio is the same at any. What is left is how far
// the two may be from each other, which counts most where it is coldest.
func (q Question) sideBySide(row Row) *winding.Compared {
	this, other := q.measured(row), q.otherOf(row)
	for _, m := range []*winding.Measurement{&this, &other} {
		m.AtUnknown, m.At, m.AtWithin = false, winding.Anywhere.From, sideBySideWithin
	}
	one := q.single(this, row)
	one.Good = &winding.Good{Measurement: other, Tolerance: q.OtherTolerance}
	return one.Find().Comparison
}

// sideBySideWithin is how far, in kelvin, parts at rest beside each other are from one temperature: the contract's at_within.
const sideBySideWithin quantity.TemperatureDifference = 2

// display is how many steps the display of a meter has in each range: 4,000, as the contract's meter defaults have it. So a reading
// far above the range that the meter's last figure was given for has a coarser last figure.
const display = 4000

// insulated compares a reading of a path that should not be there with the least that it should have. It ignores that insulation
// loses resistance with heat and moisture, and that a meter's few volts find less than a test voltage would.
func (q Question) insulated(r measure.Reading) Insulated {
	if r.Over {
		return InsulationPlausible
	}
	m := q.Base.Meter
	m.Resolution = math.Max(m.Resolution, float64(r.Ohms)/display)
	b := measure.Everything()
	b.Min = float64(q.Insulation)
	switch measure.Conform(m.Read(float64(r.Ohms)).Estimate(), b).Verdict() {
	case measure.Below:
		return InsulationLeaks
	case measure.Within:
		return InsulationPlausible
	}
	return InsulationUnsure
}

// join says what a reading between two pins means: a path that should not be there, or two windings in series by what they share.
func (q Question) join(p Pin) Joined {
	if !q.Common {
		return Joined{Verdict: map[Insulated]Pair{InsulationPlausible: PairPlausible, InsulationLeaks: PairLeak,
			InsulationUnsure: PairUnsure}[q.insulated(p.Reading)]}
	}
	if p.Reading.Over {
		return Joined{Verdict: PairOpen}
	}
	from, to := q.Rows[p.From], q.Rows[p.To]
	if !hasValue(from) || !hasValue(to) || less(q.measured(from))+less(q.measured(to)) <= least {
		return Joined{Verdict: PairUnsure}
	}
	m := q.Base
	m.Reading = p.Reading
	e := winding.Beside(m, q.measured(from), q.measured(to))
	t := float64(q.AlikeWithin)
	return Joined{&e, map[measure.Verdict]Pair{measure.Below: PairLow, measure.Within: PairPlausible, measure.Above: PairHigh,
		measure.Undecided: PairUnsure}[measure.Conform(e, measure.Band{Min: 1 - t, Max: 1 + t}).Verdict()]}
}

// overall returns the verdict of the sheet, and of how many rows or pins it speaks.
func (f Finding) overall() (Overall, int) {
	n := map[Overall]int{}
	for _, r := range f.Rows {
		n[r.Of()]++
		if r.ToCase == InsulationLeaks {
			n[Leak]++
		}
		if r.ToCase == InsulationUnsure {
			n[Undecided]++
		}
		if r.Alike != nil && r.Alike.Verdict == LikeOdd {
			n[Odd]++
		}
		if r.Alike != nil && r.Alike.Verdict == LikeDisagree {
			n[Unlike]++
		}
	}
	for _, p := range f.Pins {
		switch p.Verdict {
		case PairPlausible:
		case PairUnsure:
			n[Undecided]++
		default:
			n[Leak]++
		}
	}
	for _, o := range []Overall{Out, Leak, OffTogether, Odd, Unlike, Differs, Undecided, NotRead, NoSpec} {
		if n[o] > 0 {
			return o, n[o]
		}
	}
	return Plausible, len(f.Rows)
}

// Of is what one winding adds to the verdict of the sheet.
func (j Judged) Of() Overall {
	switch {
	case !j.Read:
		return NotRead
	case j.Explained:
		return OffTogether
	}
	switch j.Winding.Overall {
	case winding.Overall(measure.Within):
		return Plausible
	case winding.Overall(measure.Undecided):
		return Undecided
	case winding.NoSpecification:
		if j.Comparison != nil && j.Comparison.Verdict == winding.Differs {
			return Differs
		}
		return NoSpec
	}
	return Out
}
