package evidence

import (
	"math"
	"slices"

	"ohmwright/core/circuit"
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
	Shows  [circuit.Tests]Doubtful
	Words  [circuit.Tests]float64 // how likely the ohms jump, or the row does not apply
}

// Scenarios divides what is still possible, and works out what the wanted tests would read.
func (w *Weigher) Scenarios(p [circuit.Faults]float64, wanted circuit.Set) (list []Scenario) {
	merged := w.merged(p)
	list = make([]Scenario, 0, len(merged)+len(merged)/2)
	defer func(narrow bool, middle float64) { w.narrow, w.coil[1] = narrow, middle }(w.narrow, w.coil[1])
	w.narrow = true // one winding: one look at it is exact
	var swept node  // whose readings are swept
	for i := range merged {
		s := &merged[i]
		n := s.node
		if n.fault == circuit.Other || n.fault.ComesAndGoes() {
			n = node{fault: circuit.None}
		}
		if w.coil[1] = s.wound.mean; i == 0 || swept.fault != n.fault || swept.way != n.way {
			w.sweep(n, (wanted|w.wanted|circuit.Told)&^circuit.InsideToo)
			swept = n
		} else {
			w.swept.Wind(w.coil[1], &w.wounds[1])
		}
		w.look(n.x.mean)
		list = w.foresee(list, s, &n, wanted)
	}
	return list
}

// A group is samples of one fault that are joined: the heaviest of them, and the sums of what they stand for.
type group struct {
	sample
	best, x, xx, r, rr, t, tt float64
}

// add adds a sample.
func (g *group) add(s *sample) {
	if s.mass > g.best {
		g.best, g.node = s.mass, s.node
	}
	x, c, m := s.node.x, s.wound, s.mass
	g.mass += m
	g.x, g.xx = g.x+m*x.mean, g.xx+m*(x.mean*x.mean+x.u*x.u)
	g.r, g.rr = g.r+m*c.mean, g.rr+m*(c.mean*c.mean+c.u*c.u)
	g.t, g.tt = g.t+m*c.at, g.tt+m*(c.at*c.at+c.within*c.within)
}

// joins reports whether a sample belongs to the group: the fault in the same way, and a driver that does the same.
func (g *group) joins(s *sample) bool {
	return g.node.way == s.node.way && g.drive.Share == s.drive.Share && g.drive.Load == s.drive.Load
}

// joined returns the sample that stands for them, with its share of a whole mass.
func (g *group) joined(whole float64) sample {
	m := g.mass
	part := func(sum, squares float64) (mean, u float64) {
		mean = sum / m
		return mean, math.Sqrt(max(0, squares/m-mean*mean))
	}
	s := g.sample
	s.node.x.mean, s.node.x.u = part(g.x, g.xx)
	of := wound{}
	of.mean, of.u = part(g.r, g.rr)
	of.at, of.within = part(g.t, g.tt)
	s.wound, s.mass = &of, m/whole
	return s
}

// merged returns the samples joined into a few for each fault, whose parameters and windings are as wide as those that they stand
// for.
func (w *Weigher) merged(p [circuit.Faults]float64) (list []sample) {
	var open []group
	var fault circuit.Fault
	end := func() {
		for i := range open {
			list = append(list, open[i].joined(w.whole))
		}
		open = open[:0]
	}
	for at := range w.samples {
		s := &w.samples[at]
		f := s.node.fault
		if f != fault {
			end()
			fault = f
		}
		if p[f] < leastMass || s.mass < leastSample*w.mass[f] {
			continue
		}
		i := 0
		for i < len(open) && !open[i].joins(s) {
			i++
		}
		if i == len(open) {
			open = append(open, group{sample: *s})
			open[i].mass = 0
		}
		g := &open[i]
		if g.add(s); g.mass > w.mass[f]/perFault*(1-1e-9) { // a tie must not hang on the last bit
			list = append(list, g.joined(w.whole))
			open = slices.Delete(open, i, i+1)
		}
	}
	end()
	return list
}

// foresee adds the scenarios of a sample, which reads as a node that was looked at: one for each thing that the driver may do, unless a
// reading has told.
func (w *Weigher) foresee(list []Scenario, s *sample, n *node, wanted circuit.Set) []Scenario {
	drives := append(w.drives[:0], s.drive)
	drives[0].Chance = 1
	flow := w.on(circuit.CurrentOn)
	w.along(&flow, n, s.wound, 1, &w.current)
	if !w.staged {
		drives = w.output.May(n.fault, w.current.Value, w.views[1].Volts, drives)
	}
	w.drives = drives
	for k, r := range w.readings {
		w.scene[k] = w.seen(r.Test, n, s.wound, w.factor[k])
	}
	kept := 0.0
	for _, d := range drives {
		if d.Chance >= leastDrive {
			kept += d.Chance
		}
	}
	for i := range drives {
		d := &drives[i]
		if d.Chance < leastDrive {
			continue
		}
		f := s.node.fault
		c := Scenario{Fault: f, Repair: w.m.Repair(f), Mass: s.mass * (d.Chance / kept), Plain: f == circuit.Other}
		w.condition(d)
		for t := range circuit.Test(circuit.Tests) {
			switch {
			case !wanted.Has(t):
			case t.Quantity() > circuit.Degrees:
				c.Words[t] = Wordly(s.node.fault, t)
			case t == circuit.Thermometer:
				c.Shows[t] = Doubtful{s.wound.at, portable.Hypot(s.wound.within, thermometerWithin/math.Sqrt(3))}
			default:
				v := w.seen(t, n, s.wound, 1)
				var g guess
				w.guess(t, &v, w.leaves(d, t), w.supplyOf(t), &g)
				c.Shows[t] = Doubtful{g.value, 0}
				if !math.IsInf(g.value, 0) {
					c.Shows[t].Value, c.Shows[t].U = w.joint.given(&g)
				}
			}
		}
		list = append(list, c)
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
	j.n = 0
	for k, r := range w.readings {
		g := &w.fixed[k].guess
		w.guess(r.Test, &w.scene[k], w.leaves(d, r.Test), w.supply[k], g)
		off := r.Value - g.value
		if r.Over || math.IsInf(g.value, 0) || off*off > 16*g.variance() {
			continue
		}
		j.g[j.n], j.off[j.n] = g, off
		j.n++
	}
	j.factor()
}
