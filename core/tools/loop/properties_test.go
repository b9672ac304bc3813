package loop_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

func randomLoop(r *rand.Rand) toolstest.Object {
	o := toolstest.Object{"supply": toolstest.Milli(6000+r.IntN(10000), "V"), "current": toolstest.Milli(100+r.IntN(5000), "A")}
	if r.IntN(2) == 0 {
		o["winding"], o["at"] = toolstest.Milli(500+r.IntN(20000), "ohm"), toolstest.Milli(r.IntN(40000), "degC")
		o["winding_within"] = []string{toolstest.Milli(r.IntN(500), "ohm"), "3 %", "0.5 %"}[r.IntN(3)]
	} else {
		lo := 500 + r.IntN(20000)
		o["spec"] = toolstest.Object{"min": toolstest.Milli(lo, "ohm"), "max": toolstest.Milli(lo+r.IntN(2000), "ohm"),
			"at": toolstest.Milli(r.IntN(40000), "degC")}
	}
	if r.IntN(2) == 0 {
		o["winding_temperature"], o["winding_temperature_within"] = toolstest.Milli(r.IntN(150000), "degC"), toolstest.Milli(r.IntN(20000), "K")
	}
	if r.IntN(2) == 0 {
		o["driver"] = []string{"0.2 ohm", "0.7 V", "0 ohm", "150 mV"}[r.IntN(4)]
	}
	if r.IntN(2) == 0 {
		o["driver_kind"] = []string{"unknown", "plain", "protected", "regulated"}[r.IntN(4)]
		o["wire"] = toolstest.Object{"gauge": r.IntN(41), "length": "3 m"}
	}
	return o
}

func TestEveryResponseKeepsThePromises(t *testing.T) { toolstest.CheckPromises(t, "loop", randomLoop) }

// TestExtremes checks that no request with values at the ends of their ranges is reported as a fault of the program.
func TestExtremes(t *testing.T) {
	ohmsAt := []string{"0 ohm", "-0 ohm", "1e-300 ohm", "1e-12 ohm", "2e-12 ohm", "1 ohm", "1e12 ohm", "5e-324 Mohm"}
	celsius := []string{"-273.15 degC", "-234.49999999999997 degC", "-227.99999999999997 degC", "-1e-300 degC", "0 degC", "1e-300 degC",
		"5e-324 degC", "20 degC", "2000 degC", "0 K"}
	r := rand.New(rand.NewPCG(2, 2))
	pick := func(from ...string) string { return from[r.IntN(len(from))] }
	answered := 0
	for range testdata.Several(8000) {
		o := toolstest.Object{"supply": pick("1e-11 V", "1e5 V", "60 V"), "current": pick("1e-11 A", "1e6 A"), "winding": pick(ohmsAt...),
			"at": pick(celsius...), "driver": pick("0 ohm", "1e6 ohm", "0 V", "1e-12 V"), "limit": pick("1e-11 V", "1e5 V"),
			"supply_within": pick("0 V", "1e5 V"), "winding_within": pick(append(ohmsAt, "0 %", "100 %", "1e-300 %")...),
			"meter":       toolstest.Object{"percent": 100, "counts": 10000, "resolution": "1e6 A"},
			"segments":    toolstest.Object{"wire": pick("1e-11 V", "1e5 V")},
			"driver_kind": pick("unknown", "plain", "protected", "regulated"),
			"wire":        toolstest.Object{"section": pick("0.011 mm2", "1000 mm2"), "length": pick("1e7 mm", "1e-9 mm")}}
		if r.IntN(3) != 0 {
			o["winding_temperature"], o["winding_temperature_within"] = pick(celsius...), "2000 K"
		}
		request := toolstest.Encoded(t, o)
		response, err := tools.Run("loop", request, tools.English())
		if err == nil {
			answered++
		}
		toolstest.CheckResponse(t, request, response, err)
	}
	require.Greater(t, answered, testdata.Several(1000))
}

func TestUnitsDoNotMatter(t *testing.T) { toolstest.CheckUnits(t, "loop", randomLoop) }
