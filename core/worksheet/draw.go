package worksheet

import "hash/fnv"

// A draw is a sequence of whole numbers that follows from a text: SplitMix64 (Steele, Lea and Flood, 2014; constants from memory), as in
// core/lesson, started at the FNV-1a hash of the text. It has no floating point, so that it is the same on every device.
type draw struct{ state uint64 }

// drawn returns the sequence for one purpose.
func drawn(key, of string) *draw {
	f := fnv.New64a()
	f.Write([]byte(key + "\x00" + of))
	return &draw{f.Sum64()}
}

func (d *draw) next() uint64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below returns a whole number from 0 up to but not including n, each alike likely: numbers at the end that would favour some are drawn
// again.
func (d *draw) below(n int) int {
	most := ^uint64(0) - ^uint64(0)%uint64(n)
	for {
		if z := d.next(); z < most {
			return int(z % uint64(n))
		}
	}
}

// between returns a whole number from least to most.
func (d *draw) between(least, most int) int { return least + d.below(most-least+1) }

// of returns one of the numbers.
func (d *draw) of(list ...int) int { return list[d.below(len(list))] }
