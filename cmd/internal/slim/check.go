package slim

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// check returns an error if module b would do anything else than module a, but for its stack traces. It reads both from their bytes, so
// it sees mistakes of writing too.
func check(a, b []byte) error {
	before, err := readModule(a)
	if err != nil {
		return err
	}
	after, err := readModule(b)
	if err != nil {
		return err
	}
	if len(before.sections) != len(after.sections) {
		return fmt.Errorf("%d sections became %d", len(before.sections), len(after.sections))
	}
	for i, s := range before.sections {
		if other := after.sections[i]; s.id != other.id || !bytes.Equal(s.content, other.content) {
			return fmt.Errorf("section %d is another", i)
		}
	}
	// The ends of both memories may differ by zeros.
	size := max(len(before.memory), len(after.memory))
	before.memory, after.memory = padded(before.memory, size), padded(after.memory, size)
	one, two := before.memory, after.memory
	t, err := findTable(one)
	if err != nil {
		return err
	}
	u, err := findTable(two)
	if err != nil {
		return err
	}
	if err := before.cutTypes(t); err != nil {
		return err
	}
	if t.start != u.start || t.data != u.data || t.end != u.end || t.count != u.count {
		return fmt.Errorf("the function table is elsewhere")
	}
	names := t.start + 8*headerWords
	if !bytes.Equal(one[:names], two[:names]) || !bytes.Equal(one[t.end:], two[t.end:]) {
		return fmt.Errorf("data outside the function table is other")
	}
	return checkTables(t, u)
}

func padded(memory []byte, size int) []byte {
	return append(bytes.Clone(memory), make([]byte, size-len(memory))...)
}

// checkTables compares what a running program reads of two tables.
func checkTables(t, u *table) error {
	functions, err := t.functions()
	if err != nil {
		return err
	}
	others, err := u.functions()
	if err != nil {
		return err
	}
	for i, f := range functions {
		if err := checkFunction(t, u, f, others[i]); err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
	}
	// What is left of the records and of funcdata. Fields are made equal that are of stack traces, or were compared by what they point to.
	for _, span := range t.droppedFuncdata(functions) {
		clear(t.funcdata[span.from:span.to])
		clear(u.funcdata[span.from:span.to])
	}
	for i, f := range functions {
		for _, field := range slices.Concat(t.traceFields(f), t.traceFuncdata(f), counterFields(f), []int{fieldName}) {
			f.set(field, 0)
			others[i].set(field, 0)
		}
	}
	if !bytes.Equal(t.records, u.records) {
		return fmt.Errorf("the records of functions are other")
	}
	if !bytes.Equal(t.funcdata, u.funcdata) {
		return fmt.Errorf("the data of functions is other")
	}
	return nil
}

// checkFunction compares what a function's record points to: its tables by program counter, and its name so far as it is read.
func checkFunction(t, u *table, f, other function) error {
	name, rest := t.name(f.get(fieldName)), u.name(other.get(fieldName))
	if isRead(name, f.special()) && name != rest || strings.HasPrefix(name, system) != strings.HasPrefix(rest, system) {
		return fmt.Errorf("its name %q became %q", name, rest)
	}
	trace := t.traceFields(f)
	for _, field := range counterFields(f) {
		if slices.Contains(trace, field) {
			continue
		}
		one, err := t.counterTable(f.get(field))
		if err != nil {
			return err
		}
		two, err := u.counterTable(other.get(field))
		if err != nil {
			return err
		}
		if !bytes.Equal(one, two) {
			return fmt.Errorf("field %d points to another table", field)
		}
	}
	return nil
}
