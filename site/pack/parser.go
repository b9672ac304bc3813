package pack

import (
	"math"
	"slices"
)

// Prices are in sixteenths of a bit.
const (
	unit    = 4
	endless = 1 << 30
)

// prices is what a bit costs, by its probability without the lowest four bits.
var prices = func() (table [1 << probBits >> 4]uint32) {
	for i := range table {
		table[i] = uint32(math.Round(-math.Log2((float64(i)*16+8)/(1<<probBits)) * (1 << unit)))
	}
	return table
}()

func price(prob uint16, bit uint32) uint32 {
	return prices[(uint32(prob)^-bit&(1<<probBits-1))>>4]
}

func treePrice(probs []uint16, value uint32, bits int) (sum uint32) {
	m := uint32(1)
	for i := bits - 1; i >= 0; i-- {
		bit := value >> i & 1
		sum += price(probs[m], bit)
		m = m<<1 | bit
	}
	return sum
}

func reversedPrice(probs []uint16, value uint32, bits int) (sum uint32) {
	m := uint32(1)
	for range bits {
		bit := value & 1
		value >>= 1
		sum += price(probs[m], bit)
		m = m<<1 | bit
	}
	return sum
}

func (l *lengths) look() {
	for position := range l.prices {
		for length := shortest; length <= longest; length++ {
			n := uint32(length - shortest)
			p := &l.prices[position][length]
			switch {
			case n < 8:
				*p = price(l.choice[0], 0) + treePrice(l.low[position][:], n, 3)
			case n < 16:
				*p = price(l.choice[0], 1) + price(l.choice[1], 0) + treePrice(l.mid[position][:], n-8, 3)
			default:
				*p = price(l.choice[0], 1) + price(l.choice[1], 1) + treePrice(l.high[:], n-16, 8)
			}
		}
	}
}

const (
	block = 3072    // places that are looked ahead
	nice  = longest // a match as long as this is taken as it is
)

// A node is a place ahead, and the cheapest way found to it: from a node before it by some steps. After the first of them there may be a
// literal and a repeat, or the repeat alone. Such a way is looked at as a whole, as the place in its middle may have a cheaper one, which
// does not have the distance.
type node struct {
	price uint32
	from  int
	steps [3]step
	count int // of steps
	state int
	reps  [4]int
}

// A parser finds the cheapest way through the next block.
type parser struct {
	e       *encoder
	twice   bool
	finder  *finder
	found   [][]pair // of each place of the block
	nodes   [block + 1]node
	steps   []step
	slots   [4][64]uint32
	near    [4][128]uint32 // whole prices of small distances
	aligned [16]uint32
}

func newParser(e *encoder, twice bool) *parser {
	return &parser{e: e, twice: twice, finder: newFinder(e.data)}
}

// look works out the prices of lengths and distances.
func (p *parser) look() {
	e := p.e
	e.match.look()
	e.rep.look()
	for i := range p.aligned {
		p.aligned[i] = reversedPrice(e.align[:], uint32(i), 4)
	}
	for i := range p.slots {
		for slot := range uint32(64) {
			p.slots[i][slot] = treePrice(e.slot[i][:], slot, 6)
			if slot >= 14 {
				p.slots[i][slot] += (slot>>1 - 1 - 4) << unit
			}
		}
		for distance := range uint32(128) {
			slot := slotOf(distance)
			p.near[i][distance] = p.slots[i][slot]
			if slot >= 4 {
				bits := slot>>1 - 1
				base := (2 | slot&1) << bits
				p.near[i][distance] += reversedPrice(e.special[base-slot:], distance-base, int(bits))
			}
		}
	}
}

func (p *parser) distancePrice(distance, length int) uint32 {
	i := min(length-shortest, 3)
	if distance < 128 {
		return p.near[i][distance]
	}
	return p.slots[i][slotOf(uint32(distance))] + p.aligned[distance&15]
}

// best returns the steps through the next block, at the prices that hold before it. Prices change on the way: where it is gone twice, the
// second time is at prices halfway to those behind it.
func (p *parser) best() []step {
	e := p.e
	size := min(block, len(e.data)-e.at)
	p.found = p.found[:0]
	for range size {
		p.found = append(p.found, slices.Clone(p.finder.next()))
	}
	if !p.twice {
		return p.cheapest(size)
	}
	p.e = e.halfway(e.behind(p.cheapest(size)))
	defer func() { p.e = e }()
	return p.cheapest(size)
}

// cheapest returns the steps through the next places at the prices that the encoder has.
func (p *parser) cheapest(size int) []step {
	p.look()
	e := p.e
	nodes := p.nodes[:size+1]
	for i := range nodes {
		nodes[i].price = endless
	}
	nodes[0] = node{state: e.state, reps: e.reps}
	for i := range size {
		n := &nodes[i]
		if i > 0 {
			from := &nodes[n.from]
			n.state, n.reps = from.state, from.reps
			for _, s := range n.steps[:n.count] {
				n.state, n.reps = after(n.state, n.reps, s)
			}
		}
		p.leave(nodes, i)
	}
	p.steps = p.steps[:0]
	for i := size; i > 0; i = nodes[i].from {
		for k := nodes[i].count - 1; k >= 0; k-- {
			p.steps = append(p.steps, nodes[i].steps[k])
		}
	}
	for a, b := 0, len(p.steps)-1; a < b; a, b = a+1, b-1 {
		p.steps[a], p.steps[b] = p.steps[b], p.steps[a]
	}
	return p.steps
}

// leave goes every step that leads on from a place.
func (p *parser) leave(nodes []node, i int) {
	e, n := p.e, &nodes[i]
	at := e.at + i
	position := e.position(at)
	most := min(len(nodes)-1-i, longest)
	found := p.found[i]
	p.follow(nodes, i, n.price+price(e.isMatch[n.state][position], 0)+p.literalPrice(at, n.state, n.reps[0]), step{1, none})
	match := n.price + price(e.isMatch[n.state][position], 1)
	rep := match + price(e.isRep[n.state], 1)
	for k, distance := range n.reps {
		if distance >= at {
			continue
		}
		length := same(e.data, at-distance-1, at, most)
		cost := rep + p.repPrice(n.state, k, position)
		if k == 0 && length > 0 {
			short := rep + price(e.isRep0[n.state], 0) + price(e.isLong[n.state][position], 0)
			p.reach(nodes, i, short, step{1, 0})
		}
		for l := fewest(length); l < length; l++ {
			p.reach(nodes, i, cost+e.rep.prices[position][l], step{l, k})
		}
		if length >= shortest {
			p.follow(nodes, i, cost+e.rep.prices[position][length], step{length, k})
		}
	}
	match += price(e.isRep[n.state], 0)
	length := shortest
	for j, m := range found {
		top := min(m.length, most)
		if j == len(found)-1 {
			length = max(length, fewest(top))
		}
		for ; length <= top; length++ {
			cost := match + e.match.prices[position][length] + p.distancePrice(m.distance, length)
			if length < top {
				p.reach(nodes, i, cost, step{length, m.distance + 4})
			} else {
				p.follow(nodes, i, cost, step{length, m.distance + 4})
			}
		}
	}
}

// reach notes a way to a place, if it is cheaper than the one found before.
func (p *parser) reach(nodes []node, i int, cost uint32, s step) {
	if to := &nodes[i+s.length]; cost < to.price {
		to.price, to.from, to.steps[0], to.count = cost, i, s, 1
	}
}

// follow goes a step, and looks whether after it comes a literal, and then what is at the same distance.
func (p *parser) follow(nodes []node, i int, cost uint32, s step) {
	p.reach(nodes, i, cost, s)
	e := p.e
	state, reps := after(nodes[i].state, nodes[i].reps, s)
	at, distance := e.at+i+s.length, reps[0]
	literal := s.back != none
	if literal {
		at++
	}
	most := min(len(nodes)-1-(at-e.at), longest)
	if distance >= at || most < shortest {
		return
	}
	length := same(e.data, at-distance-1, at, most)
	if length < shortest {
		return
	}
	if literal {
		place := e.position(at - 1)
		cost += price(e.isMatch[state][place], 0) + p.literalPrice(at-1, state, distance)
		state, _ = after(state, reps, step{1, none})
	}
	place := e.position(at)
	cost += price(e.isMatch[state][place], 1) + price(e.isRep[state], 1) + p.repPrice(state, 0, place) + e.rep.prices[place][length]
	if to := &nodes[at-e.at+length]; cost < to.price {
		to.price, to.from, to.count = cost, i, 3
		to.steps = [3]step{s, {1, none}, {length, 0}}
		if !literal {
			to.count, to.steps[1] = 2, step{length, 0}
		}
	}
}

// fewest is the least length that is worth a look, where a match has a length.
func fewest(length int) int {
	if length >= nice {
		return length
	}
	return shortest
}

func (p *parser) repPrice(state, k, position int) uint32 {
	e := p.e
	switch k {
	case 0:
		return price(e.isRep0[state], 0) + price(e.isLong[state][position], 1)
	case 1:
		return price(e.isRep0[state], 1) + price(e.isRep1[state], 0)
	}
	return price(e.isRep0[state], 1) + price(e.isRep1[state], 1) + price(e.isR2[state], uint32(k-2))
}

func (p *parser) literalPrice(at, state, rep int) (sum uint32) {
	e := p.e
	probs := e.literals(at)
	value := uint32(e.data[at]) | 0x100
	if state < 7 {
		return treePrice(probs, value, 8)
	}
	other, offset := uint32(e.data[at-rep-1]), uint32(0x100)
	for value < 0x10000 {
		other <<= 1
		sum += price(probs[offset+other&offset+value>>8], value>>7&1)
		value <<= 1
		offset &= ^(other ^ value)
	}
	return sum
}
