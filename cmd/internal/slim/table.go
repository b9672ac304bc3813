package slim

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"

	"ohmwright/site/sections"
)

// header is how Go's function table begins (runtime.pcHeader): the magic number of Go 1.20 and later, two zeros, the step of
// program counters, and the size of a pointer on wasm.
var header = []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}

const headerWords = 9

// Places in the runtime's record of a program (runtime.moduledata), in words of eight bytes. A slice takes three words: address, length,
// capacity. The first word is the header's address; then come the five parts of the table, whose offsets the header has from its word 4 on.
const (
	wordIndex    = 16 // ftab: the start of pclntable
	wordAfter    = 19 // findfunctab: the linker puts it behind funcdata
	wordTypes    = 37
	wordTypesEnd = 38
	wordData     = 40 // gofunc
	wordLinks    = 45 // typelinks, of four bytes each: offsets from types
	wordMethods  = 48 // itablinks
	moduleWords  = 51
)

// table is Go's function table, found in a memory. Its parts are slices of the memory, so to write to them is to write there.
type table struct {
	start, data, end uint64 // addresses: of the header, of funcdata, and of what comes after

	names    []byte // function names, each with a zero after it
	units    []byte // where the names of a package's files are
	files    []byte
	counters []byte // tables from program counters to values, at the offsets that functions give
	records  []byte // the index, then the functions' records
	funcdata []byte
	count    int // of functions

	types, typesEnd      uint64 // addresses: of the types, and of what comes after
	links, linkCount     uint64 // of the list of types without names
	methods, methodCount uint64 // of the list of tables of methods
}

// findTable finds the function table of a memory, by its header and by the runtime's record, which must agree.
func findTable(memory []byte) (found *table, err error) {
	for at := 0; at+8*moduleWords <= len(memory); at += 8 {
		start := binary.LittleEndian.Uint64(memory[at:])
		if start+8*headerWords > uint64(len(memory)) || start > start+8*headerWords || !bytes.HasPrefix(memory[start:], header) {
			continue
		}
		if t := tableOf(memory, start, memory[at:]); t != nil && found != nil {
			return nil, errors.New("two function tables")
		} else if t != nil {
			found = t
		}
	}
	if found == nil {
		return nil, errors.New("no function table")
	}
	return found, nil
}

// tableOf returns the table with the header at start and the runtime's record given, or nil where the two do not agree.
func tableOf(memory []byte, start uint64, record []byte) *table {
	word := func(n int) uint64 { return binary.LittleEndian.Uint64(record[8*n:]) }
	head := func(n int) uint64 { return binary.LittleEndian.Uint64(memory[start+8*uint64(n):]) }
	t := &table{start: start, data: word(wordData), end: word(wordAfter), count: int(head(1)),
		types: word(wordTypes), typesEnd: word(wordTypesEnd), links: word(wordLinks), linkCount: word(wordLinks + 1),
		methods: word(wordMethods), methodCount: word(wordMethods + 1)}
	last, size := start+8*headerWords, uint64(len(memory))
	for i, part := range []*[]byte{&t.names, &t.units, &t.files, &t.counters, &t.records} {
		from, length := word(1+3*i), word(2+3*i)
		if part == &t.units {
			length *= 4
		}
		if from != start+head(4+i) || from < last || from > size || length > size-from {
			return nil
		}
		last = from + length
		*part = memory[from:last:last]
	}
	if word(wordIndex) != start+head(8) || word(wordIndex+1) != head(1)+1 || head(1) >= uint64(len(t.records)/8) ||
		t.data < last || t.end <= t.data || t.end > size || t.links > size || 4*t.linkCount > size-t.links {
		return nil
	}
	t.funcdata = memory[t.data:t.end:t.end]
	return t
}

// function is the record of one function (runtime._func), a slice of the table's records: to set a field is to write to the memory.
type function []byte

// Fields of a record by their places, four bytes each. After the last, funcID and three other bytes, come the offsets of the
// function's tables by program counter (pcdata) and of its other data (funcdata).
const (
	fieldEntry   = 0 // number of the function in the code
	fieldName    = 1
	fieldStack   = 4 // pcsp: the table of stack depths
	fieldFile    = 5 // pcfile
	fieldLine    = 6 // pcln
	fieldPCData  = 7 // how many offsets of pcdata
	fieldUnit    = 8 // cuOffset
	fieldStart   = 9 // startLine
	fieldSpecial = 10
	recordFields = 11
)

// Numbers of pcdata and funcdata, from internal/abi/symtab.go.
const (
	pcdataUnsafePoint   = 0
	pcdataInlining      = 2
	pcdataArgLiveIndex  = 3
	pcdataKinds         = 5
	funcdataInlining    = 3
	funcdataArgInfo     = 5
	funcdataArgLiveInfo = 6
	funcdataKinds       = 8
)

// none is a funcdata offset that stands for no data; among pcdata it is 0.
const none = 1<<32 - 1

func (f function) get(field int) uint32    { return binary.LittleEndian.Uint32(f[4*field:]) }
func (f function) set(field int, n uint32) { binary.LittleEndian.PutUint32(f[4*field:], n) }

func (f function) special() byte { return f[4*fieldSpecial] } // funcID
func (f function) pcdata() int   { return int(f.get(fieldPCData)) }
func (f function) funcdata() int { return int(f[4*fieldSpecial+3]) }

// fieldOfPCData and fieldOfFuncdata return the places of the offsets numbered n.
func (f function) fieldOfPCData(n int) int   { return recordFields + n }
func (f function) fieldOfFuncdata(n int) int { return recordFields + f.pcdata() + n }

// functions reads the records, and refuses the table where one is not as the runtime of Go 1.26 reads it.
func (t *table) functions() (all []function, err error) {
	for i := range t.count {
		f, err := t.function(i)
		if err != nil {
			return nil, fmt.Errorf("function %d: %w", i, err)
		}
		all = append(all, f)
	}
	return all, nil
}

func (t *table) function(i int) (function, error) {
	entry, at := binary.LittleEndian.Uint32(t.records[8*i:]), uint64(binary.LittleEndian.Uint32(t.records[8*i+4:]))
	if at+4*recordFields > uint64(len(t.records)) {
		return nil, fmt.Errorf("its record is outside the table")
	}
	f := function(t.records[at:])
	if f.pcdata() > pcdataKinds || f.funcdata() > funcdataKinds || 4*(recordFields+f.pcdata()+f.funcdata()) > len(f) {
		return nil, fmt.Errorf("%d tables of pcdata, %d of funcdata", f.pcdata(), f.funcdata())
	}
	f = f[:4*(recordFields+f.pcdata()+f.funcdata())]
	if f.get(fieldEntry) != entry || f.special() > specialWrapper {
		return nil, fmt.Errorf("entry %d for %d, kind %d", f.get(fieldEntry), entry, f.special())
	}
	if n := f.get(fieldName); uint64(n) >= uint64(len(t.names)) || n > 0 && t.names[n-1] != 0 {
		return nil, fmt.Errorf("its name begins at %d, inside another", n)
	}
	for field := fieldStack; field < recordFields+f.pcdata(); field++ {
		if field <= fieldLine || field >= recordFields {
			if _, err := t.counterTable(f.get(field)); err != nil {
				return nil, err
			}
		}
	}
	for n := range f.funcdata() {
		if at := f.get(f.fieldOfFuncdata(n)); at != none && uint64(at) >= uint64(len(t.funcdata)) {
			return nil, fmt.Errorf("its funcdata %d is outside the table", n)
		}
	}
	return f, nil
}

// counterTable returns the table by program counter at an offset: pairs of a value's change and a counter's, seven bits a byte, until a
// change of 0 that is not the first (runtime.step).
func (t *table) counterTable(at uint32) ([]byte, error) {
	if at == 0 {
		return nil, nil
	}
	if uint64(at) >= uint64(len(t.counters)) {
		return nil, fmt.Errorf("a table by program counter begins outside its place")
	}
	in := &sections.Reader{Bytes: t.counters[at:]}
	for first := true; ; first = false {
		if change := in.Unsigned(); change == 0 && !first {
			break
		}
		in.Unsigned()
	}
	if in.Failed {
		return nil, fmt.Errorf("a table by program counter has no end")
	}
	return t.counters[at : len(t.counters)-len(in.Bytes)], nil
}

// name returns the function name at an offset.
func (t *table) name(at uint32) string {
	name, _, _ := bytes.Cut(t.names[at:], []byte{0})
	return string(name)
}
