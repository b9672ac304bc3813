package winding

import (
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// A Row is one line of a specification: a band of resistance, and either the temperature for which it is given or the span of
// temperatures that it covers.
type Row struct {
	Band    measure.Band
	At      quantity.Temperature
	Nominal quantity.Resistance // the middle, if the row has one; else 0
	Span    *Span               // if not nil, the row covers these temperatures and is not corrected
}

// A Span is an interval of temperatures, including both ends.
type Span struct{ From, To quantity.Temperature }

// Middle returns the middle of the span.
func (s Span) Middle() quantity.Temperature { return (s.From + s.To) / 2 }

// HalfWidth returns half the width of the span.
func (s Span) HalfWidth() quantity.TemperatureDifference {
	return quantity.TemperatureDifference(s.To-s.From) / 2
}

// Holds reports whether a temperature is in the span.
func (s Span) Holds(t quantity.Temperature) bool { return s.From <= t && t <= s.To }

// A Judgement is a measurement compared with a row.
type Judgement struct {
	Corrected measure.Estimate // the winding at the row's temperature; not corrected for a row with a span
	BandNow   measure.Band     // the row's band at the winding's temperature; at any that it may have, where it is not known
	Chance    measure.Conformity
	Verdict   measure.Verdict
	// Outside means that the winding is not, or not surely, in the row's span of temperatures; the verdict is then Undecided.
	Outside bool
}

// Judge compares the measurement with a row. The reading must have a value; one over the limit means an open winding, above any
// row.
//
// A row with a span is compared without correction, and only with the uncertainty of the resistance; the temperature has to be in the
// span with a probability of 95 %. Source of the
// probabilities: JCGM 106:2012, 7.2; where the temperature is not known, their mean over all that it may be.
func (m Measurement) Judge(row Row) Judgement {
	j := Judgement{BandNow: m.BandNow(row)}
	if row.Span != nil {
		j.Corrected = m.Winding()
		j.Chance = measure.Conform(j.Corrected, row.Band)
	} else {
		j.Corrected = m.Corrected(row.At)
		j.Chance = m.chance(j.Corrected, m.sure(row.At).Estimate(), row.Band)
	}
	j.Verdict = j.Chance.Verdict()
	if row.Span != nil && !m.surelyIn(*row.Span) {
		j.Outside, j.Verdict = true, measure.Undecided
	}
	return j
}

// surelyIn reports whether the winding's temperature is in a span with a probability of 95 % or more: anything within the doubt about it
// is alike likely.
func (m Measurement) surelyIn(s Span) bool {
	may := Span{m.At - quantity.Temperature(m.AtWithin), m.At + quantity.Temperature(m.AtWithin)}
	if m.AtUnknown {
		may = Anywhere
	}
	if may.From == may.To {
		return s.Holds(m.At)
	}
	return measure.Reaches(float64((min(may.To, s.To) - max(may.From, s.From)) / (may.To - may.From)))
}

// BandNow returns the row's band corrected to the winding's temperature. Where that is not known it reaches from the minimum at the
// coldest that it may be to the maximum at the hottest.
func (m Measurement) BandNow(row Row) measure.Band {
	if row.Span != nil {
		return row.Band
	}
	coldest, hottest := m.At, m.At
	if m.AtUnknown {
		coldest, hottest = Anywhere.From, Anywhere.To
	}
	return measure.Band{Min: row.Band.Min * m.Material.Factor(row.At, coldest), Max: row.Band.Max * m.Material.Factor(row.At, hottest)}
}

// HealthyAt returns the temperature at which a winding in the middle of the row would have the resistance measured. The row must
// have a middle and no span.
func (m Measurement) HealthyAt(row Row) measure.Estimate {
	w := m.Winding()
	t := m.Material.TemperatureOf(quantity.Resistance(w.Value), row.Nominal, row.At)
	k := float64(row.At-m.Material.ZeroResistanceAt) / float64(row.Nominal)
	return measure.Estimate{Value: float64(t), U: w.U * k}
}
