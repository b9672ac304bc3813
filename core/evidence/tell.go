package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/measure"
	"ohmwright/core/pair"
	"ohmwright/core/portable"
	"ohmwright/core/selfcheck"
)

// Alone returns the reading without which a likely repair would be doubtful. Of several, it is the one that lowers it most.
func (w *Weigher) Alone(r circuit.Repair, p float64) (on circuit.Test, alone bool) {
	const likely, doubtful = 0.9, 0.8
	if p < likely {
		return 0, false
	}
	least := doubtful
	for k := range w.readings {
		if q := w.leaving(k, r); q < least-1e-9 {
			least, on, alone = q, w.readings[k].Test, true
		}
	}
	return on, alone
}

// Sets returns the kinds of code that a likely fault sets, as large as the readings have it.
func (w *Weigher) Sets(f circuit.Fault) []circuit.Code {
	s := &w.heaviest[f]
	if s.mass <= 0.01*w.whole {
		return nil
	}
	return selfcheck.SetBy(w.m, w.m.Chain(&w.typical, s.wound.Mean).With(f, s.x.Mean, s.way))
}

// Held returns the probability that the driver stays off although nothing is wrong with it.
func (w *Weigher) Held() float64 { return w.held / w.whole }

// Idle returns the tests on a driver that was probably not on, although it was told to be.
func (w *Weigher) Idle(held float64) (list []circuit.Test) {
	const likely = 0.15
	for k, r := range w.readings {
		switch r.Test {
		case circuit.VoltsPinOn, circuit.CurrentOn, circuit.VoltsReturn:
			if w.idle[k]/w.whole+held > likely {
				list = append(list, r.Test)
			}
		}
	}
	return list
}

// Coil returns the mean of the winding's resistance as it is, shorted turns and all, where it is of one piece.
func (w *Weigher) Coil() float64 {
	if w.wholes == 0 {
		return math.Inf(1)
	}
	return w.ohms / w.wholes
}

// addCoil adds what is left of a node with a healthy winding of r ohms to that mean.
func (t *tally) addCoil(r, mass float64) {
	switch t.fault {
	case circuit.WindingShorted:
		r *= 1 - t.x.Mean
	case circuit.OtherRow:
		r *= t.x.Mean
	case circuit.WindingHigh, circuit.LeadHigh:
		r += t.x.Mean
	case circuit.WindingOpen, circuit.LeadOpen:
		return
	}
	t.ohms, t.wholes = t.ohms+mass*r, t.wholes+mass
}

// Surprise returns the surprise of the readings, in bits.
//
//	−log₂ P(χ² ≥ misfit), with one degree of freedom less than readings, for the fault's parameter, but at least one
func (w *Weigher) Surprise() float64 {
	if len(w.readings) == 0 || w.misfit <= 0 {
		return 0
	}
	return max(0, -portable.Log2(measure.ChiSquareTail(min(w.misfit, absurd), max(1, len(w.readings)-1))))
}

// Worst returns the reading without which a single fault would fit best.
func (w *Weigher) Worst() (worst circuit.Test) {
	least := math.Inf(1)
	for k, q := range w.without {
		if k == 0 || q < least-1e-9 {
			least, worst = q, w.readings[k].Test
		}
	}
	return worst
}

// Pair returns two faults that together explain what one alone does not; None twice if no pair fits.
func (w *Weigher) Pair() [2]circuit.Fault {
	r := pair.Readings{Model: w.m, Nominal: w.typical, Coil: [2]float64{w.coil[0], w.coil[2]}, Taken: w.readings, Spare: w.spare}
	return r.Explain()
}

// Plausible returns how likely readings as far from a healthy circuit's are in one; 0 if none of them can be.
func (w *Weigher) Plausible() float64 {
	if math.IsInf(w.plainest, 0) {
		return 0
	}
	return measure.ChiSquareTail(w.plainest, max(1, len(w.readings)))
}
