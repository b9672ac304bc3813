package main

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/testdata"
)

func TestLocale(t *testing.T) {
	mark := regexp.MustCompile(`(\d),(\d)`)
	request := tools.All[0].Example
	// Dutch numbers have a comma, and there are no Dutch words.
	english, dutch := ask(t, request, "run", "winding"), ask(t, request, "run", "winding", "--locale", "nl")
	require.Equal(t, done, dutch.status, "run winding --locale nl: %s%s", dutch.out, dutch.err)
	var e, g any
	require.NoError(t, json.Unmarshal([]byte(english.out), &e))
	require.NoError(t, json.Unmarshal([]byte(dutch.out), &g))
	differ := 0
	alike(t, "", e, g, func(at, e, g string) {
		if e == g {
			return
		}
		differ++
		require.NotContains(t, at, ".result", "a value changed")
		require.Equal(t, e, mark.ReplaceAllString(g, "$1.$2"), at)
	})
	assert.Greater(t, differ, 5, "run winding --locale nl: more texts should have numbers with a comma")

	german := ask(t, request, "run", "winding", "--locale", "de")
	require.Equal(t, done, german.status, "run winding --locale de: %s%s", german.out, german.err)
	assert.Contains(t, german.out, "Wicklung", "run winding --locale de: there are German words")
	require.NoError(t, json.Unmarshal([]byte(german.out), &g))
	assert.Equal(t, e.(map[string]any)["result"], g.(map[string]any)["result"], "run winding --locale de: the values")

	e, g = nil, nil
	cold := `{"reading": "9.7 ohm", "at": "-240.5 degC"}`
	require.NoError(t, json.Unmarshal([]byte(ask(t, cold, "run", "winding").out), &e))
	require.NoError(t, json.Unmarshal([]byte(ask(t, cold, "run", "winding", "--locale", "de-AT").out), &g))
	assert.NotEqual(t, e, g, "run winding, field at: the limit in the refusal should be written as the locale does")

	for _, odd := range []string{"ar", "hi-u-nu-deva", "und", "DE_at"} {
		o := ask(t, request, "run", "winding", "--locale", odd)
		assert.Equal(t, done, o.status, "run winding --locale %.40q should be answered", odd)
		assert.True(t, parse(t, o.out).OK, "run winding --locale %.40q should be answered: %s", odd, o.out)
	}
	for _, none := range []string{"", "x", "!!", "de_DE.UTF-8", strings.Repeat("de-", 3000)} {
		run, mark := ask(t, request, "run", "winding", "--locale", none), ask(t, "", "mark", "#/worksheet?v=1", "--locale", none)
		for _, o := range []outcome{run, mark} {
			assert.Equal(t, broken, o.status, "--locale %.40q is no language", none)
			assert.Contains(t, o.err, "is no language tag; want one such as de or fr-CA")
		}
	}
}

// alike walks two values that may differ in texts only.
func alike(t *testing.T, at string, a, b any, text func(at, a, b string)) {
	t.Helper()
	switch a := a.(type) {
	case map[string]any:
		bm, ok := b.(map[string]any)
		require.True(t, ok && len(a) == len(bm), at)
		for k := range a {
			alike(t, at+"."+k, a[k], bm[k], text)
		}
	case []any:
		bl, ok := b.([]any)
		require.True(t, ok && len(a) == len(bl), at)
		for i := range a {
			alike(t, at, a[i], bl[i], text)
		}
	case string:
		bs, ok := b.(string)
		require.True(t, ok, at)
		text(at, a, bs)
	default:
		assert.Equal(t, a, b, at)
	}
}

// Every check value of a tool, through a run of its own.
func TestVectors(t *testing.T) {
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	schemas := map[string]described{}
	for _, tl := range tools.All {
		schemas[tl.Name] = describe(t, tl.Name)
	}
	for _, v := range vectors {
		t.Run(v.ID, func(t *testing.T) {
			t.Parallel()
			o := ask(t, string(v.In.Request), "run", v.In.Tool)
			if _, known := tools.Named(v.In.Tool); !known { // here that is a slip of the call, not of the request
				assert.Equal(t, outcome{"", o.err, broken}, o, "run %s: there is no such tool", v.In.Tool)
				assert.Contains(t, o.err, "no tool", "run %s: the message should say so", v.In.Tool)
				return
			}
			assert.Empty(t, o.err, "run %s: vector %s", v.In.Tool, v.ID)
			r := parse(t, o.out)
			require.NoError(t, v.Check([]byte(o.out)), "run %s: vector %s", v.In.Tool, v.ID)
			d := schemas[v.In.Tool]
			if !r.OK {
				assert.Equal(t, refused, o.status, "run %s: vector %s is refused, and the exit status should tell so", v.In.Tool, v.ID)
				return
			}
			assert.Equal(t, done, o.status, "run %s: vector %s is answered, and the exit status should tell so", v.In.Tool, v.ID)
			request, err := jsonschema.UnmarshalJSON(bytes.NewReader(v.In.Request))
			require.NoError(t, err)
			assert.NoError(t, d.request.Validate(request), "run %s: vector %s is answered, though not in the schema", v.In.Tool, v.ID)
			answer, err := jsonschema.UnmarshalJSON(strings.NewReader(o.out))
			require.NoError(t, err)
			result := answer.(map[string]any)["result"]
			assert.NoError(t, d.result.Validate(result), "run %s: vector %s: the result is not in the schema", v.In.Tool, v.ID)
			named(t, v.In.Tool, result, d.raw["result"].(map[string]any))
		})
	}
}

// The same in one stream for each tool, with the answers of single runs byte for byte: site/test/module.test.mjs relies on that.
// A request of several lines, or of none, cannot be in a stream.
func TestVectorsAsLines(t *testing.T) {
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	for _, tl := range tools.All {
		var in bytes.Buffer
		var asked []testdata.Vector
		for _, v := range vectors {
			if v.In.Tool == tl.Name && len(v.In.Request) > 0 && !bytes.ContainsAny(v.In.Request, "\r\n") {
				in.Write(append(v.In.Request, '\n'))
				asked = append(asked, v)
			}
		}
		example := strings.Join(strings.Fields(tl.Example), " ")
		in.WriteString(example + "\n")
		o := ask(t, in.String(), "run", tl.Name, "--ndjson")
		lines := strings.Split(strings.TrimSuffix(o.out, "\n"), "\n")
		require.Len(t, lines, len(asked)+1, "run %s --ndjson: an answer for each vector and for the example", tl.Name)
		alone := ask(t, example, "run", tl.Name).out
		assert.Equal(t, alone, lines[len(asked)]+"\n", "run %s: the example has another answer in a stream", tl.Name)
		for i, v := range asked {
			assert.NoError(t, v.Check([]byte(lines[i])), "run %s --ndjson: vector %s", tl.Name, v.ID)
			var single, errOut bytes.Buffer
			command([]string{"run", tl.Name}, bytes.NewReader(v.In.Request), &single, &errOut)
			assert.Equal(t, single.String(), lines[i]+"\n", "run %s: vector %s has another answer in a stream", tl.Name, v.ID)
			assert.Empty(t, errOut.String(), "run %s: vector %s", tl.Name, v.ID)
		}
		t.Logf("%s: %d of the vectors", tl.Name, len(asked))
	}
}
