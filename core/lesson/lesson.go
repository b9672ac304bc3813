// Package lesson hides a fault in a circuit for a learner to find, gives the readings that the learner asks for, and marks the
// way taken beside the way that the circuit question would have gone.
//
// What is hidden, and every reading, follows from a seed: the same link gives the same exercise to everyone. A reading of a
// test is the same whenever it is asked for, and to whomever.
package lesson

import (
	"hash/fnv"
	"math"

	"ohmwright/core/circuit"
)

// A Hidden is a fault that was drawn, with its parameter and the healthy winding's resistance.
type Hidden struct {
	Fault circuit.Fault
	X     float64
	Coil  float64 // ohm, at its temperature
	Code  circuit.Code
	model *circuit.Model
	seed  string
}

// Hide draws a fault from the model: by its weights, its parameter by its distribution, the winding anywhere in its
// specification; and a code that the control unit would store, if any of its checks sees the fault.
func Hide(m *circuit.Model, seed string) Hidden {
	h := Hidden{model: m, seed: seed}
	d := drawn(seed, "fault")
	sum := 0.0
	for _, w := range m.Weights {
		sum += w
	}
	at := d.next() * sum
	for f, w := range m.Weights {
		if w > 0 {
			h.Fault = circuit.Fault(f)
		}
		if at -= w; at < 0 {
			break
		}
	}
	h.Coil = m.Min + (m.Max-m.Min)*d.next()
	if _, _, _, ok := h.Fault.Limits(); ok { // one without a parameter draws none
		h.X = m.Parameter(h.Fault, d.next())
	}
	if codes := m.Sets(h.Fault, h.X, h.Coil); len(codes) > 0 {
		h.Code = codes[int(d.next()*float64(len(codes)))]
	}
	return h
}

// Reading is what a test shows: the prediction, off by the meter's and the contacts' error, as the display rounds it.
func (h Hidden) Reading(t circuit.Test) circuit.Reading {
	value := h.model.Predict(t, h.Fault, h.X, h.Coil)
	if math.IsInf(value, 0) {
		return circuit.Reading{Test: t, Over: true}
	}
	d := drawn(h.seed, t.String())
	value += h.model.U(t, value) * d.normal()
	if t.Quantity() == circuit.Ohms {
		value = max(0, value)
	}
	if step := h.model.Step(t, value); step > 0 {
		value = math.Round(value/step) / (1 / step) // so that three tenths are 0.3
	}
	return circuit.Reading{Test: t, Value: value}
}

// A Way is the tests that were made, and the repair at the end of them.
type Way struct {
	Tests   []circuit.Test
	Repair  circuit.Repair
	Minutes float64
	Cost    float64 // of the minutes, and of the repair if it was in vain
	Right   bool
}

// Mark is what a way comes to. A test that was asked for twice is paid once: it shows the same again.
func (h Hidden) Mark(tests []circuit.Test, repair circuit.Repair) Way {
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

// Best is the way that the circuit question goes: the next test as long as one pays, then the repair of the least expected
// cost. It knows the code and nothing else of what is hidden. It is the best known way on average, not in every single case.
func (h Hidden) Best() Way {
	m := *h.model
	m.Code = h.Code
	var readings []circuit.Reading
	var tests []circuit.Test
	for {
		f := m.Find(readings)
		if !f.Test || len(tests) == circuit.Tests {
			return h.Mark(tests, f.Repair)
		}
		t := f.Next[0].Test
		tests, readings = append(tests, t), append(readings, h.Reading(t))
	}
}

// Score compares a learner's way with the best: 100 where it cost no more, less in the ratio of the costs.
func Score(own, best Way) float64 {
	if own.Cost <= best.Cost {
		return 100
	}
	return 100 * best.Cost / own.Cost
}

// A draw is a sequence of numbers that follows from a seed. Source: SplitMix64 (Steele, Lea and Flood, 2014; constants from
// memory), begun at the FNV-1a hash of the seed.
type draw struct{ state uint64 }

func drawn(seed, of string) *draw {
	f := fnv.New64a()
	f.Write([]byte(seed + "\x00" + of))
	return &draw{f.Sum64()}
}

// next is between 0 and 1, 1 left out.
func (d *draw) next() float64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return float64((z^z>>31)>>11) / (1 << 53)
}

// normal is of the standard normal distribution (Box and Muller, 1958).
func (d *draw) normal() float64 {
	return math.Sqrt(-2*math.Log(1-d.next())) * math.Cos(2*math.Pi*d.next())
}
