package evidence

import (
	"math"
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/measure"
)

// A Trial is a reading that is not taken yet, at many values at once: how likely each fault is together with each of them.
type Trial struct {
	test   circuit.Test
	values []float64
	After  [][circuit.Faults]float64 // for each value, the density of each fault's mass
	Over   [circuit.Faults]float64   // the masses with OL
	by     *measure.Mixtures         // After in the making, and in the end the density in a healthy circuit
	shut   float64                   // how likely a healthy circuit shows OL
	// The masses of the faults with which a value, and OL, may simply be wrong.
	wrong, wrongOver [circuit.Faults]float64
	supply           float64   // at that reading, over that of the model
	there            []float64 // by how much the mass of a fault that comes and goes, far from which the values are, changes at each of them
	forecasts
}

// leastTried is the share of all mass from which a part counts when looking ahead.
const leastTried = 1e-7

// crumb is the share of all mass below which it matters little where exactly something is.
const crumb = 1e-6

// Try weighs readings together with one more at each of the values. The weigher has weighed the readings alone. What that has left is not
// weighed again: only what the test should read then is worked out.
func (w *Weigher) Try(readings []circuit.Reading, t circuit.Test, values []float64) *Trial {
	after := Weigher{readings: w.readings, ahead: true}
	if after.fineness() != w.fineness() {
		w = w.anew(readings)
	}
	r := &Trial{test: t, values: values, After: make([][circuit.Faults]float64, len(values)),
		by: measure.Mix(circuit.Faults+1, values, crumb*w.whole), there: make([]float64, len(values)+1), supply: 1}
	if w.driven > 0 && circuit.Staged.Has(t) {
		r.supply = w.driven
	}
	r.foresee(w)
	r.finish(w)
	return r
}

// anew weighs the readings again, as finely as with one more.
func (w *Weigher) anew(readings []circuit.Reading) *Weigher {
	again := newWeigher(w.m, readings)
	again.brief, again.ahead = true, true
	if len(again.readings) > 0 {
		again.before = w
	}
	again.all()
	return again
}

// leastLiving is the share of all mass from which nodes about one are weighed again.
const leastLiving = 1e-6

// near reports whether a node is about one of which the weighing before has left something. A node that stood for its fault as a whole
// stood for all nodes of it.
func (w *Weigher) near(n *node) bool {
	if w.before == nil || n.fault == circuit.None {
		return true
	}
	left, least := w.before.left(n.fault), leastLiving*w.before.whole
	if len(left) > 0 && left[0].x.Share == 1 {
		return left[0].mass > least
	}
	return slices.ContainsFunc(left, func(l living) bool {
		return l.mass > least && l.way == n.way && (n.x.Share == 1 || l.x.Near(&n.x))
	})
}

// left returns what is left of a fault.
func (w *Weigher) left(f circuit.Fault) []living {
	at := func(f circuit.Fault) int {
		i, _ := slices.BinarySearchFunc(w.alive, f, func(l living, f circuit.Fault) int { return int(l.fault) - int(f) })
		return i
	}
	return w.alive[at(f):at(f+1)]
}

// note adds to the densities in a healthy circuit.
func (r *Trial) note(w *Weigher, b *bundle, share float64) {
	g := r.guess(w, b)
	if math.IsInf(g.Value, 0) {
		r.shut += share
		return
	}
	r.by.Add(circuit.Faults, share, g.Value, math.Sqrt(g.Variance()))
}

// count counts what is left of a node, by so much.
func (r *Trial) count(w *Weigher, f circuit.Fault, by float64) {
	for _, s := range r.left {
		p := &r.places[s.wound]
		clear(r.masses[:p.n])
		for _, q := range w.parts[s.from:s.to] {
			if !r.split {
				p.take(&r.masses, q.act, &q, s.by*by)
				continue
			}
			for act := range w.acts {
				p.take(&r.masses, uint8(act), &q, s.by*by*p.chances[act])
			}
		}
		for k := range p.n {
			r.add(f, p, k)
		}
		p.stretch = stretch{}
	}
}

// add adds what is left with a bundle at a place.
func (r *Trial) add(f circuit.Fault, p *place, bundle int) {
	s, mass, right := &p.shows[bundle], r.masses[bundle].mass, r.masses[bundle].right
	rest := mass - right
	if mass == 0 {
		return
	}
	if s.Over {
		r.Over[f] += (1-slip)*right + rest
		r.wrong[f] += mass
		return
	}
	r.wrong[f] += right
	r.wrongOver[f] += mass
	r.by.Add(int(f), (1-slip)*right, s.Mean, s.U)
	switch {
	case f.ComesAndGoes():
		r.addComing(mass, s)
	case driven(r.test):
		r.by.Add(int(f), notOn*right, p.idle, p.idleU)
	}
	if s.Worst >= 0 {
		r.by.Add(int(f), rest, s.MeanRest, s.URest)
	}
}

// addComing notes what may be read while a fault that comes and goes is there, where that is far from the rest.
func (r *Trial) addComing(mass float64, s *doubt.Forecast) {
	from, _ := slices.BinarySearch(r.values, s.Mean-4*s.U)
	to, _ := slices.BinarySearch(r.values, s.Mean+4*s.U)
	r.there[0] += mass
	r.there[from] -= mass
	r.there[to] += mass
}

// addThere adds what is read while a fault is there that comes and goes.
func (r *Trial) addThere(w *Weigher, f circuit.Fault) {
	mass := 0.0
	for i, v := range r.values {
		mass += r.there[i]
		at := circuit.Reading{Test: r.test, Value: v}
		r.After[i][f] += mass * w.whileThere(f, at, r.supply, doubt.Anything(w.m, at))
	}
	over := circuit.Reading{Test: r.test, Over: true}
	r.Over[f] += r.there[0] * w.whileThere(f, over, r.supply, doubt.Anything(w.m, over))
	clear(r.there)
}

// finish adds what all faults have in common, and what is none of them.
func (r *Trial) finish(w *Weigher) {
	spill := func(into, wrong *[circuit.Faults]float64, any, plain float64) {
		for f, mass := range wrong {
			into[f] += slip * any * mass
		}
		into[circuit.Other] += w.mass[circuit.Other] * (plain + any) / 2
	}
	densities := r.by.Densities()
	for f := range circuit.Faults {
		for i, mass := range densities[f] {
			r.After[i][f] += mass
		}
	}
	plain := densities[circuit.Faults]
	for i, v := range r.values {
		spill(&r.After[i], &r.wrong, doubt.Anything(w.m, circuit.Reading{Test: r.test, Value: v}), plain[i])
	}
	spill(&r.Over, &r.wrongOver, doubt.Anything(w.m, circuit.Reading{Test: r.test, Over: true}), r.shut)
}

// driven reports whether a test may show that the driver was not on, although it was told to be.
func driven(t circuit.Test) bool {
	return circuit.Told.Has(t) && t != circuit.SupplyDriven && t != circuit.VoltsUnitFeed && t != circuit.VoltsUnitGround
}
