package circuit

import (
	"cmp"
	"math"
	"slices"
	"sync"
)

// A sample is a fault with a parameter and a winding. It stands for a share of what is still possible.
type sample struct {
	fault  Fault
	weight float64
	x      float64
	t      float64 // the winding, 0 for the least healthy one to 1 for the largest
}

// How finely looking ahead samples what is still possible.
const (
	perFault   = 10   // values of a fault's parameter
	perWinding = 3    // values of the healthy winding
	leastMass  = 5e-4 // a less probable fault is left out
)

// samples returns what is still possible, each fault's parameter and winding divided into parts of equal probability.
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

// A piece is a run of neighbouring nodes, which together have about 1/perFault of a fault's probability.
type piece struct {
	mass, x float64
	by      []float64 // over the winding
}

// parts divides a fault's nodes into pieces.
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

// quantile returns the index up to which a distribution has the share q.
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

// bins is the most outcomes of a test, including OL.
const bins = 14

// An outlook is what a test that is not made yet would show: for each sample, how likely each outcome is.
type outlook struct {
	test  Test
	cost  float64
	edges []float64   // between the outcomes that are values, ascending; the last outcome is OL
	first []uint8     // for each sample, its first possible outcome
	p     [][]float64 // for each sample, the probabilities from that outcome on
}

// look predicts the tests that are not made yet.
func (w *weigher) look(list []sample, made uint32) (out []outlook) {
	var wanted uint32
	for t := range VoltsUnitFeed {
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
		c := w.m.healthy(w.coils[0]+(w.coils[2]-w.coils[0])*s.t).with(s.fault, s.x)
		c.predict(wanted&touched(s.fault), &values[i])
	}
	for t := range Test(Tests) {
		if wanted>>t&1 == 1 {
			out = append(out, w.outlook(t, list, values))
		}
	}
	return out
}

// outlook divides what a test may show into outcomes, from its predicted values.
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
		// A sample stands for everything half way to the next sample of its fault on either side.
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

// normal returns Φ, the distribution function of the standard normal distribution, for −4 to 4. It is read from a table, since
// looking ahead needs it ten thousand times, and is off by less than 1e-5.
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

// edges divides the values that a test may show into parts of equal probability, and where the gaps between predictions are
// largest.
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

// A tally is the probability of each repair together with each outcome.
type tally [bins][Repairs]float64

// count fills a tally of a test's outcomes from the weights of the samples.
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

// stop returns the least expected cost of repairing now. The probabilities may add up to less than 1.
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

// after returns the expected cost of the best repair after each outcome.
func (m *Model) after(o *outlook, t *tally) (cost float64) {
	for k := range len(o.edges) + 2 {
		c, _ := m.stop(&t[k])
		cost += c
	}
	return cost
}

// A Next is a test that is not made yet.
type Next struct {
	Test     Test
	Bits     float64 // expected information about the fault
	Minutes  float64
	Value    float64 // expected saving, in the currency of the costs: below 0 it does not pay
	Outcomes []Outcome
}

// An Outcome is something that a test may show, and what it would mean.
type Outcome struct {
	From, To float64 // a range of values; -Inf or +Inf on a side without limit
	Over     bool    // OL; From and To are then meaningless
	Word     Word    // for a test that is read in words; From and To are then meaningless
	P        float64
	Fault    Fault // the likeliest in that case
	FaultP   float64
	Repair   Repair
	RepairP  float64
}

// next ranks the tests that are not made yet by what they save, looking two tests ahead.
func (w *weigher) next(p [Faults]float64, made uint32) []Next {
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
	tells := make([]bool, len(looks)) // whether a test tells anything
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
			if best > 0.5*reached { // below half a unit of money there is nothing left to save
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

// rounded drops the digits of a difference that are only rounding errors, which vary from machine to machine.
func rounded(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// faults returns the probability of each fault together with each outcome.
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

// bits returns the mutual information of fault and outcome.
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

// entropy returns −p log₂ p.
func entropy(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return -p * math.Log2(p)
}

// likelyOutcome is the least probability of an outcome that is listed.
const likelyOutcome = 0.01

// outcomes returns what the outcomes of a test would mean. Neighbours that mean the same are joined.
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

// mean sets what an outcome means, from the probabilities of the faults together with it.
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
