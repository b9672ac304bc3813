package evidence

import (
	"math"

	"ohmwright/core/circuit"
)

// How a fault that comes and goes shows while it is measured: this share of the readings is taken while it is there.
const (
	whileThere     = 0.15
	whileUnitThere = 0.05 // of a control unit, which nobody moves or warms
)

// weighComing weighs a fault that comes and goes: the circuit reads healthy, but for readings that were taken while it was there.
func (w *Weigher) weighComing(f circuit.Fault) {
	as := [...]circuit.Fault{circuit.HarnessOpen, circuit.LeadOpen, circuit.PathOpen, circuit.DriverNever}[f-circuit.ComesGoesHarness]
	bad := &w.bad[f-circuit.ComesGoesHarness]
	var v circuit.View
	c := w.m.Chain(&w.typical, w.coil[1]).With(as, 0, 0)
	c.Predict(w.wanted, &v)
	for t := range bad {
		bad[t] = v.On[t].Value
	}
	w.look(node{fault: circuit.None}, w.wanted)
	w.weighNode(node{f, 0, piece{share: 1}}, w.prior(f), func(k int, g *guess) (float64, bool) {
		r, b := w.readings[k], bad[w.readings[k].Test]
		apart := math.Inf(1)
		if !r.Over && !math.IsInf(g.value, 0) {
			apart = (r.Value - g.value) * (r.Value - g.value) / g.variance()
		}
		if r.Over && math.IsInf(g.value, 0) || apart < 16 {
			return 1, false
		}
		there := 0.02 * w.any[k]
		switch {
		case math.IsInf(b, 0) && r.Over:
			there += 0.9
		case math.IsInf(b, 0) || r.Over:
		default:
			common, own := w.m.Doubts(r.Test, b)
			z2 := (r.Value - b) * (r.Value - b) / (common*common + own)
			there += 0.9 * math.Exp(-z2/2) / math.Sqrt(2*math.Pi*(common*common+own))
		}
		if f == circuit.ComesGoesUnit {
			return whileUnitThere * there, true
		}
		return whileThere * there, true
	})
}

// weighOther weighs what is none of the faults: each reading is half what a healthy circuit gives, half anything.
func (w *Weigher) weighOther() {
	mass := w.prior(circuit.Other)
	for k, r := range w.readings {
		plain := w.plain[k]
		if r.Over && math.IsInf(w.m.Predict(r.Test, circuit.None, 0, w.coil[1]), 0) {
			plain = 1
		}
		mass *= (plain + w.any[k]) / 2
	}
	for k := range w.readings {
		w.less[k][circuit.Other] += mass / max(1e-300, (w.plain[k]+w.any[k])/2)
	}
	w.mass[circuit.Other] += mass
	w.whole += mass
	w.samples = append(w.samples, sample{node{circuit.Other, 0, piece{share: 1}}, &w.windings[len(w.windings)/2], fully, mass})
}
