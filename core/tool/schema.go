package tool

import (
	"encoding/json"
	"reflect"
	"strings"

	"ohmwright/core/wording"
)

// A Description is the output of "describe": the JSON Schemas (2020-12) of a tool's request and result.
type Description struct {
	Tool     string          `json:"tool"`
	Contract int             `json:"contract"`
	Title    string          `json:"title"`
	Purpose  string          `json:"purpose"`
	Example  json.RawMessage `json:"example"`
	Request  schema          `json:"request"`
	Result   schema          `json:"result"`
}

type schema map[string]any

const dialect = "https://json-schema.org/draft/2020-12/schema"

// Describe derives the schemas from the tool's declaration.
func (t *Tool) Describe(speak *wording.Speaker) Description {
	own := t.Speaker(speak)
	request := objectSchema(t.Fields, "", own)
	request["$schema"] = dialect
	result := resultSchema(t.result, "result", own)
	result["$schema"] = dialect
	return Description{t.Name, Contract, own.Say("title"), own.Say("purpose"), json.RawMessage(t.Example), request, result}
}

// ResultType returns the Go type of the tool's result.
func (t *Tool) ResultType() reflect.Type { return t.result }

// objectSchema returns the schema of an object of fields. key is the key under which their words are found.
func objectSchema(fields []*Field, key string, speak *wording.Speaker) schema {
	properties := schema{}
	required := []string{}
	for _, d := range fields {
		properties[d.Name] = d.schema(JoinPath(key, d.Name), speak)
		if d.Need {
			required = append(required, d.Name)
		}
	}
	return schema{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}

func (d *Field) schema(key string, speak *wording.Speaker) schema {
	label, how := d.Words(key)
	s := schema{"title": speak.Say(label)}
	if how != "" {
		s["description"] = speak.Say(how)
	}
	if d.Default != "" {
		s["default"] = d.Default
	}
	switch d.Shape {
	case Quantity, Reading:
		s["type"], s["units"] = "string", wanted(d.Kinds)
		s["examples"] = []string{d.sample()}
		if d.Shape == Reading {
			s["examples"] = append([]string{d.sample(), "OL"}, d.Spoken...)
		}
		if d.Spoken != nil {
			s["words"] = d.Spoken
		}
		d.Range.describe(s)
	case Number, Whole:
		s["type"] = []string{"number", "string"}
		if d.Shape == Whole {
			s["type"] = []string{"integer", "string"}
		}
		if d.Range.set {
			s["minimum"], s["maximum"] = d.Range.Min, d.Range.Max
		}
	case Choice:
		d.choiceSchema(s, label, speak)
	case Text:
		s["type"], s["maxLength"] = "string", d.Most
	case Group:
		for k, v := range objectSchema(d.Fields, label, speak) {
			s[k] = v
		}
		if d.Same {
			s["type"] = []string{"object", "number", "string"}
		}
	case List:
		s["type"], s["maxItems"], s["items"] = "array", d.Most, objectSchema(d.Fields, label, speak)
	}
	return s
}

func (d *Field) choiceSchema(s schema, label string, speak *wording.Speaker) {
	if len(d.Fields) == 0 {
		s["enum"] = d.Choices
		return
	}
	object := objectSchema(d.Fields, label, speak)
	object["minProperties"], object["maxProperties"] = 1, 1
	s["anyOf"] = []schema{{"enum": d.Choices}, object}
}

// describe writes the range of a quantity into its description, since JSON Schema has no keyword for it. It is in the contract's unit.
func (r Range) describe(s schema) {
	if !r.set {
		return
	}
	s["most"] = r.Max
	if r.OpenMin {
		s["more_than"] = r.Min
	} else {
		s["least"] = r.Min
	}
}

// resultSchema returns the schema of a result, derived from its type.
func resultSchema(t reflect.Type, key string, speak *wording.Speaker) schema {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	s := schema{}
	if speak.Has(key) {
		s["description"] = speak.Say(key)
	}
	if t == reflect.TypeFor[Amount]() {
		s["type"], s["required"] = "object", []string{"value", "unit"}
		s["properties"] = schema{"value": schema{"type": "number"}, "unit": schema{"type": "string"}, "u": schema{"type": "number"}}
		return s
	}
	switch t.Kind() {
	case reflect.String:
		s["type"] = "string"
	case reflect.Bool:
		s["type"] = "boolean"
	case reflect.Float64:
		s["type"] = "number"
	case reflect.Slice:
		s["type"], s["items"] = "array", resultSchema(t.Elem(), key, speak)
	case reflect.Struct:
		properties, required := schema{}, []string{}
		for i := range t.NumField() {
			f := t.Field(i)
			name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
			properties[name] = resultSchema(f.Type, key+"."+name, speak)
			if options != "omitempty" {
				required = append(required, name)
			}
		}
		s["type"], s["properties"], s["required"] = "object", properties, required
	}
	return s
}
