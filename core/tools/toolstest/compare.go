package toolstest

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tools"
)

// CheckPromises asks a tool 800 drawn requests, all of which it must answer, and checks each response: see [CheckResponse].
func CheckPromises(t testing.TB, name string, draw func(*rand.Rand) Object) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 800 {
		request := Encoded(t, draw(r))
		response, err := tools.Run(name, request, tools.English())
		require.NoError(t, err, "%s\n%s", request, response)
		CheckResponse(t, request, response, err)
	}
}

// CheckUnits checks for 200 drawn requests that the answer does not depend on the units of the request.
func CheckUnits(t testing.TB, name string, draw func(*rand.Rand) Object) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		o := draw(r)
		want := Answered(t, name, o)["result"]
		for _, ohm := range []string{"ohm", "kohm", "mohm"} {
			got := Answered(t, name, rewritten(o, ohm, "degC", "K"))["result"]
			require.Equal(t, want, got, "in %s, exactly: %v", ohm, o)
			for _, point := range []string{"degF", "K"} {
				near(t, name, want, Answered(t, name, rewritten(o, ohm, point, "degF"))["result"])
			}
		}
	}
}

// rewritten returns a request with every quantity in another unit: ohm as kohm or mohm exactly, degC as degF and K to within rounding.
func rewritten(o Object, ohm, point, difference string) Object {
	out := Object{}
	for k, v := range o {
		switch v := v.(type) {
		case Object:
			out[k] = rewritten(v, ohm, point, difference)
		case []any:
			list := []any{}
			for _, row := range v {
				list = append(list, rewritten(row.(Object), ohm, point, difference))
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

// near fails the test if two results differ by more than 1e-9 of their size.
func near(t testing.TB, path string, want, got any) {
	switch w := want.(type) {
	case Object:
		g, ok := got.(Object)
		require.True(t, ok && len(w) == len(g), path)
		for k := range w {
			near(t, path+"."+k, w[k], g[k])
		}
	case []any:
		g, ok := got.([]any)
		require.True(t, ok && len(w) == len(g), path)
		for i := range w {
			near(t, path+"."+strconv.Itoa(i), w[i], g[i])
		}
	case float64:
		require.InDelta(t, w, got, 1e-9*math.Max(1, math.Abs(w)), path)
	default:
		require.Equal(t, want, got, path)
	}
}
