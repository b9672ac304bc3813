package measure

import "math"

// A Metered is a value that rests on readings by one meter, with its uncertainty in two parts, both in the unit of the value. All
// readings by one meter share most of its error (its calibration and its zero), so that part cancels in a difference or a ratio.
//
// Of a reading's half-width a, d = min(counts, 1) × resolution is the reading's own, since the last digit is rounded anew; the
// rest s = a − d is common to all readings by that meter, with correlation 1. Both are rectangular.
//
//	alone       u² = (s² + d²)/3
//	difference  u² = ((s₁ − s₂)² + d₁² + d₂²)/3
//	ratio q     u² = ((s₁ − q s₂)² + d₁² + (q d₂)²)/(3 r₂²)
//
// Source: JCGM 100:2008, 5.2.2, and the note in 5.2.4 on one instrument; the split of a is the contract's. Checked in
// testdata/meters.json and by testdata/montecarlo.py.
type Metered struct {
	Value  float64
	Common float64 // standard uncertainty from the meter's common error; its sign tells which way that error moves the value
	Own    float64 // standard uncertainty from all the rest, which no other value shares
}

// Split returns the two parts of the half-width of a reading's error: what all readings by the meter share, and the reading's own.
func (m Meter) Split(reading float64) (common, own float64) {
	own = m.Resolution
	if m.Counts < 1 {
		own *= m.Counts
	}
	if common = m.HalfWidth(reading) - own; common < 0 {
		common = 0
	}
	return common, own
}

// Read returns a reading with its uncertainty. Zero or more is read: no sign is asked for.
func (m Meter) Read(reading float64) Metered {
	common, own := m.Split(reading)
	return Metered{reading, Rectangular(common), Rectangular(own)}
}

// Minus returns the difference of two values that rest on readings by the same meter.
func (m Metered) Minus(other Metered) Metered {
	return Metered{m.Value - other.Value, m.Common - other.Common, Combine(m.Own, other.Own)}
}

// Times returns the value times a factor without doubt.
func (m Metered) Times(f float64) Metered {
	return Metered{m.Value * f, m.Common * f, m.Own * math.Abs(f)}
}

// With returns the value with more independent uncertainty.
func (m Metered) With(u float64) Metered {
	m.Own = Combine(m.Own, u)
	return m
}

// Over returns the quotient of two values that rest on readings by the same meter. The other must not be 0.
func (m Metered) Over(other Metered) Metered {
	q := m.Value / other.Value
	return Metered{q, (m.Common - q*other.Common) / other.Value, Combine(m.Own, q*other.Own) / math.Abs(other.Value)}
}

// Estimate returns the value with its whole uncertainty.
func (m Metered) Estimate() Estimate { return Estimate{m.Value, Combine(m.Common, m.Own)} }
