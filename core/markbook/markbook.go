package markbook

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	tools "ohmwright/core/tools/worksheet"
	"ohmwright/core/wording"
	"ohmwright/core/worksheet"
)

// A Sheet is the teacher's own sheet, from which everything is marked.
type Sheet struct {
	given map[string]string // what decides what it gives and how it is marked, by flat key as a link writes it
	draft link.Draft
}

// ErrSheet is returned for a text that holds no sheet that can be set out.
var ErrSheet = errors.New("markbook: no sheet")

// Open reads the teacher's sheet from a text that holds its link: the class's, or one that a student handed in. The faults say what is
// wrong with it.
func Open(text string, speak *wording.Speaker) (s Sheet, faults []tool.Fault, err error) {
	links := Links(text)
	if len(links) == 0 {
		return s, nil, ErrSheet
	}
	draft, faults := link.Read(links[0], speak)
	if draft.Tool == nil {
		return s, faults, ErrSheet
	}
	s.draft = draft
	s.given, faults = settings(draft, speak)
	if len(faults) > 0 {
		return s, faults, ErrSheet
	}
	return s, nil, nil
}

// settings returns what a link says of the sheet, as the tool writes it again: the same sheet is the same map, however it was typed.
func settings(d link.Draft, speak *wording.Speaker) (map[string]string, []tool.Fault) {
	only := link.Draft{Tool: d.Tool, Given: map[string]string{}}
	for key, text := range d.Given {
		if tools.Setting(key) {
			only.Given[key] = text
		}
	}
	only.Given["role"] = string(tools.Student)
	o := d.Tool.Ask(only.Request(), quantity.Point, speak, tool.Brief)
	if o.Answer == nil {
		return nil, o.Faults
	}
	given := map[string]string{}
	for _, p := range o.Record.Pairs() {
		if p.Key != "role" {
			given[p.Key] = p.Value
		}
	}
	return given, nil
}

// A Note is something about a row that the teacher should know.
type Note string

// The notes.
const (
	Changed   Note = "changed"   // it was worked on another sheet: marked as if on this one, but for the way of drawing
	Edited    Note = "edited"    // the link is not as it was handed in
	Unsummed  Note = "unsummed"  // it has no sum, or not all of it, so that nobody knows whether it is whole
	Again     Note = "again"     // the same hand-in was there before
	Second    Note = "second"    // another one by the same student was there before
	Late      Note = "late"      // handed in after the time
	Untimed   Note = "untimed"   // the sheet has a time, and the hand-in none
	Undecided Note = "undecided" // a question is not decided
	Refused   Note = "refused"   // it cannot be read, or does not fit this sheet
	Nameless  Note = "nameless"  // nobody's
)

// A Row is one hand-in, marked.
type Row struct {
	tools.Report
	Notes   []Note
	Changes []string // what of the sheet is another, by its fields' keys
	Why     string   // why it was refused
}

// Has reports whether a row has a note.
func (r Row) Has(n Note) bool { return slices.Contains(r.Notes, n) }

// Mark marks every hand-in that a text holds, in the order of the text, and counts the links that could not be read. Links to a sheet that
// nobody has put a name or work to are passed over: the sheet itself may stand in the same chat.
func (s Sheet) Mark(text string, speak *wording.Speaker) (rows []Row, unread int) {
	m := s.Begin(text, speak)
	m.Next(len(m.links))
	return m.Rows, m.Unread
}

// A Marking is a text in which some hand-ins are marked and others not yet: a page marks a few at a time, so that it stays at hand.
type Marking struct {
	Rows   []Row
	Unread int // links that look like one of a sheet, and cannot be read
	sheet  Sheet
	links  []found
	at     int               // links that were looked at
	first  map[string]string // the link of each name's first hand-in
	speak  *wording.Speaker
}

// Begin finds the hand-ins that a text holds.
func (s Sheet) Begin(text string, speak *wording.Speaker) *Marking {
	links, lost := search(text)
	return &Marking{Rows: []Row{}, Unread: lost, sheet: s, links: links, first: map[string]string{}, speak: s.draft.Tool.Speaker(speak)}
}

// Next marks the next few.
func (m *Marking) Next(few int) {
	for ; few > 0 && m.at < len(m.links); few-- {
		l, lost := m.links[m.at].link, m.links[m.at].lost
		m.at++
		draft, faults := link.Read(l, m.speak)
		if draft.Tool == nil || !handed(draft) {
			if lost == 0 && unreadable(l, draft, faults, m.speak) {
				lost = 1 // else the pieces are its own
			}
			m.Unread += lost
			continue
		}
		m.Unread += lost
		if cut := cutKey(l); cut != "" {
			draft = m.sheet.without(cut, draft, m.speak)
		}
		r := m.sheet.row(draft, faults, m.speak)
		r.note(l, m.first)
		m.Rows = append(m.Rows, r)
	}
}

// Left returns how many links of how many are still to be looked at.
func (m *Marking) Left() (left, of int) { return len(m.links) - m.at, len(m.links) }

// handed reports whether a link has anything of a student's.
func handed(d link.Draft) bool {
	for key := range d.Given {
		if tools.Own(key) {
			return true
		}
	}
	return false
}

// unreadable reports whether a link that has nothing of a student's is no sheet's either: a hand-in of which too much is gone.
func unreadable(l string, d link.Draft, faults []tool.Fault, speak *wording.Speaker) bool {
	if len(l) == len(start) { // somebody writes of links
		return false
	}
	if d.Tool == nil || len(faults) > 0 {
		return true
	}
	_, faults = settings(d, speak)
	return len(faults) > 0
}

// cutKey returns the key of the last value of a link that has no end: it may be cut short; "" if the link has one.
func cutKey(l string) string {
	if _, sum, summed := cutLast(l, tools.SumKey); summed && sum != "" {
		return ""
	}
	last := l[strings.LastIndexByte(l, '&')+1:]
	key, _, _ := strings.Cut(last, "=")
	return key
}

// without returns a draft without a value that was cut short, if it cannot be read as it is.
func (s Sheet) without(cut string, d link.Draft, speak *wording.Speaker) link.Draft {
	if !tools.Own(cut) || d.Given[cut] != "" && s.ask(d, speak).Answer != nil {
		return d
	}
	less, _ := d.Without(cut)
	return less
}

// ask asks the tool for a student's work on the teacher's sheet, drawn as it was for that work.
func (s Sheet) ask(d link.Draft, speak *wording.Speaker) tool.Outcome {
	own := link.Draft{Tool: d.Tool, Given: maps.Clone(s.given)}
	for key, text := range d.Given {
		if tools.Own(key) || key == tools.Drawn {
			own.Given[key] = text
		}
	}
	own.Given["role"] = string(tools.Student)
	return d.Tool.Ask(own.Request(), quantity.Point, speak, tool.Brief)
}

// row marks one hand-in from the teacher's sheet.
func (s Sheet) row(d link.Draft, faults []tool.Fault, speak *wording.Speaker) (r Row) {
	r.Changes = s.changes(d, speak)
	o, ok := s.ask(d, speak), false
	if r.Report, ok = tools.ReportOf(o); ok {
		return r
	}
	r.Name = strings.TrimSpace(d.Given["name"])
	switch {
	case worksheet.Plain(r.Name) == "":
		r.Notes = append(r.Notes, Nameless)
	case len(o.Faults) > 0:
		r.Notes, r.Why = append(r.Notes, Refused), o.Faults[0].Message
	case len(faults) > 0:
		r.Notes, r.Why = append(r.Notes, Refused), faults[0].Message
	}
	return r
}

// changes names what of the sheet is another in a hand-in.
func (s Sheet) changes(d link.Draft, speak *wording.Speaker) (keys []string) {
	own := map[string]string{}
	for key, text := range d.Given {
		if tools.Setting(key) {
			own[key] = text
		}
	}
	if maps.Equal(own, s.given) {
		return nil
	}
	if written, faults := settings(d, speak); faults == nil {
		own = written
	}
	for key, text := range own {
		if s.given[key] != text {
			keys = append(keys, topOf(key))
		}
	}
	for key := range s.given {
		if _, both := own[key]; !both {
			keys = append(keys, topOf(key))
		}
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

func topOf(key string) string {
	top, _, _ := strings.Cut(key, ".")
	return top
}

// note adds the notes of a row; first has the links of those before it.
func (r *Row) note(l string, first map[string]string) {
	add := func(is bool, n Note) {
		if is {
			r.Notes = append(r.Notes, n)
		}
	}
	add(len(r.Changes) > 0, Changed)
	body, sum, summed := cutLast(l, tools.SumKey) // a sum that is cut off is the beginning of the right one
	right := tools.SumOf(body)
	add(summed && sum != right[:min(len(sum), len(right))], Edited)
	add(len(sum) < len(right), Unsummed)
	if r.Has(Refused) || r.Has(Nameless) {
		return
	}
	name := worksheet.Plain(r.Name)
	before, known := first[name]
	add(known && before == body, Again)
	add(known && before != body, Second)
	if !known {
		first[name] = body
	}
	add(r.Due != "" && r.Handed > r.Due, Late)
	add(r.Due != "" && r.Handed == "", Untimed)
	add(r.Undecided > 0, Undecided)
}

// cutLast cuts a text at the last of a separator.
func cutLast(s, sep string) (before, after string, found bool) {
	i := strings.LastIndex(s, sep)
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+len(sep):], true
}
