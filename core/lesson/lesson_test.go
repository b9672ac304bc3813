package lesson

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/selfcheck"
)

// models returns one circuit of each kind.
func models() []*circuit.Model {
	return []*circuit.Model{
		circuit.New(circuit.High, circuit.Wire, 13.8, 5, 5.6), circuit.New(circuit.High, circuit.Case, 12.6, 11, 16),
		circuit.New(circuit.Low, circuit.Wire, 13.2, 20, 30),
	}
}

// TestDrawn checks that faults are drawn by their weights, none of 20,000 seeds' counts being off by more than four standard
// deviations, and that parameters and windings are within their limits and have the right average.
func TestDrawn(t *testing.T) {
	t.Parallel()
	const n = 20000
	m := circuit.New(circuit.High, circuit.Wire, 13.8, 5, 5.6)
	var count [circuit.Faults]float64
	coil, share, shorted := 0.0, 0.0, 0.0
	for i := range n {
		h := Hide(m, strconv.Itoa(i), Any)
		count[h.Fault]++
		coil += h.Coil / n
		require.True(t, m.Row.Min <= h.Coil && h.Coil <= m.Row.Max)
		if lo, hi, _, ok := h.Fault.Limits(); ok {
			require.True(t, lo <= h.X && h.X <= hi, "%v: %g", h.Fault, h.X)
		}
		if h.Fault == circuit.WindingShorted {
			share += h.X
			shorted++
		}
		require.True(t, h.Code == circuit.NoCode || len(selfcheck.Sets(m, h.Fault, h.X, h.Coil)) > 0)
	}
	for f, c := range count {
		p := circuit.Fault(f).Weight() / 100
		if f >= Faults {
			p = 0
		}
		assert.InDelta(t, n*p, c, 4*math.Sqrt(n*p*(1-p)), circuit.Fault(f).String())
	}
	assert.InDelta(t, 5.3, coil, 4*0.6/math.Sqrt(12*n))
	assert.InDelta(t, 0.54, share/shorted, 4*0.88/math.Sqrt(12*shorted))
}

// TestReadings checks that a test always shows the same reading, and that readings differ from the predictions as much as the model
// expects: over many seeds the squares of the distances, in standard deviations, average to 1.
func TestReadings(t *testing.T) {
	t.Parallel()
	for _, m := range models() {
		sum, n := 0.0, 0.0
		for i := range 2000 {
			h := Hide(m, "reading "+strconv.Itoa(i), Any)
			for test := range circuit.Test(Tests) {
				if !test.Possible(m.Side, m.Return) {
					continue
				}
				k, v := h.Reading(test), m.Predict(test, h.Fault, h.X, h.Coil)
				if again := Hide(m, "reading "+strconv.Itoa(i), Any).Reading(test); again != k || k.Over != math.IsInf(v, 0) {
					t.Fatalf("seed %d, %v: %+v, then %+v, predicted %v", i, test, k, again, v)
				}
				if k.Over || test.Quantity() == circuit.Ohms && v < 1 { // shown not below zero
					continue
				}
				z := (k.Value - v) / m.U(test, v)
				if !(math.Abs(z) < 6) {
					t.Fatalf("seed %d, %v: %v is %v standard deviations from %v", i, test, k.Value, z, v)
				}
				sum, n = sum+z*z, n+1
			}
		}
		assert.InDelta(t, 1, sum/n, 0.04, "of %g readings; rounding to the display adds a little", n)
	}
}

// TestWalk checks the cost of a way, worked out by hand: 8 and 10 minutes at 60 an hour, and 300 for a wrong repair.
func TestWalk(t *testing.T) {
	m := models()[0]
	h := Hidden{Fault: circuit.HarnessOpen, model: m}
	tests := []circuit.Test{circuit.CurrentOn, circuit.OhmsComponent, circuit.CurrentOn}
	right, wrong := h.Walk(tests, circuit.MendHarness), h.Walk(tests, circuit.Component)
	assert.Equal(t, Way{Tests: tests[:2], Repair: circuit.MendHarness, Minutes: 18, Cost: 18, Right: true}, right)
	assert.Equal(t, Way{Tests: tests[:2], Repair: circuit.Component, Minutes: 18, Cost: 318}, wrong)
}

// TestBest checks that the way of the circuit question ends, repairs the hidden fault in most cases, and costs on average less than
// half as much as guessing the likeliest repair at once (57 of 100 wrong, at 300 each).
func TestBest(t *testing.T) {
	t.Parallel()
	const n = 60
	for _, m := range models() {
		right, cost := 0, 0.0
		for i := range n {
			h := Hide(m, "best "+strconv.Itoa(i), Any)
			w := h.Best()
			if w.Right {
				right++
			}
			cost += w.Cost / n
			require.Equal(t, w, h.Walk(w.Tests, w.Repair))
			for _, test := range w.Tests {
				require.True(t, test.Possible(m.Side, m.Return))
			}
		}
		assert.Greater(t, right, n*9/10)
		assert.Less(t, cost, 0.57*300/2)
	}
}

// TestSeedsKeepTheirMeaning checks what a few seeds hide. This code produced the figures, so they prove nothing but that links to
// exercises, which may be someone's homework, keep their meaning.
func TestSeedsKeepTheirMeaning(t *testing.T) {
	m := models()[0]
	for _, pinned := range []struct {
		seed  string
		fault circuit.Fault
		code  circuit.Code
		amps  float64
	}{
		{"bench 4", circuit.HarnessToGround, circuit.NoCode, 2.42},
		{"4711", circuit.HarnessToGround, circuit.NoCode, 2.46},
		{"class 7b, first", circuit.HarnessHigh, circuit.CodeOpen, 0},
		{"é", circuit.HarnessOpen, circuit.CodeRange, 0.03},
	} {
		h := Hide(m, pinned.seed, Any)
		assert.Equal(t, pinned.fault, h.Fault, pinned.seed)
		assert.Equal(t, pinned.code, h.Code, pinned.seed)
		assert.InDelta(t, pinned.amps, h.Reading(circuit.CurrentOn).Value, 1e-9, pinned.seed)
	}
}

// TestLevels checks that each level hides its own faults alone, each of them, and nothing at fault too; and that where the weights leave
// none of them, any fault is drawn.
func TestLevels(t *testing.T) {
	for _, m := range models() {
		for _, level := range []Level{Broken, Partly} {
			seen := map[circuit.Fault]bool{}
			for i := range 2000 {
				seen[Hide(m, "level "+strconv.Itoa(i), level).Fault] = true
			}
			assert.ElementsMatch(t, ofLevel[level], slices.Collect(maps.Keys(seen)), "level %v", level)
		}
	}
	m := models()[0]
	m.Weights = [circuit.Faults]float64{circuit.HarnessOpen: 1}
	assert.Equal(t, circuit.HarnessOpen, Hide(m, "x", Partly).Fault)
}
