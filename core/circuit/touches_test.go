package circuit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestNoPathIsNoPath checks that whether a test finds a path at all does not depend on the winding's resistance.
func TestNoPathIsNoPath(t *testing.T) {
	compared, wrong := 0, map[string]string{}
	for _, m := range usual() {
		for _, k := range measured(m) {
			if k.Quantity() != Ohms {
				continue
			}
			for f := range Fault(Faults) {
				for _, x := range parameters(f, 4) {
					over := math.IsInf(m.Predict(k, f, x, 10), 1)
					for e := -1.0; e <= 6; e += 0.2 {
						coil := math.Pow(10, e)
						compared++
						if v := m.Predict(k, f, x, coil); math.IsInf(v, 1) != over || v > OverLimit && !over {
							wrong[fmt.Sprint(k)] = fmt.Sprintf("%v %g, winding %g ohm, side %v, return %v: %g",
								f, x, coil, m.Side, m.Return, v)
						}
					}
				}
			}
		}
	}
	require.Greater(t, compared, 50000)
	assert.Empty(t, wrong, "tests that find a path for only some windings, each with an example")
}

// TestWhatAFaultTouches checks that a test reads as in a healthy circuit under a fault that is said not to touch it, whatever its
// parameter, its way and the winding; and that what is said to touch it is not everything.
func TestWhatAFaultTouches(t *testing.T) {
	clear := 0
	for _, of := range [...]struct {
		side Side
		ret  Return
	}{{High, Wire}, {High, Case}, {Low, Wire}} {
		m := New(of.side, of.ret, 12.6, 5, 5.6)
		for f := range Fault(Faults) {
			apart := m.Untouched(f) & electrical(of.side, of.ret)
			for way := range f.Ways() {
				for _, u := range [...]float64{0, 0.2, 0.5, 0.8, 1} {
					for _, coil := range [...]float64{4, 7} {
						clear += untouched(t, m, f, way, m.Parameter(f, u), coil, apart)
					}
				}
			}
		}
	}
	require.Greater(t, clear, 5000)
}

// untouched compares the tests in apart under a fault with those in a healthy circuit, and returns how many they are.
func untouched(t *testing.T, m *Model, f Fault, way int, x, coil float64, apart Set) (n int) {
	var got, want View
	c := m.Chain(&m.Nominal, coil)
	c.Predict(electrical(m.Side, m.Return)|InsideToo, &want)
	c = c.With(f, x, way)
	c.Predict(electrical(m.Side, m.Return)|InsideToo, &got)
	for k := range Test(Tests) {
		if !apart.Has(k) {
			continue
		}
		n++
		g, w := got.On[k].Value, want.On[k].Value
		if math.IsInf(w, 1) && math.IsInf(g, 1) {
			continue
		}
		require.InDelta(t, w, g, 1e-6*(1+math.Abs(w)), "%v of %v %g, way %d, side %v, return %v", k, f, x, way, m.Side, m.Return)
		require.InDelta(t, want.Off[k].Value, got.Off[k].Value, 1e-6*(1+math.Abs(w)), "%v off, of %v %g, way %d, side %v", k, f, x, way, m.Side)
	}
	return n
}
