package pack

import (
	"bytes"
	"encoding/binary"
	"math/bits"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A decoder takes in what a coder has put out.
type decoder struct {
	bytes      []byte
	span, code uint32
}

func (d *decoder) bit(prob *uint16) (bit uint32) {
	bound := (d.span >> probBits) * uint32(*prob)
	if d.code < bound {
		d.span = bound
		*prob += (1<<probBits - *prob) >> probShift
	} else {
		d.code, d.span, bit = d.code-bound, d.span-bound, 1
		*prob -= *prob >> probShift
	}
	for d.span < least {
		d.span, d.code, d.bytes = d.span<<8, d.code<<8|uint32(d.bytes[0]), d.bytes[1:]
	}
	return bit
}

// byte reads the next byte as ranks.put writes it.
func (d *decoder) byte(c *ranks) byte {
	mean, lately, rank := min(c.mean>>4, 7), min(bits.Len(uint(c.run)), 7), 0
	for p := &c.first[8*mean+lately]; d.bit(p) == 1; p = &c.more[8*rank+mean] {
		if rank++; rank == mostRank {
			m := uint32(1)
			for m < 256 {
				m = m<<1 | d.bit(&c.itself[m])
			}
			rank = bytes.IndexByte(c.order[:], byte(m))
			break
		}
	}
	b := c.order[rank]
	copy(c.order[1:], c.order[:rank])
	c.order[0] = b
	c.mean = (7*c.mean + 16*min(rank, 8)) / 8
	c.run++
	if rank > 0 {
		c.run = 0
	}
	return b
}

// unsorted unpacks what Sorted has packed, from the whole alone: the other parts have to begin where it says.
func unsorted(t *testing.T, packed []byte) []byte {
	t.Helper()
	n, first := binary.LittleEndian.Uint32(packed), packed[4:4+4*chains]
	rest := packed[4+4*chains:]
	d := &decoder{rest[5:], 1<<32 - 1, binary.BigEndian.Uint32(rest[1:])}
	c := newRanks(nil)
	whole := binary.LittleEndian.Uint32(first)
	var at [257]uint32
	last := make([]byte, n)
	for i := range last {
		last[i] = d.byte(c)
		at[int(last[i])+1]++
	}
	at[0] = 1
	for i := range 256 {
		at[i+1] += at[i]
	}
	next := make([]uint32, n+1)
	for i, b := range last {
		row := uint32(i)
		if row >= whole {
			row++
		}
		next[at[b]] = row
		at[b]++
	}
	out := make([]byte, n)
	row, part := whole, (int(n)+chains-1)/chains
	for i := range out {
		if part > 0 && i%part == 0 {
			assert.Equal(t, row, binary.LittleEndian.Uint32(first[4*(i/part):]), "where part %d begins", i/part)
		}
		if row = next[row]; row > whole {
			out[i] = last[row-1]
		} else {
			out[i] = last[row]
		}
	}
	return out
}

func TestSorted(t *testing.T) {
	for name, data := range samples() {
		data = data[:min(len(data), 30_000)] // long repeats take long to sort
		packed := Sorted(data)
		assert.Equal(t, packed, Sorted(data), "%s: the same each time", name)
		assert.True(t, bytes.Equal(data, unsorted(t, packed)), "%s: other bytes come out", name)
		sum := 0.0
		for _, cost := range SortedCosts(data) {
			sum += cost
		}
		assert.InDelta(t, len(packed), sum, 150+float64(len(packed))/30, "%s: the costs are all of it, rounded", name)
	}
	words := samples()["words"]
	require.Less(t, len(Sorted(words)), len(words)/3)
}
