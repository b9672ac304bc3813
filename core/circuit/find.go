package circuit

import "math"

// A Finding is what readings tell about a circuit.
type Finding struct {
	Faults  []Chance[Fault]  // likeliest first, sum 1
	Repairs []Chance[Repair] // the same by repair
	Next    []Next           // tests not made yet, best first
	// Test means that another test pays, the first of Next. Otherwise Repair is the one with the least expected cost of being
	// wrong, which is Cost.
	Test    bool
	Repair  Repair
	RepairP float64
	Cost    float64
	// Alone means that the repair depends on one reading, that of On: without it the repair would be doubtful.
	Alone bool
	On    Test
	// Surprise is how unlikely it is, in bits, that readings are as far from the best single fault as these. Worst is the
	// reading without which the others fit best.
	Surprise float64
	Worst    Test
	// Held is the probability that the driver stays off although it is told to be on and is sound: a stored code keeps it off, or it
	// has tripped.
	Held float64
	// Plausible is how likely readings as far from a healthy circuit's are in one.
	Plausible float64
	// Coil is the resistance of the winding as the readings have it, in ohm.
	Coil     float64
	chances  [Faults]float64
	outcomes func(Test) []Outcome
	idle     []Test         // tests on a driver that was probably not on, although it was told to be
	taken    []Reading      // the readings that count
	setsOf   [Faults][]Code // the kinds of code that each fault sets, as large as the readings have it
	// Pair is two faults that together explain what one alone does not; both are None if none is needed or none is found.
	Pair [2]Fault
}

// Surprising is the surprise from which readings do not fit a single fault: less than one in 128 by chance.
const Surprising = 7

// Find returns the probabilities of the faults after the readings, and ranks the tests.
//
//	p(fault | readings) ∝ weight × ∫∫∫ p(readings | fault, parameter, winding, doubts) d(parameter) d(winding) d(doubts)
//
// Parameter and winding are divided into pieces, and what the driver does into cases; within each, the readings have a joint normal
// distribution, whose covariance holds the doubts that they share. Of several readings of one test the last counts. It
// ignores readings of tests that are not possible for the side and the return. Source: Bayes' rule; the model is common
// practice. Checked against an exact integration that uses nothing of this package (testdata/evaluate.py).
func (m *Model) Find(readings []Reading) Finding {
	w := newWeigher(m, readings)
	w.all()
	p := w.chances()
	r := m.byRepair(p)
	f := Finding{Faults: ranked[Fault](p[:]), Repairs: ranked[Repair](r[:]), chances: p}
	f.Next, f.outcomes = w.next(p, readings)
	f.Cost, f.Repair = m.stop(&r)
	f.RepairP = r[f.Repair]
	f.Test = len(f.Next) > 0 && f.Next[0].Value > 0
	f.On, f.Alone = w.alone(f.Repair, f.RepairP)
	f.Surprise = w.surprise()
	f.Worst = w.worst()
	f.Held = w.held()
	f.idle = w.idleTest(f.Held)
	f.Plausible = chiSquareTail(w.plainest, max(1, len(w.readings)))
	f.Coil = w.coilNow()
	f.taken = m.latest(readings)
	f.setsOf = w.sets()
	if f.Surprise >= Surprising {
		f.Pair = w.pair()
	}
	return f
}

// alone returns the reading without which a likely repair would be doubtful. Of several, it is the one that lowers it most.
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

// sets returns the kinds of code that each likely fault sets, as large as the readings have it.
func (w *weigher) sets() (of [Faults][]Code) {
	var best [Faults]*sample
	for i := range w.samples {
		s := &w.samples[i]
		if b := best[s.node.fault]; b == nil || s.mass > b.mass {
			best[s.node.fault] = s
		}
	}
	for f, s := range best {
		if s != nil && s.mass > 0.01*w.whole {
			of[f] = w.m.set(w.m.chain(&w.typical, s.wound.mean).with(Fault(f), s.node.x.mean, s.node.way))
		}
	}
	return of
}

// held returns the probability that the driver stays off although nothing is wrong with it.
func (w *weigher) held() float64 {
	sum := 0.0
	for i := range w.samples {
		if s := &w.samples[i]; s.drive.share < 0.5 && !s.drive.holds && s.drive.load == 1 {
			sum += s.mass
		}
	}
	return sum / w.whole
}

// idleTest returns the tests on a driver that was probably not on, although it was told to be.
func (w *weigher) idleTest(held float64) (list []Test) {
	const likely = 0.15
	for k, r := range w.readings {
		switch r.Test {
		case VoltsPinOn, CurrentOn, VoltsReturn:
			if w.idle[k]/w.whole+held > likely {
				list = append(list, r.Test)
			}
		}
	}
	return list
}

// coilNow returns the mean of the winding's resistance as it is, shorted turns and all, where it is of one piece.
func (w *weigher) coilNow() float64 {
	sum, mass := 0.0, 0.0
	for i := range w.samples {
		s := &w.samples[i]
		r := s.wound.mean
		switch s.node.fault {
		case WindingShorted:
			r *= 1 - s.node.x.mean
		case OtherRow:
			r *= s.node.x.mean
		case WindingHigh, LeadHigh:
			r += s.node.x.mean
		case WindingOpen, LeadOpen, Other:
			continue
		}
		sum, mass = sum+s.mass*r, mass+s.mass
	}
	if mass == 0 {
		return math.Inf(1)
	}
	return sum / mass
}

// surprise returns the surprise of the readings, in bits.
//
//	−log₂ P(χ² ≥ misfit), with one degree of freedom less than readings, for the fault's parameter, but at least one
func (w *weigher) surprise() float64 {
	if len(w.readings) == 0 || w.misfit <= 0 {
		return 0
	}
	return max(0, -math.Log2(chiSquareTail(w.misfit, max(1, len(w.readings)-1))))
}

// worst returns the reading without which a single fault would fit best.
func (w *weigher) worst() (worst Test) {
	least := math.Inf(1)
	for k, q := range w.without {
		if q < least-1e-9 {
			least, worst = q, w.readings[k].Test
		}
	}
	return worst
}

// chiSquareTail returns the probability that χ² with n degrees of freedom is x or more, as a sum from partial integration.
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

// leastTail is the least probability that is returned, so that a surprise stays finite.
const leastTail = 1e-300
