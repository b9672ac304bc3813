package worksheet

import "ohmwright/core/lesson"

// A draw is a sequence of whole numbers that follows from a text. It has no floating point, so that it is the same on every device.
type draw struct{ *lesson.Draw }

// drawn returns the sequence for one purpose.
func drawn(key, of string) draw { return draw{lesson.Drawn(key, of)} }

// below returns a whole number from 0 up to but not including n, each alike likely: numbers at the end that would favour some are drawn
// again.
func (d draw) below(n int) int {
	most := ^uint64(0) - ^uint64(0)%uint64(n)
	for {
		if z := d.Whole(); z < most {
			return int(z % uint64(n))
		}
	}
}

// between returns a whole number from least to most.
func (d draw) between(least, most int) int { return least + d.below(most-least+1) }

// of returns one of the numbers.
func (d draw) of(list ...int) int { return list[d.below(len(list))] }
