package exercise_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/quantity"
	"ohmwright/core/tools"
	"ohmwright/core/tools/exercise"
	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

// TestVerdictAndPageAgree checks that result and page give the same verdict: hidden before an answer, then found for the
// one right repair, and missed for every other.
func TestVerdictAndPageAgree(t *testing.T) {
	right := ""
	for _, answer := range []string{"", "nothing", "component", "harness", "return_path", "control_unit"} {
		o := toolstest.Object{"seed": "bench 4", "asked": []any{toolstest.Object{"test": "current_on"}}}
		if answer != "" {
			o["answer"] = answer
		}
		got := toolstest.Answered(t, "exercise", o)
		overall, _ := testdata.Look(got, "result.overall")
		repair, told := testdata.Look(got, "result.found.repair")
		want := "hidden"
		if assert.Equal(t, answer != "", told, "what was hidden is told after an answer and not before"); told {
			want = map[bool]string{true: "found", false: "missed"}[repair == answer]
			if right != "" {
				assert.Equal(t, right, repair, "an answer does not change what is hidden")
			}
			right = repair.(string)
		}
		assert.Equal(t, want, overall, answer)
		out := exercise.Tool.Answer(toolstest.Encoded(t, o), quantity.Point, tools.English())
		require.NotNil(t, out.Answer)
		head, _ := out.Answer.Lay()
		assert.Equal(t, want, head.Value("data-verdict"), answer)
	}
}

// TestAskedTwiceIsPaidOnce checks that a test which is asked for again shows the same reading and costs nothing more.
func TestAskedTwiceIsPaidOnce(t *testing.T) {
	row := toolstest.Object{"test": "voltage_pin_on"}
	once := toolstest.Answered(t, "exercise", toolstest.Object{"seed": "twice", "asked": []any{row}})
	twice := toolstest.Answered(t, "exercise", toolstest.Object{"seed": "twice", "asked": []any{row, row}})
	assert.Equal(t, once["result"], twice["result"])
	assert.Equal(t, circuit.VoltsPinOn.Minutes(), toolstest.Number(t, once, "result.minutes"))
}

// TestSetupIsThatOfTheCircuit checks that the exercise refuses a wrong circuit in the same words as the circuit tool does.
func TestSetupIsThatOfTheCircuit(t *testing.T) {
	// Each tool's own weights, all 0: the exercise has those of the chain.
	none := func(faults int) toolstest.Object {
		weights := toolstest.Object{}
		for f := range circuit.Fault(faults) {
			weights[f.String()] = 0
		}
		return weights
	}
	row := []any{toolstest.Object{"test": "insulation_component"}}
	read := []any{toolstest.Object{"test": "insulation_component", "value": "OL"}}
	for name, part := range map[string]toolstest.Object{
		"low side through the case": {"side": "low", "return": "case"},
		"no weight":                 {"priors": none(lesson.Faults)},
		"limits the wrong way":      {"spec": toolstest.Object{"min": "6 ohm", "max": "5 ohm"}},
		"parameter the wrong way":   {"parameters": toolstest.Object{"driver.weak": toolstest.Object{"min": "60 ohm", "max": "9 ohm"}}},
		"a test that there is not":  {"return": "case"},
	} {
		t.Run(name, func(t *testing.T) {
			asked, said := toolstest.Object{"seed": "x"}, toolstest.Object{
				"side": "high", "supply": "13.8 V", "spec": toolstest.Object{"min": "5 ohm", "max": "6 ohm"}}
			for k, v := range part {
				asked[k], said[k] = v, v
			}
			switch name {
			case "a test that there is not":
				asked["asked"], said["readings"] = row, read
			case "no weight":
				said["priors"] = none(circuit.Faults)
			}
			own, circuits := toolstest.Refused(t, "exercise", asked), toolstest.Refused(t, "circuit", said)
			require.Len(t, own, 1)
			require.Len(t, circuits, 1)
			if name == "a test that there is not" {
				assert.Equal(t, "asked.0.test", own[0].Field)
				own[0].Field = "readings.0.test"
			}
			assert.Equal(t, circuits, own)
		})
	}
}

// TestSeedInAnySpelling checks that a name hides the same fault however it is written, and that the first way of drawing, which links had
// before there was another, still takes it letter by letter.
func TestSeedInAnySpelling(t *testing.T) {
	hidden := func(seed string, more toolstest.Object) any {
		o := toolstest.Object{"seed": seed, "asked": []any{toolstest.Object{"test": "current_on"}, toolstest.Object{"test": "voltage_pin_off"}}}
		for k, v := range more {
			o[k] = v
		}
		return toolstest.Answered(t, "exercise", o)["result"]
	}
	first := toolstest.Object{"drawing": 1}
	for plain, others := range map[string][]string{
		"bench 4": {"Bench 4", "BENCH  4", " bench\t4 ", "ｂｅｎｃｈ 4", "be\u00adnch 4"},
		"übung 3": {"Übung 3", "U\u0308bung 3", "u\u0308bung\u00a03"},
	} {
		want := hidden(plain, nil)
		assert.Equal(t, want, hidden(plain, first), "a plain name is the same in both ways")
		for _, other := range others {
			assert.Equal(t, want, hidden(other, nil), other)
			assert.NotEqual(t, want, hidden(other, first), other)
		}
	}
	for _, blank := range []string{" ", "\u200b", "\u00ad \t"} {
		faults := toolstest.Refused(t, "exercise", toolstest.Object{"seed": blank})
		require.Len(t, faults, 1)
		assert.Equal(t, []string{"seed", "missing"}, []string{faults[0].Field, string(faults[0].Code)})
	}
}

// TestMarksCanBeRecomputed checks that the line of the working about the marks has all the numbers that they follow from.
func TestMarksCanBeRecomputed(t *testing.T) {
	o := toolstest.Answered(t, "exercise", toolstest.Object{"seed": "bench 4", "side": "high", "return": "case", "answer": "harness",
		"asked": []any{toolstest.Object{"test": "current_on"}, toolstest.Object{"test": "insulation_harness"},
			toolstest.Object{"test": "resistance_winding"}}})
	lines := o["working"].([]any)
	last := lines[len(lines)-1].(map[string]any)
	// By hand: 8 + 12 + 45 minutes, beside the best way and all tests; right, and wholly supported.
	best := toolstest.Number(t, o, "result.found.best.minutes")
	var most float64
	_, err := fmt.Sscanf(last["with"].(string)[strings.Index(last["with"].(string), ")/(")+3:], "%f", &most)
	require.NoError(t, err)
	want := 1 - 0.45*(65-best)/(most-best)
	assert.InDelta(t, want, last["value"].(map[string]any)["value"], 1e-3)
	assert.InDelta(t, 100*want, toolstest.Number(t, o, "result.found.score"), 0.1)
}
