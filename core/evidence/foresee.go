package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/portable"
)

// How finely looking ahead divides what is still possible.
const (
	perFault  = 6    // parts of a fault's probability
	leastMass = 3e-4 // a less probable fault is left out
	// The share of a fault from which a sample of it is looked at.
	leastSample = 1e-4 * (1 - 1e-9)
	leastDrive  = 0.07 // what a driver does less often is left out
)

// A Scenario is a part of what is still possible: a fault, and what each test not made yet would read.
type Scenario struct {
	Fault  circuit.Fault
	Repair circuit.Repair
	Mass   float64 // its probability
	Plain  bool    // it reads what a healthy circuit would read, or anything
	Shows  [circuit.Tests]doubt.Estimate
	Words  [circuit.Tests]float64 // how likely the ohms jump, or the row does not apply
}

// Scenarios divides what is still possible, and works out what the wanted tests would read.
func (w *Weigher) Scenarios(p [circuit.Faults]float64, wanted circuit.Set) (list []Scenario) {
	list = make([]Scenario, 0, len(w.groups)+len(w.groups)/2)
	defer func(narrow bool, middle float64) { w.narrow, w.coil[1] = narrow, middle }(w.narrow, w.coil[1])
	w.narrow = true // one winding: one look at it is exact
	var swept node  // whose readings are swept
	first := true
	for i := range w.groups {
		if p[w.groups[i].fault] < leastMass {
			continue
		}
		s := w.groups[i].joined(w.whole)
		n := s.node
		if n.fault == circuit.Other || n.fault.ComesAndGoes() {
			n = node{fault: circuit.None}
		}
		if w.coil[1] = s.wound.Mean; first || swept.fault != n.fault || swept.way != n.way {
			w.sweep(n, (wanted|w.wanted|circuit.Told)&^circuit.InsideToo)
			swept, first = n, false
		} else {
			w.swept.Wind(w.coil[1], &w.wounds[1])
		}
		w.look(n.x.Mean)
		list = w.foresee(list, &s, &n, wanted)
	}
	return list
}

// foresee adds the scenarios of a sample, which reads as a node that was looked at: one for each thing that the driver may do, unless a
// reading has told.
func (w *Weigher) foresee(list []Scenario, s *sample, n *node, wanted circuit.Set) []Scenario {
	drives := append(w.drives[:0], s.drive)
	flow := w.on(circuit.CurrentOn)
	w.along(&flow, n, &s.wound, 1, &w.current)
	if !w.staged {
		drives = w.output.May(n.fault, w.current.Value, w.views[1].Volts, drives)
	}
	w.drives = drives
	for k, r := range w.readings {
		w.see(r.Test, n, &s.wound, w.factor[k], &w.scene[k])
	}
	for t := range circuit.Test(circuit.Tests) {
		if wanted.Has(t) && t.Quantity() < circuit.Degrees {
			w.see(t, n, &s.wound, 1, &w.toCome[t])
		}
	}
	kept := 0.0
	for i := range drives {
		if d := &drives[i]; d.Chance >= leastDrive {
			kept += d.Chance
		}
	}
	var g doubt.Guess
	for i := range drives {
		d := &drives[i]
		if d.Chance < leastDrive {
			continue
		}
		f := s.node.fault
		list = append(list, Scenario{})
		c := &list[len(list)-1]
		c.Fault, c.Repair, c.Mass, c.Plain = f, w.m.Repair(f), s.mass*(d.Chance/kept), f == circuit.Other
		w.condition(d)
		for t := range circuit.Test(circuit.Tests) {
			switch {
			case !wanted.Has(t):
			case t.Quantity() > circuit.Degrees:
				c.Words[t] = circuit.Wordly(s.node.fault, t)
			case t == circuit.Thermometer:
				c.Shows[t] = doubt.Estimate{Value: s.wound.At, U: portable.Hypot(s.wound.Within, thermometerWithin/math.Sqrt(3))}
			default:
				l := w.leaves(d, t, &w.toCome[t])
				w.guess(t, &w.toCome[t], &l, w.supplyOf(t), &g)
				c.Shows[t] = doubt.Estimate{Value: g.Value}
				if !math.IsInf(g.Value, 0) {
					c.Shows[t].Value, c.Shows[t].U = w.joint.Given(&g)
				}
			}
		}
	}
	return list
}

// supplyOf returns the supply that a test not made yet has, over that of the model.
func (w *Weigher) supplyOf(t circuit.Test) float64 {
	if w.driven > 0 && circuit.Staged.Has(t) {
		return w.driven
	}
	return 1
}

// condition prepares the readings at hand, so that their shared doubts tell of the tests to come. A reading that does not fit is
// left out.
func (w *Weigher) condition(d *circuit.Drive) {
	j := &w.joint
	j.N = 0
	for k, r := range w.readings {
		g := &w.fixed[k].Guess
		l := w.leaves(d, r.Test, &w.scene[k])
		w.guess(r.Test, &w.scene[k], &l, w.supply[k], g)
		off := r.Value - g.Value
		if r.Over || math.IsInf(g.Value, 0) || off*off > 16*g.Variance() {
			continue
		}
		j.G[j.N], j.Off[j.N] = g, off
		j.N++
	}
	j.Factor()
}
