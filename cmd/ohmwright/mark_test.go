package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// handedIn returns what run worksheet gives for a student's work: its result.
func handedIn(t *testing.T, request string) map[string]any {
	t.Helper()
	o := ask(t, request, "run", "worksheet")
	require.Equal(t, done, o.status, o.out)
	var response map[string]any
	require.NoError(t, json.Unmarshal([]byte(o.out), &response))
	return response["result"].(map[string]any)
}

const classSheet = `"questions": [{"kind": "fault_high", "level": "2"}, {"kind": "hot_winding", "level": "2"}]`

// TestMarkAgreesWithRun checks that the marking command gives each of a class the marks that run worksheet gives, to the last digit, in
// each form, with the sheet as a link and as a file.
func TestMarkAgreesWithRun(t *testing.T) {
	var pasted strings.Builder
	want := map[string]map[string]any{}
	for i, repair := range []string{"harness", "component", "return_path", "control_unit", "nothing"} {
		name := "student " + strconv.Itoa(i)
		result := handedIn(t, `{"role": "student", "name": "`+name+`", `+classSheet+`,
			"asked": [{"test": "resistance_component"}, {"test": "voltage_pin_on"}, {"test": "current_on"}], "decisions": [{"repair": "`+repair+`"},
			{"question": 2, "value": 5.2, "unit": "ohm", "condition": "at_reference", "decision": "within", "reason": "heat_explains"}]}`)
		want[name] = result
		pasted.WriteString("- " + name + ": <https://class.example/" + result["hand_in"].(string) + ">, thanks\n")
	}
	sheet := handedIn(t, `{`+classSheet+`}`)["link"].(string)
	file := filepath.Join(t.TempDir(), "sheet.txt")
	require.NoError(t, os.WriteFile(file, []byte("Monday: https://class.example/"+sheet+"\n"), 0o600))
	for _, given := range []string{sheet, file} {
		o := ask(t, pasted.String(), "mark", given, "--as", "csv")
		require.Equal(t, done, o.status, o.err)
		rows, err := csv.NewReader(strings.NewReader(o.out)).ReadAll()
		require.NoError(t, err)
		require.Len(t, rows, len(want)+1)
		for _, row := range rows[1:] {
			result := want[row[0]]
			assert.Equal(t, strconv.FormatFloat(result["marks"].(float64), 'f', 1, 64), row[1], row[0])
			fault := result["questions"].([]any)[0].(map[string]any)["decision"].(map[string]any)
			assert.Equal(t, strconv.FormatFloat(fault["supported"].(float64), 'f', 3, 64), row[3], row[0])
		}
	}
	table, tsv := ask(t, pasted.String(), "mark", sheet), ask(t, pasted.String(), "mark", sheet, "--as", "tsv", "--locale", "de")
	assert.Equal(t, len(want)+1, strings.Count(table.out, "\n"))
	assert.NotContains(t, table.out, "\t")
	assert.Regexp(t, `\nstudent 0\t\d+,\d\t`, tsv.out, "numbers as the reader writes them")
}

// TestMarkTellsWhatItCannotRead checks that what looks like a hand-in and cannot be read is counted, in the reader's language, whether
// others are marked or not.
func TestMarkTellsWhatItCannotRead(t *testing.T) {
	result := handedIn(t, `{"role": "student", "name": "Ann", `+classSheet+`, "decisions": [{"repair": "harness"}]}`)
	sheet, link := result["link"].(string), result["hand_in"].(string)
	lost := strings.ReplaceAll(link, "#/", "")
	for text, status := range map[string]int{link + "\n" + lost: done, lost: refused} {
		o := ask(t, text, "mark", sheet)
		assert.Equal(t, status, o.status)
		assert.Contains(t, o.err, "could not be read: 1")
		assert.Contains(t, ask(t, text, "mark", sheet, "--locale", "fr").err, "n’ont pas pu être lus\u00a0: 1")
	}
	assert.Empty(t, ask(t, link, "mark", sheet).err)
}

// TestMarkRefuses checks what the marking command says of what it cannot use.
func TestMarkRefuses(t *testing.T) {
	const sheet = "#/worksheet?v=1&questions.0.kind=rows"
	for _, c := range []struct {
		args   []string
		in     string
		status int
		said   string
	}{
		{[]string{"mark"}, "", broken, "0 sheets given"},
		{[]string{"mark", sheet, sheet}, "", broken, "2 sheets given"},
		{[]string{"mark", sheet, "--as", "xlsx"}, "", broken, "want table, tsv or csv"},
		{[]string{"mark", "no-such-file"}, "", broken, "neither a sheet's link nor a file"},
		{[]string{"mark", "."}, "", broken, "is a directory"},
		{[]string{"mark", "#/worksheet?v=1&questions.0.kind=x"}, "", refused, "the sheet: questions.0.kind"},
		{[]string{"mark", sheet}, "nothing", refused, "no hand-in found"},
		{[]string{"mark", sheet}, sheet, refused, "no hand-in found"},
	} {
		o := ask(t, c.in, c.args...)
		assert.Equal(t, c.status, o.status, "%v: %s", c.args, o.err)
		assert.Empty(t, o.out, c.args)
		assert.Contains(t, o.err, c.said, c.args)
	}
	assert.Contains(t, ask(t, "", "mark", "--help").out, "Exit status")
}
