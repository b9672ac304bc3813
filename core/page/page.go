// Package page answers what the page asks at every keystroke: a half-filled form goes in; out come the answer laid out,
// the faults for their fields, what was read in words, and the link that gives the same.
package page

import (
	"encoding/json"
	"slices"
	"strings"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// A Note is a fault for a field, in one text.
type Note struct {
	Field string
	Code  tool.Code
	Text  string
}

// A Reply is what the page shows.
type Reply struct {
	Answered bool           // there is a verdict
	Head     *sheet.Element // what stays in view while typing
	Body     []*sheet.Element
	Notes    []Note
	Echo     map[string]string
	Link     string             // "" where nothing can be linked to
	Left     []string           // fields that are too long for the link, which is without them
	Values   map[string]float64 // what was read of the fields that have a slider, in the contract's units
}

// MarshalJSON writes the reply, its small parts from a map: reading a struct's fields by reflection for the first time costs
// a phone more than the rest of its first answer's writing. The elements write themselves, once.
func (r Reply) MarshalJSON() ([]byte, error) {
	small, err := json.Marshal(map[string]any{"answered": r.Answered, "notes": texts(r.Notes), "echo": r.Echo, "link": r.Link, "left": r.Left, "values": r.Values})
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

// MarshalJSON writes the form as [Reply.MarshalJSON] does.
func (f Form) MarshalJSON() ([]byte, error) {
	fields := make(map[string]map[string]string, len(f.Fields))
	for key, field := range f.Fields {
		fields[key] = map[string]string{"text": field.Text, "unit": field.Unit}
	}
	return json.Marshal(map[string]any{"tool": f.Tool, "fields": fields, "notes": texts(f.Notes)})
}

func texts(notes []Note) []map[string]string {
	out := make([]map[string]string, len(notes))
	for i, n := range notes {
		out[i] = map[string]string{"field": n.Field, "code": string(n.Code), "text": n.Text}
	}
	return out
}

// Answer answers a form: texts under flat keys, as the reader typed them, numbers in the reader's notation. Where only
// parts fail that the rest can do without, the rest is answered and the parts are named.
func Answer(t *tool.Tool, given map[string]string, speak *wording.Speaker) Reply {
	return replyTo(t, given, speak, (*tool.Tool).Answer)
}

// Glance answers as [Answer] does, with the working left folded and empty: between two keystrokes nobody reads it.
func Glance(t *tool.Tool, given map[string]string, speak *wording.Speaker) Reply {
	return replyTo(t, given, speak, (*tool.Tool).Glance)
}

type ask func(*tool.Tool, []byte, quantity.Mark, *wording.Speaker) (*tool.Record, *tool.Answer, []tool.Fault)

// longest is how many bytes of one field are looked at: far more than any may have, and few enough that one long text does
// not make the whole request too large to be read. A text of several lines may be longer, a file's as long as a request of the tool.
const longest = 1 << 10

func replyTo(t *tool.Tool, given map[string]string, speak *wording.Speaker, ask ask) Reply {
	d := link.Draft{Tool: t, Given: make(map[string]string, len(given))}
	for key, text := range given {
		most := longest
		if f := t.Field(key); f != nil && f.File {
			most = t.MaxBytes()
		} else if f != nil && f.Lines {
			most = f.Most + 1 // one more than it may have is told
		}
		d.Given[key] = text[:min(len(text), most)]
	}
	r, a, faults := ask(t, d.Request(), speak.Mark(), speak)
	rows := d.Rows()
	for i := range faults {
		faults[i].Field = rows.Own(faults[i].Field)
	}
	reply := Reply{Body: []*sheet.Element{}, Notes: notes(faults), Echo: map[string]string{}}
	if r != nil {
		reply.Link, reply.Left = link.Write(t, r), []string{}
		for _, path := range link.Left(t, r) {
			reply.Left = append(reply.Left, rows.Own(path))
		}
		reply.Values = map[string]float64{}
		slid(t.Fields, r, func(path string, value float64) { reply.Values[rows.Own(path)] = value })
		echo := map[string]string{}
		r.Echo(speak, echo)
		for path, text := range echo {
			reply.Echo[rows.Own(path)] = text
		}
	}
	d = named(d, speak)
	whole, first := d, faults
	var without []string
	for a == nil {
		spoilt := false
		for _, f := range faults {
			for _, prefix := range t.Apart(f.Field) {
				less, dropped := d.Without(prefix)
				if dropped {
					d, spoilt, without = less, true, append(without, prefix)
				}
			}
		}
		if !spoilt {
			reply.Head = pending(t, first, speak)
			if r != nil {
				reply.Body = append(reply.Body, t.Draft(r, speak)...)
			}
			return reply
		}
		r, a, faults = ask(t, d.Request(), speak.Mark(), speak)
	}
	reply.Answered = true
	reply.Head, reply.Body = t.Lay(r, a)
	if slices.ContainsFunc(without, func(prefix string) bool {
		top, _, _ := strings.Cut(prefix, ".")
		return t.Field(top).Grave
	}) {
		reply.Head = pending(t, grave(t, first), speak)
	}
	if len(without) > 0 {
		names := make([]string, len(without))
		for i, w := range without {
			names[i] = nameIn(whole, w, speak)
		}
		reply.Body = append([]*sheet.Element{sheet.New("p class=left-out data-left-out=?", strings.Join(without, " ")).Say(speak.Say("sheet.left_out", strings.Join(names, ", ")))}, reply.Body...)
	}
	return reply
}

// slid tells what was read of the fields that have a slider: also what is out of range, since a slider then stands at its end.
func slid(fields []tool.Field, r *tool.Record, tell func(path string, value float64)) {
	for i := range fields {
		f := &fields[i]
		switch {
		case !r.Given(f.Name):
		case f.Slide != nil:
			if r.Kind(f.Name) == f.Kinds[0] {
				tell(r.Path(f.Name), r.Value(f.Name))
			}
		case f.Fields == nil:
		case f.Shape == tool.List:
			for _, row := range r.Rows(f.Name) {
				slid(f.Fields, row, tell)
			}
		default:
			if group := r.Group(f.Name); group != nil {
				slid(f.Fields, group, tell)
			}
		}
	}
}

// named gives each row without a name its number on the form, which it keeps when rows before it are left out.
func named(d link.Draft, speak *wording.Speaker) link.Draft {
	out := link.Draft{Tool: d.Tool, Given: make(map[string]string, len(d.Given))}
	for key, text := range d.Given {
		out.Given[key] = text
		parts := strings.SplitN(key, ".", 3)
		if len(parts) < 3 || !isList(d.Tool, parts[0]) || d.Tool.Field(parts[0]+".name") == nil {
			continue
		}
		if own := parts[0] + "." + parts[1] + ".name"; strings.TrimSpace(d.Given[own]) == "" {
			out.Given[own] = speak.Say("sheet.row", rowNumber(parts[1]))
		}
	}
	return out
}

// isList says whether a key is that of a list of rows.
func isList(t *tool.Tool, key string) bool {
	f := t.Field(key)
	return f != nil && f.Shape == tool.List
}

// notes makes one text of each fault and its hint.
func notes(faults []tool.Fault) []Note {
	out := make([]Note, len(faults))
	for i, f := range faults {
		out[i] = Note{f.Field, f.Code, strings.TrimSpace(f.Message + " " + f.Hint)}
	}
	return out
}

// grave are the faults in fields that are told at the head.
func grave(t *tool.Tool, faults []tool.Fault) (graves []tool.Fault) {
	for _, f := range faults {
		top, _, _ := strings.Cut(f.Field, ".")
		if d := t.Field(top); d != nil && d.Grave {
			graves = append(graves, f)
		}
	}
	return graves
}

// pending is the head where there is no answer yet: what is still needed, or that something does not fit.
func pending(t *tool.Tool, faults []tool.Fault, speak *wording.Speaker) *sheet.Element {
	var missing []string
	for _, f := range faults {
		if f.Code != tool.Missing {
			return sheet.Verdict(sheet.MarkRefused, "refused", speak.Say("sheet.refused"), speak.Say("sheet.refused.number"))
		}
		missing = append(missing, name(t, f.Field, speak))
	}
	waiting := "sheet.waiting"
	if own := t.Name + ".waiting"; wording.Has(own) {
		waiting = own
	}
	return sheet.Verdict(sheet.MarkWaiting, "waiting", speak.Say(waiting), speak.Say("sheet.needs", strings.Join(missing, ", ")))
}

// name is a field's label, or a row's number.
func name(t *tool.Tool, path string, speak *wording.Speaker) string {
	parts := strings.Split(path, ".")
	for n := len(parts); n > 0; n-- {
		path := strings.Join(parts[:n], ".")
		if f := t.Field(path); f != nil {
			if label, _ := f.Words(t.Name + "." + path); wording.Has(label) {
				return speak.Say(label)
			}
		}
		if n == 2 && isList(t, parts[0]) {
			return speak.Say("sheet.row", rowNumber(parts[1]))
		}
	}
	return path
}

// nameIn is the name of what is left out of a draft: of a row that is told apart by a choice, that choice.
func nameIn(d link.Draft, path string, speak *wording.Speaker) string {
	top, _, _ := strings.Cut(path, ".")
	if f := d.Tool.Field(top); f != nil && f.Pick != "" && path != top {
		pick := d.Tool.Field(top + "." + f.Pick)
		label, _ := pick.Words(d.Tool.Name + "." + top + "." + f.Pick)
		if key := label + "=" + d.Given[path+"."+f.Pick]; wording.Has(key) {
			return speak.Say(key)
		}
	}
	return name(d.Tool, path, speak)
}

// rowNumber counts from one.
func rowNumber(index string) string {
	v, err := quantity.Parse(index, quantity.Point, quantity.OfRatio)
	if err != nil {
		return index
	}
	return quantity.Format(v.In+1, "1", quantity.OfRatio, quantity.Point)
}

// A Field is what a form's field holds.
type Field struct {
	Text string
	Unit string // symbol, "" for none
}

// A Form is a link opened: what its fields hold.
type Form struct {
	Tool   string // "" where the link leads nowhere
	Fields map[string]Field
	Notes  []Note
}

// Open reads a link for a form, in the reader's notation. Whatever can be read is there; the rest is noted.
func Open(text string, speak *wording.Speaker) Form {
	d, faults := link.Read(text, speak)
	form := Form{Fields: map[string]Field{}, Notes: notes(faults)}
	if d.Tool == nil {
		return form
	}
	form.Tool = d.Tool.Name
	d = d.Compact()
	known := make([]string, len(d.Tool.Fields))
	for i := range d.Tool.Fields {
		known[i] = d.Tool.Fields[i].Name
	}
	lost := func(key, value, fault string, args ...any) {
		form.Notes = append(form.Notes, notes([]tool.Fault{tool.NewFault(speak, key, tool.Unknown, value, fault, args...)})...)
	}
	for key, value := range d.Given {
		// What a form has no place for would be lost without a word: unknown fields and choices.
		f := d.Tool.Field(key)
		switch {
		case f == nil:
			lost(key, value, "field", quantity.Clip(key), strings.Join(known, ", "))
			continue
		case f.Shape == tool.Choice && !slices.Contains(f.Choices, value):
			lost(key, value, "choice", quantity.Clip(value), strings.Join(f.Choices, ", "))
			continue
		}
		form.Fields[key] = field(d.Tool, key, value, speak.Mark())
	}
	return form
}

// field splits a link's text into the number and the unit that a form keeps apart.
func field(t *tool.Tool, key, value string, mark quantity.Mark) Field {
	d := t.Field(key)
	if d == nil || d.Kinds == nil {
		return Field{Text: value}
	}
	v, err := quantity.Parse(value, quantity.Point, d.Kinds...)
	if err != nil {
		return Field{Text: value}
	}
	text := v.Digits
	if mark == quantity.Comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return Field{text, v.Unit.Symbol}
}
