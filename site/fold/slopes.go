package fold

// A slope is a part of a module where bytes are mostly those that stand some places before them, or follow from them by a step: tables that
// count. There the differences are packed. The linker's table of functions by program counter is such a one (20 places), the index of
// the function table (8) and the numbers of the functions that may be called by reference (2). None of them is known by its place: what
// looks like a slope is taken for one.
type slope struct{ from, to, places int }

// blockSize is how many bytes are looked at together. Of those that are no zeros, no more than a share may be left, as differences.
const (
	blockSize = 2048
	share     = 0.55
)

var places = []int{2, 8, 20}

// slopes finds the slopes in a part of a module.
func slopes(wasm []byte, from, to int) (found []slope) {
	for ; from+blockSize <= to; from += blockSize {
		best := slope{from: from, to: from + blockSize}
		least := int(share * float64(others(wasm, best)))
		for _, p := range places {
			one := slope{best.from, best.to, p}
			if n := others(wasm, one); from >= p && n < least {
				best, least = one, n
			}
		}
		n := len(found) - 1
		switch {
		case best.places == 0:
		case n >= 0 && found[n].to == best.from && found[n].places == best.places:
			found[n].to = best.to
		default:
			found = append(found, best)
		}
	}
	return found
}

// others counts what is no zero among the differences, or among the bytes themselves.
func others(wasm []byte, s slope) (count int) {
	for i := max(s.from, s.places); i < s.to; i++ {
		if s.places == 0 && wasm[i] != 0 || s.places > 0 && wasm[i] != wasm[i-s.places] {
			count++
		}
	}
	return count
}

// flat returns a part of a module with differences in its slopes, and zeros in place of pieces.
func flat(wasm []byte, from, to int, all []slope, pieces []piece) []byte {
	out := append([]byte(nil), wasm[from:to]...)
	for _, s := range all {
		for i := max(s.from, from); i < min(s.to, to); i++ {
			out[i-from] = wasm[i] - wasm[i-s.places]
		}
	}
	for _, p := range pieces {
		if from <= p.from && p.from+len(p.bytes) <= to {
			clear(out[p.from-from:][:len(p.bytes)])
		}
	}
	return out
}
