package diagnosis

import (
	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
	"ohmwright/core/measure"
)

const (
	fine   = 16   // the most outcomes of a test that are told apart at first
	missed = 3e-4 // what is lost without harm by joining two of them
)

// A split is an outcome before it is joined to others.
type split struct {
	mass [circuit.Faults]float64 // of each fault together with it
	sum  float64                 // of these
	sure float64                 // its part of how sure the outcomes make of the fault
	loss float64                 // what is lost of that by joining it to the next
}

// join joins neighbouring outcomes until there are few enough, those first that tell least apart; OL stays apart.
//
//	how sure: Σ over outcomes of Σ p²/P
//
// p is the probability of a fault together with the outcome, P their sum: it is the mean probability of the fault that is there, after the
// test. So what joining two outcomes loses hangs on these two alone. The information about the fault says much the same, for a logarithm of
// each p. It ignores what is none of the faults, whose outcomes follow from the others'.
func (o *outlook) join(list []evidence.Scenario) {
	var by [fine]split
	for i := range list {
		for k, q := range o.of(i) {
			by[int(o.shows[i].first)+k].mass[list[i].Fault] += q * list[i].Mass
		}
	}
	var room [fine]uint8
	o.regroup(fewer(by[:o.n-1], room[:0]))
}

// fewer joins outcomes, and returns the first of each group.
func fewer(by []split, at []uint8) []uint8 {
	for k := range by {
		at = append(at, uint8(k))
		by[k].add()
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
		one.add()
		at = append(at[:best+1], at[best+2:]...)
		if best+1 < len(at) {
			one.before(&by[at[best+1]])
		}
		if best > 0 {
			by[at[best-1]].before(one)
		}
	}
	return at
}

// add adds up the masses and their squares.
func (s *split) add() {
	s.sum, s.sure = 0, 0
	for _, q := range s.mass {
		s.sum += q
		s.sure += q * q
	}
	if s.sum > 0 {
		s.sure /= s.sum
	}
}

// before works out what is lost by joining an outcome to the next.
func (s *split) before(next *split) {
	both := 0.0
	for f, q := range s.mass {
		q += next.mass[f]
		both += q * q
	}
	s.loss = 0
	if sum := s.sum + next.sum; sum > 0 {
		s.loss = measure.Rounded(s.sure + next.sure - both/sum) // a tie must not hang on what is rounded
	}
}

// regroup leaves only the outcomes that begin at some of them, and OL.
func (o *outlook) regroup(at []uint8) {
	if len(at) == o.n-1 {
		return
	}
	var group [fine]uint8
	for i, from := range at {
		for k := int(from); k < o.n-1; k++ {
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
