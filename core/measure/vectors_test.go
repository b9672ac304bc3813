package measure

import (
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/testdata"
)

// run compares a function with each of its vectors.
func run(t *testing.T, name string, give func(args map[string]any) map[string]any) {
	vs, err := testdata.OfFunc(name)
	require.NoError(t, err)
	for _, v := range vs {
		t.Run(v.ID, func(t *testing.T) { require.NoError(t, v.CheckValue(give(v.In.Args))) })
	}
}

func TestVectorsOfMeter(t *testing.T) {
	run(t, "measure.Meter", func(a map[string]any) map[string]any {
		m := Meter{a["percent"].(float64), a["counts"].(float64), a["resolution"].(float64)}
		r := a["reading"].(float64)
		return map[string]any{"half_width": m.HalfWidth(r), "u": m.U(r)}
	})
}

func TestVectorsOfMetered(t *testing.T) {
	run(t, "measure.Metered", func(a map[string]any) map[string]any {
		m := Meter{a["percent"].(float64), a["counts"].(float64), a["resolution"].(float64)}
		r, other := m.Read(a["reading"].(float64)), m.Read(a["other"].(float64))
		common, own := m.Split(r.Value)
		ratio := r.Over(other).Estimate()
		return map[string]any{"common": common, "own": own, "u": r.Estimate().U, "u_difference": r.Minus(other).Estimate().U,
			"ratio": ratio.Value, "u_ratio": ratio.U}
	})
}

func TestVectorsOfRectangular(t *testing.T) {
	run(t, "measure.Rectangular", func(a map[string]any) map[string]any {
		return map[string]any{"u": Rectangular(a["a"].(float64))}
	})
}

func TestVectorsOfCombine(t *testing.T) {
	run(t, "measure.Combine", func(a map[string]any) map[string]any {
		var us []float64
		for _, u := range a["us"].([]any) {
			us = append(us, u.(float64))
		}
		return map[string]any{"u": Combine(us...)}
	})
}

func TestVectorsOfConform(t *testing.T) {
	run(t, "measure.Conform", func(a map[string]any) map[string]any {
		b := Everything()
		if v, ok := a["min"].(float64); ok {
			b.Min = v
		}
		if v, ok := a["max"].(float64); ok {
			b.Max = v
		}
		c := Conform(Estimate{a["value"].(float64), a["u"].(float64)}, b)
		return map[string]any{"below": c.Below, "within": c.Within, "above": c.Above, "verdict": string(c.Verdict())}
	})
}
