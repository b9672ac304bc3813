package tool

import (
	"encoding/json"
	"math"
	"testing"

	"ohmwright/core/circuit"
	"ohmwright/core/wording"
)

func FuzzRunCircuit(f *testing.F)  { fuzzRun(f, "circuit") }
func FuzzRunExercise(f *testing.F) { fuzzRun(f, "exercise") }

// FuzzRunCircuitFields fuzzes the texts of the fields, so that what is fuzzed is always a request; an answer has probabilities.
func FuzzRunCircuitFields(f *testing.F) {
	f.Add(uint8(0), "13.8 V", "5.0 ohm", "5.6 ohm", "20 degC", "88 degC", uint8(1), uint8(1), "2.7 ohm", uint8(9), "4.62 A", "8", "300", "12", "0.1 ohm")
	f.Add(uint8(1), "1 V", "0.05 ohm", "0.05 ohm", "-100 degC", "400 degC", uint8(4), uint8(11), "0 V", uint8(10), "-1 V", "0", "0", "0", "1e7 ohm")
	f.Add(uint8(2), "1000 V", "1e6 ohm", "1e6 ohm", "400 degC", "-100 degC", uint8(2), uint8(0), "OL", uint8(1), "1e12 ohm", "10000", "1e9", "1e6", "0.001 ohm")
	f.Fuzz(func(t *testing.T, kind uint8, supply, min, max, at, now string, code, one uint8, value string, two uint8, other, minutes, wrong, prior, nominal string) {
		test := func(i uint8) string { return circuit.Test(int(i) % circuit.Tests).String() }
		o := object{
			"side": []string{"high", "low", "high"}[kind%3], "return": []string{"wire", "wire", "case"}[kind%3], "supply": supply,
			"spec": object{"min": min, "max": max, "at": at}, "winding_temperature": now,
			"code_kind": []string{"none", "low", "high", "open", "range"}[code%5],
			"readings":  []any{object{"test": test(one), "value": value}, object{"test": test(two), "value": other}},
			"minutes":   object{test(two): minutes}, "costs": object{"hour": minutes, "wrong": wrong},
			"priors":  object{circuit.Fault(int(one) % circuit.Faults).String(): prior},
			"nominal": object{"harness": nominal, "driver": nominal}, "parameters": object{"harness.to_ground": object{"min": nominal}},
		}
		request := encoded(t, o)
		response, err := Run("circuit", request, wording.English())
		checkResponse(t, request, response, err)
		if err != nil {
			return
		}
		var got struct{ Result circuitResult }
		if err := json.Unmarshal(response, &got); err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, c := range got.Result.Faults {
			if !(c.Probability >= 0 && c.Probability <= 1+1e-12) {
				t.Fatalf("%s: %v", request, c)
			}
			sum += c.Probability
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Fatalf("%s: probabilities sum to %v", request, sum)
		}
	})
}
