package circuit

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/testdata"
)

// TestSweep compares what a sweep tells, for every fault in each of its ways, at parameters over its whole range and windings from a
// fifth to five times, with the changed network solved anew.
func TestSweep(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(19, 50))
	compared, worst := 0, 0.0
	rounds := testdata.Several(6)
	for range rounds {
		for _, m := range []*Model{New(High, Wire, 12.6, 5, 6), New(High, Case, 13.8, 9, 14), New(Low, Wire, 27, 280, 340)} {
			n := Nominal{Driver: wide(r, 0.05, 1), Harness: wide(r, 0.02, 1), Lead: wide(r, 0.02, 0.5), Path: wide(r, 0.01, 0.5),
				Source: wide(r, 0.005, 0.1), Pull: wide(r, 5e3, 1e5)}
			wanted := electrical(m.Side, m.Return) | InsideToo
			for f := range Fault(Faults) {
				for way := range f.Ways() {
					var s Sweep
					var w Wound
					coil := (m.Row.Min + m.Row.Max) / 2
					m.Sweep(&n, f, way, m.Parameter(f, 0.5), coil, wanted, &s)
					for _, times := range [...]float64{0.2, 1, 5} {
						s.Wind(coil*times, &w)
						for _, u := range [...]float64{0, 0.1, 0.5, r.Float64(), 1} {
							x := m.Parameter(f, u)
							var swept, anew View
							w.At(x, &swept)
							c := m.Chain(&n, coil*times).With(f, x, way)
							c.Predict(wanted, &anew)
							off := apartViews(&swept, &anew)
							require.Less(t, off, 1e-7, "%v in way %d, parameter %g, winding %g ohm, %+v", f, way, x, coil*times, *m)
							worst = max(worst, off)
							compared++
						}
					}
				}
			}
		}
	}
	require.Greater(t, compared, 1700*rounds)
	t.Logf("%d circuits compared, off by at most %.1e of a reading", compared, worst)
}

// apartViews returns by how much two views differ at most: a reading beside itself, a slope beside the largest of its reading.
func apartViews(a, b *View) (off float64) {
	sights := func(v *View) (list []Sight) {
		return append(append(append(list, v.On[:]...), v.Off[:]...), v.Inside[:]...)
	}
	all, other := sights(a), sights(b)
	for k := range all {
		x, y := all[k], other[k]
		if math.IsInf(x.Value, 1) && math.IsInf(y.Value, 1) {
			continue
		}
		off = max(off, math.Abs(x.Value-y.Value)/max(1e-3, math.Abs(y.Value)))
		most := 1e-3
		for _, by := range y.By {
			most = max(most, math.Abs(by))
		}
		for knob := range x.By {
			off = max(off, math.Abs(x.By[knob]-y.By[knob])/most)
		}
	}
	return max(off, math.Abs(a.Volts-b.Volts))
}
