package circuit

import (
	"cmp"
	"math"
	"slices"
)

// firstOf is how many faults are tried as the first of a pair: those that fit best if their worst reading is ignored.
const firstOf = 3

// pair returns two faults that together explain what one alone does not: those with the least misfit, taking their weights into
// account; None twice if no pair fits.
func (w *weigher) pair() (best [2]Fault) {
	order := make([]Fault, 0, Faults-1)
	for f := None + 1; f <= DriverShorted; f++ {
		if w.m.Weights[f] > 0 {
			order = append(order, f)
		}
	}
	slices.SortStableFunc(order, func(a, b Fault) int { return cmp.Compare(rounded(w.spare[a]), rounded(w.spare[b])) })
	sum := w.m.WeightSum()
	least := math.Inf(1)
	for i, a := range order[:min(firstOf, len(order))] {
		for j, b := range order {
			if j <= i && j < firstOf || faults[a].part == faults[b].part && !together(a, b) {
				continue
			}
			misfit := w.misfitOf(a, b)
			if -math.Log2(chiSquareTail(misfit, max(1, len(w.readings)-2))) >= Surprising {
				continue
			}
			score := misfit - 2*math.Log(w.m.Weights[a]*w.m.Weights[b]/(sum*sum))
			if score < least-1e-9 {
				least, best = score, [2]Fault{min(a, b), max(a, b)}
			}
		}
	}
	return best
}

// together reports whether two faults of one part can occur at once: only a leak with a fault along the wire.
func together(a, b Fault) bool {
	leaks := func(f Fault) bool {
		return f == WindingToCase || f == LeadToGround || f == HarnessToGround || f == HarnessToBattery
	}
	return leaks(a) != leaks(b)
}

// misfitOf returns the least sum of squared distances of the readings from two faults together. It searches a coarse grid of both
// parameters, then takes smaller and smaller steps from the best point, also in the winding.
func (w *weigher) misfitOf(a, b Fault) float64 {
	at := [3]float64{0, 0, 0.5}
	grid := func(f Fault) int {
		if (faults[f].spread == spread{}) {
			return 0
		}
		return 5
	}
	least := math.Inf(1)
	try := func(p [3]float64) {
		if q := w.misfitAt(a, b, p); q < least {
			least, at = q, p
		}
	}
	for i := range grid(a) + 1 {
		for j := range grid(b) + 1 {
			try([3]float64{float64(i) / max(1, float64(grid(a))), float64(j) / max(1, float64(grid(b))), 0.5})
		}
	}
	for step := 0.1; step > 0.003; step /= 2 {
		for k := range at {
			if k == 0 && grid(a) == 0 || k == 1 && grid(b) == 0 {
				continue
			}
			from := at
			for _, d := range [2]float64{-step, step} {
				p := from
				p[k] = min(1, max(0, p[k]+d))
				try(p)
			}
		}
	}
	return least
}

// misfitAt returns the sum for two faults with their parameters and the winding at p, 0 to 1 each.
func (w *weigher) misfitAt(a, b Fault, p [3]float64) (sum float64) {
	c := w.m.chain(&w.typical, w.coil[0]+(w.coil[2]-w.coil[0])*p[2])
	c = c.with(a, w.m.spread(a).at(p[0]), 0).with(b, w.m.spread(b).at(p[1]), 0)
	var v view
	c.predict(w.wanted, &v)
	for _, r := range w.readings {
		if value := v.on[r.Test].value; r.Over || math.IsInf(value, 0) {
			if r.Over != math.IsInf(value, 0) {
				sum += mismatch * mismatch
			}
		} else { // not limited as in chance: the search has to find its way from far off
			z := (r.Value - value) / w.m.U(r.Test, value)
			sum += z * z
		}
	}
	return sum
}
