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
		"2.7 ohm", uint8(9), "4.62 A", "8", "300", "12", "0.1 ohm", "0.3 V", "10 K", uint8(0), "1 A", "12 V")
	f.Add(uint8(1), "1 V", "0.05 ohm", "0.05 ohm", "-100 degC", "400 degC", uint8(4), uint8(11),
		"0 V", uint8(10), "-1 V", "0", "0", "0", "1e7 ohm", "0 V", "0 K", uint8(13), "", "60 V")
	f.Add(uint8(2), "60 V", "1e6 ohm", "1e6 ohm", "400 degC", "-100 degC", uint8(2), uint8(0),
		"OL", uint8(1), "1e12 ohm", "10000", "1e9", "1e6", "0.001 ohm", "1000 V", "500 K", uint8(26), "1e6 A", "1 V")
	f.Add(uint8(0), "28 V", "12 ohm", "16 ohm", "20 degC", "", uint8(3), uint8(15),
		"jumps", uint8(16), "no", "10", "300", "9", "0.2 ohm", "0.3 V", "10 K", uint8(31), "0.8 A", "26 V")
	f.Add(uint8(1), "13 V", "5 ohm", "6 ohm", "20 degC", "20 degC", uint8(0), uint8(17),
		"95 degC", uint8(18), "11.2 V", "10", "300", "9", "0.2 ohm", "0.3 V", "10 K", uint8(22), "1 A", "61 V")
	f.Fuzz(func(t *testing.T, kind uint8, supply, min, max, at, now string, code, one uint8, value string, two uint8,
		other, minutes, wrong, prior, nominal, supplyWithin, nowWithin string, known uint8, held, own string) {
		test := func(i uint8) string { return circuit.Test(int(i) % circuit.Tests).String() }
		driver := toolstest.Object{"kind": circuit.Stage(int(known) % circuit.Stages).String()}
		if held != "" {
			driver["at"] = held
		}
		o := toolstest.Object{
			"side": []string{"high", "low", "high"}[kind%3], "return": []string{"wire", "wire", "case"}[kind%3], "supply": supply,
			"spec":      toolstest.Object{"min": min, "max": max, "at": at},
			"code_kind": []string{"none", "low", "high", "open", "range"}[code%5],
			"readings": []any{toolstest.Object{"test": test(one), "value": value},
				toolstest.Object{"test": test(two), "value": other, "supply": own}},
			"minutes": toolstest.Object{test(two): minutes}, "costs": toolstest.Object{"hour": minutes, "wrong": wrong},
			"priors":        toolstest.Object{circuit.Fault(int(one+known) % circuit.Faults).String(): prior},
			"nominal":       toolstest.Object{"harness": nominal, "driver": nominal},
			"parameters":    toolstest.Object{"harness.to_ground": toolstest.Object{"min": nominal}},
			"supply_within": supplyWithin, "winding_temperature_within": nowWithin, "driver": driver,
			"fault_present": circuit.Presence(int(known/4) % circuit.Presences).String(),
			"inner_harness": []string{"part", "apart"}[known/16%2],
		}
		if now != "" {
			o["winding_temperature"] = now
		}
		request := toolstest.Encoded(t, o)
		response, err := tools.Run("circuit", request, tools.English())
		toolstest.CheckResponse(t, request, response, err)
		if err == nil {
			checkSum(t, request, response)
		}
	})
}

// checkSum checks that the probabilities of the faults are between 0 and 1 and add up to 1, but for a stop, which has none.
func checkSum(t *testing.T, request, response []byte) {
	var got struct {
		Result struct {
			Overall string
			Faults  []struct{ Probability float64 }
		}
	}
	if err := json.Unmarshal(response, &got); err != nil {
		t.Fatal(err)
	}
	if got.Result.Overall == "stop" {
		return // no advice, so no faults
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
