package tools_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/jsontext"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/testdata"
)

// TestResponsesAreThoseOfEncodingJSON checks that responses are byte for byte what encoding/json makes of the same structs by their tags:
// for each check value and example, in two languages.
func TestResponsesAreThoseOfEncodingJSON(t *testing.T) {
	vectors, err := testdata.OfTools()
	require.NoError(t, err)
	for _, tl := range tools.All {
		vectors = append(vectors, testdata.Vector{ID: "the example", In: testdata.Input{Tool: tl.Name, Request: []byte(tl.Example)}})
	}
	for _, v := range vectors {
		for _, language := range []string{"en", "de"} {
			speak := tools.Speaker(language, language)
			tl, ok := tools.Named(v.In.Tool)
			if !ok {
				continue
			}
			var response any
			if o := tl.Answer(v.In.Request, quantity.Point, speak); o.Answer != nil {
				response = o.Answer.Response()
			} else {
				response = tool.Refusal(o.Faults, tl.Speaker(speak))
			}
			want, err := json.Marshal(response)
			require.NoError(t, err, v.ID)
			got, _ := tools.Run(tl.Name, v.In.Request, speak)
			assert.Equal(t, string(want), string(got), "%s of %s", v.ID, tl.Name)
		}
	}
}

// TestShapesFollowTheTags checks that what describes a result has each field that has a json tag, in its order and of its type.
func TestShapesFollowTheTags(t *testing.T) {
	for _, tl := range tools.All {
		o := tl.Answer([]byte(tl.Example), quantity.Point, tools.English())
		require.NotNil(t, o.Answer, tl.Name)
		assert.Equal(t, shapeOf(reflect.TypeOf(o.Answer.Result)), *tl.Result(), tl.Name)
	}
}

// shapeOf returns the shape that a type has by its json tags.
func shapeOf(in reflect.Type) (s jsontext.Shape) {
	switch in.Kind() {
	case reflect.Pointer:
		return shapeOf(in.Elem())
	case reflect.String:
		s.Type = "string"
	case reflect.Bool:
		s.Type = "boolean"
	case reflect.Float64:
		s.Type = "number"
	case reflect.Slice:
		items := shapeOf(in.Elem())
		s.Type, s.Items = "array", &items
	case reflect.Struct:
		s.Type = "object"
		for i := range in.NumField() {
			f := in.Field(i)
			name, options, tagged := strings.Cut(f.Tag.Get("json"), ",")
			if !f.Anonymous {
				s.Members = append(s.Members, jsontext.Member{Name: name, Optional: tagged && options == "omitempty", Shape: shapeOf(f.Type)})
				continue
			}
			for _, m := range shapeOf(f.Type).Members {
				m.Optional = true
				s.Members = append(s.Members, m)
			}
		}
	}
	return s
}

// TestDescriptionsAreThoseOfEncodingJSON checks that what describes a tool is written as encoding/json writes the same values.
func TestDescriptionsAreThoseOfEncodingJSON(t *testing.T) {
	for _, tl := range tools.All {
		for _, language := range []string{"en", "de", "es", "fr"} {
			var d struct {
				Tool     string          `json:"tool"`
				Contract int             `json:"contract"`
				Title    string          `json:"title"`
				Purpose  string          `json:"purpose"`
				Example  json.RawMessage `json:"example"`
				Request  any             `json:"request"`
				Result   any             `json:"result"`
			}
			got := tl.Describe(tools.Speaker(language, language))
			read := json.NewDecoder(bytes.NewReader(got))
			read.UseNumber()
			require.NoError(t, read.Decode(&d), tl.Name)
			d.Example = json.RawMessage(tl.Example)
			want, err := json.Marshal(d)
			require.NoError(t, err, tl.Name)
			assert.Equal(t, string(want), string(got), tl.Name)
		}
	}
}
