package job

import (
	"maps"
	"slices"
	"strconv"

	"ohmwright/core/jsontext"
)

// Write writes a job in its one form: every key in a fixed order, names in ascending order, nothing between them. Reading it gives the
// same job again.
func Write(j *Job) string {
	w := &writer{}
	w.raw(`{"ohmwright":"job","v":` + strconv.Itoa(Version))
	w.text("id", j.ID)
	w.text("made", j.Made)
	w.text("changed", j.Changed)
	w.raw(`,"archived":` + strconv.FormatBool(j.Archived))
	w.raw(`,"facts":{"given":`)
	w.texts(j.Facts.Given)
	w.raw(`,"units":`)
	w.texts(j.Facts.Units)
	w.raw(`,"rows":`)
	w.counts(j.Facts.Rows)
	w.raw(`,"from":`)
	w.texts(j.Facts.From)
	w.raw(`},"forms":{`)
	for i, name := range slices.Sorted(maps.Keys(j.Forms)) {
		w.comma(i)
		w.quote(name)
		w.raw(":")
		w.form(j.Forms[name])
	}
	w.raw(`},"entries":`)
	w.b = AppendEntries(w.b, j.Entries, 1)
	w.raw(`,"photos":[`)
	for i, p := range j.Photos {
		w.comma(i)
		w.raw(`{"id":`)
		w.quote(p.ID)
		w.text("when", p.When)
		w.text("note", p.Note)
		w.text("type", p.Type)
		w.text("data", p.Data)
		w.raw("}")
	}
	w.raw("]}")
	return string(w.b)
}

// AppendEntries appends entries as the document has them, numbered from first.
func AppendEntries(b []byte, entries []Entry, first int) []byte {
	w := &writer{b}
	w.raw("[")
	for i, e := range entries {
		w.comma(i)
		w.raw(`{"n":` + strconv.Itoa(first+i))
		w.entry(e)
		w.raw("}")
	}
	w.raw("]")
	return w.b
}

// texts returns an entry's texts with their names in the document, in the order in which they are written. Kind and who are always
// there, the others where they are not empty.
func (e *Entry) texts() []named {
	return []named{
		{"kind", (*string)(&e.Kind)}, {"tool", &e.Tool}, {"what", &e.What}, {"name", &e.Name}, {"value", &e.Value}, {"place", &e.Place},
		{"at", &e.At}, {"supply", &e.Supply}, {"meter", &e.Meter}, {"verdict", &e.Verdict}, {"said", &e.Said}, {"link", &e.Link},
		{"when", &e.When}, {"who", &e.Who},
	}
}

// A named is a text of an entry, under its name.
type named struct {
	name string
	text *string
}

type writer struct{ b []byte }

func (w *writer) raw(s string) { w.b = append(w.b, s...) }

func (w *writer) comma(i int) {
	if i > 0 {
		w.raw(",")
	}
}

// text writes a comma, a name and its text.
func (w *writer) text(name, text string) {
	w.raw(`,"` + name + `":`)
	w.quote(text)
}

func (w *writer) entry(e Entry) {
	for _, t := range e.texts() {
		if *t.text != "" || t.name == "who" {
			w.text(t.name, *t.text)
		}
	}
	if e.Corrects > 0 {
		w.raw(`,"corrects":` + strconv.Itoa(e.Corrects))
	}
}

func (w *writer) form(f Form) {
	w.raw(`{"v":1,"given":`)
	w.texts(f.Given)
	w.raw(`,"units":`)
	w.texts(f.Units)
	w.raw(`,"names":`)
	w.texts(f.Names)
	w.raw(`,"rows":`)
	w.counts(f.Rows)
	w.raw(`,"open":[`)
	for i, name := range f.Open {
		w.comma(i)
		w.quote(name)
	}
	w.raw("]}")
}

func (w *writer) texts(m map[string]string) {
	w.raw("{")
	for i, name := range slices.Sorted(maps.Keys(m)) {
		w.comma(i)
		w.quote(name)
		w.raw(":")
		w.quote(m[name])
	}
	w.raw("}")
}

func (w *writer) counts(m map[string]int) {
	w.raw("{")
	for i, name := range slices.Sorted(maps.Keys(m)) {
		w.comma(i)
		w.quote(name)
		w.raw(":" + strconv.Itoa(m[name]))
	}
	w.raw("}")
}

// quote writes a text with as few escapes as JSON allows, so that a document that is read and written never grows by them. Bytes that
// are no UTF-8 become U+FFFD.
func (w *writer) quote(s string) { w.b = jsontext.Append(w.b, s) }
