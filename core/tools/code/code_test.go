package code_test

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/code"
	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

// An answer is what the tool says about a code: its result, and what the page shows.
type answer struct {
	Result struct {
		Code        string
		System      string
		Origin      string
		Known       bool
		Overall     string
		Stop        string
		First       string
		Circuit     string
		Failure     string
		FailureType *failureType `json:"failure_type"`
		CodeKind    string       `json:"code_kind"`
		Meaning     struct {
			HighSide []state `json:"high_side"`
			LowSide  []state `json:"low_side"`
		}
	}
	Working  []tool.Step
	Warnings []tool.Warning
	shown    string
}

type failureType struct{ Code, Meaning string }

type state struct{ State, Text string }

func (a answer) warned(code string) bool {
	for _, w := range a.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// ask answers a request that must get an answer: flat keys and their texts. If brief, the working is left out.
func ask(t testing.TB, o map[string]string, brief bool) (a answer) {
	detail := tool.Full
	if brief {
		detail = tool.Brief
	}
	members := []tool.Member{}
	for _, key := range []string{"code", "failure_type"} {
		if text, given := o[key]; given {
			members = append(members, tool.Member{Name: key, Value: tool.TextNode(text)})
		}
	}
	out := code.Tool.Ask(tool.ObjectNode(members...), quantity.Point, tools.English(), detail)
	require.Empty(t, out.Faults, "%v", o)
	b, err := json.Marshal(out.Answer.Response())
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, &a))
	head, body := out.Answer.Lay()
	b, err = json.Marshal([]any{head, body})
	require.NoError(t, err)
	a.shown = string(b)
	return a
}

// TestEveryCodeOfTheTable checks every row of testdata/codes.tsv: it is answered in its own words, says what sets the
// code, and is laid out, and the verdict at the head of the page is that of the result.
func TestEveryCodeOfTheTable(t *testing.T) {
	for _, row := range testdata.Codes() {
		a := ask(t, map[string]string{"code": row.Code}, false)
		res := a.Result
		assert.Equal(t, row.Circuit, res.Circuit, row.Code)
		assert.Equal(t, row.Failure, res.Failure, row.Code)
		assert.Equal(t, row.Failure, res.Overall, row.Code)
		assert.Contains(t, a.shown, `"data-verdict":"`+res.Overall+`"`, row.Code)
		assert.True(t, res.Known, row.Code)
		assert.NotEmpty(t, res.Meaning.HighSide, row.Code)
		assert.False(t, a.warned("not_in_table") || a.warned("manufacturer"), row.Code)
		assert.Contains(t, a.shown, strings.ReplaceAll(row.Circuit, "(A)", "A"), "%s: in English, the table's own name", row.Code)
		assert.Contains(t, a.shown, "never a part", "%s: a code names a circuit", row.Code)
		assert.Contains(t, a.shown, `code_kind\":\"`+cmp.Or(res.CodeKind, "none"), "%s: taken over to the question of the circuit", row.Code)
		listed := len(res.Meaning.HighSide) + len(res.Meaning.LowSide)
		if res.First == "unit_feed" {
			listed /= 2 // no driver is involved: listed once
		}
		assert.Equal(t, listed, strings.Count(a.shown, "data-state"), row.Code)
		assert.Empty(t, res.Stop, row.Code)
	}
}

// TestEveryCircuitIsTranslated checks that the circuit of every row has a name in every language, with the letters and numbers that tell
// it from its like, and that no two circuits share one.
func TestEveryCircuitIsTranslated(t *testing.T) {
	for _, lang := range []string{"de", "es", "fr"} {
		circuits := map[string]string{}
		for _, row := range testdata.Codes() {
			name := nameIn(t, row.Code, lang)
			assert.NotContains(t, name, "circuit.", "%s in %s", row.Code, lang)
			assert.NotEqual(t, row.Circuit, name, "%s in %s", row.Code, lang)
			alike := strings.NewReplacer("(A)", "A", "A/C", "", "1-4", "").Replace(row.Circuit)
			for _, mark := range regexp.MustCompile(`\b([A-K]|\d+)\b`).FindAllString(alike, -1) {
				assert.Regexp(t, `\b`+mark+`\b`, name, "%s in %s", row.Code, lang)
			}
			if of, taken := circuits[name]; taken {
				assert.Equal(t, of, alike, "%s in %s: two circuits of one name", row.Code, lang)
			}
			circuits[name] = alike
		}
	}
}

// nameIn returns the name that stands at the head of a code's answer.
func nameIn(t *testing.T, given, lang string) string {
	request := tool.ObjectNode(tool.Member{Name: "code", Value: tool.TextNode(given)})
	out := code.Tool.Ask(request, quantity.Point, tools.Speaker(lang, lang), tool.Brief)
	require.Empty(t, out.Faults, given)
	head, _ := out.Answer.Lay()
	b, err := json.Marshal(head)
	require.NoError(t, err)
	texts := regexp.MustCompile(`"[^"]*"`).FindAllString(string(b), -1)
	return strings.Trim(texts[len(texts)-1], `"`)
}

// TestEveryFailureTypeWithEveryFailure checks that each pair is answered and laid out with the failure type worded as in
// testdata/failure-types.tsv, and that the reader is told if a list of states does not fit its side.
func TestEveryFailureTypeWithEveryFailure(t *testing.T) {
	first := map[string]string{"": "P0171"}
	for _, row := range testdata.Codes() {
		if first[row.Failure] == "" {
			first[row.Failure] = row.Code
		}
	}
	require.Len(t, first, 14)
	first["feed"] = "P0658"
	for failure, c := range first {
		for _, row := range testdata.FailureTypes() {
			a := ask(t, map[string]string{"code": c, "failure_type": row.Hex}, false)
			res := a.Result
			require.NotNil(t, res.FailureType)
			assert.Equal(t, failureType{row.Hex, row.Meaning}, *res.FailureType)
			assert.Contains(t, a.shown, row.Meaning)
			for side, list := range map[string][]state{"high": res.Meaning.HighSide, "low": res.Meaning.LowSide} {
				none := tools.English().Say("code.none." + side)
				fits := len(list) > 0 || len(res.Meaning.HighSide)+len(res.Meaning.LowSide) == 0
				assert.Equal(t, !fits, strings.Contains(a.shown, none), "%s %s, %s side", failure, row.Hex, side)
			}
			both := ask(t, map[string]string{"code": c + "-" + row.Hex}, false)
			assert.Equal(t, res, both.Result, "%s-%s is %s with %s", c, row.Hex, c, row.Hex)
		}
	}
}

// TestStructure checks what a code's structure alone tells. Sources: see core/code, TestStructure.
func TestStructure(t *testing.T) {
	for _, c := range []struct{ code, system, origin, warns string }{
		{"P0171", "powertrain", "standard", "not_in_table"},
		{"P2A00", "powertrain", "standard", "not_in_table"},
		{"P3499", "powertrain", "standard", "not_in_table"},
		{"P1700", "powertrain", "manufacturer", "manufacturer not_in_table"},
		{"P3000", "powertrain", "manufacturer", "manufacturer not_in_table"},
		{"B2001", "body", "manufacturer", "manufacturer not_in_table"},
		{"B3001", "body", "standard", "reserved not_in_table"},
		{"C0035", "chassis", "standard", "not_in_table"},
		{"C3FFF", "chassis", "standard", "reserved not_in_table"},
		{"U0100", "network", "standard", "not_in_table"},
		{"U1000", "network", "manufacturer", "manufacturer not_in_table"},
		{"U3003", "network", "standard", "shared_range not_in_table"},
	} {
		a := ask(t, map[string]string{"code": c.code}, false)
		res := a.Result
		assert.Equal(t, c.system, res.System, c.code)
		assert.Equal(t, c.origin, res.Origin, c.code)
		assert.False(t, res.Known, c.code)
		overall := "not_in_table"
		if c.origin == "manufacturer" {
			overall = "manufacturer"
		}
		assert.Equal(t, overall, res.Overall, c.code)
		assert.Contains(t, a.shown, `"data-verdict":"`+overall+`"`, c.code)
		var warned []string
		for _, w := range a.Warnings {
			warned = append(warned, w.Code)
		}
		assert.Equal(t, c.warns, strings.Join(warned, " "), c.code)
		assert.Empty(t, res.Meaning.HighSide)
		assert.NotContains(t, a.shown, "data-state")
		assert.Contains(t, a.shown, "never a part", c.code)
	}
}

// TestStops: on restraint systems and high voltage there is no advice at all, whatever the failure type, and the answer says why.
func TestStops(t *testing.T) {
	for given, want := range map[string]string{
		"B0001": "restraint_system", "B0012-1A": "restraint_system", "b00ff:13": "restraint_system",
		"P0A00": "high_voltage", "P0A94-11": "high_voltage", "P0BFF": "high_voltage", "P0C3D-1F": "high_voltage", "P1A10": "high_voltage",
	} {
		a := ask(t, map[string]string{"code": given}, false)
		res := a.Result
		assert.Equal(t, want, res.Stop, given)
		assert.Equal(t, "stop", res.Overall, given)
		assert.Contains(t, a.shown, `"data-verdict":"stop"`, given)
		assert.Contains(t, a.shown, tools.English().Say("code.why.stop."+want), given)
		assert.Contains(t, a.shown, tools.English().Say("code.caution.stop_"+want), given)
		assert.NotContains(t, a.shown, "data-carry", "%s: nothing leads to measuring", given)
		assert.NotContains(t, a.shown, "data-state", given)
		assert.Empty(t, res.Meaning.HighSide, given)
		assert.Empty(t, res.Meaning.LowSide, given)
		assert.Empty(t, res.CodeKind, given)
		assert.Empty(t, res.First, given)
		assert.Equal(t, given[:2] == "P1", a.warned("stop_makers_own"), given)
	}
	for _, given := range []string{"B0100", "B1000", "P0D00", "P09FF", "P1900", "P1B00", "P2A00", "C0A00", "U0A00"} {
		a := ask(t, map[string]string{"code": given}, false)
		assert.Empty(t, a.Result.Stop, given)
		assert.NotEqual(t, "stop", a.Result.Overall, given)
	}
}

// TestFirst: what has to be found out first is said below the verdict, warned of, and leads to the question of the circuit with what
// that question knows.
func TestFirst(t *testing.T) {
	for given, want := range map[string]struct{ first, warns, says, carries string }{
		"P0882":    {"unit_feed", "unit_power", "supply pin and its ground first", `code_kind\":\"none`},
		"P0880-13": {"unit_feed", "unit_power", "supply pin and its ground first", `code_kind\":\"none`},
		"P0884":    {"unit_feed", "unit_power", "supply pin and its ground first", `code_kind\":\"none`},
		"P0749":    {"shows_now", "intermittent", "Does it show now?", `code_kind\":\"none`},
		"P0962-1F": {"shows_now", "intermittent", "Does it show now?", `code_kind\":\"low`},
		"P0886":    {"", "", "names a circuit", `code_kind\":\"low`},
		"P0750":    {"", "", "Measure the circuit", `code_kind\":\"none`},
		"P1760":    {"", "manufacturer", "Measure the circuit", `code_kind\":\"none`},
	} {
		a := ask(t, map[string]string{"code": given}, false)
		assert.Equal(t, want.first, a.Result.First, given)
		assert.True(t, want.warns == "" || a.warned(want.warns), given)
		assert.Contains(t, a.shown, want.says, given)
		assert.Contains(t, a.shown, want.carries, given)
		assert.Equal(t, want.first == "unit_feed", strings.Contains(a.shown, "p-unit_power"), given)
		assert.Equal(t, want.first == "unit_feed", strings.Contains(a.shown, `"data-code":"live_circuit"`), given)
	}
	assert.NotContains(t, ask(t, map[string]string{"code": "U0100"}, false).shown, "code_kind", "no circuit of a load")
}

// TestNoWorking holds that a glance, which leaves the working out, offers none to unfold: there are no numbers.
func TestNoWorking(t *testing.T) {
	request := map[string]string{"code": "P0962-11"}
	whole, brief := ask(t, request, false), ask(t, request, true)
	for _, a := range []answer{whole, brief} {
		assert.Empty(t, a.Working)
		assert.NotContains(t, a.shown, `"data-keep":"working"`)
	}
	assert.Equal(t, whole.shown, brief.shown)
}

// TestEveryResponseKeepsThePromises asks about codes of all forms, right and wrong.
func TestEveryResponseKeepsThePromises(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	answered := 0
	for range 3000 {
		o := toolstest.Object{"code": fmt.Sprintf("%c%X%03X", "PPPBCUQ"[r.IntN(7)], r.IntN(5), r.IntN(0x1000))}
		if r.IntN(2) == 0 {
			o["failure_type"] = fmt.Sprintf("%02X", r.IntN(0x120))
		}
		request := toolstest.Encoded(t, o)
		response, err := tools.Run("code", request, tools.English())
		toolstest.CheckResponse(t, request, response, err)
		if err == nil {
			answered++
		}
	}
	assert.Greater(t, answered, 1000)
}
