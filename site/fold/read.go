package fold

import (
	"bytes"
	"encoding/binary"
)

// reader reads bytes; after an error it is failed.
type reader struct {
	bytes  []byte
	at     int
	failed bool
}

func (r *reader) take(n int) []byte {
	if r.failed || n < 0 || n > len(r.bytes)-r.at {
		r.failed = true
		return nil
	}
	r.at += n
	return r.bytes[r.at-n : r.at]
}

func (r *reader) byte() byte {
	if b := r.take(1); b != nil {
		return b[0]
	}
	return 0
}

// is reads what is expected, or fails.
func (r *reader) is(want ...byte) bool {
	if got := r.take(len(want)); !bytes.Equal(got, want) {
		r.failed = true
	}
	return !r.failed
}

// number reads the bytes of a number.
func (r *reader) number() []byte {
	from := r.at
	for r.byte() >= 0x80 && !r.failed {
	}
	if r.failed {
		return nil
	}
	return r.bytes[from:r.at]
}

func (r *reader) unsigned() int64 {
	n, size := binary.Uvarint(r.number())
	r.failed = r.failed || size <= 0 || n >= 1<<31
	return int64(n)
}

func (r *reader) signed() (n int64) {
	shift := 0
	for _, b := range r.number() {
		n |= int64(b&0x7f) << shift
		if shift += 7; b < 0x80 && b >= 0x40 && shift < 64 {
			n |= -1 << shift
		}
	}
	return n
}
