package page

import (
	"maps"
	"slices"
	"strconv"

	"ohmwright/core/quote"
)

// MarshalJSON is written by hand: encoding/json's first use of reflection costs a phone more than all the rest of its
// first answer. The elements have their own MarshalJSON.
func (r Reply) MarshalJSON() ([]byte, error) {
	b := append(make([]byte, 0, 16<<10), `{"head":`...)
	b = append(r.Head.AppendJSON(b), `,"body":[`...)
	for i, part := range r.Body {
		if i > 0 {
			b = append(b, ',')
		}
		b = part.AppendJSON(b)
	}
	b = strconv.AppendBool(append(b, `],"answered":`...), r.Answered)
	b = appendNotes(append(b, `,"notes":`...), r.Notes)
	b = quote.AppendMap(append(b, `,"echo":`...), r.Echo)
	b = quote.Append(append(b, `,"link":`...), r.Link)
	b = quote.Append(append(b, `,"line":`...), r.Line)
	b = quote.Append(append(b, `,"of":`...), r.Handed.Of)
	b = quote.Append(append(b, `,"whose":`...), r.Handed.Whose)
	b = strconv.AppendBool(append(b, `,"begun":`...), r.Handed.Begun)
	b = quote.Append(append(b, `,"kept":`...), r.Handed.Kept)
	b = quote.Append(append(b, `,"seen":`...), r.Handed.Seen)
	b = quote.AppendList(append(b, `,"left":`...), r.Left)
	b = append(b, `,"values":{`...)
	for i, path := range slices.Sorted(maps.Keys(r.Values)) {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(quote.Append(b, path), ':')
		b = strconv.AppendFloat(b, r.Values[path], 'g', -1, 64)
	}
	return append(b, `}}`...), nil
}

// MarshalJSON is written by hand, as [Reply.MarshalJSON] is.
func (f Form) MarshalJSON() ([]byte, error) {
	b := quote.Append([]byte(`{"tool":`), f.Tool)
	b = append(b, `,"fields":{`...)
	for i, key := range slices.Sorted(maps.Keys(f.Fields)) {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(quote.Append(b, key), `:{"text":`...)
		b = quote.Append(b, f.Fields[key].Text)
		b = append(quote.Append(append(b, `,"unit":`...), f.Fields[key].Unit), '}')
	}
	b = appendNotes(append(b, `},"notes":`...), f.Notes)
	b = quote.Append(append(b, `,"of":`...), f.Of)
	b = quote.Append(append(b, `,"whose":`...), f.Whose)
	return append(b, '}'), nil
}

// appendNotes appends notes as a JSON array.
func appendNotes(b []byte, notes []Note) []byte {
	b = append(b, '[')
	for i, n := range notes {
		if i > 0 {
			b = append(b, ',')
		}
		b = quote.Append(append(b, `{"field":`...), n.Field)
		b = quote.Append(append(b, `,"code":`...), string(n.Code))
		b = append(quote.Append(append(b, `,"text":`...), n.Text), '}')
	}
	return append(b, ']')
}
