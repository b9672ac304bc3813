package page

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/job"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/testdata"
)

const (
	monday  = "2026-11-23T07:10:00Z"
	tuesday = "2026-11-24T07:10:00Z"
)

func newJob() *job.Job { return job.New("tarn24000001", monday) }

// note adds what a form adds to a job, and returns it.
func note(t *testing.T, j *job.Job, name string, given form) []job.Entry {
	t.Helper()
	before := len(j.Entries)
	entries := Journal(j, toolNamed(name), given, tools.English(), monday, "LM")
	j.Entries = append(j.Entries, entries...)
	again := Journal(j, toolNamed(name), given, tools.English(), tuesday, "LM")
	require.Empty(t, again, "noted once, a form adds nothing")
	back, err := job.Read(job.Write(j))
	require.NoError(t, err, "the document takes what was noted")
	require.Equal(t, j.Entries, back.Entries)
	return j.Entries[before:]
}

// readings returns only the readings and withdrawals, in short: what they are of, value, place, and what they correct.
func readings(entries []job.Entry) (list []string) {
	for _, e := range entries {
		if e.Kind != job.Answer {
			text := strings.TrimSpace(strings.Join([]string{string(e.Kind)[:1], e.What, e.Value, e.Place}, " "))
			if e.Corrects > 0 {
				text += fmt.Sprint(" for ", e.Corrects)
			}
			list = append(list, text)
		}
	}
	return list
}

var bare = form{"side": "high", "return": "case", "supply": "13.8 V", "spec.min": "5.0 ohm", "spec.max": "5.6 ohm",
	"winding_temperature": "88 degC"}

func with(given form, more form) form {
	out := maps.Clone(given)
	maps.Copy(out, more)
	return out
}

func TestJournalOfCircuit(t *testing.T) {
	j := newJob()
	first := note(t, j, "circuit", with(bare, form{"readings.0.test": "current_on", "readings.0.value": "4.62 A"}))
	assert.Equal(t, job.Entry{Kind: job.Reading, Tool: "circuit", What: "current_on", Value: "4.62 A", At: "88 degC", Supply: "13.8 V",
		When: monday, Who: "LM"}, first[0])
	require.Len(t, first, 2)
	assert.Equal(t, job.Answer, first[1].Kind)
	assert.Contains(t, first[1].Said, ", ")
	assert.True(t, strings.HasPrefix(first[1].Link, "#/circuit?v=1&"))
	two := with(bare, form{"readings.0.test": "current_on", "readings.0.value": "4.62 A",
		"readings.3.test": "resistance_component", "readings.3.value": "2.7 ohm", "readings.3.at": "21 degC", "readings.3.supply": "12 V",
		"meter.resistance.percent": "0.5", "meter.resistance.resolution": "0.01 ohm"})
	second := note(t, j, "circuit", two)
	assert.Equal(t, job.Entry{Kind: job.Reading, Tool: "circuit", What: "resistance_component", Value: "2.7 ohm", At: "21 degC",
		Supply: "12 V", Meter: "±(0.5 % + 2 × 0.01 ohm)", When: monday, Who: "LM"}, second[0], "its own supply and temperature come first")
	last := job.Answer == second[len(second)-1].Kind
	assert.True(t, last, "97 %% is told, and no longer what it was with one reading: %v", second)
	third := note(t, j, "circuit", with(two, form{"readings.3.value": "OL"}))
	assert.Equal(t, []string{"r resistance_component OL for 3"}, readings(third))
	gone := maps.Clone(two)
	maps.DeleteFunc(gone, func(key, _ string) bool { return strings.HasPrefix(key, "readings.0.") })
	fourth := note(t, j, "circuit", gone)
	assert.ElementsMatch(t, []string{"r resistance_component 2.7 ohm for 5", "w for 1"}, readings(fourth))
}

func TestJournalOfTheSameTestTwice(t *testing.T) {
	row := func(n int, value string) form {
		return form{fmt.Sprintf("readings.%d.test", n): "current_on", fmt.Sprintf("readings.%d.value", n): value}
	}
	j := newJob()
	assert.Equal(t, []string{"r current_on 4 A", "r current_on 5 A"},
		readings(note(t, j, "circuit", with(with(bare, row(0, "4 A")), row(1, "5 A")))))
	assert.Empty(t, readings(note(t, j, "circuit", with(with(bare, row(0, "5 A")), row(7, "4 A")))), "in another order they are the same")
	assert.Equal(t, []string{"w for 1"}, readings(note(t, j, "circuit", with(bare, row(0, "5 A")))), "the one that is gone, not the other")
	assert.Empty(t, readings(note(t, j, "circuit", with(bare, row(0, "5 x")))), "what is being typed is not gone")
	assert.Equal(t, []string{"r current_on 6 A for 2"}, readings(note(t, j, "circuit", with(bare, row(0, "6 A")))), "corrects %v", j.Entries)
	assert.Equal(t, []string{"r current_on 6 A"}, readings(note(t, j, "circuit", with(with(bare, row(0, "6 A")), row(1, "6 A")))),
		"read twice is two readings")
}

func TestJournalTakesNoWrongValue(t *testing.T) {
	for name, given := range map[string]form{
		"no number":     {"readings.0.test": "current_on", "readings.0.value": "about 4 A"},
		"another unit":  {"readings.0.test": "current_on", "readings.0.value": "4 ohm"},
		"out of range":  {"readings.0.test": "current_on", "readings.0.value": "-500 A"},
		"a wrong row":   {"readings.0.test": "current_on", "readings.0.value": "4 A", "readings.0.supply": "x"},
		"no such test":  {"readings.0.test": "current_of", "readings.0.value": "4 A"},
		"nothing":       {"readings.0.test": "current_on", "readings.0.value": " "},
		"not possible":  {"readings.0.test": "voltage_feed", "readings.0.value": "4 V"},
		"no test":       {"readings.0.value": "4 A"},
		"an empty form": {},
	} {
		j := newJob()
		assert.Empty(t, readings(note(t, j, "circuit", with(bare, given))), name)
	}
	assert.Empty(t, Journal(newJob(), toolNamed("winding"), form{"reading": "5.3 ohm"}, tools.English(), "today", ""), "no time")
	assert.Empty(t, Journal(newJob(), toolNamed("winding"), form{"readings": "x", "reading.0": "y"}, tools.English(), monday, ""))
	waiting := note(t, newJob(), "winding", form{"at": "20 degC"})
	assert.Empty(t, waiting, "a head that waits is no answer")
}

func TestJournalOfWinding(t *testing.T) {
	j := newJob()
	at := form{"reading": "5.9 ohm", "at": "20 degC", "measured_at": "component_connector"}
	assert.Equal(t, []string{"r reading 5.9 ohm component_connector"}, readings(note(t, j, "winding", at)))
	elsewhere := form{"reading": "6.8 ohm", "at": "20 degC", "measured_at": "control_unit"}
	assert.Equal(t, []string{"r reading 6.8 ohm control_unit"}, readings(note(t, j, "winding", elsewhere)),
		"read at another place it is another reading, and the first still holds")
	moved := form{"reading": "6.8 ohm", "at": "20 degC"}
	assert.Equal(t, []string{"r reading 6.8 ohm winding for 3"}, readings(note(t, j, "winding", moved)),
		"the same reading at another place: %v", j.Entries)
	assert.Equal(t, []string{"w for 5"}, readings(note(t, j, "winding", form{"at": "20 degC"})),
		"the field is empty; what was read elsewhere stays")
	assert.Equal(t, []string{"r reading 6.8 ohm winding"}, readings(note(t, j, "winding", moved)))
	pair := with(moved, form{"known_good.reading": "5.3 ohm", "known_good.at": "22 degC"})
	more := note(t, j, "winding", pair)
	assert.Equal(t, []string{"r known_good.reading 5.3 ohm"}, readings(more))
	assert.Equal(t, "22 degC", more[0].At, "a second part has its own temperature")
	warmer := note(t, j, "winding", with(pair, form{"at": "24 degC"}))
	assert.Equal(t, "24 degC", warmer[0].At, "what applied to a reading is corrected too")
	assert.Equal(t, []string{"r reading 6.8 ohm winding for 7"}, readings(warmer), "%v", j.Entries)
}

func TestJournalOfLoop(t *testing.T) {
	j := newJob()
	known := form{"supply": "13.2 V", "winding": "5.3 ohm"}
	assert.Empty(t, readings(note(t, j, "loop", known)), "the supply may come from another tool")
	noted := note(t, j, "loop", with(known, form{"current": "1.65 A", "meter.counts": "5", "at": "21 degC"}))
	assert.Equal(t, []string{"r supply 13.2 V", "r current 1.65 A", "r winding 5.3 ohm"}, readings(noted))
	assert.Equal(t, "13.2 V", noted[1].Supply)
	assert.Equal(t, "±(2 % + 5 × 0.01 A)", noted[1].Meter)
	assert.Equal(t, "21 degC", noted[2].At, "what the loss was worked out from, at its own temperature")
	assert.Empty(t, noted[2].Supply+noted[2].Meter, "not the clamp's")
}

// TestJournalKeepsADecimalComma checks that a reading is kept as it was typed, and read in the reader's notation.
func TestJournalKeepsADecimalComma(t *testing.T) {
	j := newJob()
	entries := Journal(j, toolNamed("winding"), form{"reading": "5,3 ohm", "at": "20,5 degC"}, tools.Speaker("en", "de"), monday, "")
	require.NotEmpty(t, entries)
	assert.Equal(t, "5,3 ohm", entries[0].Value)
	assert.Equal(t, "20,5 degC", entries[0].At)
}

// TestJournalIsNotedOnce changes a form of readings at random many times, as a user would, and checks after each settled state that the
// readings that stand are those of the form.
func TestJournalIsNotedOnce(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	tests := []string{"current_on", "resistance_component", "voltage_pin_on"}
	units := []string{" A", " ohm", " V"}
	for range 8 {
		j, given := newJob(), maps.Clone(bare)
		for range 12 {
			n, k := random.IntN(4), random.IntN(3)
			key := fmt.Sprint("readings.", n)
			if random.IntN(3) == 0 {
				delete(given, key+".test")
				delete(given, key+".value")
			} else {
				given[key+".test"], given[key+".value"] = tests[k], fmt.Sprint(1+random.IntN(3))+units[k]
			}
			note(t, j, "circuit", given)
			want, got := map[string]int{}, map[string]int{}
			for n := range 4 {
				if test := given[fmt.Sprint("readings.", n, ".test")]; test != "" {
					want[test+given[fmt.Sprint("readings.", n, ".value")]]++
				}
			}
			stands := j.Standing()
			for i, e := range j.Entries {
				if stands[i] && e.Kind == job.Reading {
					got[e.What+e.Value]++
				}
			}
			require.Equal(t, want, got)
		}
	}
}

func TestRecord(t *testing.T) {
	j := newJob()
	two := with(bare, form{"readings.0.test": "current_on", "readings.0.value": "4.62 A",
		"readings.1.test": "resistance_component", "readings.1.value": "27 ohm"})
	note(t, j, "circuit", two)
	note(t, j, "circuit", with(two, form{"readings.1.value": "2.7 ohm"}))
	note(t, j, "winding", form{"reading": "2.7 ohm", "at": "88 degC", "specs.0.min": "5.0 ohm", "specs.0.max": "5.6 ohm"})
	note(t, j, "handover", form{"new_part.reading": "5.3 ohm", "new_part.at": "21 degC"})
	j.Append(job.Entry{Kind: job.Step, What: "plug_cleaned", When: tuesday})
	r := Record(j)
	assert.Equal(t, "27 ohm", r["readings.1.value"])
	assert.Equal(t, "yes", r["readings.1.corrected"])
	assert.Equal(t, "2.7 ohm", r["readings.2.value"])
	assert.Empty(t, r["readings.2.corrected"])
	assert.Equal(t, "winding", r["readings.3.place"])
	assert.NotContains(t, r, "readings.4.value", "the handover has its own reading in its form")
	assert.Equal(t, []string{"circuit", "winding", ""}, []string{r["answers.0.tool"], r["answers.1.tool"], r["answers.2.tool"]},
		"the last answer of each tool")
	assert.Equal(t, "plug_cleaned", r["steps.0.what"])
	assert.NotEmpty(t, r["not_made.0.test"], "what the circuit tool has next")
	reply := Answer(toolNamed("handover"), r, tools.English())
	assert.True(t, reply.Answered)
	assert.Empty(t, reply.Notes)
	for _, said := range []string{"Ohms at the component", "corrected later", "27\u00a0Ω", "Tests not made"} {
		assert.Contains(t, shown(t, reply.Body), said)
	}
}

// passed is a job whose winding's reading was passed on to the circuit, as the page does it.
func passed(t *testing.T) *job.Job {
	t.Helper()
	j := newJob()
	winding := form{"reading": "2.7 ohm", "at": "88 degC", "measured_at": "component_connector", "specs.0.name": "up to 2030",
		"specs.0.min": "2.4 ohm", "specs.0.max": "3.0 ohm", "specs.1.min": "5.0 ohm", "specs.1.max": "5.6 ohm",
		"specs.1.applies_to": "built from July 2030", "specs.1.source": "bulletin 7"}
	note(t, j, "winding", winding)
	j.Facts.From["readings.resistance_component"] = "winding"
	note(t, j, "circuit", with(bare, form{"readings.0.test": "resistance_component", "readings.0.value": "2.7ohm"}))
	return j
}

// TestRecordTellsOneMeasurementOnce checks that a reading that the circuit took over from the winding is one line, with both uses, and that
// the job's entries are left alone.
func TestRecordTellsOneMeasurementOnce(t *testing.T) {
	j := passed(t)
	require.Len(t, readings(j.Entries), 2)
	r := Record(j)
	assert.Equal(t, []string{"winding", "2.7 ohm", "circuit", "resistance_component", "13.8 V"},
		[]string{r["readings.0.tool"], r["readings.0.value"], r["readings.0.as_tool"], r["readings.0.as_what"], r["readings.0.supply"]})
	assert.NotContains(t, r, "readings.1.value")
	require.Len(t, readings(j.Entries), 2)

	// Less the leads, the circuit has another figure of the same measurement.
	note(t, j, "winding", form{"reading": "2.9 ohm", "leads": "0.2 ohm", "at": "88 degC", "measured_at": "component_connector"})
	r = Record(j)
	assert.Equal(t, []string{"2.7 ohm", "yes", "", "2.9 ohm", "", "resistance_component"}, []string{r["readings.0.value"],
		r["readings.0.corrected"], r["readings.0.as_what"], r["readings.1.value"], r["readings.1.corrected"], r["readings.1.as_what"]})
	assert.NotContains(t, r, "readings.2.value")

	// Both corrected: each of the two stands once.
	note(t, j, "circuit", with(bare, form{"readings.0.test": "resistance_component", "readings.0.value": "2.8ohm"}))
	r = Record(j)
	assert.Equal(t, []string{"2.7 ohm", "resistance_component", "2.9 ohm", "resistance_component"}, []string{r["readings.0.value"],
		r["readings.0.as_what"], r["readings.1.value"], r["readings.1.as_what"]})
	assert.NotContains(t, r, "readings.2.value")

	// What was changed by hand is a reading of its own.
	delete(j.Facts.From, "readings.resistance_component")
	r = Record(j)
	assert.Equal(t, "2.8ohm", r["readings.3.value"])
	assert.Empty(t, r["readings.0.as_what"])
}

// TestRecordOfWhatWasTakenOverBeforeTheRest checks that a reading that the circuit took over less the leads stays one line when its supply
// and temperature are typed afterwards, and that one typed by hand before it was taken over is told of.
func TestRecordOfWhatWasTakenOverBeforeTheRest(t *testing.T) {
	j := newJob()
	note(t, j, "winding", form{"reading": "3.1 ohm", "leads": "0.3 ohm", "measured_at": "component_connector"})
	over := form{"side": "high", "return": "case", "readings.0.test": "resistance_component", "readings.0.value": "2.8ohm"}
	note(t, j, "circuit", with(over, form{"readings.0.value": "2.5 ohm"}))
	j.Facts.From["readings.resistance_component"] = "winding"
	note(t, j, "circuit", over)
	note(t, j, "circuit", with(over, form{"winding_temperature": "88 degC"}))
	note(t, j, "circuit", with(over, bare))
	r := Record(j)
	assert.Equal(t, []string{"88 degC", "13.8 V"}, []string{r["readings.0.at"], r["readings.0.supply"]})
	assert.Equal(t, []string{"3.1 ohm", "", "resistance_component", "2.5 ohm", "yes", ""}, []string{r["readings.0.value"],
		r["readings.0.corrected"], r["readings.0.as_what"], r["readings.1.value"], r["readings.1.corrected"], r["readings.1.as_what"]})
	assert.NotContains(t, r, "readings.2.value")
}

// TestRecordOfWhatWasTypedLater checks that a temperature or a supply that was typed after a reading makes no second line, and that a
// changed one does.
func TestRecordOfWhatWasTypedLater(t *testing.T) {
	j := newJob()
	taken := form{"side": "high", "return": "case", "readings.0.test": "resistance_component", "readings.0.value": "2.8 ohm"}
	note(t, j, "circuit", taken)
	for _, more := range []form{{"winding_temperature": "80 degC"}, {"winding_temperature": "80 degC", "supply": "13.8 V"},
		{"winding_temperature": "88 degC", "supply": "13.8 V"}} {
		j.Entries = append(j.Entries, Journal(j, toolNamed("circuit"), with(taken, more), tools.English(), tuesday, "RK")...)
	}
	require.Len(t, readings(j.Entries), 4)
	r := Record(j)
	assert.Equal(t, []string{"2.8 ohm", "80 degC", "13.8 V", "yes", monday, "LM"}, []string{r["readings.0.value"], r["readings.0.at"],
		r["readings.0.supply"], r["readings.0.corrected"], r["readings.0.when"], r["readings.0.who"]})
	assert.Equal(t, []string{"2.8 ohm", "88 degC", "13.8 V", "", tuesday, "RK"}, []string{r["readings.1.value"], r["readings.1.at"],
		r["readings.1.supply"], r["readings.1.corrected"], r["readings.1.when"], r["readings.1.who"]})
	assert.NotContains(t, r, "readings.2.value")
}

// TestALookIsNotTakenAnew checks that whether the row applies, and what a thermometer or the battery showed, is not noted again because
// another temperature or supply was typed.
func TestALookIsNotTakenAnew(t *testing.T) {
	j := newJob()
	looked := form{"side": "high", "return": "case", "readings.0.test": "row_applies", "readings.0.value": "yes",
		"readings.1.test": "winding_temperature", "readings.1.value": "60 degC", "winding_temperature": "60 degC"}
	note(t, j, "circuit", looked)
	assert.Empty(t, readings(note(t, j, "circuit", with(looked, form{"winding_temperature": "65 degC", "supply": "13.8 V"}))))
	assert.Len(t, readings(note(t, j, "circuit", with(looked, form{"readings.0.value": "no"}))), 1)
}

func TestRecordOfReadingsElsewhere(t *testing.T) {
	j := passed(t)
	note(t, j, "winding", form{"reading": "3.6 ohm", "at": "88 degC", "measured_at": "control_unit"})
	r := Record(j)
	assert.Equal(t, []string{"component_connector", "resistance_component"}, []string{r["readings.0.place"], r["readings.0.as_what"]})
	assert.Equal(t, []string{"control_unit", ""}, []string{r["readings.1.place"], r["readings.1.as_what"]}, "read elsewhere")
	j = newJob()
	j.Facts.From["readings.current_on"] = "loop"
	note(t, j, "loop", form{"supply": "13.2 V", "winding": "5.3 ohm", "current": "1,65 A"})
	note(t, j, "circuit", with(bare, form{"readings.0.test": "current_on", "readings.0.value": "1.65A"}))
	assert.Equal(t, "current_on", Record(j)["readings.1.as_what"], "the loaded test's current")
}

// TestRecordHasTheSpecification checks that the record has the rows that the last answers rest on, once each, and which one was taken.
func TestRecordHasTheSpecification(t *testing.T) {
	r := Record(passed(t))
	got := map[string]string{}
	for key, text := range r {
		if rest, ok := strings.CutPrefix(key, "judged_by."); ok {
			got[rest] = text
		}
	}
	assert.Equal(t, map[string]string{"0.name": "up to 2030", "0.min": "2.4ohm", "0.max": "3.0ohm", "0.at": "20 degC", "1.min": "5.0ohm",
		"1.max": "5.6ohm", "1.at": "20 degC", "1.applies_to": "built from July 2030", "1.source": "bulletin 7", "1.applies": "yes"}, got)
	j := passed(t)
	settled := form{"settled.min": "5.0 ohm", "settled.max": "5.6 ohm"}
	note(t, j, "circuit", with(with(bare, settled), form{"readings.0.test": "resistance_component", "readings.0.value": "2.7ohm"}))
	assert.Equal(t, []string{"", "yes"}, []string{Record(j)["judged_by.0.settled"], Record(j)["judged_by.1.settled"]})
	for _, e := range j.Entries {
		assert.NotEqual(t, "row_applies", e.What, "a conclusion is no reading")
	}
	j = newJob()
	note(t, j, "bank", form{"at": "20 degC", "spec.min": "5.0 ohm", "spec.max": "5.6 ohm", "windings.0.reading": "5.3 ohm",
		"windings.1.reading": "12 ohm", "windings.1.name": "B", "windings.1.min": "11 ohm", "windings.1.max": "0.013 kohm"})
	note(t, j, "circuit", with(bare, form{"spec.min": "0.005 kohm"}))
	r = Record(j)
	assert.Equal(t, []string{"5.0ohm", "11ohm", "B", ""},
		[]string{r["judged_by.0.min"], r["judged_by.1.min"], r["judged_by.1.name"], r["judged_by.2.min"]})
}

// TestRecordDrawsTheCircuit checks that the circuit's answer is drawn in the record where it is asked for whole, and no other link's.
func TestRecordDrawsTheCircuit(t *testing.T) {
	r := Record(passed(t))
	require.True(t, strings.HasPrefix(r["drawn"], "#/circuit?v=1&"))
	whole := shown(t, Answer(toolNamed("handover"), r, tools.English()).Body)
	assert.Contains(t, whole, "drawing chain")
	assert.Contains(t, whole, "part-shade")
	assert.NotContains(t, whole, "data-pick", "there is nothing to tap")
	brief := shown(t, Glance(toolNamed("handover"), r, tools.English(), tool.Brief).Body)
	assert.NotContains(t, brief, "drawing chain", "not at every keystroke")
	others := []string{"#/handover?v=1&drawn=%23/handover", "#/winding?v=1&reading=5ohm", "#/circuit?v=1", "x", r["drawn"] + "&x=1"}
	for _, link := range others {
		assert.NotContains(t, shown(t, Answer(toolNamed("handover"), form{"drawn": link}, tools.English()).Body), "drawing")
	}
}

func TestJournalOfSteps(t *testing.T) {
	j := newJob()
	steps := func(given form) (list []string) {
		for _, e := range note(t, j, "handover", given) {
			if e.Kind != job.Answer {
				list = append(list, strings.TrimSpace(fmt.Sprint(e.Kind, " ", e.What, " ", e.Corrects)))
			}
		}
		return list
	}
	assert.Equal(t, []string{"step cleared.done 0", "step relearn.open 0"},
		steps(form{"cleared": "done", "relearn": "open", "road_test": "x"}))
	assert.Equal(t, "Codes cleared: yes", j.Entries[0].Said)
	assert.Equal(t, []string{"step relearn.done 2"}, steps(form{"cleared": "done", "relearn": "done"}), "a step that went on corrects itself")
	reply := Answer(toolNamed("handover"), with(Record(j), form{"cleared": "done", "relearn": "done"}), tools.English())
	assert.Contains(t, shown(t, reply.Body), `"yes, 2026-11-23 07:10, LM"`)
	assert.NotContains(t, shown(t, reply.Body), "cleared.done", "what stands in the form is not listed once more")
	assert.Equal(t, []string{"withdrawn  1"}, steps(form{"relearn": "done", "cleared": "not_recorded"}))
}

func TestLine(t *testing.T) {
	j := newJob()
	name, said, when := Line(j, tools.English())
	assert.Equal(t, []string{"A job without a name", "", monday}, []string{name, said, when})
	j.Facts.Given["vehicle"], j.Facts.Given["tag"] = " Tarn 24 ", "TRN-4711"
	note(t, j, "winding", form{"reading": "2.7 ohm", "at": "88 degC", "specs.0.min": "5.0 ohm", "specs.0.max": "5.6 ohm"})
	note(t, j, "handover", form{"vehicle": "Tarn 24"})
	name, said, _ = Line(j, tools.English())
	assert.Equal(t, "Tarn 24, TRN-4711", name)
	assert.Equal(t, j.Entries[1].Said, said, "and not that the record has gaps")
	note(t, j, "handover", form{"vehicle": "Tarn 24", "plugs.off": "2", "plugs.on": "1"})
	_, said, _ = Line(j, tools.English())
	assert.Contains(t, said, "Counts do not match")
}

// TestEveryAnswerCanBeNoted checks that each tool's example makes entries that the document takes: a verdict's key may have any name.
func TestEveryAnswerCanBeNoted(t *testing.T) {
	for _, tl := range tools.All {
		o := tl.Answer([]byte(tl.Example), 0, tools.English())
		given := form{}
		for _, p := range o.Record.Pairs() {
			given[p.Key] = p.Value
		}
		j := newJob()
		entries := note(t, j, tl.Name, given)
		if tl.Jobless {
			assert.Empty(t, entries, "it is about nobody's vehicle")
			continue
		}
		require.NotEmpty(t, entries, tl.Name)
		assert.Equal(t, job.Answer, entries[len(entries)-1].Kind, tl.Name)
	}
}

// TestJournalFollowsTheTightening checks that the record says how far the tightening has come, forth and back, and that it is done.
func TestJournalFollowsTheTightening(t *testing.T) {
	j := newJob()
	given := form{"torque": "9 N.m", "pattern.kind": "rectangle", "pattern.count": "4", "pattern.width": "60 mm", "pattern.height": "60 mm"}
	const asked = `{"torque": "9 N.m", "pattern": {"kind": "rectangle", "count": 4, "width": "60 mm", "height": "60 mm"}}`
	response, failed := tools.Run("torque", []byte(asked), tools.English())
	require.NoError(t, failed)
	var got any
	require.NoError(t, json.Unmarshal(response, &got))
	of, ok := testdata.Look(got, "result.sequence.of")
	require.True(t, ok, "%s", response)
	said := func(done int) string {
		entries := note(t, j, "torque", with(given, form{"progress.done": strconv.Itoa(done), "progress.of": of.(string)}))
		require.Len(t, entries, 1)
		return entries[0].Said
	}
	assert.Equal(t, "Pass 1 of 4, snug: next bolt 4 of 4", said(3))
	assert.Equal(t, "Pass 2 of 4, to 50 %: next bolt 2 of 4", strings.ReplaceAll(said(5), "\u00a0", " "))
	assert.Equal(t, "Pass 1 of 4, snug: next bolt 3 of 4", said(2))
	assert.Equal(t, "Order of tightening, all passes done, bolts: 4", said(16))
}
