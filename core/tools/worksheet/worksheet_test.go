package worksheet_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/link"
	"ohmwright/core/page"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	core "ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	tool "ohmwright/core/tools/worksheet"
	"ohmwright/core/worksheet"
)

type object = toolstest.Object

// every calls do with every kind and level.
func every(do func(kind, level string)) {
	for k := range worksheet.Kind(worksheet.Kinds) {
		for l := worksheet.Level(1); l <= worksheet.Levels; l++ {
			do(k.String(), l.String())
		}
	}
}

// TestEverythingHasWords lays out every kind and level as a teacher and as a student see it, before and after each decision that there is,
// with every slip: whatever is said has words, or the tool panics.
func TestEverythingHasWords(t *testing.T) {
	speak := tools.English()
	asked := func(o object) []*sheet.Element {
		out := tool.Tool.Answer(toolstest.Encoded(t, o), quantity.Point, speak)
		require.NotNil(t, out.Answer, "%v: %v", o, out.Faults)
		head, body := out.Answer.Lay()
		return append(body, head)
	}
	every(func(kind, level string) {
		questions := []any{object{"kind": kind, "level": level}}
		asked(object{"questions": questions})
		one := object{"role": "student", "name": "x", "questions": questions, "later_tries": "yes"}
		asked(one)
		k, l := kindOf(kind), worksheet.Level(level[0]-'0')
		if k.Hides() {
			one["asked"] = []any{object{"test": "current_on"}, object{"test": "resistance_component"}}
			for _, repair := range []string{"component", "harness", "return_path", "control_unit", "nothing"} {
				one["decisions"] = []any{object{"repair": repair}, object{}}
				for _, told := range []string{"no", "yes"} {
					one["solution"] = told
					asked(one)
				}
			}
			return
		}
		task := worksheet.Sheet{Questions: []worksheet.Question{{Kind: k, Level: l}}}.Task(0, "x")
		values := []float64{task.Value, task.Value * 1000, 123456}
		for _, m := range task.Misses {
			values = append(values, m.Value)
		}
		for i, v := range values {
			one["solution"] = "yes"
			one["decisions"] = []any{object{"value": v, "unit": task.Offered()[i%4], "condition": task.Conditions[i%3],
				"decision": task.Decisions[i%3], "reason": task.Reasons[i%4]}}
			asked(one)
		}
	})
}

func kindOf(name string) worksheet.Kind {
	for k := range worksheet.Kind(worksheet.Kinds) {
		if k.String() == name {
			return k
		}
	}
	panic(name)
}

// TestSlipsHaveWords checks that every slip has a sentence for the student and a few words for the table.
func TestSlipsHaveWords(t *testing.T) {
	own := tool.Tool.Speaker(tools.English())
	seen := map[worksheet.Slip]bool{worksheet.KiloForOne: true, worksheet.OtherUnit: true}
	every(func(kind, level string) {
		if k := kindOf(kind); !k.Hides() {
			s := worksheet.Sheet{Questions: []worksheet.Question{{Kind: k, Level: worksheet.Level(level[0] - '0')}}}
			for _, m := range s.Task(0, "x").Misses {
				seen[m.Slip] = true
			}
		}
	})
	for slip := range seen {
		assert.True(t, own.Has("slip."+string(slip)), slip)
		assert.True(t, own.Has("table.slip."+string(slip)), slip)
	}
	assert.Len(t, seen, 20, "all slips that there are come up")
}

// A form is what the page holds of a sheet.
type form map[string]string

// press presses the button of a class whose words contain a text, as a tap does: it sets the fields that the button says.
func (f form) press(t *testing.T, words string) {
	t.Helper()
	reply := page.Answer(tool.Tool, f, tools.English())
	button := find(reply.Body, words)
	require.NotEmpty(t, button, "no button says %q", words)
	set := map[string]string{}
	require.NoError(t, json.Unmarshal([]byte(button), &set))
	for key, text := range set {
		if text == "" {
			delete(f, key)
		} else {
			f[key] = text
		}
	}
}

// find returns what the button or the choice with a text sets; "" for none.
func find(elements []*sheet.Element, words string) string {
	b, err := json.Marshal(elements)
	if err != nil {
		panic(err)
	}
	var nodes []any
	if err := json.Unmarshal(b, &nodes); err != nil {
		panic(err)
	}
	return search(nodes, words)
}

// search walks nodes as the page gets them: a text, or a tag, its attributes and its kids.
func search(node any, words string) string {
	list, ok := node.([]any)
	if !ok {
		return ""
	}
	if len(list) == 3 && list[0] == "button" {
		if text, ok := list[2].(string); ok && strings.Contains(text, words) {
			set, _ := list[1].(map[string]any)["data-set"].(string)
			return set
		}
	}
	if len(list) == 4 && list[0] == "label" { // a radio button and its words
		if text, ok := list[3].([]any)[2].(string); ok && strings.Contains(text, words) {
			set, _ := list[2].([]any)[1].(map[string]any)["data-set"].(string)
			return set
		}
	}
	for _, kid := range list {
		if set := search(kid, words); set != "" {
			return set
		}
	}
	return ""
}

// TestStudentByTaps goes the way of a student through a sheet of two questions, by the buttons of the answer alone: choose, decide once,
// go on to the next, decide, hand in. The hand-in gets the same marks on the command line.
func TestStudentByTaps(t *testing.T) {
	result := toolstest.Answered(t, "worksheet", object{"heading": "First hour", "questions": []any{object{"kind": "fault_high", "level": "2"},
		object{"kind": "hot_winding", "level": "2"}}})["result"].(object)
	opened := page.Open(result["link"].(string), tools.English())
	require.Empty(t, opened.Notes)
	f := form{}
	for key, field := range opened.Fields {
		f[key] = field.Text + field.Unit
	}
	reply := page.Answer(tool.Tool, f, tools.English())
	require.Equal(t, "no_name", reply.Head.Value("data-verdict"))
	f["name"] = "Ann"
	for i, test := range []string{"resistance_component", "voltage_pin_on", "voltage_drop_return"} {
		f["asked."+strconv.Itoa(i)+".test"] = test
		reply = page.Answer(tool.Tool, f, tools.English())
		assert.Regexp(t, `\d+ min paid`, reply.Head.Inner("number"))
	}
	assert.Contains(t, reply.Head.Inner("number"), "V", "the reading is heard, not its minutes alone")
	require.Empty(t, find(reply.Body, "Decide"), "nothing is chosen yet")
	f.press(t, "the component")
	f.press(t, "the harness")
	require.NotContains(t, f, "decisions.0.repair", "a choice is no decision")
	f.press(t, "Decide")
	require.Equal(t, "harness", f["decisions.0.repair"])
	require.NotContains(t, f, "repair")

	f["value"] = "7,49"
	for _, choice := range []string{"Ω", "at the temperature of the specification", "reads low", "even so it reads less"} {
		require.Empty(t, find(page.Answer(tool.Tool, f, tools.English()).Body, "Decide"))
		f.press(t, choice)
	}
	f.press(t, "Decide")
	reply = page.Answer(tool.Tool, f, tools.English())
	assert.Equal(t, "decided", reply.Head.Value("data-verdict"))
	assert.Equal(t, "100 of 100", reply.Head.Inner("number"))
	assert.Empty(t, find(reply.Body, "Decide"), "there is no second decision")

	out := tool.Tool.Ask(link.Draft{Tool: tool.Tool, Given: f}.Request(), quantity.Point, tools.English(), core.Full)
	report, ok := tool.ReportOf(out)
	require.True(t, ok)
	assert.Equal(t, 100.0, report.Marks)
}

// TestLinksHoldNobody checks that the class's link has no names in it, neither those to print nor a student's, and no work.
func TestLinksHoldNobody(t *testing.T) {
	result := toolstest.Answered(t, "worksheet", object{"questions": []any{object{"kind": "rows"}}, "students": "Ann\nBo", "heading": "h",
		"words": "w", "name": "Cem", "decisions": []any{object{"value": 5}}, "tolerance": "2 %"})["result"].(object)
	assert.Equal(t, "#/worksheet?v=1&role=student&heading=h&words=w&questions.0.kind=rows&tolerance=2%25&drawing=2", result["link"])
	samples := result["samples"].([]any)
	require.Len(t, samples, 2)
	assert.Equal(t, "Ann", samples[0].(object)["name"])
}

// TestDrawings checks that a new sheet says that it is drawn in the second way, and that a link which says nothing of it, as all did while
// there was one, is drawn in the first for ever: what it gives a name, and the link that is made of it, stay as they were. Fault and the
// figure of drawing 1 are what the version gave that knew one way.
func TestDrawings(t *testing.T) {
	ask := func(o object) object { return toolstest.Answered(t, "worksheet", o)["result"].(object) }
	questions := []any{object{"kind": "fault_low", "level": "3"}, object{"kind": "hot_winding", "level": "2"}}
	const old = "#/worksheet?v=1&role=student&questions.0.kind=fault_low&questions.0.level=3&questions.1.kind=hot_winding&questions.1.level=2"
	assert.Equal(t, old+"&drawing=2", ask(object{"questions": questions})["link"])
	opened, faults := link.Read(old+"&name=Ann&decisions.0.repair=harness&decisions.1.question=2&decisions.1.value=7.49", tools.English())
	require.Empty(t, faults)
	assert.Equal(t, "1", opened.Given["drawing"])
	out := tool.Tool.Ask(opened.Request(), quantity.Point, tools.English(), core.Full)
	require.NotNil(t, out.Answer)
	_, body := out.Answer.Lay()
	text, err := json.Marshal(body)
	require.NoError(t, err)
	assert.NotContains(t, string(text), "drawing=", "the link to hand in is as it was")
	given := func(drawing int) (fault, code, first any) {
		q := ask(object{"role": "student", "name": "Ann", "questions": questions, "drawing": drawing,
			"decisions": []any{object{"repair": "harness"}}})["questions"].([]any)
		one := q[0].(object)
		return one["solution"].(object)["fault"], one["code_kind"], q[1].(object)["facts"].([]any)[0].(object)["given"]
	}
	f, code, first := given(1)
	assert.Equal(t, []any{"harness.open", "open", "9.77 ohm"}, []any{f, code, first})
	f, code, first = given(2)
	assert.Equal(t, []any{"harness.to_ground", "", "9.77 ohm"}, []any{f, code, first}, "figures are as in the first")
}

// TestSupportedByTheCircuit checks that the support that marks rest on is the probability that the tool circuit gives, asked for the world
// of a sheet: nothing in doubt, the faults of the chain alone.
func TestSupportedByTheCircuit(t *testing.T) {
	chain := object{}
	for _, f := range []string{"unit_feed.open", "unit_feed.high_resistance", "unit_ground.open", "unit_ground.high_resistance",
		"unit_connector.open", "unit_connector.high_resistance", "component_connector.open", "component_connector.high_resistance",
		"inner_lead.to_battery", "harness.to_other", "component.to_other", "driver.shorted", "intermittent.harness",
		"intermittent.component", "intermittent.return_path", "intermittent.unit", "other_row", "other"} {
		chain[f] = 0
	}
	for i := range 12 {
		asked := []any{object{"test": "current_on"}, object{"test": "resistance_component"}, object{"test": "voltage_pin_on"}}[:1+i%3]
		q := toolstest.Answered(t, "worksheet", object{"role": "student", "name": "s" + strconv.Itoa(i), "asked": asked,
			"questions": []any{object{"kind": "fault_high", "level": "2"}},
			"decisions": []any{object{"repair": "harness"}}})["result"].(object)["questions"].([]any)[0].(object)
		readings := []any{}
		for _, r := range q["readings"].([]any) {
			value := "OL"
			if v, ok := r.(object)["value"].(object); ok {
				value = strconv.FormatFloat(v["value"].(float64), 'g', -1, 64) + " " + v["unit"].(string)
			}
			readings = append(readings, object{"test": r.(object)["test"], "value": value})
		}
		c := object{"side": "high", "supply": "13.8 V", "spec": object{"min": "5 ohm", "max": "5.6 ohm"}, "winding_temperature": "20 degC",
			"supply_within": "0 V", "winding_temperature_within": "0 K", "driver": object{"kind": "plain"}, "priors": chain,
			"nominal":  object{"driver": "0.15 ohm", "harness": "0.15 ohm", "inner_lead": "0.1 ohm", "return_path": "0.05 ohm"},
			"readings": readings}
		if code := q["code_kind"].(string); code != "" {
			c["code_kind"] = code
		}
		p := -1.0
		for _, r := range toolstest.Answered(t, "circuit", c)["result"].(object)["repairs"].([]any) {
			if r.(object)["repair"] == "harness" {
				p = r.(object)["probability"].(float64)
			}
		}
		assert.InDelta(t, p, q["decision"].(object)["supported"], 0.000501, "student %d", i)
	}
}

// TestFigureThatCannotBeRead checks that the sheet stays where the figure on it cannot be read, since its field stands in the answer; and
// that what it may mean is written as its reader may write it.
func TestFigureThatCannotBeRead(t *testing.T) {
	for _, c := range []struct {
		lang, typed, unit string
		code              core.Code
		says              []string
	}{
		{"en", "6,948", "", core.Ambiguous, []string{"6.948", "6948"}},
		{"de", "6.948", "ohm", core.Ambiguous, []string{"„6,948“", "„6948“"}},
		{"en", "6.9 O", "", core.Syntax, []string{"6.9 O", "its unit is chosen below"}},
		{"en", "6.9 V Ω", "", core.Syntax, []string{"its unit is chosen below"}},
		{"en", "5 %", "", core.Syntax, []string{"its unit is chosen below"}},
		{"en", "6948 mΩ", "", core.WrongUnit, []string{"mΩ", "Ω, kΩ, V, A"}},
		{"en", "6.9 Nm", "", core.WrongUnit, []string{"N·m", "Ω, kΩ, V, A"}},
		{"en", "6.9 Ω", "V", core.Conflict, []string{"6.9 Ω", "V"}},
	} {
		f := form{"role": "student", "name": "Ann", "questions.0.kind": "hot_winding", "value": c.typed, "condition": "at_reference",
			"decision": "below", "reason": "lost_turns"}
		if c.unit != "" {
			f["unit"] = c.unit
		}
		reply := page.Answer(tool.Tool, f, tools.Speaker(c.lang, c.lang))
		require.True(t, reply.Answered, c.typed)
		assert.True(t, reply.Handed.Begun, c.typed)
		require.Len(t, reply.Notes, 1, c.typed)
		assert.Equal(t, "value", reply.Notes[0].Field)
		assert.Equal(t, c.code, reply.Notes[0].Code, c.typed)
		for _, part := range c.says {
			assert.Contains(t, reply.Notes[0].Text, part)
		}
		assert.Empty(t, find(reply.Body, "Decide"), c.typed)
	}
}

// TestUnitBehindTheFigure checks that a unit that is typed behind a figure is decided with, beside the number as it was typed.
func TestUnitBehindTheFigure(t *testing.T) {
	for kind, cases := range map[string][][3]string{
		"hot_winding": {{"6.948 Ω", "6.948", "ohm"}, {"6,9ohm", "6.9", "ohm"}, {"0.00695 kΩ", "0.00695", "kohm"}},
		"adapter":     {{"80 in-lb", "80", "lbf.in"}, {"9 Nm", "9", "N.m"}},
	} {
		for _, c := range cases {
			w := worksheet.Sheet{Questions: []worksheet.Question{{Kind: kindOf(kind), Level: 1}}}.Task(0, "Ann")
			f := form{"role": "student", "name": "Ann", "questions.0.kind": kind, "value": c[0], "condition": w.Conditions[0],
				"decision": w.Decisions[0], "reason": w.Reasons[0]}
			reply := page.Answer(tool.Tool, f, tools.English())
			require.Empty(t, reply.Notes, c[0])
			f.press(t, "Decide")
			assert.Equal(t, c[1:], []string{f["decisions.0.value"], f["decisions.0.unit"]}, c[0])
		}
	}
}
