package tool

import (
	"maps"
	"slices"
	"strconv"

	"ohmwright/core/jsontext"
	"ohmwright/core/wording"
)

// A schema is a JSON Schema: JSON by name.
type schema map[string]string

const dialect = "https://json-schema.org/draft/2020-12/schema"

// Describe returns what "describe" prints, as JSON: the tool's name, title, purpose and example, and the JSON Schemas (2020-12) of its
// request and result, derived from the declaration and from the result's json tags.
func (t *Tool) Describe(speak *wording.Speaker) []byte {
	own := t.Speaker(speak)
	request := objectSchema(t.Fields, "", own)
	request.text("$schema", dialect)
	result := resultSchema(jsontext.ShapeOf(t.result), "result", own)
	result.text("$schema", dialect)
	b := jsontext.AppendEscaped([]byte(`{"tool":`), t.Name)
	b = strconv.AppendInt(append(b, `,"contract":`...), Contract, 10)
	b = jsontext.AppendEscaped(append(b, `,"title":`...), own.Say("title"))
	b = jsontext.AppendEscaped(append(b, `,"purpose":`...), own.Say("purpose"))
	b = jsontext.AppendCompact(append(b, `,"example":`...), t.Example)
	b = append(append(b, `,"request":`...), request.json()...)
	b = append(append(b, `,"result":`...), result.json()...)
	return append(b, '}')
}

// Result returns the shape of the tool's result.
func (t *Tool) Result() *jsontext.Shape { return jsontext.ShapeOf(t.result) }

// json returns the schema as JSON, in the order of its names.
func (s schema) json() string {
	b := []byte{'{'}
	for i, name := range slices.Sorted(maps.Keys(s)) {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(jsontext.AppendEscaped(b, name), ':')
		b = append(b, s[name]...)
	}
	return string(append(b, '}'))
}

func (s schema) text(name, text string) { s[name] = string(jsontext.AppendEscaped(nil, text)) }

func (s schema) texts(name string, texts ...string) {
	s[name] = string(jsontext.AppendEscapedList(nil, texts))
}

func (s schema) number(name string, v float64) { s[name] = string(jsontext.AppendNumber(nil, v)) }

// objectSchema returns the schema of an object of fields. key is the key under which their words are found.
func objectSchema(fields []*Field, key string, speak *wording.Speaker) schema {
	properties := schema{}
	required := []string{}
	for _, d := range fields {
		properties[d.Name] = d.schema(JoinPath(key, d.Name), speak).json()
		if d.Need {
			required = append(required, d.Name)
		}
	}
	s := schema{"properties": properties.json(), "additionalProperties": "false"}
	s.text("type", "object")
	s.texts("required", required...)
	return s
}

func (d *Field) schema(key string, speak *wording.Speaker) schema {
	label, how := d.Words(key)
	s := schema{}
	s.text("title", speak.Say(label))
	if how != "" {
		s.text("description", speak.Say(how))
	}
	if d.Default != "" {
		s.text("default", d.Default)
	}
	switch d.Shape {
	case Quantity, Reading:
		s.text("type", "string")
		s.texts("units", wanted(d.Kinds)...)
		s.texts("examples", d.sample())
		if d.Shape == Reading {
			s.texts("examples", append([]string{d.sample(), "OL"}, d.Spoken...)...)
		}
		if d.Spoken != nil {
			s.texts("words", d.Spoken...)
		}
		d.Range.describe(s)
	case Number, Whole:
		s.texts("type", "number", "string")
		if d.Shape == Whole {
			s.texts("type", "integer", "string")
		}
		if d.Range.set {
			s.number("minimum", d.Range.Min)
			s.number("maximum", d.Range.Max)
		}
	case Choice:
		d.choiceSchema(s, label, speak)
	case Text:
		s.text("type", "string")
		s["maxLength"] = strconv.Itoa(d.Most)
	case Group:
		maps.Copy(s, objectSchema(d.Fields, label, speak))
		if d.Same {
			s.texts("type", "object", "number", "string")
		}
	case List:
		s.text("type", "array")
		s["maxItems"], s["items"] = strconv.Itoa(d.Most), objectSchema(d.Fields, label, speak).json()
	}
	return s
}

func (d *Field) choiceSchema(s schema, label string, speak *wording.Speaker) {
	if len(d.Fields) == 0 {
		s.texts("enum", d.Choices...)
		return
	}
	words, object := schema{}, objectSchema(d.Fields, label, speak)
	words.texts("enum", d.Choices...)
	object["minProperties"], object["maxProperties"] = "1", "1"
	s["anyOf"] = "[" + words.json() + "," + object.json() + "]"
}

// describe writes the range of a quantity into its description, since JSON Schema has no keyword for it. It is in the contract's unit.
func (r Range) describe(s schema) {
	if !r.set {
		return
	}
	s.number("most", r.Max)
	if r.OpenMin {
		s.number("more_than", r.Min)
	} else {
		s.number("least", r.Min)
	}
}

// resultSchema returns the schema of a part of a result. key is the key under which it is described. What is embedded by a pointer may be
// missing as a whole.
func resultSchema(of *jsontext.Shape, key string, speak *wording.Speaker) schema {
	s := schema{}
	if speak.Has(key) {
		s.text("description", speak.Say(key))
	}
	if of.Type != "" {
		s.text("type", of.Type)
	}
	switch of.Type {
	case "array":
		s["items"] = resultSchema(of.Items, key, speak).json()
	case "object":
		properties, always := schema{}, []string{}
		for _, m := range of.Members {
			properties[m.Name] = resultSchema(&m.Shape, key+"."+m.Name, speak).json()
			if !m.Optional {
				always = append(always, m.Name)
			}
		}
		s["properties"] = properties.json()
		s.texts("required", always...)
	}
	return s
}
