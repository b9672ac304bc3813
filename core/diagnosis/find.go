package diagnosis

import (
	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/evidence"
)

// A Finding is what readings tell about a circuit.
type Finding struct {
	Faults  []Chance[circuit.Fault]  // likeliest first, sum 1
	Repairs []Chance[circuit.Repair] // the same by repair
	Next    []Next                   // tests not made yet, best first
	// Test means that another test pays, the first of Next. Otherwise Repair is the one with the least expected cost of being
	// wrong, which is Cost.
	Test    bool
	Repair  circuit.Repair
	RepairP float64
	Cost    float64
	// Alone means that the repair depends on one reading, that of On: without it the repair would be doubtful.
	Alone bool
	On    circuit.Test
	// Surprise is how unlikely it is, in bits, that readings are as far from the best single fault as these. Worst is the
	// reading without which the others fit best.
	Surprise float64
	Worst    circuit.Test
	// Held is the probability that the driver stays off although it is told to be on and is sound: a stored code keeps it off, or it
	// has tripped.
	Held float64
	// Plausible is how likely readings as far from a healthy circuit's are in one.
	Plausible float64
	// Coil is the resistance of the winding as the readings have it, in ohm.
	Coil float64
	// Warm means that the winding's temperature is known: it was typed, or a thermometer was put on the part.
	Warm     bool
	chances  [circuit.Faults]float64
	outcomes func(circuit.Test) []Outcome
	idle     []circuit.Test                     // tests on a driver that was probably not on, although it was told to be
	taken    []circuit.Reading                  // the readings that count
	setsOf   func(circuit.Fault) []circuit.Code // the kinds of code that a fault sets, as large as the readings have it
	pair     func() [2]circuit.Fault            // two faults that together explain what one alone does not
}

// Find returns the probabilities of the faults after the readings, and ranks the tests.
//
//	p(fault | readings) ∝ weight × ∫∫∫ p(readings | fault, parameter, winding, doubts) d(parameter) d(winding) d(doubts)
//
// Parameter and winding are divided into pieces, and what the driver does into cases; within each, the readings have a joint normal
// distribution, whose covariance holds the doubts that they share. Of several readings of one test the last counts. It
// ignores readings of tests that are not possible for the side and the return. Source: Bayes' rule; the model is common
// practice. Checked against an exact integration that uses nothing of this code (testdata/evaluate.py).
func Find(m *circuit.Model, readings []circuit.Reading) Finding {
	weighed := evidence.Weigh(m, readings)
	w := prospect{weighed, weighed.Model()}
	p := w.Chances()
	r := w.Repairs()
	f := Finding{Faults: ranked[circuit.Fault](p[:]), Repairs: ranked[circuit.Repair](r[:]), chances: p}
	f.Next, f.outcomes = w.next(p, readings)
	f.Cost, f.Repair = stop(m, &r)
	f.RepairP = r[f.Repair]
	f.Test = len(f.Next) > 0 && f.Next[0].Value > 0
	f.On, f.Alone = w.Alone(f.Repair, f.RepairP)
	f.Surprise = w.Surprise()
	f.Worst = w.Worst()
	f.Held = w.Held()
	f.idle = w.Idle(f.Held)
	f.Plausible = w.Plausible()
	f.Coil, f.Warm = w.Coil(), w.m.Warmth.Known
	f.taken = m.Latest(readings)
	f.setsOf = w.Sets
	f.pair = w.Pair
	return f
}

// Surprising reports whether the readings are too far from every single fault.
func (f *Finding) Surprising() bool { return f.Surprise >= doubt.Surprising }
