package fold

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"slices"
)

// A piece is a part of a module that follows from something else. It is folded as zeros.
type piece struct {
	from  int
	bytes []byte
}

// around finds the slopes in a part of a module, but for pieces.
func around(wasm []byte, from, to int, pieces []piece) (found []slope) {
	slices.SortFunc(pieces, func(a, b piece) int { return cmp.Compare(a.from, b.from) })
	for _, p := range pieces {
		if from <= p.from && p.from+len(p.bytes) <= to {
			found = append(found, slopes(wasm, from, p.from)...)
			from = p.from + len(p.bytes)
		}
	}
	return append(found, slopes(wasm, from, to)...)
}

// An extent is what tables of stack depths follow from: the frame of a function, and how many numbers its parts take, but for the last one.
type extent struct{ frame, numbers int64 }

// The tables of stack depths (pcsp of runtime._func) say how deep the stack is from which number of a function on: at the first as its
// caller left it, after that deeper by the frame. They stand in the order of the functions, equal ones once (gather in cmd/internal/slim),
// and so do their offsets in the records. So all that is left to say of each function is how many numbers its last part takes, 1 or 2.
type stacks struct {
	piece
	first  uint32 // the offset of the first table
	column []byte // of all functions, one after the other
}

// What the column says of a function: that it has no table, what its last part takes, or, behind the third, frame and numbers.
const (
	noTable   = 0
	mostLast  = 2
	different = 3
	wordStack = 4 // of a record
)

// stacks finds the tables of stack depths, or returns nil if they are not as they should be.
func (f *functions) stacks(wasm []byte, from int, extents []extent) *stacks {
	s := &stacks{}
	known := map[extent]uint32{}
	if len(f.records) != len(extents) {
		return nil
	}
	for i, row := range f.records {
		if row[0] != firstAddress+uint32(i) {
			return nil
		}
		if row[wordStack] == 0 {
			s.column = append(s.column, noTable)
			continue
		}
		at := position(wasm, from, f.counters+uint64(row[wordStack]))
		e, size := readStack(wasm[at:])
		if at == 0 || size == 0 {
			return nil
		}
		offset, seen := known[e]
		if !seen {
			if len(known) == 0 {
				s.from, s.first = at, row[wordStack]
			}
			offset = s.first + uint32(len(s.bytes))
			known[e] = offset
			s.bytes = append(s.bytes, stackTable(e)...)
		}
		if offset != row[wordStack] {
			return nil
		}
		if last := e.numbers - extents[i].numbers; e.frame == extents[i].frame && 1 <= last && last <= mostLast {
			s.column = append(s.column, byte(last))
		} else {
			s.column = join(append(s.column, different), unsigned(e.frame/8), unsigned(e.numbers))
		}
	}
	if len(known) == 0 || !bytes.HasPrefix(wasm[s.from:], s.bytes) {
		return nil
	}
	return s
}

// behind returns the offset behind a table by program counter, or last if it is none: pairs of numbers, until one begins with 0 that is not
// the first. Like the page's lines it takes what is outside for zeros.
func (s *stacks) behind(wasm []byte, offset, last uint32) uint32 {
	at := s.from + int(int32(offset-s.first))
	if offset < s.first || at < 0 {
		return last
	}
	byteAt := func(i int) byte {
		if i < len(wasm) {
			return wasm[i]
		}
		return 0
	}
	skip := func() {
		for ; byteAt(at) >= 0x80; at++ {
		}
		at++
	}
	for first := true; at < len(wasm); first = false {
		done := !first && byteAt(at) == 0
		if skip(); done {
			return s.first + uint32(at-s.from)
		}
		skip()
	}
	return last
}

// position returns where an address is in a module, or 0.
func position(wasm []byte, from int, address uint64) int {
	for _, s := range dataSegments(wasm, from) {
		if n := address - uint64(s.address); n < uint64(s.to-s.from) {
			return s.from + int(n)
		}
	}
	return 0
}

// readStack reads the table of stack depths that begins some bytes, and its size, which is 0 if it is none.
func readStack(b []byte) (extent, int) {
	var e extent
	r := &reader{bytes: b}
	r.is(2)
	if e.numbers = r.unsigned(); e.numbers == 1 && r.at < len(b) && b[r.at] != 0 {
		twice, _ := binary.Uvarint(r.number())
		e.frame = int64(min(twice, 1<<32)) / 2
		e.numbers += r.unsigned()
	}
	if table := stackTable(e); !r.failed && e.frame%8 == 0 && bytes.HasPrefix(b, table) {
		return e, len(table)
	}
	return extent{}, 0
}

// stackTable is the table of stack depths of a function.
func stackTable(e extent) []byte {
	if e.frame == 0 {
		return join([]byte{2}, unsigned(e.numbers), []byte{0})
	}
	return join([]byte{2, 1}, binary.AppendUvarint(nil, uint64(2*e.frame)), unsigned(e.numbers-1), []byte{0})
}
