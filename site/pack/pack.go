// Package pack compresses the page's module and its forms, so that every host sends as few bytes as the best of them, and a page
// unpacks them while they come (site/page/unpack.js).
//
// The form is that of the program xz called "lzma": a header of 13 bytes, then LZ77 matches and literals under an adaptive binary
// range coder. It is described in the LZMA specification (lzma-specification.txt, placed in the public domain with the LZMA SDK, 2015).
// Of browsers' own forms gzip makes the module 2.1 MB; this one makes it 1.45, and brotli at its best, which hosts seldom use, 1.49; folded
// before (site/fold), this one makes it 1.09.
package pack

import "encoding/binary"

// The parameters: bits of the byte before that choose how a literal is coded, and bits of the position that choose the rest.
const (
	literalBits  = 3
	positionBits = 2
	dictionary   = 1 << 25 // more than a module has
)

// Bytes returns data in the form "lzma", the same for the same data. It takes some seconds for ten megabytes.
func Bytes(data []byte) []byte { return packed(data, func(int, float64) {}) }

// Costs returns what each byte of data takes packed, in bytes. What is there once and repeated costs most where it is first.
func Costs(data []byte) []float64 {
	costs := make([]float64, 0, len(data))
	packed(data, func(length int, cost float64) {
		for range length {
			costs = append(costs, cost/float64(length))
		}
	})
	return costs
}

// packed packs data, and tells of each step how many bytes it is and what it cost.
func packed(data []byte, tell func(length int, cost float64)) []byte {
	head := []byte{positionBits*45 + literalBits}
	head = binary.LittleEndian.AppendUint32(head, dictionary)
	head = binary.LittleEndian.AppendUint64(head, uint64(len(data)))
	e := newEncoder(data, head)
	p := newParser(e)
	for e.at < len(data) {
		for _, s := range p.best() {
			before := e.out.spent
			e.put(s)
			tell(s.length, float64(e.out.spent-before)/(8<<unit))
		}
	}
	return e.out.finish()
}
