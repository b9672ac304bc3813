package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
)

// mostActs is at least how many different things drivers may do.
const mostActs = 16

// A place is a piece of the winding with what the test should read there with each bundle.
type place struct {
	stretch                       // of the node at hand
	masses      [mostActs]float64 // of its parts, by act
	n           int               // of the bundles
	shows       [mostActs]doubt.Forecast
	of          [mostActs]int8    // the bundle of each act; -1 where that is not known
	chances     [mostActs]float64 // of the acts, if parts are split
	idle, idleU float64           // with the driver off
}

// A share is what is left with a bundle, and what of that has all readings right.
type share struct{ mass, right float64 }

// take counts a part by so much as what is left with an act.
func (p *place) take(masses *[mostActs]share, act uint8, q *part, by float64) {
	if b := p.of[act]; b >= 0 {
		masses[b].mass += q.mass * by
		masses[b].right += q.mass * by * float64(q.right)
	}
}

// Forecasts are what the test should read under the node at hand.
type forecasts struct {
	tried   bent
	scene   sceneOf
	plainly doubt.Guess // where no driver matters
	left    []stretch
	split   bool   // by what the driver may do, of which the readings do not tell
	acts    uint16 // of the parts, a bit each
	here    *place
	curve   parabola
	places  []place
	masses  [mostActs]share
}

// foresee works out what the test should read under each node of which something is left.
func (r *Trial) foresee(before *Weigher) {
	w := *before
	w.trial, w.bents, r.places = r, nil, make([]place, len(w.windings))
	w.stages(r.test, -1)
	r.split = w.staged && !before.staged
	if w.wanted = w.wanted.With(r.test) &^ circuit.InsideToo; !r.split { // codes have been weighed
		w.wanted &= w.made.With(r.test)
	} else if r.test == circuit.VoltsLoad {
		w.wanted = w.wanted.With(circuit.CurrentOn) // as in [Weigh]
	}
	w.views = [3]circuit.View{} // what nobody asks for counts as in [Weigh]
	r.tried = bent{w.on(r.test), w.off(r.test)}
	w.sweep(node{fault: circuit.None}, w.wanted)
	w.look(0)
	w.sound = w.views
	for f := range circuit.Fault(circuit.Faults) {
		left := w.left(f)
		if f == circuit.None && len(left) == 0 { // what is none of the faults reads half as that does, whatever is left of it
			left = []living{{node: node{fault: f}}}
		}
		if len(left) > 0 {
			r.foreseeFault(&w, f, left, w.m.Untouched(f)&before.wanted == before.wanted)
		}
	}
}

// foreseeFault works out what the test should read under a fault; whole: the readings have not told its parameters apart.
func (r *Trial) foreseeFault(w *Weigher, f circuit.Fault, left []living, whole bool) {
	if f.ComesAndGoes() {
		r.node(w, &left[0], w.coming(f))
		r.addThere(w, f)
		return
	}
	same := w.m.Untouched(f) & w.wanted
	w.asSound(same)
	if whole && same != w.wanted {
		left = w.divided(left[0])
	}
	least := leastTrial * w.whole * float64(len(w.windings))
	for i := range left {
		l := &left[i]
		if same != w.wanted {
			if i == 0 || l.way != left[i-1].way {
				end := i
				for end < len(left) && left[end].way == l.way {
					end++
				}
				w.sweep(left[(i+end)/2].node, w.wanted&^same)
			}
			if l.mass > least {
				w.look(l.x.Mean)
			}
		}
		if l.mass > least || f == circuit.None {
			r.node(w, l, nil)
		}
	}
}

// leastTrial is the share of all mass, for each piece of the winding, from which it is worked out what a node would show, and leastAct the
// same for one thing that the driver may do under it.
const (
	leastTrial = 2.5e-7
	leastAct   = 1.25e-7
)

// divided divides what is left of a fault as a whole.
func (w *Weigher) divided(whole living) (left []living) {
	f := whole.fault
	parts, ways := doubt.Pieces(w.m.Spread(f), w.fineness()), f.Ways()
	for way := range ways {
		for _, p := range parts {
			by := p.Share / float64(ways)
			left = append(left, living{node{f, way, p}, whole.mass * by, whole.by * by, whole.from, whole.to})
		}
	}
	return left
}

// node works out what the test should read under a node, and counts it: with the first piece of the winding, the last, the middle one, and
// more where the curve through these is bent too much.
func (r *Trial) node(w *Weigher, l *living, skip skipper) {
	n := &l.node
	w.draw(n)
	r.tried.draw(w.narrow)
	r.left = w.stretches[l.from:l.to]
	r.arrange(w, l.by)
	switch {
	case n.fault == circuit.None: // all, since what is none of the faults reads half as that does
		for i := range w.windings {
			r.spot(w, n, i, skip)
		}
	case skip != nil: // which readings it leaves out hangs on the winding
		for _, s := range r.left {
			r.spot(w, n, s.wound, skip)
		}
	case len(r.left) > 0:
		first, last := r.left[0].wound, r.left[len(r.left)-1].wound
		r.spot(w, n, first, nil)
		if last > first {
			r.spot(w, n, last, nil)
			r.between(w, n, first, last)
		}
	}
	r.count(w, n.fault, l.by)
}

// arrange notes which stretch belongs to which piece of the winding, and which acts count.
func (r *Trial) arrange(w *Weigher, by float64) {
	var masses [mostActs]float64
	for i := range r.places {
		r.places[i].masses = [mostActs]float64{}
	}
	for _, s := range r.left {
		at := &r.places[s.wound]
		at.stretch = s
		for _, p := range w.parts[s.from:s.to] {
			mass := p.mass * s.by * by
			at.masses[p.act] += mass
			masses[p.act] += mass
		}
	}
	r.acts = w.likelyActs(&masses)
}

// between works out what the test should read with the pieces of the winding between two.
func (r *Trial) between(w *Weigher, n *node, lo, hi int) {
	if hi-lo < 2 {
		return
	}
	middle := (lo + hi) / 2
	r.spot(w, n, middle, nil)
	if hi-lo == 2 {
		return
	}
	c := &r.curve
	c.through(&r.places[lo], &r.places[middle], &r.places[hi], w.amid(lo, middle, hi))
	if !c.even(r.counting(w, lo, hi, c.middle)) {
		r.between(w, n, lo, middle)
		r.between(w, n, middle, hi)
		return
	}
	for i := lo + 1; i < hi; i++ {
		if i != middle {
			c.set(&r.places[i], w.amid(lo, i, hi))
		}
	}
}

// counting returns the acts that count from one piece of the winding to another, a bit each; middle is between them.
func (r *Trial) counting(w *Weigher, lo, hi int, middle *place) (acts uint16) {
	var masses [mostActs]float64
	for i := lo; i <= hi; i++ {
		for act, mass := range r.places[i].masses {
			masses[act] += mass
		}
	}
	if r.split {
		all := masses[w.act(&circuit.Fully)]
		for act := range masses {
			masses[act] = all * middle.chances[act]
		}
	}
	return w.likelyActs(&masses)
}

// likelyActs returns the acts whose masses count, a bit each.
func (w *Weigher) likelyActs(masses *[mostActs]float64) (acts uint16) {
	for act, mass := range masses {
		if mass > leastAct*w.whole*float64(len(w.windings)) {
			acts |= 1 << act
		}
	}
	return acts
}

// spot works out what the test should read with one piece of the winding.
func (r *Trial) spot(w *Weigher, n *node, i int, skip skipper) {
	of, at := &w.windings[i], &r.places[i]
	r.here, at.n = at, 0
	for act := range at.of {
		at.of[act], at.chances[act] = -1, 0
	}
	if !w.fix(n, of, skip) {
		return
	}
	w.view(r.test, &r.tried, n, of, 1, &r.scene)
	switch {
	case !circuit.Staged.Has(r.test):
		w.guess(r.test, &r.scene, &circuit.Wholly, r.supply, &r.plainly)
	case driven(r.test):
		var v float64
		at.idle, v = w.idling(r.test, &r.scene, r.supply)
		at.idleU = math.Sqrt(v)
	}
	r.mayDo(w, n, of)
	w.bundle()
	at.n = len(w.bundles)
	clear(at.shows[:at.n])
	w.weigh(n, of, 0, skip)
	for k := range w.drives {
		if b := w.bundled[k]; at.shows[b].Known {
			act := w.act(&w.drives[k])
			at.of[act], at.chances[act] = int8(b), w.drives[k].Chance
		}
	}
}

// mayDo sets what the driver may do under a node, with one piece of the winding, as far as that counts.
func (r *Trial) mayDo(w *Weigher, n *node, of *doubt.Winding) {
	if w.staged {
		w.along(&w.flow, n, of, 1, &w.current)
	}
	w.drives = w.drives[:0]
	switch {
	case n.fault != circuit.None && !r.split:
		for act := range w.acts {
			if r.acts>>act&1 == 1 {
				w.drives = append(w.drives, w.acts[act])
			}
		}
	case w.staged:
		w.drives = w.output.May(n.fault, w.current.Value, w.views[1].Volts, w.drives)
	default:
		w.drives = append(w.drives, circuit.Fully)
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

// show works out what the test should read with a bundle, with the joint distribution that the weigher holds, at a place.
func (r *Trial) show(w *Weigher, b *bundle, at int) {
	s := &r.here.shows[at]
	s.Known, s.Worst = true, -1
	g := r.guess(w, b)
	if s.Over = math.IsInf(g.Value, 0); s.Over {
		return
	}
	s.Mean, s.U = w.joint.Given(g)
	if s.Worst = r.wrongly(w, at); s.Worst >= 0 {
		for a, k := range w.index[:w.joint.N] {
			if k == int(s.Worst) {
				w.joint.Without(a, &w.rest)
				s.MeanRest, s.URest = w.rest.Given(g)
			}
		}
	}
}

// wrongly returns the reading that is wrong in the largest part of what is left with a bundle, where that counts beside what has all of
// them right; else -1.
func (r *Trial) wrongly(w *Weigher, bundle int) (worst int8) {
	const counts = 0.1
	worst = -1
	most := 0.0
	for _, p := range w.parts[r.here.from:r.here.to] {
		rest := p.mass * (1 - float64(p.right))
		if rest <= most || rest <= counts*p.mass*float64(p.right) {
			continue
		}
		for k := range w.drives {
			if int(w.bundled[k]) == bundle && (r.split || w.acts[p.act].Same(&w.drives[k])) {
				most, worst = rest, p.worst
			}
		}
	}
	return worst
}

// A parabola is a curve through what the test should read with three pieces of the winding.
type parabola struct {
	doubt.Parabola
	lo, middle, hi *place
	n              int
	rows           [mostActs][3]*doubt.Forecast // with the three
	of             [mostActs]int8               // the row of each act; -1 where that is not known
}

// through draws the curve through three places.
func (c *parabola) through(lo, middle, hi *place, at float64) {
	c.Parabola, c.lo, c.middle, c.hi, c.n = doubt.Parabola{At: at}, lo, middle, hi, 0
	for act := range c.of {
		c.of[act] = -1
		x, y, z := lo.of[act], middle.of[act], hi.of[act]
		if x < 0 || y < 0 || z < 0 {
			continue
		}
		row, k := [3]*doubt.Forecast{&lo.shows[x], &middle.shows[y], &hi.shows[z]}, 0
		for k < c.n && c.rows[k] != row {
			k++
		}
		if k == c.n {
			c.rows[k] = row
			c.n++
		}
		c.of[act] = int8(k)
	}
}

// even reports whether what the test should show with acts that count can be told from the three.
func (c *parabola) even(acts uint16) bool {
	for act, k := range c.of {
		if acts>>act&1 == 1 && (k < 0 || !c.Even(c.rows[k])) {
			return false
		}
	}
	return !c.Bent(c.lo.idle, c.middle.idle, c.hi.idle, c.middle.idleU)
}

// set sets what the test should read at t, from 0 to 1.
func (c *parabola) set(p *place, t float64) {
	c.To(t)
	p.n, p.of = c.n, c.of
	for k := range c.n {
		p.shows[k] = c.Forecast(c.rows[k])
	}
	for act := range p.chances {
		p.chances[act] = c.Between(c.lo.chances[act], c.middle.chances[act], c.hi.chances[act])
	}
	p.idle = c.Between(c.lo.idle, c.middle.idle, c.hi.idle)
	p.idleU = c.Width(c.lo.idleU, c.middle.idleU, c.hi.idleU)
}
