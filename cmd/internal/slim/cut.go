package slim

import (
	"errors"
	"maps"
	"slices"
	"strings"
)

// Kinds of functions (abi.FuncID) that the runtime of Go 1.26 treats apart; specialWrapper is the last.
const specialWrapper = 23

// The names that a running program reads, apart from stack traces:
//   - argMapInternal (runtime/stkframe.go) knows reflect's two stubs by their names, when it looks for pointers on a stack;
//   - valueMethodName (reflect/value.go) puts the method that was called wrongly into the text of its panic, if it was not inlined;
//   - panicwrap (runtime/error.go) makes such a text of its caller's name, "main.(*T).F", a wrapper that the compiler made;
//   - isSystemGoroutine (runtime/traceback.go) asks whether a name begins with "runtime.", and nothing else of it.
const (
	system      = "runtime."
	valueMethod = "reflect.Value."
)

var stubs = []string{"reflect.makeFuncStub", "reflect.methodValueCall"}

// nameRead returns what a running program may read of the name of a function: all, how it begins, or nothing.
func nameRead(name string, special byte) string {
	exported, ok := strings.CutPrefix(name, valueMethod)
	switch {
	case slices.Contains(stubs, name),
		ok && exported != "" && 'A' <= exported[0] && exported[0] <= 'Z',
		special == specialWrapper && strings.Contains(name, ".(*"):
		return name
	case strings.HasPrefix(name, system):
		return system
	}
	return ""
}

// cut takes out of a table what only a stack trace reads, and of functions that are empty now all that it can say of them.
func (t *table) cut(functions []function, emptied []bool) error {
	before := t.funcdataPieces(functions)
	for i, f := range functions {
		numbers, data := unread(f, emptied[i])
		for _, field := range numbers {
			f.set(field, 0)
		}
		for _, field := range data {
			f.set(field, none)
		}
	}
	after := t.funcdataPieces(functions)
	for at, piece := range before {
		if after[at] == nil {
			clear(piece)
		}
	}
	clear(t.units)
	clear(t.files)
	t.cutNames(functions)
	return t.gather(functions)
}

// unread returns the fields of a record that no running program reads: numbers, which become 0, an offset of no table, and offsets of
// funcdata, which become none. Code is asked whether it may be interrupted (UnsafePoint) only where there are signals. What was inlined
// stack traces read, valueMethodName (above), and gorecover (runtime/panic.go), which counts the frames between a panic and the call of
// recover that are no wrappers, and has seen enough at two. A function that calls recover is never inlined (hairyVisitor in
// cmd/compile/internal/inline/inl.go), so its own frame is the first. Another that is no wrapper is the second, whatever was inlined in it;
// only in a wrapper does that count. Where arguments are only printArgs asks.
func unread(f function, emptied bool) (numbers, funcdata []int) {
	numbers = []int{fieldFile, fieldLine, fieldUnit, fieldStart}
	if emptied {
		numbers = append(numbers, fieldStack)
	}
	for n := range f.pcdata() {
		if emptied || n == pcdataUnsafePoint || n == pcdataArgLiveIndex || n == pcdataInlining && f.special() == 0 {
			numbers = append(numbers, f.fieldOfPCData(n))
		}
	}
	for n := range f.funcdata() {
		if emptied || n == funcdataArgInfo || n == funcdataArgLiveInfo || n == funcdataInlining && f.special() == 0 {
			funcdata = append(funcdata, f.fieldOfFuncdata(n))
		}
	}
	return numbers, funcdata
}

// funcdataPieces returns the pieces of funcdata that records point to, by their offsets. Each ends where the next begins, of this or
// another kind.
func (t *table) funcdataPieces(functions []function) map[uint32][]byte {
	pieces := map[uint32][]byte{}
	for _, f := range functions {
		for n := range f.funcdata() {
			if at := f.get(f.fieldOfFuncdata(n)); at != none {
				pieces[at] = nil
			}
		}
	}
	end := uint32(len(t.funcdata))
	for _, at := range slices.Backward(slices.Sorted(maps.Keys(pieces))) {
		pieces[at], end = t.funcdata[at:end], at
	}
	return pieces
}

// cutNames leaves of names what is read, each text once: nothing is at 0.
func (t *table) cutNames(functions []function) {
	out, places := []byte{0}, map[string]uint32{"": 0}
	for _, f := range functions {
		name := nameRead(t.name(f.get(fieldName)), f.special())
		if _, known := places[name]; !known {
			places[name] = uint32(len(out))
			out = append(append(out, name...), 0)
		}
		f.set(fieldName, places[name])
	}
	clear(t.names)
	copy(t.names, out)
}

// gather moves the tables by program counter that records still point to to the end of their place, those of a kind together, in the order
// of the functions, so that there is least to say of where they are. One that is shared by kinds is there for each of them. After the end
// comes the index of functions, so that the zeros before the tables divide nothing (zerosApart).
func (t *table) gather(functions []function) error {
	var out []byte
	moved := map[[2]uint32]uint32{} // by kind and offset, where a table is in out
	each := func(do func(f function, field int, key [2]uint32)) {
		for kind := range 1 + pcdataKinds {
			for _, f := range functions {
				field := fieldStack
				if kind > 0 {
					field = f.fieldOfPCData(kind - 1)
				}
				if kind <= f.pcdata() && f.get(field) != 0 { // an offset of 0 points to no table
					do(f, field, [2]uint32{uint32(kind), f.get(field)})
				}
			}
		}
	}
	each(func(_ function, _ int, key [2]uint32) {
		if _, known := moved[key]; !known {
			content, _ := t.counterTable(key[1]) // functions has read it
			moved[key] = uint32(len(out))
			out = append(out, content...)
		}
	})
	zeros := len(t.counters) - len(out)
	if zeros < 1 {
		return errors.New("no room to put tables by program counter together")
	}
	each(func(f function, field int, key [2]uint32) { f.set(field, uint32(zeros)+moved[key]) })
	clear(t.counters[:zeros])
	copy(t.counters[zeros:], out)
	return nil
}
