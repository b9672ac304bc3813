package fastener_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

const (
	inchPound = 1129848290276167 / 1e16
	footPound = 12 * inchPound
)

func TestWrenchPermitted(t *testing.T) {
	for _, c := range []struct {
		kind fastener.WrenchKind
		max  quantity.Torque
		want quantity.Ratio
		seen bool // in a maker's restatement of ISO 6789; else from memory
	}{
		{fastener.Click, 60, 0.04, true}, {fastener.Click, 10.1, 0.04, true}, {fastener.Click, 10, 0.06, true}, {fastener.Click, 5, 0.06, true},
		{fastener.Beam, 60, 0.06, false}, {fastener.Beam, 5, 0.06, false}, {fastener.Electronic, 60, 0.04, false},
		{fastener.Electronic, 10, 0.06, false},
	} {
		assert.Equal(t, c.want, fastener.Wrench{Kind: c.kind, Max: c.max}.Permitted(), "%s to %v N·m", c.kind, c.max)
	}
	assert.Equal(t, quantity.Ratio(0.06), fastener.Wrench{}.Permitted(), "a scale that is not known: the wider")
}

func TestWrenchCheck(t *testing.T) {
	for _, c := range []struct {
		why     string
		wrench  fastener.Wrench
		setting quantity.Torque
		want    string
	}{
		{"7 N·m on a 60 N·m wrench", fastener.Wrench{Max: 60}, 7, "below_20_percent"},
		{"a fifth of it", fastener.Wrench{Max: 60}, 12, "usable"},
		{"a fifth of 50 ft-lb, in ft-lb", fastener.Wrench{Max: 50 * footPound}, 10 * footPound, "usable"},
		{"a fifth of 150 in-lb", fastener.Wrench{Max: 150 * inchPound}, 30 * inchPound, "usable"},
		{"its end", fastener.Wrench{Max: 60}, 60, "usable"},
		{"past its end", fastener.Wrench{Max: 60}, 60.1, "above_scale"},
		{"below the lowest mark", fastener.Wrench{Min: 15, Max: 60}, 14, "below_scale"},
		{"on the scale and below a fifth", fastener.Wrench{Min: 5, Max: 60}, 7, "below_20_percent"},
		{"a beam's scale from 0", fastener.Wrench{Kind: fastener.Beam, Max: 60}, 7, "below_20_percent"},
		{"an electronic one from its lowest mark", fastener.Wrench{Kind: fastener.Electronic, Min: 6, Max: 60}, 7, "usable"},
		{"and below it", fastener.Wrench{Kind: fastener.Electronic, Min: 6, Max: 60}, 5, "below_scale"},
		{"an electronic one without", fastener.Wrench{Kind: fastener.Electronic, Max: 60}, 7, "below_20_percent"},
		{"nothing known", fastener.Wrench{}, 7, "usable"},
		{"the end alone not known", fastener.Wrench{Min: 5}, 7, "usable"},
		{"the same, below", fastener.Wrench{Min: 5}, 4, "below_scale"},
	} {
		assert.Equal(t, c.want, c.wrench.Check(c.setting).String(), c.why)
	}
	assert.Equal(t, quantity.Torque(12), fastener.Wrench{Max: 60}.Least())
	assert.Equal(t, quantity.Torque(15), fastener.Wrench{Min: 15, Max: 60}.Least())
	assert.Equal(t, quantity.Torque(6), fastener.Wrench{Kind: fastener.Electronic, Min: 6, Max: 60}.Least())
}

func TestWrenchMarks(t *testing.T) {
	for _, c := range []struct{ graduation, setting, below, above quantity.Torque }{
		{0.5, 10.17, 10, 10.5}, {0.5, 10, 10, 10}, {0.1, 0.3, 0.3, 0.3}, {2, 1, 0, 2},
		{5 * inchPound, 72 * inchPound, 70 * inchPound, 75 * inchPound},
		{5 * inchPound, 75 * inchPound, 75 * inchPound, 75 * inchPound}, {0.5, 10 + 4e-10, 10, 10}, {0.5, 10 + 1e-8, 10, 10.5},
		{0.5, 10 - 1e-8, 9.5, 10},
		{0, 10.17, 10.17, 10.17}, {-1, 3.3, 3.3, 3.3}, {1e-300, 10, 10, 10},
	} {
		below, above := fastener.Wrench{Graduation: c.graduation}.Marks(c.setting)
		assert.InDelta(t, float64(c.below), float64(below), 1e-12, "%+v", c)
		assert.InDelta(t, float64(c.above), float64(above), 1e-12, "%+v", c)
	}
	r := rand.New(rand.NewPCG(7, 3))
	for range 2000 {
		g := quantity.Torque([]float64{0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 5, 10, inchPound, 5 * inchPound, 2 * footPound}[r.IntN(12)])
		set := quantity.Torque(200 * r.Float64())
		below, above := fastener.Wrench{Graduation: g}.Marks(set)
		assert.LessOrEqual(t, below, set*(1+1e-12))
		assert.GreaterOrEqual(t, above, set*(1-1e-12))
		assert.InDelta(t, float64(g), float64(above-below), float64(g)*1e-9)
		for _, m := range []quantity.Torque{below, above} {
			n := float64(m / g)
			assert.InDelta(t, math.Round(n), n, 1e-9, "a multiple")
			if m == 0 { // there is none
				continue
			}
			lo, hi := fastener.Wrench{Graduation: g}.Marks(m)
			assert.Equal(t, lo, hi, "a mark %v of %v is on itself", m, g)
		}
	}
}

// TestWrenchMarksEnd checks that marks begin at the lower end of the scale, and that there are none (0) beyond its ends.
func TestWrenchMarksEnd(t *testing.T) {
	const in = inchPound
	for _, c := range []struct{ min, max, graduation, setting, below, above quantity.Torque }{
		{28, 0, 5, 30, 28, 33}, {28, 120, 5, 28, 28, 28}, {28, 120, 5, 33, 33, 33}, {28, 120, 5, 27, 0, 28},
		{28, 120, 5, 119, 118, 0}, {28, 120, 5, 118, 118, 118}, {28, 120, 5, 130, 118, 0},
		{0, 150, 20, 148, 140, 0}, {0, 150, 20, 160, 140, 0}, {0, 150, 20, 140, 140, 140}, {0, 150, 20, 7, 0, 20},
		{0, 150, 10, 150, 150, 150}, {0, 150, 10, 155, 150, 0},
		{20, 100, 5, 22, 20, 25}, {20, 100, 5, 18, 0, 20}, {20, 100, 5, 20, 20, 20}, {20, 100, 5, 15, 0, 20}, {20, 100, 5, 105, 100, 0},
		{0, 60, 25, 20, 0, 25}, {0, 20, 25, 10, 0, 0}, {10, 20, 25, 15, 10, 0}, {10, 20, 25, 5, 0, 10}, {30, 20, 4, 25, 0, 0},
		{30 * in, 150 * in, 5 * in, 72 * in, 70 * in, 75 * in}, {32 * in, 150 * in, 5 * in, 72 * in, 72 * in, 72 * in},
		{32 * in, 150 * in, 5 * in, 149 * in, 147 * in, 0},
		{0, 50 * footPound, 2 * footPound, 50 * footPound, 50 * footPound, 50 * footPound}, {28, 120, 0, 30, 30, 30},
	} {
		below, above := fastener.Wrench{Min: c.min, Max: c.max, Graduation: c.graduation}.Marks(c.setting)
		assert.InDelta(t, float64(c.below), float64(below), 1e-12, "%+v", c)
		assert.InDelta(t, float64(c.above), float64(above), 1e-12, "%+v", c)
	}
	// Whatever the scale: the marks enclose the setting, lie on the scale, and none lies between them.
	r := rand.New(rand.NewPCG(7, 4))
	for range 3000 {
		g := quantity.Torque([]float64{0.1, 0.25, 0.5, 1, 2, 5, 20, 5 * inchPound, 2 * footPound}[r.IntN(9)])
		w := fastener.Wrench{Graduation: g}
		if r.IntN(3) > 0 {
			w.Min = quantity.Torque(1 + 20*r.Float64())
			if r.IntN(2) == 0 {
				w.Min = g * quantity.Torque(1+r.IntN(10))
			}
		}
		if r.IntN(3) > 0 {
			w.Max = w.Min + quantity.Torque(100*r.Float64())
		}
		set := quantity.Torque(120 * r.Float64())
		below, above := w.Marks(set)
		for _, m := range []quantity.Torque{below, above} {
			if m == 0 {
				continue
			}
			assert.GreaterOrEqual(t, m, w.Min*(1-1e-9), "%+v %v", w, set)
			if w.Max > 0 {
				assert.LessOrEqual(t, m, w.Max*(1+1e-9), "%+v %v", w, set)
			}
			lo, hi := w.Marks(m)
			assert.True(t, lo == m && hi == m, "%+v: a mark %v is on itself", w, m)
		}
		switch {
		case below > 0 && above > 0:
			assert.InDelta(t, float64(g), float64(above-below), float64(g)*1e-9, "%+v %v", w, set)
			assert.True(t, below < set && set < above, "%+v %v", w, set)
		case below > 0:
			assert.Less(t, below, set)
			assert.Greater(t, below+g, w.Max, "%+v %v: there is one more", w, set)
		case above > 0:
			assert.Greater(t, above, set)
			assert.Less(t, above-g, max(w.Min, g*1e-9), "%+v %v: there is one more", w, set)
		}
	}
}

func TestWrenchReached(t *testing.T) {
	// By the definition: the deviation of set 10 from 9.615 is 4 %, from 10.417 it is −4 %.
	least, most := fastener.Wrench{Max: 60}.Reached(10)
	assert.InDelta(t, 10/1.04, float64(least), 1e-12)
	assert.InDelta(t, 10/0.96, float64(most), 1e-12)
	assert.InDelta(t, 0.04, float64((10-least)/least), 1e-12)
	assert.InDelta(t, -0.04, float64((10-most)/most), 1e-12)
	least, most = fastener.Wrench{Max: 60, Deviation: 0.01}.Reached(10)
	assert.InDelta(t, 10/1.01, float64(least), 1e-12)
	assert.InDelta(t, 10/0.99, float64(most), 1e-12)
	for _, d := range []quantity.Ratio{1, 2, 1e300} {
		least, most = fastener.Wrench{Deviation: d}.Reached(10)
		assert.Equal(t, quantity.Torque(5), least)
		assert.Equal(t, quantity.Torque(math.MaxFloat64), most)
	}
}

func TestWrenchWords(t *testing.T) {
	for k, want := range map[fastener.WrenchKind]string{
		fastener.Click: "click", fastener.Beam: "beam", fastener.Electronic: "electronic", 9: "unknown",
	} {
		assert.Equal(t, want, k.String())
	}
	for u, want := range map[fastener.Use]string{
		fastener.Usable: "usable", fastener.BelowFifth: "below_20_percent", fastener.BelowScale: "below_scale",
		fastener.AboveScale: "above_scale", 9: "unknown",
	} {
		assert.Equal(t, want, u.String())
	}
}
