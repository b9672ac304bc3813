package page

import (
	"strconv"

	"ohmwright/core/jsontext"
	"ohmwright/core/sheet"
)

// Held is what a page has of a form: the last reply to it, by its number. Zero is a page that has none.
type Held struct {
	number  int
	head    *sheet.Element
	body    []*sheet.Element
	members []string // what else the reply had, as JSON
}

// Next returns the JSON of a reply for a page that has the reply of a number; 0 is none. What is as it was in that one is left out:
// members of the reply, and in its trees what [sheet.Element.Compare] finds. If the page has another reply than the last one,
// nothing is left out. The JSON has the number of its own reply.
func (h *Held) Next(r Reply, number int) []byte {
	was := &Held{}
	if number == h.number {
		was = h
	}
	next := &Held{number: h.number + 1, head: r.Head, body: r.Body}
	b := strconv.AppendInt([]byte(`{"number":`), int64(next.number), 10)
	b = append(r.appendSince(b, was, next), '}')
	*h = *next
	return b
}

// A writer writes the members of a reply's JSON, each behind a comma, that are not as they were, and notes in next how they are now.
type writer struct {
	b         []byte
	was, next *Held
	from, at  int // where the member begins, and its value
}

func (w *writer) begin(name string) {
	w.from = len(w.b)
	w.b = append(jsontext.Append(append(w.b, ','), name), ':')
	w.at = len(w.b)
}

func (w *writer) end() {
	n, now := len(w.next.members), string(w.b[w.at:])
	w.next.members = append(w.next.members, now)
	if n < len(w.was.members) && w.was.members[n] == now {
		w.b = w.b[:w.from]
	}
}

func (w *writer) text(name, text string) {
	w.begin(name)
	w.b = jsontext.Append(w.b, text)
	w.end()
}

func (w *writer) truth(name string, is bool) {
	w.begin(name)
	w.b = strconv.AppendBool(w.b, is)
	w.end()
}

// appendSince appends the members of a reply's JSON that are not as they were, and notes in next how they are now.
func (r *Reply) appendSince(b []byte, was, next *Held) []byte {
	if was.head == nil || !r.Head.Compare(was.head) {
		b = r.Head.AppendJSON(append(b, `,"head":`...))
	}
	w := writer{b: appendTrees(b, r.Body, was), was: was, next: next}
	w.truth("answered", r.Answered)
	w.begin("notes")
	w.b = appendNotes(w.b, r.Notes)
	w.end()
	w.begin("echo")
	w.b = jsontext.AppendMap(w.b, r.Echo)
	w.end()
	w.text("link", r.Link)
	w.text("line", r.Line)
	w.text("of", r.Handed.Of)
	w.text("whose", r.Handed.Whose)
	w.truth("begun", r.Handed.Begun)
	w.text("kept", r.Handed.Kept)
	w.text("seen", r.Handed.Seen)
	w.begin("left")
	w.b = jsontext.AppendList(w.b, r.Left)
	w.end()
	w.begin("values")
	w.b = r.appendValues(w.b)
	w.end()
	return w.b
}

// appendTrees appends the body, unless all of it is as it was.
func appendTrees(b []byte, trees []*sheet.Element, was *Held) []byte {
	same := was.head != nil && len(trees) == len(was.body)
	for i := range min(len(trees), len(was.body)) {
		kept := trees[i].Compare(was.body[i])
		same = same && kept
	}
	if same {
		return b
	}
	b = append(b, `,"body":[`...)
	for i, tree := range trees {
		if i > 0 {
			b = append(b, ',')
		}
		b = tree.AppendJSON(b)
	}
	return append(b, ']')
}
