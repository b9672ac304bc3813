// Package fold writes a js/wasm module of Go in another way, of which a compressor makes a third less, and which a page unfolds
// (site/page/unfold.js) into the same bytes.
//
// Go's compiler writes for each call of a function some thirty bytes. They say where the call returns to, as the number of the function and
// of its part, and how many blocks out the function's end is: numbers that are others at each place, and which follow from the place. So a
// function is folded into tokens of one byte, each of which stands for a template: bytes, with holes for what is read after the
// token, and for what follows. Most tokens are WebAssembly's own instructions, the others phrases that the compiler writes for one
// instruction of its own. The templates are written at the start of what is folded, so that the page need not know them.
// What is read for holes of a kind is kept together (streams.go), and the tokens are: alike beside alike packs a twelfth smaller.
// Of the rest, the table of functions is folded into columns (table.go), and other tables that count into differences (slopes.go). What
// follows from something else is left out: tables of stack depths (stacks.go), and powers of ten (powers.go).
//
// What is not written as by Go 1.26 stays as it is: it is folded as one piece, and only longer. Each function is unfolded at once, and
// compared; one that would not be the same stays as it is too.
//
// To be read beside it: src/cmd/internal/obj/wasm/wasmobj.go (preprocess, assemble), src/cmd/link/internal/wasm/asm.go.
package fold

import (
	"bytes"
	"errors"
	"slices"
)

// A function begins with the number of its head, and the number of its parts. A head is one byte, which says that the code is as it is, or
// which blocks there are around the parts, and the declaration of the function's variables. There are few, so they stand before the code.
const (
	asItIs   = 8
	inParts  = 4 // a table of the parts
	withLoop = 2 // which jumps go through
	unwinds  = 1 // a block around all, for calls that unwind the stack
)

var errModule = errors.New("no WebAssembly module with code")

// Packed returns a module as the page takes it: folded, then packed.
func Packed(wasm []byte) ([]byte, error) {
	folded, err := Module(wasm)
	if err != nil {
		return nil, err
	}
	return folded.packed(), nil
}

// Module folds a module.
func Module(wasm []byte) (*Folded, error) {
	before, functions, after, err := split(wasm)
	if err != nil {
		return nil, err
	}
	f := newFolder()
	var all []folded
	var extents []extent
	largest := 0
	for i, body := range functions {
		one, e := f.function(i, body)
		largest = max(largest, len(body))
		all, extents = append(all, one), append(extents, e)
	}
	numbers, count := f.assign(all)
	var out []byte
	for token, t := range f.templates {
		out = append(append(out, byte(len(t))), t...)
		for place := range t {
			out = append(out, numbers[hole{byte(token), place}])
		}
	}
	for _, n := range []int{len(wasm), largest, len(functions), len(before)} {
		out = append(out, unsigned(int64(n))...)
	}
	out = append(out, byte(len(f.heads)-1))
	out = append(out, bytes.Join(f.heads, nil)...)
	head, first, rest := data(wasm, len(before), len(wasm)-len(after), extents)
	folded := newFolded(count, join(out, head, first))
	for _, one := range all {
		folded.add(one, numbers)
	}
	folded.Streams[restStream] = append(folded.Streams[restStream], rest...)
	return folded, nil
}

// data folds what stands before the functions of a module and from its tail on, after them; head says how.
func data(wasm []byte, before, tail int, extents []extent) (head, first, rest []byte) {
	pieces := powersIn(wasm, tail)
	powersAt := 0
	if len(pieces) > 0 {
		powersAt = pieces[0].from
	}
	all := slopes(wasm, 0, before)
	var column, columns []byte
	at, end := len(wasm), len(wasm)
	if t := findFunctions(wasm, tail); t != nil {
		stacks := t.stacks(wasm, tail, extents)
		columns = t.folded(wasm, stacks)
		at, end = t.at, t.at+len(t.laid())
		head = join(unsigned(int64(len(t.records))), unsigned(int64(at)), unsigned(int64(len(columns))))
		if stacks != nil {
			pieces, column = append(pieces, stacks.piece), stacks.column
			head = join(head, unsigned(int64(len(column))), unsigned(int64(stacks.from)), unsigned(int64(stacks.first)))
		} else {
			head = append(head, 0)
		}
	} else {
		head = append(head, 0)
	}
	all = slices.Concat(all, around(wasm, tail, at, pieces), around(wasm, end, len(wasm), pieces))
	head = join(head, unsigned(int64(powersAt)), unsigned(int64(len(all))))
	for _, s := range all {
		head = join(head, unsigned(int64(s.from)), unsigned(int64(s.to)), unsigned(int64(s.places)))
	}
	rest = join(column, flat(wasm, tail, at, all, pieces), columns, flat(wasm, end, len(wasm), all, pieces))
	return head, flat(wasm, 0, before, all, nil), rest
}

// split returns what stands before the first function of a module, the functions, and what stands after.
func split(wasm []byte) (before []byte, functions [][]byte, after []byte, err error) {
	r := &reader{bytes: wasm}
	r.is([]byte("\x00asm\x01\x00\x00\x00")...)
	for !r.failed {
		id, size := r.byte(), r.unsigned()
		if id != 10 {
			r.take(int(size))
			continue
		}
		n := r.unsigned()
		before = wasm[:r.at]
		for range n {
			body := r.take(int(r.unsigned()))
			functions = append(functions, body)
		}
		if r.failed {
			break
		}
		return before, functions, wasm[r.at:], nil
	}
	return nil, nil, nil, errModule
}

// firstAddress is the number of the first function among return addresses (funcValueOffset in asm.go).
const firstAddress = 0x1000

// mostTable is the most that a table takes, for the sake of who unfolds it.
const mostTable = 1 << 16

type folder struct {
	templates [256][]byte
	byFirst   [256][]byte // the tokens whose templates begin with a byte, in the order of trying
	heads     [][]byte
}

func newFolder() *folder {
	all := templates()
	return &folder{templates: all, byFirst: byFirst(all), heads: [][]byte{{asItIs, 0}}}
}

// headed returns the number of a head, and whether there is room for it.
func (f *folder) headed(head []byte) (byte, bool) {
	for i, h := range f.heads {
		if bytes.Equal(h, head) {
			return byte(i), true
		}
	}
	if len(f.heads) == 256 {
		return 0, false
	}
	f.heads = append(f.heads, head)
	return byte(len(f.heads) - 1), true
}

func byFirst(all [256][]byte) (first [256][]byte) {
	order := make([]int, 0, 256)
	for token := firstPhrase; token < 256; token++ {
		order = append(order, token)
	}
	for token := range firstPhrase {
		if token != raw {
			order = append(order, token)
		}
	}
	for _, token := range order {
		t := all[token]
		if len(t) > 0 && one <= t[0] && t[0] <= more {
			t = t[1:]
		}
		if len(t) > 0 {
			first[t[0]] = append(first[t[0]], byte(token))
		}
	}
	return first
}

// function folds one function, and says how far it reaches.
func (f *folder) function(number int, body []byte) (folded, extent) {
	s := &state{self: int64(firstAddress+number) << 16}
	if one, ok := f.inParts(s, body); ok {
		back := &state{self: s.self}
		if in := one.inputs(); bytes.Equal(f.unfold(back, in), body) && !in.failed() {
			return one, extent{back.first, back.number}
		}
	}
	one := folded{head: []byte{0, 0}}
	for _, b := range body {
		one.tokens = append(one.tokens, raw)
		one.reads = append(one.reads, read{hole{raw, 0}, []byte{b}})
	}
	one.tokens = append(one.tokens, last)
	return one, extent{}
}

// inParts folds a function that is laid out as the compiler lays them out, if it is.
func (f *folder) inParts(s *state, body []byte) (one folded, ok bool) {
	r := &reader{bytes: body}
	for range r.unsigned() {
		r.unsigned()
		r.byte()
	}
	locals := body[:r.at]
	if !r.is(0x23, 0, 0x21, 1) {
		return one, false
	}
	head := byte(0)
	taken, end := []int64(nil), len(body)-1
	if h, t, after := parts(body[r.at:]); h != 0 {
		head, taken = h, t
		r.at += after
		closing := closing(h)
		if !bytes.HasSuffix(body, closing) {
			return one, false
		}
		end = len(body) - len(closing)
		s.parts = int64(len(t))
		s.outer = int64(h&unwinds + h&withLoop>>1)
	}
	n, ok := f.headed(append([]byte{head}, locals...))
	if !ok {
		return one, false
	}
	one.head = append([]byte{n}, unsigned(s.parts)...)
	for r.bytes = body[:end]; r.at < end; {
		if !f.token(s, r, taken, &one) {
			return one, false
		}
	}
	one.tokens = append(one.tokens, last)
	return one, true
}

// parts reads the blocks at the start of a function and their table: what the head is, how many numbers each part takes, and where the
// code begins. The head is 0 where there are none.
func parts(code []byte) (head byte, taken []int64, after int) {
	r := &reader{bytes: code}
	blocks, before := 0, 0 // of a loop
	for opening := true; opening && !r.failed; {
		switch op := r.byte(); {
		case op == 0x02 && r.is(0x40):
			blocks++
		case op == 0x03 && head == 0 && r.is(0x40):
			head, before, blocks = withLoop, blocks, 0
		default:
			r.failed = r.failed || op != 0x20 || !r.is(0, 0x0e)
			opening = false
		}
	}
	numbers := r.unsigned()
	for range numbers {
		n := r.unsigned()
		if r.failed || n != int64(len(taken)) && n != int64(len(taken))-1 {
			return 0, nil, 0
		}
		if n == int64(len(taken)) {
			taken = append(taken, 0)
		}
		taken[n]++
	}
	if r.unsigned() != int64(len(taken)) || !r.is(0x0b) {
		return 0, nil, 0
	}
	if head == 0 { // those outside of the parts come right before theirs
		before, blocks = blocks-len(taken)-1, len(taken)+1
	}
	if blocks != len(taken)+1 || before < 0 || before > unwinds {
		return 0, nil, 0
	}
	return head | inParts | byte(before), taken, r.at
}

// closing is how a function with a head ends.
func closing(head byte) (out []byte) {
	if head&withLoop != 0 {
		out = append(out, 0x0b)
	}
	out = append(out, 0)
	if head&unwinds != 0 {
		out = append(out, 0x0b, 0x41, 1)
	}
	return append(out, 0x0b)
}

// token folds what comes next, goes on in the state, and reports whether some token stands for it.
func (f *folder) token(s *state, r *reader, taken []int64, one *folded) bool {
	if r.failed || r.at >= len(r.bytes) {
		return false
	}
	for _, token := range f.byFirst[r.bytes[r.at]] {
		trial, in := *s, *r
		if reads, ok := match(&trial, &in, token, f.templates[token], taken); ok {
			*s, *r = trial, in
			one.tokens, one.reads = append(one.tokens, token), append(one.reads, reads...)
			return true
		}
	}
	return false
}

// match reads what a template stands for, and returns what has to be read for its holes.
func match(s *state, r *reader, token byte, template []byte, taken []int64) (reads []read, ok bool) {
	for place, h := range template {
		switch {
		case h < number || h >= holes:
			ok = r.byte() == h
		case h == one || h == two || h == more:
			ok = s.part < s.parts && (h == more || taken[s.part] == int64(h-one)+1)
			s.takes = 0
			if ok {
				s.takes = taken[s.part]
			}
			if h == more {
				reads = append(reads, read{hole{token, place}, unsigned(s.takes)})
			}
		case h == open || h == shut || h == resume:
			ok = s.note(h)
		case h == back || h == unwind || h == again || h == loop || h == start:
			want, known := s.implied(h)
			ok = known && r.is(want...)
		default:
			var some []byte
			some, ok = s.matchRead(h, r)
			reads = append(reads, read{hole{token, place}, some})
		}
		if !ok || r.failed {
			return nil, false
		}
	}
	return reads, true
}

// matchRead reads what is in a hole for which something is read.
func (s *state) matchRead(h byte, r *reader) (read []byte, ok bool) {
	switch h {
	case number:
		return r.number(), true
	case timesU, timesS:
		n := int64(0)
		if h == timesU {
			n = r.unsigned()
		} else {
			n = r.signed()
		}
		return unsigned(n / 8), n >= 0 && n%8 == 0
	case callee:
		n := r.signed()
		return []byte{byte(n >> 8), byte(n)}, 0 <= n && n < 1<<16
	case frame:
		s.setFrame(r.signed())
		return unsigned(s.frame / 8), s.frame > 8 && s.frame%8 == 0 // 8 is what a call takes
	case jump:
		return zigzag(r.signed() - s.number), true
	case near:
		n := r.signed() - s.self - s.number
		return zigzag(n), -1<<16 < n && n < 1<<16
	case four:
		return r.take(4), true
	case eight:
		return r.take(8), true
	case table:
		ok = true
		for range r.unsigned() + 1 {
			n := r.unsigned()
			ok = ok && n < 1<<30
			read = append(read, unsigned(n+1)...)
		}
		return append(read, 0), ok && len(read) < mostTable
	}
	return nil, false
}
