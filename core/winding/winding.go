// Package winding answers what a resistance reading says about a winding: its resistance once leads, wiring and
// arrangement are taken out, at another temperature, against a specification, and beside a second winding.
package winding

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// A Material is a conductor whose resistance grows in proportion to the distance from its inferred zero-resistance
// temperature.
//
//	R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)
//
// Range: any θ above θ₀; the law is a straight line that holds from about −100 to 200 degC. Sources: θ₀ = −234.5 degC for
// annealed copper, 0.00393 per degC at 20 degC (IACS, IEC 60028); −228 degC for aluminium (IEC 60228). Checked in
// testdata/temperature.json.
type Material struct{ ZeroResistanceAt quantity.Temperature }

// The materials that have a name.
var (
	Copper    = Material{-234.5}
	Aluminium = Material{-228}
)

// Factor is what a resistance at one temperature is multiplied by to have it at another. Both are above θ₀; the caller
// has checked that, and a factor of a temperature at θ₀ is infinite.
func (m Material) Factor(from, to quantity.Temperature) float64 {
	return float64(to-m.ZeroResistanceAt) / float64(from-m.ZeroResistanceAt)
}

// TemperatureOf is the temperature at which a winding that has r at ref would read now.
//
//	θ = θ₀ + now/r × (ref − θ₀)
func (m Material) TemperatureOf(now, r quantity.Resistance, ref quantity.Temperature) quantity.Temperature {
	return m.ZeroResistanceAt + quantity.Temperature(float64(now)/float64(r)*float64(ref-m.ZeroResistanceAt))
}

// An Arrangement says how many alike windings were read at once. The zero Arrangement is a single winding.
type Arrangement struct {
	Series   int // read one behind the other, as through a shared ground
	Parallel int // read side by side, as on a common feed
}

// share is the factor from what was read to one winding.
func (a Arrangement) share() float64 {
	switch {
	case a.Series > 1:
		return 1 / float64(a.Series)
	case a.Parallel > 1:
		return float64(a.Parallel)
	}
	return 1
}

// A Measurement is a reading with everything that it takes to see the winding in it.
type Measurement struct {
	Reading     measure.Reading
	Leads       quantity.Resistance // meter leads shorted together
	LeadsGiven  bool                // false: no leads taken off, and nothing uncertain about that
	Loom        quantity.Resistance // wiring between the meter and the winding
	LoomWithin  quantity.Resistance // half-width of the doubt about it
	Arrangement Arrangement
	At          quantity.Temperature           // of the winding
	AtWithin    quantity.TemperatureDifference // half-width of the doubt about it
	Meter       measure.Meter
	Material    Material
}

// Winding is the resistance of one winding at its own temperature.
//
//	R = (reading − leads − loom) × share, share = 1/n in series, n in parallel
//	u² = share² × (u(reading)² + u(leads)² + u(loom)²)
//
// Units: ohm. A reading over the limit has no value; the caller asks Reading.Over first. A negative result means that
// leads and loom were read higher than everything together; the caller refuses it. It takes the windings of an
// arrangement to be alike. Source of the combination: JCGM 100:2008, 5.1.2.
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

// Corrected is the resistance of one winding moved to another temperature, the doubt about the winding's own temperature
// included.
//
//	R(to) = R × (to − θ₀)/(at − θ₀)
//	u² = (factor × u(R))² + (R(to)/(at − θ₀) × u(at))²
func (m Measurement) Corrected(to quantity.Temperature) measure.Estimate {
	w, f := m.Winding(), m.Material.Factor(m.At, to)
	r := w.Value * f
	return measure.Estimate{Value: r, U: measure.Combine(w.U*f, m.temperatureU(r))}
}

// temperatureU is what the doubt about the temperature adds to a corrected resistance.
func (m Measurement) temperatureU(corrected float64) float64 {
	return corrected / float64(m.At-m.Material.ZeroResistanceAt) * measure.Rectangular(float64(m.AtWithin))
}

// A Share names a contribution to the doubt.
type Share string

// The contributions to the doubt about a corrected winding.
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

// Budget is the uncertainty of [Measurement.Corrected] cut into its contributions, in the order of the constants. Their
// squares add up to the square of U.
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

// ResistanceDoubt is the chance that a winding draws more than limit at a supply: the probability that its resistance is
// below supply/limit. It is asked in ohms, where the estimate is normal and a dead short is nothing special.
func ResistanceDoubt(w measure.Estimate, supply quantity.Voltage, limit quantity.Current) measure.Conformity {
	b := measure.Everything()
	b.Min = float64(supply) / float64(limit)
	return measure.Conform(w, b)
}

// Comparison is a winding beside a known good one.
type Comparison struct {
	Ratio   measure.Estimate // of the two at the same temperature
	Verdict Likeness
}

// A Likeness is what can be said of two windings.
type Likeness string

// The likenesses.
const (
	Alike   Likeness = "alike"
	Differs Likeness = "differs"
	Unsure  Likeness = "undecided"
)

// Compare sets a winding beside a known good one at the same temperature. They are alike where the ratio lies within
// 1 ± tolerance with a probability of 95 %, and differ where it lies outside with the same.
//
//	ratio = R(ref)/R_good(ref)
//	u²/ratio² = u(R)²/R² + u(R_good)²/R_good²
//
// The good winding is more than zero; the caller has checked that. It ignores that one meter's error is partly common to
// both readings, and so doubts the ratio rather more than it need.
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

// LostTurns is the share of turns that would have to be shorted for a winding of healthy ohms to read r: resistance goes
// with the number of turns that carry current.
//
//	lost = 1 − r/healthy, not below 0
//
// It ignores that the shorted turns of a coil have a length that depends on the layer, and that a short has a resistance.
func LostTurns(r, healthy quantity.Resistance) quantity.Ratio {
	return quantity.Ratio(math.Max(0, 1-float64(r)/float64(healthy)))
}
