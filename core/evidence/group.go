package evidence

import (
	"math"
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
)

// A sample is a node with a part of the winding and one thing that the driver may do; its mass is the weight of that after the readings.
type sample struct {
	node
	wound doubt.Winding
	drive circuit.Drive // with certainty
	mass  float64
}

// A group is samples of one fault that are joined: the node of the heaviest of them, and the sums of what they stand for.
type group struct {
	node
	drive                           circuit.Drive
	best, mass, x, xx, r, rr, t, tt float64
}

// add adds a sample.
func (g *group) add(n *node, c *doubt.Winding, m float64) {
	if m > g.best {
		g.best, g.node = m, *n
	}
	x := &n.x
	g.mass += m
	g.x, g.xx = g.x+m*x.Mean, g.xx+m*(x.Mean*x.Mean+x.U*x.U)
	g.r, g.rr = g.r+m*c.Mean, g.rr+m*(c.Mean*c.Mean+c.U*c.U)
	g.t, g.tt = g.t+m*c.At, g.tt+m*(c.At*c.At+c.Within*c.Within)
}

// joins reports whether a sample belongs to the group: the fault in the same way, and a driver that does the same.
func (g *group) joins(n *node, d *circuit.Drive) bool {
	return g.way == n.way && g.drive.Share == d.Share && g.drive.Load == d.Load
}

// joined returns the sample that stands for them, whose parameter and winding are as wide as theirs, with its share of a whole mass.
func (g *group) joined(whole float64) sample {
	part := func(sum, squares float64) (mean, u float64) {
		mean = sum / g.mass
		return mean, math.Sqrt(max(0, squares/g.mass-mean*mean))
	}
	s := sample{node: g.node, drive: g.drive, mass: g.mass / whole}
	s.x.Mean, s.x.U = part(g.x, g.xx)
	s.wound.Mean, s.wound.U = part(g.r, g.rr)
	s.wound.At, s.wound.Within = part(g.t, g.tt)
	return s
}

// join joins what is left of a fault into a few groups, to look ahead from.
func (w *Weigher) join(tallies []tally) {
	if w.brief || w.mass[tallies[0].fault] < leastMass*(1-1e-9)*w.whole {
		return
	}
	mass := w.mass[tallies[0].fault]
	best := &w.heaviest[tallies[0].fault]
	open := w.open[:0]
	for j := range tallies {
		n := &tallies[j].node
		from := &tallies[tallies[j].as]
		by := tallies[j].total / from.total
		for _, s := range w.stretches[from.from:from.to] {
			c := &w.windings[s.wound]
			for _, p := range w.parts[s.from:s.to] {
				if m := p.mass * s.by * by; m >= leastSample*mass {
					if m > best.mass {
						*best = sample{*n, *c, w.acts[p.act], m}
					}
					open = w.gather(open, n, c, p.act, m, mass)
				}
			}
		}
	}
	w.groups = append(w.groups, open...)
	w.open = open
}

// gather adds what is left of a node to one of the open groups, and closes that when it is full.
func (w *Weigher) gather(open []group, n *node, c *doubt.Winding, act uint8, m, mass float64) []group {
	i := 0
	for i < len(open) && !open[i].joins(n, &w.acts[act]) {
		i++
	}
	if i == len(open) {
		open = append(open, group{drive: w.acts[act]})
	}
	g := &open[i]
	if g.add(n, c, m); g.mass > mass/perFault*(1-1e-4) { // a tie must not hang on what is rounded
		w.groups = append(w.groups, *g)
		open = slices.Delete(open, i, i+1)
	}
	return open
}

// joinOther makes what is none of the faults a group by itself.
func (w *Weigher) joinOther(mass float64) {
	g := group{node: node{circuit.Other, 0, doubt.Piece{Share: 1}}, drive: circuit.Fully}
	g.add(&g.node, &w.windings[len(w.windings)/2], mass)
	w.groups = append(w.groups, g)
}

// act returns the number of what a driver does, whatever the chance of it.
func (w *Weigher) act(d *circuit.Drive) uint8 {
	for i := range w.acts {
		if w.acts[i].Same(d) {
			return uint8(i)
		}
	}
	a := *d
	a.Chance = 1
	w.acts = append(w.acts, a)
	return uint8(len(w.acts) - 1)
}
