package slim

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
)

// Numbers of sections, of https://webassembly.github.io/spec/core/binary/modules.html
const (
	customSection    = 0
	codeSection      = 10
	dataSection      = 11
	dataCountSection = 12
)

const preamble = "\x00asm\x01\x00\x00\x00"

// mostMemory bounds what a module may ask to be filled with data: far more than any of Go's.
const mostMemory = 256 << 20

// module is a WebAssembly module taken apart: its sections in order, and the memory that its data section describes.
type module struct {
	sections []section
	memory   []byte
}

type section struct {
	id      byte
	content []byte // without number and size; empty for the data section, which memory stands for
}

// readModule takes a module apart.
func readModule(wasm []byte) (*module, error) {
	rest, ok := bytes.CutPrefix(wasm, []byte(preamble))
	if !ok {
		return nil, fmt.Errorf("no WebAssembly module of version 1")
	}
	m := &module{}
	in := &reader{bytes: rest}
	for in.more() {
		s := section{id: in.byte()}
		s.content = in.take(in.unsigned())
		if in.failed {
			return nil, fmt.Errorf("section %d ends too soon", s.id)
		}
		switch s.id {
		case dataCountSection:
			return nil, fmt.Errorf("%w: it counts its data segments, so its code may name them", ErrUnknown)
		case dataSection:
			if m.memory != nil {
				return nil, fmt.Errorf("two data sections")
			}
			memory, err := readData(s.content)
			if err != nil {
				return nil, err
			}
			m.memory, s.content = memory, nil
		}
		m.sections = append(m.sections, s)
	}
	if m.memory == nil {
		return nil, fmt.Errorf("%w: it has no data", ErrUnknown)
	}
	return m, nil
}

// segment is a piece of the memory.
type segment struct {
	at   int64
	data []byte
}

// readData makes the memory that the segments of a data section describe. What none describes is zero, as a new memory is.
func readData(content []byte) ([]byte, error) {
	var segments []segment
	in := &reader{bytes: content}
	for range in.unsigned() {
		kind, code, at, last := in.unsigned(), in.byte(), in.signed(), in.byte()
		s := segment{at: at, data: in.take(in.unsigned())}
		if in.failed {
			break
		}
		if kind != 0 || code != i32Const || last != end {
			return nil, fmt.Errorf("%w: a data segment without a fixed address", ErrUnknown)
		}
		segments = append(segments, s)
	}
	if in.failed || in.more() {
		return nil, fmt.Errorf("the data section does not end where it should")
	}
	slices.SortFunc(segments, func(a, b segment) int { return cmp.Compare(a.at, b.at) })
	memory := []byte{}
	for _, s := range segments {
		if s.at < int64(len(memory)) || s.at+int64(len(s.data)) > mostMemory {
			return nil, fmt.Errorf("%w: data segments that overlap or reach too far", ErrUnknown)
		}
		memory = append(append(memory, make([]byte, s.at-int64(len(memory)))...), s.data...)
	}
	return memory, nil
}

// The two instructions of a segment's address.
const (
	i32Const = 0x41
	end      = 0x0b
)

// write puts the module together again.
func (m *module) write() []byte {
	out := []byte(preamble)
	for _, s := range m.sections {
		content := s.content
		if s.id == dataSection {
			content = writeData(m.memory)
		}
		out = append(out, s.id)
		out = binary.AppendUvarint(out, uint64(len(content)))
		out = append(out, content...)
	}
	return out
}

// zerosApart is how many zeros in a row end a segment. Go's linker ends one after eight: smaller as it is, but a compressor
// writes a run of zeros in fewer bytes than the address and the length of another segment. Measured on the page's module with brotli -q 11,
// segments joined alone: 64 zeros 1,302,583 bytes, 1,024 1,296,066, 16,384 1,295,983, all joined 1,296,100.
const zerosApart = 16 << 10

// writeData writes memory as a data section: without the zeros at its ends, and without long runs of them.
func writeData(memory []byte) []byte {
	var out []byte
	segments := 0
	for at := 0; ; segments++ {
		for at < len(memory) && memory[at] == 0 {
			at++
		}
		if at == len(memory) {
			break
		}
		to := at
		for i := at; i < len(memory) && i-to < zerosApart; i++ {
			if memory[i] != 0 {
				to = i + 1
			}
		}
		out = append(out, 0, i32Const)
		out = appendSigned(out, int64(at))
		out = append(out, end)
		out = binary.AppendUvarint(out, uint64(to-at))
		out = append(out, memory[at:to]...)
		at = to
	}
	return append(binary.AppendUvarint(nil, uint64(segments)), out...)
}

// appendSigned writes a number in WebAssembly's signed notation, seven bits a byte with the sign in the last.
func appendSigned(out []byte, n int64) []byte {
	for {
		low := byte(n & 0x7f)
		n >>= 7
		if n == 0 && low&0x40 == 0 || n == -1 && low&0x40 != 0 {
			return append(out, low)
		}
		out = append(out, low|0x80)
	}
}

// reader reads from bytes; after an error it is failed, and reads zeros.
type reader struct {
	bytes  []byte
	failed bool
}

func (r *reader) more() bool { return !r.failed && len(r.bytes) > 0 }

func (r *reader) take(n uint64) []byte {
	if r.failed || n > uint64(len(r.bytes)) {
		r.failed = true
		return nil
	}
	taken := r.bytes[:n]
	r.bytes = r.bytes[n:]
	return taken
}

func (r *reader) byte() byte {
	if b := r.take(1); b != nil {
		return b[0]
	}
	return 0
}

// unsigned reads a number of at most 32 bits, seven bits a byte.
func (r *reader) unsigned() uint64 {
	n, size := binary.Uvarint(r.bytes)
	if size <= 0 || n > math.MaxUint32 {
		r.failed = true
		return 0
	}
	r.take(uint64(size))
	return n
}

// signed reads a number of at most 32 bits with a sign.
func (r *reader) signed() int64 {
	var n int64
	for shift := 0; shift < 35; shift += 7 {
		b := r.byte()
		n |= int64(b&0x7f) << shift
		if b&0x80 == 0 {
			if b&0x40 != 0 {
				n |= -1 << (shift + 7)
			}
			return n
		}
	}
	r.failed = true
	return 0
}
