// Package pack compresses the page's module and its forms, so that every host sends as few bytes as the best of them, and a page
// unpacks them while they come (site/page/unpack.js).
//
// The form is that of the program xz called "lzma": a header of 13 bytes, then LZ77 matches and literals under an adaptive binary
// range coder. It is described in the LZMA specification (lzma-specification.txt, placed in the public domain with the LZMA SDK, 2015).
// Of browsers' own forms gzip makes the module 2.1 MB; this one made it 1.45, and brotli at its best, which hosts seldom use, 1.49; folded
// before (site/fold), this one made it 1.09, and 0.93 since.
package pack

import "encoding/binary"

// A Shape says how data are looked at: how many bits of the byte before choose how a literal is coded, at most 4, and how many bits of the
// position choose the rest, at most 2.
type Shape struct{ Literal, Position int }

// Shapes of data.
var (
	Texts = Shape{4, 2}
	Words = Shape{2, 2} // of four or eight bytes
	Alike = Shape{2, 0} // each byte is of the same kind
)

const (
	mostLiteral  = 4
	mostPosition = 2
	dictionary   = 1 << 25 // more than a module has
)

// Bytes returns data in the form "lzma", the same for the same data. It takes some seconds for ten megabytes.
func Bytes(data []byte, shape Shape) []byte { return packed(data, shape, false, func(told) {}) }

// ahead is how many bytes more than it needs whoever unpacks wants to have before each step (MOST_STEP in site/page/unpack.js).
const ahead = 32

// Pieces returns data in the form "lzma", in as many pieces as there are cuts: places in data, in their order, of which the last is its
// end. What is before a cut can be unpacked from the pieces up to it. It looks twice for the best way: half a per cent smaller, in twice
// the time.
func Pieces(data []byte, shape Shape, cuts []int) (pieces [][]byte) {
	var needs []int // of each cut, how many bytes of what is packed
	whole := packed(data, shape, true, func(s told) {
		for len(needs) < len(cuts) && cuts[len(needs)] <= s.at {
			needs = append(needs, s.needs)
		}
	})
	from := 0
	for i := range cuts {
		to := len(whole)
		if i < len(cuts)-1 && i < len(needs) {
			to = max(from, min(to, needs[i]+ahead))
		}
		pieces, from = append(pieces, whole[from:to]), to
	}
	return pieces
}

// Costs returns what each byte of data takes packed in pieces, in bytes. What is there once and repeated costs most where it is first.
func Costs(data []byte, shape Shape) []float64 {
	costs := make([]float64, 0, len(data))
	packed(data, shape, true, func(s told) {
		for range s.length {
			costs = append(costs, s.cost/float64(s.length))
		}
	})
	return costs
}

// told is a step of the way through data: how many bytes it is, what they cost in bytes, where it ends, and how many bytes of what is
// packed are needed to know it.
type told struct {
	length    int
	cost      float64
	at, needs int
}

// packed packs data, and tells of each step. twice: see [parser.best].
func packed(data []byte, shape Shape, twice bool, tell func(told)) []byte {
	head := []byte{byte(shape.Position*45 + shape.Literal)}
	head = binary.LittleEndian.AppendUint32(head, dictionary)
	head = binary.LittleEndian.AppendUint64(head, uint64(len(data)))
	const first = 5 // bytes of the coder's start
	e := newEncoder(data, shape, head)
	p := newParser(e, twice)
	for e.at < len(data) {
		for _, s := range p.best() {
			before := e.out.spent
			e.put(s)
			tell(told{s.length, float64(e.out.spent-before) / (8 << unit), e.at, len(head) + first + e.out.shifts})
		}
	}
	return e.out.finish()
}
