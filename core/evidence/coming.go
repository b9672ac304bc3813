package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/measure"
)

// How a fault that comes and goes shows while it is measured: this share of the readings is taken while it is there.
const (
	shareThere     = 0.15
	shareUnitThere = 0.05 // of a control unit, which nobody moves or warms
)

// weighComing weighs a fault that comes and goes: the circuit reads healthy, but for readings that were taken while it was there.
func (w *Weigher) weighComing(f circuit.Fault) {
	w.weighOne(node{f, 0, doubt.Piece{Share: 1}}, w.prior(f), w.coming(f))
}

// coming has all tests read as in a healthy circuit, and returns what leaves out the readings that were taken while a fault was there.
func (w *Weigher) coming(f circuit.Fault) skipper {
	as := [...]circuit.Fault{circuit.HarnessOpen, circuit.LeadOpen, circuit.PathOpen, circuit.DriverNever}[f-circuit.ComesGoesHarness]
	bad := &w.bad[f-circuit.ComesGoesHarness]
	var v circuit.View
	c := w.m.Chain(&w.typical, w.coil[1]).With(as, 0, 0)
	c.Predict(w.wanted, &v)
	for t := range bad {
		bad[t] = v.On[t].Value
	}
	w.asSound(w.wanted)
	return func(k int, g *doubt.Guess) (float64, bool) {
		r := w.readings[k]
		if r.Over && math.IsInf(g.Value, 0) {
			return 1, false
		}
		if !r.Over && !math.IsInf(g.Value, 0) && (r.Value-g.Value)*(r.Value-g.Value) < 16*g.Variance() {
			return 1, false
		}
		return w.whileThere(f, r, w.supply[k], w.any[k]), true
	}
}

// whileThere returns the density of a reading, or the chance of OL, that is taken while a fault that comes and goes is there; any is that
// of a reading that is simply wrong.
func (w *Weigher) whileThere(f circuit.Fault, r circuit.Reading, supply, any float64) float64 {
	share := shareThere
	if f == circuit.ComesGoesUnit {
		share = shareUnitThere
	}
	bad := w.bad[f-circuit.ComesGoesHarness][r.Test]
	like := 0.0
	switch {
	case math.IsInf(bad, 0) && r.Over:
		like = 1
	case math.IsInf(bad, 0) || r.Over:
	default:
		bad, doubt := w.atSupply(r.Test, bad, supply)
		common, own := w.doubters[r.Test].At(bad)
		like = measure.Density(r.Value, bad, math.Sqrt(doubt*doubt+common*common+own))
	}
	return share * (0.9*like + 0.02*any)
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
	w.joinOther(mass)
}
