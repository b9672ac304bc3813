package lesson

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
)

// Marks are how a learner's way is marked.
type Marks struct {
	Right     bool
	Supported float64 // probability of the repair given the readings asked for, to a thousandth
	Minutes   float64 // paid
	Best      float64 // minutes of the best known way
	Most      float64 // minutes of every test that there is
	Marks     float64 // of 100, to a tenth
	Support   float64 // how far the readings support the repair: s below
	Late      float64 // what was asked for beyond the best way, as a share of all that there is beyond it
	Worth     float64 // what the repair is worth with that support, and what of it is kept, late as it is: shares of the marks
	Kept      float64
}

// What a way is worth. They are this project's choice, so that marks come in the order that a teacher would give: what is held against
// them is in core/worksheet (strategies).
const (
	unsupported = 1.0 / 3 // of the marks, for a right repair that the readings do not support
	misled      = 1.0 / 4 // of the marks, for a wrong repair that the readings do support
	undecided   = 0.50    // a repair no more likely than this counts as unsupported
	decided     = 0.95    // and one as likely as this as wholly supported
	slowest     = 0.45    // of the marks are lost where every test was made
)

// Mark marks tests and a repair. best is the minutes of the best known way.
//
//	marks = 100 × (right: 1/3 + 2/3 s; wrong: s/4) × (1 − 0.45 × (t − t_best)/(t_all − t_best))
//	s = (p − 0.50)/(0.95 − 0.50), from 0 to 1; 0 where no reading was asked for
//
// p is the probability of that repair given the readings, by the circuit question with the faults of the chain alone. A guess without a
// reading is worth a third at most, however likely it was. What is asked for beyond the best way costs, but never everything. The
// figures are rounded, so that all devices have the same.
func (h Hidden) Mark(tests []circuit.Test, repair circuit.Repair, best float64) Marks {
	own := h.Walk(tests, repair)
	m := Marks{Right: own.Right, Minutes: own.Minutes, Best: best, Supported: round(h.supported(own.Tests, repair), 1000)}
	for t := range circuit.Test(Tests) {
		if t.Possible(h.model.Side, h.model.Return) {
			m.Most += h.model.Minutes[t]
		}
	}
	if len(own.Tests) > 0 {
		m.Support = min(1, max(0, (m.Supported-undecided)/(decided-undecided)))
	}
	m.Worth = misled * m.Support
	if m.Right {
		m.Worth = unsupported + (1-unsupported)*m.Support
	}
	if m.Most > best {
		m.Late = min(1, max(0, (m.Minutes-best)/(m.Most-best)))
	}
	m.Kept = 1 - slowest*m.Late
	m.Marks = round(100*m.Worth*m.Kept, 10)
	return m
}

// supported returns the probability of a repair given the readings of some tests, by the circuit question.
func (h Hidden) supported(tests []circuit.Test, repair circuit.Repair) float64 {
	return h.chances(tests)[repair]
}

// tie is how near two probabilities, or a saving and 0 in the currency of the costs, may be to count as equal: then the first counts, and
// no test is worth making. It is far more than machines differ by in their last bits.
const tie = 1e-9

// Likeliest returns the repair that is likeliest given the readings of some tests, and its probability to a thousandth.
func (h Hidden) Likeliest(tests []circuit.Test) (repair circuit.Repair, p float64) {
	for r, chance := range h.chances(tests) {
		if chance > p+tie {
			repair, p = circuit.Repair(r), chance
		}
	}
	return repair, round(p, 1000)
}

func (h Hidden) chances(tests []circuit.Test) [circuit.Repairs]float64 {
	m := *h.model
	m.Code = h.Code
	readings := make([]circuit.Reading, len(tests))
	for i, t := range tests {
		readings[i] = h.Reading(t)
	}
	return evidence.Weigh(&m, readings).Repairs()
}

// round rounds to so many parts of one.
func round(v, parts float64) float64 { return math.Round(v*parts) / parts }
