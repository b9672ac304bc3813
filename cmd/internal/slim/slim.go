// Package slim takes out of a linked js/wasm module of Go 1.26 what a page does not need, so that there is less to transfer:
//
//   - the addresses of tens of thousands of data segments, which Go's linker starts anew after eight zeros;
//   - of Go's function table what only a stack trace reads: names, files, lines and arguments of functions, and what was inlined in them
//     but for where recover asks. What the garbage collector, growing stacks, defer and recover read stays as it is;
//   - of types the hashes that no type switch compares, the names of methods that cannot be called, and what reflect finds in another way.
//
// No code changes, and of the rest only the tables by program counter move, within their place: what is taken out becomes zeros. A program
// that panics still says why, but not where.
//
// Written by Go's own source, to be read beside it: src/runtime/symtab.go and runtime2.go (who reads the table),
// src/cmd/link/internal/ld/pcln.go and symtab.go (who writes it), src/internal/abi/symtab.go (its numbers), type.go beside it (types),
// src/cmd/link/internal/wasm/asm.go (the module).
package slim

import (
	"errors"
	"fmt"
	"strings"
)

// ErrUnknown is the error of a module that is not laid out as this package knows it.
var ErrUnknown = errors.New("not laid out as by Go 1.26 for js/wasm")

// known is the release of Go whose modules are known.
const known = "go1.26"

// Module returns a smaller module that does the same, but for its stack traces. Of its own result it makes the same again.
func Module(wasm []byte) ([]byte, error) {
	m, err := readModule(wasm)
	if err != nil {
		return nil, err
	}
	if release := m.release(); !isKnown(release) {
		return nil, fmt.Errorf("%w: built by %q, want %s", ErrUnknown, release, known)
	}
	t, err := findTable(m.memory)
	if err != nil {
		return nil, err
	}
	functions, err := t.functions()
	if err != nil {
		return nil, err
	}
	t.cut(functions)
	if err := m.cutTypes(t); err != nil {
		return nil, err
	}
	out := m.write()
	if err := check(wasm, out); err != nil {
		return nil, fmt.Errorf("this module would not do the same: %w", err)
	}
	return out, nil
}

// release returns the release of Go that compiled a module, from its section "producers", or "".
func (m *module) release() string {
	for _, s := range m.sections {
		in := &reader{bytes: s.content}
		if s.id != customSection || string(in.take(in.unsigned())) != "producers" {
			continue
		}
		for range in.unsigned() {
			field := string(in.take(in.unsigned()))
			for range in.unsigned() {
				in.take(in.unsigned())
				if release := string(in.take(in.unsigned())); field == "processed-by" {
					return release
				}
			}
		}
	}
	return ""
}

// isKnown reports whether a release is the known one with any patch, such as "go1.26.8"; what follows a space are its experiments.
func isKnown(release string) bool {
	rest, ok := strings.CutPrefix(release, known)
	return ok && (rest == "" || rest[0] == '.')
}
