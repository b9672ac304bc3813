// Package spelling gives a text one spelling, however it was typed: composed or with marks behind their letters, in capitals or in small
// letters, with ligatures or full-width letters.
//
// It does what golang.org/x/text/cases and golang.org/x/text/unicode/norm do, from a table of an eighth of their size that was made from
// them (tables.go), and tests hold both to the same. So what a name seeds does not change with a release of x/text either.
package spelling

import (
	"strings"
	"unicode"
)

// Plain returns a text as a draw by it takes it: folded ([Folded]), without invisible signs, each run of spaces as one. So "ANNA  Berg" and
// "anna berg" are one student.
func Plain(text string) string {
	visible := strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, Folded(text))
	return strings.Join(strings.FieldsFunc(visible, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
}

// Folded returns a text in normalization form KC, its case folded in full, in form KC again (UAX #15; The Unicode Standard, 3.13, default
// caseless matching), of Unicode 15.0. A byte that is no UTF-8 counts as U+FFFD.
//
// More than thirty marks in a row are parted by U+034F, as the stream-safe format has it (UAX #15, section 13), though counted as x/text
// counts: what can join the character before it is a mark.
func Folded(text string) string {
	t := read()
	var folded []rune
	for _, r := range t.normal([]rune(text)) {
		if small := t.folds.of(r); small != nil {
			folded = append(folded, small...)
		} else {
			folded = append(folded, r)
		}
	}
	return string(t.normal(folded))
}

// Hangul syllables follow from their letters (The Unicode Standard, 3.12).
const (
	syllables = 0xac00
	leads     = 0x1100
	vowels    = 0x1161
	tails     = 0x11a7 // one before the first: no tail

	leadCount     = 19
	vowelCount    = 21
	tailCount     = 28
	syllableCount = leadCount * vowelCount * tailCount
)

// within reports whether a rune is one of so many from the first.
func within(r, first, count rune) bool { return first <= r && r < first+count }

// most is how many marks may stand in a row, and joiner is what parts them from the next.
const (
	most   = 30
	joiner = 0x34f
)

// normal returns a text in form KC.
func (t *tables) normal(text []rune) []rune {
	var out []rune
	marks := 0
	for _, r := range text {
		parts := t.apart(r, nil)
		first, last := 0, 0
		for first < len(parts) && t.joins(parts[first]) {
			first++
		}
		for last < len(parts) && t.joins(parts[len(parts)-1-last]) {
			last++
		}
		switch marks += first; {
		case first == 0:
			marks = last
		case marks > most:
			out, marks = append(out, joiner), first
		}
		for _, part := range parts {
			out = t.ordered(out, part)
		}
	}
	return t.composed(out)
}

// apart appends what a rune is made of.
func (t *tables) apart(r rune, to []rune) []rune {
	if within(r, syllables, syllableCount) {
		n := r - syllables
		to = append(to, leads+n/tailCount/vowelCount, vowels+n/tailCount%vowelCount)
		if n%tailCount > 0 {
			to = append(to, tails+n%tailCount)
		}
		return to
	}
	parts := t.parts.of(r)
	if parts == nil {
		return append(to, r)
	}
	for _, part := range parts {
		to = t.apart(part, to)
	}
	return to
}

// joins reports whether a rune can join the one before it: a mark, and some letters.
func (t *tables) joins(r rune) bool {
	return t.class(r) > 0 || t.second[r] || within(r, vowels, vowelCount) || within(r, tails+1, tailCount-1)
}

// ordered appends a rune, a mark in front of those of a higher class.
func (t *tables) ordered(text []rune, r rune) []rune {
	at, class := len(text), t.class(r)
	text = append(text, r)
	for ; class > 0 && at > 0 && t.class(text[at-1]) > class; at-- {
		text[at] = text[at-1]
	}
	text[at] = r
	return text
}

// composed joins each rune to the last letter before it, if the two make one and no mark of its class or a higher one stands between.
func (t *tables) composed(text []rune) []rune {
	letter, n := -1, 0
	for _, r := range text {
		class := t.class(r)
		if letter >= 0 && (letter == n-1 || t.class(text[n-1]) < class) {
			if one := t.joined(text[letter], r); one != 0 {
				text[letter] = one
				continue
			}
		}
		if class == 0 {
			letter = n
		}
		text[n] = r
		n++
	}
	return text[:n]
}

// joined returns the rune that two make, 0 if they make none.
func (t *tables) joined(a, b rune) rune {
	switch {
	case within(a, leads, leadCount) && within(b, vowels, vowelCount):
		return syllables + ((a-leads)*vowelCount+b-vowels)*tailCount
	case within(a, syllables, syllableCount) && (a-syllables)%tailCount == 0 && within(b, tails+1, tailCount-1):
		return a + b - tails
	}
	return t.pairs[[2]rune{a, b}]
}
