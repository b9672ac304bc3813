package slim

import (
	"bytes"
	"fmt"
	"slices"

	"ohmwright/site/sections"
)

// check returns an error if module b, of which some functions are emptied, would do anything else than module a, but for its stack traces
// and what these functions did. It reads both from their bytes, so it sees mistakes of writing too; memory is what a's should have become
// outside of the function table.
func check(a, b, memory []byte, emptied []bool) error {
	before, err := readModule(a)
	if err != nil {
		return err
	}
	after, err := readModule(b)
	if err != nil {
		return err
	}
	same := func(s, other sections.Section) bool {
		return s.ID == other.ID && (s.ID == sections.Code || s.ID == sections.Data || bytes.Equal(s.Content, other.Content))
	}
	if !slices.EqualFunc(before.sections, after.sections, same) || len(before.bodies) != len(after.bodies) {
		return fmt.Errorf("its sections are other")
	}
	for i, body := range before.bodies {
		if !emptied[i] && !bytes.Equal(body, after.bodies[i]) {
			return fmt.Errorf("the code of function %d is other", i)
		}
	}
	t, err := findTable(before.memory)
	if err != nil {
		return err
	}
	u, err := findTable(after.memory)
	if err != nil {
		return err
	}
	names, end := t.start+8*headerWords, len(bytes.TrimRight(memory, "\x00"))
	if end > len(after.memory) || !bytes.Equal(memory[:names], after.memory[:names]) ||
		!bytes.Equal(memory[t.end:end], after.memory[t.end:end]) || len(bytes.TrimRight(after.memory[end:], "\x00")) > 0 {
		return fmt.Errorf("data outside the function table is other")
	}
	return checkTables(t, u, emptied)
}

// checkTables compares what a running program reads of two tables.
func checkTables(t, u *table, emptied []bool) error {
	functions, err := t.functions()
	if err != nil {
		return err
	}
	others, err := u.functions()
	if err != nil {
		return err
	}
	for i, f := range functions {
		if emptied[i] {
			continue
		}
		if err := sameRead(t, u, f, others[i]); err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
	}
	pieces := t.funcdataPieces(functions)
	for at := range u.funcdataPieces(others) {
		if !bytes.HasPrefix(u.funcdata[at:], pieces[at]) {
			return fmt.Errorf("the data of functions at %d is other", at)
		}
	}
	return nil
}

// sameRead returns an error if a running program would read anything else of function b than of function a, by their tables.
func sameRead(t, u *table, a, b function) error {
	name, rest := t.name(a.get(fieldName)), u.name(b.get(fieldName))
	if nameRead(name, a.special()) != rest {
		return fmt.Errorf("its name %q became %q", name, rest)
	}
	numbers, funcdata := unread(a, false)
	for field := range len(a) / 4 {
		one, two := a.get(field), b.get(field)
		switch {
		case field == fieldName || slices.Contains(numbers, field) || slices.Contains(funcdata, field):
		case field == fieldStack || recordFields <= field && field < recordFields+a.pcdata():
			before, err := t.counterTable(one)
			if err != nil {
				return err
			}
			if after, err := u.counterTable(two); err != nil || !bytes.Equal(before, after) {
				return fmt.Errorf("field %d points to another table", field)
			}
		case one != two:
			return fmt.Errorf("field %d is %d, was %d", field, two, one)
		}
	}
	return nil
}
