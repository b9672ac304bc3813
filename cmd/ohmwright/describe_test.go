package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// described is what describe prints, with its schemas compiled.
type described struct {
	Tool            string
	Contract        int
	Example         any
	request, result *jsonschema.Schema
	raw             map[string]any
}

func describe(t *testing.T, name string) described {
	t.Helper()
	o := ask(t, "", "describe", name)
	require.Equal(t, outcome{o.out, "", done}, o, "describe %s", name)
	value, err := jsonschema.UnmarshalJSON(strings.NewReader(o.out))
	require.NoError(t, err)
	d := described{raw: value.(map[string]any)}
	require.NoError(t, json.Unmarshal([]byte(o.out), &d))
	d.Example = d.raw["example"]
	for part, schema := range map[string]**jsonschema.Schema{"request": &d.request, "result": &d.result} {
		c := jsonschema.NewCompiler()
		require.NoError(t, c.AddResource(part, d.raw[part]))
		*schema, err = c.Compile(part)
		require.NoError(t, err, "%s is no JSON Schema", part)
	}
	return d
}

// declared checks that a schema has every field of a declaration, and no other.
func declared(t *testing.T, at string, fields []*tool.Field, schema map[string]any) {
	properties, _ := schema["properties"].(map[string]any)
	assert.Equal(t, false, schema["additionalProperties"], "%s: the schema should refuse fields that are not declared", at)
	assert.Len(t, properties, len(fields), "%s: the schema should have the fields that are declared, and no other", at)
	var need []any
	for _, f := range fields {
		p, ok := properties[f.Name].(map[string]any)
		if !assert.True(t, ok, "%s.%s is not in the schema", at, f.Name) {
			continue
		}
		assert.NotEmpty(t, p["title"], "%s.%s: the schema needs the field's title: give it words", at, f.Name)
		if f.Label == "" { // else its name says all
			assert.NotEmpty(t, p["description"], "%s.%s: the schema needs how the field is read: give it words", at, f.Name)
		}
		if f.Need {
			need = append(need, f.Name)
		}
		if f.Fields == nil {
			continue
		}
		inner := p
		if f.Shape == tool.List {
			inner = p["items"].(map[string]any)
		}
		if f.Shape == tool.Choice {
			inner = p["anyOf"].([]any)[1].(map[string]any)
		}
		declared(t, at+"."+f.Name, f.Fields, inner)
	}
	assert.ElementsMatch(t, need, schema["required"], "%s: the fields that are needed", at)
}

func TestDescribe(t *testing.T) {
	for _, tl := range tools.All {
		d := describe(t, tl.Name)
		assert.Equal(t, tl.Name, d.Tool, "describe %s: the name", tl.Name)
		assert.Equal(t, tool.Contract, d.Contract, "describe %s: the contract", tl.Name)
		declared(t, tl.Name, tl.Fields, d.raw["request"].(map[string]any))
		assert.NoError(t, d.request.Validate(d.Example), "the example of %s", tl.Name)
		assert.Error(t, d.request.Validate(map[string]any{"colour": "red"}), "describe %s: its schema should refuse an unknown field", tl.Name)

		answer, err := jsonschema.UnmarshalJSON(strings.NewReader(ask(t, tl.Example, "run", tl.Name).out))
		require.NoError(t, err)
		result := answer.(map[string]any)["result"]
		assert.NoError(t, d.result.Validate(result), "the result of %s's example", tl.Name)
		named(t, tl.Name, result, d.raw["result"].(map[string]any))
	}
}

// named checks that a result has no name that its schema does not have.
func named(t *testing.T, at string, value any, schema map[string]any) {
	switch v := value.(type) {
	case map[string]any:
		properties, _ := schema["properties"].(map[string]any)
		for name, inner := range v {
			if p, ok := properties[name].(map[string]any); assert.True(t, ok, "%s.%s is not in the schema", at, name) {
				named(t, at+"."+name, inner, p)
			}
		}
	case []any:
		for _, inner := range v {
			named(t, at, inner, schema["items"].(map[string]any))
		}
	}
}
