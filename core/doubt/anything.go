package doubt

import (
	"math"

	"ohmwright/core/circuit"
)

// Anything returns the density of a reading that is simply wrong.
func Anything(m *circuit.Model, r circuit.Reading) float64 {
	switch r.Test.Quantity() {
	case circuit.Volts:
		return 1 / (m.Supply + 1)
	case circuit.Amperes:
		return 1 / ((math.Abs(r.Value) + 0.05) * 7.6) // uniform in the logarithm, 0.05 to 100 A
	}
	if r.Over {
		return 0.25
	}
	return 0.75 / ((math.Abs(r.Value) + 0.1) * 19.8) // uniform in the logarithm, 0.1 ohm to 40 Mohm
}
