package evidence

import (
	"ohmwright/core/circuit"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// A model is a circuit with what readings tell of it beforehand: a temperature that was measured takes the place of the one typed.
type model struct{ circuit.Model }

// Latest returns the last reading of each possible test, in the order of tests, so that the order of the readings changes nothing
// else.
func Latest(m *circuit.Model, readings []circuit.Reading) (kept []circuit.Reading) {
	var by [circuit.Tests]*circuit.Reading
	for i := range readings {
		by[readings[i].Test] = &readings[i]
	}
	for _, r := range by {
		if r != nil && r.Test.Possible(m.Side, m.Return) {
			kept = append(kept, *r)
		}
	}
	return kept
}

// warmest returns the temperature that the winding is taken to have in the middle.
func (m *model) warmest() quantity.Temperature {
	if !m.Warmth.Known {
		return winding.Anywhere.Middle()
	}
	return m.Warmth.At
}
