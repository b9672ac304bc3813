package bolts

import "math/bits"

// An ending knows which of the last bolts may come next if the rest is to have the fewest neighbouring steps. A set of bolts is a
// number with a bit for each.
type ending struct {
	bolt    []int
	distant []uint16   // for each bolt, those that are not its neighbours
	reach   uint16     // those that are not neighbours of the bolt before
	left    uint16     // those not tightened
	within  [][]uint16 // within[k][set]: the bolts that the set can begin with if it is to have at most k neighbouring steps
	steps   int        // the fewest neighbouring steps that the rest can have, the one from the bolt before included
}

// ending tries all orders of the bolts not done. one is the bolt before them, below 0 if there is none.
func (p *plate) ending(done []bool, one int) *ending {
	e := &ending{}
	for i, done := range done {
		if !done {
			e.bolt = append(e.bolt, i)
		}
	}
	e.left = 1<<len(e.bolt) - 1
	e.distant = make([]uint16, len(e.bolt))
	for v, i := range e.bolt {
		for w, j := range e.bolt {
			if v != w && !p.near(i, j) {
				e.distant[v] |= 1 << w
			}
		}
		if p.step(one, i) == 0 {
			e.reach |= 1 << v
		}
	}
	for ; ; e.steps++ {
		e.within = append(e.within, e.beginnings(e.steps))
		if e.next() != 0 {
			return e
		}
	}
}

// beginnings returns within[k], worked out from within[k−1] and from smaller sets.
//
// With a step to spare any bolt may follow any other: a set that can be ordered within k−1 steps can follow every bolt within k.
// A set cannot be ordered within k if no set that is smaller by one can.
func (e *ending) beginnings(k int) []uint16 {
	begin := make([]uint16, 1<<len(e.bolt))
	var some [lastBolts + 1]bool // by size: whether some set of it can be ordered within k
	some[0] = true
	for set := range begin {
		size := bits.OnesCount16(uint16(set))
		if size <= 1 {
			begin[set], some[size] = uint16(set), true
			continue
		}
		if !some[size-1] {
			continue
		}
		if k > 0 {
			begin[set] = e.within[k-1][set]
		}
		for missing := uint16(set) &^ begin[set]; missing != 0; missing &= missing - 1 {
			v := bits.TrailingZeros16(missing)
			rest := set &^ (1 << v)
			if begin[rest]&e.distant[v] != 0 || k > 0 && e.within[k-1][rest] != 0 {
				begin[set] |= 1 << v
			}
		}
		some[size] = some[size] || begin[set] != 0
	}
	return begin
}

// next returns the set of bolts that may come next.
func (e *ending) next() uint16 {
	next := e.within[e.steps][e.left] & e.reach
	if e.steps > 0 {
		next |= e.within[e.steps-1][e.left] &^ e.reach
	}
	return next
}

// open appends the bolts that may come next.
func (e *ending) open(open []int) []int {
	for next := e.next(); next != 0; next &= next - 1 {
		open = append(open, e.bolt[bits.TrailingZeros16(next)])
	}
	return open
}

// take tightens a bolt.
func (e *ending) take(i int) {
	for v, bolt := range e.bolt {
		if bolt != i {
			continue
		}
		if e.reach&(1<<v) == 0 {
			e.steps--
		}
		e.left &^= 1 << v
		e.reach = e.distant[v]
	}
}

// free moves single bolts in an order, each by as few places as possible, while that leaves fewer neighbouring steps.
func (p *plate) free(order []int) {
	for {
		from, to := p.move(order)
		if from < 0 {
			return
		}
		i := order[from]
		if from < to {
			copy(order[from:to], order[from+1:to+1])
		} else {
			copy(order[to+1:from+1], order[to:from])
		}
		order[to] = i
	}
}

// move finds the shortest move of one bolt that removes a neighbouring step; from is −1 if there is none.
func (p *plate) move(order []int) (from, to int) {
	bolt := func(k int) int { // −1 before the first and after the last
		if k < 0 || k >= len(order) {
			return -1
		}
		return order[k]
	}
	best, from, to := len(order), -1, -1
	for k, i := range order {
		before, after := bolt(k-1), bolt(k+1)
		has := p.step(before, i) + p.step(i, after)
		if has == 0 {
			continue
		}
		saved := has - p.step(before, after)
		for q := range order {
			if q == k || max(q-k, k-q) >= best {
				continue
			}
			l, r := bolt(q-1), bolt(q) // its neighbours in the order at q
			if q > k {
				l, r = bolt(q), bolt(q+1)
			}
			if p.step(l, i)+p.step(i, r)-p.step(l, r) < saved {
				best, from, to = max(q-k, k-q), k, q
			}
		}
	}
	return from, to
}
