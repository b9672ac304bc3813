// Package sections takes WebAssembly modules apart and puts them together again, as the steps that make, price and pack the page's module
// need it: https://webassembly.github.io/spec/core/binary/modules.html
package sections

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
)

// Numbers of sections.
const (
	Custom    = 0
	Import    = 2
	Export    = 7
	Code      = 10
	Data      = 11
	DataCount = 12
)

// The instruction with a number of 32 bits, and the one after the last of an expression.
const (
	I32Const = 0x41
	End      = 0x0b
)

const preamble = "\x00asm\x01\x00\x00\x00"

// ErrModule is the error of what is no module, or not as it should be.
var ErrModule = errors.New("no WebAssembly module of version 1")

// Section is a section of a module: its number, and its content without number and size.
type Section struct {
	ID      byte
	Content []byte
}

// Read takes a module apart.
func Read(wasm []byte) (all []Section, err error) {
	rest, ok := bytes.CutPrefix(wasm, []byte(preamble))
	if !ok {
		return nil, ErrModule
	}
	in := &Reader{Bytes: rest}
	for in.More() {
		s := Section{ID: in.Byte()}
		s.Content = in.Take(in.Unsigned())
		if in.Failed {
			return nil, fmt.Errorf("%w: section %d ends too soon", ErrModule, s.ID)
		}
		all = append(all, s)
	}
	return all, nil
}

// Write puts a module together.
func Write(all []Section) []byte {
	out := []byte(preamble)
	for _, s := range all {
		out = append(out, s.ID)
		out = binary.AppendUvarint(out, uint64(len(s.Content)))
		out = append(out, s.Content...)
	}
	return out
}

// Content returns the content of a module's first section with a number, and nil if there is none.
func Content(all []Section, id byte) []byte {
	for _, s := range all {
		if s.ID == id {
			return s.Content
		}
	}
	return nil
}

// Imports returns how many functions a module imports: they have the first numbers. Modules of Go import nothing else.
func Imports(all []Section) int {
	in := &Reader{Bytes: Content(all, Import)}
	return int(in.Unsigned())
}

// Functions returns the functions of a code section.
func Functions(code []byte) (bodies [][]byte, err error) {
	in := &Reader{Bytes: code}
	for range in.Unsigned() {
		bodies = append(bodies, in.Take(in.Unsigned()))
		if in.Failed {
			break
		}
	}
	if in.Failed || in.More() {
		return nil, fmt.Errorf("%w: its functions do not end where they should", ErrModule)
	}
	return bodies, nil
}

// WriteFunctions makes a code section of functions.
func WriteFunctions(bodies [][]byte) []byte {
	out := binary.AppendUvarint(nil, uint64(len(bodies)))
	for _, b := range bodies {
		out = append(binary.AppendUvarint(out, uint64(len(b))), b...)
	}
	return out
}

// AppendSigned writes a number in WebAssembly's signed notation, seven bits a byte with the sign in the last.
func AppendSigned(out []byte, n int64) []byte {
	for {
		low := byte(n & 0x7f)
		n >>= 7
		if n == 0 && low&0x40 == 0 || n == -1 && low&0x40 != 0 {
			return append(out, low)
		}
		out = append(out, low|0x80)
	}
}

// Reader reads from bytes; after an error it has failed, and reads zeros.
type Reader struct {
	Bytes  []byte
	Failed bool
}

// More reports whether there is something left to read.
func (r *Reader) More() bool { return !r.Failed && len(r.Bytes) > 0 }

// Take reads n bytes.
func (r *Reader) Take(n uint64) []byte {
	if r.Failed || n > uint64(len(r.Bytes)) {
		r.Failed = true
		return nil
	}
	taken := r.Bytes[:n]
	r.Bytes = r.Bytes[n:]
	return taken
}

// Byte reads a byte.
func (r *Reader) Byte() byte {
	if b := r.Take(1); b != nil {
		return b[0]
	}
	return 0
}

// Unsigned reads a number of at most 32 bits, seven bits a byte.
func (r *Reader) Unsigned() uint64 {
	n, size := binary.Uvarint(r.Bytes)
	if r.Failed || size <= 0 || n > math.MaxUint32 {
		r.Failed = true
		return 0
	}
	r.Take(uint64(size))
	return n
}

// Signed reads a number of at most 32 bits with a sign.
func (r *Reader) Signed() int64 {
	var n int64
	for shift := 0; shift < 35; shift += 7 {
		b := r.Byte()
		n |= int64(b&0x7f) << shift
		if b&0x80 == 0 {
			if b&0x40 != 0 {
				n |= -1 << (shift + 7)
			}
			return n
		}
	}
	r.Failed = true
	return 0
}
