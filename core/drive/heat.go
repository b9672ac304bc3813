package drive

import (
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// A Coil is a winding as a specification gives it: its resistance at a temperature.
type Coil struct {
	Resistance quantity.Resistance
	At         quantity.Temperature
	Material   winding.Material
}

// Hot returns its resistance at another temperature.
func (c Coil) Hot(at quantity.Temperature) quantity.Resistance {
	return c.Resistance * quantity.Resistance(c.Material.Factor(c.At, at))
}

// A Question is a circuit whose winding is at a given temperature or heats itself, and whose duty is given or the one for a wanted
// current.
type Question struct {
	Circuit     Circuit // Coil replaces its Winding, and Wanted, if given, its Duty
	Coil        Coil
	Temperature quantity.Temperature
	Heating     *Heating         // nil: the winding is at Temperature
	Wanted      quantity.Current // on average; 0: the duty is Circuit.Duty
}

// Heating is how a winding loses its heat.
type Heating struct {
	Ambient quantity.Temperature
	Thermal quantity.ThermalResistance
}

// A Found is the answer to a question.
type Found struct {
	Circuit     Circuit
	State       State
	Temperature quantity.Temperature
	Reached     bool // whether the wanted current flows; true if none was given
}

// At answers the question with the winding at a temperature.
func (q Question) At(t quantity.Temperature) Found {
	c, reached := q.Circuit, true
	c.Winding = q.Coil.Hot(t)
	if q.Wanted > 0 {
		c.Duty, reached = c.DutyFor(q.Wanted)
	}
	return Found{c, c.Steady(), t, reached}
}

// Find answers the question. A winding that heats itself settles at the temperature at which it loses as much heat as it makes:
//
//	θ = θ_ambient + R_thermal × P_winding(θ)
//
// There is one such temperature between the ambient and the one to which the full supply on the cold winding would lead: as the
// winding warms, its power first grows at most in proportion to its resistance (at a constant current, or with a larger series
// resistance), and falls once the supply cannot keep up. It ignores that warming takes time, and that the thermal resistance
// changes with temperature.
func (q Question) Find() Found {
	if q.Heating == nil {
		return q.At(q.Temperature)
	}
	h := *q.Heating
	excess := func(t float64) float64 {
		return float64(h.Ambient) + float64(h.Thermal)*float64(q.At(quantity.Temperature(t)).State.Winding) - t
	}
	v := float64(q.Circuit.Supply)
	most := float64(h.Ambient) + float64(h.Thermal)*v*v/float64(q.Coil.Hot(h.Ambient))
	if most == float64(h.Ambient) {
		return q.At(h.Ambient)
	}
	return q.At(quantity.Temperature(root(float64(h.Ambient), most, excess)))
}

// Classes are the thermal classes of insulation of IEC 60085, by the temperature in degC that names each. The letters are from its
// older editions; the highest class has none.
var Classes = []struct {
	Temperature quantity.Temperature
	Letter      string
}{{90, "Y"}, {105, "A"}, {120, "E"}, {130, "B"}, {155, "F"}, {180, "H"}, {200, "N"}, {220, "R"}, {250, ""}}

// Bears returns the index in [Classes] of the lowest class for a temperature; len(Classes) if it is too high for all.
func Bears(t quantity.Temperature) int {
	for i, c := range Classes {
		if t <= c.Temperature {
			return i
		}
	}
	return len(Classes)
}
