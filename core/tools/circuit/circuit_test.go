package circuit_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// TestDecisionAndPageAgree checks that the head of the page shows the decision of the result. If the readings fit no known
// fault, the decision is to repeat one of them.
func TestDecisionAndPageAgree(t *testing.T) {
	for _, c := range []struct {
		why      string
		readings []string
		decision toolstest.Object // without its numbers
		head     string
	}{
		{"nothing measured yet", nil, toolstest.Object{"do": "test", "test": "current_on"}, "test"},
		{"an open wire, found by two readings",
			[]string{"continuity_harness", "OL", "resistance_component", "5.4 ohm", "current_on", "0 A"},
			toolstest.Object{"do": "repair", "repair": "harness"}, "harness"},
		{"an open wire and a healthy current",
			[]string{"continuity_harness", "OL", "current_on", "2.25 A", "voltage_pin_on", "12.8 V", "resistance_component", "5.4 ohm"},
			toolstest.Object{"do": "recheck", "test": "continuity_harness"}, "again"},
	} {
		t.Run(c.why, func(t *testing.T) {
			o := request(c.readings...)
			found, ok := testdata.Look(toolstest.Answered(t, "circuit", o), "result.decision")
			require.True(t, ok)
			decision := found.(toolstest.Object)
			delete(decision, "probability")
			delete(decision, "expected_cost_of_error")
			assert.Equal(t, c.decision, decision)
			out := circuit.Tool.Answer(toolstest.Encoded(t, o), quantity.Point, tools.English())
			require.NotNil(t, out.Answer)
			head, _ := out.Answer.Lay()
			assert.Equal(t, c.head, head.Value("data-verdict"))
		})
	}
}

// TestWhatAHealthyCircuitReads checks that each reading, counted or not, is shown with what a healthy circuit would read,
// and that of several readings of one test the last counts.
func TestWhatAHealthyCircuitReads(t *testing.T) {
	readings := []string{"resistance_component", "9 ohm", "insulation_harness", "OL", "resistance_component", "5.4 ohm"}
	got := toolstest.Answered(t, "circuit", request(readings...))
	for path, want := range map[string]any{
		"result.readings.0.counted": false, "result.readings.1.counted": true, "result.readings.2.counted": true,
		"result.readings.1.expected.over": true,
	} {
		v, ok := testdata.Look(got, path)
		require.True(t, ok, path)
		assert.Equal(t, want, v, path)
	}
	// Worked out by hand: 5 and 5.6 ohm plus 0.1 ohm of lead, less and plus 1.96 standard uncertainties. These are 0.12 ohm
	// of the contacts and (1 % + 2 × 0.1 ohm)/√3 of the meter: √(0.12² + 0.1449²) = 0.1882 ohm and √(0.12² + 0.1484²) =
	// 0.1908 ohm.
	for _, i := range []string{"0", "2"} {
		assert.InDelta(t, 5.1-1.96*0.1882, toolstest.Number(t, got, "result.readings."+i+".expected.min.value"), 1e-3)
		assert.InDelta(t, 5.7+1.96*0.1908, toolstest.Number(t, got, "result.readings."+i+".expected.max.value"), 1e-3)
	}
}

// TestDraft checks that the test points can be tapped before there is an answer, and show the minutes that were given.
func TestDraft(t *testing.T) {
	o := toolstest.Object{"side": "low", "minutes": toolstest.Object{"voltage_feed": 77}}
	out := circuit.Tool.Answer(toolstest.Encoded(t, o), quantity.Point, tools.English())
	require.Nil(t, out.Answer)
	assert.Equal(t, []tool.Code{tool.Missing, tool.Missing}, []tool.Code{out.Faults[0].Code, out.Faults[1].Code})
	b, err := json.Marshal(out.Draft(circuit.Tool, tools.English()))
	require.NoError(t, err)
	assert.Contains(t, string(b), `"data-value":"voltage_feed"`, "there is a feed on the low side")
	assert.Contains(t, string(b), "not taken, 77 min")
}
