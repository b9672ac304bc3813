package circuit

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// A sample is a fault with a parameter and a winding, standing for a share of what is left possible.
type sample struct {
	fault  Fault
	weight float64
	x      float64
	t      float64 // where between the least and the largest healthy winding
}

// perFault is into how many parts a fault's parameter is cut for looking ahead, perWinding the healthy winding.
const (
	perFault   = 10
	perWinding = 3
	leastMass  = 5e-4 // of a fault that looking ahead still considers
)

// samples draws the possibilities that are left, each fault's parameter and winding cut into parts of equal probability.
func (w *weigher) samples(p [Faults]float64) (list []sample) {
	for f := range Fault(Faults) {
		if p[f] < leastMass {
			continue
		}
		for _, g := range parts(w.nodes[f]) {
			for i := range perWinding {
				list = append(list, sample{f, p[f] * g.mass / perWinding, g.x, w.t[quantile(g.by, (float64(i)+0.5)/perWinding)]})
			}
		}
	}
	return list
}

// A piece is a run of nodes that together stand for about a perFault-th of a fault.
type piece struct {
	mass, x float64
	by      []float64 // over the winding
}

func parts(nodes []node) (list []piece) {
	whole := 0.0
	for i := range nodes {
		whole += nodes[i].likely * nodes[i].share
	}
	if whole == 0 {
		return nil
	}
	var mass, heaviest float64
	var g piece
	for i := range nodes {
		q := nodes[i].likely * nodes[i].share / whole
		if g.by == nil {
			g.by = make([]float64, len(nodes[i].by))
		}
		for k, l := range nodes[i].by {
			g.by[k] += l * nodes[i].share
		}
		if q >= heaviest {
			heaviest, g.x = q, nodes[i].x
		}
		g.mass += q
		mass += q
		if g.mass >= 1.0/perFault || i == len(nodes)-1 && g.mass > 0 {
			list = append(list, g)
			g, heaviest = piece{}, 0
		}
	}
	return list
}

// quantile is the place at which the share q of a distribution lies below.
func quantile(by []float64, q float64) int {
	sum := 0.0
	for _, l := range by {
		sum += l
	}
	at := 0.0
	for i, l := range by {
		if at += l; at >= q*sum {
			return i
		}
	}
	return len(by) - 1
}

// bins is how many outcomes of a test are told apart, OL among them.
const bins = 14

// An outlook is what a test not yet made would show: for each sample, how likely each outcome is.
type outlook struct {
	test  Test
	cost  float64
	edges []float64 // between the outcomes that are values, ascending; the outcome after them is OL
	first []uint8   // of the outcomes that a sample can have
	p     [][]float64
}

// look predicts the tests not yet made.
func (w *weigher) look(list []sample, made uint16) (out []outlook) {
	var wanted uint16
	for t := range Test(Tests) {
		if t.Possible(w.m.Side, w.m.Return) && made>>t&1 == 0 {
			wanted |= 1 << t
		}
	}
	var healthy [Tests]curve
	for t := range healthy {
		healthy[t] = through(w.healthy[0][t], w.healthy[1][t], w.healthy[2][t])
	}
	values := make([][Tests]float64, len(list))
	for i, s := range list {
		if i > 0 && list[i-1].fault == s.fault && list[i-1].x == s.x && list[i-1].t == s.t {
			values[i] = values[i-1]
			continue
		}
		for t := range healthy {
			values[i][t] = healthy[t].at(s.t)
		}
		c := w.m.healthy(w.m.Min+(w.m.Max-w.m.Min)*s.t).with(s.fault, s.x)
		c.predict(wanted&touched(s.fault), &values[i])
	}
	for t := range Test(Tests) {
		if wanted>>t&1 == 1 {
			out = append(out, w.outlook(t, list, values))
		}
	}
	return out
}

func (w *weigher) outlook(t Test, list []sample, values [][Tests]float64) outlook {
	o := outlook{test: t, cost: w.m.Minutes[t] / 60 * w.m.Hour, first: make([]uint8, len(list)), p: make([][]float64, len(list))}
	var finite []guess
	var mass []float64
	us := make([]float64, len(list))
	for i, s := range list {
		v := values[i][t]
		if math.IsInf(v, 0) {
			continue
		}
		// A sample stands for its neighbourhood: half way to the next of its fault on either side.
		var step float64
		for _, k := range [2]int{1, perWinding} {
			for _, j := range [2]int{i + k, i - k} {
				if j >= 0 && j < len(list) && list[j].fault == s.fault && !math.IsInf(values[j][t], 0) {
					d := values[j][t] - v
					step += d * d / 12
					break
				}
			}
		}
		u := w.m.U(t, v)
		us[i] = math.Sqrt(u*u + step)
		finite = append(finite, guess{v, us[i]})
		mass = append(mass, s.weight)
	}
	o.edges = edges(finite, mass)
	all := make([]float64, 0, 3*len(list))
	for i := range list {
		v := values[i][t]
		from := len(all)
		if math.IsInf(v, 0) {
			o.first[i] = uint8(len(o.edges) + 1)
			all = append(all, 1)
		} else {
			k := 0
			for k < len(o.edges) && o.edges[k] < v-4*us[i] {
				k++
			}
			o.first[i] = uint8(k)
			below := 0.0
			for ; k < len(o.edges) && o.edges[k] < v+4*us[i]; k++ {
				q := normal((o.edges[k] - v) / us[i])
				all = append(all, q-below)
				below = q
			}
			all = append(all, 1-below)
		}
		o.p[i] = all[from:len(all):len(all)]
	}
	return o
}

// normal is Φ, the distribution function of the standard normal distribution, between −4 and 4: from a table, as looking ahead
// asks for it ten thousand times; off by less than 1e-5.
func normal(z float64) float64 {
	const from, steps = 4.0, 64.0
	at := (z + from) * steps
	if at <= 0 {
		return 0
	}
	table := normalTable()
	i := int(at)
	if i >= len(table)-1 {
		return 1
	}
	return table[i] + (table[i+1]-table[i])*(at-float64(i))
}

var normalTable = sync.OnceValue(func() *[513]float64 {
	var table [513]float64
	for i := range table {
		table[i] = math.Erfc((4-float64(i)/64)/math.Sqrt2) / 2
	}
	return &table
})

// edges cuts the values that a test may show where the largest gaps between predictions are, and into parts of equal
// probability.
func edges(list []guess, mass []float64) []float64 {
	if len(list) < 2 {
		return nil
	}
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(list[a].value, list[b].value) })
	type gap struct{ at, width float64 }
	var gaps []gap
	var out []float64
	whole, sum := 0.0, 0.0
	for _, q := range mass {
		whole += q
	}
	const equal = 7
	next := whole / equal
	for k := 0; k+1 < len(order); k++ {
		a, b := list[order[k]], list[order[k+1]]
		width := (b.value - a.value) / (a.u + b.u)
		at := (a.value*b.u + b.value*a.u) / (a.u + b.u)
		if width > 0.7 {
			gaps = append(gaps, gap{at, width})
		}
		if sum += mass[order[k]]; sum >= next && width > 0.05 {
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

// A tally is how probable each repair is together with each outcome.
type tally [bins][Repairs]float64

// count fills a tally of a test's outcomes, each sample having a weight.
func (o *outlook) count(list []sample, weights []float64, into *tally) {
	for k := range len(o.edges) + 2 {
		into[k] = [Repairs]float64{}
	}
	for i, wt := range weights {
		if wt == 0 {
			continue
		}
		r := faults[list[i].fault].repair
		k := int(o.first[i])
		for _, q := range o.p[i] {
			into[k][r] += wt * q
			k++
		}
	}
}

// stop is the least expected cost of repairing now, with probabilities that may sum to less than 1.
func (m *Model) stop(p *[Repairs]float64) (cost float64, best Repair) {
	sum := 0.0
	for _, q := range p {
		sum += q
	}
	cost = math.Inf(1)
	for r, q := range p {
		if c := m.Wrong[r] * max(0, sum-q); c < cost {
			cost, best = c, Repair(r)
		}
	}
	return cost, best
}

// after is the expected cost of the best way on from a tally: to repair after each outcome.
func (m *Model) after(o *outlook, t *tally) (cost float64) {
	for k := range len(o.edges) + 2 {
		c, _ := m.stop(&t[k])
		cost += c
	}
	return cost
}

// A Next is a test not yet made.
type Next struct {
	Test     Test
	Bits     float64 // expected gain of information about the fault
	Minutes  float64
	Value    float64 // expected saving of making it, in the currency of the costs: below 0 it does not pay
	Outcomes []Outcome
}

// An Outcome is what a test may show, and what that would mean.
type Outcome struct {
	From, To float64 // a range of values; From is -Inf and To +Inf where it has no end
	Over     bool    // OL; then From and To mean nothing
	P        float64
	Fault    Fault // the likeliest then
	FaultP   float64
	Repair   Repair
	RepairP  float64
}

// next ranks the tests not yet made by what they save, looking two tests ahead.
func (w *weigher) next(p [Faults]float64, made uint16) []Next {
	list := w.samples(p)
	looks := w.look(list, made)
	weights := make([]float64, len(list))
	var now [Repairs]float64
	sum := 0.0
	for i, s := range list {
		weights[i] = s.weight
		now[faults[s.fault].repair] += s.weight
		sum += s.weight
	}
	stop, _ := w.m.stop(&now)
	out := make([]Next, len(looks))
	tells := make([]bool, len(looks)) // anything at all
	then := make([]float64, len(list))
	var first, second tally
	for i := range looks {
		o := &looks[i]
		out[i] = Next{Test: o.test, Minutes: w.m.Minutes[o.test]}
		byFault := o.faults(list)
		out[i].Bits = rounded(bits(byFault))
		out[i].Outcomes = o.outcomes(byFault)
		tells[i] = out[i].Bits > 0
	}
	for i := range looks {
		o := &looks[i]
		o.count(list, weights, &first)
		cost := o.cost * sum
		for k := range len(o.edges) + 2 {
			best, _ := w.m.stop(&first[k])
			reached := 0.0
			for _, q := range first[k] {
				reached += q
			}
			if best > 0.5*reached { // half a unit of money: nothing to be gained by looking further
				for s := range list {
					then[s] = 0
					if at := k - int(o.first[s]); at >= 0 && at < len(o.p[s]) {
						then[s] = weights[s] * o.p[s][at]
					}
				}
				for j := range looks {
					if j == i || !tells[j] || looks[j].cost*reached >= best {
						continue
					}
					looks[j].count(list, then, &second)
					best = min(best, looks[j].cost*reached+w.m.after(&looks[j], &second))
				}
			}
			cost += best
		}
		out[i].Value = rounded(stop - cost)
	}
	slices.SortStableFunc(out, func(a, b Next) int {
		return cmp.Or(cmp.Compare(b.Value, a.Value), cmp.Compare(a.Test.String(), b.Test.String()))
	})
	return out
}

// rounded is a difference of larger numbers without what rounding leaves of it, which is another on each machine.
func rounded(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// faults is how probable each fault is together with each outcome.
func (o *outlook) faults(list []sample) (by [][Faults]float64) {
	by = make([][Faults]float64, len(o.edges)+2)
	for i, s := range list {
		k := int(o.first[i])
		for _, q := range o.p[i] {
			by[k][s.fault] += s.weight * q
			k++
		}
	}
	return by
}

// bits is the mutual information of fault and outcome.
func bits(by [][Faults]float64) float64 {
	var marginal [Faults]float64
	joint, outcome := 0.0, 0.0
	for k := range by {
		sum := 0.0
		for f, q := range by[k] {
			marginal[f] += q
			joint += entropy(q)
			sum += q
		}
		outcome += entropy(sum)
	}
	apart := outcome
	whole := 0.0
	for _, q := range marginal {
		apart += entropy(q)
		whole += q
	}
	if whole == 0 {
		return 0
	}
	return max(0, (apart-joint-entropy(whole))/whole)
}

func entropy(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return -p * math.Log2(p)
}

// likelyOutcome is the least probability of an outcome worth telling.
const likelyOutcome = 0.01

// outcomes tells what the outcomes of a test would mean; neighbours that mean the same are one.
func (o *outlook) outcomes(by [][Faults]float64) (list []Outcome) {
	type merged struct {
		Outcome
		faults [Faults]float64
	}
	var all []merged
	for k := range by {
		c := merged{Outcome{From: math.Inf(-1), To: math.Inf(1), Over: k == len(o.edges)+1}, by[k]}
		if k > 0 && k <= len(o.edges) {
			c.From = o.edges[k-1]
		}
		if k < len(o.edges) {
			c.To = o.edges[k]
		}
		c.mean(c.faults)
		if c.P < 1e-9 {
			continue
		}
		if n := len(all); n > 0 && !c.Over && all[n-1].Repair == c.Repair && all[n-1].Fault == c.Fault {
			last := &all[n-1]
			for f, q := range c.faults {
				last.faults[f] += q
			}
			last.To = c.To
			last.mean(last.faults)
			continue
		}
		all = append(all, c)
	}
	for _, c := range all {
		if c.P >= likelyOutcome {
			list = append(list, c.Outcome)
		}
	}
	return list
}

// mean fills in what an outcome means from the probabilities of the faults together with it.
func (c *Outcome) mean(p [Faults]float64) {
	c.P = 0
	for _, q := range p {
		c.P += q
	}
	if c.P == 0 {
		return
	}
	for f := range p {
		p[f] /= c.P
	}
	f, r := ranked[Fault](p[:])[0], byRepair(p)
	best := ranked[Repair](r[:])[0]
	c.Fault, c.FaultP, c.Repair, c.RepairP = f.Of, f.P, best.Of, best.P
}
