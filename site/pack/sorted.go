package pack

import (
	"bytes"
	"encoding/binary"
	"math/bits"
	"slices"
)

// Sorted returns data packed in a form that suits what is foretold by what stands next to it better than long repeats do, such as the
// instructions of a program: the bytes sorted by what follows them (Burrows and Wheeler, A Block-sorting Lossless Data Compression
// Algorithm, 1994), then each as its rank among the last ones, under the coder of the form "lzma". First come the length of the data and
// the rows of the whole and of the rest after each quarter, four bytes each. site/page/unpack.js unpacks it, at once.
func Sorted(data []byte) []byte {
	return sorted(data, func(int, float64) {})
}

// SortedCosts returns what each byte of data takes packed as [Sorted] does, in bytes.
func SortedCosts(data []byte) []float64 {
	costs := make([]float64, len(data))
	sorted(data, func(at int, cost float64) { costs[at] = cost })
	return costs
}

// chains is how many parts whoever unpacks follows at the same time.
const chains = 4

// sorted packs data, and tells where each byte is and what it cost.
func sorted(data []byte, tell func(at int, cost float64)) []byte {
	rows := make([]int32, len(data)+1) // where the rest of the data begins that a row stands for
	for i := range rows {
		rows[i] = int32(i)
	}
	slices.SortFunc(rows, func(a, b int32) int { return bytes.Compare(data[a:], data[b:]) })
	head := binary.LittleEndian.AppendUint32(nil, uint32(len(data)))
	part := (len(data) + chains - 1) / chains
	for i := range chains {
		head = binary.LittleEndian.AppendUint32(head, uint32(slices.Index(rows, int32(min(i*part, len(data))))))
	}
	c := newRanks(head)
	for _, at := range rows {
		if at == 0 {
			continue // nothing stands before the whole
		}
		before := c.out.spent
		c.put(data[at-1])
		tell(int(at-1), float64(c.out.spent-before)/(8<<unit))
	}
	return c.out.finish()
}

// A ranks codes bytes by their ranks: the last one has rank 0, the one before it that was another rank 1. A rank is coded as answers to "is
// it more than 0, than 1, …", and from mostRank on as the byte itself. What is likely follows from how often rank 0 came last, and from how
// large the last ranks were.
type ranks struct {
	out    coder
	order  [256]byte
	run    int // how often rank 0 came last
	mean   int // of the last ranks, in sixteenths, of at most 8 each
	first  [8 * 8]uint16
	more   [mostRank * 8]uint16
	itself [256]uint16
}

const mostRank = 12

func newRanks(head []byte) *ranks {
	c := &ranks{out: coder{bytes: head, span: 1<<32 - 1, pending: 1}}
	for i := range c.order {
		c.order[i] = byte(i)
	}
	for _, probs := range [][]uint16{c.first[:], c.more[:], c.itself[:]} {
		for i := range probs {
			probs[i] = probStart
		}
	}
	return c
}

func (c *ranks) put(b byte) {
	rank := bytes.IndexByte(c.order[:], b)
	copy(c.order[1:], c.order[:rank])
	c.order[0] = b
	mean := min(c.mean>>4, 7)
	c.mean = (7*c.mean + 16*min(rank, 8)) / 8
	lately := min(bits.Len(uint(c.run)), 7)
	if rank == 0 {
		c.run++
		c.out.bit(&c.first[8*mean+lately], 0)
		return
	}
	c.run = 0
	c.out.bit(&c.first[8*mean+lately], 1)
	for n := 1; n < mostRank; n++ {
		p := &c.more[8*n+mean]
		if rank == n {
			c.out.bit(p, 0)
			return
		}
		c.out.bit(p, 1)
	}
	c.out.tree(c.itself[:], uint32(b), 8)
}
