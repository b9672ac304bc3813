package page

import (
	"maps"
	"slices"
	"strconv"

	"ohmwright/core/jsontext"
)

// MarshalJSON is written by hand: encoding/json's first use of reflection costs a phone more than all the rest of its
// first answer. The elements have their own MarshalJSON.
func (r Reply) MarshalJSON() ([]byte, error) {
	b := r.appendSince(make([]byte, 0, 16<<10), &Held{}, &Held{})
	b[0] = '{' // in place of the first comma
	return append(b, '}'), nil
}

// appendValues appends the values of the sliders as a JSON object.
func (r *Reply) appendValues(b []byte) []byte {
	b = append(b, '{')
	for i, path := range slices.Sorted(maps.Keys(r.Values)) {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(jsontext.Append(b, path), ':')
		b = strconv.AppendFloat(b, r.Values[path], 'g', -1, 64)
	}
	return append(b, '}')
}

// MarshalJSON is written by hand, as [Reply.MarshalJSON] is.
func (f Form) MarshalJSON() ([]byte, error) {
	b := jsontext.Append([]byte(`{"tool":`), f.Tool)
	b = append(b, `,"fields":{`...)
	for i, key := range slices.Sorted(maps.Keys(f.Fields)) {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(jsontext.Append(b, key), `:{"text":`...)
		b = jsontext.Append(b, f.Fields[key].Text)
		b = append(jsontext.Append(append(b, `,"unit":`...), f.Fields[key].Unit), '}')
	}
	b = appendNotes(append(b, `},"notes":`...), f.Notes)
	b = jsontext.Append(append(b, `,"of":`...), f.Of)
	b = jsontext.Append(append(b, `,"whose":`...), f.Whose)
	return append(b, '}'), nil
}

// appendNotes appends notes as a JSON array.
func appendNotes(b []byte, notes []Note) []byte {
	b = append(b, '[')
	for i, n := range notes {
		if i > 0 {
			b = append(b, ',')
		}
		b = jsontext.Append(append(b, `{"field":`...), n.Field)
		b = jsontext.Append(append(b, `,"code":`...), string(n.Code))
		b = append(jsontext.Append(append(b, `,"text":`...), n.Text), '}')
	}
	return append(b, ']')
}
