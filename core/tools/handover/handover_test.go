package handover_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
)

// sheetOf returns an answer's sheet as JSON, with narrow spaces made plain.
func sheetOf(t *testing.T, request toolstest.Object) string {
	t.Helper()
	tl, ok := tools.Named("handover")
	require.True(t, ok)
	o := tl.Answer(toolstest.Encoded(t, request), quantity.Point, tools.English())
	require.NotNil(t, o.Answer, "%v", o.Faults)
	head, body := o.Answer.Lay()
	text, err := json.Marshal([]any{head, body})
	require.NoError(t, err)
	return strings.ReplaceAll(string(text), "\u00a0", " ")
}

func example(t *testing.T) toolstest.Object {
	tl, _ := tools.Named("handover")
	var o toolstest.Object
	require.NoError(t, json.Unmarshal([]byte(tl.Example), &o))
	return o
}

type list = []any

func TestSheetHasEverything(t *testing.T) {
	text := sheetOf(t, example(t))
	for _, want := range []string{"Tarn 24, gearbox QX-6", "TRN-4711", "84512 km", "P0962", "Stays in third gear when hot.",
		"Replace the component, 97 % likely (by the circuit tool)",
		"Solenoid 2 replaced", "solenoid 2, QX6-0312", "Current, driver on", "4.62 A",
		"88 °C, 13.8 V, 2026-11-23 08:02, LM", "Times of day", `"UTC"`, "Ohms at the component", "27 Ω",
		"2031 on: 5.0 Ω to 5.6 Ω at 20 °C, gearbox QX-6 built from July 2030, Tarn bulletin QX-6/07",
		"corrected later", "2.7 Ω", "Ohms, control wire to ground",
		"Bolts, 20 mm", "14 off, 14 back", "Torque, pan bolts", "8 N·m, click, 5 to 25 N·m, LM", "5.3 Ω", "21 °C", "as the Tarn manual, 31-4",
		"Relearn or adaptation by the maker's procedure.", "complaint gone", "was worn out and has been replaced", "23 November 2026",
		"Not recorded: meter of every reading", "Signature"} {
		assert.Contains(t, text, want)
	}
}

func TestACauseOfOnesOwnComesFirst(t *testing.T) {
	o := example(t)
	o["cause"] = "Turns shorted by a chip."
	text := sheetOf(t, o)
	assert.Contains(t, text, "Turns shorted by a chip.")
	assert.NotContains(t, text, "(by the circuit tool)")
	assert.Contains(t, text, "Replace the component, 97 % likely", "what was concluded still stands, apart")
}

// TestANextTestIsNoCause checks that only what the circuit tool decided stands as the cause: else that is not recorded.
func TestANextTestIsNoCause(t *testing.T) {
	for verdict, cause := range map[string]bool{"component": true, "nothing": true, "test": false, "again": false, "stop": false} {
		text := sheetOf(t, toolstest.Object{"answers": list{toolstest.Object{"tool": "circuit", "verdict": verdict, "said": "as it said"}}})
		assert.Equal(t, cause, strings.Contains(text, "as it said (by the circuit tool)"), verdict)
		o := toolstest.Answered(t, "handover", toolstest.Object{"answers": list{toolstest.Object{"tool": "circuit", "verdict": verdict,
			"said": "as it said"}}})
		b, err := json.Marshal(o["result"])
		require.NoError(t, err)
		assert.Equal(t, !cause, strings.Contains(string(b), `"cause"`), "%s: what is not recorded: %s", verdict, b)
	}
}

// TestAThermometerIsATemperature checks that the temperature of a resistance is recorded where a thermometer was put on the part.
func TestAThermometerIsATemperature(t *testing.T) {
	ohms := toolstest.Object{"tool": "circuit", "what": "resistance_component", "value": "23 ohm"}
	warm := toolstest.Object{"tool": "circuit", "what": "winding_temperature", "value": "95 degC"}
	assert.Contains(t, sheetOf(t, toolstest.Object{"readings": list{ohms}}), "temperature of every resistance")
	assert.NotContains(t, sheetOf(t, toolstest.Object{"readings": list{warm, ohms}}), "temperature of every resistance")
}

func TestNothingRecordedSaysSo(t *testing.T) {
	text := sheetOf(t, toolstest.Object{})
	assert.Greater(t, strings.Count(text, "not recorded"), 12)
	answer := toolstest.Answered(t, "handover", toolstest.Object{})["result"].(map[string]any)
	assert.Equal(t, "not_recorded", answer["overall"])
	assert.Len(t, answer["missing"], 10, "a temperature and a meter are only missing where there are readings")
}

func TestNeedsOfReadings(t *testing.T) {
	one := func(reading toolstest.Object) any {
		return toolstest.Answered(t, "handover", toolstest.Object{"readings": list{reading}})["result"].(map[string]any)["missing"]
	}
	assert.Contains(t, one(toolstest.Object{"value": "5.3 ohm"}), "temperature")
	assert.Contains(t, one(toolstest.Object{"value": "OL"}), "temperature")
	assert.Contains(t, one(toolstest.Object{"value": "5.3 ohm"}), "meter")
	assert.NotContains(t, one(toolstest.Object{"value": "5.3 ohm", "at": "20 degC", "meter": "x"}), "temperature")
	assert.NotContains(t, one(toolstest.Object{"value": "5.3 ohm", "at": "20 degC", "meter": "x"}), "meter")
	assert.NotContains(t, one(toolstest.Object{"value": "4 A"}), "temperature", "a current has none in its record")
	assert.NotContains(t, one(toolstest.Object{"value": "yes"}), "meter", "a look at a plate has none")
	assert.NotContains(t, one(toolstest.Object{"value": "5.3 ohm", "corrected": "yes"}), "temperature", "what was corrected need not have any")
}

func TestCountsThatDiffer(t *testing.T) {
	o := example(t)
	o["bolts"] = list{toolstest.Object{"length": "20 mm", "off": 14, "on": 13}, toolstest.Object{"off": 2, "on": 3}}
	response := toolstest.Answered(t, "handover", o)
	result := response["result"].(map[string]any)
	assert.Equal(t, "counts_differ", result["overall"])
	assert.Equal(t, list{map[string]any{"what": "bolts", "length": "20 mm", "off": 14.0, "on": 13.0},
		map[string]any{"what": "bolts", "off": 2.0, "on": 3.0}}, result["differ"])
	warnings := response["warnings"].([]any)
	require.Len(t, warnings, 2)
	assert.Equal(t, "bolts.0", warnings[0].(map[string]any)["field"])
	assert.Contains(t, warnings[0].(map[string]any)["text"], "missing")
	assert.Contains(t, warnings[1].(map[string]any)["text"], "More went in than came out")
	assert.Equal(t, "count_first", response["cautions"].([]any)[0].(map[string]any)["code"])
}

// TestWhatALinkSaysIsShownAsItIs checks that names from a link that are no names of readings are shown and never filled in or run.
func TestWhatALinkSaysIsShownAsItIs(t *testing.T) {
	for _, what := range []string{"why.below", "<script>alert(1)</script>", "warn.undecided", "%s %d", "__proto__", "nosuch"} {
		text := sheetOf(t, toolstest.Object{"readings": list{toolstest.Object{"tool": "winding", "what": what, "value": "5.3 ohm"}}})
		assert.NotContains(t, text, "%!", what)
		assert.NotContains(t, text, "<script>", "in JSON < is escaped; the page makes a text of it")
	}
}

func TestEveryNameOfAReadingHasWords(t *testing.T) {
	for _, name := range []string{"winding", "loop", "circuit"} {
		tl, _ := tools.Named(name)
		o := tl.Answer([]byte(tl.Example), quantity.Point, tools.English())
		taken := o.Record.Taken(nil)
		require.NotEmpty(t, taken, name)
		for _, one := range taken {
			text := sheetOf(t, toolstest.Object{"readings": list{toolstest.Object{"tool": name, "what": one.What, "place": one.Place,
				"value": one.Value}}})
			assert.NotContains(t, text, `"`+one.What+`"`, "%s: the handover has no words for it", name)
			if one.Place != "" {
				assert.NotContains(t, text, one.Place+`"`, name)
			}
		}
	}
}

// TestLongJob checks that a job as long as the document allows still gets its record.
func TestLongJob(t *testing.T) {
	rows := list{}
	for range 2000 {
		rows = append(rows, toolstest.Object{"tool": "circuit", "what": "current_on", "value": "4.62 A", "at": "88 degC", "supply": "13.8 V",
			"meter": "±(2 % + 3 × 0.01 A)", "when": "2026-11-23T08:02:00Z", "who": "LM"})
	}
	text := sheetOf(t, toolstest.Object{"readings": rows})
	assert.Equal(t, 2000, strings.Count(text, "4.62 A"))
	tl, _ := tools.Named("handover")
	assert.Greater(t, tl.MaxBytes(), 400<<10)
}

// TestTimesOfTheReadersClock checks that times are written as the clock on the wall showed them, with its offset said once; where the
// clocks were changed between two readings, beside each.
func TestTimesOfTheReadersClock(t *testing.T) {
	at := func(times ...string) string {
		rows := list{}
		for _, when := range times {
			rows = append(rows, toolstest.Object{"tool": "circuit", "what": "current_on", "value": "4.62 A", "when": when})
		}
		torque := toolstest.Object{"tool": "torque", "said": "8 N m", "when": times[0]}
		return sheetOf(t, toolstest.Object{"readings": rows, "answers": list{torque}})
	}
	winter := at("2026-11-23T04:32:00-03:30", "2026-11-23T09:02:11-03:30")
	for _, want := range []string{`"2026-11-23 04:32"`, `"2026-11-23 09:02"`, `"8 N m, 2026-11-23 04:32"`, `"UTC−03:30"`} {
		assert.Contains(t, winter, want)
	}
	assert.Equal(t, 1, strings.Count(winter, "UTC"), "said once")
	both := at("2026-10-31T22:00:00-02:30", "2026-11-02T08:00:00-03:30")
	assert.Contains(t, both, `"2026-10-31 22:00 UTC−02:30"`)
	assert.Contains(t, both, `"2026-11-02 08:00 UTC−03:30"`)
	assert.NotContains(t, both, "Times of day")
	assert.Contains(t, at("2026-07-01T08:00:00+00:00"), `"UTC"`)
	for _, odd := range []string{"soon", "2026-10-31T22:00:00*02:30", "2026-10-31T22:00", "2026-10-31T22:00:00+0230"} {
		assert.Contains(t, at(odd), odd, "what is no time is shown as it is")
	}
}

// TestAReadingThatWasTakenOverNamesBothUses checks that a reading which another tool took over is one line with both names.
func TestAReadingThatWasTakenOverNamesBothUses(t *testing.T) {
	text := sheetOf(t, toolstest.Object{"readings": list{toolstest.Object{"tool": "winding", "what": "reading", "place": "component_connector",
		"value": "3.5 ohm", "as_tool": "circuit", "as_what": "resistance_component"}}})
	assert.Contains(t, text, "taken over as Ohms at the component")
	assert.Equal(t, 1, strings.Count(text, "3.5 Ω"))
}

func TestWhatIsLookedUpHasNoTemperature(t *testing.T) {
	text := sheetOf(t, toolstest.Object{"readings": list{toolstest.Object{"tool": "circuit", "what": "row_applies", "value": "yes",
		"at": "88 degC", "supply": "13.8 V", "when": "2026-11-23T08:02:00Z", "who": "LM"}}})
	assert.Contains(t, text, `"2026-11-23 08:02, LM"`)
	assert.NotContains(t, text, "88 °C")
}

// TestPuttingBackIsNoConclusion checks that a torque stands under the work, with who and when, and not with the diagnosis.
func TestPuttingBackIsNoConclusion(t *testing.T) {
	o := example(t)
	o["answers"] = append(o["answers"].(list), toolstest.Object{"tool": "torque", "verdict": "set", "said": "set 71 in-lb", "who": "LM",
		"when": "2026-11-23T09:40:00Z"})
	text := sheetOf(t, o)
	concluded, work := strings.Index(text, "Concluded from it"), strings.Index(text, "Work done")
	assert.Greater(t, strings.Index(text, "set 71 in-lb, 2026-11-23 09:40, LM"), work)
	assert.Greater(t, work, concluded)
	assert.Equal(t, 1, strings.Count(text, "set 71 in-lb"))
	o["torques"] = list{toolstest.Object{"of": "pan bolts", "set": "8 N.m"}}
	assert.Contains(t, sheetOf(t, o), "8 N·m, LM", "by whoever did the work, where nobody else is named")
	o["who"] = "RK"
	assert.NotContains(t, sheetOf(t, o), "8 N·m, ", "RK goes on with what LM has begun, and need not have tightened them")
}

// TestSpecificationIsPrinted checks what stands of each row that readings were judged by.
func TestSpecificationIsPrinted(t *testing.T) {
	rows := func(all ...toolstest.Object) string {
		l := list{}
		for _, one := range all {
			l = append(l, one)
		}
		return sheetOf(t, toolstest.Object{"judged_by": l})
	}
	two := rows(toolstest.Object{"name": "up to 2030", "min": "2.4 ohm", "max": "3.0 ohm", "at": "20 degC"},
		toolstest.Object{"name": "2031 on", "min": "5.0 ohm", "max": "5.6 ohm", "at": "20 degC", "applies": "yes"})
	assert.Contains(t, two, `"up to 2030: 2.4 Ω to 3.0 Ω at 20 °C"`)
	assert.Contains(t, two, `"2031 on: 5.0 Ω to 5.6 Ω at 20 °C – the row taken"`)
	assert.Contains(t, rows(toolstest.Object{"min": "5 ohm", "applies": "yes", "settled": "yes"}), "taken, settled by a known good part")
	assert.Contains(t, rows(toolstest.Object{"nominal": "13 ohm", "tolerance": "10 %", "valid_from": "20 degC", "valid_to": "80 degC"}),
		`"13 Ω ± 10 % from 20 °C to 80 °C"`)
	assert.Contains(t, rows(toolstest.Object{"min": "13 ohm", "source": "page 112"}), `"at least 13 Ω, page 112"`)
	assert.NotContains(t, sheetOf(t, toolstest.Object{}), "Specification")
}

// TestWhatIsStillToDoIsLaidOut checks that what somebody wrote under "still to do" stands in the list of what is open, in their words.
func TestWhatIsStillToDoIsLaidOut(t *testing.T) {
	assert.Contains(t, sheetOf(t, toolstest.Object{"to_do": "ask for the pan"}), "ask for the pan")
}

// TestCauseOfSeveralWindings checks that the cause is what was decided of one winding, though another one's circuit was looked at since.
func TestCauseOfSeveralWindings(t *testing.T) {
	of := func(verdict, said string) toolstest.Object {
		return toolstest.Object{"tool": "circuit", "verdict": verdict, "said": said}
	}
	text := sheetOf(t, toolstest.Object{"answers": list{of("component", "Replace the component, Y4: 97 %"),
		of("test", "Measure next, Y1: …")}})
	cause, _, _ := strings.Cut(text, "Measure next")
	assert.Contains(t, cause, "Replace the component, Y4: 97 %")
	both := toolstest.Object{"answers": list{of("component", "x"), of("test", "y")}}
	assert.NotContains(t, toolstest.Answered(t, "handover", both)["result"].(map[string]any)["missing"], "cause")
}

// TestRowsAndLeadsAreTold checks that a row without a name is told by its number, and that the leads stand with the reading.
func TestRowsAndLeadsAreTold(t *testing.T) {
	text := sheetOf(t, toolstest.Object{"readings": list{toolstest.Object{"tool": "bank", "what": "windings.reading", "name": "#2",
		"place": "component_connector", "value": "13.2 ohm", "leads": "0.3 ohm"}}})
	for _, want := range []string{"row 2, ", "leads of 0.3 Ω in it"} {
		assert.Contains(t, text, want)
	}
}
