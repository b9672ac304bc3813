package diagnosis

import (
	"fmt"
	"testing"

	"ohmwright/core/circuit"
)

// benchReadings are readings of a control wire with 40 ohm too much, in a plausible order.
var benchReadings = []circuit.Reading{
	{Test: circuit.CurrentOn, Value: 0.27}, {Test: circuit.OhmsUnit, Value: 45.6}, {Test: circuit.OhmsComponent, Value: 5.4},
	{Test: circuit.VoltsPinOn, Value: 12.55}, {Test: circuit.OhmsHarness, Value: 40.3}, {Test: circuit.VoltsReturn, Value: 0.02},
	{Test: circuit.VoltsPinOff, Value: 0.03}, {Test: circuit.InsulationHarness, Over: true}, {Test: circuit.VoltsLoad, Value: 12.4},
	{Test: circuit.VoltsHarnessOpen, Value: 0}, {Test: circuit.InsulationComponent, Over: true}, {Test: circuit.OhmsWinding, Value: 5.3},
}

// BenchmarkFind measures one answer with the next test, for each number of readings.
func BenchmarkFind(b *testing.B) {
	m := usual()[0]
	for n := range len(benchReadings) + 1 {
		b.Run(fmt.Sprintf("readings=%d", n), func(b *testing.B) {
			for b.Loop() {
				Question{Model: m, Readings: benchReadings[:n]}.Diagnose()
			}
		})
	}
}

// BenchmarkFindWide measures the same for wider specifications, which need more values of the winding.
func BenchmarkFindWide(b *testing.B) {
	for _, width := range []float64{0.6, 2, 8, 30} {
		m := circuit.New(circuit.High, circuit.Wire, 12.6, 5, 5+width)
		b.Run(fmt.Sprintf("ohms=%g", width), func(b *testing.B) {
			for b.Loop() {
				Question{Model: m, Readings: benchReadings[:4]}.Diagnose()
			}
		})
	}
}

// BenchmarkFindSurprised measures an answer that no single fault fits, so that pairs are searched.
func BenchmarkFindSurprised(b *testing.B) {
	m := usual()[0]
	readings := append([]circuit.Reading{{Test: circuit.OhmsHarness, Over: true}}, benchReadings[:4]...)
	for b.Loop() {
		Question{Model: m, Readings: readings}.Diagnose()
	}
}

// BenchmarkFindLook measures an answer whose next test looks at what was typed once for all readings: what it would mean is weighed anew.
func BenchmarkFindLook(b *testing.B) {
	m := circuit.New(circuit.High, circuit.Case, 13.8, 5, 5.6)
	m.Code = circuit.CodeLow
	hot := Question{Model: m, Readings: []circuit.Reading{
		{Test: circuit.OhmsComponent, Value: 6.9}, {Test: circuit.OhmsUnit, Value: 7.3}, {Test: circuit.CurrentOn, Value: 1.8},
	}}
	for b.Loop() {
		hot.Diagnose()
	}
}
