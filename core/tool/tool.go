// Package tool says what a tool is: the fields of its request, how a request is read, how its question is answered, and
// how the answer is put together. Everything that a user meets is derived from a tool's declaration: the command line, the
// page's forms, the worker's routes, links, schemas and help. The tools themselves are in core/tools; this package names
// none of them.
package tool

import (
	"sync"

	"ohmwright/core/jsontext"
	"ohmwright/core/sheet"
	"ohmwright/core/wording"
)

// Contract is the version of the request contract, and of links.
const Contract = 1

// MaxRequest is the most bytes that a request may have. A tool that takes files may allow more: see [Tool.MaxBytes].
const MaxRequest = 64 << 10

// A Tool is one question that the core can answer. Make one with [New].
type Tool struct {
	Name    string
	Fields  []*Field
	Example string   // a request that gets an answer, for help and the page
	Before  []string // codes of the cautions to read before the first step
	Mind    string   // key of the title above the cautions after the answer; "" for sheet.cautions
	Most    int      // most bytes of a request, if files need more than MaxRequest
	Slot    string   // name of the list in whose place the answer begins on a narrow page
	Keeps   []string // fields that belong to a vehicle rather than to one job: the page keeps them under the vehicle's name
	Jobless bool     // takes part in no job
	Works   bool     // its answer says how far a work has come: a job's record has the latest, whatever the verdict
	// Hand says what a reader hands on, where that is not the link of the whole request. It may be nil.
	Hand   func(*Record, *wording.Speaker) Handed
	Marks  bool   // what others hand in on it is marked, from a text that is pasted
	About  string // name of the Text that says which of several alike a request is about
	Record bool   // its held lists are filled from the record of the job that is open

	way     way
	result  jsontext.Object // a nil pointer, to be described
	prepare func()          // reads the declared defaults, once
}

// Handed is what a reader hands on, and what the request is.
type Handed struct {
	Link, Line string // what is handed on, and the line before it that says what it is
	Of         string // the link of what was handed out, if the request is work on that: who opens it again goes on
	Whose      string // whose work that is: two names of one person give the same
	Begun      bool   // that person has done something
	Kept       string // what the request is called where it is kept for later; "" if it is not worth it
	Seen       string // the link for the address bar: it brings back the same view
}

// A Way is how a tool answers: read, find, tell, lay. Each step knows less of the request than the one before it. Q is the
// question, F the finding, R the result in JSON: a pointer to a struct with json tags, whose method Members is written by cmd/members.
type Way[Q, F any, R jsontext.Object] struct {
	// Read makes the question from a record, and notes faults between fields that are correct by themselves. It is called
	// even if a field is wrong, so that all faults are told at once; its question then serves only for Draft.
	Read func(*Record, *Faults) Q
	// Haste returns the question without what takes long and may come a moment later. It may be nil.
	Haste func(Q) Q
	// Find answers the question. It words nothing.
	Find func(Q) F
	// Refuse notes faults of the request that only show in the finding. It may be nil.
	Refuse func(Q, F, *Faults)
	// Tell returns the result, and adds warnings, cautions and the working to the answer.
	Tell func(Q, F, *Answer) R
	// Lay lays the answer out for a reader. It decides nothing.
	Lay func(Q, F, *Layout)
	// Draft lays out what can be shown before there is an answer. It may be nil.
	Draft func(Q, *Layout)
}

// New returns a tool with its declaration and its way. The declared defaults are read when the tool is first asked: a page asks one tool
// before its first answer.
func New[Q, F any, R jsontext.Object](t Tool, w Way[Q, F, R]) *Tool {
	var none R
	t.way, t.result = w, none
	t.prepare = sync.OnceFunc(func() { rangeFields(t.Fields, (*Field).prepare) })
	return &t
}

// way is a [Way] without its type parameters.
type way interface {
	answer(r *Record, f *Faults, a *Answer) (o Outcome)
}

func (w Way[Q, F, R]) answer(r *Record, f *Faults, a *Answer) Outcome {
	q := w.Read(r, f)
	if len(f.list) == 0 {
		if w.Haste != nil && a.Hasty {
			q = w.Haste(q)
		}
		found := w.Find(q)
		if w.Refuse != nil {
			w.Refuse(q, found, f)
		}
		if len(f.list) == 0 {
			a.Result = w.Tell(q, found, a)
			a.lay = func(l *Layout) { w.Lay(q, found, l) }
			return Outcome{Record: r, Answer: a}
		}
	}
	o := Outcome{Record: r, Faults: f.list}
	if w.Draft != nil {
		o.draft = func(l *Layout) { w.Draft(q, l) }
	}
	return o
}

// An Outcome is what a request led to: an answer or faults.
type Outcome struct {
	Record *Record // nil only if the request is not even an object
	Answer *Answer
	Faults []Fault

	draft func(*Layout)
}

// Draft lays out what can be shown of a request that has no answer yet. Its head is nil where nothing is said yet.
func (o Outcome) Draft(t *Tool, speak *wording.Speaker) (head *sheet.Element, body []*sheet.Element) {
	if o.draft == nil {
		return nil, nil
	}
	l := &Layout{Speak: speak.Within(t.Name), tool: t}
	o.draft(l)
	return l.Head, l.Body
}

// MaxBytes returns the most bytes that a request of this tool may have.
func (t *Tool) MaxBytes() int { return max(MaxRequest, t.Most) }

// Speaker returns a speaker that looks for words in the tool's own catalogue first.
func (t *Tool) Speaker(speak *wording.Speaker) *wording.Speaker { return speak.Within(t.Name) }
