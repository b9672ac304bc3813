// Package slim takes out of a linked js/wasm module of Go 1.26 what a page does not need, so that there is less to transfer:
//
//   - the addresses of tens of thousands of data segments, which Go's linker starts anew after eight zeros;
//   - the code of functions that do nothing in a page, and of those that only they lead to (reasons.txt, reach.go);
//   - of Go's function table what only a stack trace reads: names, files, lines and arguments of functions, and what was inlined in them
//     but for where recover asks (cut.go). What the garbage collector, growing stacks, defer and recover read stays as it is;
//   - of types the hashes that no type switch compares, the names of methods that cannot be called, and what only reflect asks for where
//     nothing in the module does (cuttypes.go).
//
// No other code changes, and of the rest only the tables by program counter and the names move, within their place: what is taken out
// becomes zeros. A program that panics still says why, but not where; with %v a struct without a text of its own is printed as {}.
//
// Written by Go's own source, to be read beside it: src/runtime/symtab.go and runtime2.go (who reads the table),
// src/cmd/link/internal/ld/pcln.go and symtab.go (who writes it), src/internal/abi/symtab.go (its numbers), type.go beside it (types),
// src/cmd/link/internal/wasm/asm.go (the module). What is not laid out as there is refused.
package slim

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"ohmwright/site/sections"
)

// ErrUnknown is the error of a module that is not laid out as this package knows it.
var ErrUnknown = errors.New("not laid out as by Go 1.26 for js/wasm")

// Module returns a smaller module that does the same, but for what is named above. One that is smaller already is refused: its functions
// have no names any more, by which they are known.
func Module(wasm []byte) ([]byte, error) {
	m, err := readModule(wasm)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUnknown, err)
	}
	if _, err := m.cut(); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrUnknown, err)
	}
	return m.write(), nil
}

// module is a WebAssembly module taken apart: its sections, the functions of its code, and the memory that its data section describes.
type module struct {
	sections []sections.Section // those of code and data are as they were read: bodies and memory stand for them
	bodies   [][]byte           // functions, each with its variables and instructions
	memory   []byte
	table    *table // Go's function table: a part of memory
}

// readModule takes a module apart.
func readModule(wasm []byte) (m *module, err error) {
	m = &module{}
	if m.sections, err = sections.Read(wasm); err != nil {
		return nil, err
	}
	if sections.Content(m.sections, sections.DataCount) != nil {
		return nil, errors.New("it counts its data segments, so its code may name them")
	}
	if !slices.ContainsFunc(m.sections, builtByKnown) {
		return nil, errors.New("it was built by another release")
	}
	if m.bodies, err = sections.Functions(sections.Content(m.sections, sections.Code)); err != nil {
		return nil, err
	}
	if m.memory, err = sections.Memory(sections.Content(m.sections, sections.Data)); err != nil {
		return nil, err
	}
	m.table, err = findTable(m.memory)
	return m, err
}

// builtByKnown reports whether a section is the one that says by what a module was made (writeProducerSec in asm.go), and this is Go 1.26
// with any patch, such as "go1.26.8"; what follows a space are its experiments.
func builtByKnown(s sections.Section) bool {
	const producers, compiler, known = "\x09producers", "\x0eGo cmd/compile", "go1.26"
	_, after, found := bytes.Cut(s.Content, []byte(compiler))
	if s.ID != sections.Custom || !bytes.HasPrefix(s.Content, []byte(producers)) || !found {
		return false
	}
	in := &sections.Reader{Bytes: after}
	patch, found := bytes.CutPrefix(in.Take(in.Unsigned()), []byte(known))
	return found && (len(patch) == 0 || patch[0] == '.')
}

// write puts the module together again.
func (m *module) write() []byte {
	all := slices.Clone(m.sections)
	for i, s := range all {
		switch s.ID {
		case sections.Code:
			all[i].Content = sections.WriteFunctions(m.bodies)
		case sections.Data:
			all[i].Content = sections.WriteMemory(m.memory)
		}
	}
	return sections.Write(all)
}

// cut takes out of the module what it does not need, and returns which functions are empty now.
func (m *module) cut() (emptied []bool, err error) {
	functions, err := m.table.functions()
	if err != nil {
		return nil, err
	}
	linked := map[string]bool{} // those too that were inlined and have no record
	for name := range strings.SplitSeq(string(m.table.names), "\x00") {
		linked[name] = true
	}
	names := make([]string, len(functions))
	for i, f := range functions {
		names[i] = m.table.name(f.get(fieldName))
		if f.get(fieldEntry) != firstAddress+uint32(i) {
			return nil, fmt.Errorf("function %d has another number", i)
		}
	}
	if len(names) != len(m.bodies) || !linked["runtime.main"] {
		return nil, errors.New("its functions have no names")
	}
	if emptied, err = m.empty(names, linked); err != nil {
		return nil, err
	}
	if err := m.cutTypes(linked); err != nil {
		return nil, err
	}
	return emptied, m.table.cut(functions, emptied)
}
