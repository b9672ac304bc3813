// Package pair looks for two faults that together explain readings which one alone does not.
package pair

import (
	"math"
	"sort"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/measure"
	"ohmwright/core/portable"
)

// Readings are what two faults have to explain.
type Readings struct {
	Model   *circuit.Model
	Nominal circuit.Nominal // what is healthy, in the middle
	Coil    [2]float64      // the least and the largest healthy winding, in ohm
	Taken   []circuit.Reading
	Spare   [circuit.Faults]float64 // the least χ² of each fault alone if its worst reading is ignored
}

// firstOf is how many faults are tried as the first of a pair: those that fit best if their worst reading is ignored.
const firstOf = 3

// Explain returns two faults that together explain what one alone does not: those with the least misfit, taking their weights into
// account; None twice if no pair fits.
func (r *Readings) Explain() (best [2]circuit.Fault) {
	order := make([]circuit.Fault, 0, circuit.Faults-1)
	for f := circuit.None + 1; f <= circuit.DriverShorted; f++ {
		if r.Model.Weights[f] > 0 {
			order = append(order, f)
		}
	}
	least := math.Inf(1)
	sort.SliceStable(order, func(i, j int) bool { return measure.Rounded(r.Spare[order[i]]) < measure.Rounded(r.Spare[order[j]]) })
	for _, p := range r.pairs(order) {
		if p.rare >= least-1e-9 {
			break
		}
		misfit := r.misfitOf(p.of[0], p.of[1])
		if -portable.Log2(measure.ChiSquareTail(misfit, max(1, len(r.Taken)-2))) >= doubt.Surprising {
			continue
		}
		if score := misfit + p.rare; score < least-1e-9 {
			least, best = score, [2]circuit.Fault{min(p.of[0], p.of[1]), max(p.of[0], p.of[1])}
		}
	}
	return best
}

// A pair is two faults, and how rare they are together: −2 ln of their probability before the readings.
type pair struct {
	of   [2]circuit.Fault
	rare float64
}

// pairs returns the pairs to try, the commonest first.
func (r *Readings) pairs(order []circuit.Fault) (list []pair) {
	sum := r.Model.WeightSum()
	for i, a := range order[:min(firstOf, len(order))] {
		for j, b := range order {
			if j <= i && j < firstOf || a.Part() == b.Part() && !together(a, b) {
				continue
			}
			list = append(list, pair{[2]circuit.Fault{a, b}, -2 * portable.Log(r.Model.Weights[a]*r.Model.Weights[b]/(sum*sum))})
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return measure.Rounded(list[i].rare) < measure.Rounded(list[j].rare) })
	return list
}

// together reports whether two faults of one part can occur at once: only a leak with a fault along the wire.
func together(a, b circuit.Fault) bool {
	leaks := func(f circuit.Fault) bool {
		return f == circuit.WindingToCase || f == circuit.LeadToGround || f == circuit.HarnessToGround || f == circuit.HarnessToBattery
	}
	return leaks(a) != leaks(b)
}

// misfitOf returns the least sum of squared distances of the readings from two faults together. It searches a coarse grid of both
// parameters, then takes smaller and smaller steps from the best point, also in the winding.
func (r *Readings) misfitOf(a, b circuit.Fault) float64 {
	at := [3]float64{0, 0, 0.5}
	grid := func(f circuit.Fault) int {
		if _, _, _, ok := f.Limits(); !ok {
			return 0
		}
		return 5
	}
	least := math.Inf(1)
	try := func(p [3]float64) {
		if q := r.misfitAt(a, b, p); q < least {
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
func (r *Readings) misfitAt(a, b circuit.Fault, p [3]float64) (sum float64) {
	c := r.Model.Chain(&r.Nominal, r.Coil[0]+(r.Coil[1]-r.Coil[0])*p[2])
	c = c.With(a, r.Model.Parameter(a, p[0]), 0).With(b, r.Model.Parameter(b, p[1]), 0)
	var wanted circuit.Set
	for i := range r.Taken {
		wanted = wanted.With(r.Taken[i].Test)
	}
	var v circuit.View
	c.Values(wanted, &v)
	for _, t := range r.Taken {
		if value := v.On[t.Test].Value; t.Over || math.IsInf(value, 0) {
			if t.Over != math.IsInf(value, 0) {
				sum += doubt.Mismatch * doubt.Mismatch
			}
		} else { // not limited as in weighing: the search has to find its way from far off
			z := (t.Value - value) / r.Model.U(t.Test, value)
			sum += z * z
		}
	}
	return sum
}
