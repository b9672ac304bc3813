package diagnosis

import (
	"math"
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
	"ohmwright/core/measure"
)

// An Outcome is something that a test may show, and what it would mean. Every value from From to To makes Repair the likeliest.
type Outcome struct {
	From, To float64      // a range of values; -Inf for From where it begins at the least that a meter shows
	Over     bool         // OL; From and To are then meaningless
	Word     circuit.Word // for a test that is read in words; From and To are then meaningless
	P        float64
	Fault    circuit.Fault // the likeliest of those that the repair puts right
	FaultP   float64
	Repair   circuit.Repair
	RepairP  float64
}

// likelyOutcome is the least probability of an outcome that is listed.
const likelyOutcome = 0.01

// outcomes returns what a test may show, and what that would mean: what the question would answer after that reading. Where two repairs
// are nearly as likely, no outcome is listed.
func (w prospect) outcomes(t circuit.Test, list []evidence.Scenario, readings []circuit.Reading) (out []Outcome) {
	add := func(o Outcome, repair circuit.Repair, mass *[circuit.Faults]float64) {
		if o.mean(w.m, repair, mass); o.P >= likelyOutcome {
			out = append(out, o)
		}
	}
	if words := t.Quantity().Words(); words != nil {
		for i, word := range words {
			after := w.Said(readings, circuit.Reading{Test: t, Word: word})
			if repair, clear := leads(&after, w.clearly(t)); clear {
				mass := worded(t, list, i == 1)
				w.shared(&mass, &after)
				add(Outcome{Word: word}, repair, &mass)
			}
		}
		return out
	}
	v := w.preview(t, list, readings)
	for _, r := range w.meanings(&v) {
		add(Outcome{From: r.from, To: r.to}, r.repair, &r.mass)
	}
	if t.Quantity() == circuit.Ohms {
		after := w.m.ByRepair(&v.over)
		if over, sure := leads(&after, w.clearly(t)); sure {
			add(Outcome{From: math.Inf(-1), To: math.Inf(1), Over: true}, over, &v.over)
		}
	}
	return out
}

// mean sets what an outcome means, from the repair and the probabilities of the faults together with it.
func (o *Outcome) mean(m *circuit.Model, repair circuit.Repair, mass *[circuit.Faults]float64) {
	o.Repair = repair
	best := -1.0
	for f, q := range mass {
		o.P += q
		if m.Repair(circuit.Fault(f)) == repair {
			o.RepairP += q
			if q > best {
				o.Fault, best = circuit.Fault(f), q
			}
		}
	}
	if o.P > 0 {
		o.FaultP, o.RepairP = best/o.P, o.RepairP/o.P
	}
}

// shared divides a probability among the faults anew: among the repairs as they are after an outcome, and among the faults of each as they
// were.
func (w prospect) shared(mass *[circuit.Faults]float64, after *[circuit.Repairs]float64) {
	sum, whole := w.m.ByRepair(mass), 0.0
	for _, q := range sum {
		whole += q
	}
	var given [circuit.Repairs]bool
	for f := range mass {
		switch r := w.m.Repair(circuit.Fault(f)); {
		case sum[r] > 0:
			mass[f] *= whole * after[r] / sum[r]
		case !given[r]:
			mass[f], given[r] = whole*after[r], true
		}
	}
}

// worded returns the probability of each fault together with a word: the one that is not healthy, or the other.
func worded(t circuit.Test, list []evidence.Scenario, bad bool) (mass [circuit.Faults]float64) {
	for i := range list {
		q := list[i].Words[t]
		if !bad {
			q = 1 - q
		}
		mass[list[i].Fault] += list[i].Mass * q
	}
	return mass
}

// couldShow returns the probability of each fault together with a value in a range.
func couldShow(t circuit.Test, list []evidence.Scenario, from, to float64) (mass [circuit.Faults]float64) {
	for i := range list {
		if d := &list[i].Shows[t]; !list[i].Plain && !math.IsInf(d.Value, 0) {
			mass[list[i].Fault] += list[i].Mass * (measure.Normal((to-d.Value)/d.U) - measure.Normal((from-d.Value)/d.U))
		}
	}
	return mass
}

// A preview is what a test would mean at values in ascending order.
type preview struct {
	test  circuit.Test
	grid  []float64
	after [][circuit.Repairs]float64 // at each, up to a factor
	// The probability of each fault together with a value up to the next of the grid, and with OL.
	until [][circuit.Faults]float64
	over  [circuit.Faults]float64
}

// preview works out what a test would mean.
func (w prospect) preview(t circuit.Test, list []evidence.Scenario, readings []circuit.Reading) preview {
	v := preview{test: t, grid: w.grid(t, list)}
	n := len(v.grid)
	v.after, v.until = make([][circuit.Repairs]float64, n), make([][circuit.Faults]float64, n)
	if evidence.Looks.Has(t) {
		for i, at := range v.grid {
			v.after[i] = w.After(readings, circuit.Reading{Test: t, Value: at})
		}
		for i := range n - 1 {
			v.until[i] = couldShow(t, list, v.grid[i], v.grid[i+1])
			between := v.after[i]
			for r, q := range v.after[i+1] {
				between[r] = (between[r] + q) / 2
			}
			w.shared(&v.until[i], &between)
		}
		return v
	}
	tried := w.Try(readings, t, v.grid)
	for i := range n {
		v.after[i] = w.m.ByRepair(&tried.After[i])
	}
	v.over = tried.Over
	whole := 0.0
	for i := range n - 1 {
		half := (v.grid[i+1] - v.grid[i]) / 2
		for f := range circuit.Faults {
			q := half * (tried.After[i][f] + tried.After[i+1][f])
			v.until[i][f] = q
			whole += q
		}
	}
	for _, q := range v.over {
		whole += q
	}
	v.divide(whole)
	return v
}

// divide makes probabilities of masses.
func (v *preview) divide(whole float64) {
	for f := range circuit.Faults {
		v.over[f] /= whole
		for i := range v.until {
			v.until[i][f] /= whole
		}
	}
}

// A meaning is a range of values that make one repair the likeliest.
type meaning struct {
	from, to float64
	repair   circuit.Repair
	mass     [circuit.Faults]float64 // the probability of each fault together with one of them
}

// meanings returns the ranges of values that make one repair the likeliest.
func (w prospect) meanings(v *preview) (ranges []meaning) {
	begin, of := -1, circuit.Nothing
	end := func(i int) {
		if begin >= 0 && i > begin {
			r := meaning{from: v.grid[begin], to: v.grid[i], repair: of}
			if begin == 0 && r.from <= 0 {
				r.from = math.Inf(-1)
			}
			for _, until := range v.until[begin:i] {
				for f, q := range until {
					r.mass[f] += q
				}
			}
			ranges = append(ranges, r)
		}
		begin = -1
	}
	for i := range v.grid {
		r, clear := leads(&v.after[i], w.clearly(v.test))
		if begin >= 0 && (!clear || r != of) {
			end(i - 1)
		}
		if clear && begin < 0 {
			begin, of = i, r
		}
	}
	end(len(v.grid) - 1)
	return ranges
}

// clearly returns how far, in probability, a repair has to be ahead of the next: further where parameters are divided less finely now
// than after the reading.
func (w prospect) clearly(t circuit.Test) float64 {
	if w.Numbers() < 2 || evidence.Looks.Has(t) {
		return 0.25
	}
	return 0.12
}

// leads returns the likeliest repair, and whether it is so far ahead of the next that the readings to come, which are rounded, cannot
// change their places.
func leads(p *[circuit.Repairs]float64, by float64) (one circuit.Repair, clear bool) {
	sum, two := 0.0, 0.0
	for r, q := range p {
		sum += q
		if q > p[one] {
			one = circuit.Repair(r)
		}
	}
	for r, q := range p {
		if circuit.Repair(r) != one {
			two = max(two, q)
		}
	}
	return one, p[one]-two > by*sum
}

const (
	mostGrid  = 120  // the most values about what is likely
	mostFull  = 240  // the most with the gaps filled
	leastPeak = 1e-4 // a less likely scenario is not looked at closely
	mostLooks = 2    // values of what changes what the other readings mean
)

// grid returns the values of a test at which to look: about what is likely, with the wide gaps filled, so that nothing between is
// overlooked.
func (w prospect) grid(t circuit.Test, list []evidence.Scenario) []float64 {
	least, most := 0.0, circuit.OverLimit
	switch t.Quantity() {
	case circuit.Degrees:
		least, most = -40, 250
	case circuit.Volts:
		most = 1.1*w.m.Supply + 2
	case circuit.Amperes:
		most = 100
	}
	var grid []float64
	for i := range list {
		c := &list[i]
		d := c.Shows[t]
		if c.Plain || math.IsInf(d.Value, 0) || c.Mass < leastPeak {
			continue
		}
		at := []float64{-4, -2.5, -1.2, 0, 1.2, 2.5, 4}
		if c.Mass < 10*leastPeak {
			at = at[2:5]
		}
		for _, z := range at {
			grid = append(grid, float64(float32(min(most, max(least, d.Value+z*d.U)))))
		}
	}
	slices.Sort(grid)
	grid = slices.Compact(grid)
	switch {
	case len(grid) == 0:
		return []float64{least}
	case evidence.Looks.Has(t):
		return thin(grid, mostLooks)
	}
	return w.filled(t, thin(grid, mostGrid))
}

// thin leaves n values, and the last.
func thin(grid []float64, n int) []float64 {
	if len(grid) <= n {
		return grid
	}
	out := make([]float64, 0, n+1)
	for i := range n {
		out = append(out, grid[i*len(grid)/n])
	}
	return append(out, grid[len(grid)-1])
}

// filled returns a grid with its wide gaps filled.
func (w prospect) filled(t circuit.Test, grid []float64) (full []float64) {
	step := func(a float64) float64 {
		switch t.Quantity() {
		case circuit.Volts:
			return 0.03 * w.m.Supply
		case circuit.Amperes:
			return 0.1*a + 0.02
		}
		return 0.12*a + 0.3
	}
	for i, b := range grid {
		if i > 0 {
			for a := grid[i-1] + step(grid[i-1]); a < b && len(full) < mostFull; a += step(a) {
				full = append(full, a)
			}
		}
		full = append(full, b)
	}
	return full
}
