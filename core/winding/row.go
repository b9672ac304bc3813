package winding

import (
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// A Row is one line of a specification: a band of resistance, and either the temperature at which it holds or the span
// of temperatures that it already covers.
type Row struct {
	Band    measure.Band
	At      quantity.Temperature
	Nominal quantity.Resistance // the middle, where the row has one; else 0
	Span    *Span               // not nil: the row covers temperatures and is never corrected
}

// A Span is an interval of temperatures, both ends belonging to it.
type Span struct{ From, To quantity.Temperature }

// Holds says whether a temperature lies in the span.
func (s Span) Holds(t quantity.Temperature) bool { return s.From <= t && t <= s.To }

// A Judgement is what a measurement says against one row.
type Judgement struct {
	Corrected measure.Estimate // the winding at the row's temperature; for a row with a span, as it is
	BandNow   measure.Band     // the row's band at the winding's temperature
	Chance    measure.Conformity
	Verdict   measure.Verdict
	// Outside says that the row covers a span of temperatures and the winding is not in it: then nothing is decided.
	Outside bool
}

// Judge weighs the measurement against a row. The reading has a value; one over the limit is open, and above any row.
//
// A row with a span is compared as it is, with the uncertainty of the resistance alone. Source of the probabilities:
// JCGM 106:2012, 7.2.
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

// BandNow is the row's band moved to the winding's temperature.
func (m Measurement) BandNow(row Row) measure.Band {
	if row.Span != nil {
		return row.Band
	}
	f := m.Material.Factor(row.At, m.At)
	return measure.Band{Min: row.Band.Min * f, Max: row.Band.Max * f}
}

// HealthyAt is the temperature at which a winding in the middle of the row would read what was read. Asked only of a row
// with a middle and without a span.
func (m Measurement) HealthyAt(row Row) measure.Estimate {
	w := m.Winding()
	t := m.Material.TemperatureOf(quantity.Resistance(w.Value), row.Nominal, row.At)
	k := float64(row.At-m.Material.ZeroResistanceAt) / float64(row.Nominal)
	return measure.Estimate{Value: float64(t), U: w.U * k}
}
