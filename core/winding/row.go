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

// Holds reports whether a temperature is in the span.
func (s Span) Holds(t quantity.Temperature) bool { return s.From <= t && t <= s.To }

// A Judgement is a measurement compared with a row.
type Judgement struct {
	Corrected measure.Estimate // the winding at the row's temperature; not corrected for a row with a span
	BandNow   measure.Band     // the row's band at the winding's temperature
	Chance    measure.Conformity
	Verdict   measure.Verdict
	// Outside means that the winding is not in the row's span of temperatures; the verdict is then Undecided.
	Outside bool
}

// Judge compares the measurement with a row. The reading must have a value; one over the limit means an open winding, above any
// row.
//
// A row with a span is compared without correction, and only with the uncertainty of the resistance. Source of the
// probabilities: JCGM 106:2012, 7.2.
func (m Measurement) Judge(row Row) Judgement {
	j := Judgement{BandNow: m.BandNow(row)}
	if row.Span != nil {
		j.Corrected = m.Winding()
	} else {
		j.Corrected = m.Corrected(row.At)
	}
	j.Chance = measure.Conform(j.Corrected, row.Band)
	j.Verdict = j.Chance.Verdict()
	if row.Span != nil && !row.Span.Holds(m.At) {
		j.Outside, j.Verdict = true, measure.Undecided
	}
	return j
}

// BandNow returns the row's band corrected to the winding's temperature.
func (m Measurement) BandNow(row Row) measure.Band {
	if row.Span != nil {
		return row.Band
	}
	f := m.Material.Factor(row.At, m.At)
	return measure.Band{Min: row.Band.Min * f, Max: row.Band.Max * f}
}

// HealthyAt returns the temperature at which a winding in the middle of the row would have the resistance measured. The row must
// have a middle and no span.
func (m Measurement) HealthyAt(row Row) measure.Estimate {
	w := m.Winding()
	t := m.Material.TemperatureOf(quantity.Resistance(w.Value), row.Nominal, row.At)
	k := float64(row.At-m.Material.ZeroResistanceAt) / float64(row.Nominal)
	return measure.Estimate{Value: float64(t), U: w.U * k}
}
