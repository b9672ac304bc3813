package lesson

import (
	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
)

// A Question is an exercise and how far the learner has come.
type Question struct {
	Model  *circuit.Model
	Seed   string
	Level  Level
	Asked  []circuit.Test  // the tests asked for, without repeats
	Answer *circuit.Repair // the repair that the learner chose; nil if none yet
}

// A Finding is what the learner sees.
type Finding struct {
	Code     circuit.Code
	Readings Readings
	Minutes  float64 // paid for all readings
	Overall  Verdict
	Marked   *Marked // nil before the answer
}

// A Paid is a reading that the learner asked for, and what it cost.
type Paid struct {
	circuit.Reading
	Minutes float64
	Healthy evidence.Expected
}

// Readings are those that were paid for, in order.
type Readings []Paid

// Of returns the reading of a test, if it was paid for.
func (list Readings) Of(t circuit.Test) (circuit.Reading, bool) {
	for _, p := range list {
		if p.Test == t {
			return p.Reading, true
		}
	}
	return circuit.Reading{}, false
}

// A Verdict says how an exercise stands.
type Verdict string

// The verdicts.
const (
	Unanswered Verdict = "hidden"
	Found      Verdict = "found"
	Missed     Verdict = "missed"
)

// A Marked compares the learner's way with the best known one.
type Marked struct {
	Fault     circuit.Fault // the hidden fault
	Own, Best Way
	Marks
}

// Find returns the readings asked for, and marks the answer if there is one.
func (q Question) Find() Finding {
	h := Hide(q.Model, q.Seed, q.Level)
	f := Finding{Code: h.Code, Overall: Unanswered}
	for _, t := range q.Asked {
		p := Paid{Reading: h.Reading(t), Minutes: q.Model.Minutes[t], Healthy: evidence.Expect(h.model, t)}
		f.Readings = append(f.Readings, p)
		f.Minutes += p.Minutes
	}
	if q.Answer == nil {
		return f
	}
	m := Marked{Fault: h.Fault, Own: h.Walk(q.Asked, *q.Answer), Best: h.Best()}
	m.Marks = h.Mark(q.Asked, *q.Answer, m.Best.Minutes)
	f.Marked, f.Overall = &m, Missed
	if m.Own.Right {
		f.Overall = Found
	}
	return f
}
