package drive_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
)

// driven returns the answer of the drive tool, or nil if it refused the wanted current as out of reach. Any other refusal
// fails the test.
func driven(t *testing.T, request toolstest.Object) map[string]float64 {
	text := toolstest.Encoded(t, request)
	response, _ := tools.Run("drive", text, tools.English())
	var answer struct {
		OK     bool
		Errors []struct{ Field, Code string }
		Result map[string]json.RawMessage
	}
	require.NoError(t, json.Unmarshal(response, &answer))
	if !answer.OK {
		require.Len(t, answer.Errors, 1, "drive refused %s with more than the current out of reach: %s", text, response)
		require.Equal(t, "target_current", answer.Errors[0].Field, "drive refused %s for another field: %s", text, response)
		require.Equal(t, "range", answer.Errors[0].Code, "drive refused %s for another reason: %s", text, response)
		return nil
	}
	values := map[string]float64{}
	for name, raw := range answer.Result {
		var q struct{ Value *float64 }
		if json.Unmarshal(raw, &q) == nil && q.Value != nil {
			values[name] = *q.Value
		}
	}
	return values
}

// A drawer draws random requests. If heated, they have an ambient temperature and a thermal resistance.
type drawer struct {
	*rand.Rand
	ambient, thermal float64
	heated           bool
}

func written(v float64, unit string) string { return strconv.FormatFloat(v, 'f', -1, 64) + " " + unit }

// figure draws a value between lo and hi, with every decade equally likely.
func (r *drawer) figure(lo, hi float64, unit string) string {
	return written(math.Round(lo*math.Pow(hi/lo, r.Float64())*1e6)/1e6, unit)
}

// request draws a request that asks for a current.
func (r *drawer) request() (o toolstest.Object, wanted float64) {
	o = toolstest.Object{
		"supply": r.figure(6, 32, "V"), "resistance": r.figure(1, 100, "ohm"), "wiring": r.figure(0.01, 2, "ohm"),
		"driver": r.figure(0.01, 1, "ohm"), "inductance": r.figure(0.1, 1000, "mH"), "frequency": r.figure(10, 5000, "Hz"),
	}
	switch r.IntN(3) {
	case 0:
		o["off_path"] = toolstest.Object{"kind": "diode", "drop": r.figure(0.2, 1.2, "V")}
	case 1:
		o["off_path"] = toolstest.Object{
			"kind": "clamp", "voltage": r.figure(33, 80, "V"), "across": []string{"winding", "switch"}[r.IntN(2)],
		}
	}
	r.ambient, r.thermal = float64(r.IntN(120)-20), 0.5+10*r.Float64()
	r.heated = r.IntN(2) == 0
	if r.heated {
		o["thermal"] = toolstest.Object{"ambient": written(r.ambient, "degC"), "resistance": written(r.thermal, "K/W")}
	}
	wanted = 0.05 * math.Pow(100, r.Float64())
	o["target_current"] = written(wanted, "A")
	return o, wanted
}

// TestThereAndBack checks what the drive tool promises of each answer: the duty found for a wanted current gives that
// current when it is put in, at the temperature found; at that temperature the heat balances; and the power of the supply
// equals the power taken. If the current is out of reach, full duty must give less.
func TestThereAndBack(t *testing.T) {
	r := &drawer{Rand: rand.New(rand.NewPCG(4, 44))}
	short, reached := 0, 0
	for range 400 {
		request, wanted := r.request()
		found := driven(t, request)
		delete(request, "target_current")
		if found == nil {
			request["duty"] = "100 %"
			full := driven(t, request)["current_average"]
			require.Less(t, full, wanted, "drive refused %v A as out of reach, but full duty gives it: %v", wanted, request)
			short++
			continue
		}
		reached++
		require.InEpsilon(t, wanted, found["current_average"], 1e-9, "the duty found does not give the current wanted: %v", request)
		given := found["power_winding"] + found["power_wiring"] + found["power_driver"] + found["power_off_path"]
		require.InEpsilon(t, found["power_supply"], given, 1e-12, "power_supply is not the sum of the powers of the parts: %v", request)
		if r.heated {
			warm := found["winding_temperature"]
			require.InDelta(t, r.ambient+r.thermal*found["power_winding"], warm, 1e-9*(300+warm), "the heat does not balance: %v", request)
			// The same with the temperature given.
			delete(request, "thermal")
			request["winding_temperature"] = written(warm, "degC")
		}
		request["duty"] = written(100*found["duty"], "%")
		again := driven(t, request)
		for name, want := range found {
			require.InDelta(t, want, again[name], 1e-9*math.Abs(want)+1e-10, "%s changes when the duty found is put in: %v", name, request)
		}
	}
	assert.Greater(t, short, 40, "too few targets are out of reach: draw larger ones")
	assert.Greater(t, reached, 150, "too few targets are reached: draw smaller ones")
	t.Logf("%d reached, %d out of reach", reached, short)
}
