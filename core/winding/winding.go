// Package winding evaluates a resistance reading of a winding: its resistance without leads, wiring and other windings, at another
// temperature, compared with a specification and with a second winding.
package winding

import (
	"math"

	"ohmwright/core/measure"
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
	Meter       measure.Meter
	Material    Material
}

// Winding returns the resistance of one winding at its own temperature.
//
//	R = (reading − leads − loom) × share, share = 1/n in series, n in parallel
//	u² = share² × (u(reading)² + u(leads)² + u(loom)²)
//
// Units: ohm. A reading over the limit has no value, so the caller has to check Reading.Over first. A negative result means that
// leads and loom are more than the whole reading; the caller has to refuse it. It assumes that the windings of an arrangement are
// equal. Source of the combination: JCGM 100:2008, 5.1.2.
func (m Measurement) Winding() measure.Estimate {
	share := m.Arrangement.share()
	u := m.Meter.U(float64(m.Reading.Ohms))
	if m.LeadsGiven {
		u = measure.Combine(u, m.Meter.U(float64(m.Leads)))
	}
	u = measure.Combine(u, measure.Rectangular(float64(m.LoomWithin)))
	return measure.Estimate{
		Value: float64(m.Reading.Ohms-m.Leads-m.Loom) * share,
		U:     u * share,
	}
}

// Corrected returns the resistance of one winding at another temperature. The uncertainty includes that of the winding's own
// temperature.
//
//	R(to) = R × (to − θ₀)/(at − θ₀)
//	u² = (factor × u(R))² + (R(to)/(at − θ₀) × u(at))²
func (m Measurement) Corrected(to quantity.Temperature) measure.Estimate {
	w, f := m.Winding(), m.Material.Factor(m.At, to)
	r := w.Value * f
	return measure.Estimate{Value: r, U: measure.Combine(w.U*f, m.temperatureU(r))}
}

// temperatureU returns what the uncertainty of the temperature contributes to that of a corrected resistance.
func (m Measurement) temperatureU(corrected float64) float64 {
	return corrected / float64(m.At-m.Material.ZeroResistanceAt) * measure.Rectangular(float64(m.AtWithin))
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
// up to the square of U.
func (m Measurement) Budget(to quantity.Temperature) []Contribution {
	f := m.Arrangement.share() * m.Material.Factor(m.At, to)
	lines := []Contribution{{ShareMeter, m.Meter.U(float64(m.Reading.Ohms)) * f}}
	if m.LeadsGiven {
		lines = append(lines, Contribution{ShareLeads, m.Meter.U(float64(m.Leads)) * f})
	}
	if m.LoomWithin != 0 {
		lines = append(lines, Contribution{ShareLoom, measure.Rectangular(float64(m.LoomWithin)) * f})
	}
	return append(lines, Contribution{ShareTemperature, m.temperatureU(m.Corrected(to).Value)})
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
//	u²/ratio² = u(R)²/R² + u(R_good)²/R_good²
//
// The caller has to check that the good winding is above 0. It ignores that the errors of one meter are partly common to both
// readings, so the uncertainty is rather too large.
func Compare(m, good Measurement, tolerance quantity.Ratio) Comparison {
	const ref = 20 // any temperature gives the same ratio
	a, b := m.Corrected(ref), good.Corrected(ref)
	ratio := a.Value / b.Value
	e := measure.Estimate{Value: ratio, U: measure.Combine(a.U, ratio*b.U) / b.Value}
	c := measure.Conform(e, measure.Band{Min: 1 - float64(tolerance), Max: 1 + float64(tolerance)})
	verdict := Unsure
	switch {
	case c.Within >= measure.Sure:
		verdict = Alike
	case c.Below+c.Above >= measure.Sure:
		verdict = Differs
	}
	return Comparison{e, verdict}
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
