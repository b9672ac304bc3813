// Package page answers what the page asks at every keystroke: a half-filled form goes in; out come the answer laid out,
// the faults for their fields, what was read in words, and the link that gives the same.
package page

import (
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

// Answer answers a form: texts under flat keys, as the reader typed them, numbers in the reader's notation. Where only
// parts fail that the rest can do without, the rest is answered and the parts are named.
func Answer(t *tool.Tool, given map[string]string, speak *wording.Speaker) Reply {
	return replyTo(t, given, speak, false)
}

// Glance answers as [Answer] does, with the working left folded and empty: between two keystrokes nobody reads it.
func Glance(t *tool.Tool, given map[string]string, speak *wording.Speaker) Reply {
	return replyTo(t, given, speak, true)
}

// longest is how many bytes of one field are looked at: far more than any may have, and few enough that one long text does
// not make the whole request too large to be read. A text of several lines may be longer, a file's as long as a request of the tool.
const longest = 1 << 10

// draftOf cuts the texts of a form to what is looked at.
func draftOf(t *tool.Tool, given map[string]string) link.Draft {
	d := link.Draft{Tool: t, Given: make(map[string]string, len(given))}
	for key, text := range given {
		most := longest
		if f := t.Field(key); f != nil && f.File {
			most = t.MaxBytes()
		} else if f != nil && f.Page.Lines {
			most = f.Most + 1 // one more than it may have is told
		}
		d.Given[key] = strings.ToValidUTF8(text[:min(len(text), most)], "\ufffd")
	}
	return d
}

func replyTo(t *tool.Tool, given map[string]string, speak *wording.Speaker, brief bool) Reply {
	speak = t.Speaker(speak)
	d := draftOf(t, given)
	o := t.Ask(d.Request(), speak.Mark(), speak, brief)
	rows := d.Rows()
	for i := range o.Faults {
		o.Faults[i].Field = rows.Own(o.Faults[i].Field)
	}
	reply := Reply{Body: []*sheet.Element{}, Notes: notes(o.Faults), Echo: map[string]string{}}
	if o.Record != nil {
		reply.tellRecord(t, o.Record, rows, speak)
	}
	d, first := named(d, speak), o
	o, left := withoutSpoilt(d, o, speak, brief)
	if o.Answer == nil {
		reply.Head = pending(t, first.Faults, speak)
		reply.Body = append(reply.Body, o.Draft(t, speak)...)
		return reply
	}
	reply.Answered = true
	reply.Head, reply.Body = o.Answer.Lay()
	if slices.ContainsFunc(left, func(prefix string) bool { return t.Field(top(prefix)).Grave }) {
		reply.Head = pending(t, grave(t, first.Faults), speak)
	}
	if len(left) > 0 {
		reply.Body = slices.Insert(reply.Body, 0, leftOut(d, left, speak))
	}
	return reply
}

// tellRecord adds what the request says by itself: its link, what the sliders stand at, what was read in words.
func (r *Reply) tellRecord(t *tool.Tool, asked *tool.Record, rows link.Rows, speak *wording.Speaker) {
	r.Link, r.Left = link.Write(t, asked), []string{}
	for _, path := range link.Left(t, asked) {
		r.Left = append(r.Left, rows.Own(path))
	}
	r.Values = map[string]float64{}
	asked.Sliders(func(path string, value float64) { r.Values[rows.Own(path)] = value })
	echo := map[string]string{}
	asked.Echo(speak, echo)
	for path, text := range echo {
		r.Echo[rows.Own(path)] = text
	}
}

// withoutSpoilt leaves out what its own faults spoil, as long as that helps: it returns an answer to the rest, if there is one,
// and the keys that were left out.
func withoutSpoilt(d link.Draft, o tool.Outcome, speak *wording.Speaker, brief bool) (tool.Outcome, []string) {
	var left []string
	for o.Answer == nil {
		spoilt := false
		for _, f := range o.Faults {
			for _, prefix := range d.Tool.Spoils(f.Field) {
				less, dropped := d.Without(prefix)
				if dropped {
					d, spoilt, left = less, true, append(left, prefix)
				}
			}
		}
		if !spoilt {
			break
		}
		o = d.Tool.Ask(d.Request(), speak.Mark(), speak, brief)
	}
	return o, left
}

// leftOut says what the answer is without.
func leftOut(d link.Draft, left []string, speak *wording.Speaker) *sheet.Element {
	names := make([]string, len(left))
	for i, prefix := range left {
		names[i] = nameIn(d, prefix, speak)
	}
	e := sheet.New("p class=left-out data-left-out=?", strings.Join(left, " "))
	return e.Say(speak.Say("sheet.left_out", strings.Join(names, ", ")))
}

// top is the field of the request that a path leads into.
func top(path string) string {
	name, _, _ := strings.Cut(path, ".")
	return name
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

// isList reports whether a key is that of a list of rows.
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
		if d := t.Field(top(f.Field)); d != nil && d.Grave {
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
	if speak.Has("waiting") {
		waiting = "waiting"
	}
	return sheet.Verdict(sheet.MarkWaiting, "waiting", speak.Say(waiting), speak.Say("sheet.needs", strings.Join(missing, ", ")))
}

// name is a field's label, or a row's number.
func name(t *tool.Tool, path string, speak *wording.Speaker) string {
	parts := strings.Split(path, ".")
	for n := len(parts); n > 0; n-- {
		path := strings.Join(parts[:n], ".")
		if f := t.Field(path); f != nil {
			if label, _ := f.Words(path); speak.Has(label) {
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
	list := top(path)
	if f := d.Tool.Field(list); f != nil && f.Page.Pick != "" && path != list {
		at := list + "." + f.Page.Pick
		label, _ := d.Tool.Field(at).Words(at)
		if key := label + "=" + d.Given[path+"."+f.Page.Pick]; speak.Has(key) {
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
