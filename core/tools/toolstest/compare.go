package toolstest

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
)

// Rewritten returns a request with every quantity in another unit: ohm as kohm or mohm exactly, degC as degF and K to within rounding.
func Rewritten(o Object, ohm, point, difference string) Object {
	out := Object{}
	for k, v := range o {
		switch v := v.(type) {
		case Object:
			out[k] = Rewritten(v, ohm, point, difference)
		case []any:
			list := []any{}
			for _, row := range v {
				list = append(list, Rewritten(row.(Object), ohm, point, difference))
			}
			out[k] = list
		case string:
			out[k] = v
			for kind, unit := range map[quantity.Kind]string{quantity.OfResistance: ohm, quantity.OfTemperature: point} {
				if q, err := quantity.Parse(v, quantity.Point, kind); err == nil && !strings.HasSuffix(v, " K") {
					out[k] = quantity.Format(q.In, unit, kind, quantity.Point)
				}
			}
			if strings.HasSuffix(v, " K") {
				q, _ := quantity.Parse(v, quantity.Point, quantity.OfTemperatureDifference)
				out[k] = quantity.Format(q.In, difference, quantity.OfTemperatureDifference, quantity.Point)
			}
		default:
			out[k] = v
		}
	}
	return out
}

// Near fails the test if two results differ by more than 1e-9 of their size.
func Near(t testing.TB, path string, want, got any) {
	switch w := want.(type) {
	case Object:
		g, ok := got.(Object)
		require.True(t, ok && len(w) == len(g), path)
		for k := range w {
			Near(t, path+"."+k, w[k], g[k])
		}
	case []any:
		g, ok := got.([]any)
		require.True(t, ok && len(w) == len(g), path)
		for i := range w {
			Near(t, path+"."+strconv.Itoa(i), w[i], g[i])
		}
	case float64:
		require.InDelta(t, w, got, 1e-9*math.Max(1, math.Abs(w)), path)
	default:
		require.Equal(t, want, got, path)
	}
}
