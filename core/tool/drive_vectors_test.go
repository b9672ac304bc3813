package tool

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/wording"
)

// driven asks the drive question; nil where the wanted current is out of reach, which is the one refusal that is due.
func driven(t *testing.T, request object) map[string]float64 {
	text, err := json.Marshal(request)
	require.NoError(t, err)
	response, _ := Run("drive", text, wording.English())
	var answer struct {
		OK     bool
		Errors []struct{ Field, Code string }
		Result map[string]json.RawMessage
	}
	require.NoError(t, json.Unmarshal(response, &answer))
	if !answer.OK {
		require.Len(t, answer.Errors, 1, "%s: %s", text, response)
		require.Equal(t, "target_current", answer.Errors[0].Field, "%s: %s", text, response)
		require.Equal(t, "range", answer.Errors[0].Code)
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

// TestDriveThereAndBack holds what the drive question promises of each answer: the duty found for a wanted current gives it
// when it is put in, at the temperature found; that temperature is where the heat balances; what the supply gives is taken.
// With a target that is out of reach, full duty gives less.
func TestDriveThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 44))
	written := func(v float64, unit string) string { return strconv.FormatFloat(v, 'f', -1, 64) + " " + unit }
	figure := func(lo, hi float64, unit string) string {
		return written(math.Round(lo*math.Pow(hi/lo, r.Float64())*1e6)/1e6, unit)
	}
	short, reached := 0, 0
	for range 400 {
		request := object{"supply": figure(6, 32, "V"), "resistance": figure(1, 100, "ohm"), "wiring": figure(0.01, 2, "ohm"), "driver": figure(0.01, 1, "ohm"),
			"inductance": figure(0.1, 1000, "mH"), "frequency": figure(10, 5000, "Hz")}
		switch r.IntN(3) {
		case 0:
			request["off_path"] = object{"kind": "diode", "drop": figure(0.2, 1.2, "V")}
		case 1:
			request["off_path"] = object{"kind": "clamp", "voltage": figure(33, 80, "V"), "across": []string{"winding", "switch"}[r.IntN(2)]}
		}
		ambient, thermal := float64(r.IntN(120)-20), 0.5+10*r.Float64()
		heated := r.IntN(2) == 0
		if heated {
			request["thermal"] = object{"ambient": written(ambient, "degC"), "resistance": written(thermal, "K/W")}
		}
		wanted := 0.05 * math.Pow(100, r.Float64())
		request["target_current"] = written(wanted, "A")
		found := driven(t, request)
		delete(request, "target_current")
		if found == nil {
			request["duty"] = "100 %"
			require.Less(t, driven(t, request)["current_average"], wanted, "%v", request)
			short++
			continue
		}
		reached++
		require.InEpsilon(t, wanted, found["current_average"], 1e-9, "%v", request)
		given := found["power_winding"] + found["power_wiring"] + found["power_driver"] + found["power_off_path"]
		require.InEpsilon(t, found["power_supply"], given, 1e-12, "%v", request)
		if heated {
			require.InDelta(t, ambient+thermal*found["power_winding"], found["winding_temperature"], 1e-9*(300+found["winding_temperature"]), "%v", request)
			// the same with the temperature given
			delete(request, "thermal")
			request["winding_temperature"] = written(found["winding_temperature"], "degC")
		}
		request["duty"] = written(100*found["duty"], "%")
		again := driven(t, request)
		for name, want := range found {
			require.InDelta(t, want, again[name], 1e-9*math.Abs(want)+1e-10, "%s of %v", name, request)
		}
	}
	assert.Greater(t, short, 40)
	assert.Greater(t, reached, 150)
	t.Logf("%d reached, %d out of reach", reached, short)
}
