package circuit

import "math"

// A Finding is what readings say of a circuit.
type Finding struct {
	Faults  []Chance[Fault]  // likeliest first, sum 1
	Repairs []Chance[Repair] // the same by what mends them
	Next    []Next           // tests not yet made, best first
	// Test says that another test pays; the first of Next. Else Repairs' best by cost is Repair, and Cost what being wrong is
	// expected to cost.
	Test    bool
	Repair  Repair
	RepairP float64
	Cost    float64
	// Alone says that the repair rests on one reading: without On it would be doubtful.
	Alone bool
	On    Test
	// Surprise is how unlikely it is, in bits, that readings lie as far from the best single fault as these do. Worst is the
	// reading without which they would fit best.
	Surprise float64
	Worst    Test
	// Pair are two faults that together explain what one does not; both None where none do or none are needed.
	Pair [2]Fault
}

// Surprising is the surprise from which readings are said not to fit: less than one in 128 by chance.
const Surprising = 7

// Find weighs the faults by the readings and ranks the tests.
//
//	p(fault | readings) ∝ weight × ∫∫ p(readings | fault, parameter, winding) d(parameter) d(winding)
//
// Of several readings of one test the last counts. It ignores readings of tests that are not possible for the side and the
// return. Source: Bayes' rule; the model is common practice. Checked against an exact integration written apart from this
// package (testdata/evaluate.py).
func (m *Model) Find(readings []Reading) Finding {
	w := newWeigher(m, readings)
	w.all()
	p := w.chances()
	r := byRepair(p)
	f := Finding{Faults: ranked[Fault](p[:]), Repairs: ranked[Repair](r[:])}
	var made uint16
	for _, k := range w.readings {
		made |= 1 << k.Test
	}
	f.Next = w.next(p, made)
	f.Cost, f.Repair = m.stop(&r)
	f.RepairP = r[f.Repair]
	f.Test = len(f.Next) > 0 && f.Next[0].Value > 0
	f.On, f.Alone = w.alone(f.Repair, f.RepairP)
	f.Surprise = w.surprise()
	f.Worst = w.worst()
	if f.Surprise >= Surprising {
		f.Pair = w.pair()
	}
	return f
}

// alone finds the reading without which a likely repair would be doubtful: the one that leaves it least likely.
func (w *weigher) alone(r Repair, p float64) (on Test, alone bool) {
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

// surprise is that of the readings, in bits.
//
//	−log₂ P(χ² ≥ misfit), with a degree of freedom for each reading but the one that the fault's parameter takes up
func (w *weigher) surprise() float64 {
	if len(w.readings) == 0 || w.misfit <= 0 {
		return 0
	}
	return max(0, -math.Log2(chiSquareTail(w.misfit, max(1, len(w.readings)-1))))
}

// worst is the reading without which a single fault would fit best.
func (w *weigher) worst() (worst Test) {
	least := math.Inf(1)
	for k, q := range w.without {
		if q < least-1e-9 {
			least, worst = q, w.readings[k].Test
		}
	}
	return worst
}

// chiSquareTail is the probability that χ² of n degrees of freedom is x or more: the sum that partial integration gives.
//
//	n even: e^(−x/2) Σ (x/2)^k/k!;  n odd: erfc(√(x/2)) + e^(−x/2) Σ (x/2)^(k−½)/Γ(k+½)
func chiSquareTail(x float64, n int) float64 {
	h := x / 2
	sum, term := 0.0, math.Exp(-h)
	k := 0.0
	if n%2 == 1 {
		sum = math.Erfc(math.Sqrt(h))
		term *= math.Sqrt(h) / (math.SqrtPi / 2)
		k = 0.5
	}
	for range n / 2 {
		sum += term
		k++
		term *= h / k
	}
	return min(1, max(sum, leastTail))
}

// leastTail is what is told of a probability too small for a number: so a surprise stays finite.
const leastTail = 1e-300
