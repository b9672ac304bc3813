package page

import (
	"slices"
	"strings"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// A Field is the content of one field of a form.
type Field struct {
	Text string
	Unit string // symbol; "" for none
}

// A Form is the content of a form's fields, read from a link.
type Form struct {
	Tool   string // "" if the link names no tool
	Fields map[string]Field
	Notes  []Note
	// Of a link that was handed out to be worked on, with no work in it: the link itself, as it is written, and whose work it asks for.
	Of, Whose string
}

// Open reads a link for a form, in the reader's notation. It reads as much as it can, and notes the rest.
func Open(text string, speak *wording.Speaker) Form {
	d, faults := link.Read(text, speak)
	form := Form{Fields: map[string]Field{}, Notes: notes(faults)}
	if d.Tool == nil {
		return form
	}
	form.Tool = d.Tool.Name
	d = d.Compact()
	form.Of, form.Whose = handedOut(d, speak)
	known := make([]string, len(d.Tool.Fields))
	for i, f := range d.Tool.Fields {
		known[i] = f.Name
	}
	lost := func(key, value, fault string, args ...any) {
		form.Notes = append(form.Notes, notes([]tool.Fault{tool.NewFault(speak, key, tool.Unknown, value, fault, args...)})...)
	}
	for key, value := range d.Given {
		// Unknown fields and choices have no place in the form. Note them, or they would be lost silently.
		f := d.Tool.Field(key)
		switch {
		case f == nil:
			lost(key, value, "field", quantity.Clip(key), strings.Join(known, ", "))
			continue
		case f.Shape == tool.Choice && !slices.Contains(f.Choices, value):
			lost(key, value, "choice", quantity.Clip(value), strings.Join(f.Choices, ", "))
			continue
		}
		form.Fields[key] = fieldOf(f, value, speak.Mark())
	}
	return form
}

// handedOut returns the link of what was handed out to be worked on, and whose work a draft is, if there is no work in it yet.
func handedOut(d link.Draft, speak *wording.Speaker) (of, whose string) {
	if d.Tool.Hand == nil {
		return "", ""
	}
	o := d.Tool.Ask(d.Request(), quantity.Point, speak, tool.Brief)
	if o.Record == nil {
		return "", ""
	}
	h := d.Tool.Hand(o.Record, d.Tool.Speaker(speak))
	if h.Begun {
		return "", ""
	}
	return h.Of, h.Whose
}

// field splits a link's text into number and unit, which a form keeps in separate fields.
func fieldOf(d *tool.Field, value string, mark quantity.Mark) Field {
	if d.Kinds == nil {
		return Field{Text: value}
	}
	v, err := quantity.Parse(value, quantity.Point, d.Kinds...)
	if err != nil {
		return Field{Text: value}
	}
	return Field{mark.In(v.Digits), v.Unit.Symbol}
}
