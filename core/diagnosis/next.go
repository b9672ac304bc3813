package diagnosis

import (
	"math"
	"sort"

	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
	"ohmwright/core/measure"
	"ohmwright/core/portable"
)

// A tally is the probability of each repair together with each outcome.
type tally [bins][circuit.Repairs]float64

// count fills a tally of a test's outcomes from the weights of the scenarios.
func (o *outlook) count(list []evidence.Scenario, weights []float64, into *tally) {
	for k := range o.n {
		into[k] = [circuit.Repairs]float64{}
	}
	for i, wt := range weights {
		if wt == 0 {
			continue
		}
		r := list[i].Repair
		k := int(o.first[i])
		for j, q := range o.p[i] {
			into[k+j][r] += wt * q
		}
	}
}

// stop returns the least expected cost of repairing now. The probabilities may add up to less than 1.
func stop(m *circuit.Model, p *[circuit.Repairs]float64) (cost float64, best circuit.Repair) {
	sum := 0.0
	for _, q := range p {
		sum += q
	}
	cost = math.Inf(1)
	for r, q := range p {
		rest := sum - q
		if rest < 0 { // max and min of floats are calls on wasm
			rest = 0
		}
		if c := m.Wrong[r] * rest; c < cost {
			cost, best = c, circuit.Repair(r)
		}
	}
	return cost, best
}

// after returns the expected cost of the best repair after each outcome.
func after(m *circuit.Model, o *outlook, t *tally) (cost float64) {
	for k := range o.n {
		c, _ := stop(m, &t[k])
		cost += c
	}
	return cost
}

// A Next is a test that is not made yet.
type Next struct {
	Test     circuit.Test
	Bits     float64 // expected information about the fault
	Minutes  float64
	Value    float64   // expected saving, in the currency of the costs: below 0 it does not pay
	Outcomes []Outcome // of the test to make now; working them out for all would take too long
}

// possible returns the tests that are not made yet.
func (w prospect) possible() (wanted circuit.Set) {
	for t := range circuit.Test(circuit.Tests) {
		if t.Possible(w.m.Side, w.m.Return) && !w.Made(t) {
			wanted = wanted.With(t)
		}
	}
	return wanted
}

// next ranks the tests that are not made yet by what they save, looking two tests ahead. It also returns what works out the outcomes
// of one of them.
func (w prospect) next(p [circuit.Faults]float64, readings []circuit.Reading) (ranked []Next, outcomes func(circuit.Test) []Outcome) {
	wanted := w.possible()
	list := w.Scenarios(p, wanted)
	var looks []outlook
	for t := range circuit.Test(circuit.Tests) {
		if wanted.Has(t) {
			looks = append(looks, w.outlook(t, list))
		}
	}
	weights := make([]float64, len(list))
	var now [circuit.Repairs]float64
	sum := 0.0
	for i := range list {
		weights[i] = list[i].Mass
		now[list[i].Repair] += weights[i]
		sum += weights[i]
	}
	stop, _ := stop(w.m, &now)
	out := make([]Next, len(looks))
	for i := range looks {
		o := &looks[i]
		out[i] = Next{Test: o.test, Minutes: w.m.Minutes[o.test], Bits: measure.Rounded(bits(o.faults(list)))}
	}
	second := w.promising(looks, out, list, weights)
	for i := range looks {
		out[i].Value = measure.Rounded(stop - w.cost(&looks[i], second, list, weights, sum))
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := &out[i], &out[j]
		return a.Value > b.Value || a.Value == b.Value && a.Test.String() < b.Test.String()
	})
	return out, func(t circuit.Test) []Outcome { return w.outcomes(t, list, readings) }
}

// mostSecond is how many tests are tried as the second.
const mostSecond = 8

// promising returns the tests that save most as the only one: those that are tried as the second.
func (w prospect) promising(looks []outlook, out []Next, list []evidence.Scenario, weights []float64) (best []*outlook) {
	type saving struct {
		o    *outlook
		cost float64
	}
	var savings []saving
	var t tally
	for i := range looks {
		if out[i].Bits > 0 {
			looks[i].count(list, weights, &t)
			savings = append(savings, saving{&looks[i], measure.Rounded(looks[i].cost + after(w.m, &looks[i], &t))})
		}
	}
	sort.SliceStable(savings, func(i, j int) bool { return savings[i].cost < savings[j].cost })
	for _, s := range savings[:min(len(savings), mostSecond)] {
		best = append(best, s.o)
	}
	return best
}

// cost returns the expected cost of making a test, then the best of: a repair, or a second test and a repair.
func (w prospect) cost(o *outlook, seconds []*outlook, list []evidence.Scenario, weights []float64, sum float64) float64 {
	var first, second tally
	o.count(list, weights, &first)
	cost := o.cost * sum
	then := make([]float64, len(list))
	for k := range o.n {
		best, _ := stop(w.m, &first[k])
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
			for _, s := range seconds {
				if s == o || s.cost*reached >= best {
					continue
				}
				s.count(list, then, &second)
				if c := s.cost*reached + after(w.m, s, &second); c < best {
					best = c
				}
			}
		}
		cost += best
	}
	return cost
}

// faults returns the probability of each fault together with each outcome.
func (o *outlook) faults(list []evidence.Scenario) (by [][circuit.Faults]float64) {
	by = make([][circuit.Faults]float64, o.n)
	for i := range list {
		k := int(o.first[i])
		for _, q := range o.p[i] {
			by[k][list[i].Fault] += list[i].Mass * q
			k++
		}
	}
	return by
}

// bits returns the mutual information of fault and outcome.
func bits(by [][circuit.Faults]float64) float64 {
	var marginal [circuit.Faults]float64
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
	return -p * portable.Log2(p)
}
