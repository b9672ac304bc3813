package tools_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/page"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

// full returns a request that is as long as one may be: pieces between its two ends.
func full(begin, end string, piece func(i int) string) string {
	var b strings.Builder
	b.WriteString(begin)
	for i := 0; ; i++ {
		next := piece(i)
		if i > 0 {
			next = "," + next
		}
		if b.Len()+len(next)+len(end) > tool.MaxRequest {
			return b.String() + end
		}
		b.WriteString(next)
	}
}

// TestManyFaultsGetAShortAnswer checks that a request of 64 KiB with thousands of faults is answered in at most 64 KiB: the first
// faults, and one that counts the rest.
func TestManyFaultsGetAShortAnswer(t *testing.T) {
	cut, tried := 0, tools.All[:testdata.Several(len(tools.All))]
	for _, tl := range tried {
		requests := map[string]string{
			"short names": full("{", "}", func(i int) string { return fmt.Sprintf(`"%x":1`, i) }),
			"escaped": full("{", "}", func(i int) string {
				return fmt.Sprintf(`"<&>\u0001\u2028%x":"%s"`, i, strings.Repeat("<", 40))
			}),
			"one field over and over": full("{", "}", func(int) string { return fmt.Sprintf(`"%s":""`, tl.Fields[0].Name) }),
		}
		for _, d := range tl.Fields {
			if d.Shape == tool.List {
				rows := min(d.Most, 2000)
				requests["no rows of "+d.Name] = `{"` + d.Name + `":[` + strings.Repeat("1,", rows-1) + `1]}`
				requests["empty rows of "+d.Name] = `{"` + d.Name + `":[` + strings.Repeat("{},", rows-1) + `{}]}`
				requests["a long row of "+d.Name] = full(`{"`+d.Name+`":[{`, "}]}", func(i int) string { return fmt.Sprintf(`"%x":1`, i) })
			}
		}
		for name, request := range requests {
			response, err := tools.Run(tl.Name, []byte(request), tools.English())
			if err == nil { // some tools need nothing in a row
				continue
			}
			require.ErrorIs(t, err, tools.ErrRequest, "%s, %s", tl.Name, name)
			assert.Less(t, len(response), tool.MaxRequest, "%s, %s: bytes of the answer", tl.Name, name)
			var got tool.Failure
			require.NoError(t, json.Unmarshal(response, &got))
			all := tl.Answer([]byte(request), quantity.Point, tools.English()).Faults
			if len(got.Errors) == len(all) {
				continue
			}
			cut++
			listed, last := got.Errors[:len(got.Errors)-1], got.Errors[len(got.Errors)-1]
			assert.Greater(t, len(response), tool.MaxRequest/2, "%s, %s: faults that have room should be listed", tl.Name, name)
			for i, f := range listed {
				assert.Equal(t, all[i].Field+all[i].Message, f.Field+f.Message, "%s, %s: fault %d", tl.Name, name, i)
			}
			rest := strconv.Itoa(len(all) - len(listed))
			assert.Equal(t, rest, strings.ReplaceAll(last.Given, ",", ""), "%s, %s: the rest is counted", tl.Name, name)
			assert.Contains(t, last.Message, last.Given)
			assert.NotEmpty(t, last.Hint)
		}
	}
	assert.GreaterOrEqual(t, cut, 2*len(tried), "hardly any answer was cut: these requests are too small")
}

// TestManyFaultsOfAForm checks that a form with thousands of keys that no field has gets notes of at most 64 KiB.
func TestManyFaultsOfAForm(t *testing.T) {
	given := map[string]string{"at": "warm"}
	for i := range 3000 {
		given[fmt.Sprintf("x%d", i)] = "1"
	}
	for _, tl := range tools.All {
		notes := page.Answer(tl, given, tools.English()).Notes
		written, err := json.Marshal(notes)
		require.NoError(t, err)
		assert.Less(t, len(written), tool.MaxRequest, "%s: bytes of the notes", tl.Name)
		assert.Regexp(t, `not listed here: 2\d\d\d\.`, notes[len(notes)-1].Text, "%s: the last note should count the rest", tl.Name)
	}
}

var (
	example = regexp.MustCompile(`for example (.+)\.$`)
	limit   = regexp.MustCompile(`^Give (.+) or (?:less|more)\.$`)
	written = regexp.MustCompile(`^Write “([^”]+)”`)
	choices = regexp.MustCompile(`^Choose from: (.+)\.$`)
)

// followed returns what a hint says to give, as a request would give it; nil if it names no value.
func followed(hint string) (values []any) {
	for _, says := range []*regexp.Regexp{example, limit, written} {
		if m := says.FindStringSubmatch(hint); m != nil {
			return []any{strings.Trim(m[1], `"`)}
		}
	}
	if m := choices.FindStringSubmatch(hint); m != nil {
		for _, word := range strings.Split(m[1], ", ") {
			if !strings.HasPrefix(word, "{") {
				values = append(values, word)
			}
		}
	}
	return values
}

// TestHintsCanBeFollowed gives every field of every tool wrong values, does what the hint says, and checks that the fault is gone.
func TestHintsCanBeFollowed(t *testing.T) {
	n := 0
	for _, tl := range tools.All {
		var walk func(fields []*tool.Field, path string, around func(toolstest.Object) toolstest.Object)
		walk = func(fields []*tool.Field, path string, around func(toolstest.Object) toolstest.Object) {
			for _, d := range fields {
				at := tool.JoinPath(path, d.Name)
				n += followHints(t, tl, d, at, around)
				inside := func(in toolstest.Object) toolstest.Object { return around(toolstest.Object{d.Name: in}) }
				if d.Shape == tool.List {
					at += ".0"
					inside = func(in toolstest.Object) toolstest.Object { return around(toolstest.Object{d.Name: []any{in}}) }
				}
				walk(d.Fields, at, inside)
			}
		}
		walk(tl.Fields, "", func(o toolstest.Object) toolstest.Object { return o })
	}
	t.Logf("%d hints followed", n)
	assert.Greater(t, n, 500, "hardly any hint was followed: this test looks in the wrong place")
}

// followHints gives the field at a path wrong values and follows the hints; around puts the field's object where it belongs.
func followHints(t *testing.T, tl *tool.Tool, d *tool.Field, path string, around func(toolstest.Object) toolstest.Object) (n int) {
	wrong := []any{"", "x", 5, "5", true, -1e9, 1e9}
	for _, k := range d.Kinds {
		for _, figure := range []string{"1e9 ", "-1e9 ", "5 q", ""} {
			wrong = append(wrong, figure+quantity.Units(k)[0].Symbol)
		}
	}
	faults := func(value any) []tool.Fault {
		request := toolstest.Encoded(t, around(toolstest.Object{d.Name: value}))
		var list []tool.Fault
		for _, f := range tl.Answer(request, quantity.Point, tools.English()).Faults {
			if f.Field == path {
				list = append(list, f)
			}
		}
		return list
	}
	for _, value := range wrong {
		for _, f := range faults(value) {
			for _, right := range followed(f.Hint) {
				n++
				for _, still := range faults(right) {
					if still.Hint == f.Hint || still.Code == tool.Syntax || still.Code == tool.WrongUnit {
						assert.Fail(t, "a hint that cannot be followed", "%s: %s: %v has the hint %q, and %v the fault %q",
							tl.Name, f.Field, value, f.Hint, right, still.Message)
					}
				}
			}
		}
	}
	return n
}

// TestMissingHasAnExample checks that the hint of a field that is missing shows a value where it says that it does.
func TestMissingHasAnExample(t *testing.T) {
	for _, tl := range tools.All {
		o := tl.Ask(tool.ObjectNode(), quantity.Point, tools.English(), tool.Full)
		for _, f := range o.Faults {
			if f.Code == tool.Missing {
				assert.NotRegexp(t, `…|example ?\.`, f.Hint, "%s: %s", tl.Name, f.Field)
			}
		}
		var below func(path string, fields []*tool.Field)
		below = func(path string, fields []*tool.Field) {
			for _, d := range fields {
				at := tool.JoinPath(path, d.Name)
				assert.False(t, d.Need && d.Shape == tool.Text && d.Sample == "", "%s: %s has to be given, and has no Sample", tl.Name, at)
				below(at, d.Fields)
			}
		}
		below("", tl.Fields)
	}
}

// TestWhatIsMissingHasItsLabel checks that a field that is missing is named as its reader sees it, and not by its key.
func TestWhatIsMissingHasItsLabel(t *testing.T) {
	named := 0
	for _, tl := range tools.All {
		o := tl.Ask(tool.ObjectNode(), quantity.Point, tools.English(), tool.Full)
		for _, f := range o.Faults {
			if !f.Bare() {
				continue
			}
			label := tl.Label(f.Field, tl.Speaker(tools.English()))
			assert.NotEqual(t, f.Field, label, "%s: %s has no label", tl.Name, f.Field)
			assert.Contains(t, f.Message, "“"+label+"”", "%s: %s", tl.Name, f.Field)
			named++
		}
	}
	assert.Greater(t, named, 5, "too few fields are missing for this to show anything")
}
