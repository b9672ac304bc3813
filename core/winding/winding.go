// Package winding evaluates a resistance reading of a winding: its resistance without leads, wiring and other windings, at another
// temperature, compared with a specification and with a second winding.
package winding

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/portable"
	"ohmwright/core/quantity"
)

// A Material is a conductor whose resistance is proportional to the distance of its temperature from θ₀, its inferred
// zero-resistance temperature.
//
//	R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)
//
// Range: any θ above θ₀; the straight line is valid from about −100 to 200 degC. Sources: θ₀ = −234.5 degC for annealed copper,
// 0.00393 per degC at 20 degC (IACS, IEC 60028); −228 degC for aluminium (IEC 60228). Checked in testdata/temperature.json.
type Material struct{ ZeroResistanceAt quantity.Temperature }

// The materials that have a name.
var (
	Copper    = Material{-234.5}
	Aluminium = Material{-228}
)

// Factor returns the factor from a resistance at one temperature to that at another. The caller has to check that both are above
// θ₀.
func (m Material) Factor(from, to quantity.Temperature) float64 {
	return float64(to-m.ZeroResistanceAt) / float64(from-m.ZeroResistanceAt)
}

// TemperatureOf returns the temperature at which a winding that has r at ref has the resistance now.
//
//	θ = θ₀ + now/r × (ref − θ₀)
func (m Material) TemperatureOf(now, r quantity.Resistance, ref quantity.Temperature) quantity.Temperature {
	return m.ZeroResistanceAt + quantity.Temperature(float64(now)/float64(r)*float64(ref-m.ZeroResistanceAt))
}

// An Arrangement is how many equal windings were measured at once. The zero Arrangement is a single winding.
type Arrangement struct {
	Series   int // one after the other, as through a shared ground
	Parallel int // side by side, as on a common feed
}

// share returns the factor from the reading to one winding.
func (a Arrangement) share() float64 {
	switch {
	case a.Series > 1:
		return 1 / float64(a.Series)
	case a.Parallel > 1:
		return float64(a.Parallel)
	}
	return 1
}

// A Measurement is a reading with everything that is needed to find the winding's resistance.
type Measurement struct {
	Reading     measure.Reading
	Leads       quantity.Resistance // meter leads shorted together
	LeadsGiven  bool                // if false, nothing is subtracted for leads, without uncertainty
	Loom        quantity.Resistance // wiring between the meter and the winding
	LoomWithin  quantity.Resistance // half-width of its uncertainty
	Arrangement Arrangement
	At          quantity.Temperature           // of the winding
	AtWithin    quantity.TemperatureDifference // half-width of its uncertainty
	// AtUnknown means that nobody has looked at the temperature: it is anywhere in Anywhere, and At and AtWithin are its middle and
	// half-width.
	AtUnknown bool
	Meter     measure.Meter
	Material  Material
}

// Anywhere is what the temperature of a winding may be where it is not given: from a cold winter's morning to hot oil.
// Source: contract, winding.
var Anywhere = Span{-20, 130}

// read returns the resistance of one winding at its own temperature, without the doubt about the loom.
func (m Measurement) read() measure.Metered {
	r := m.Meter.Read(float64(m.Reading.Ohms))
	if m.LeadsGiven {
		r = r.Minus(m.Meter.Read(float64(m.Leads)))
	}
	r.Value = float64(m.Reading.Ohms - m.Leads - m.Loom)
	return r.Times(m.Arrangement.share())
}

// loomU returns what the doubt about the loom contributes to that of one winding.
func (m Measurement) loomU() float64 {
	return measure.Rectangular(float64(m.LoomWithin)) * m.Arrangement.share()
}

// metered returns the resistance of one winding at its own temperature, fit for a comparison with another by the same meter.
func (m Measurement) metered() measure.Metered { return m.read().With(m.loomU()) }

// Winding returns the resistance of one winding at its own temperature.
//
//	R = (reading − leads − loom) × share, share = 1/n in series, n in parallel
//	u² = share² × (((s − s_leads)² + d² + d_leads²)/3 + u(loom)²)
//
// s is what the two readings share of the meter's error, d what each has of its own: see [measure.Metered]. Units: ohm. A reading
// over the limit has no value, so the caller has to check Reading.Over first. A negative result means that leads and loom are more
// than the whole reading; the caller has to refuse it. It assumes that the windings of an arrangement are equal. Source of the
// combination: JCGM 100:2008, 5.1.2 and 5.2.2.
func (m Measurement) Winding() measure.Estimate { return m.metered().Estimate() }

// Corrected returns the resistance of one winding at another temperature. The uncertainty includes that of the winding's own
// temperature.
//
//	R(to) = R × (to − θ₀)/(at − θ₀)
//	u² = (factor × u(R))² + (R(to)/(at − θ₀) × u(at))²
//
// A temperature that is not known is too wide for the first order: u then has the exact standard deviation of the factor (JCGM
// 100:2008, 5.1.2, note: higher orders where the function bends), while R(to) stays that of the middle temperature.
func (m Measurement) Corrected(to quantity.Temperature) measure.Estimate {
	return m.corrected(to).Estimate()
}

// corrected is [Measurement.Corrected], fit for a comparison.
func (m Measurement) corrected(to quantity.Temperature) measure.Metered {
	w, c := m.metered(), m.correction(to)
	r := measure.Metered{Value: w.Value * c.factor, Common: w.Common * c.spread, Own: w.Own * c.spread}
	return r.With(math.Abs(w.Value) * c.u)
}

// A correction is the factor from a winding's own temperature to another.
type correction struct {
	factor float64 // from the temperature given, or the middle of what it may be
	spread float64 // what an error of the resistance is multiplied by
	u      float64 // standard uncertainty of the factor
}

// correction returns the factor to another temperature.
func (m Measurement) correction(to quantity.Temperature) correction {
	f := m.Material.Factor(m.At, to)
	if !m.AtUnknown {
		return correction{f, f, f / float64(m.At-m.Material.ZeroResistanceAt) * measure.Rectangular(float64(m.AtWithin))}
	}
	// The factor is k/x, and x is alike likely anywhere from a to b: its mean is k ln(b/a)/(b − a), that of its square k²/(a b).
	k, a, b := float64(to-m.Material.ZeroResistanceAt), float64(Anywhere.From-m.Material.ZeroResistanceAt),
		float64(Anywhere.To-m.Material.ZeroResistanceAt)
	mean, square := k*portable.Log(b/a)/(b-a), k*k/(a*b)
	return correction{f, math.Sqrt(square), math.Sqrt(math.Max(0, square-mean*mean))}
}

// chance compares an estimate at the temperature given with a band. Where the temperature is not known, sure is the estimate with
// the doubt of the resistance alone, corrected from the middle, and the band takes all places that the temperature may move it to.
func (m Measurement) chance(e, sure measure.Estimate, b measure.Band) measure.Conformity {
	if !m.AtUnknown {
		return measure.Conform(e, b)
	}
	cold, hot := m.Material.Factor(m.At, Anywhere.From), m.Material.Factor(m.At, Anywhere.To)
	return measure.ConformMoving(sure, scaled(b, cold), scaled(b, hot))
}

func scaled(b measure.Band, f float64) measure.Band {
	return measure.Band{Min: b.Min * f, Max: b.Max * f}
}

// sure returns the winding at another temperature, as if its own were known exactly.
func (m Measurement) sure(to quantity.Temperature) measure.Metered {
	return m.metered().Times(m.Material.Factor(m.At, to))
}

// A Share is the source of a contribution to the uncertainty.
type Share string

// The sources of the uncertainty of a corrected winding.
const (
	ShareMeter       Share = "meter" // on the reading
	ShareLeads       Share = "leads"
	ShareLoom        Share = "loom"
	ShareTemperature Share = "temperature"
)

// A Contribution is one line of an uncertainty budget: a standard uncertainty in ohm of the corrected winding.
type Contribution struct {
	Of Share
	U  float64
}

// Budget returns the contributions to the uncertainty of [Measurement.Corrected], in the order of the constants. Their squares add
// up to the square of U. What leads and reading share of the meter's error cancels between the two and counts as the meter's.
func (m Measurement) Budget(to quantity.Temperature) []Contribution {
	c := m.correction(to)
	f := m.Arrangement.share() * c.spread
	reading := m.Meter.Read(float64(m.Reading.Ohms))
	common, leads := reading.Common, measure.Metered{}
	if m.LeadsGiven {
		leads = m.Meter.Read(float64(m.Leads))
		common -= leads.Common
	}
	lines := []Contribution{{ShareMeter, measure.Combine(common, reading.Own) * f}}
	if m.LeadsGiven {
		lines = append(lines, Contribution{ShareLeads, leads.Own * f})
	}
	if m.LoomWithin != 0 {
		lines = append(lines, Contribution{ShareLoom, measure.Rectangular(float64(m.LoomWithin)) * f})
	}
	return append(lines, Contribution{ShareTemperature, math.Abs(m.read().Value) * c.u})
}

// ResistanceDoubt compares a winding with the resistance that draws limit from a supply: Below is the probability that it draws
// more. It compares resistances, since those are normally distributed and a dead short is no special case.
func ResistanceDoubt(w measure.Estimate, supply quantity.Voltage, limit quantity.Current) measure.Conformity {
	b := measure.Everything()
	b.Min = float64(supply) / float64(limit)
	return measure.Conform(w, b)
}

// Comparison is a winding compared with a known good one.
type Comparison struct {
	Ratio   measure.Estimate // of their resistances at the same temperature
	Verdict Likeness
}

// A Likeness is the verdict on two windings.
type Likeness string

// The verdicts on two windings.
const (
	Alike   Likeness = "alike"
	Differs Likeness = "differs"
	Unsure  Likeness = "undecided"
)

// Compare compares a winding with a known good one at the same temperature. They are alike if the ratio is within 1 ± tolerance
// with a probability of 95 %, and differ if it is outside with that probability.
//
//	ratio = R(ref)/R_good(ref)
//
// Its uncertainty is that of [measure.Metered.Over]: one meter reads both, and what its error has in common cancels in part. The
// caller has to check that the good winding is above 0, and that its temperature is known.
func Compare(m, good Measurement, tolerance quantity.Ratio) Comparison {
	const ref = 20 // any temperature gives the same ratio
	b := good.corrected(ref)
	e := m.corrected(ref).Over(b).Estimate()
	c := m.chance(e, m.sure(ref).Over(b).Estimate(), measure.Band{Min: 1 - float64(tolerance), Max: 1 + float64(tolerance)})
	return Comparison{e, likeness(c, Alike)}
}

// likeness returns the verdict on a ratio that should be 1: one, Differs or Unsure.
func likeness(c measure.Conformity, one Likeness) Likeness {
	switch {
	case measure.Reaches(c.Within):
		return one
	case measure.Reaches(c.Below + c.Above):
		return Differs
	}
	return Unsure
}

// LostTurns returns the share of turns that would have to be shorted for a winding of healthy ohms to have r: resistance is
// proportional to the number of turns that carry current.
//
//	lost = 1 − r/healthy, not below 0
//
// It ignores that the length of a turn depends on its layer, and that a short has a resistance.
func LostTurns(r, healthy quantity.Resistance) quantity.Ratio {
	return quantity.Ratio(math.Max(0, 1-float64(r)/float64(healthy)))
}
