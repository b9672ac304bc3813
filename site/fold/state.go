package fold

import (
	"cmp"
	"encoding/binary"
)

// A state is what the tokens of a function are read in: which part of it comes, and which blocks are open.
type state struct {
	self   int64 // the function's first return address
	parts  int64 // that begin where a call returns or a jump goes
	part   int64
	number int64 // of the current part: parts take one number or more
	takes  int64
	outer  int64 // blocks around the parts
	opened int64
	frame  int64
	first  int64   // the first frame that was named, which is the function's
	taken  []int64 // of each part so far
}

// setFrame notes the size of a frame.
func (s *state) setFrame(n int64) {
	s.frame = n
	s.first = cmp.Or(s.first, n)
}

// depth is how many blocks are open.
func (s *state) depth() int64 { return s.outer + s.parts - s.part + s.opened }

// A hole of a template that changes the state or says nothing of the code: note does what it does.
func (s *state) note(h byte) bool {
	switch h {
	case open:
		s.opened++
	case shut:
		s.opened--
		return s.opened >= 0
	case resume:
		s.taken = append(s.taken, s.takes)
		s.part++
		s.number += s.takes
		return s.opened == 0 && s.part <= s.parts
	case one, two:
		s.takes = int64(h-one) + 1
	default:
		return false
	}
	return true
}

// implied returns what is written in a hole for which nothing is read, and whether it is such a one.
func (s *state) implied(h byte) ([]byte, bool) {
	switch h {
	case back:
		return signed(s.self + s.number + s.takes), true
	case unwind:
		return unsigned(s.depth() - 1), s.outer > 0
	case again:
		return signed(s.frame), s.frame > 0
	case loop:
		return unsigned(s.depth() - s.outer), s.outer > 0
	case start:
		return signed(s.self), true
	}
	return nil, false
}

func unsigned(n int64) []byte { return binary.AppendUvarint(nil, uint64(n)) }

// signed writes a number in WebAssembly's signed notation.
func signed(n int64) (out []byte) {
	for {
		low := byte(n & 0x7f)
		n >>= 7
		if n == 0 && low&0x40 == 0 || n == -1 && low&0x40 != 0 {
			return append(out, low)
		}
		out = append(out, low|0x80)
	}
}

// zigzag writes a number so that those near to 0 are short, whatever their sign.
func zigzag(n int64) []byte { return unsigned(n<<1 ^ n>>63) }
