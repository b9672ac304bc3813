package pack

import "math/bits"

// A pair is a match: its length, and its distance less 1.
type pair struct{ length, distance int }

// A finder finds for each place of the data, one after the other, the matches before it: for each length the nearest. The places before
// lie in binary trees by what follows them, one tree for each hash of the next four bytes.
type finder struct {
	data        []byte
	two, three  []int32 // the last place with a hash of two and of three bytes
	roots, sons []int32
	depth       int
	found       []pair
	at          int
}

const hashBits = 20

func newFinder(data []byte) *finder {
	f := &finder{data: data, depth: 64, two: make([]int32, 1<<16), three: make([]int32, 1<<hashBits), roots: make([]int32, 1<<hashBits),
		sons: make([]int32, 2*len(data))}
	for _, list := range [][]int32{f.two, f.three, f.roots} {
		for i := range list {
			list[i] = -1
		}
	}
	return f
}

// next returns the matches at the next place, longer ones last.
func (f *finder) next() []pair {
	at, data := f.at, f.data
	f.at++
	f.found = f.found[:0]
	most := min(len(data)-at, longest)
	if most < 4 {
		return nil
	}
	h2 := uint32(data[at]) | uint32(data[at+1])<<8
	h3 := (h2 | uint32(data[at+2])<<16) * 2654435761 >> (32 - hashBits)
	h4 := (h2 | uint32(data[at+2])<<16 | uint32(data[at+3])<<24) * 2654435761 >> (32 - hashBits)
	length := 1
	for _, place := range []int32{f.two[h2], f.three[h3]} {
		if place < 0 {
			continue
		}
		if n := same(data, int(place), at, most); n > length {
			length = n
			f.found = append(f.found, pair{n, at - int(place) - 1})
		}
	}
	f.two[h2], f.three[h3] = int32(at), int32(at)
	place := f.roots[h4]
	f.roots[h4] = int32(at)
	f.descend(int(place), at, most, length)
	return f.found
}

// descend looks through a tree for matches longer than length, and makes the place its new root.
func (f *finder) descend(place, at, most, length int) {
	data, sons := f.data, f.sons
	less, more := 2*at, 2*at+1 // where the next place hangs whose data are less or more
	lessSame, moreSame := 0, 0
	for range f.depth {
		if place < 0 {
			break
		}
		n := min(lessSame, moreSame)
		n += same(data, place+n, at+n, most-n)
		if n > length {
			length = n
			f.found = append(f.found, pair{n, at - place - 1})
		}
		if n == most {
			sons[less], sons[more] = sons[2*place], sons[2*place+1]
			return
		}
		if data[place+n] < data[at+n] {
			sons[less] = int32(place)
			less, lessSame = 2*place+1, n
			place = int(sons[less])
		} else {
			sons[more] = int32(place)
			more, moreSame = 2*place, n
			place = int(sons[more])
		}
	}
	sons[less], sons[more] = -1, -1
}

// same counts how many bytes are the same at two places.
func same(data []byte, a, b, most int) int {
	n := 0
	for n < most && data[a+n] == data[b+n] {
		n++
	}
	return n
}

// slotOf returns the two highest bits of a distance, and how many follow, as one number.
func slotOf(distance uint32) uint32 {
	if distance < 4 {
		return distance
	}
	n := uint32(bits.Len32(distance)) - 1
	return n<<1 | distance>>(n-1)&1
}
