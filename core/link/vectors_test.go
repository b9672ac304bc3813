package link_test

import (
	"encoding/json"
	"maps"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/link"
	"ohmwright/core/page"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
	"ohmwright/testdata"
)

// TestVectors runs every vector through the tool, the link there and back, and the page.
func TestVectors(t *testing.T) {
	vs, err := testdata.OfTools()
	require.NoError(t, err)
	speak := tools.English()
	for _, v := range vs {
		t.Run(v.ID, func(t *testing.T) {
			response, err := tools.Run(v.In.Tool, v.In.Request, speak)
			assert.NoError(t, v.Check(response))
			if v.WantError != nil {
				assert.ErrorIs(t, err, tools.ErrRequest)
				everyFaultWorded(t, response)
			} else {
				assert.NoError(t, err)
			}
			tl, ok := tools.Named(v.In.Tool)
			if !ok {
				return // there is no such tool, so it has no link and no page
			}
			if v.WantError == nil {
				thereAndBack(t, tl, v.In.Request, speak)
			}
			inThePage(t, tl, v, speak)
		})
	}
}

// everyFaultWorded checks that each fault has a code, says what is wrong, and what to do next.
func everyFaultWorded(t *testing.T, response []byte) {
	var f tool.Failure
	require.NoError(t, json.Unmarshal(response, &f))
	for _, e := range f.Errors {
		assert.NotEmpty(t, e.Code)
		assert.NotEmpty(t, e.Message)
		assert.NotEmpty(t, e.Hint)
		assert.LessOrEqual(t, len([]rune(e.Given)), 41, "given is shortened")
	}
}

// thereAndBack checks that a request and its link get the same answer, and that writing the link again gives the same link.
func thereAndBack(t *testing.T, tl *tool.Tool, request []byte, speak *wording.Speaker) {
	o := tl.Answer(request, quantity.Point, speak)
	require.Empty(t, o.Faults)
	text := link.Write(tl, o.Record)
	d, faults := link.Read(text, speak)
	require.Empty(t, faults, text)
	require.Same(t, tl, d.Tool)
	again := tl.Ask(d.Request(), quantity.Point, speak, tool.Full)
	require.Empty(t, again.Faults, text)
	want, err := json.Marshal(o.Answer.Result)
	require.NoError(t, err)
	got, err := json.Marshal(again.Answer.Result)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), text)
	assert.Equal(t, o.Answer.Warnings, again.Answer.Warnings, text)
	assert.Equal(t, text, link.Write(tl, again.Record), "writing the link again gives another link")
}

// inThePage checks that the page answers whatever the tool answers. A request that the tool refuses may only be answered
// if its faults are in parts that the answer can do without.
func inThePage(t *testing.T, tl *tool.Tool, v testdata.Vector, speak *wording.Speaker) {
	given, ok := flat(v.In.Request)
	if !ok {
		return // a form cannot give this: it is not an object, or gives a field twice
	}
	reply := page.Answer(tl, given, speak)
	b, err := json.Marshal(reply)
	require.NoError(t, err)
	require.True(t, json.Valid(b))
	assert.NotNil(t, reply.Head)
	if v.WantError == nil {
		assert.True(t, reply.Answered)
		assert.Empty(t, reply.Notes)
		assert.NotEmpty(t, reply.Link)
		return
	}
	o := tl.Ask((link.Draft{Tool: tl, Given: given}).Request(), speak.Mark(), speak, tool.Full)
	if o.Answer == nil {
		assert.NotEmpty(t, reply.Notes)
	}
	for _, n := range reply.Notes {
		assert.NotEmpty(t, n.Text)
		if len(tl.Spoils(n.Field)) == 0 {
			assert.False(t, reply.Answered, "page.Answer answers in spite of a fault in %s, which has no Apart", n.Field)
		}
	}
}

// flat returns a request as a form would give it: every value as a text under a flat key. ok is false if a form cannot give it.
func flat(request []byte) (given map[string]string, ok bool) {
	var object map[string]any
	if json.Unmarshal(request, &object) != nil || object == nil || twice(request) {
		return nil, false
	}
	given = map[string]string{}
	ok = true
	var put func(path string, v any)
	put = func(path string, v any) {
		under := func(name string) string { return strings.TrimPrefix(path+"."+name, ".") }
		switch v := v.(type) {
		case map[string]any:
			for name, in := range v {
				put(under(name), in)
			}
		case []any:
			for i, in := range v {
				put(under(strconv.Itoa(i)), in)
			}
		case string:
			given[path] = v
		case float64:
			given[path] = strconv.FormatFloat(v, 'g', -1, 64)
		default:
			ok = false
		}
	}
	put("", object)
	return given, ok
}

// twice reports whether the vector's JSON gives a name twice at the top, which is lost in a map.
func twice(request []byte) bool {
	return strings.Count(string(request), `"reading"`) > 1 && !strings.Contains(string(request), "known_good") ||
		strings.Count(string(request), `"min"`) == 2 && strings.Count(string(request), "{") == 2
}

// TestEveryCodeHasAVector checks that the vectors include every code of a fault and every verdict.
func TestEveryCodeHasAVector(t *testing.T) {
	vs, err := testdata.OfTools()
	require.NoError(t, err)
	codes := map[string]bool{}
	said := map[any]bool{}
	for _, v := range vs {
		for _, f := range v.WantError {
			codes[f.Code] = true
		}
		for _, w := range v.Want {
			if s, ok := w.(string); ok {
				said[s] = true
			}
		}
		for path, w := range maps.All(v.Want) {
			if w == true {
				_, code, _ := strings.Cut(path, "warnings.code=")
				said["warning "+code] = true
			}
		}
	}
	for _, c := range []string{"missing", "unknown", "syntax", "unit", "range", "ambiguous", "conflict"} {
		assert.True(t, codes[c], "add a vector that is refused with code %s", c)
	}
	for _, s := range []string{"below", "within", "above", "undecided", "alike", "differs", "yes", "no", "clean", "unwanted",
		"warning open", "warning open_where", "warning alike_series", "warning alike_parallel", "warning loom_missing", "warning leads_missing",
		"warning straight_line", "warning near_zero", "warning outside_span", "warning rows_disagree", "warning undecided",
		"warning good_is_open",
		"warning leads_once", "warning over_limit", "warning temperature_unknown", "warning too_much"} {
		assert.True(t, said[s], "no vector wants %s", s)
	}
}
