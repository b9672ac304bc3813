package circuit

import (
	"math"
	"slices"
)

// An Outcome is something that a test may show, and what it would mean. Every value from From to To makes Repair the likeliest.
type Outcome struct {
	From, To float64 // a range of values; -Inf for From where it begins at the least that a meter shows
	Over     bool    // OL; From and To are then meaningless
	Word     Word    // for a test that is read in words; From and To are then meaningless
	P        float64
	Fault    Fault // the likeliest of those that the repair puts right
	FaultP   float64
	Repair   Repair
	RepairP  float64
}

// likelyOutcome is the least probability of an outcome that is listed.
const likelyOutcome = 0.01

// outcomes returns what a test may show, and what that would mean: what the question would answer after that reading. Where two repairs
// are nearly as likely, no outcome is listed.
func (w *weigher) outcomes(t Test, list []scenario, readings []Reading) (out []Outcome) {
	add := func(o Outcome, repair Repair, mass [Faults]float64) {
		if o.mean(w.m, repair, &mass); o.P >= likelyOutcome {
			out = append(out, o)
		}
	}
	if words := t.Quantity().Words(); words != nil {
		for i, word := range words {
			after := w.m.weighed(readings, Reading{Test: t, Word: word})
			if repair, clear := leads(&after, w.clearly()); clear {
				add(Outcome{Word: word}, repair, worded(t, list, i == 1))
			}
		}
		return out
	}
	ranges, over, sure := w.meanings(t, list, readings)
	for _, r := range ranges {
		add(Outcome{From: r.from, To: r.to}, r.repair, couldShow(t, list, r.from, r.to))
	}
	if t.Quantity() == Ohms && sure {
		add(Outcome{From: math.Inf(-1), To: math.Inf(1), Over: true}, over, shut(t, list))
	}
	return out
}

// mean sets what an outcome means, from the repair and the probabilities of the faults together with it.
func (o *Outcome) mean(m *Model, repair Repair, mass *[Faults]float64) {
	o.Repair = repair
	best := -1.0
	for f, q := range mass {
		o.P += q
		if m.Repair(Fault(f)) == repair {
			o.RepairP += q
			if q > best {
				o.Fault, best = Fault(f), q
			}
		}
	}
	if o.P > 0 {
		o.FaultP, o.RepairP = best/o.P, o.RepairP/o.P
	}
}

// worded returns the probability of each fault together with a word: the one that is not healthy, or the other.
func worded(t Test, list []scenario, bad bool) (mass [Faults]float64) {
	for i := range list {
		q := list[i].words[t]
		if !bad {
			q = 1 - q
		}
		mass[list[i].node.fault] += list[i].mass * q
	}
	return mass
}

// shut returns the probability of each fault together with OL.
func shut(t Test, list []scenario) (mass [Faults]float64) {
	for i := range list {
		if c := &list[i]; !c.plain && math.IsInf(c.shows[t].value, 0) {
			mass[c.node.fault] += c.mass
		}
	}
	return mass
}

// couldShow returns the probability of each fault together with a value in a range.
func couldShow(t Test, list []scenario, from, to float64) (mass [Faults]float64) {
	for i := range list {
		if d := &list[i].shows[t]; !list[i].plain && !math.IsInf(d.value, 0) {
			mass[list[i].node.fault] += list[i].mass * (normal((to-d.value)/d.u) - normal((from-d.value)/d.u))
		}
	}
	return mass
}

// A meaning is a range of values that make one repair the likeliest.
type meaning struct {
	from, to float64
	repair   Repair
}

// meanings returns the ranges of values that make one repair the likeliest, and the repair that OL makes the likeliest, if one is.
func (w *weigher) meanings(t Test, list []scenario, readings []Reading) (ranges []meaning, over Repair, sure bool) {
	grid := w.grid(t, list)
	after := make([][Repairs]float64, len(grid))
	if t == Thermometer || t == SupplyDriven { // these change what the other readings mean
		for i, at := range grid {
			after[i] = w.m.weighed(readings, Reading{Test: t, Value: at})
		}
	} else {
		r := w.m.try(readings, t, grid, w.alive)
		over, sure = leads(&r.over, w.clearly())
		after = r.after
	}
	begin, of := -1, Nothing
	end := func(i int) {
		if begin >= 0 && i > begin {
			from := grid[begin]
			if begin == 0 && from <= 0 {
				from = math.Inf(-1)
			}
			ranges = append(ranges, meaning{from, grid[i], of})
		}
		begin = -1
	}
	for i := range grid {
		r, clear := leads(&after[i], w.clearly())
		if begin >= 0 && (!clear || r != of) {
			end(i - 1)
		}
		if clear && begin < 0 {
			begin, of = i, r
		}
	}
	end(len(grid) - 1)
	return ranges, over, sure
}

// weighed returns the probabilities of the repairs after one more reading.
func (m *Model) weighed(readings []Reading, more Reading) [Repairs]float64 {
	w := newWeigher(m, append(slices.Clone(readings), more))
	w.all()
	return m.byRepair(w.chances())
}

// clearly returns how far, in probability, a repair has to be ahead of the next: further where parameters are divided less finely now
// than after the reading.
func (w *weigher) clearly() float64 {
	if len(w.readings) < 2 {
		return 0.25
	}
	return 0.12
}

// leads returns the likeliest repair, and whether it is so far ahead of the next that the readings to come, which are rounded, cannot
// change their places.
func leads(p *[Repairs]float64, by float64) (one Repair, clear bool) {
	sum, two := 0.0, 0.0
	for r, q := range p {
		sum += q
		if q > p[one] {
			one = Repair(r)
		}
	}
	for r, q := range p {
		if Repair(r) != one {
			two = max(two, q)
		}
	}
	return one, p[one]-two > by*sum
}

const (
	mostGrid  = 120  // the most values about what is likely
	mostFull  = 240  // the most with the gaps filled
	leastPeak = 1e-4 // a less likely scenario is not looked at closely
	mostLooks = 4    // values of what changes what the other readings mean
)

// grid returns the values of a test at which to look: about what is likely, with the wide gaps filled, so that nothing between is
// overlooked.
func (w *weigher) grid(t Test, list []scenario) []float64 {
	least, most := 0.0, OverLimit
	switch t.Quantity() {
	case Degrees:
		least, most = -40, 250
	case Volts:
		most = 1.1*w.m.Supply + 2
	case Amperes:
		most = 100
	}
	var grid []float64
	for i := range list {
		c := &list[i]
		d := c.shows[t]
		if c.plain || math.IsInf(d.value, 0) || c.mass < leastPeak {
			continue
		}
		at := []float64{-4, -2.5, -1.2, 0, 1.2, 2.5, 4}
		if c.mass < 10*leastPeak {
			at = at[2:5]
		}
		for _, z := range at {
			grid = append(grid, min(most, max(least, d.value+z*d.u)))
		}
	}
	slices.Sort(grid)
	grid = slices.Compact(grid)
	switch {
	case len(grid) == 0:
		return []float64{least}
	case t == Thermometer || t == SupplyDriven:
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
func (w *weigher) filled(t Test, grid []float64) (full []float64) {
	step := func(a float64) float64 {
		switch t.Quantity() {
		case Volts:
			return 0.03 * w.m.Supply
		case Amperes:
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
