package diagnosis

import (
	"math"
	"slices"
	"sort"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/evidence"
	"ohmwright/core/measure"
)

// A prospect is readings that are weighed, to look ahead from.
type prospect struct {
	*evidence.Weigher
	m *circuit.Model // with what the readings tell of it
}

// bins is the most outcomes of a test, including OL.
const bins = 10

// An outlook is what a test that is not made yet would show: for each scenario, how likely each outcome is.
type outlook struct {
	test  circuit.Test
	cost  float64
	n     int         // of outcomes
	edges []float64   // between the outcomes that are values, ascending; the last outcome is OL
	first []uint8     // for each scenario, its first possible outcome
	p     [][]float64 // for each scenario, the probabilities from that outcome on
}

// outlook divides what a test may show into outcomes.
func (w prospect) outlook(t circuit.Test, list []evidence.Scenario) outlook {
	o := outlook{test: t, cost: w.m.Minutes[t] / 60 * w.m.Hour, first: make([]uint8, len(list)), p: make([][]float64, len(list))}
	if t.Quantity() > circuit.Degrees {
		o.n = 2
		for i := range list {
			q := list[i].Words[t]
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
		d := c.Shows[t]
		switch {
		case c.Plain:
			o.first[i] = 0
			all = append(all, make([]float64, o.n)...)
		case math.IsInf(d.Value, 0):
			o.first[i] = uint8(o.n - 1)
			all = append(all, 1)
		default:
			o.first[i], all = o.spread(d, all)
		}
		o.p[i] = all[from:len(all):len(all)]
		if c.Fault == circuit.None {
			for k, q := range o.p[i] {
				healthy[int(o.first[i])+k] += q * c.Mass
			}
		}
	}
	o.fillPlain(list, &healthy)
	return o
}

// fillPlain sets the outcomes of what is none of the faults: half what a healthy circuit gives, half anything.
func (o *outlook) fillPlain(list []evidence.Scenario, healthy *[bins]float64) {
	if evidence.Looks.Has(o.test) { // these tell of the other readings, not of themselves
		*healthy = [bins]float64{}
		for i := range list {
			if !list[i].Plain {
				for k, q := range o.p[i] {
					healthy[int(o.first[i])+k] += q * list[i].Mass
				}
			}
		}
	}
	sum := 0.0
	for _, q := range healthy {
		sum += q
	}
	for i := range list {
		if !list[i].Plain {
			continue
		}
		for k := range o.p[i] {
			o.p[i][k] = 0.5 / float64(o.n)
			switch {
			case sum > 0 && evidence.Looks.Has(o.test):
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
func (o *outlook) spread(d doubt.Estimate, all []float64) (uint8, []float64) {
	k := 0
	for k < len(o.edges) && o.edges[k] < d.Value-4*d.U {
		k++
	}
	first := uint8(k)
	below := 0.0
	for ; k < len(o.edges) && o.edges[k] < d.Value+4*d.U; k++ {
		q := measure.Normal((o.edges[k] - d.Value) / d.U)
		all = append(all, q-below)
		below = q
	}
	return first, append(all, 1-below)
}

// edges divides the values that a test may show into parts of equal probability, and where the gaps between guesses are largest.
func edges(t circuit.Test, list []evidence.Scenario) []float64 {
	type show struct {
		by float32 // what counts of the value: the rest may be rounding
		i  int32
	}
	order := make([]show, 0, len(list))
	whole := 0.0
	for i := range list {
		if c := &list[i]; !c.Plain && !math.IsInf(c.Shows[t].Value, 0) {
			order = append(order, show{float32(c.Shows[t].Value), int32(i)})
			whole += c.Mass
		}
	}
	slices.SortFunc(order, func(a, b show) int {
		switch {
		case a.by < b.by:
			return -1
		case a.by > b.by:
			return 1
		}
		return int(a.i - b.i)
	})
	type gap struct{ at, width float64 }
	var gaps []gap
	var out []float64
	const equal = 5
	next, sum := whole/equal, 0.0
	for k := 0; k+1 < len(order); k++ {
		a, b := list[order[k].i].Shows[t], list[order[k+1].i].Shows[t]
		width := (b.Value - a.Value) / (a.U + b.U)
		at := (a.Value*b.U + b.Value*a.U) / (a.U + b.U)
		if width > 0.7 {
			gaps = append(gaps, gap{at, width})
		}
		if sum += list[order[k].i].Mass; sum >= next*(1-1e-9) && width > 0.05 {
			out = append(out, at)
			next = sum + whole/equal
		}
	}
	sort.SliceStable(gaps, func(i, j int) bool { return gaps[i].width > gaps[j].width })
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
