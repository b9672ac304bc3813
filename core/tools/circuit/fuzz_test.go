package circuit_test

import (
	"encoding/json"
	"math"
	"testing"

	"ohmwright/core/circuit"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
)

// FuzzFields fuzzes the text of each field, so that every input is a request. It also checks the answers' probabilities.
func FuzzFields(f *testing.F) {
	f.Add(uint8(0), "13.8 V", "5.0 ohm", "5.6 ohm", "20 degC", "88 degC", uint8(1), uint8(1),
		"2.7 ohm", uint8(9), "4.62 A", "8", "300", "12", "0.1 ohm")
	f.Add(uint8(1), "1 V", "0.05 ohm", "0.05 ohm", "-100 degC", "400 degC", uint8(4), uint8(11),
		"0 V", uint8(10), "-1 V", "0", "0", "0", "1e7 ohm")
	f.Add(uint8(2), "1000 V", "1e6 ohm", "1e6 ohm", "400 degC", "-100 degC", uint8(2), uint8(0),
		"OL", uint8(1), "1e12 ohm", "10000", "1e9", "1e6", "0.001 ohm")
	f.Fuzz(func(t *testing.T, kind uint8, supply, min, max, at, now string, code, one uint8, value string, two uint8,
		other, minutes, wrong, prior, nominal string) {
		test := func(i uint8) string { return circuit.Test(int(i) % circuit.Tests).String() }
		o := toolstest.Object{
			"side": []string{"high", "low", "high"}[kind%3], "return": []string{"wire", "wire", "case"}[kind%3], "supply": supply,
			"spec": toolstest.Object{"min": min, "max": max, "at": at}, "winding_temperature": now,
			"code_kind": []string{"none", "low", "high", "open", "range"}[code%5],
			"readings":  []any{toolstest.Object{"test": test(one), "value": value}, toolstest.Object{"test": test(two), "value": other}},
			"minutes":   toolstest.Object{test(two): minutes}, "costs": toolstest.Object{"hour": minutes, "wrong": wrong},
			"priors":     toolstest.Object{circuit.Fault(int(one) % circuit.Faults).String(): prior},
			"nominal":    toolstest.Object{"harness": nominal, "driver": nominal},
			"parameters": toolstest.Object{"harness.to_ground": toolstest.Object{"min": nominal}},
		}
		request := toolstest.Encoded(t, o)
		response, err := tools.Run("circuit", request, tools.English())
		toolstest.CheckResponse(t, request, response, err)
		if err == nil {
			checkSum(t, request, response)
		}
	})
}

// checkSum checks that the probabilities of the faults are between 0 and 1 and add up to 1.
func checkSum(t *testing.T, request, response []byte) {
	var got struct {
		Result struct {
			Faults []struct{ Probability float64 }
		}
	}
	if err := json.Unmarshal(response, &got); err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, c := range got.Result.Faults {
		if !(c.Probability >= 0 && c.Probability <= 1+1e-12) {
			t.Fatalf("circuit: %s: a fault without a probability from 0 to 1: %v", request, c)
		}
		sum += c.Probability
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Fatalf("circuit: %s: the probabilities of the faults add up to %v, not 1", request, sum)
	}
}
