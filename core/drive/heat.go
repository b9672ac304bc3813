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

// Hot is its resistance at another temperature.
func (c Coil) Hot(at quantity.Temperature) quantity.Resistance {
	return c.Resistance * quantity.Resistance(c.Material.Factor(c.At, at))
}

// A Question is a circuit with what is to be found: the winding at a temperature or as warm as it makes itself, at a duty or at
// the duty for a wanted current.
type Question struct {
	Circuit     Circuit // its Winding is left to the coil, its Duty to Wanted where that is given
	Coil        Coil
	Temperature quantity.Temperature
	Heating     *Heating         // nil: at Temperature
	Wanted      quantity.Current // average; 0: Circuit.Duty
}

// Heating is how a winding gets rid of its heat.
type Heating struct {
	Ambient quantity.Temperature
	Thermal quantity.ThermalResistance
}

// A Found is what a question comes to.
type Found struct {
	Circuit     Circuit
	State       State
	Temperature quantity.Temperature
	Reached     bool // the wanted current, where one was given
}

// At answers with the winding at a temperature.
func (q Question) At(t quantity.Temperature) Found {
	c, reached := q.Circuit, true
	c.Winding = q.Coil.Hot(t)
	if q.Wanted > 0 {
		c.Duty, reached = c.DutyFor(q.Wanted)
	}
	return Found{c, c.Steady(), t, reached}
}

// Find answers the question. A winding that heats itself comes to rest where what it turns into heat keeps it as warm as it is:
//
//	θ = θ_ambient + R_thermal × P_winding(θ)
//
// Between the ambient temperature and the one that the full supply on the cold winding would lead to there is one such point: as
// the winding warms, its heat grows at first no faster than in proportion to its resistance (at a held current, or through a
// larger series resistance), and falls from where the supply can no longer follow. It ignores that heat takes time to build up,
// and that the thermal resistance itself changes with temperature.
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

// Classes are the thermal classes of insulation of IEC 60085: the temperature in degC that each is named after. The letters are
// those of its older editions; the highest has none.
var Classes = []struct {
	Temperature quantity.Temperature
	Letter      string
}{{90, "Y"}, {105, "A"}, {120, "E"}, {130, "B"}, {155, "F"}, {180, "H"}, {200, "N"}, {220, "R"}, {250, ""}}

// Bears is the place in [Classes] of the lowest class that bears a temperature; len(Classes) where none does.
func Bears(t quantity.Temperature) int {
	for i, c := range Classes {
		if t <= c.Temperature {
			return i
		}
	}
	return len(Classes)
}
