package markbook

import (
	"strings"

	tools "ohmwright/core/tools/worksheet"
)

// Every hand-in has the first question's kind once, and one sum: where there is more of either in a text than in what was found there, a
// link got lost.
const kindKey = "questions.0.kind"

// pieces counts the links whose keys stand in a text, but for the one that was found in it.
func pieces(text, found string) int {
	count := func(word string, is func(at, end int) bool) (n int) {
		for at, end := find(text, 0, word); at >= 0; at, end = find(text, end, word) {
			if is(at, end) {
				n++
			}
		}
		return n
	}
	kinds := count(kindKey, func(_, end int) bool { return given(text[end:], 0) })
	sums := count("sum", func(at, end int) bool {
		before := strings.TrimRight(text[max(0, at-4):at], "=\n")
		return before != "" && strings.IndexByte("&;6", before[len(before)-1]) >= 0 && given(text[end:], sumDigits)
	})
	if strings.Contains(found, kindKey+"=") {
		kinds--
	}
	if strings.Contains(found, tools.SumKey) {
		sums--
	}
	return max(0, kinds, sums)
}

// equalsForms are the ways to write what stands between a key and its value.
var equalsForms = []string{"=3D", "%253D", "%253d", "%3D", "%3d", "-3D", "="}

// given reports whether a text goes on with a value, of at least so many hex digits, behind a sign of equality.
func given(rest string, digits int) bool {
	rest = rest[:min(len(rest), near)]
	for _, s := range []string{unbroken.Replace(rest), strings.ReplaceAll(rest, "\n", "")} {
		for _, form := range equalsForms {
			if value, ok := strings.CutPrefix(s, form); ok && len(value) >= digits && hex(value[:digits]) {
				return true
			}
		}
	}
	return false
}
