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
	peaks  []peak
	masses [Repairs]float64 // of the scenarios, but for what reads anything
	plain  float64          // the mass of that
	likely float64          // the probability of a healthy circuit
}

// A peak is what a scenario makes of the density of the values that a test may show.
type peak struct {
	mean, u, height float64
	repair          Repair
	healthy         bool
}

// newPreview gathers the peaks of a test.
func (w *weigher) newPreview(t Test, list []scenario) preview {
	v := preview{m: w.m, t: t, list: list, peaks: w.peaks[:0]}
	for i := range list {
		c := &list[i]
		if c.plain {
			v.plain += c.mass
			continue
		}
		v.masses[c.repair] += c.mass
		healthy := c.node.fault == None
		if healthy {
			v.likely += c.mass
		}
		if d := c.shows[t]; t.Quantity() <= Degrees && !math.IsInf(d.value, 0) {
			height := (1 - slip) * c.mass / (d.u * math.Sqrt2 * math.SqrtPi)
			if n := len(v.peaks); n > 0 { // what stands for nearly the same is one
				p := &v.peaks[n-1]
				if p.repair == c.repair && p.healthy == healthy && math.Abs(p.mean-d.value) < 0.2*d.u && math.Abs(p.u-d.u) < 0.1*d.u {
					p.height += height
					continue
				}
			}
			v.peaks = append(v.peaks, peak{d.value, d.u, height, c.repair, healthy})
		}
	}
	w.peaks = v.peaks
	return v
}

// outcomes returns what a test may show, and what that would mean.
func (w *weigher) outcomes(t Test, list []scenario) (out []Outcome) {
	v := w.newPreview(t, list)
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

// at returns the density of each repair at a value.
func (v *preview) at(value float64) (mass [Repairs]float64) {
	any := 1.0 / 200
	if v.t != Thermometer {
		any = v.m.anything(Reading{Test: v.t, Value: value})
	}
	for r, q := range v.masses {
		mass[r] = slip * any * q
	}
	healthy := slip * any * v.likely
	for i := range v.peaks {
		p := &v.peaks[i]
		if z := (value - p.mean) / p.u; z < 7 && z > -7 {
			d := p.height * math.Exp(-z*z/2)
			mass[p.repair] += d
			if p.healthy {
				healthy += d
			}
		}
	}
	if v.likely > 0 {
		healthy /= v.likely
	}
	mass[Unexplained] += v.plain * (healthy + any) / 2
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
	r := v.at(value)
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
const mostGrid = 60

// grid returns the values at which to look: about the guesses, closer where there are more of them.
func (v *preview) grid() (grid []float64) {
	least := 0.0
	if v.t == Thermometer {
		least = -40
	}
	for _, d := range v.peaks {
		if d.height*d.u < 3e-4 {
			continue
		}
		for _, z := range [...]float64{-4, -2.5, -1.2, 0, 1.2, 2.5, 4} {
			grid = append(grid, max(least, d.mean+z*d.u))
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
