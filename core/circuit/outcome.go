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
	Fault    Fault // the likeliest in that case
	FaultP   float64
	Repair   Repair
	RepairP  float64
}

// likelyOutcome is the least probability of an outcome that is listed.
const likelyOutcome = 0.01

// ahead is how far, in probability, the likeliest repair of an outcome is ahead of the next at every value of its range: closer to
// where they change places the range is cut.
const ahead = 0.12

// A preview works out what a reading of one test would mean.
type preview struct {
	m      *Model
	t      Test
	list   []scenario
	plain  []scenario // of a healthy circuit
	likely float64    // the probability of those
}

// outcomes returns what a test may show, and what that would mean.
func (w *weigher) outcomes(t Test, list []scenario) (out []Outcome) {
	v := preview{m: w.m, t: t, list: list}
	for _, c := range list {
		if c.node.fault == None {
			v.plain = append(v.plain, c)
			v.likely += c.mass
		}
	}
	add := func(o Outcome, mass *[Faults]float64) {
		if o.mean(w.m, mass); o.P >= likelyOutcome {
			out = append(out, o)
		}
	}
	if words := t.Quantity().Words(); words != nil {
		for i, word := range words {
			var mass [Faults]float64
			for _, c := range list {
				q := c.words[t]
				if i == 0 {
					q = 1 - q
				}
				mass[c.node.fault] += c.mass * q
			}
			add(Outcome{Word: word}, &mass)
		}
		return out
	}
	for _, r := range v.ranges() {
		mass := v.between(r[0], r[1])
		add(Outcome{From: r[0], To: r[1]}, &mass)
	}
	if t.Quantity() == Ohms {
		mass := v.over()
		add(Outcome{From: math.Inf(-1), To: math.Inf(1), Over: true}, &mass)
	}
	return out
}

// at returns the density of each fault at a value.
func (v *preview) at(value float64) (mass [Faults]float64) {
	any := slip * v.m.anything(Reading{Test: v.t, Value: value})
	if v.t == Thermometer {
		any = slip / 200
	}
	healthy := 0.0
	for i := range v.list {
		c := &v.list[i]
		d := &c.shows[v.t]
		if c.plain {
			continue
		}
		p := any
		if z := (value - d.value) / d.u; z < 8 && z > -8 {
			p += (1 - slip) * math.Exp(-z*z/2) / (d.u * math.Sqrt2 * math.SqrtPi)
		}
		mass[c.node.fault] += c.mass * p
		if c.node.fault == None {
			healthy += c.mass * p
		}
	}
	if v.likely > 0 {
		healthy /= v.likely
	}
	for i := range v.list {
		if c := &v.list[i]; c.plain {
			mass[Other] += c.mass * (healthy + any/slip) / 2
		}
	}
	return mass
}

// over returns the probability of each fault together with OL.
func (v *preview) over() (mass [Faults]float64) {
	any := slip * v.m.anything(Reading{Test: v.t, Over: true})
	healthy := 0.0
	for i := range v.list {
		c := &v.list[i]
		p := any
		if math.IsInf(c.shows[v.t].value, 0) {
			p += 1 - slip
		}
		if c.node.fault == None {
			healthy = p
		}
		if c.plain {
			p = (healthy + any/slip) / 2
		}
		mass[c.node.fault] += c.mass * p
	}
	return mass
}

// between returns the probability of each fault together with a value in a range.
func (v *preview) between(from, to float64) (mass [Faults]float64) {
	for i := range v.list {
		c := &v.list[i]
		d := &c.shows[v.t]
		if !c.plain && !math.IsInf(d.value, 0) {
			mass[c.node.fault] += c.mass * (normal((to-d.value)/d.u) - normal((from-d.value)/d.u))
		}
	}
	return mass
}

// best returns the likeliest repair at a value, and whether it is well ahead of the next.
func (v *preview) best(value float64) (Repair, bool) {
	r := v.m.byRepair(v.at(value))
	sum, one, two := 0.0, Nothing, -1.0
	for i, q := range r {
		sum += q
		if q > r[one] {
			one = Repair(i)
		}
	}
	for i, q := range r {
		if Repair(i) != one {
			two = max(two, q)
		}
	}
	return one, r[one]-two > ahead*sum
}

// ranges returns the ranges of values that make one repair the likeliest, well ahead of the next.
func (v *preview) ranges() (list [][2]float64) {
	grid := v.grid()
	var open bool
	var from, last float64
	var of Repair
	end := func(to float64) {
		if open {
			list = append(list, [2]float64{from, to})
			open = false
		}
	}
	for i, at := range grid {
		r, sure := v.best(at)
		if open && (!sure || r != of) {
			end(v.turns(last, at, of))
		}
		if sure && !open {
			open, of, from = true, r, at
			switch {
			case i == 0 && at <= 0:
				from = math.Inf(-1)
			case i > 0:
				from = v.turns(at, grid[i-1], r)
			}
		}
		last = at
	}
	end(last)
	return list
}

// turns returns the last value from one where a repair is well ahead towards another where it is not.
func (v *preview) turns(in, out float64, of Repair) float64 {
	for range 5 {
		middle := (in + out) / 2
		if r, sure := v.best(middle); sure && r == of {
			in = middle
		} else {
			out = middle
		}
	}
	return in
}

// mostGrid is the most values at which what a reading would mean is worked out.
const mostGrid = 90

// grid returns the values at which to look: about the guesses, closer where there are more of them.
func (v *preview) grid() (grid []float64) {
	least := 0.0
	if v.t == Thermometer {
		least = -40
	}
	for i := range v.list {
		c := &v.list[i]
		d := c.shows[v.t]
		if c.plain || math.IsInf(d.value, 0) || c.mass < 1e-3 {
			continue
		}
		for _, z := range [...]float64{-4, -2.5, -1.2, 0, 1.2, 2.5, 4} {
			grid = append(grid, max(least, d.value+z*d.u))
		}
	}
	slices.Sort(grid)
	grid = slices.Compact(grid)
	if step := float64(len(grid)) / mostGrid; step > 1 {
		thin := grid[:0:0]
		for i := range mostGrid {
			thin = append(thin, grid[int(float64(i)*step)])
		}
		grid = append(thin, grid[len(grid)-1])
	}
	return grid
}

// mean sets what an outcome means, from the probabilities of the faults together with it.
func (o *Outcome) mean(m *Model, mass *[Faults]float64) {
	o.P = 0
	for _, q := range mass {
		o.P += q
	}
	if o.P == 0 {
		return
	}
	p := *mass
	for f := range p {
		p[f] /= o.P
		if p[f] > p[o.Fault] {
			o.Fault = Fault(f)
		}
	}
	r := m.byRepair(p)
	for i := range r {
		if r[i] > r[o.Repair] {
			o.Repair = Repair(i)
		}
	}
	o.FaultP, o.RepairP = p[o.Fault], r[o.Repair]
}
