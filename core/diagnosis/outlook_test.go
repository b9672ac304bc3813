package diagnosis

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
	"ohmwright/core/measure"
	"ohmwright/testdata"
)

// dividing returns what a test tells of the fault, in bits, if its values are divided at some edges.
func dividing(t circuit.Test, list []evidence.Scenario, edges []float64) float64 {
	by := make([][circuit.Faults]float64, len(edges)+2)
	for i := range list {
		c := &list[i]
		d := c.Shows[t]
		switch {
		case c.Plain:
			continue
		case math.IsInf(d.Value, 0):
			by[len(edges)+1][c.Fault] += c.Mass
			continue
		}
		below := 0.0
		for k, e := range edges {
			q := measure.Normal((e - d.Value) / d.U)
			by[k][c.Fault] += (q - below) * c.Mass
			below = q
		}
		by[len(edges)][c.Fault] += (1 - below) * c.Mass
	}
	return bits(by)
}

// everywhere returns hundreds of edges, about every value that a test may show.
func everywhere(t circuit.Test, list []evidence.Scenario) (edges []float64) {
	for i := range list {
		if d := list[i].Shows[t]; !list[i].Plain && !math.IsInf(d.Value, 0) {
			for z := -3.0; z <= 3; z++ {
				edges = append(edges, d.Value+z*d.U)
			}
		}
	}
	slices.Sort(edges)
	return slices.Compact(edges)
}

// TestFewOutcomesTellEnough checks that the few outcomes into which a test's values are divided tell nearly what hundreds would.
func TestFewOutcomesTellEnough(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(38, 26))
	few, many, least := 0.0, 0.0, 1.0
	for range testdata.Several(60) {
		m, _, readings := someCase(r, 3)
		weighed := evidence.Weigh(m, readings)
		w := prospect{weighed, weighed.Model()}
		list := w.Scenarios(w.Chances(), w.possible())
		for k := range circuit.Test(circuit.Tests) {
			if !w.possible().Has(k) || k.Quantity() > circuit.Degrees {
				continue
			}
			o := w.outlook(k, list)
			require.LessOrEqual(t, o.n, bins)
			one, all := dividing(k, list, o.edges), dividing(k, list, everywhere(k, list))
			few, many = few+one, many+all
			if all > 0.05 {
				least = min(least, one/all)
			}
		}
	}
	t.Logf("%.1f of %.1f bits; of one test at least %.2f", few, many, least)
	assert.Greater(t, few, 0.93*many)
	assert.Greater(t, least, 0.4)
}

// TestRareOutcomeCounts checks a test with an outcome that is rare, and decides: nothing across the test load, of a driver that probably
// works, where a high resistance in its feed may give any volts. By hand: 0 V, with a probability of 0.08, takes the harness from 0.55 to
// nothing, which is at least 0.28 bit.
func TestRareOutcomeCounts(t *testing.T) {
	m := circuit.New(circuit.High, circuit.Case, 13.5, 11, 15)
	m.Stage = circuit.Plain
	f := Find(m, []circuit.Reading{is(circuit.VoltsHarnessOpen, 0), is(circuit.OhmsComponent, 13)})
	load := f.Next[slices.IndexFunc(f.Next, func(n Next) bool { return n.Test == circuit.VoltsLoad })]
	assert.Greater(t, load.Bits, 0.28)
	assert.Positive(t, load.Value)
}
