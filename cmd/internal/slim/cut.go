package slim

import (
	"encoding/binary"
	"slices"
	"strings"
)

// Kinds of functions (abi.FuncID) that the runtime of Go 1.26 treats apart; specialWrapper is the last.
const specialWrapper = 23

// The names that a running program reads, apart from stack traces:
//   - argMapInternal (runtime/stkframe.go) knows reflect's two stubs by their names, when it looks for pointers on a stack;
//   - valueMethodName (reflect/value.go) puts the method that was called wrongly into the text of its panic;
//   - panicwrap (runtime/error.go) makes such a text of its caller's name, "main.(*T).F", a wrapper that the compiler made;
//   - isSystemGoroutine (runtime/traceback.go) asks whether a name begins with "runtime.", and nothing else of it.
const (
	system      = "runtime."
	valueMethod = "reflect.Value."
)

var stubs = []string{"reflect.makeFuncStub", "reflect.methodValueCall"}

// isRead reports whether a running program may read the whole name of a function.
func isRead(name string, special byte) bool {
	exported, ok := strings.CutPrefix(name, valueMethod)
	return slices.Contains(stubs, name) ||
		ok && exported != "" && 'A' <= exported[0] && exported[0] <= 'Z' ||
		special == specialWrapper && strings.Contains(name, ".(*")
}

// cut takes out of a table what only a stack trace reads. Offsets of nothing are those that the runtime takes for nothing: 0 for a
// name and for a table by program counter, none for funcdata.
func (t *table) cut(functions []function) {
	kept := t.cutNames(functions)
	dropped := t.droppedFuncdata(functions)
	for _, f := range functions {
		fields, funcdata := t.traceFields(f), t.traceFuncdata(f)
		for _, field := range fields {
			f.set(field, 0)
		}
		for _, field := range funcdata {
			f.set(field, none)
		}
	}
	for _, span := range dropped {
		clear(t.funcdata[span.from:span.to])
	}
	clear(t.units)
	clear(t.files)
	keep(t.names, kept)
	if !t.gather(functions) {
		keep(t.counters, t.countersRead(functions))
	}
}

// gather moves the tables by program counter that records still point to to the end of their place: those of a kind together, in the
// order of the functions, so that there is least to say of where they are. It reports whether there is room for that, as there is when
// other tables were left out: one that was shared by kinds is there for each of them. After the end comes the index of functions, so that
// the zeros before the tables divide nothing (zerosApart).
func (t *table) gather(functions []function) bool {
	out := []byte{0} // an offset of 0 points to no table
	moved := make([]map[uint32]uint32, 1+pcdataKinds)
	for kind := range moved {
		moved[kind] = map[uint32]uint32{0: 0}
		for _, f := range functions {
			field, ok := fieldOfKind(f, kind)
			if !ok || moved[kind][f.get(field)] != 0 {
				continue
			}
			content, _ := t.counterTable(f.get(field)) // functions has read it
			if len(content) > 0 {
				moved[kind][f.get(field)] = uint32(len(out))
				out = append(out, content...)
			}
		}
	}
	if len(out) > len(t.counters) {
		return false
	}
	zeros := len(t.counters) - len(out)
	for _, f := range functions {
		for kind := range moved {
			if field, ok := fieldOfKind(f, kind); ok && f.get(field) != 0 {
				f.set(field, moved[kind][f.get(field)]+uint32(zeros))
			}
		}
	}
	clear(t.counters[:zeros])
	copy(t.counters[zeros:], out)
	return true
}

// fieldOfKind returns the field with the offset of a table by program counter: of stack depths for kind 0, else of pcdata.
func fieldOfKind(f function, kind int) (field int, ok bool) {
	if kind == 0 {
		return fieldStack, true
	}
	return f.fieldOfPCData(kind - 1), kind <= f.pcdata()
}

// inliningRead reports whether a running program may read what was inlined in a function. Three ask for it on wasm:
//   - gorecover (runtime/panic.go) counts the frames between a panic and the call of recover that are no wrappers, and has seen enough
//     at two. A function that calls recover is never inlined (hairyVisitor in cmd/compile/internal/inline/inl.go), so its own frame is
//     the first. Another that is no wrapper is the second, whatever was inlined in it; only in a wrapper does that count;
//   - valueMethodName (above, at isRead) looks for names among what was inlined, too;
//   - stack traces.
func (t *table) inliningRead(f function) bool {
	if f.special() != 0 {
		return true
	}
	if f.pcdata() <= pcdataInlining || f.funcdata() <= funcdataInlining {
		return false
	}
	tree := f.get(f.fieldOfFuncdata(funcdataInlining))
	counters, _ := t.counterTable(f.get(f.fieldOfPCData(pcdataInlining))) // functions has read it
	if tree == none || len(counters) == 0 {
		return false
	}
	in := &reader{bytes: counters}
	for value, first := int64(-1), true; in.more(); first = false { // runtime.step
		change := int64(in.unsigned())
		if change == 0 && !first {
			break
		}
		in.unsigned()
		if value += change>>1 ^ -(change & 1); value < 0 {
			continue
		}
		at := int64(tree) + inlinedSize*value + inlinedName
		if at+4 > int64(len(t.funcdata)) {
			return true
		}
		name := binary.LittleEndian.Uint32(t.funcdata[at:])
		if uint64(name) >= uint64(len(t.names)) || isRead(t.name(name), 0) {
			return true
		}
	}
	return false
}

// An entry of what was inlined (runtime.inlinedCall): its size, and where the name is.
const (
	inlinedSize = 16
	inlinedName = 4
)

// traceFields are the fields of a record that only stack traces read, and of pcdata those that are not read on wasm either: code is
// asked whether it may be interrupted (UnsafePoint) only where there are signals.
func (t *table) traceFields(f function) []int {
	fields := []int{fieldFile, fieldLine, fieldUnit, fieldStart}
	numbers := []int{pcdataUnsafePoint, pcdataArgLiveIndex}
	if !t.inliningRead(f) {
		numbers = append(numbers, pcdataInlining)
	}
	for _, n := range numbers {
		if n < f.pcdata() {
			fields = append(fields, f.fieldOfPCData(n))
		}
	}
	return fields
}

// traceFuncdata are the fields with the offsets of what only stack traces read: where arguments are (printArgs), and what was inlined.
func (t *table) traceFuncdata(f function) []int {
	var fields []int
	numbers := []int{funcdataArgInfo, funcdataArgLiveInfo}
	if !t.inliningRead(f) {
		numbers = append(numbers, funcdataInlining)
	}
	for _, n := range numbers {
		if n < f.funcdata() {
			fields = append(fields, f.fieldOfFuncdata(n))
		}
	}
	return fields
}

// span is a part of a slice.
type span struct{ from, to int }

// keep clears everything outside of the spans.
func keep(b []byte, spans []span) {
	slices.SortFunc(spans, func(a, b span) int { return a.from - b.from })
	at := 0
	for _, s := range spans {
		clear(b[at:max(at, s.from)])
		at = max(at, s.to)
	}
	clear(b[at:])
}

// cutNames gives each function whose name is not read the name "", or "runtime." where that is how it begins, and returns where the
// names are that stay.
func (t *table) cutNames(functions []function) []span {
	var kept []span
	for at := 0; at < len(t.names); { // all of them: functions that were inlined have no record
		name := t.name(uint32(at))
		if isRead(name, 0) {
			kept = append(kept, span{at, at + len(name)})
		}
		at += len(name) + 1
	}
	common := span{-1, -1} // the first name that begins so becomes the name of all
	for _, f := range functions {
		at := int(f.get(fieldName))
		name := t.name(uint32(at))
		switch {
		case isRead(name, f.special()):
			kept = append(kept, span{at, at + len(name)})
		case strings.HasPrefix(name, system):
			if common.from < 0 {
				common = span{at, at + len(system)}
			}
			f.set(fieldName, uint32(common.from))
		default:
			f.set(fieldName, 0)
		}
	}
	if common.from >= 0 {
		kept = append(kept, common)
	}
	return kept
}

// countersRead are the tables by program counter that records still point to. Equal ones of several functions are one.
func (t *table) countersRead(functions []function) []span {
	var read []span
	for _, f := range functions {
		for _, field := range counterFields(f) {
			at := f.get(field)
			content, _ := t.counterTable(at) // functions has read it
			read = append(read, span{int(at), int(at) + len(content)})
		}
	}
	return read
}

// droppedFuncdata is the funcdata that only stack traces read. Each piece ends where the next begins, of this or another kind; one
// that a field outside of [traceFuncdata] points to as well is not among them.
func (t *table) droppedFuncdata(functions []function) []span {
	read := map[uint32]bool{}
	for _, f := range functions {
		trace := t.traceFuncdata(f)
		for n := range f.funcdata() {
			field := f.fieldOfFuncdata(n)
			if at := f.get(field); at != none {
				read[at] = read[at] || !slices.Contains(trace, field)
			}
		}
	}
	starts := make([]uint32, 0, len(read))
	for at := range read {
		starts = append(starts, at)
	}
	slices.Sort(starts)
	var dropped []span
	for i, at := range starts {
		to := len(t.funcdata)
		if i+1 < len(starts) {
			to = int(starts[i+1])
		}
		if !read[at] {
			dropped = append(dropped, span{int(at), to})
		}
	}
	return dropped
}
