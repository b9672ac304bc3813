package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

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
			apart := m.untouched(f) & electrical(of.side, of.ret)
			for way := range ways(f) {
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
func untouched(t *testing.T, m *Model, f Fault, way int, x, coil float64, apart set) (n int) {
	var got, want view
	c := m.chain(&m.Nominal, coil)
	c.predict(electrical(m.Side, m.Return), &want)
	c = c.with(f, x, way)
	c.predict(electrical(m.Side, m.Return), &got)
	for k := range Test(Tests) {
		if !apart.has(k) {
			continue
		}
		n++
		g, w := got.on[k].value, want.on[k].value
		if math.IsInf(w, 1) && math.IsInf(g, 1) {
			continue
		}
		require.InDelta(t, w, g, 1e-6*(1+math.Abs(w)), "%v of %v %g, way %d, side %v, return %v", k, f, x, way, m.Side, m.Return)
		require.InDelta(t, want.off[k], got.off[k], 1e-6*(1+math.Abs(w)), "%v off, of %v %g, way %d, side %v", k, f, x, way, m.Side)
	}
	return n
}
