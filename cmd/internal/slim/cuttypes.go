package slim

import (
	"encoding/binary"
	"slices"
)

// cutTypes takes out of types what nothing asks for.
func (m *module) cutTypes(t *table) error {
	all, err := t.readTypes(m.memory)
	if err != nil {
		return err
	}
	m.clearHashes(all)
	all.clearPointers()
	m.clearNames(t, all.base, all.cutMethods())
	return nil
}

// clearHashes makes zeros of hashes. Every type has one, of four bytes that no compressor makes smaller. Code asks for it in a type switch
// alone: it compares the hash with constants, one for each case, and then the type itself (walkSwitchType in
// cmd/compile/internal/walk/switch.go). So the hash of a type that is no case anywhere may be any number that is no constant of the code.
// The runtime asks too, but only to have places for types that are apart (itabHashFunc in runtime/iface.go, lookups in reflect), which
// interfaces by themselves give: those stay.
func (m *module) clearHashes(all *types) {
	places := slices.Clone(all.copies)
	for at := range all.seen {
		if m.memory[at+typeKind]&kindMask != kindInterface {
			places = append(places, at+typeHash)
		}
	}
	asked := map[uint32]bool{}
	for _, at := range places {
		asked[binary.LittleEndian.Uint32(m.memory[at:])] = false
	}
	m.constants(asked)
	for _, at := range places {
		if hash := m.memory[at : at+4]; !asked[binary.LittleEndian.Uint32(hash)] {
			clear(hash)
		}
	}
}

// constants marks those numbers that may be constants of the code: what stands behind any byte that is the number of an instruction with a
// constant, be it one or not.
func (m *module) constants(numbers map[uint32]bool) {
	const i64Const = 0x42
	for _, s := range m.sections {
		if s.id != codeSection {
			continue
		}
		for i, b := range s.content {
			if b != i32Const && b != i64Const {
				continue
			}
			in := &reader{bytes: s.content[i+1:]}
			n := uint32(in.signed())
			if _, known := numbers[n]; known {
				numbers[n] = true
			}
		}
	}
}

// clearPointers makes zeros of what leads from a type to that of pointers to it, where the list of types has that too: reflect then finds
// it there by its name (ptrTo in reflect/type.go). Nobody else asks.
func (a *types) clearPointers() {
	for at := range a.seen {
		place := a.memory[at+typePointer : at+typePointer+4]
		if n := binary.LittleEndian.Uint32(place); n != 0 && a.listed[a.base+uint64(n)] {
			clear(place)
		}
	}
}

// noCode stands for the two functions of a method that the linker has cut.
const noCode = 1<<64 - 1

// cutMethods takes names and code from methods that nothing can call: the linker has put -1 for their type (deadcode.go in
// cmd/link/internal/ld), and who looks for a method compares name and type. Each gets the name of the one before: names stay in order, and
// the first of a name is the one that was not cut. It returns the names that were taken, by their offsets.
func (a *types) cutMethods() map[uint32]bool {
	taken := map[uint32]bool{}
	last := uint32(0)
	for i, at := range a.methods {
		if i == 0 || a.methods[i-1] != at-methodSize {
			last = 0
		}
		method := a.memory[at : at+methodSize]
		name := binary.LittleEndian.Uint32(method)
		if binary.LittleEndian.Uint32(method[4:]) != none {
			last = name
			continue
		}
		taken[name] = false
		binary.LittleEndian.PutUint32(method, last)
		binary.LittleEndian.PutUint64(method[8:], noCode)
	}
	return taken
}

// clearNames makes zeros of names, by their offsets from a base, that nothing else seems to lead to: no number of the code and no four
// bytes of the memory outside of the function table are such an offset, or the address.
func (m *module) clearNames(t *table, base uint64, names map[uint32]bool) {
	delete(names, 0)
	numbers := map[uint32]bool{}
	for n := range names {
		numbers[n], numbers[uint32(base)+n] = false, false
	}
	m.constants(numbers)
	for _, part := range [][]byte{m.memory[:t.start], m.memory[t.end:]} {
		for i := range max(0, len(part)-3) {
			n := binary.LittleEndian.Uint32(part[i:])
			if _, known := numbers[n]; known {
				numbers[n] = true
			}
		}
	}
	for n := range names {
		if !numbers[n] && !numbers[uint32(base)+n] {
			clear(nameAt(m.memory[base+uint64(n):]))
		}
	}
}

// nameAt returns the name that begins some bytes, as it is there (abi.Name): flags, length, text, and where a flag says so the offset of
// the package's path.
func nameAt(b []byte) []byte {
	const hasTag, hasPath = 2, 4
	if b[0]&hasTag != 0 {
		return nil // of a struct's field
	}
	length, n := binary.Uvarint(b[1:])
	size := 1 + max(0, n) + int(length)
	if b[0]&hasPath != 0 {
		size += 4
	}
	if n <= 0 || size > len(b) {
		return nil
	}
	return b[:size]
}
