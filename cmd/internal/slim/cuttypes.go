package slim

import (
	"encoding/binary"
	"slices"
)

// cutTypes takes out of types what nothing asks for.
func (m *module) cutTypes(linked map[string]bool) error {
	all, err := m.readTypes()
	if err != nil {
		return err
	}
	all.clearHashes()
	names := all.cutMethods()
	if !slices.ContainsFunc(fieldReaders, func(name string) bool { return linked[name] }) {
		all.cutFields(names)
	}
	if !linked["reflect.typesByString"] {
		all.cutMaking()
	}
	all.clearNames(names)
	return nil
}

// clearHashes makes zeros of hashes. Every type has one, of four bytes that no compressor makes smaller. Code asks for it in a type switch
// alone: it compares the hash with constants, one for each case, and then the type itself (walkSwitchType in
// cmd/compile/internal/walk/switch.go). So the hash of a type that is no case anywhere may be any number that is no constant of the code.
// The runtime asks too, but only to have places for types that are apart (itabHashFunc in runtime/iface.go, lookups in reflect), which
// interfaces by themselves give: those stay.
func (a *types) clearHashes() {
	places := slices.Clone(a.copies)
	for at := range a.seen {
		if a.memory[at+typeKind]&kindMask != kindInterface {
			places = append(places, at+typeHash)
		}
	}
	asked := map[uint32]bool{}
	for _, at := range places {
		asked[binary.LittleEndian.Uint32(a.memory[at:])] = false
	}
	a.constants(asked)
	for _, at := range places {
		if hash := a.memory[at : at+4]; !asked[binary.LittleEndian.Uint32(hash)] {
			clear(hash)
		}
	}
}

// constants marks those of some numbers that may be constants of the code.
func (m *module) constants(some map[uint32]bool) {
	for _, body := range m.bodies {
		numbers(body, func(_ byte, n int64) { mark(some, uint32(n)) })
	}
}

func mark(some map[uint32]bool, n uint32) {
	if _, known := some[n]; known {
		some[n] = true
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

// fieldReaders are functions by which a program reads of a struct what fields it has, apart from printing it. A program that has none of
// them in it prints a struct as {} with fmt's %v: there its fields are only read to print them. The garbage collector reads them of large
// types alone (buildGCMask in runtime/type.go), a map with structs in interfaces as keys finds those at one place, and equality has code
// of its own (Equal).
var fieldReaders = []string{
	"reflect.StructTag.Lookup", "reflect.(*structType).FieldByName", "reflect.(*structType).FieldByNameFunc", "reflect.Value.FieldByIndex",
	"reflect.VisibleFields", "reflect.DeepEqual", "reflect.StructOf", "reflect.FuncOf",
}

// cutFields takes the lists of fields from structs, and notes the names that were there, by their offsets.
func (a *types) cutFields(names map[uint32]bool) {
	for at := range a.seen {
		if a.memory[at+typeKind]&kindMask != kindStruct || a.memory[at+typeFlags]&flagMaskOnDemand != 0 {
			continue
		}
		list, count := a.word(at+typeList), a.word(at+typeList+8)
		for i := range count {
			if name := a.word(list + fieldSize*i); a.base <= name && name < a.end {
				names[uint32(name-a.base)] = false
			}
		}
		clear(a.memory[list : list+fieldSize*count])
		clear(a.memory[at+typeList : at+typeList+24])
	}
}

// shortName is how much is left of the name of a type without one of its own, such as a func's, which only the texts of panics and
// reflect's String give.
const shortName = 8

// cutMaking takes away what reflect makes types of others by (typesByString, which nobody calls): the list of types without names, what
// leads to types of pointers, and of the names of types without one of their own all but the first characters. A name begins with one
// character more where it is shared with the type of pointers (abi.TFlagExtraStar): that stays.
func (a *types) cutMaking() {
	clear(a.memory[a.table.links : a.table.links+4*a.table.linkCount])
	own := map[uint32]bool{}
	for at := range a.seen {
		clear(a.memory[at+typePointer : at+typePointer+4])
		if a.memory[at+typeFlags]&flagNamed != 0 {
			own[binary.LittleEndian.Uint32(a.memory[at+typeName:])] = true
		}
	}
	for at := range a.seen {
		n := binary.LittleEndian.Uint32(a.memory[at+typeName:])
		name := nameAt(a.memory[a.base+uint64(n):])
		text := name[min(len(name), 2):]
		if own[n] || len(text) <= shortName || name[0]&hasPath != 0 {
			continue
		}
		if name[1] >= 0x80 { // the length takes two bytes
			text = text[1:]
		}
		copy(name[2:], text[:shortName])
		name[1] = shortName
		clear(name[2+shortName:])
	}
}

// clearNames makes zeros of names, by their offsets from a base, that nothing else seems to lead to: no number of the code and no four
// bytes of the memory outside of the function table are such an offset, or the address.
func (a *types) clearNames(names map[uint32]bool) {
	delete(names, 0)
	leads := map[uint32]bool{}
	for n := range names {
		leads[n], leads[uint32(a.base)+n] = false, false
	}
	a.constants(leads)
	for _, part := range [][]byte{a.memory[:a.table.start], a.memory[a.table.end:]} {
		for i := range max(0, len(part)-3) {
			mark(leads, binary.LittleEndian.Uint32(part[i:]))
		}
	}
	for n := range names {
		if !leads[n] && !leads[uint32(a.base)+n] {
			clear(nameAt(a.memory[a.base+uint64(n):]))
		}
	}
}

// Flags of a name.
const (
	hasTag  = 2
	hasPath = 4
)

// nameAt returns the name that begins some bytes, as it is there (abi.Name): flags, length, text, where a flag says so the same of a tag,
// and where one says so the offset of the package's path.
func nameAt(b []byte) []byte {
	size := 1
	for _, there := range []bool{true, b[0]&hasTag != 0} {
		if there && size < len(b) {
			length, n := binary.Uvarint(b[size:])
			size += max(0, n) + int(min(length, 1<<16))
		}
	}
	if b[0]&hasPath != 0 {
		size += 4
	}
	if size > len(b) {
		return nil
	}
	return b[:size]
}
