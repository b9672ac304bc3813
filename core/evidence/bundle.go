package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
)

// mostClasses is at least how many different things a driver may leave of a reading.
const mostClasses = 12

// A staged is the readings that depend in one way on what the driver does: those with everything plugged in, or that on the test load.
type staged struct {
	some    bool // there is one, or the one that is tried is one
	of      []int
	n       int // of the classes
	classes [mostClasses]class
}

// A class is what a driver leaves of these readings, and how they fit that.
type class struct {
	circuit.Left
	chance float64
	ready  bool
	fits   []fixed
	tried  doubt.Guess // of the reading that is tried, if that is one of these
}

// class returns the class of what is left.
func (s *staged) class(l circuit.Left) uint8 {
	for i := range s.n {
		if s.classes[i].Left == l {
			return uint8(i)
		}
	}
	c := &s.classes[s.n]
	c.Left, c.chance, c.ready = l, 0, false
	if len(c.fits) < len(s.of) {
		c.fits = make([]fixed, len(s.of))
	}
	s.n++
	return uint8(s.n - 1)
}

// fitted returns a class with the fits of its readings.
func (w *Weigher) fitted(s *staged, i uint8, skip skipper) *class {
	c := &s.classes[i]
	if c.ready {
		return c
	}
	for at, k := range s.of {
		w.fit(k, &c.Left, skip, &c.fits[at])
	}
	if r := w.trial; r != nil && circuit.Staged.Has(r.test) && circuit.Told.Has(r.test) == (s == &w.told) {
		w.guess(r.test, &r.scene, &c.Left, r.supply, &c.tried)
	}
	c.ready = true
	return c
}

// A bundle is what the driver may do, as far as the readings can tell it apart.
type bundle struct {
	told, load uint8   // the classes
	chance     float64 // of all of them
	held       float64 // of those of them that stay off although nothing is wrong with them
	sound      bool    // in a healthy circuit one of them counts as nothing unusual
	total      float64 // the density of the readings; 0 if nothing is left of it
	right      float64 // what of that has all of them right
	worst      int8    // the one that is wrong in the largest part of the rest, or -1
}

// bundle joins the drives that the readings at hand, and the one that is tried, cannot tell apart.
func (w *Weigher) bundle() {
	w.bundles, w.bundled = w.bundles[:0], w.bundled[:0]
	w.told.n, w.load.n = 0, 0
	a, b := uint8(0), uint8(0)
	if !w.told.some {
		w.told.class(circuit.Wholly)
	}
	if !w.load.some {
		w.load.class(circuit.Wholly)
	}
	var load *sceneOf
	switch {
	case len(w.load.of) > 0:
		load = &w.scene[w.load.of[0]]
	case w.load.some:
		load = &w.trial.scene
	}
	for i := range w.drives {
		d := &w.drives[i]
		if w.told.some {
			a = w.told.class(w.leaves(d, circuit.CurrentOn, nil))
		}
		if w.load.some {
			b = w.load.class(w.leaves(d, circuit.VoltsLoad, load))
		}
		at := 0
		for at < len(w.bundles) && (w.bundles[at].told != a || w.bundles[at].load != b) {
			at++
		}
		if at == len(w.bundles) {
			w.bundles = append(w.bundles, bundle{})
			w.bundles[at].told, w.bundles[at].load = a, b
		}
		of := &w.bundles[at]
		of.chance += d.Chance
		w.told.classes[a].chance += d.Chance
		if d.Share < 0.5 && !d.Holds && d.Load == 1 {
			of.held += d.Chance
		}
		of.sound = of.sound || d.Holds || d.Share == 1 && d.Load == 1
		w.bundled = append(w.bundled, uint8(at))
	}
}

// leaves returns what a drive leaves of a test at the winding at hand; s is what the test sees, where it is that on the test load.
func (w *Weigher) leaves(d *circuit.Drive, t circuit.Test, s *sceneOf) circuit.Left {
	if !circuit.Staged.Has(t) {
		return circuit.Wholly
	}
	amperes := w.current.Value
	if t == circuit.VoltsLoad {
		amperes = circuit.ThroughLoad(s.Value)
	}
	return w.output.Leaves(d, t, amperes)
}

// A stand is how many readings the joint distribution has, how far the two worst of them are off, as squares in standard deviations, and of
// those that are OL or should be, how likely they are and how much χ² they count.
type stand struct {
	n             int
	worst, second float64
	sure, off     float64
	alone         uint32 // those, a bit each
}

// put puts a reading into the joint distribution.
func (w *Weigher) put(s *stand, k int, f *fixed) {
	if f.alone {
		w.fits[k] = f
		s.alone |= 1 << k
		s.sure *= f.sure
		if f.apart {
			s.off += doubt.Mismatch * doubt.Mismatch
		}
		return
	}
	w.index[s.n] = k
	w.joint.G[s.n], w.joint.Off[s.n], w.joint.V[s.n] = &f.Guess, f.off, f.v
	s.n++
	switch {
	case f.z2 > s.worst:
		s.worst, s.second = f.z2, s.worst
	case f.z2 > s.second:
		s.second = f.z2
	}
}

// weigh weighs a node with one piece of the winding, for each bundle. What does not depend on the driver is worked out once, what depends
// on one class once for that.
func (w *Weigher) weigh(n *node, of *doubt.Winding, mass float64, skip skipper) {
	j := &w.joint
	steady := stand{sure: 1}
	for _, k := range w.steady {
		w.put(&steady, k, &w.fixed[k])
	}
	from := 0 // the rows before it are worked out
	for told := range uint8(w.told.n) {
		c := w.fitted(&w.told, told, skip)
		plugged := steady
		for at, k := range w.told.of {
			w.put(&plugged, k, &c.fits[at])
		}
		from = min(from, steady.n)
		for i := range w.bundles {
			b := &w.bundles[i]
			if b.told != told || plugged.second > doubt.Hopeless && n.fault != circuit.None {
				continue
			}
			all := plugged
			c := w.fitted(&w.load, b.load, skip)
			for at, k := range w.load.of {
				w.put(&all, k, &c.fits[at])
			}
			j.N = all.n
			if n.fault == circuit.None {
				w.note(b, of.Share*b.chance)
			}
			if all.second > doubt.Hopeless {
				continue
			}
			j.Rows(from)
			from = plugged.n
			if w.trial != nil {
				w.trial.show(w, b, i)
				continue
			}
			w.keep(n, b, mass*b.chance, &all)
		}
	}
}

// note adds to the densities of the readings, or of the one that is tried, in a healthy circuit.
func (w *Weigher) note(b *bundle, share float64) {
	if w.trial != nil {
		w.trial.note(w, b, share)
		return
	}
	j := &w.joint
	for a, k := range w.index[:j.N] {
		v := j.V[a]
		z2 := j.Off[a] * j.Off[a] / v
		w.plain[k] += share * doubt.Falling(z2) / math.Sqrt(2*math.Pi*v)
	}
}
