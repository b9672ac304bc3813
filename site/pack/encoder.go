package pack

// A coder is an adaptive binary range coder's output.
type coder struct {
	bytes   []byte
	low     uint64
	span    uint32
	held    byte // the last byte, which a carry may still change, and how many bytes 0xff stand behind it
	pending int
	spent   uint64 // what the bits so far cost, in sixteenths of a bit
	shifts  int    // bytes that whoever reads has taken in so far, after the first ones
}

const (
	probBits  = 11
	probShift = 5
	probStart = 1 << (probBits - 1)
	least     = 1 << 24 // of the span
)

func (c *coder) bit(prob *uint16, bit uint32) {
	c.spent += uint64(price(*prob, bit))
	bound := (c.span >> probBits) * uint32(*prob)
	if bit == 0 {
		c.span = bound
		*prob += (1<<probBits - *prob) >> probShift
	} else {
		c.low += uint64(bound)
		c.span -= bound
		*prob -= *prob >> probShift
	}
	c.narrow()
}

// direct codes bits that are as likely 0 as 1, the highest first.
func (c *coder) direct(value uint32, bits int) {
	c.spent += uint64(bits) << unit
	for i := bits - 1; i >= 0; i-- {
		c.span >>= 1
		if value>>i&1 == 1 {
			c.low += uint64(c.span)
		}
		c.narrow()
	}
}

func (c *coder) narrow() {
	for c.span < least {
		c.span <<= 8
		c.shifts++
		c.shift()
	}
}

func (c *coder) shift() {
	if uint32(c.low) < 0xff000000 || c.low>>32 != 0 {
		carry := byte(c.low >> 32)
		for ; c.pending > 0; c.pending-- {
			c.bytes = append(c.bytes, c.held+carry)
			c.held = 0xff
		}
		c.held = byte(c.low >> 24)
	}
	c.pending++
	c.low = c.low & 0x00ffffff << 8
}

func (c *coder) finish() []byte {
	for range 5 {
		c.shift()
	}
	return c.bytes
}

// tree codes the lowest bits of a value, the highest first.
func (c *coder) tree(probs []uint16, value uint32, bits int) {
	m := uint32(1)
	for i := bits - 1; i >= 0; i-- {
		bit := value >> i & 1
		c.bit(&probs[m], bit)
		m = m<<1 | bit
	}
}

// reversed codes them the lowest first.
func (c *coder) reversed(probs []uint16, value uint32, bits int) {
	m := uint32(1)
	for range bits {
		bit := value & 1
		value >>= 1
		c.bit(&probs[m], bit)
		m = m<<1 | bit
	}
}

// lengths codes the length of a match.
type lengths struct {
	choice   [2]uint16
	low, mid [1 << mostPosition][8]uint16
	high     [256]uint16
	prices   [1 << mostPosition][longest + 1]uint32
}

const (
	shortest = 2
	longest  = 273
)

func (l *lengths) put(c *coder, length, position int) {
	n := uint32(length - shortest)
	switch {
	case n < 8:
		c.bit(&l.choice[0], 0)
		c.tree(l.low[position][:], n, 3)
	case n < 16:
		c.bit(&l.choice[0], 1)
		c.bit(&l.choice[1], 0)
		c.tree(l.mid[position][:], n-8, 3)
	default:
		c.bit(&l.choice[0], 1)
		c.bit(&l.choice[1], 1)
		c.tree(l.high[:], n-16, 8)
	}
}

// A step of the way through the data: a literal (length 1, back none), a repeated byte (length 1, back 0), a match at one of the last four
// distances (back 0 to 3), or at a new one (back 4 and up, the distance less 1).
type step struct {
	length int
	back   int
}

const none = -1

// An encoder is the state that reader and writer share at a place in the data.
type encoder struct {
	data  []byte
	shape Shape
	at    int
	out   coder
	state int
	reps  [4]int // the last four distances, each less 1

	isMatch, isLong             [12][1 << mostPosition]uint16
	isRep, isRep0, isRep1, isR2 [12]uint16
	literal                     [1 << mostLiteral][0x300]uint16
	slot                        [4][64]uint16
	special                     [115]uint16
	align                       [16]uint16
	match, rep                  lengths
}

func newEncoder(data []byte, shape Shape, head []byte) *encoder {
	e := &encoder{data: data, shape: shape, out: coder{bytes: head, span: 1<<32 - 1, pending: 1}}
	for _, probs := range e.probs() {
		for i := range probs {
			probs[i] = probStart
		}
	}
	return e
}

// probs returns all probabilities.
func (e *encoder) probs() [][]uint16 {
	all := [][]uint16{e.isRep[:], e.isRep0[:], e.isRep1[:], e.isR2[:], e.special[:], e.align[:]}
	for i := range 12 {
		all = append(all, e.isMatch[i][:], e.isLong[i][:])
	}
	for i := range e.literal {
		all = append(all, e.literal[i][:])
	}
	for i := range e.slot {
		all = append(all, e.slot[i][:])
	}
	for _, l := range []*lengths{&e.match, &e.rep} {
		all = append(all, l.choice[:], l.high[:])
		for i := range l.low {
			all = append(all, l.low[i][:], l.mid[i][:])
		}
	}
	return all
}

// behind returns the encoder as it will be after steps.
func (e *encoder) behind(steps []step) *encoder {
	then := *e
	then.out.bytes = nil
	for _, s := range steps {
		then.put(s)
	}
	return &then
}

// halfway returns the encoder with probabilities halfway to those of another.
func (e *encoder) halfway(to *encoder) *encoder {
	half, others := *e, to.probs()
	for i, probs := range half.probs() {
		for k := range probs {
			probs[k] = (probs[k] + others[i][k]) / 2
		}
	}
	return &half
}

// position is what of a place in the data matters.
func (e *encoder) position(at int) int { return at & (1<<e.shape.Position - 1) }

// put codes a step and goes to its end.
func (e *encoder) put(s step) {
	position := e.position(e.at)
	c := &e.out
	switch {
	case s.back == none:
		c.bit(&e.isMatch[e.state][position], 0)
		e.putLiteral()
	case s.back >= 4:
		c.bit(&e.isMatch[e.state][position], 1)
		c.bit(&e.isRep[e.state], 0)
		e.match.put(c, s.length, position)
		e.putDistance(uint32(s.back-4), s.length)
	default:
		c.bit(&e.isMatch[e.state][position], 1)
		c.bit(&e.isRep[e.state], 1)
		e.putRep(s, position)
	}
	e.state, e.reps = after(e.state, e.reps, s)
	e.at += s.length
}

func (e *encoder) putRep(s step, position int) {
	c := &e.out
	if s.back == 0 {
		c.bit(&e.isRep0[e.state], 0)
		if s.length == 1 {
			c.bit(&e.isLong[e.state][position], 0)
			return
		}
		c.bit(&e.isLong[e.state][position], 1)
	} else {
		c.bit(&e.isRep0[e.state], 1)
		if s.back == 1 {
			c.bit(&e.isRep1[e.state], 0)
		} else {
			c.bit(&e.isRep1[e.state], 1)
			c.bit(&e.isR2[e.state], uint32(s.back-2))
		}
	}
	e.rep.put(c, s.length, position)
}

// literals are the probabilities for a literal at a place.
func (e *encoder) literals(at int) []uint16 {
	before := 0
	if at > 0 {
		before = int(e.data[at-1]) >> (8 - e.shape.Literal)
	}
	return e.literal[before][:]
}

func (e *encoder) putLiteral() {
	probs := e.literals(e.at)
	value := uint32(e.data[e.at]) | 0x100
	if e.state < 7 {
		for m := uint32(1); m < 0x100; {
			bit := value >> 7 & 1
			value <<= 1
			e.out.bit(&probs[m], bit)
			m = m<<1 | bit
		}
		return
	}
	other, offset := uint32(e.data[e.at-e.reps[0]-1]), uint32(0x100)
	for value < 0x10000 {
		other <<= 1
		e.out.bit(&probs[offset+other&offset+value>>8], value>>7&1)
		value <<= 1
		offset &= ^(other ^ value)
	}
}

func (e *encoder) putDistance(distance uint32, length int) {
	slot := slotOf(distance)
	e.out.tree(e.slot[min(length-shortest, 3)][:], slot, 6)
	if slot < 4 {
		return
	}
	bits := int(slot>>1 - 1)
	base := (2 | slot&1) << bits
	if slot < 14 {
		e.out.reversed(e.special[base-slot:], distance-base, bits)
		return
	}
	e.out.direct((distance-base)>>4, bits-4)
	e.out.reversed(e.align[:], (distance-base)&15, 4)
}

// after returns what a state and the last distances are after a step.
func after(state int, reps [4]int, s step) (int, [4]int) {
	switch {
	case s.back == none:
		switch {
		case state < 4:
			return 0, reps
		case state < 10:
			return state - 3, reps
		}
		return state - 6, reps
	case s.back >= 4:
		return choose(state, 7, 10), [4]int{s.back - 4, reps[0], reps[1], reps[2]}
	case s.length == 1:
		return choose(state, 9, 11), reps
	}
	one := reps[s.back]
	copy(reps[1:s.back+1], reps[:s.back])
	reps[0] = one
	return choose(state, 8, 11), reps
}

func choose(state, afterLiteral, afterMatch int) int {
	if state < 7 {
		return afterLiteral
	}
	return afterMatch
}
