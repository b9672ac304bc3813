package slim

import (
	_ "embed"
	"encoding/binary"
	"fmt"
	"strings"

	"ohmwright/site/sections"
)

// firstAddress is the number of the first function among addresses of functions (funcValueOffset in cmd/link/internal/wasm/asm.go). The
// address of a function's part number n is 1<<16 times the function's number, and n.
const firstAddress = 0x1000

// These stand for bodies. The first stops the program, the second returns to the caller as Go's functions do (ARET in
// cmd/internal/obj/wasm/wasmobj.go): it takes the return address, eight bytes, from the stack, whose pointer is global 0.
var (
	traps   = []byte{0, 0x00, sections.End}
	returns = []byte{0, 0x23, 0, sections.I32Const, 8, 0x6a, 0x24, 0, sections.I32Const, 0, sections.End}
)

// reasons.txt lists functions that do nothing in a page's module, and says how.
//
//go:embed reasons.txt
var reasons string

// bodiesInstead returns what to put in place of the bodies of functions that reasons.txt names, where the reason holds.
func bodiesInstead(linked map[string]bool) map[string][]byte {
	instead := map[string][]byte{}
	for reason := range strings.SplitSeq(reasons, "\n\n") {
		holds := true
		for line := range strings.Lines(reason) {
			words := strings.Fields(line)
			for _, name := range words[min(1, len(words)):] {
				switch {
				case words[0] == "unless":
					holds = holds && !linked[name]
				case words[0] == "quiet" && holds:
					instead[name] = returns
				case words[0] == "never" && holds:
					instead[name] = traps
				}
			}
		}
	}
	return instead
}

// mostUnseen is how much of a program nothing may seem to lead to, one in so many functions. The linker has taken in what something leads
// to, and a few functions that were inlined wherever they are called.
const mostUnseen = 100

// empty takes the code out of functions that do nothing in a page's module, and of those that only they lead to. It returns which they are.
func (m *module) empty(names []string, linked map[string]bool) (emptied []bool, err error) {
	instead := bodiesInstead(linked)
	var unseen []int
	stopped, emptied := make([]bool, len(names)), make([]bool, len(names))
	for i, reached := range m.reached(stopped, nil) {
		if !reached {
			unseen = append(unseen, i)
		}
	}
	if len(unseen) > len(names)/mostUnseen {
		return nil, fmt.Errorf("nothing seems to lead to %d functions, such as %s", len(unseen), names[unseen[len(unseen)-1]])
	}
	for i, name := range names {
		stopped[i] = instead[name] != nil
	}
	for i, reached := range m.reached(stopped, unseen) {
		if emptied[i] = !reached; !reached {
			m.bodies[i] = instead[names[i]]
			if m.bodies[i] == nil {
				m.bodies[i] = traps
			}
		}
	}
	return emptied, nil
}

// function returns the number of the function that an address is of, or -1.
func (m *module) function(address uint64) int {
	if n := address>>16 - firstAddress; n < uint64(len(m.bodies)) {
		return int(n)
	}
	return -1
}

// functionValues returns where the values of functions are in the memory (go:funcdesc), one after the other. Each is the address of its
// function, and no other addresses of functions are as many in a row.
func (m *module) functionValues() (first, end uint64) {
	for at, from := uint64(0), uint64(0); at+8 <= uint64(len(m.memory)); at += 8 {
		if m.function(binary.LittleEndian.Uint64(m.memory[at:])) < 0 {
			from = at + 8
		} else if at+8-from > end-first {
			first, end = from, at+8
		}
	}
	return first, end
}

// reached returns which functions are reached without going through those that are stopped: from some that are given, from what JavaScript
// calls, from all data but values of functions, and from methods of types. Code leads to the functions that it calls, and to those of which
// it has the address, or that of their value. What may be a way is taken for one.
func (m *module) reached(stopped []bool, from []int) []bool {
	const exportedFunction = 0
	imports := sections.Imports(m.sections)
	first, end := m.functionValues()
	reached := make([]bool, len(m.bodies))
	var todo []int
	add := func(n int) {
		if 0 <= n && n < len(reached) && !reached[n] && !stopped[n] {
			reached[n] = true
			todo = append(todo, n)
		}
	}
	address := func(n uint64) {
		add(m.function(n))
		if first <= n && n < end {
			add(m.function(binary.LittleEndian.Uint64(m.memory[n&^7:])))
		}
	}
	for _, n := range from {
		add(n)
	}
	in := &sections.Reader{Bytes: sections.Content(m.sections, sections.Export)}
	for range in.Unsigned() {
		in.Take(in.Unsigned())
		if kind, n := in.Byte(), in.Unsigned(); kind == exportedFunction {
			add(int(n) - imports)
		}
	}
	for at := uint64(0); at+8 <= uint64(len(m.memory)); at += 4 {
		word := binary.LittleEndian.Uint64(m.memory[at:])
		switch {
		case first <= at && at < end || m.table.start <= at && at < m.table.end:
		case at%8 == 0:
			address(word)
			fallthrough
		default:
			if m.table.types <= at && at < m.table.typesEnd { // methods have numbers of functions, of four bytes
				add(int(uint32(word)) - firstAddress)
			}
		}
	}
	for len(todo) > 0 {
		next := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		numbers(m.bodies[next], func(op byte, n int64) {
			if op == call {
				add(int(n) - imports)
			} else {
				address(uint64(n))
			}
		})
	}
	return reached
}

// Instructions with a number.
const (
	call     = 0x10
	i64Const = 0x42
)

// numbers gives the numbers of the code of a function: what stands behind any byte that is an instruction with one, be it one or not.
func numbers(body []byte, each func(op byte, n int64)) {
	for i, op := range body {
		in := &sections.Reader{Bytes: body[i+1:]}
		if op == call {
			each(op, int64(in.Unsigned()))
		} else if op == sections.I32Const || op == i64Const {
			each(op, in.Signed())
		}
	}
}
