package fold

// Holes of a template: what is written there, and what is read for it. All other bytes of a template are written as they are.
const (
	number = 0xe0 + iota // a number as it is, seven bits a byte
	timesU               // a number, times 8
	timesS               // a number, times 8, written with a sign
	callee               // the number of a function, read as two bytes
	back                 // the return address after the current part of the function
	unwind               // how many blocks out the end of the function is, for a call that unwinds the stack
	frame                // the size of the frame, which the function keeps
	again                // the size of the frame once more
	jump                 // the number of another part of the function, read as its distance
	loop                 // how many blocks out the loop is that jumps go through
	resume               // nothing: here begins the next part
	open                 // nothing: a block opens
	shut                 // nothing: a block ends
	one                  // nothing: the current part takes one number
	two                  // nothing: it takes two
	more                 // nothing: it takes as many as are read
	near                 // a return address, read as its distance from the current part's number
	four                 // four bytes
	eight                // eight bytes
	table                // how many numbers follow but one, and they; read is each with 1 added, and a 0 after the last
	start                // the return address of the function's first part
	single               // one byte
	holes                // how many there are, from number on
)

// The token after a function's last, and the one for a byte of a function that stays as it is.
const (
	last = 0xff
	raw  = 0x08
)

// less takes n off the stack pointer, as plus adds to it (Set SP in wasmobj.go: to the local variable and to the global one).
func less(n byte) []byte { return []byte{0x20, 1, 0x41, n, 0x6b, 0x22, 1, 0x24, 0} }
func plus(n byte) []byte { return []byte{0x20, 1, 0x41, n, 0x6a, 0x22, 1, 0x24, 0} }

func join(parts ...[]byte) (out []byte) {
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// phrases are what Go's compiler writes for one instruction of its own (cmd/internal/obj/wasm/wasmobj.go, preprocess), by tokens that
// WebAssembly has not, from 0xc5 on. Earlier ones are tried first.
func phrases() [][]byte {
	reload := []byte{0x23, 0, 0x21, 1} // updateLocalSP
	store := func(address byte) []byte { return join(less(8), []byte{0x20, 1, 0x42, address, 0x37, 3, 0}) }
	call := join([]byte{0x41, 0, 0x10, callee}, reload)
	indirect := join([]byte{0x42, 16, 0x88, 0xa7, 0x21, 0, 0x41, 0, 0x20, 0, 0x11, 0, 0}, reload)
	goOn := []byte{0x0d, unwind, 0x0b, resume}
	grow := join([]byte{0x4d, 0x04, 0x40, open}, store(start), call, []byte{0x0d, unwind, 0x0b, shut})
	guard := []byte{0x20, 1, 0x23, 2, 0xa7, 0x28, 2, 16}
	leave := join(plus(8), []byte{0x41, 0, 0x0f})
	return [][]byte{
		join(guard, grow), join(guard, []byte{0x41, number, 0x6a}, grow), // the check of the stack
		less(frame), join(plus(again), leave), leave, // the frame, and returning
		join([]byte{one}, store(back), call, goOn), join([]byte{two}, store(back), call, goOn), join([]byte{more}, store(back), call, goOn),
		join([]byte{one}, store(back), indirect, goOn), join([]byte{two}, store(back), indirect, goOn),
		join([]byte{more}, store(back), indirect, goOn),
		join(store(near), call, []byte{0x0d, unwind}), join(store(near), call, []byte{0x04, 0x40, 0, 0x0b}), // sigpanic, CALLNORESUME
		{0x41, jump, 0x21, 0, 0x0c, loop}, {0x41, jump, 0x22, 0, 0x0c, loop},
		{one, 0x0b, resume}, {two, 0x0b, resume}, {more, 0x0b, resume},
		join([]byte{0x10, callee}, reload),
		// An address on the stack, and what is there.
		{0x20, 1, 0xad, 0x42, timesS, 0x7c, 0xa7, 0x29, 3, timesU},
		{0x20, 1, 0xad, 0x42, timesS, 0x7c, 0xa7}, {0x20, 1, 0xad, 0x42, timesS, 0x7c},
		{0x20, 1, 0x29, 3, timesU}, {0x20, 1}, {0x42, number, 0x7c},
		{0x45, 0x04, 0x40, open, 0x41, jump, 0x21, 0, 0x0c, loop, 0x0b, shut}, {0x45, 0x04, 0x40, open},
		{0xa7, 0x29, 3, 0}, {0xa7, 0x29, 3, timesU}, {0xa7, 0x29, 3, number},
		{0x29, 3, timesU}, {0x37, 3, 0}, {0x37, 3, timesU}, {0x50, 0xad},
	}
}

const firstPhrase = 0xc5

// templates returns what each token stands for. WebAssembly's own instructions are tokens too, but for those that Go does not write.
func templates() [256][]byte {
	var all [256][]byte
	plain := func(from, to int, after ...byte) {
		for op := from; op <= to; op++ {
			all[op] = append([]byte{byte(op)}, after...)
		}
	}
	plain(0x00, 0x01)
	plain(0x02, 0x04, number, open)
	plain(0x05, 0x05)
	plain(0x0b, 0x0b, shut)
	plain(0x0c, 0x0d, number)
	plain(0x0e, 0x0e, table)
	plain(0x0f, 0x0f)
	plain(0x10, 0x10, callee)
	plain(0x11, 0x11, number, number)
	plain(0x1a, 0x1b)
	plain(0x20, 0x24, number)
	for i, align := range "\x02\x03\x02\x03\x00\x00\x01\x01\x00\x00\x01\x01\x02\x02\x02\x03\x02\x03\x00\x01\x00\x01\x02" {
		plain(0x28+i, 0x28+i, byte(align), number)
	}
	plain(0x3f, 0x42, number)
	plain(0x43, 0x43, four)
	plain(0x44, 0x44, eight)
	plain(0x45, 0xc4)
	all[raw] = []byte{single}
	all[0x06] = []byte{0xfc, 10, 0, 0} // memory.copy
	all[0x07] = []byte{0xfc, 11, 0}    // memory.fill
	for n := range byte(8) {           // conversions of floats
		all[0x12+n] = []byte{0xfc, n}
	}
	for i, phrase := range phrases() {
		all[firstPhrase+i] = phrase
	}
	return all
}
