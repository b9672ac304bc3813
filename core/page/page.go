// Package page answers what the page asks at every keystroke. A half-filled form goes in; out come the answer laid out,
// the faults by field, what was read in words, and a link to the same request.
package page

import (
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/link"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// A Note is the text of a fault, for the field that it concerns.
type Note struct {
	Field string
	Code  tool.Code
	Text  string
}

// A Reply is everything that the page shows.
type Reply struct {
	Answered bool           // there is a verdict
	Head     *sheet.Element // stays in view while typing
	Body     []*sheet.Element
	Notes    []Note
	Echo     map[string]string
	Link     string             // "" if there is nothing to link to
	Line     string             // what stands before the link where it is handed on; "" for nothing
	Handed   tool.Handed        // the same, and what the form is
	Left     []string           // fields left out of the link because they are too long
	Values   map[string]float64 // values of the fields that have a slider, in the contract's units
}

// Answer answers a form: texts under flat keys as the reader typed them, with numbers in the reader's notation. If faults
// are only in parts that the answer can do without, it answers the rest and names those parts.
func Answer(t *tool.Tool, given map[string]string, speak *wording.Speaker) Reply {
	return Glance(t, given, speak, tool.Full)
}

// Glance answers like [Answer], with less detail: nobody reads what is folded between two keystrokes.
func Glance(t *tool.Tool, given map[string]string, speak *wording.Speaker, detail tool.Detail) Reply {
	reply, _ := ask(t, given, speak, detail)
	return reply
}

// longest is the most bytes of a field that are read. It is far more than any field may have, yet so short that one long
// text cannot make the whole request too large. A text of several lines may be longer, and a file as long as a request of
// the tool.
const longest = 1 << 10

// draftOf returns the form as a draft, with each text cut to the length that is read.
func draftOf(t *tool.Tool, given map[string]string) link.Draft {
	d := link.Draft{Tool: t, Given: make(map[string]string, len(given))}
	for key, text := range given {
		if len(text) > longest {
			text = text[:min(len(text), mostOf(t, key))]
		}
		d.Given[key] = strings.ToValidUTF8(text, "\ufffd")
	}
	return d
}

// mostOf returns the most bytes of a field that are read; at least longest.
func mostOf(t *tool.Tool, key string) int {
	switch f := t.Field(key); {
	case f != nil && f.File:
		return t.MaxBytes()
	case f != nil && f.Page.Lines:
		return max(longest, f.Most+1) // one byte too many, so that the tool reports the fault
	}
	return longest
}

// ask returns the reply to a form, and what the whole form led to.
func ask(t *tool.Tool, given map[string]string, speak *wording.Speaker, detail tool.Detail) (Reply, tool.Outcome) {
	speak = t.Speaker(speak)
	d := draftOf(t, given)
	o := t.Ask(d.Request(), speak.Mark(), speak, detail)
	rows := d.Rows()
	for i := range o.Faults {
		o.Faults[i].Field = rows.Own(o.Faults[i].Field)
	}
	reply := Reply{Body: []*sheet.Element{}, Notes: labelled(t, tool.Listed(o.Faults, speak), speak), Echo: map[string]string{}}
	if o.Record != nil {
		reply.tellRecord(t, o.Record, rows, speak)
	}
	first, left := o, []string(nil)
	if o.Answer == nil {
		d = named(d, speak)
		o, left = withoutSpoilt(d, o, speak, detail)
	}
	if o.Answer == nil {
		head, body := o.Draft(t, speak)
		if reply.Head = head; head == nil { // a stop is said even before there is an answer
			reply.Head = pending(t, first.Faults, speak)
		}
		reply.Body = append(reply.Body, body...)
		return reply, first
	}
	reply.Answered = true
	if detail == tool.Full {
		o.Answer.Drawn = drawnFor(speak)
	}
	reply.Head, reply.Body = o.Answer.Lay()
	if slices.ContainsFunc(left, func(prefix string) bool { return t.Field(top(prefix)).Grave }) {
		reply.Head = pending(t, grave(t, first.Faults), speak)
	}
	if len(left) > 0 {
		reply.Body = slices.Insert(reply.Body, 0, leftOut(d, left, speak))
	}
	return reply, first
}

// tellRecord adds what follows from the request alone: its link, the positions of the sliders, and what was read in words.
func (r *Reply) tellRecord(t *tool.Tool, asked *tool.Record, rows link.Rows, speak *wording.Speaker) {
	text, left := link.Written(t, asked)
	r.Link, r.Left = text, []string{}
	r.Handed.Seen = r.Link
	if t.Hand != nil {
		r.Handed = t.Hand(asked, speak)
		r.Line, r.Link = r.Handed.Line, r.Handed.Link
	}
	for _, path := range left {
		r.Left = append(r.Left, rows.Own(path))
	}
	r.Values = map[string]float64{}
	asked.Sliders(func(path string, value float64) { r.Values[rows.Own(path)] = value })
	asked.Echo(speak, func(path, text string) { r.Echo[rows.Own(path)] = text })
}

// withoutSpoilt asks again without the parts that have faults, until there is an answer or nothing left to drop. It
// returns the last outcome and the keys that were left out.
func withoutSpoilt(d link.Draft, o tool.Outcome, speak *wording.Speaker, detail tool.Detail) (tool.Outcome, []string) {
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
		o = d.Tool.Ask(d.Request(), speak.Mark(), speak, detail)
	}
	return o, left
}

// leftOut says what is missing from the answer.
func leftOut(d link.Draft, left []string, speak *wording.Speaker) *sheet.Element {
	names := make([]string, len(left))
	for i, prefix := range left {
		names[i] = nameIn(d, prefix, speak)
	}
	e := sheet.New("p class=left-out data-left-out=?", strings.Join(left, " "))
	return e.Say(speak.Say("sheet.left_out", speak.List(names...)))
}

// top returns the name of the request's field that a path begins with.
func top(path string) string {
	name, _, _ := strings.Cut(path, ".")
	return name
}

// named names each unnamed row by its number in the form, so that it keeps its number when rows before it are left out.
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

// isList reports whether a key is that of a list.
func isList(t *tool.Tool, key string) bool {
	f := t.Field(key)
	return f != nil && f.Shape == tool.List
}

// labelled is notes for a form, where what is missing is called by its label and not by its key.
func labelled(t *tool.Tool, faults []tool.Fault, speak *wording.Speaker) []Note {
	out := notes(faults)
	for i, f := range faults {
		d := t.Field(f.Field)
		if f.Code != tool.Missing || d == nil {
			continue
		}
		label := name(t, f.Field, speak)
		switch {
		case d.Shape == tool.List:
			out[i].Text = speak.Say("sheet.missing.list", label)
		case d.Shape == tool.Group:
			out[i].Text = speak.Say("sheet.missing.group", label)
		case f.Bare():
			out[i].Text = speak.Say("sheet.missing", t.Label(f.Field, speak), f.Hint)
		}
	}
	return out
}

// notes joins each fault's message and hint into one text.
func notes(faults []tool.Fault) []Note {
	out := make([]Note, len(faults))
	for i, f := range faults {
		out[i] = Note{f.Field, f.Code, strings.TrimSpace(f.Message + " " + f.Hint)}
	}
	return out
}

// grave returns the faults in fields whose faults replace the verdict.
func grave(t *tool.Tool, faults []tool.Fault) (graves []tool.Fault) {
	for _, f := range faults {
		if d := t.Field(top(f.Field)); d != nil && d.Grave {
			graves = append(graves, f)
		}
	}
	return graves
}

// pending returns the head for a request without an answer: what is still needed, or that something is wrong.
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
	return sheet.Verdict(sheet.MarkWaiting, "waiting", speak.Say(waiting), speak.Say("sheet.needs", speak.List(missing...)))
}

// name returns the label of a field, or the number of a row.
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

// nameIn returns the name of a part that was left out of a draft. A row that its list tells apart by a choice is named by that choice.
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

// rowNumber turns an index from 0 into a number from 1.
func rowNumber(index string) string {
	n, err := strconv.Atoi(index)
	if err != nil {
		return index
	}
	return strconv.Itoa(n + 1)
}
