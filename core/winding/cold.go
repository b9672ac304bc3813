package winding

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// A Cold is the same winding read cold, at a temperature that is known: with the same meter, at the same place, in the same
// arrangement.
type Cold struct {
	Measurement
	Tolerance quantity.Ratio // how far the two readings may be from what the material does
}

// Follows is the verdict on two readings of one winding that change as its material does.
const Follows Likeness = "follows"

// A Warmed is what a reading cold and one warm say together.
type Warmed struct {
	Open        bool             // the cold reading is over the limit, and nothing else is known
	Temperature measure.Estimate // of the winding now, if it follows its material, in degC
	Rise        measure.Estimate // above the cold one, in K
	Ratio       measure.Estimate // of the two, each corrected to one temperature: 1 if they follow the material
	Verdict     Likeness         // Follows, Differs or Unsure; "" where the temperature is not known: it is then worked out from the material
	Near        bool             // the temperatures are too near to each other to tell
	// Beyond is Below or Above where no temperature of a running machine explains the resistance: it would clearly be colder or hotter
	// than [Anywhere], and does not follow its material up to a temperature that is given. Else it is "".
	Beyond measure.Verdict
}

// Warm sets a reading beside one of the same winding cold: the resistance method.
//
//	q = R/R_cold
//	θ = θ₀ + q (θ_cold − θ₀)
//	ratio = q (θ_cold − θ₀)/(θ − θ₀), 1 if the winding follows its material
//
// The errors of meter and loom are common to both and cancel in part. Source: IEC 60034-1, 8.6 (resistance method, with 235 in place
// of 234.5; from memory). It is the mean temperature of the winding, whose inside may be hotter.
func Warm(m Measurement, cold Cold) Warmed {
	if cold.Reading.Over {
		return Warmed{Open: true, Verdict: Unsure}
	}
	c := cold.Measurement
	q := m.read().Over(c.read())
	// The loom's error lowers both: dq = (q − 1) × error/R_cold.
	q = q.With((q.Value - 1) * m.loomU() / c.read().Value)
	zero := float64(m.Material.ZeroResistanceAt)
	above, uq, uCold := float64(c.At)-zero, q.Estimate().U, measure.Rectangular(float64(c.AtWithin))
	w := Warmed{
		Temperature: measure.Estimate{Value: zero + q.Value*above, U: measure.Combine(above*uq, q.Value*uCold)},
		Rise:        measure.Estimate{Value: (q.Value - 1) * above, U: measure.Combine(above*uq, (q.Value-1)*uCold)},
	}
	switch v := measure.Conform(w.Temperature, measure.Band{Min: float64(Anywhere.From), Max: float64(Anywhere.To)}).Verdict(); v {
	case measure.Below, measure.Above:
		w.Beyond = v
	}
	if m.AtUnknown {
		return w
	}
	f := m.Material.Factor(m.At, c.At)
	uAt := measure.Rectangular(float64(m.AtWithin)) / (float64(m.At) - zero)
	w.Ratio = measure.Estimate{Value: q.Value * f, U: f * measure.Combine(uq, q.Value*uCold/above, q.Value*uAt)}
	t := float64(cold.Tolerance)
	w.Verdict = Unsure
	// Where the material itself changes by no more than the tolerance, a resistance that stays as it is would pass too.
	if w.Near = math.Abs(1/f-1) <= t; w.Near {
		return w
	}
	if w.Verdict = likeness(measure.Conform(w.Ratio, measure.Band{Min: 1 - t, Max: 1 + t}), Follows); w.Verdict == Follows {
		w.Beyond = ""
	}
	return w
}
