package diagnosis

import (
	"math"
	"slices"

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

var none [bins]float64

// An outlook is what a test that is not made yet would show: for each scenario, how likely each outcome is.
type outlook struct {
	test  circuit.Test
	cost  float64
	n     int       // of outcomes
	edges []float64 // between the outcomes that are values, ascending; the last outcome is OL
	shows []showing
	p     []float64 // of all scenarios, one after another
}

// A showing is what a test may show in one scenario: the first possible outcome, and where the probabilities from that one on are.
type showing struct {
	first    uint8
	from, to int32
}

// of returns the probabilities of the outcomes from the first possible one on.
func (o *outlook) of(i int) []float64 { return o.p[o.shows[i].from:o.shows[i].to] }

// outlook divides what a test may show into outcomes.
func (w prospect) outlook(t circuit.Test, list []evidence.Scenario) outlook {
	o := outlook{test: t, cost: w.m.Minutes[t] / 60 * w.m.Hour, shows: make([]showing, len(list))}
	if t.Quantity() > circuit.Degrees {
		o.n = 2
		o.p = make([]float64, 0, o.n*len(list))
		for i := range list {
			q := list[i].Words[t]
			o.shows[i] = showing{0, int32(len(o.p)), int32(len(o.p) + o.n)}
			o.p = append(o.p, 1-q, q)
		}
		return o
	}
	o.edges = edges(t, list)
	o.n = len(o.edges) + 2
	o.p = make([]float64, 0, 8*len(list))
	for i := range list {
		s := &o.shows[i]
		s.from = int32(len(o.p))
		switch d := list[i].Shows[t]; {
		case list[i].Plain:
		case math.IsInf(d.Value, 0):
			s.first = uint8(o.n - 1)
			o.p = append(o.p, 1)
		default:
			s.first = o.spread(d)
		}
		s.to = int32(len(o.p))
	}
	o.join(list)
	o.addPlain(list)
	return o
}

// addPlain adds the outcomes of what is none of the faults: half what a healthy circuit gives, half anything.
func (o *outlook) addPlain(list []evidence.Scenario) {
	var healthy [bins]float64
	for i := range list {
		s := &o.shows[i]
		switch {
		case list[i].Plain:
			s.from = int32(len(o.p))
			o.p = append(o.p, none[:o.n]...)
			s.to = int32(len(o.p))
		case list[i].Fault == circuit.None:
			for k, q := range o.of(i) {
				healthy[int(s.first)+k] += q * list[i].Mass
			}
		}
	}
	o.fillPlain(list, &healthy)
}

// fillPlain sets the outcomes of what is none of the faults, from those of a healthy circuit.
func (o *outlook) fillPlain(list []evidence.Scenario, healthy *[bins]float64) {
	if evidence.Looks.Has(o.test) { // these tell of the other readings, not of themselves
		*healthy = [bins]float64{}
		for i := range list {
			if !list[i].Plain {
				for k, q := range o.of(i) {
					healthy[int(o.shows[i].first)+k] += q * list[i].Mass
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
		p := o.of(i)
		for k := range p {
			p[k] = 0.5 / float64(o.n)
			switch {
			case sum > 0 && evidence.Looks.Has(o.test):
				p[k] = healthy[k] / sum
			case sum > 0:
				p[k] += 0.5 * healthy[k] / sum
			default:
				p[k] *= 2
			}
		}
	}
}

// spread adds the probabilities of the outcomes of a value, and returns the first that is possible.
func (o *outlook) spread(d doubt.Estimate) uint8 {
	k := 0
	for k < len(o.edges) && o.edges[k] < d.Value-4*d.U {
		k++
	}
	first := uint8(k)
	below := 0.0
	for ; k < len(o.edges) && o.edges[k] < d.Value+4*d.U; k++ {
		q := measure.Normal((o.edges[k] - d.Value) / d.U)
		o.p = append(o.p, q-below)
		below = q
	}
	o.p = append(o.p, 1-below)
	return first
}

// edges returns the values between which a test's outcomes are told apart at first: on both sides of each that it may show, and in the gaps
// between them.
func edges(t circuit.Test, list []evidence.Scenario) []float64 {
	order := make([]uint64, 0, len(list))
	for i := range list {
		if c := &list[i]; !c.Plain && !math.IsInf(c.Shows[t].Value, 0) {
			order = append(order, place(c.Shows[t].Value)<<32|uint64(i))
		}
	}
	slices.Sort(order)
	at := func(k int) *doubt.Estimate { return &list[uint32(order[k])].Shows[t] }
	all := make([]edge, 0, 3*len(order))
	for k := range order {
		a := at(k)
		if k == 0 || !near(at(k-1), a) {
			all = append(all, edge{a.Value - 2*a.U, a.U}, edge{a.Value + 2*a.U, a.U})
		}
		if k+1 < len(order) {
			b := at(k + 1)
			if b.Value-a.Value > 0.1*(a.U+b.U) {
				all = append(all, edge{(a.Value*b.U + b.Value*a.U) / (a.U + b.U), min(a.U, b.U)})
			}
		}
	}
	order = order[:0]
	for i := range all {
		order = append(order, place(all[i].at)<<32|uint64(i))
	}
	slices.Sort(order)
	out := make([]float64, 0, len(all))
	for _, i := range order {
		if e := all[uint32(i)]; len(out) == 0 || e.at-out[len(out)-1] > 0.5*e.u {
			out = append(out, e.at)
		}
	}
	if most := fine - 2; len(out) > most {
		for i := range most {
			out[i] = out[i*len(out)/most]
		}
		out = out[:most]
	}
	return out
}

// An edge is a value between outcomes, and how wide what lies beside it is.
type edge struct{ at, u float64 }

// near reports whether two values that a test may show, in ascending order, are next to the same.
func near(a, b *doubt.Estimate) bool {
	const little = 0.1
	return b.Value-a.Value < little*b.U && math.Abs(b.U-a.U) < little*b.U
}

// place returns where a value is among all values, as far as it counts: the rest may be rounding.
func place(v float64) uint64 {
	b := math.Float32bits(float32(v) + 0) // of two zeros the one without a sign
	if b>>31 == 1 {
		return uint64(^b)
	}
	return uint64(b | 1<<31)
}
