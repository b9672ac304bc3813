package evidence

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/testdata"
)

// passable draws a circuit with a row of some width, what is known of its temperature, and readings on it with a fault.
func passable(r *rand.Rand) (*circuit.Model, []circuit.Reading) {
	m := usual()[r.IntN(4)]
	m.Row.Max = m.Row.Min * wide(r, 1.1, 6)
	m.Warmth.Known = nowAndThen(r, 2)
	m.Code = circuit.Code(r.IntN(circuit.Codes))
	w := anyWorld(r, m, circuit.Fault(r.IntN(int(circuit.Other))))
	tests := measured(m)
	r.Shuffle(len(tests), func(i, j int) { tests[i], tests[j] = tests[j], tests[i] })
	var readings []circuit.Reading
	for _, t := range tests[:1+r.IntN(5)] {
		readings = append(readings, w.reads(r, t))
	}
	return m, readings
}

// TestPassedOver compares the probabilities with those where no piece of the winding and no part of a parameter is passed over. They may
// be off by 1e-3, nine of ten by 1e-4.
func TestPassedOver(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(12, 27))
	var off []float64
	for range testdata.Several(500) {
		m, readings := passable(r)
		whole := newWeigher(m, readings)
		whole.thorough = true
		whole.all()
		got, want := Weigh(m, readings).Chances(), whole.Chances()
		most := 0.0
		for f := range want {
			most = max(most, math.Abs(got[f]-want[f]))
		}
		require.LessOrEqual(t, most, 1e-3, written(readings))
		off = append(off, most)
	}
	slices.Sort(off)
	require.LessOrEqual(t, off[len(off)*9/10], 1e-4)
	t.Logf("off by %.1g in the median, %.1g in nine of ten, %.1g at most", off[len(off)/2], off[len(off)*9/10], off[len(off)-1])
}
