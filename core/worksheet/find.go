package worksheet

import (
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
)

// A Decision is what a student decided on one question: on a hidden fault a repair, after so many of the readings asked for; on any other
// an answer.
type Decision struct {
	Question int // its index on the sheet
	After    int
	Repair   *circuit.Repair // nil if none was named
	Answer
}

// Work is what a student has done on a sheet. Of each question the first decision is the one that is marked.
type Work struct {
	Asked     []circuit.Test // of the hidden fault, in order, without repeats; a sheet hides one at most
	Decisions []Decision
}

// A Finding is how a student's work on a sheet stands.
type Finding struct {
	Questions []Worked
	Undecided int     // number of questions without a decision
	Marks     float64 // the mean over all questions of what the first decisions earn, to a tenth
}

// A Worked is one question, what it gives the student, and what was decided on it.
type Worked struct {
	Question
	Hidden   *Hidden // if it hides a fault
	Task     *Task   // if it does not
	Readings lesson.Readings
	Minutes  float64
	First    *Decided // the decision that is marked; nil if there is none yet
	Later    []Decided
}

// A Decided is a decision, marked.
type Decided struct {
	Decision
	Fault *lesson.Marks // if it is on a hidden fault
	Task  *Marked       // if it is not
	Marks float64
}

// Right reports whether a decision is right: the repair, or value, unit and decision.
func (d Decided) Right() bool {
	if d.Fault != nil {
		return d.Fault.Right
	}
	return d.Task.Value.Right && d.Task.Unit.Right && d.Task.Decision.Right
}

// Find returns how a student's work stands.
func (s Sheet) Find(name string, w Work) Finding {
	f := Finding{}
	for i, q := range s.Questions {
		one := Worked{Question: q}
		if q.Kind.Hides() {
			h := s.Hidden(i, name)
			one.Hidden = &h
			one.pay(w.Asked)
		} else {
			t := s.Task(i, name)
			one.Task = &t
		}
		for _, d := range w.Decisions {
			if d.Question == i {
				one.decide(s, d, w.Asked)
			}
		}
		if one.First == nil {
			f.Undecided++
		} else {
			f.Marks += one.First.Marks / float64(len(s.Questions))
		}
		f.Questions = append(f.Questions, one)
	}
	f.Marks = round(f.Marks, 10)
	return f
}

// pay adds the readings that were asked for. What a sound circuit would read takes longer, and is worked out where it is told.
func (w *Worked) pay(asked []circuit.Test) {
	for _, t := range asked {
		p := lesson.Paid{Reading: w.Hidden.Reading(t), Minutes: w.Hidden.Model.Minutes[t]}
		w.Readings = append(w.Readings, p)
		w.Minutes += p.Minutes
	}
}

// decide adds a decision, marked.
func (w *Worked) decide(s Sheet, d Decision, asked []circuit.Test) {
	one := Decided{Decision: d}
	if w.Hidden != nil {
		m := lesson.Marks{}
		if d.Repair != nil {
			m = w.Hidden.Mark(asked[:min(d.After, len(asked))], *d.Repair, w.Hidden.Best())
		}
		one.Fault, one.Marks = &m, m.Marks
	} else {
		m := w.Task.Mark(d.Answer, s.Tolerance)
		one.Task, one.Marks = &m, m.Marks
	}
	if w.First == nil {
		w.First = &one
	} else {
		w.Later = append(w.Later, one)
	}
}

// HidesOne returns the index of the question that hides a fault, or -1; ok is false if there are several.
func (s Sheet) HidesOne() (at int, ok bool) {
	at = slices.IndexFunc(s.Questions, func(q Question) bool { return q.Kind.Hides() })
	again := 0
	for _, q := range s.Questions {
		if q.Kind.Hides() {
			again++
		}
	}
	return at, again < 2
}

// Circuit returns the circuit that a question hides a fault in.
func (q Question) Circuit() *circuit.Model { return q.setting(Drawing).model() }
