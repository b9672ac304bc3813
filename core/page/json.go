package page

import "encoding/json"

// MarshalJSON is written by hand: encoding/json's first use of reflection costs a phone more than all the rest of its
// first answer. The elements have their own MarshalJSON.
func (r Reply) MarshalJSON() ([]byte, error) {
	small, err := json.Marshal(map[string]any{
		"answered": r.Answered, "notes": texts(r.Notes), "echo": r.Echo, "link": r.Link, "line": r.Line, "left": r.Left,
		"values": r.Values, "of": r.Handed.Of, "whose": r.Handed.Whose, "begun": r.Handed.Begun, "kept": r.Handed.Kept, "seen": r.Handed.Seen,
	})
	if err != nil {
		return nil, err
	}
	b := append(make([]byte, 0, 16<<10), `{"head":`...)
	b = append(r.Head.AppendJSON(b), `,"body":[`...)
	for i, part := range r.Body {
		if i > 0 {
			b = append(b, ',')
		}
		b = part.AppendJSON(b)
	}
	b = append(b, `],`...)
	return append(b, small[1:]...), nil
}

// MarshalJSON is written by hand, as [Reply.MarshalJSON] is.
func (f Form) MarshalJSON() ([]byte, error) {
	fields := make(map[string]map[string]string, len(f.Fields))
	for key, field := range f.Fields {
		fields[key] = map[string]string{"text": field.Text, "unit": field.Unit}
	}
	return json.Marshal(map[string]any{"tool": f.Tool, "fields": fields, "notes": texts(f.Notes), "of": f.Of, "whose": f.Whose})
}

func texts(notes []Note) []map[string]string {
	out := make([]map[string]string, len(notes))
	for i, n := range notes {
		out[i] = map[string]string{"field": n.Field, "code": string(n.Code), "text": n.Text}
	}
	return out
}
