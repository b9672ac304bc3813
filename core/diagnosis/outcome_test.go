package diagnosis

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/testdata"
)

// shows reports whether a reading is of an outcome.
func (o *Outcome) shows(k circuit.Reading) bool {
	if o.Over || o.Word != circuit.NoWord {
		return k.Over == o.Over && k.Word == o.Word
	}
	return !k.Over && k.Value >= o.From && k.Value <= o.To
}

// TestOutcomesAreAsLikelyAsTheySay draws circuits by their weights, reads the test that comes first on each, and counts: how often each
// outcome is there, and how often its repair is then the right one.
func TestOutcomesAreAsLikelyAsTheySay(t *testing.T) {
	t.Parallel()
	const worlds = 6000
	outcomes := 0
	for i, m := range usual() {
		r := rand.New(rand.NewPCG(uint64(i), 28))
		next := Find(m, nil).outcomesOf(t, m)
		weighed := *m
		for f := range weighed.Weights {
			weighed.Weights[f] *= m.ShowsNow(circuit.Fault(f)) // some are away while it is measured
		}
		var seen, right [20]float64
		for range worlds {
			f := drawn(r, &weighed)
			k := anyWorld(r, m, f).reads(r, next.Test)
			if f == circuit.Other && r.IntN(2) == 0 { // half of that reads anything
				k.Value = -1
			}
			for j := range next.Outcomes {
				if o := &next.Outcomes[j]; o.shows(k) {
					seen[j]++
					if m.Repair(f) == o.Repair {
						right[j]++
					}
				}
			}
		}
		for j, o := range next.Outcomes {
			outcomes++
			assert.InDelta(t, seen[j]/worlds, o.P, 0.02, "%v: %+v", next.Test, o)
			if seen[j] > 150 {
				assert.InDelta(t, right[j]/seen[j], o.RepairP, 0.1, "%v: %+v, %v of %v", next.Test, o, right[j], seen[j])
			}
		}
	}
	assert.Greater(t, outcomes, 8)
}

// outcomesOf returns the test that comes first, with its outcomes.
func (f Finding) outcomesOf(t *testing.T, m *circuit.Model) Next {
	t.Helper()
	require.NotEmpty(t, f.Next, "%+v", m)
	next := f.Next[0]
	next.Outcomes = f.outcomes(next.Test)
	return next
}

// TestOutcomesMeanWhatTheySay checks that what an outcome says of its repair lies within what is answered after values inside it, and that
// none of the faults is among what it may be.
func TestOutcomesMeanWhatTheySay(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(35, 26))
	ranges, off := 0, 0
	for range testdata.Several(120) {
		m, _, readings := someCase(r, 3)
		d := Question{m, readings}.Diagnose()
		if d.Decision.Do != MakeTest {
			continue
		}
		for _, o := range d.Next[0].Outcomes {
			least, most := 1.0, 0.0
			for range 12 {
				_, repairs := likely(m, append(slices.Clone(readings), inside(r, m, d.Decision.Test, o)))
				least, most = min(least, repairs[o.Repair]), max(most, repairs[o.Repair])
			}
			ranges++
			if o.RepairP < least-0.05 || o.RepairP > most+0.05 {
				off++
				t.Logf("%v %+v: %.3f to %.3f; %s", d.Decision.Test, o, least, most, about(m, readings))
			}
			assert.LessOrEqual(t, o.FaultP, o.RepairP+1e-12)
			assert.False(t, math.IsNaN(o.P+o.RepairP+o.FaultP))
		}
	}
	t.Logf("%d of %d off", off, ranges)
	assert.Less(t, float64(off), 0.03*float64(ranges))
}
