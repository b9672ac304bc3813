package spelling

import (
	"slices"
	"sync"
)

//go:generate go test -run TestTablesAreCurrent -args -write

// tables are those of tables.go, read.
type tables struct {
	parts   mapping          // what a character is made of, one or more times over; syllables of Hangul are left out
	pairs   map[[2]rune]rune // what two make together
	second  map[rune]bool    // the second of such two
	folds   mapping          // small letters
	starts  []rune           // where another class begins
	classes []byte           // the canonical combining class from there, which is the order that marks stand in; 0 if it is no mark
}

var read = sync.OnceValue(func() *tables {
	t := &tables{pairs: map[[2]rune]rune{}, second: map[rune]bool{}}
	start := rune(0)
	for gaps, values := column(classGaps), column(classValues); gaps != ""; {
		start += rune(gaps.next())
		t.starts, t.classes = append(t.starts, start), append(t.classes, byte(values.next()))
	}
	t.parts.read(partGaps, partLengths, partFirsts, partOthers, func(r rune, of [2]rune) { t.pairs[of], t.second[of[1]] = r, true })
	t.folds.read(foldGaps, foldLengths, foldFirsts, foldOthers, nil)
	return t
})

// class returns the class of a rune.
func (t *tables) class(r rune) byte {
	n, _ := slices.BinarySearch(t.starts, r+1)
	if n == 0 {
		return 0
	}
	return t.classes[n-1]
}

// A mapping has runes in place of one.
type mapping struct {
	from []rune
	ends []int // of each one's runes in to
	to   []rune
}

// of returns the runes in place of r, nil if it stays.
func (m *mapping) of(r rune) []rune {
	n, found := slices.BinarySearch(m.from, r)
	switch {
	case !found:
		return nil
	case n == 0:
		return m.to[:m.ends[0]]
	}
	return m.to[m.ends[n-1]:m.ends[n]]
}

const (
	pair      = 0     // in place of a length: two that make the one again
	firstMark = 0x300 // near most runes that are not the first of theirs
)

// read reads a mapping from its columns: how far each rune is from the one before, how many stand in its place, how far the first of them
// is from the first of those before, and how far the others are from firstMark.
func (m *mapping) read(gaps, lengths, firsts, others column, made func(r rune, of [2]rune)) {
	r, first := rune(0), rune(0)
	for gaps != "" {
		r += rune(gaps.next())
		first += rune(firsts.signed())
		length, begin := lengths.next(), len(m.to)
		m.to = append(m.to, first)
		for n := 1; n < length || n == 1 && length == pair; n++ {
			m.to = append(m.to, firstMark+rune(others.signed()))
		}
		if length == pair {
			made(r, [2]rune(m.to[begin:]))
		}
		m.from, m.ends = append(m.from, r), append(m.ends, len(m.to))
	}
}

// A column is a list of numbers in characters from U+0020 on: five bits in each, the lowest first, and a sixth that says that more follow.
type column string

// next takes the first number off the column.
func (c *column) next() (n int) {
	for shift := 0; ; shift += 5 {
		b := int((*c)[0] - ' ')
		*c = (*c)[1:]
		n |= b & 31 << shift
		if b < 32 {
			return n
		}
	}
}

// signed takes the first number off the column, whose lowest bit is its sign.
func (c *column) signed() int {
	n := c.next()
	return n>>1 ^ -(n & 1)
}
