package circuit

import (
	"cmp"
	"math"
	"slices"
)

// How finely looking ahead divides what is still possible.
const (
	perFault   = 6    // parts of a fault's probability
	leastMass  = 3e-4 // a less probable fault is left out
	leastDrive = 0.07 // what a driver does less often is left out
)

// A case is a part of what is still possible: a fault, and what each test not made yet would read.
type scenario struct {
	sample
	repair Repair
	plain  bool // it reads what a healthy circuit would read, or anything
	shows  [Tests]doubtful
	words  [Tests]float64 // how likely the ohms jump, or the row does not apply
}

// scenarios divides what is still possible, and works out what the wanted tests would read.
func (w *weigher) scenarios(p [Faults]float64, wanted set) (list []scenario) {
	for _, s := range w.merged(p) {
		list = w.foresee(list, s, wanted)
	}
	return list
}

// merged returns the samples joined into a few for each fault, whose parameters and windings are as wide as those that they stand
// for.
func (w *weigher) merged(p [Faults]float64) (list []sample) {
	type group struct {
		sample
		best, x, xx, r, rr, t, tt float64
		wound                     wound
	}
	var open []group
	flush := func(g *group) {
		m := g.mass
		part := func(sum, squares float64) (mean, u float64) {
			mean = sum / m
			return mean, math.Sqrt(max(0, squares/m-mean*mean))
		}
		s := g.sample
		s.node.x.mean, s.node.x.u = part(g.x, g.xx)
		of := wound{}
		of.mean, of.u = part(g.r, g.rr)
		of.at, of.within = part(g.t, g.tt)
		s.wound, s.mass = &of, m/w.whole
		list = append(list, s)
	}
	var fault Fault
	end := func() {
		for i := range open {
			flush(&open[i])
		}
		open = open[:0]
	}
	for _, s := range w.samples {
		f := s.node.fault
		if f != fault {
			end()
			fault = f
		}
		if p[f] < leastMass || s.mass < 1e-4*w.mass[f] {
			continue
		}
		i := slices.IndexFunc(open, func(g group) bool {
			return g.node.way == s.node.way && g.drive.share == s.drive.share && g.drive.load == s.drive.load
		})
		if i < 0 {
			open = append(open, group{sample: s})
			i = len(open) - 1
			open[i].mass = 0
		}
		g := &open[i]
		if s.mass > g.best {
			g.best, g.node = s.mass, s.node
		}
		x, c, m := s.node.x, s.wound, s.mass
		g.mass += m
		g.x, g.xx = g.x+m*x.mean, g.xx+m*(x.mean*x.mean+x.u*x.u)
		g.r, g.rr = g.r+m*c.mean, g.rr+m*(c.mean*c.mean+c.u*c.u)
		g.t, g.tt = g.t+m*c.at, g.tt+m*(c.at*c.at+c.within*c.within)
		if g.mass > w.mass[f]/perFault {
			flush(g)
			open = slices.Delete(open, i, i+1)
		}
	}
	end()
	return list
}

// foresee adds the scenarios of a sample: one for each thing that the driver may do, unless a reading has told.
func (w *weigher) foresee(list []scenario, s sample, wanted set) []scenario {
	n := s.node
	if n.fault == Other || n.fault.ComesAndGoes() {
		n = node{fault: None}
	}
	w.look(n, wanted|w.wanted|told)
	drives := append(w.drives[:0], s.drive)
	drives[0].chance = 1
	w.current = w.along(&w.views[0].on[CurrentOn], &w.views[1].on[CurrentOn], &w.views[2].on[CurrentOn], &n, s.wound, 1)
	if !w.staged {
		drives = w.m.drives(n.fault, w.current.value, w.normal, w.views[1].volts, drives)
	}
	w.drives = drives
	for k, r := range w.readings {
		w.scene[k] = w.seen(r.Test, &n, s.wound, w.factor[k])
	}
	kept := 0.0
	for _, d := range drives {
		if d.chance >= leastDrive {
			kept += d.chance
		}
	}
	for i := range drives {
		d := &drives[i]
		if d.chance < leastDrive {
			continue
		}
		c := scenario{sample: s, repair: w.m.Repair(s.node.fault), plain: s.node.fault == Other}
		c.mass *= d.chance / kept
		w.condition(d)
		for t := range Test(Tests) {
			switch {
			case !wanted.has(t):
			case t.Quantity() > Degrees:
				c.words[t] = wordly(s.node.fault, t)
			case t == Thermometer:
				c.shows[t] = doubtful{s.wound.at, math.Hypot(s.wound.within, thermometerWithin/math.Sqrt(3))}
			default:
				v := w.seen(t, &n, s.wound, 1)
				var g guess
				w.guess(t, &v, d, w.supplyOf(t), &g)
				c.shows[t] = doubtful{g.value, 0}
				if !math.IsInf(g.value, 0) {
					c.shows[t].value, c.shows[t].u = w.joint.given(&g)
				}
			}
		}
		list = append(list, c)
	}
	return list
}

// supplyOf returns the supply that a test not made yet has, over that of the model.
func (w *weigher) supplyOf(t Test) float64 {
	if w.driven > 0 && staged.has(t) {
		return w.driven
	}
	return 1
}

// condition prepares the readings at hand, so that their shared doubts tell of the tests to come. A reading that does not fit is
// left out.
func (w *weigher) condition(d *drive) {
	j := &w.joint
	j.n = 0
	for k, r := range w.readings {
		g := &w.fixed[k].guess
		w.guess(r.Test, &w.scene[k], d, w.supply[k], g)
		off := r.Value - g.value
		if r.Over || math.IsInf(g.value, 0) || off*off > 16*g.variance() {
			continue
		}
		j.g[j.n], j.off[j.n] = g, off
		j.n++
	}
	j.factor()
}

// bins is the most outcomes of a test, including OL.
const bins = 10

// An outlook is what a test that is not made yet would show: for each scenario, how likely each outcome is.
type outlook struct {
	test  Test
	cost  float64
	n     int         // of outcomes
	edges []float64   // between the outcomes that are values, ascending; the last outcome is OL
	first []uint8     // for each scenario, its first possible outcome
	p     [][]float64 // for each scenario, the probabilities from that outcome on
}

// outlook divides what a test may show into outcomes.
func (w *weigher) outlook(t Test, list []scenario) outlook {
	o := outlook{test: t, cost: w.m.Minutes[t] / 60 * w.m.Hour, first: make([]uint8, len(list)), p: make([][]float64, len(list))}
	if t.Quantity() > Degrees {
		o.n = 2
		for i := range list {
			q := list[i].words[t]
			o.p[i] = []float64{1 - q, q}
		}
		return o
	}
	o.edges = edges(t, list)
	o.n = len(o.edges) + 2
	all := make([]float64, 0, 4*len(list))
	var healthy [bins]float64
	for i := range list {
		c := &list[i]
		from := len(all)
		d := c.shows[t]
		switch {
		case c.plain:
			o.first[i] = 0
			all = append(all, make([]float64, o.n)...)
		case math.IsInf(d.value, 0):
			o.first[i] = uint8(o.n - 1)
			all = append(all, 1)
		default:
			o.first[i], all = o.spread(d, all)
		}
		o.p[i] = all[from:len(all):len(all)]
		if c.node.fault == None {
			for k, q := range o.p[i] {
				healthy[int(o.first[i])+k] += q * c.mass
			}
		}
	}
	o.fillPlain(list, &healthy)
	return o
}

// fillPlain sets the outcomes of what is none of the faults: half what a healthy circuit gives, half anything.
func (o *outlook) fillPlain(list []scenario, healthy *[bins]float64) {
	if o.test == Thermometer || o.test == SupplyDriven { // these tell of the other readings, not of themselves
		*healthy = [bins]float64{}
		for i := range list {
			if !list[i].plain {
				for k, q := range o.p[i] {
					healthy[int(o.first[i])+k] += q * list[i].mass
				}
			}
		}
	}
	sum := 0.0
	for _, q := range healthy {
		sum += q
	}
	for i := range list {
		if !list[i].plain {
			continue
		}
		for k := range o.p[i] {
			o.p[i][k] = 0.5 / float64(o.n)
			switch {
			case sum > 0 && (o.test == Thermometer || o.test == SupplyDriven):
				o.p[i][k] = healthy[k] / sum
			case sum > 0:
				o.p[i][k] += 0.5 * healthy[k] / sum
			default:
				o.p[i][k] *= 2
			}
		}
	}
}

// spread adds the probabilities of the outcomes of a value, and returns the first that is possible.
func (o *outlook) spread(d doubtful, all []float64) (uint8, []float64) {
	k := 0
	for k < len(o.edges) && o.edges[k] < d.value-4*d.u {
		k++
	}
	first := uint8(k)
	below := 0.0
	for ; k < len(o.edges) && o.edges[k] < d.value+4*d.u; k++ {
		q := normal((o.edges[k] - d.value) / d.u)
		all = append(all, q-below)
		below = q
	}
	return first, append(all, 1-below)
}

// edges divides the values that a test may show into parts of equal probability, and where the gaps between guesses are largest.
func edges(t Test, list []scenario) []float64 {
	order := make([]*scenario, 0, len(list))
	whole := 0.0
	for i := range list {
		if c := &list[i]; !c.plain && !math.IsInf(c.shows[t].value, 0) {
			order = append(order, c)
			whole += c.mass
		}
	}
	slices.SortStableFunc(order, func(a, b *scenario) int { return cmp.Compare(a.shows[t].value, b.shows[t].value) })
	type gap struct{ at, width float64 }
	var gaps []gap
	var out []float64
	const equal = 5
	next, sum := whole/equal, 0.0
	for k := 0; k+1 < len(order); k++ {
		a, b := order[k].shows[t], order[k+1].shows[t]
		width := (b.value - a.value) / (a.u + b.u)
		at := (a.value*b.u + b.value*a.u) / (a.u + b.u)
		if width > 0.7 {
			gaps = append(gaps, gap{at, width})
		}
		if sum += order[k].mass; sum >= next && width > 0.05 {
			out = append(out, at)
			next = sum + whole/equal
		}
	}
	slices.SortStableFunc(gaps, func(a, b gap) int { return cmp.Compare(b.width, a.width) })
	for _, g := range gaps {
		if len(out) >= bins-2 {
			break
		}
		if !slices.Contains(out, g.at) {
			out = append(out, g.at)
		}
	}
	slices.Sort(out)
	return out
}
