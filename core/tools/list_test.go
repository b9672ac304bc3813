package tools_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/jsontext"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
)

// TestExamplesAnswer checks that every tool's example gets an answer, and that every tool can be described.
func TestExamplesAnswer(t *testing.T) {
	for _, tl := range tools.All {
		response, err := tools.Run(tl.Name, []byte(tl.Example), tools.English())
		require.NoError(t, err, "%s refuses its own example: %s", tl.Name, response)
		toolstest.CheckResponse(t, []byte(tl.Example), response, err)
		assert.Contains(t, string(tl.Describe(tools.English())), "additionalProperties", tl.Name)
	}
}

// TestFieldsAreOfOneTool checks that no two tools share a field: each reads its defaults when it is first asked, be it at the same moment.
func TestFieldsAreOfOneTool(t *testing.T) {
	of := map[*tool.Field]string{}
	for _, tl := range tools.All {
		each(tl.Fields, "", func(d *tool.Field, path string) {
			if other, ok := of[d]; ok {
				assert.Equal(t, tl.Name, other, "%s is a field of two tools; the second should clone it", path)
			}
			of[d] = tl.Name
		})
	}
}

// TestNamesStandOnce checks that no two tools share a name, and no two fields of one object.
func TestNamesStandOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, tl := range tools.All {
		assert.False(t, seen[tl.Name], "two tools are called %s", tl.Name)
		seen[tl.Name] = true
		each(tl.Fields, "", func(_ *tool.Field, path string) {
			at := tl.Name + " " + path
			assert.False(t, seen[at], "%s: two fields are called %s", tl.Name, path)
			seen[at] = true
		})
	}
}

// each calls do for every field, including those inside others, with its path.
func each(fields []*tool.Field, above string, do func(d *tool.Field, path string)) {
	for _, d := range fields {
		path := strings.TrimPrefix(above+"."+d.Name, ".")
		do(d, path)
		each(d.Fields, path, do)
	}
}

// TestDefaultsSaidAreDefaultsLeftOut checks that giving a top field its own default does not change the example's answer.
func TestDefaultsSaidAreDefaultsLeftOut(t *testing.T) {
	n := 0
	for _, tl := range tools.All {
		var example toolstest.Object
		require.NoError(t, json.Unmarshal([]byte(tl.Example), &example), tl.Name)
		want := toolstest.Answered(t, tl.Name, example)
		for _, d := range tl.Fields {
			_, given := example[d.Name]
			defaults, ok := defaultOf(d)
			if given || !ok {
				continue
			}
			said := toolstest.Object{d.Name: defaults}
			for k, v := range example {
				said[k] = v
			}
			response, err := tools.Run(tl.Name, toolstest.Encoded(t, said), tools.English())
			if err != nil { // some defaults conflict with another field that is given
				continue
			}
			n++
			var got toolstest.Object
			require.NoError(t, json.Unmarshal(response, &got))
			assert.Equal(t, want["result"], got["result"], "%s: giving %s its own default changes the answer of the example", tl.Name, d.Name)
		}
	}
	assert.Greater(t, n, 20, "hardly any default was tried: this test looks in the wrong place")
}

// defaultOf returns a field's default as a request would give it; for a group, an object with the defaults of its fields.
func defaultOf(d *tool.Field) (value any, ok bool) {
	if d.Shape != tool.Group {
		return d.Default, d.Default != ""
	}
	o := toolstest.Object{}
	for _, in := range d.Fields {
		if in.Need {
			return nil, false
		}
		if v, ok := defaultOf(in); ok {
			o[in.Name] = v
		}
	}
	return o, len(o) > 0
}

// TestHintsOfUnits checks that the page only offers units of a field's own kinds.
func TestHintsOfUnits(t *testing.T) {
	for _, tl := range tools.All {
		each(tl.Fields, "", func(d *tool.Field, path string) {
			for _, symbol := range d.Page.Offer {
				found := false
				for _, k := range d.Kinds {
					_, ok := quantity.UnitNamed(k, symbol)
					found = found || ok
				}
				assert.True(t, found, "%s: %s offers the unit %q, which none of its kinds has", tl.Name, path, symbol)
			}
			if d.Page.UnitFrom != "" {
				assert.NotNil(t, d.Kinds, "%s: %s takes the unit of %s and has no kind", tl.Name, path, d.Page.UnitFrom)
			}
		})
	}
}

// TestWordsOfFields checks that every field has a label and a text that says how to fill it in, and that every choice has words.
func TestWordsOfFields(t *testing.T) {
	for _, tl := range tools.All {
		has := hasWords(t, tl)
		has("title", "a tool has a title")
		has("purpose", "a tool says its purpose")
		has("hand", "the first screen says what is in the user's hand")
		has("hand.why", "the first screen says why to tap it")
		var walk func(above string, fields []*tool.Field)
		walk = func(above string, fields []*tool.Field) {
			for _, d := range fields {
				label, how := d.Words(strings.TrimPrefix(above+"."+d.Name, "."))
				has(label, "a field has a label")
				if how != "" {
					has(how, "a field says how it is filled in")
				}
				for _, c := range d.Choices {
					has(label+"="+c, "a choice has words")
				}
				if d.Shape == tool.Choice {
					for _, o := range d.Fields {
						has(label+"="+o.Name, "what stands instead of a choice has words")
					}
				}
				walk(label, d.Fields)
			}
		}
		walk("", tl.Fields)
	}
}

// hasWords returns a function that fails the test if the tool has no words for a key.
func hasWords(t *testing.T, tl *tool.Tool) func(key, why string) {
	own := tl.Speaker(tools.English())
	return func(key, why string) {
		assert.True(t, own.Has(key), "%s: add the key %q to core/tools/%s/en.go: %s", tl.Name, key, tl.Name, why)
	}
}

// TestWordsOfResults checks that every field of every result has words for the schema, except parts whose names say enough.
func TestWordsOfResults(t *testing.T) {
	for _, tl := range tools.All {
		has := hasWords(t, tl)
		var walk func(key string, in *jsontext.Shape)
		walk = func(key string, in *jsontext.Shape) {
			for in.Items != nil {
				in = in.Items
			}
			if isAmount(in) || !slices.ContainsFunc(in.Members, func(m jsontext.Member) bool { return m.Optional || !isAmount(&m.Shape) }) {
				return // an amount, or a part of amounts alone, such as a torque in every unit: the names say enough
			}
			for _, m := range in.Members {
				has(key+"."+m.Name, "a field of the result is described")
				walk(key+"."+m.Name, &m.Shape)
			}
		}
		walk("result", tl.Result())
	}
}

// isAmount reports whether a part of a result is an amount.
func isAmount(in *jsontext.Shape) bool {
	return reflect.DeepEqual(in, jsontext.ShapeOf((*tool.Amount)(nil)))
}

// TestWordsOfKinds checks that every kind of quantity has a name, and that its sample for hints can be read.
func TestWordsOfKinds(t *testing.T) {
	for k := quantity.OfResistance; k <= quantity.OfRatio; k++ {
		assert.True(t, tools.English().Has("kind."+strconv.Itoa(int(k))), "core/wording/en.go has no name for the kind %v", k)
		_, err := quantity.Parse(tool.SampleOf(k), quantity.Point, k)
		assert.NoError(t, err, "core/tool/fault.go: the sample of kind %v cannot be read, correct it", k)
	}
}

// TestOrderOfFieldsDoesNotMatter checks that a request's fields may come in any order.
func TestOrderOfFieldsDoesNotMatter(t *testing.T) {
	for _, tl := range tools.All {
		d := json.NewDecoder(strings.NewReader(tl.Example))
		_, err := d.Token()
		require.NoError(t, err)
		var pairs []string
		for d.More() {
			key, err := d.Token()
			require.NoError(t, err)
			var value json.RawMessage
			require.NoError(t, d.Decode(&value))
			pairs = append([]string{strconv.Quote(key.(string)) + ":" + string(value)}, pairs...)
		}
		want, err := tools.Run(tl.Name, []byte(tl.Example), tools.English())
		require.NoError(t, err, tl.Name)
		got, err := tools.Run(tl.Name, []byte("{"+strings.Join(pairs, ",")+"}"), tools.English())
		require.NoError(t, err, tl.Name)
		assert.Equal(t, string(want), string(got), "%s: the example with its fields in reverse order gets another answer", tl.Name)
	}
}

// TestNoSuchTool checks that an unknown tool is refused, and that the error lists the tools there are.
func TestNoSuchTool(t *testing.T) {
	response, err := tools.Run("nosuch", []byte("{}"), tools.English())
	require.ErrorIs(t, err, tools.ErrRequest)
	for _, tl := range tools.All {
		assert.Contains(t, string(response), tl.Name)
	}
}

// BenchmarkRun times one request as "run TOOL --ndjson" answers it, with each tool's example.
func BenchmarkRun(b *testing.B) {
	for _, tl := range tools.All {
		b.Run(tl.Name, func(b *testing.B) {
			request := []byte(tl.Example)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := tools.Run(tl.Name, request, tools.English()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
