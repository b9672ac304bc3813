package diagnosis

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/circuit"
)

// held is a circuit whose driver holds a current, at 20 °C.
func held(supply, lo, hi, set float64, readings ...circuit.Reading) Question {
	m := circuit.New(circuit.High, circuit.Wire, supply, lo, hi)
	m.Warmth = circuit.Warmth{Known: true, At: 20, Within: circuit.WarmthWithin}
	m.Stage, m.Set = circuit.Regulated, set
	return Question{Model: m, Readings: readings}
}

// TestWeakDriverThatHolds: a driver of 54 Ω lets 0.32 A through the winding and 24.5 V × 12/(12 + 54) = 4.45 V stand across the test load,
// by Ohm's law; a sound one that holds 0.54 A would have 6.5 V there.
func TestWeakDriverThatHolds(t *testing.T) {
	d := held(24.5, 20, 24, 0.54,
		circuit.Reading{Test: circuit.OhmsComponent, Value: 22.1}, circuit.Reading{Test: circuit.OhmsUnit, Value: 22.4},
		circuit.Reading{Test: circuit.VoltsUnitFeed, Value: 24.5}, circuit.Reading{Test: circuit.VoltsUnitGround, Value: 0.02},
		circuit.Reading{Test: circuit.CurrentOn, Value: 0.32}, circuit.Reading{Test: circuit.VoltsPinOn, Value: 7.18},
		circuit.Reading{Test: circuit.VoltsLoad, Value: 4.45}).Judge()
	assert.Equal(t, circuit.ControlUnit, d.Repair)
	assert.Greater(t, d.RepairP, 0.95)
}

// TestHeldOnTheLoad: 0.25 A is held through the winding, and through the test load: 3.00 V across 12 Ω. Nothing accuses the control unit.
func TestHeldOnTheLoad(t *testing.T) {
	d := held(50, 80, 120, 0.25,
		circuit.Reading{Test: circuit.OhmsComponent, Value: 105}, circuit.Reading{Test: circuit.OhmsUnit, Value: 105.3},
		circuit.Reading{Test: circuit.VoltsUnitFeed, Value: 50}, circuit.Reading{Test: circuit.VoltsUnitGround, Value: 0.05},
		circuit.Reading{Test: circuit.CurrentOn, Value: 0.25}, circuit.Reading{Test: circuit.VoltsPinOn, Value: 26.3},
		circuit.Reading{Test: circuit.VoltsLoad, Value: 3.00}).Judge()
	assert.NotEqual(t, circuit.ControlUnit, d.Repair)
}
