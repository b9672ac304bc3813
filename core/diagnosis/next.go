package diagnosis

import (
	"math"
	"sort"

	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
	"ohmwright/core/measure"
	"ohmwright/core/portable"
)

// A tally is the probability of each repair together with each outcome: those of an outcome in a row. A byte is always inside.
type tally [256]float64

const row = 16

// These do not compile where a row is too short, or a byte does not reach the end of the last.
const (
	_ = uint(row - circuit.Repairs)
	_ = uint8(bins*row - 1)
)

// of returns the probabilities of the repairs together with an outcome.
func (t *tally) of(k int) *[circuit.Repairs]float64 { return (*[circuit.Repairs]float64)(t[k*row:]) }

// A weight is how likely a scenario is, and what would repair it.
type weight struct {
	of     int32
	repair circuit.Repair
	p      float64
}

// count fills a tally of a test's outcomes from the weights of scenarios.
func (o *outlook) count(weights []weight, into *tally) {
	clear(into[:o.n*row])
	for i := range weights {
		wt := &weights[i]
		s := &o.shows[wt.of]
		at := s.first*row + uint8(wt.repair)
		for _, q := range o.p[s.from:s.to] {
			into[at] += wt.p * q
			at += row
		}
	}
}

// stop returns the least expected cost of repairing now. The probabilities may add up to less than 1.
func stop(m *circuit.Model, p *[circuit.Repairs]float64) (cost float64, best circuit.Repair) {
	sum := 0.0
	for _, q := range p {
		sum += q
	}
	if sum == 0 {
		return 0, best
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

// after returns the expected cost of the best repair after each outcome, or something that is not less than most.
func after(m *circuit.Model, o *outlook, t *tally, most float64) (cost float64) {
	for k := range o.n {
		if c, _ := stop(m, t.of(k)); c > 0 {
			if cost += c; cost >= most {
				break
			}
		}
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
	Rest     float64   // probability of a reading that is none of them, after which no repair is clearly ahead
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

// next ranks the tests that are not made yet by what they save, looking two tests ahead. A test that tells next to nothing by itself saves
// only what it adds to the best of the others. It also returns what works out the outcomes of one of them.
func (w prospect) next(p [circuit.Faults]float64, readings []circuit.Reading) (ranked []Next, outcomes func(circuit.Test) []Outcome) {
	wanted := w.possible()
	list := w.Scenarios(p, wanted)
	var looks []outlook
	for t := range circuit.Test(circuit.Tests) {
		if wanted.Has(t) {
			looks = append(looks, w.outlook(t, list))
		}
	}
	weights := make([]weight, 0, len(list))
	var now [circuit.Repairs]float64
	sum := 0.0
	for i := range list {
		c := &list[i]
		if c.Mass != 0 {
			weights = append(weights, weight{int32(i), c.Repair, c.Mass})
		}
		now[c.Repair] += c.Mass
		sum += c.Mass
	}
	stop, _ := stop(w.m, &now)
	out := make([]Next, len(looks))
	var by [bins][circuit.Faults]float64
	for i := range looks {
		o := &looks[i]
		o.faults(list, &by)
		out[i] = Next{Test: o.test, Minutes: w.m.Minutes[o.test], Bits: measure.Rounded(bits(by[:o.n]))}
	}
	second, alone := w.promising(looks, out, weights, sum)
	least := stop // the expected cost of the best test alone
	for _, c := range alone {
		least = min(least, c)
	}
	then := make([]weight, 0, len(weights))
	for i := range looks {
		saves := stop - w.cost(&looks[i], second, weights, then, sum)
		if out[i].Bits < leastBits { // what the second test saves alone is none of its merit
			saves = max(saves-(stop-least), stop-alone[i])
		}
		out[i].Value = measure.Rounded(saves)
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := &out[i], &out[j]
		return a.Value > b.Value || a.Value == b.Value && a.Test.String() < b.Test.String()
	})
	return out, func(t circuit.Test) []Outcome { return w.outcomes(t, list, readings) }
}

const (
	mostSecond = 8    // tests are tried as the second
	leastBits  = 0.01 // a test that tells less tells next to nothing by itself
)

// promising returns the tests that save most as the only one: those that are tried as the second. It also returns the expected cost of
// each test as the only one; infinity for one that tells nothing.
func (w prospect) promising(looks []outlook, out []Next, weights []weight, sum float64) (best []*outlook, alone []float64) {
	alone = make([]float64, len(looks))
	var order []int
	var t tally
	for i := range looks {
		alone[i] = math.Inf(1)
		if out[i].Bits > 0 {
			looks[i].count(weights, &t)
			alone[i] = measure.Rounded(looks[i].cost*sum + after(w.m, &looks[i], &t, math.Inf(1)))
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(i, j int) bool { return alone[order[i]] < alone[order[j]] })
	for _, i := range order[:min(len(order), mostSecond)] {
		best = append(best, &looks[i])
	}
	return best, alone
}

// cost returns the expected cost of making a test, then the best of: a repair, or a second test and a repair. There is room in then.
func (w prospect) cost(o *outlook, seconds []*outlook, weights, then []weight, sum float64) float64 {
	var first, second tally
	o.count(weights, &first)
	cost := o.cost * sum
	for k := range o.n {
		best, _ := stop(w.m, first.of(k))
		reached := 0.0
		for _, q := range first.of(k) {
			reached += q
		}
		if best > 0.5*reached { // below half a unit of money there is nothing left to save
			then = o.then(k, weights, then)
			for _, s := range seconds {
				if s == o || s.cost*reached >= best {
					continue
				}
				s.count(then, &second)
				if c := s.cost*reached + after(w.m, s, &second, best); c < best {
					best = c
				}
			}
		}
		cost += best
	}
	return cost
}

// then returns the weights of the scenarios together with an outcome.
func (o *outlook) then(k int, weights, into []weight) []weight {
	into = into[:0]
	for i := range weights {
		wt := &weights[i]
		s := &o.shows[wt.of]
		at := int(s.from) + k - int(s.first)
		if at < int(s.from) || at >= int(s.to) {
			continue
		}
		if p := wt.p * o.p[at]; p != 0 {
			into = append(into, weight{wt.of, wt.repair, p})
		}
	}
	return into
}

// faults works out the probability of each fault together with each outcome.
func (o *outlook) faults(list []evidence.Scenario, by *[bins][circuit.Faults]float64) {
	clear(by[:o.n])
	for i := range list {
		k, f, mass := int(o.shows[i].first), list[i].Fault, list[i].Mass
		for _, q := range o.of(i) {
			by[k][f] += mass * q
			k++
		}
	}
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
