package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
)

// negligible is the share of all mass below which a sample cannot matter, even with its worst reading left out; negligibleTried is the
// same where only masses are asked for.
const (
	negligible      = 1e-10
	negligibleTried = 1e-6
)

// absurd is a χ² from which nothing but rounding is left of a sample.
const absurd = 1e8

// keep works out what is left of a bundle: with all readings right, or one of them simply wrong. Its mass is that before the readings.
// Without the worst reading χ² is at least what the second is off.
func (w *Weigher) keep(n *node, b *bundle, mass float64, s *stand) {
	j, f, sure, off := &w.joint, n.fault, s.sure, s.off
	likely := j.Density()
	least := negligible
	if w.brief {
		least = negligibleTried
	}
	const much = 4 // below that it is not worth working out
	most := w.anyMost * j.Top
	if s.second > much {
		most *= doubt.Falling(s.second)
	}
	if j.Chi2 > absurd || f != circuit.None && mass*sure*(likely+most) < least*w.whole {
		return
	}
	j.Leaving(&w.others, &w.falls)
	total, largest, fall, worst := (1-slip)*likely, 0.0, 0.0, int8(-1)
	scale := mass * sure
	for a, k := range w.index[:j.N] {
		without := w.others[a]
		undriven := w.undriven(k) * without
		w.spot.idle[k] += scale * undriven
		wrong := slip*w.any[k]*without + undriven
		total += wrong
		if wrong > largest {
			largest, worst = wrong, int8(k)
		}
		w.spot.less[k] += scale * without
		if w.falls[a] > fall {
			fall = w.falls[a]
		}
		if !f.ComesAndGoes() {
			less(&w.without[k], j.Chi2+off-w.falls[a])
		}
	}
	if s.alone != 0 {
		w.keepSure(f, mass*likely*sure, s)
	}
	if !f.ComesAndGoes() {
		less(&w.misfit, j.Chi2+off)
	}
	if f == circuit.None && b.sound {
		less(&w.plainest, j.Chi2+off)
	}
	gap := off - doubt.Mismatch*doubt.Mismatch
	if gap < 0 {
		gap = 0
	}
	less(&w.spare[f], j.Chi2+gap-fall)
	b.total, b.right, b.worst = sure*total, (1-slip)*likely/total, worst
}

// keepSure is the part of keep for readings that are OL or should be.
func (w *Weigher) keepSure(f circuit.Fault, mass float64, s *stand) {
	for k := range w.readings {
		if s.alone>>k&1 == 0 {
			continue
		}
		x, gap := w.fits[k], s.off
		if x.apart {
			gap -= doubt.Mismatch * doubt.Mismatch
		}
		w.spot.less[k] += mass / x.sure
		if !f.ComesAndGoes() {
			less(&w.without[k], w.joint.Chi2+gap)
		}
	}
}

// less lowers a least value; in js/wasm the built-in min of floats is a call.
func less(least *float64, v float64) {
	if v < *least {
		*least = v
	}
}

// notOn is how likely a reading on a driver that is told to be on is taken while it is not: not commanded, or kept off by a
// stored code. Common practice.
const notOn = 0.03

// undriven returns the density of a reading that was taken while the driver was not on, as it should have been.
func (w *Weigher) undriven(k int) float64 {
	r, idle := &w.readings[k], &w.idles[k]
	switch {
	case *idle >= 0:
	case driven(r.Test):
		off, v := w.idling(r.Test, &w.scene[k], w.supply[k])
		z2 := (r.Value - off) * (r.Value - off) / v
		*idle = notOn * doubt.Falling(z2) / math.Sqrt(2*math.Pi*v)
	default:
		*idle = 0
	}
	return *idle
}
