package slim

import (
	"encoding/binary"
	"errors"
)

// Places in a type (abi.Type and the types that begin with one, internal/abi/type.go and map.go), in bytes.
const (
	typeHash     = 16
	typeFlags    = 20 // the lowest bit: an abi.UncommonType follows
	typeKind     = 23
	typeName     = 40 // offset of its name
	typePointer  = 44 // offset of the type of pointers to it
	typeSize     = 48
	typeList     = 56 // of a struct's fields
	uncommonSize = 16
	methodSize   = 16
	fieldSize    = 24
)

// Flags of types besides: a name of its own, and pointers that the garbage collector finds by its fields.
const (
	flagNamed        = 4
	flagMaskOnDemand = 16
)

// Kinds of types that are treated apart.
const (
	kindInterface = 20
	kindStruct    = 25
	kindMask      = 1<<5 - 1
)

// kinds are what kinds of types take before what follows them, where that is more than typeSize, and how many addresses of types they have
// at typeSize.
var kinds = map[byte]struct{ size, addresses uint64 }{
	17: {72, 2}, 18: {64, 1}, 19: {56, 0}, 21: {112, 3}, 22: {56, 1}, 23: {56, 1}, // array, chan, func, map, pointer, slice
	kindInterface: {80, 0}, kindStruct: {80, 0},
}

// types are the types that the runtime's lists of a module lead to.
type types struct {
	*module
	base, end uint64 // of where types are
	seen      map[uint64]bool
	copies    []uint64 // addresses of copies of hashes, in tables of methods for an interface (abi.ITab)
	methods   []uint64 // addresses of the methods of types (abi.Method)
	todo      []uint64
	failed    bool
}

// readTypes reads the types of a module.
func (m *module) readTypes() (*types, error) {
	t := m.table
	all := &types{module: m, base: t.types, end: t.typesEnd, seen: map[uint64]bool{}}
	for _, n := range all.words(t.links, t.linkCount, 4) {
		all.offset(n)
	}
	for _, methods := range all.words(t.methods, t.methodCount, 8) {
		all.add(all.word(methods))
		all.add(all.word(methods + 8))
		all.copies = append(all.copies, methods+typeHash)
	}
	for len(all.todo) > 0 && !all.failed {
		next := all.todo[len(all.todo)-1]
		all.todo = all.todo[:len(all.todo)-1]
		all.follow(next)
	}
	if all.failed {
		return nil, errors.New("a type leads outside of the types")
	}
	return all, nil
}

// add notes a type that is to be followed.
func (a *types) add(at uint64) {
	switch {
	case at < a.base || at > a.end-typeSize || a.end > uint64(len(a.memory)):
		a.failed = true
	case !a.seen[at]:
		a.seen[at] = true
		a.todo = append(a.todo, at)
	}
}

// word reads eight bytes.
func (a *types) word(at uint64) uint64 {
	if at > uint64(len(a.memory))-8 {
		a.failed = true
		return 0
	}
	return binary.LittleEndian.Uint64(a.memory[at:])
}

// words reads numbers of a size that begin at an address.
func (a *types) words(at, count, size uint64) (list []uint64) {
	if count > uint64(len(a.memory))/size {
		a.failed = true
		return nil
	}
	for i := range count {
		list = append(list, a.word(at+i*size))
	}
	return list
}

// offset adds the type at an offset, if there is one: methods that nobody can call have none.
func (a *types) offset(n uint64) {
	if int32(n) > 0 {
		a.add(a.base + uint64(uint32(n)))
	}
}

// follow adds the types that a type leads to.
func (a *types) follow(at uint64) {
	kind := a.memory[at+typeKind] & kindMask
	after := at + max(typeSize, kinds[kind].size)
	if after+uncommonSize > a.end {
		a.failed = true
		return
	}
	a.offset(a.word(at + typePointer))
	if a.memory[at+typeFlags]&1 != 0 {
		first := after + uint64(binary.LittleEndian.Uint32(a.memory[after+8:]))
		for i := range uint64(binary.LittleEndian.Uint16(a.memory[after+4:])) {
			a.offset(a.word(first+methodSize*i) >> 32)
			a.word(first + methodSize*i + 8)
			a.methods = append(a.methods, first+methodSize*i)
		}
	}
	for _, address := range a.words(at+typeSize, kinds[kind].addresses, 8) {
		a.add(address)
	}
	if kind == kindStruct {
		fields := a.words(a.word(at+typeList), 3*a.word(at+typeList+8), 8)
		for i := 1; i < len(fields); i += 3 {
			a.add(fields[i])
		}
	}
}
