package circuit_test

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/circuit"
)

// The contract's spread, and how often weigh.go takes a reading to be simply wrong.
const (
	slipped    = 1e-3
	ohmsSpread = 0.12
	voltSpread = 0.06
)

// uncertainty returns the standard deviation that the contract gives a test's reading.
func uncertainty(k circuit.Test, v float64) float64 {
	v = math.Abs(v)
	spread, half := ohmsSpread, 0.0
	switch k.Quantity() {
	case circuit.Volts:
		spread, half = voltSpread, 0.005*v+2*0.01
	case circuit.Amperes:
		spread, half = 0.03*v+0.02, 0.02*v+3*0.01
	default:
		count := 1e3
		for _, r := range [][2]float64{{40e3, 10}, {4e3, 1}, {400, 0.1}} {
			if v < r[0] {
				count = r[1]
			}
		}
		half = 0.01*v + 2*count
	}
	return math.Sqrt(spread*spread + half*half/3)
}

// likelihood returns the likelihood of a reading under a prediction: normal, or the probability that the display shows 0 or OL;
// and one in a thousand readings may be anything.
func likelihood(m *circuit.Model, k circuit.Reading, prediction float64) float64 {
	var right, wrong float64
	ohms, none := k.Test.Quantity() == circuit.Ohms, math.IsInf(prediction, 1)
	u := uncertainty(k.Test, prediction)
	switch {
	case k.Over && none:
		right = 1
	case k.Over || none:
	case ohms && k.Value == 0:
		const count = 0.1
		right = (1 + math.Erf((count/2-prediction)/(u*math.Sqrt2))) / 2 / count
	default:
		z := (k.Value - prediction) / u
		right = math.Exp(-z*z/2) / (u * math.Sqrt(2*math.Pi))
	}
	switch {
	case k.Over:
		wrong = 0.25
	case ohms:
		wrong = 0.75 / (k.Value + 0.1) / math.Log(40e6/0.1)
	case k.Test.Quantity() == circuit.Volts:
		wrong = 1 / (m.Supply + 1)
	default:
		wrong = 1 / (k.Value + 0.05) / math.Log(100/0.05)
	}
	return (1-slipped)*right + slipped*wrong
}

// integrated returns the faults' probabilities, integrated over an even grid of parameters and windings.
func integrated(m *circuit.Model, readings []circuit.Reading, values, windings int) (p [circuit.Faults]float64) {
	sum := 0.0
	for f := range circuit.Fault(circuit.Faults) {
		lo, hi, log, ok := f.Limits()
		n := 1
		if ok {
			n = values
		}
		for i := range n {
			x := 0.0
			if ok {
				x = between(lo, hi, log, (float64(i)+0.5)/float64(n))
			}
			for j := range windings {
				coil := between(m.Min, m.Max, false, (float64(j)+0.5)/float64(windings))
				l := 1.0
				if m.Code != circuit.NoCode && !slices.Contains(m.Sets(f, x, coil), m.Code) {
					l = 0.05
				}
				for _, k := range readings {
					l *= likelihood(m, k, m.Predict(k.Test, f, x, coil))
				}
				p[f] += l * f.Weight() / float64(n*windings)
			}
		}
		sum += p[f]
	}
	for f := range p {
		p[f] /= sum
	}
	return p
}

// integralCases are readings for TestTheIntegral, with the grid that each needs. 750 values of the parameter instead of 3,000 change
// no probability by more than 1e-4, a hundredth of what the test allows.
var integralCases = []struct {
	m                *circuit.Model
	readings         []circuit.Reading
	values, windings int
}{
	{coded(usual()[0], circuit.CodeLow), nil, 750, 16},
	{coded(usual()[2], circuit.CodeRange), []circuit.Reading{is(circuit.OhmsUnit, 19.2)}, 750, 16},
	{usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 4.9)}, 750, 16},
	{usual()[0], []circuit.Reading{is(circuit.OhmsUnit, 7.1), is(circuit.OhmsComponent, 5.6)}, 750, 16},
	{usual()[1], []circuit.Reading{is(circuit.OhmsComponent, 6.2), is(circuit.VoltsPinOn, 13.1)}, 750, 24},
	{usual()[1], []circuit.Reading{is(circuit.OhmsUnit, 0), is(circuit.CurrentOn, 30)}, 750, 24},
	{usual()[2], []circuit.Reading{is(circuit.CurrentOn, 0.55), is(circuit.VoltsReturn, 0.3)}, 750, 24},
	{usual()[2], []circuit.Reading{ol(circuit.InsulationHarness), is(circuit.VoltsPinOff, 11.9), is(circuit.VoltsPinOn, 1.1)}, 750, 16},
	{usual()[3], []circuit.Reading{is(circuit.OhmsUnit, 365), is(circuit.OhmsHarness, 52)}, 750, 48},
	// Readings that contradict each other.
	{usual()[0], []circuit.Reading{ol(circuit.OhmsHarness), is(circuit.OhmsUnit, 5.6), is(circuit.CurrentOn, 2.2)}, 750, 16},
	{usual()[0], []circuit.Reading{ol(circuit.OhmsHarness), is(circuit.CurrentOn, 2.2)}, 750, 16},
	// A code that a healthy circuit sets with only some windings, and a fault with only some parameters and windings.
	{coded(usual()[1], circuit.CodeLow), nil, several(500), 200},
	{coded(usual()[1], circuit.CodeRange), []circuit.Reading{is(circuit.OhmsHarness, 0.26), is(circuit.VoltsPinOn, 13.48)}, several(500), 200},
	{coded(usual()[2], circuit.CodeHigh),
		[]circuit.Reading{is(circuit.OhmsHarness, 0), is(circuit.VoltsReturn, 0), is(circuit.VoltsPinOff, 12.24)}, several(500), 200},
	// A display that stops at 0, and a parameter at the end of its range.
	{usual()[1], []circuit.Reading{is(circuit.OhmsWinding, 0), is(circuit.VoltsHarnessOpen, 0)}, 750, 24},
	{usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 0), is(circuit.InsulationComponent, 1.14)}, 750, 16},
}

// TestTheIntegral compares the probabilities with those of a fine even grid. The likelihood is written from the contract.
func TestTheIntegral(t *testing.T) {
	for i, c := range integralCases {
		t.Run(strconv.Itoa(i), func(t *testing.T) {
			t.Parallel()
			want := integrated(c.m, c.readings, c.values, c.windings)
			got, _ := chances(c.m.Find(c.readings))
			worst := 0.0
			for f := range want {
				worst = max(worst, math.Abs(got[f]-want[f]))
				assert.InDelta(t, want[f], got[f], 0.01, "%v: %s", circuit.Fault(f), written(c.readings))
			}
			t.Logf("off by at most %.5f", worst)
		})
	}
}
