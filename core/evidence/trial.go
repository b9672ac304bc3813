package evidence

import (
	"math"
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/measure"
)

// A Trial is a reading that is not taken yet, at many values at once: how likely each repair is after each of them.
type Trial struct {
	test   circuit.Test
	values []float64
	After  [][circuit.Repairs]float64       // for each value, the mass of each repair
	Over   [circuit.Repairs]float64         // the same for OL
	plain  []float64                        // for each value, the density in a healthy circuit
	shut   float64                          // how likely a healthy circuit shows OL
	by     [circuit.Repairs]measure.Mixture // After in the making
	// The masses of the repairs with which a value, and OL, may simply be wrong.
	wrong, wrongOver [circuit.Repairs]float64
	supply           float64 // at that reading, over that of the model
	// At the winding at hand: what it should read, that where no driver matters, and with the driver off.
	scene       sceneOf
	plainly     doubt.Guess
	idle, idleU float64
	tryouts     []tryout      // of the node at hand
	coming      circuit.Fault // that comes and goes, and for each value, what it makes of it while it is there
	there       []float64
}

// leastLiving is the share of all mass from which a node is weighed again, leastTrial that from which it is with a piece of the winding,
// and leastTried that from which it counts when looking ahead.
const (
	leastLiving = 1e-8
	leastTrial  = 5e-7
	leastTried  = 1e-7
)

// everyPiece stands for all pieces of the winding.
const everyPiece = ^uint64(0)

// Try weighs readings together with one more at each of the values. The weigher has weighed the readings alone: only the nodes that these
// leave are weighed again.
func (w *Weigher) Try(readings []circuit.Reading, t circuit.Test, values []float64) *Trial {
	before := w
	w = newWeigher(&w.m.Model, readings, false)
	w.brief = true
	if len(w.readings) > 0 {
		w.only(before)
	}
	r := &Trial{test: t, values: values, After: make([][circuit.Repairs]float64, len(values)), plain: make([]float64, len(values)), supply: 1}
	for repair := range r.by {
		r.by[repair] = measure.Mix(values)
	}
	w.trial = r
	w.wanted = w.wanted.With(t)
	w.stages(t, -1)
	if w.driven > 0 && circuit.Staged.Has(t) {
		r.supply = w.driven
	}
	w.all()
	r.finish(w)
	return r
}

// only leaves out nodes that are not about those of which another weigher has left something. It may have divided them less finely.
func (w *Weigher) only(before *Weigher) {
	w.kept = map[kind][]living{}
	for _, l := range before.alive {
		at := kind{l.fault, l.way}
		l.mass /= before.whole
		w.kept[at] = append(w.kept[at], l)
	}
}

// A kind is a fault in one of its ways.
type kind struct {
	fault circuit.Fault
	way   int
}

// tries returns the pieces of the winding with which a node is weighed; 0 if it is left out. A node that stood for its fault as a whole
// stood for all nodes of it. A healthy circuit is weighed with every piece, since what is none of the faults reads half as that does.
func (w *Weigher) tries(n *node) (pieces uint64) {
	switch {
	case w.kept == nil || n.fault == circuit.None:
		return everyPiece
	case w.anew && w.leftOf(n):
		return everyPiece
	case w.anew:
		return 0
	}
	if first := w.kept[kind{n.fault, 0}]; len(first) > 0 && first[0].x.Share == 1 {
		if first[0].mass <= leastLiving {
			return 0
		}
		return first[0].wounds
	}
	about, some := false, uint64(0)
	for _, l := range w.kept[kind{n.fault, n.way}] {
		if l.node == *n {
			pieces = l.wounds
		}
		if l.mass > leastLiving && l.x.Near(&n.x) {
			about, some = true, some|l.wounds
		}
	}
	switch {
	case !about:
		return 0
	case len(w.readings) < 2: // it was divided less finely before
		return some
	}
	return pieces
}

// leftOf reports whether enough was left of nodes about a node that a look at the temperature or the supply may bring it forward.
func (w *Weigher) leftOf(n *node) bool {
	const enough = 1e-6
	if first := w.kept[kind{n.fault, 0}]; len(first) > 0 && first[0].x.Share == 1 {
		return first[0].mass > enough
	}
	return slices.ContainsFunc(w.kept[kind{n.fault, n.way}], func(l living) bool {
		return l.mass > enough && (n.x.Share == 1 || l.x.Near(&n.x))
	})
}

// look works out what the test should read under a node, at one piece of the winding.
func (r *Trial) look(w *Weigher, n *node, of *doubt.Winding) {
	w.view(r.test, &w.tried, n, of, 1, &r.scene)
	switch {
	case !circuit.Staged.Has(r.test):
		w.guess(r.test, &r.scene, &wholly, r.supply, &r.plainly)
	case driven(r.test):
		var v float64
		r.idle, v = w.idling(r.test, &r.scene, r.supply)
		r.idleU = math.Sqrt(v)
	}
}

// guess returns what the test should read with a bundle.
func (r *Trial) guess(w *Weigher, b *bundle) *doubt.Guess {
	switch {
	case circuit.Told.Has(r.test):
		return &w.told.classes[b.told].tried
	case circuit.Staged.Has(r.test):
		return &w.load.classes[b.load].tried
	}
	return &r.plainly
}

// note adds to the densities in a healthy circuit.
func (r *Trial) note(w *Weigher, b *bundle, share float64) {
	g := r.guess(w, b)
	if math.IsInf(g.Value, 0) {
		r.shut += share
		return
	}
	u := math.Sqrt(g.Variance())
	for i, v := range r.values {
		r.plain[i] += share * measure.Density(v, g.Value, u)
	}
}

// A tryout is what is left of a node with a piece of the winding and a bundle, and what the test should read then: with all of the readings
// right, and with the one wrong that is wrong in the largest part of the rest.
type tryout struct {
	bundle            int // its place
	mass, right, rest float64
	over              bool
	mean, u           float64
	meanRest, uRest   float64 // uRest is 0 where the rest does not count
	idle, idleU       float64
}

// add adds a tryout, with the joint distribution that the weigher holds; worst is the place of the reading that is wrong in the rest.
func (r *Trial) add(w *Weigher, b *bundle, at int, mass, right, rest float64, worst int) {
	g := r.guess(w, b)
	o := tryout{bundle: at, mass: mass, right: right, rest: rest, idle: r.idle, idleU: r.idleU}
	if o.over = math.IsInf(g.Value, 0); !o.over {
		o.mean, o.u = w.joint.Given(g)
		if rest > 0.1*right && worst >= 0 {
			w.joint.Without(worst, &w.rest)
			o.meanRest, o.uRest = w.rest.Given(g)
		}
	}
	r.tryouts = append(r.tryouts, o)
}

// alike reports whether the test would read nearly the same with two pieces of the winding, whatever the driver does.
func (r *Trial) alike(w *Weigher, a, b *tally) bool {
	const near, little = 0.4, 1e-6
	other := r.tryouts[b.from:b.to]
	for i := range r.tryouts[a.from:a.to] {
		x := &r.tryouts[a.from+i]
		if x.mass < little*w.whole {
			continue
		}
		j := slices.IndexFunc(other, func(y tryout) bool { return y.bundle == x.bundle })
		if j < 0 {
			return false
		}
		y := &other[j]
		if x.over != y.over || math.Abs(x.mean-y.mean) > near*x.u || math.Abs(x.u-y.u) > near*x.u ||
			math.Abs(x.meanRest-y.meanRest) > near*x.uRest && math.Min(x.uRest, y.uRest) > 0 {
			return false
		}
	}
	return true
}

// count counts what is left of a fault with a piece of the winding so many times.
func (r *Trial) count(w *Weigher, f circuit.Fault, s *tally) {
	repair := w.m.Repair(f)
	by := &r.by[repair]
	for _, o := range r.tryouts[s.from:s.to] {
		mass, right, rest := o.mass*s.times, o.right*s.times, o.rest*s.times
		if o.over {
			r.Over[repair] += (1-slip)*right + rest
			r.wrong[repair] += mass
			continue
		}
		r.wrong[repair] += right
		r.wrongOver[repair] += mass
		by.Add((1-slip)*right, o.mean, o.u)
		switch {
		case f.ComesAndGoes():
			r.addComing(w, f, mass, o.mean, o.u)
		case driven(r.test):
			by.Add(notOn*right, o.idle, o.idleU)
		}
		if o.uRest > 0 {
			by.Add(rest, o.meanRest, o.uRest)
		}
	}
}

// addComing adds what is read while a fault that comes and goes is there, where that is far from the rest.
func (r *Trial) addComing(w *Weigher, f circuit.Fault, mass, mean, u float64) {
	repair := w.m.Repair(f)
	if r.coming != f {
		r.coming, r.there = f, make([]float64, len(r.values))
		for i, v := range r.values {
			at := circuit.Reading{Test: r.test, Value: v}
			r.there[i] = w.whileThere(f, at, r.supply, w.m.anything(at))
		}
	}
	for i, v := range r.values {
		if math.Abs(v-mean) > 4*u {
			r.After[i][repair] += mass * r.there[i]
		}
	}
	over := circuit.Reading{Test: r.test, Over: true}
	r.Over[repair] += mass * w.whileThere(f, over, r.supply, w.m.anything(over))
}

// finish adds what all faults have in common, and what is none of them.
func (r *Trial) finish(w *Weigher) {
	spill := func(into, wrong *[circuit.Repairs]float64, any, plain float64) {
		for repair, mass := range wrong {
			into[repair] += slip * any * mass
		}
		into[circuit.Unexplained] += w.mass[circuit.Other] * (plain + any) / 2
	}
	for repair := range r.by {
		for i, mass := range r.by[repair].Densities() {
			r.After[i][repair] += mass
		}
	}
	for i, v := range r.values {
		spill(&r.After[i], &r.wrong, w.m.anything(circuit.Reading{Test: r.test, Value: v}), r.plain[i])
	}
	spill(&r.Over, &r.wrongOver, w.m.anything(circuit.Reading{Test: r.test, Over: true}), r.shut)
}

// driven reports whether a test may show that the driver was not on, although it was told to be.
func driven(t circuit.Test) bool {
	return circuit.Told.Has(t) && t != circuit.SupplyDriven && t != circuit.VoltsUnitFeed && t != circuit.VoltsUnitGround
}
