package job

import (
	"slices"
	"strconv"
	"strings"
)

// The most bytes of texts, beyond which a document is damaged: none of the page's own is so long.
const (
	mostText = 64 << 10 // in a form, a fact, and a link
	mostSaid = 4 << 10  // in any other text of an entry
	mostNote = 400      // of a photograph
	mostName = 120      // of a file, a unit or a folded part
)

// MostLink is the most bytes of a link that an entry may have.
const MostLink = mostText

const mostForms = 60 // more than there are tools

// A taker takes an object's values one by one, and notes if one of them is not as it should be.
type taker struct {
	from  object
	taken int
	fault Fault
}

// take returns a value and whether it is there.
func (t *taker) take(name string) (any, bool) {
	v, ok := t.from[name]
	if ok {
		t.taken++
	}
	return v, ok
}

func (t *taker) fail(f Fault) {
	if t.fault == "" {
		t.fault = f
	}
}

// err returns what was noted; an object with more in it than was taken is damaged.
func (t *taker) err() error {
	if t.taken < len(t.from) {
		t.fail(Damaged)
	}
	if t.fault != "" {
		return t.fault
	}
	return nil
}

// text takes a text that is valid; "" if it is not there, which has to be valid too.
func (t *taker) text(name string, valid func(string) bool) string {
	v, there := t.take(name)
	s, ok := v.(string)
	if there && !ok || !valid(s) {
		t.fail(Damaged)
	}
	return s
}

// number takes a whole number from min on; 0 if it is not there.
func (t *taker) number(name string, min int) int {
	v, there := t.take(name)
	n, ok := whole(v)
	if there && (!ok || n < min) {
		t.fail(Damaged)
	}
	return n
}

func (t *taker) object(name string) object {
	v, there := t.take(name)
	o, ok := v.(object)
	if there && !ok {
		t.fail(Damaged)
	}
	return o
}

// list takes a list of at most so many values.
func (t *taker) list(name string, most int) list {
	v, there := t.take(name)
	l, ok := v.(list)
	if there && !ok {
		t.fail(Damaged)
	}
	if len(l) > most {
		t.fail(Large)
		return nil
	}
	return l
}

// texts takes an object of valid texts under well-formed keys.
func (t *taker) texts(name string, valid func(string) bool) map[string]string {
	o := t.object(name)
	out := make(map[string]string, len(o))
	for key, v := range o {
		s, ok := v.(string)
		if !ok || !IsKey(key) || !valid(s) {
			t.fail(Damaged)
		}
		out[key] = s
	}
	if len(out) > MostKeys {
		t.fail(Large)
	}
	return out
}

// rows takes an object of row counts.
func (t *taker) rows(name string) map[string]int {
	o := t.object(name)
	out := make(map[string]int, len(o))
	for key, v := range o {
		n, ok := whole(v)
		if !ok || !IsKey(key) || n < 0 || n > MostRows {
			t.fail(Damaged)
		}
		out[key] = n
	}
	if len(out) > MostKeys {
		t.fail(Large)
	}
	return out
}

func whole(v any) (int, bool) {
	text, ok := v.(number)
	if !ok {
		return 0, false
	}
	n, err := strconv.Atoi(string(text))
	return n, err == nil
}

func upTo(most int) func(string) bool { return func(s string) bool { return len(s) <= most } }

func (j *Job) read(top object) error {
	t := &taker{from: top, taken: 2} // ohmwright and v
	j.ID, j.Made, j.Changed = t.text("id", IsID), t.text("made", IsTime), t.text("changed", IsTime)
	if v, there := t.take("archived"); there {
		archived, ok := v.(bool)
		if !ok {
			t.fail(Damaged)
		}
		j.Archived = archived
	}
	facts := &taker{from: t.object("facts")}
	j.Facts = Facts{facts.texts("given", upTo(mostText)), facts.texts("units", upTo(mostName)), facts.rows("rows"),
		facts.texts("from", IsName)}
	forms := t.object("forms")
	entries, photos := t.list("entries", MostEntries), t.list("photos", MostPhotos)
	if err := t.err(); err != nil {
		return err
	}
	if err := facts.err(); err != nil {
		return err
	}
	if err := j.readForms(forms); err != nil {
		return err
	}
	if err := j.readEntries(entries); err != nil {
		return err
	}
	return j.readPhotos(photos)
}

func (j *Job) readForms(forms object) error {
	j.Forms = make(map[string]Form, len(forms))
	if len(forms) > mostForms {
		return Large
	}
	for name, v := range forms {
		o, ok := v.(object)
		if !ok || !IsName(name) {
			return Damaged
		}
		t := &taker{from: o}
		if t.number("v", 1) > Version {
			return Newer
		}
		f := Form{t.texts("given", upTo(mostText)), t.texts("units", upTo(mostName)), t.texts("names", upTo(mostName)), t.rows("rows"),
			[]string{}}
		for _, v := range t.list("open", MostOpen) {
			part, ok := v.(string)
			if !ok || len(part) > mostName {
				t.fail(Damaged)
			}
			f.Open = append(f.Open, part)
		}
		if err := t.err(); err != nil {
			return err
		}
		j.Forms[name] = f
	}
	return nil
}

// readEntries reads the entries in the order of their numbers, which run from 1 without gaps.
func (j *Job) readEntries(entries list) error {
	j.Entries = make([]Entry, len(entries))
	for _, v := range entries {
		o, ok := v.(object)
		if !ok {
			return Damaged
		}
		t := &taker{from: o}
		n := t.number("n", 1)
		e := Entry{Corrects: t.number("corrects", 1)}
		for _, text := range e.texts() {
			*text.text = t.text(text.name, e.valid(text.name))
		}
		if err := t.err(); err != nil {
			return err
		}
		if n < 1 || n > len(entries) || j.Entries[n-1].Kind != "" || !e.fits() {
			return Damaged
		}
		j.Entries[n-1] = e
	}
	return nil
}

// Valid reports whether the document may hold an entry, apart from what it corrects.
func (e Entry) Valid() bool {
	for _, text := range e.texts() {
		if !e.valid(text.name)(*text.text) {
			return false
		}
	}
	return e.fits()
}

// valid returns what a text of an entry has to be.
func (*Entry) valid(name string) func(string) bool {
	switch name {
	case "kind":
		return func(s string) bool { return slices.Contains([]Kind{Reading, Answer, Step, Withdrawn}, Kind(s)) }
	case "tool":
		return func(s string) bool { return s == "" || IsName(s) }
	case "what", "place", "verdict":
		return func(s string) bool { return s == "" || IsKey(s) }
	case "link":
		return func(s string) bool { return s == "" || strings.HasPrefix(s, "#/") && len(s) <= mostText }
	case "when":
		return IsTime
	}
	return upTo(mostSaid)
}

// fits reports whether an entry has what its kind needs, and nothing that is another kind's.
func (e *Entry) fits() bool {
	reads := e.Name + e.Value + e.Place + e.At + e.Supply + e.Meter
	switch e.Kind {
	case Reading:
		return e.Tool != "" && e.What != "" && e.Value != "" && e.Verdict+e.Said+e.Link == ""
	case Answer:
		return e.Tool != "" && e.Verdict != "" && e.What+reads == ""
	case Step:
		return e.What != "" && e.Verdict+reads == ""
	}
	return e.Corrects > 0 && e.Tool+e.What+e.Verdict+e.Said+e.Link+reads == ""
}

func (j *Job) readPhotos(photos list) error {
	j.Photos = make([]Photo, len(photos))
	seen := map[string]bool{}
	for i, v := range photos {
		o, ok := v.(object)
		if !ok {
			return Damaged
		}
		t := &taker{from: o}
		p := Photo{t.text("id", isPhotoID), t.text("when", IsTime), t.text("note", upTo(mostNote)), t.text("type", isPicture),
			t.text("data", isBase64)}
		if err := t.err(); err != nil {
			return err
		}
		if seen[p.ID] {
			return Damaged
		}
		seen[p.ID] = true
		j.Photos[i] = p
	}
	return nil
}
