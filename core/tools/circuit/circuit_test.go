package circuit_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	core "ohmwright/core/circuit"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/circuit"
	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

// request asks about a high-side circuit with a winding of 5 to 5.6 ohm. readings are tests and their values by turns.
func request(readings ...string) toolstest.Object {
	rows := []any{}
	for i := 0; i < len(readings); i += 2 {
		rows = append(rows, toolstest.Object{"test": readings[i], "value": readings[i+1]})
	}
	return toolstest.Object{
		"side": "high", "supply": "13.2 V", "spec": toolstest.Object{"min": "5.0 ohm", "max": "5.6 ohm"}, "winding_temperature": "20 degC",
		"readings": rows,
	}
}

// with returns a request with another field.
func with(o toolstest.Object, key string, value any) toolstest.Object {
	o[key] = value
	return o
}

// TestDecisionAndPageAgree checks that the head of the page shows the decision of the result, and its one verdict. If the readings
// fit no known fault, the decision is to repeat one of them.
func TestDecisionAndPageAgree(t *testing.T) {
	unsettled := with(request("resistance_component", "139.4 ohm", "voltage_drop_return", "0.03 V", "voltage_pin_on", "24.84 V",
		"voltage_unit_ground", "0.04 V", "voltage_unit_test_load", "0.01 V", "voltage_unit_feed", "24.87 V", "supply_driven", "24.83 V",
		"current_on", "0.01 A"), "driver", toolstest.Object{"kind": "protected"})
	for key, value := range (toolstest.Object{"side": "low", "supply": "24.8 V", "winding_temperature": "90 degC", "fault_present": "yes",
		"spec": toolstest.Object{"min": "80 ohm", "max": "120 ohm"}}) {
		unsettled = with(unsettled, key, value)
	}
	for _, c := range []struct {
		why     string
		request toolstest.Object
		do      string // "" where the engine's own weights decide
		reason  string // the same
	}{
		{"nothing measured yet", request(), "test", ""},
		{"two faults fit, neither is sure enough, and no test is left that would tell more", unsettled, "repair", "doubtful"},
		{"an open wire, found by three readings",
			request("continuity_harness", "OL", "resistance_component", "5.4 ohm", "current_on", "0 A"), "", ""},
		{"an open wire and a healthy current",
			request("continuity_harness", "OL", "current_on", "2.25 A", "voltage_pin_on", "12.8 V", "resistance_component", "5.4 ohm"), "", ""},
		{"healthy, and a code is stored", with(request("current_on", "2.25 A", "resistance_unit", "5.7 ohm", "voltage_pin_on", "12.8 V",
			"wiggle_harness", "steady", "heat_component", "steady"), "code_kind", "open"), "", ""},
		{"above 60 V", with(request(), "supply", "72 V"), "stop", ""},
	} {
		t.Run(c.why, func(t *testing.T) {
			got := toolstest.Answered(t, "circuit", c.request)
			look := func(path string) any {
				v, _ := testdata.Look(got, path)
				return v
			}
			do := look("result.decision.do")
			if c.do != "" {
				assert.Equal(t, c.do, do)
			}
			want := do
			switch do {
			case "recheck":
				want = "again"
			case "repair":
				want = look("result.decision.repair")
			}
			assert.Equal(t, want, look("result.overall"))
			reason, _ := look("result.decision.why").(string)
			assert.Equal(t, do == "stop", reason == "", reason)
			if c.reason != "" {
				assert.Equal(t, c.reason, reason)
			}
			out := circuit.Tool.Answer(toolstest.Encoded(t, c.request), quantity.Point, tools.English())
			require.NotNil(t, out.Answer)
			head, _ := out.Answer.Lay()
			assert.Equal(t, want, head.Value("data-verdict"))
		})
	}
}

// TestStopTellsNothingElse checks that above 60 V nothing of the answer can be taken for advice, and that the circuit is not drawn
// for anyone to measure at, also while the request is not whole.
func TestStopTellsNothingElse(t *testing.T) {
	laid := toolstest.Laid(t, circuit.Tool, with(request("current_on", "2.2 A"), "supply", "61 V"))
	assert.Contains(t, laid, "can kill")
	for _, word := range []string{"data-pick", "p-repairs", "p-next"} {
		assert.NotContains(t, laid, word)
	}
	out := circuit.Tool.Answer(toolstest.Encoded(t, toolstest.Object{"side": "low", "supply": "72 V"}), quantity.Point, tools.English())
	require.Nil(t, out.Answer)
	head, body := out.Draft(circuit.Tool, tools.English())
	b, err := json.Marshal([]any{head, body})
	require.NoError(t, err)
	assert.Contains(t, string(b), `"data-verdict":"stop"`)
	assert.Contains(t, string(b), "can kill")
	assert.NotContains(t, string(b), "data-pick")
}

// TestWhatAHealthyCircuitReads checks that each reading, counted or not, is shown with what a healthy circuit would read, and that of
// several readings of one test the last counts.
func TestWhatAHealthyCircuitReads(t *testing.T) {
	readings := []string{"resistance_component", "9 ohm", "insulation_harness", "OL", "resistance_component", "5.4 ohm",
		"wiggle_harness", "steady"}
	got := toolstest.Answered(t, "circuit", request(readings...))
	for path, want := range map[string]any{
		"result.readings.0.counted": false, "result.readings.1.counted": true, "result.readings.2.counted": true,
		"result.readings.1.expected.over": true, "result.readings.3.word": "steady", "result.readings.3.expected.word": "steady",
	} {
		v, ok := testdata.Look(got, path)
		require.True(t, ok, path)
		assert.Equal(t, want, v, path)
	}
	// Worked out by hand: 5 to 5.6 ohm and a lead of 0.05 to 0.3 ohm lie inside, and even the meter, the contacts and ten degrees more
	// or less do not explain another ohm.
	for _, i := range []string{"0", "2"} {
		least := toolstest.Number(t, got, "result.readings."+i+".expected.min.value")
		most := toolstest.Number(t, got, "result.readings."+i+".expected.max.value")
		assert.True(t, 4 < least && least < 5.05, "%v", least)
		assert.True(t, 5.65 < most && most < 6.9, "%v", most)
	}
}

// TestDraft checks that the test points can be tapped before there is an answer, and show the minutes that were given.
func TestDraft(t *testing.T) {
	o := toolstest.Object{"side": "low", "minutes": toolstest.Object{"voltage_feed": 77}}
	out := circuit.Tool.Answer(toolstest.Encoded(t, o), quantity.Point, tools.English())
	require.Nil(t, out.Answer)
	assert.Equal(t, []tool.Code{tool.Missing, tool.Missing}, []tool.Code{out.Faults[0].Code, out.Faults[1].Code})
	head, body := out.Draft(circuit.Tool, tools.English())
	assert.Nil(t, head)
	b, err := json.Marshal(body)
	require.NoError(t, err)
	assert.Contains(t, string(b), "not taken, 77 min")
	for _, test := range circuit.Each[core.Test](core.Tests) {
		assert.Contains(t, string(b), `"data-value":"`+test.String()+`"`, "every test of the low side has its point")
	}
}

// TestHowToMeasure checks what the text of each test has to say: of a test with the driver on, how to command it on, that a stored
// code may keep it off, and how to tell; of one on a circuit that is plugged in, what keeps people safe; of the test load, its watts.
func TestHowToMeasure(t *testing.T) {
	s := tools.English()
	for _, test := range circuit.Each[core.Test](core.Tests) {
		how := s.Say("circuit.readings.test=" + test.String() + ".how")
		if test.Driven() {
			for _, word := range []string{"output test", "clear the code first", "click", "All plugged in"} {
				if test == core.SupplyDriven && word == "All plugged in" {
					continue
				}
				assert.Contains(t, how, word, test.String())
			}
		}
		if test.Driven() || test == core.VoltsPinOff {
			for _, word := range []string{"Selector in park", "wheels chocked", "nobody underneath", "exhaust extracted", "hot parts"} {
				assert.Contains(t, how, word, test.String())
			}
		}
	}
	for _, word := range []string{"U²/12", "unplugged at the unit", "code cleared first"} {
		assert.Contains(t, s.Say("circuit.readings.test=voltage_unit_test_load.how"), word)
	}
}

// TestWattsOfTheTestLoad checks that the watts of the load follow the supply that is given. Worked out by hand: 28² V²/12 ohm is 65.3 W,
// 13.8² V²/12 ohm 15.9 W.
func TestWattsOfTheTestLoad(t *testing.T) {
	for supply, want := range map[string]string{"28 V": "65\u00a0W", "13.8 V": "16\u00a0W"} {
		laid := toolstest.Laid(t, circuit.Tool, with(request(), "supply", supply))
		assert.Contains(t, strings.ReplaceAll(laid, " W", "\u00a0W"), want, "the point of the test load says its watts")
	}
}

// TestASettledRowIsNotAskedFor checks that the row that a known good part settled counts as looked up, as long as it is the row given, and
// that what somebody looked up comes first.
func TestASettledRowIsNotAskedFor(t *testing.T) {
	ask := func(settled toolstest.Object, readings ...string) (result map[string]any, asked bool) {
		o := request(readings...)
		if settled != nil {
			o["settled"] = settled
		}
		result = toolstest.Answered(t, "circuit", o)["result"].(map[string]any)
		for _, next := range result["next"].([]any) {
			asked = asked || next.(map[string]any)["test"] == "row_applies"
		}
		return result, asked
	}
	low := []string{"resistance_component", "2.7 ohm"}
	before, asked := ask(nil, low...)
	require.True(t, asked)
	require.Equal(t, "row_applies", before["decision"].(map[string]any)["test"], "a row that nobody looked at is asked for")
	known := toolstest.Object{"min": "0.005 kohm", "max": "5.6 ohm"}
	after, asked := ask(known, low...)
	assert.False(t, asked)
	assert.NotEqual(t, "row_applies", after["decision"].(map[string]any)["test"])
	looked, _ := ask(nil, append(low, "row_applies", "yes")...)
	assert.Equal(t, looked["faults"], after["faults"], "it weighs as much as looking it up")
	_, asked = ask(toolstest.Object{"min": "2.4 ohm", "max": "3.0 ohm"}, low...)
	assert.True(t, asked, "another row was settled than the one given")
	_, asked = ask(toolstest.Object{"min": "5.0 ohm", "max": "5.6 ohm", "at": "25 degC"}, low...)
	assert.True(t, asked, "the same limits at another temperature are another row")
	own, _ := ask(known, append(low, "row_applies", "no")...)
	other, _ := ask(nil, append(low, "row_applies", "no")...)
	assert.Equal(t, other["faults"], own["faults"], "what was looked up comes first")
	tl, _ := tools.Named("circuit")
	o := with(request(low...), "settled", known)
	_, body := tl.Answer(toolstest.Encoded(t, o), quantity.Point, tools.English()).Answer.Lay()
	text, err := json.Marshal(body)
	require.NoError(t, err)
	assert.Contains(t, string(text), "settled by a known good part")
}

// TestReplacingSaysWhatMayHappen checks that whoever is told to replace the part hears that lifting it out opens the hydraulics.
func TestReplacingSaysWhatMayHappen(t *testing.T) {
	got := toolstest.Answered(t, "circuit", request("resistance_winding", "2.8 ohm", "winding_temperature", "20 degC", "row_applies", "yes"))
	repair, ok := testdata.Look(got, "result.decision.repair")
	require.True(t, ok)
	require.Equal(t, "component", repair)
	b, err := json.Marshal(got)
	require.NoError(t, err)
	assert.Contains(t, string(b), "opens the hydraulics: pressure off, hot oil")
}

// TestAThermometerIsATemperature checks that once a thermometer was put on the part, what a healthy circuit reads is that at its
// temperature, and nobody is told that none is given.
func TestAThermometerIsATemperature(t *testing.T) {
	circuit := toolstest.Object{"side": "high", "return": "wire", "supply": "27.6 V",
		"spec": toolstest.Object{"min": "20 ohm", "max": "24 ohm"}}
	ohms := toolstest.Object{"test": "resistance_component", "value": "23 ohm"}
	read := func(readings ...any) (least float64, warned bool) {
		o := toolstest.Object{"readings": readings}
		for k, v := range circuit {
			o[k] = v
		}
		text := toolstest.Encoded(t, toolstest.Answered(t, "circuit", o))
		var a struct {
			Result struct {
				Readings []struct {
					Expected struct{ Min struct{ Value float64 } }
				}
			}
		}
		require.NoError(t, json.Unmarshal(text, &a))
		return a.Result.Readings[len(readings)-1].Expected.Min.Value, strings.Contains(string(text), `"temperature_unknown"`)
	}
	least, warned := read(ohms)
	assert.Less(t, least, 18.0, "20 ohm at -20 degC have 16.9")
	assert.True(t, warned)
	least, warned = read(toolstest.Object{"test": "winding_temperature", "value": "95 degC"}, ohms)
	assert.Greater(t, least, 25.0, "20 ohm at 92 degC have 25.7, less what a meter may be off")
	assert.False(t, warned)
}
