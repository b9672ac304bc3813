package evidence

import (
	"math"

	"ohmwright/core/circuit"
)

// A sides is on which sides of their guesses the readings are: those that do not depend on the driver, and those with everything plugged
// in for each likely class.
type sides struct {
	steady  [circuit.Tests]int8
	classes int
	share   [mostSided]float64
	told    [mostSided][circuit.Tests]int8
}

// From likelyClass on it counts on which sides of a class the readings are, and so do at most mostSided classes. A current that is held is
// no such class: the readings follow it wherever it is.
const (
	likelyClass = 0.15
	mostSided   = 4
	unseen      = 4 // the square of how far off, in standard deviations, a reading still counts as near
)

// note notes the sides of the readings at hand.
func (s *sides) note(w *Weigher) {
	for at, k := range w.steady {
		s.steady[at] = w.fixed[k].side
	}
	s.classes = 0
	for i := range w.told.n {
		c := &w.told.classes[i]
		if c.Holds || c.chance < likelyClass || s.classes == mostSided {
			continue
		}
		s.share[s.classes] = c.Share
		for at := range w.told.of {
			s.told[s.classes][at] = c.fits[at].side
		}
		s.classes++
	}
}

// crossed reports whether a reading may fit between two places better than at both.
func (w *Weigher) crossed(a, b *sides) bool {
	crossed := func(x, y int8) bool {
		return (x == 0) != (y == 0) || (x < 0) != (y < 0) && (x+y != 0 || x > 1 || x < -1)
	}
	for at := range w.steady {
		if crossed(a.steady[at], b.steady[at]) {
			return true
		}
	}
	for i, x := range a.share[:a.classes] {
		for j, y := range b.share[:b.classes] {
			for at := range w.told.of {
				if x == y && crossed(a.told[i][at], b.told[j][at]) {
					return true
				}
			}
		}
	}
	return false
}

// weighNode weighs a node with as many pieces of the winding as it needs: the first, the last and that in the middle, and more between two
// where what is left is no straight line, or a reading may fit better there. A healthy circuit is weighed with every piece, since what is
// none of the faults reads half as that does. Readings that skip says are left out.
func (w *Weigher) weighNode(t *tally, weight float64, skip skipper) {
	n := &t.node
	w.draw(n)
	t.from = len(w.stretches)
	first, last := 0, len(w.windings)-1
	if n.fault == circuit.None || skip != nil || last-first < 3 {
		for i := first; i <= last; i++ {
			w.weighSpot(n, i, weight, skip)
		}
	} else {
		w.weighSpot(n, first, weight, skip)
		w.weighSpot(n, last, weight, skip)
		w.divide(n, first, last, -1, weight, skip)
	}
	for i := first; i <= last; i++ {
		w.addSpot(t, i)
	}
	w.whole += t.total
	t.to = len(w.stretches)
}

// divide weighs a node with pieces of the winding between two, where what is left cannot be told from these and a third; -1 is none.
func (w *Weigher) divide(n *node, lo, hi, third int, weight float64, skip skipper) {
	if hi-lo < 2 {
		return
	}
	if third >= 0 && w.plainly(lo, hi, third) {
		a, b := &w.spots[lo], &w.spots[hi]
		for i := lo + 1; i < hi; i++ {
			s := &w.spots[i]
			s.begin(*n, i, w.windings[i].Share, 0)
			s.pass(w.amid(lo, i, hi), w.curved(lo, i, hi, third), a, b)
		}
		return
	}
	middle := (lo + hi) / 2
	w.weighSpot(n, middle, weight, skip)
	w.divide(n, lo, middle, hi, weight, skip)
	w.divide(n, middle, hi, lo, weight, skip)
}

// amid returns where a piece of the winding is between two, 0 to 1.
func (w *Weigher) amid(lo, i, hi int) float64 {
	return (w.windings[i].Mean - w.windings[lo].Mean) / (w.windings[hi].Mean - w.windings[lo].Mean)
}

// curved returns the density of a node at a piece of the winding between two, by the parabola through these and a third.
func (w *Weigher) curved(lo, i, hi, third int) float64 {
	a, b, c := w.spots[lo].density(), w.spots[hi].density(), w.spots[third].density()
	t, at := w.amid(lo, i, hi), w.amid(lo, third, hi)
	bend := (c - (a + (b-a)*at)) / (at * (at - 1))
	return max(a+(b-a)*t+bend*t*(t-1), min(a, b)/2)
}

// plainly reports whether what is left of a node between two pieces of the winding can be told from these and a third: no reading may fit
// better between them, and the curve through the three is nearly a straight line.
func (w *Weigher) plainly(lo, hi, third int) bool {
	a, b := &w.spots[lo], &w.spots[hi]
	if w.crossed(&a.sides, &b.sides) {
		return false
	}
	x, y, z := a.density(), b.density(), w.spots[third].density()
	off, share := 0.0, 0.0
	for i := lo + 1; i < hi; i++ {
		t := w.amid(lo, i, hi)
		share += w.windings[i].Share
		off += w.windings[i].Share * math.Abs(w.curved(lo, i, hi, third)-(x*(1-t)+y*t))
	}
	const near, level = 3, 30 // three far apart may be on a straight line by chance, unless it is level
	return off < w.bendable() && (hi-lo <= near || (max(x, y, z)-min(x, y, z))*share < level*w.bendable())
}

// weighSpot weighs a node with one piece of the winding.
func (w *Weigher) weighSpot(n *node, i int, weight float64, skip skipper) {
	of := &w.windings[i]
	w.spot = &w.spots[i]
	w.spot.begin(*n, i, of.Share, len(w.readings))
	w.told.n = 0
	if !w.fix(n, of, skip) {
		w.spot.sides.note(w)
		return
	}
	mass := weight * of.Share * w.code(n, of)
	w.drives = append(w.drives[:0], circuit.Fully)
	if w.staged {
		w.along(&w.flow, n, of, 1, &w.current)
		w.drives = w.output.May(n.fault, w.current.Value, w.views[1].Volts, w.drives)
	}
	w.bundle()
	w.weigh(n, of, mass, skip)
	w.take(mass)
	w.spot.sides.note(w)
}

// take adds up what is left of a node with one piece of the winding, for each thing that the driver may do.
func (w *Weigher) take(mass float64) {
	s := w.spot
	for i := range w.bundles {
		b := &w.bundles[i]
		s.total += mass * b.chance * b.total
		s.held += mass * b.held * b.total
	}
	if w.last || s.total <= leastTried*w.whole {
		return
	}
	s.from = len(w.parts)
	for i := range w.drives {
		d, b := &w.drives[i], &w.bundles[w.bundled[i]]
		if m := mass * d.Chance * b.total; m > leastTried*w.whole {
			w.parts = append(w.parts, part{act: w.act(d), worst: b.worst, mass: m, right: float32(b.right)})
		}
	}
	s.to = len(w.parts)
}

// addSpot adds what is left of a node with one piece of the winding.
func (w *Weigher) addSpot(t *tally, i int) {
	s := &w.spots[i]
	if s.as == i {
		sum := s.total * s.times
		t.total += sum
		if sum > 0 && !w.brief {
			t.held += s.held * s.times
			for k := range w.readings {
				t.idle[k] += s.idle[k] * s.times
				t.less[k] += s.less[k] * s.times
			}
			t.addCoil(w.windings[i].Mean, sum)
		}
	}
	if w.last || s.total <= leastTried*w.whole {
		return
	}
	if as := &w.spots[s.as]; as.to > as.from {
		w.stretches = append(w.stretches, stretch{i, as.from, as.to, s.total / as.total})
	}
}
