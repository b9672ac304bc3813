package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/measure"
)

// A sceneOf is what a reading should be at one value of the winding.
type sceneOf struct {
	circuit.Sight
	off circuit.Sight
}

// narrow is the ratio of the largest to the least winding below which one look in the middle, with its slope, is good enough.
const narrow = 1.35

// sweep solves a fault in one of its ways for all of its parameters, about one of them, and for three values of the winding, or the middle
// one.
func (w *Weigher) sweep(n node, wanted circuit.Set) {
	w.m.Sweep(&w.typical, n.fault, n.way, n.x.Mean, w.coil[1], wanted, &w.swept)
	for i, coil := range w.coil {
		if !w.narrow || i == 1 {
			w.swept.Wind(coil, &w.wounds[i])
		}
	}
}

// look works out what the tests that were swept should read at a parameter.
func (w *Weigher) look(x float64) {
	for i := range w.coil {
		if !w.narrow || i == 1 {
			w.wounds[i].At(x, &w.views[i])
		}
	}
}

// asSound sets what some tests should read to what they read in a healthy circuit.
func (w *Weigher) asSound(same circuit.Set) {
	for i := range w.views {
		v, sound := &w.views[i], &w.sound[i]
		if same == w.wanted {
			*v = *sound
			continue
		}
		for t := range circuit.Test(circuit.Tests) {
			if same.Has(t) {
				v.On[t], v.Off[t] = sound.On[t], sound.Off[t]
			}
		}
	}
}

// A bend is what is seen at three values of the winding, and the curve through them; in a narrow range only that in the middle counts.
type bend struct {
	lo, middle, hi *circuit.Sight
	doubt.Curve
}

// on, off and inside return what tests read with the driver on and off, and the volts inside the unit with it off and on.
func (w *Weigher) on(t circuit.Test) bend {
	return bend{lo: &w.views[0].On[t], middle: &w.views[1].On[t], hi: &w.views[2].On[t]}
}

func (w *Weigher) off(t circuit.Test) bend {
	return bend{lo: &w.views[0].Off[t], middle: &w.views[1].Off[t], hi: &w.views[2].Off[t]}
}

func (w *Weigher) inside(k int) bend {
	return bend{lo: &w.views[0].Inside[k], middle: &w.views[1].Inside[k], hi: &w.views[2].Inside[k]}
}

// draw draws the curve through what was looked at.
func (b *bend) draw(narrow bool) {
	if !narrow {
		b.Curve = doubt.Through(b.lo.Value, b.middle.Value, b.hi.Value)
	}
}

// along works out what is seen at one value of the winding, with slopes for one standard deviation of each knob.
func (w *Weigher) along(b *bend, n *node, of *doubt.Winding, factor float64, s *circuit.Sight) {
	u := &w.doubts
	u[circuit.CoilKnob], u[circuit.FaultKnob] = of.U*factor, n.x.U
	if w.narrow {
		*s = *b.middle
		if s.Value <= math.MaxFloat64 {
			s.Value += s.By[circuit.CoilKnob] * (of.Mean*factor - w.coil[1])
		}
		for k := range s.By {
			s.By[k] *= u[k]
		}
		return
	}
	at := w.place(of.Mean * factor)
	if s.Value = b.middle.Value; s.Value <= math.MaxFloat64 {
		s.Value = b.Curve.At(at)
	}
	from, to, share := &b.lo.By, &b.middle.By, 2*at
	if at > 0.5 {
		from, to, share = to, &b.hi.By, 2*at-1
	}
	if share > 1 {
		share = 1
	} else if share < 0 {
		share = 0
	}
	for k := range s.By {
		s.By[k] = (from[k] + (to[k]-from[k])*share) * u[k]
	}
}

// place returns where a winding is between the least and the largest, 0 to 1.
func (w *Weigher) place(coil float64) float64 {
	if span := w.coil[2] - w.coil[0]; span > 0 {
		return (coil - w.coil[0]) / span
	}
	return 0.5
}

// see works out what a test should read at one value of the winding, and what it would read if the driver stayed off.
func (w *Weigher) see(t circuit.Test, n *node, of *doubt.Winding, factor float64, s *sceneOf) {
	b := bent{on: w.on(t), off: w.off(t)}
	b.draw(w.narrow)
	w.view(t, &b, n, of, factor, s)
}

// A bent is what a test should read with the driver on, and off.
type bent struct{ on, off bend }

func (b *bent) draw(narrow bool) {
	b.on.draw(narrow)
	b.off.draw(narrow)
}

// view is seen, from curves that are drawn.
func (w *Weigher) view(t circuit.Test, b *bent, n *node, of *doubt.Winding, factor float64, s *sceneOf) {
	w.along(&b.on, n, of, factor, &s.Sight)
	if circuit.Staged.Has(t) {
		w.along(&b.off, n, of, factor, &s.off)
	}
}

// idling returns what a test reads while the driver is not on, and the variance of a reading about that.
func (w *Weigher) idling(t circuit.Test, s *sceneOf, supply float64) (value, variance float64) {
	value, doubt := w.atSupply(t, s.off.Value, supply)
	common, own := w.doubters[t].At(value)
	variance = common*common + own
	for _, by := range s.off.By {
		variance += by * by
	}
	return value, variance + doubt*doubt
}

// guess works out what a test should read, with what the driver leaves of it.
func (w *Weigher) guess(t circuit.Test, s *sceneOf, l *circuit.Left, supply float64, g *doubt.Guess) {
	g.Shared = [doubt.Columns]float64{}
	copy(g.Shared[:], s.By[:])
	g.Value = s.Value
	if share := l.Share; share != 1 || l.U != 0 {
		by := s.Value - s.off.Value
		g.Value = s.off.Value + share*by
		longer := 0.0 // what lets less current flow makes the driver stay on for longer
		if l.Holds {
			longer = share * by / w.current.Value
		}
		for k := range circuit.Knobs {
			g.Shared[k] = s.off.By[k] + share*(s.By[k]-s.off.By[k]) - longer*w.current.By[k]
		}
		g.Shared[doubt.DriveColumn] = by * l.U
	}
	g.Value, g.Shared[doubt.SupplyColumn] = w.atSupply(t, g.Value, supply)
	g.Shared[doubt.MeterColumn+t.Quantity()], g.Own = w.doubters[t].At(g.Value)
}

// atSupply returns what a test reads at a supply over that of the model, and the standard uncertainty that the supply leaves in it. No
// resistance hangs on the supply.
func (w *Weigher) atSupply(t circuit.Test, value, supply float64) (scaled, doubt float64) {
	if q := t.Quantity(); q != circuit.Volts && q != circuit.Amperes {
		return value, 0
	}
	value *= supply
	return value, value * w.supplyU[t]
}

// supplyDoubt returns the standard uncertainty of the supply of a test, over the supply. Where it was measured while driven, it is the
// meter's for whatever is measured then.
func (w *Weigher) supplyDoubt(t circuit.Test) float64 {
	if w.driven > 0 && circuit.Staged.Has(t) {
		return w.m.Meters[circuit.Volts].U(w.driven*w.m.Supply) / (w.driven * w.m.Supply)
	}
	return measure.Rectangular(w.m.SupplyWithin) / w.m.Supply
}
