package tool

import (
	"cmp"
	"slices"
	"strings"
)

// How tells how a reading was taken, as it was typed. What does not apply is empty.
type How struct {
	What                 string // what was read, if the row says so, such as the test of the circuit; otherwise the field's key says it
	Name                 string // what the user calls it, where a list has several of the same
	Place, At            string // where, and the temperature of the winding
	Supply, Meter, Leads string // the leads are in what the meter shows, and were taken off
	// Numbered: the rows of the list are told apart by their numbers where they have no name. Beside: it may have been read elsewhere.
	Numbered, Beside bool
}

// A Taken is what someone read off a meter, as it was typed.
type Taken struct {
	How
	Value string
	Row   int  // in a list, so that there may be more of the same: number of the row, from 1; 0 for none
	Fact  bool // a fact of the job, or beside a reading: it may come from another tool
	Valid bool // false: it is being typed, or wrong
}

// Taken returns the readings that a request gives: of each field that has a [Field.Taken]. A reading is not valid if
// one of the faults is its own, or is in the row that it is in.
func (r *Record) Taken(faults []Fault) []Taken { return r.taken(r, "", 0, faults) }

// taken returns the readings of one of a request's objects, whose fields have keys below key.
func (r *Record) taken(top *Record, key string, row int, faults []Fault) (list []Taken) {
	for i, d := range r.fields {
		s, own := &r.slots[i], JoinPath(key, d.Name)
		switch {
		case !s.given:
		case s.group != nil:
			list = append(list, s.group.taken(top, own, row, faults)...)
		case d.Shape == List:
			for n, in := range s.rows {
				list = append(list, in.taken(top, own, n+1, faults)...)
			}
		case d.Taken != nil && strings.TrimSpace(s.text) != "":
			t := Taken{How: d.Taken(top, r, s.kind), Value: strings.TrimSpace(s.text), Row: row,
				Valid: s.ok && !faulty(faults, d.Path(r), row > 0, r.path)}
			t.What, t.Fact = cmp.Or(t.What, own), d.Fact != "" || t.Beside
			list = append(list, t)
		}
	}
	return list
}

// Steps calls tell with each step of the work that the request tells of: the field's name, and the choice.
func (r *Record) Steps(tell func(name, choice string)) {
	for i, d := range r.fields {
		if s := &r.slots[i]; d.Step && s.given && s.ok && s.text != d.Default {
			tell(d.Name, s.text)
		}
	}
}

// faulty reports whether one of the faults is of a field at path, of what it is in, or of anything in its row.
func faulty(faults []Fault, path string, row bool, rowPath string) bool {
	return slices.ContainsFunc(faults, func(f Fault) bool {
		above := f.Field == path || f.Field != "" && strings.HasPrefix(path, f.Field+".")
		return above || row && strings.HasPrefix(f.Field, rowPath+".")
	})
}

// Sound returns the text that was given, or the default; "" if it is wrong.
func (d *Field) Sound(r *Record) string {
	if s := r.slot(d); s.ok {
		return strings.TrimSpace(s.text)
	}
	return ""
}
