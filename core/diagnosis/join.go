package diagnosis

import (
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
	"ohmwright/core/measure"
)

// fine is the most outcomes of a test that are told apart at first.
const fine = 32

// missed is what is lost without harm by joining two outcomes, in bits.
const missed = 1e-3

// A split is an outcome before it is joined to others.
type split struct {
	mass  [circuit.Faults]float64 // of each fault together with it
	tells float64                 // its part of the information about the fault
	loss  float64                 // what is lost of that by joining it to the next
}

// join joins neighbouring outcomes until there are few enough, those first that tell least apart; OL stays apart.
//
//	I(fault; outcome) = Σ over outcomes of (Σ p log₂ p − P log₂ P) + H(fault)
//
// p is the probability of a fault together with the outcome, P their sum. So what joining two outcomes loses hangs on these two alone.
// It ignores what is none of the faults, whose outcomes follow from the others'.
func (o *outlook) join(list []evidence.Scenario) {
	var by [fine]split
	for i := range list {
		for k, q := range o.of(i) {
			by[int(o.shows[i].first)+k].mass[list[i].Fault] += q * list[i].Mass
		}
	}
	o.regroup(fewer(by[:o.n-1]))
}

// fewer joins outcomes, and returns the first of each group.
func fewer(by []split) []int {
	at := make([]int, len(by), fine)
	for k := range by {
		at[k], by[k].tells = k, tells(&by[k].mass)
	}
	for k := range by[1:] {
		by[k].before(&by[k+1])
	}
	for len(at) > 1 {
		best := 0
		for i, k := range at[:len(at)-1] {
			if by[k].loss < by[at[best]].loss {
				best = i
			}
		}
		one := &by[at[best]]
		if len(at) < bins && one.loss >= missed {
			break
		}
		for f, q := range by[at[best+1]].mass {
			one.mass[f] += q
		}
		one.tells = tells(&one.mass)
		at = slices.Delete(at, best+1, best+2)
		if best+1 < len(at) {
			one.before(&by[at[best+1]])
		}
		if best > 0 {
			by[at[best-1]].before(one)
		}
	}
	return at
}

// before works out what is lost by joining an outcome to the next.
func (s *split) before(next *split) {
	var both [circuit.Faults]float64
	for f, q := range s.mass {
		both[f] = q + next.mass[f]
	}
	s.loss = measure.Rounded(s.tells + next.tells - tells(&both)) // a tie must not hang on what is rounded
}

// tells returns an outcome's part of the information about the fault.
func tells(mass *[circuit.Faults]float64) (bits float64) {
	sum := 0.0
	for _, q := range mass {
		if q > 0 {
			bits -= entropy(q)
			sum += q
		}
	}
	return bits + entropy(sum)
}

// regroup leaves only the outcomes that begin at some of them, and OL.
func (o *outlook) regroup(at []int) {
	var group [fine]uint8
	for i, from := range at {
		for k := from; k < o.n-1; k++ {
			group[k] = uint8(i)
		}
	}
	group[o.n-1] = uint8(len(at))
	for i, from := range at[1:] {
		o.edges[i] = o.edges[from-1]
	}
	o.edges, o.n = o.edges[:len(at)-1], len(at)+1
	to := int32(0)
	for i := range o.shows {
		s := &o.shows[i]
		first, p := int(s.first), o.p[s.from:s.to]
		s.from, s.first = to, group[first]
		for k, q := range p {
			if t := s.from + int32(group[first+k]-s.first); t < to {
				o.p[t] += q
			} else {
				o.p[t] = q
				to++
			}
		}
		s.to = to
	}
	o.p = o.p[:to]
}
