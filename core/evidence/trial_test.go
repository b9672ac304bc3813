package evidence

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/circuit"
)

// What is none of the faults reads half as a healthy circuit does, also where no healthy circuit is left: the readings are of a high
// resistance in the control unit's feed.
func TestTrialKeepsHealthy(t *testing.T) {
	m := circuit.New(circuit.High, circuit.Wire, 12.6, 5, 5.6)
	m.Code, m.Present, m.Stage = circuit.CodeHigh, circuit.ShowsNot, circuit.Plain
	readings := []circuit.Reading{
		{Test: circuit.VoltsPinOn, Value: 0.94}, {Test: circuit.VoltsLoad, Value: 1.44}, {Test: circuit.VoltsPinOff, Value: -0.06},
	}
	const step = 0.01
	var values []float64
	for v := 0.0; v < 15; v += step {
		values = append(values, v)
	}
	w := Weigh(m, readings)
	assert.Less(t, w.Chances()[circuit.None], 1e-12)
	sum := 0.0
	for _, q := range w.Try(readings, circuit.VoltsUnitFeed, values).by.Densities()[circuit.Faults] {
		sum += q * step
	}
	assert.InDelta(t, 1, sum, 1e-3)
}

// What drivers may do is kept in a bit each.
func TestActsHaveRoom(t *testing.T) {
	for stage := range circuit.Stage(circuit.Stages) {
		m := circuit.New(circuit.High, circuit.Wire, 12.6, 5, 35)
		m.Code, m.Stage, m.Warmth.Known = circuit.CodeHigh, stage, false
		w := Weigh(m, []circuit.Reading{is(circuit.CurrentOn, 0.5), is(circuit.VoltsLoad, 8)})
		assert.Greater(t, len(w.acts), 1)
		assert.LessOrEqual(t, len(w.acts), mostActs)
	}
}
