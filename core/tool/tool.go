// Package tool says what a tool is: the fields of its request, how a request is read by them, the way from the question to the
// answer, and how an answer is put together. Everything that faces a user is derived from a tool's declaration: the command line, the
// page's forms, the routes of the worker, links, schemas and help. It names no tool; those are in core/tools.
package tool

import (
	"reflect"

	"ohmwright/core/sheet"
	"ohmwright/core/wording"
)

// Contract is the version of the request contract, and of a link.
const Contract = 1

// MaxRequest is how many bytes a request may have, but for those of a tool that takes files: see [Tool.MaxBytes].
const MaxRequest = 64 << 10

// A Tool is one question that the core answers. [New] makes it.
type Tool struct {
	Name    string
	Fields  []*Field
	Words   []wording.Words // its own, in each language: see [Field] and [Way] for the keys
	Example string          // a request that answers, for help and for the page
	Before  []string        // codes of the cautions that stand before the first step
	Mind    string          // key of the title above those behind the answer; "" for sheet.cautions
	Most    int             // bytes of a request, where files need more than MaxRequest
	Slot    string          // the list in whose place on a narrow page the answer begins
	Keeps   []string        // fields that hold for a vehicle and not for one job: the page keeps them under its name

	way    way
	result reflect.Type
}

// A Way is how a tool answers: read, find, tell, lay. Each step knows less of the request than the one before it.
// Q is the question, F the finding, R the result as JSON has it.
type Way[Q, F, R any] struct {
	// Read makes the question of a record, and notes what is wrong between fields that are each right. It is called even
	// where some field is wrong, so that all faults are told at once; what it returns then is only drafted.
	Read func(*Record, *Faults) Q
	// Find answers the question, without words.
	Find func(Q) F
	// Refuse, which may be nil, notes what only the finding shows to be impossible in the request.
	Refuse func(Q, F, *Faults)
	// Tell says what was found: it returns the result, and adds warnings, cautions and the working.
	Tell func(Q, F, *Answer) R
	// Lay lays the answer out for a reader. It decides nothing.
	Lay func(Q, F, *Layout)
	// Draft, which may be nil, lays out what can be shown before there is an answer.
	Draft func(Q, *Layout)
}

// New completes a tool's declaration by its way, and reads the declared defaults.
func New[Q, F, R any](t Tool, w Way[Q, F, R]) *Tool {
	t.way, t.result = w, reflect.TypeFor[R]()
	rangeFields(t.Fields, (*Field).prepare)
	return &t
}

// way is a [Way] without its types.
type way interface {
	answer(r *Record, f *Faults, a *Answer) (o Outcome)
}

func (w Way[Q, F, R]) answer(r *Record, f *Faults, a *Answer) Outcome {
	q := w.Read(r, f)
	if len(f.list) == 0 {
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

// An Outcome is what became of a request: there is either an answer or faults.
type Outcome struct {
	Record *Record // nil only where the request is not of the right form at all
	Answer *Answer
	Faults []Fault

	draft func(*Layout)
}

// Draft lays out what can be shown of a request that is not answered yet.
func (o Outcome) Draft(t *Tool, speak *wording.Speaker) []*sheet.Element {
	if o.draft == nil {
		return nil
	}
	l := &Layout{Speak: speak.Within(t.Name), tool: t}
	o.draft(l)
	return l.Body
}

// MaxBytes is how many bytes a request of the tool may have.
func (t *Tool) MaxBytes() int { return max(MaxRequest, t.Most) }

// Speaker words things in the tool's own words first.
func (t *Tool) Speaker(speak *wording.Speaker) *wording.Speaker { return speak.Within(t.Name) }
