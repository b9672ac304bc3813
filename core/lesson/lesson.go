// Package lesson hides a fault in a circuit for a learner to find, gives the readings that the learner asks for, and compares the
// learner's tests and repair with those that the circuit question would have chosen.
//
// The fault and every reading follow from a seed, so that a link gives everyone the same exercise, and a test always shows the
// same reading.
package lesson

import (
	"hash/fnv"
	"math"
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/diagnosis"
	"ohmwright/core/evidence"
	"ohmwright/core/portable"
	"ohmwright/core/selfcheck"
	"ohmwright/core/winding"
)

// An exercise has the first faults, tests and repairs of the circuit's tables: the chain's own. They are counts. What a seed hides
// must not change when the tables grow.
const (
	Faults  = int(circuit.DriverWeak) + 1
	Tests   = int(circuit.VoltsLoad) + 1
	Repairs = int(circuit.ControlUnit) + 1
)

// exact returns the model of an exercise: only faults of the chain, and no doubt about anything that is typed or nominal.
func exact(m *circuit.Model) *circuit.Model {
	c := *m
	c.SupplyWithin, c.Warmth.Known, c.Warmth.Within, c.Spans = 0, true, 0, circuit.Spans{}
	c.InnerApart, c.Stage, c.Present = false, circuit.Plain, circuit.MayShow
	clear(c.Weights[Faults:])
	return &c
}

// A Hidden is a hidden fault, with its parameter and the healthy winding's resistance.
type Hidden struct {
	Fault circuit.Fault
	X     float64
	Coil  float64 // ohm, at its temperature
	Code  circuit.Code
	model *circuit.Model
	seed  string
	// off is how far each reading is from its prediction, in standard deviations; nil if that is drawn by the seed.
	off *[Tests]float64
}

// Put returns a fault that is known, as if it had been hidden: with its parameter, the winding, the code that is stored, and how far each
// reading is from its prediction, in standard deviations.
func Put(m *circuit.Model, f circuit.Fault, x, coil float64, code circuit.Code, off [Tests]float64) Hidden {
	return Hidden{Fault: f, X: x, Coil: coil, Code: code, model: exact(m), off: &off}
}

// A Level says which faults are hidden.
type Level int

// The levels: what is broken through, or does nothing; any fault of the chain; and what only leaks, or has some ohms too many or too few.
const (
	Broken Level = 1 + iota
	Any
	Partly
	Levels = int(Partly)
)

func (l Level) String() string { return string('0' + rune(l)) }

// ofLevel are the faults of the levels that have not all; nothing at fault is possible on each.
var ofLevel = [...][]circuit.Fault{
	Broken: {circuit.None, circuit.WindingOpen, circuit.LeadOpen, circuit.HarnessOpen, circuit.PathOpen, circuit.DriverNever,
		circuit.DriverAlways},
	Partly: {circuit.None, circuit.WindingShorted, circuit.WindingHigh, circuit.WindingToCase, circuit.LeadHigh, circuit.LeadToGround,
		circuit.HarnessHigh, circuit.HarnessToGround, circuit.HarnessToBattery, circuit.PathHigh, circuit.DriverWeak},
}

// weights returns the weights of the faults of a level; all of them where the model gives none of these any.
func (l Level) weights(m *circuit.Model) (only [circuit.Faults]float64) {
	sum := 0.0
	if l != Any {
		for _, f := range ofLevel[l] {
			only[f] = m.Weights[f]
			sum += only[f]
		}
	}
	if sum == 0 {
		return m.Weights
	}
	return only
}

// Hide draws a fault of the chain by the weights of the model, of those of a level, its parameter by its distribution, a winding anywhere
// in its specification, and a code that the control unit would store, if any of its checks sees the fault. Everything else is as nominal.
func Hide(m *circuit.Model, seed string, level Level) Hidden {
	m = exact(m)
	h := Hidden{model: m, seed: seed}
	d := Drawn(seed, "fault")
	of := *m
	of.Weights = level.weights(m)
	at := d.next() * of.WeightSum()
	for f, w := range of.Weights {
		if w > 0 {
			h.Fault = circuit.Fault(f)
		}
		if at -= w; at < 0 {
			break
		}
	}
	warmer := winding.Copper.Factor(m.Row.At, m.Warmth.At)
	least, most := m.Row.Min*warmer, m.Row.Max*warmer
	h.Coil = least + (most-least)*d.next()
	if _, _, _, ok := h.Fault.Limits(); ok { // a fault without a parameter draws no number
		h.X = m.Parameter(h.Fault, d.next())
	}
	if codes := selfcheck.Sets(m, h.Fault, h.X, h.Coil); len(codes) > 0 {
		h.Code = codes[int(d.next()*float64(len(codes)))]
	}
	return h
}

// Reading returns what a test shows: the prediction with the errors of meter and contacts, rounded as the display does.
func (h Hidden) Reading(t circuit.Test) circuit.Reading {
	value := h.unrounded(t)
	if math.IsInf(value, 0) {
		return circuit.Reading{Test: t, Over: true}
	}
	if step := h.model.Step(t, value); step > 0 {
		value = math.Round(value/step) / (1 / step) // dividing gives 0.3 exactly, multiplying 0.30000000000000004
	}
	return circuit.Reading{Test: t, Value: value}
}

// unrounded returns what a test would show on a display with any number of digits.
func (h Hidden) unrounded(t circuit.Test) float64 {
	value := h.model.Predict(t, h.Fault, h.X, h.Coil)
	if math.IsInf(value, 0) {
		return value
	}
	if h.off != nil {
		value += h.model.U(t, value) * h.off[t]
	} else {
		value += h.model.U(t, value) * Drawn(h.seed, t.String()).normal()
	}
	if t.Quantity() == circuit.Ohms {
		value = max(0, value)
	}
	return value
}

// Clear reports whether every reading keeps away from where the display would round it to its next digit: then another device, on which
// a root may come out otherwise in its last bit, shows the same.
func (h Hidden) Clear() bool {
	const away = 1e-6 // of a digit
	for t := range circuit.Test(Tests) {
		value := h.unrounded(t)
		step := h.model.Step(t, value)
		if !t.Possible(h.model.Side, h.model.Return) || math.IsInf(value, 0) || step == 0 {
			continue
		}
		if _, part := math.Modf(math.Abs(value) / step); math.Abs(part-0.5) < away {
			return false
		}
	}
	return true
}

// A Way is a sequence of tests and the repair after them.
type Way struct {
	Tests   []circuit.Test
	Repair  circuit.Repair
	Minutes float64
	Cost    float64 // of the minutes, and of the repair if it is wrong
	Right   bool
}

// Walk returns what tests and a repair cost. A test that was asked for twice counts once, since it shows the same again.
func (h Hidden) Walk(tests []circuit.Test, repair circuit.Repair) Way {
	w := Way{Repair: repair, Right: repair == h.Fault.Repair()}
	var seen [circuit.Tests]bool
	for _, t := range tests {
		if !seen[t] {
			seen[t] = true
			w.Tests = append(w.Tests, t)
			w.Minutes += h.model.Minutes[t]
		}
	}
	w.Cost = w.Minutes / 60 * h.model.Hour
	if !w.Right {
		w.Cost += h.model.Wrong[repair]
	}
	return w
}

// Best returns the way that the circuit question chooses: the best next test of the exercise as long as one pays, then the repair
// with the least expected cost. Of what is hidden it knows only the code. It is the best known way on average, but not in every case.
func (h Hidden) Best() Way {
	m := *h.model
	m.Code = h.Code
	var readings []circuit.Reading
	var tests []circuit.Test
	for {
		f := diagnosis.Find(&m, readings)
		i := slices.IndexFunc(f.Next, func(n diagnosis.Next) bool { return n.Value > tie && int(n.Test) < Tests })
		if i < 0 || len(tests) == Tests {
			return h.Walk(tests, f.Repair)
		}
		t := f.Next[i].Test
		tests, readings = append(tests, t), append(readings, h.Reading(t))
	}
}

// A Draw is a sequence of random numbers that follows from a text: SplitMix64 (Steele, Lea and Flood, 2014; constants from memory),
// started at the FNV-1a hash of the text.
type Draw struct{ state uint64 }

// Drawn returns the sequence of a text for one purpose.
func Drawn(seed, of string) *Draw {
	f := fnv.New64a()
	f.Write([]byte(seed + "\x00" + of))
	return &Draw{f.Sum64()}
}

// Whole returns a whole number, the same on every device.
func (d *Draw) Whole() uint64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// next returns a number from 0 up to but not including 1.
func (d *Draw) next() float64 { return float64(d.Whole()>>11) / (1 << 53) }

// normal returns a number of the standard normal distribution (Box and Muller, 1958).
func (d *Draw) normal() float64 {
	return math.Sqrt(-2*portable.Log(1-d.next())) * math.Cos(2*math.Pi*d.next())
}

// Expect returns what a test would read if nothing were wrong.
func (h Hidden) Expect(t circuit.Test) evidence.Expected { return evidence.Expect(h.model, t) }
