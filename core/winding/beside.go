package winding

import "ohmwright/core/measure"

// Beside returns the ratio of a reading to the sum of others taken in the same run: with the same meter and leads, in the same body.
//
//	q = (r − r_leads)/Σ(r_k − r_leads)
//	u² = ((Δs − q Σ Δs_k)² + d² + n (q d)² + ((n q − 1) d_leads)²)/(3 (Σ(r_k − r_leads))²), Δs = s − s_leads
//
// s and d are the parts of the meter's error that readings share and that each has of its own: see [measure.Metered]. The leads are
// read once, so their own error is common to all readings too and cancels in part. The temperature is the body's, and cancels
// altogether, known or not. The readings must have values, and the sum must be above 0. Source of the combination: JCGM 100:2008,
// 5.2.2. Checked by sampling in core/bank.
func Beside(m Measurement, others ...Measurement) measure.Estimate {
	leads := measure.Metered{}
	if m.LeadsGiven {
		leads = m.Meter.Read(float64(m.Leads))
	}
	sum := measure.Metered{}
	for _, other := range others {
		one := other.withLeadsKnown(leads)
		sum = measure.Metered{Value: sum.Value + one.Value, Common: sum.Common + one.Common, Own: measure.Combine(sum.Own, one.Own)}
	}
	q := m.withLeadsKnown(leads).Over(sum)
	return q.With((float64(len(others))*q.Value - 1) * leads.Own / sum.Value).Estimate()
}

// withLeadsKnown is a reading less its leads, without the leads' own error.
func (m Measurement) withLeadsKnown(leads measure.Metered) measure.Metered {
	leads.Own = 0
	return m.Meter.Read(float64(m.Reading.Ohms)).Minus(leads)
}
