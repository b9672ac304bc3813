package fold

import (
	"bytes"
	"encoding/binary"
)

// The linker's table of functions (runtime.pcHeader, and what its last word leads to) is an index, of each function's number and the
// place of its record, and the records: eleven words, as many more for pcdata and funcdata as two of the eleven say, and a word of 0 where
// that makes the next begin at a multiple of eight. It is folded into columns: a word of all functions after the other. In a column a word
// that was there before is written as its number, from 1 on, by the order in which they came first; a new one as 0, and how it differs from
// the new one before, or from what follows from that, comes after the column.
type functions struct {
	at       int    // in the module
	counters uint64 // the address from which the tables by program counter are counted
	records  [][]uint32
}

// Words of a header and of a record. The number of pcdata is a word, that of funcdata the last byte of one.
const (
	headerCount    = 1
	headerCounters = 7
	headerRecords  = 8
	headerSize     = 9 * 8
	recordFixed    = 11
	recordPCData   = 7
	recordFuncdata = 10
	mostWords      = recordFixed + 2*255 // more than there are
)

var headerStart = []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8} // of Go 1.20 and later: a magic number, and the step and size of pointers

// findFunctions finds the table in a module from a place on, or returns nil. What is taken for it would be laid out as it is now.
func findFunctions(wasm []byte, from int) *functions {
	segments := dataSegments(wasm, from)
	for _, s := range segments {
		for at := s.from; ; at++ {
			next := bytes.Index(wasm[at:s.to], headerStart)
			if next < 0 {
				break
			}
			at += next
			if s.to-at < headerSize {
				break
			}
			word := func(n int) uint64 { return binary.LittleEndian.Uint64(wasm[at+8*n:]) }
			address := uint64(s.address+at-s.from) + word(headerRecords)
			for _, o := range segments {
				if size := uint64(o.to - o.from); address-uint64(o.address) < size {
					begin := o.from + int(address-uint64(o.address))
					if f := readFunctions(wasm[:o.to], begin, word(headerCount)); f != nil {
						f.counters = uint64(s.address+at-s.from) + word(headerCounters)
						return f
					}
				}
			}
		}
	}
	return nil
}

// readFunctions reads a table at a place, or returns nil.
func readFunctions(wasm []byte, at int, count uint64) *functions {
	f := &functions{at: at}
	all := wasm[at:]
	if count == 0 || count > uint64(len(all)/8-1) {
		return nil
	}
	for i := range int(count) {
		place := int(binary.LittleEndian.Uint32(all[8*i+4:]))
		if place > len(all)-4*recordFixed {
			return nil
		}
		record := all[place:]
		words := recordFixed + int(binary.LittleEndian.Uint32(record[4*recordPCData:])) + int(record[4*recordFuncdata+3])
		if words > mostWords || words > len(record)/4 {
			return nil
		}
		var row []uint32
		for w := range words {
			row = append(row, binary.LittleEndian.Uint32(record[4*w:]))
		}
		f.records = append(f.records, row)
	}
	if laid := f.laid(); !bytes.HasPrefix(all, laid) {
		return nil
	}
	return f
}

// laid is the table as the linker writes it.
func (f *functions) laid() []byte {
	var index, all []byte
	place := 8 * (len(f.records) + 1)
	for _, row := range f.records {
		all = append(all, make([]byte, -len(all)&7)...)
		index = binary.LittleEndian.AppendUint32(index, row[0])
		index = binary.LittleEndian.AppendUint32(index, uint32(place+len(all)))
		for _, word := range row {
			all = binary.LittleEndian.AppendUint32(all, word)
		}
	}
	index = binary.LittleEndian.AppendUint32(index, f.records[0][0]+uint32(len(f.records)))
	return join(index, make([]byte, 4), all)
}

// folded is the table in columns, without that of stack depths where these are known; then tables of pcdata are expected behind each other.
func (f *functions) folded(wasm []byte, s *stacks) (out []byte) {
	itself := func(word, _ uint32) uint32 { return word }
	behind := itself
	if s != nil {
		behind = func(word, last uint32) uint32 { return s.behind(wasm[:f.at], word, last) }
	}
	pcdata := func(row []uint32) int { return int(row[recordPCData]) }
	for n := range recordFixed {
		if n == wordStack && s != nil {
			continue
		}
		out = append(out, f.column(itself, func(row []uint32) int { return n })...)
	}
	for n := 0; ; n++ { // one column more than there are words, of no function
		some := f.column(behind, func(row []uint32) int {
			if n < pcdata(row) {
				return recordFixed + n
			}
			return none
		})
		if out = append(out, some...); len(some) == 0 {
			break
		}
	}
	for n := 0; ; n++ {
		some := f.column(itself, func(row []uint32) int {
			if n < int(row[recordFuncdata]>>24) {
				return recordFixed + pcdata(row) + n
			}
			return none
		})
		if out = append(out, some...); len(some) == 0 {
			break
		}
	}
	return out
}

const none = -1

// column is one word of the functions that have it. What is next expected to be new follows from the new word that was there last.
func (f *functions) column(next func(word, last uint32) uint32, place func(row []uint32) int) []byte {
	var numbers, news []byte
	known, last := map[uint32]int64{}, uint32(0)
	for _, row := range f.records {
		at := place(row)
		if at == none {
			continue
		}
		word := row[at]
		numbers = append(numbers, unsigned(known[word])...)
		if known[word] == 0 {
			known[word] = int64(len(known) + 1)
			news = append(news, unsigned(int64(uint32(int32(word-last)<<1^int32(word-last)>>31)))...)
			last = next(word, last)
		}
	}
	return append(numbers, news...)
}

// A segment is a piece of data: where it is in the module, and its address in the memory.
type segment struct{ from, to, address int }

// dataSegments returns the pieces of the data section that begins at a place or after it.
func dataSegments(wasm []byte, from int) (all []segment) {
	r := &reader{bytes: wasm, at: from}
	for !r.failed && r.at < len(wasm) {
		id, size := r.byte(), r.unsigned()
		if id != 11 {
			r.take(int(size))
			continue
		}
		for range r.unsigned() {
			if !r.is(0, 0x41) {
				return nil
			}
			address := r.signed()
			if !r.is(0x0b) {
				return nil
			}
			size := int(r.unsigned())
			at := r.at
			if r.take(size); r.failed || address < 0 {
				return nil
			}
			all = append(all, segment{at, r.at, int(address)})
		}
		return all
	}
	return nil
}
