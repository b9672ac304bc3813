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
	kinds, sums := 0, 0
	for from := 0; ; {
		at, end := find(text, from, kindKey)
		if at < 0 {
			break
		}
		if from = end; given(text[end:], 0) {
			kinds++
		}
	}
	const sum = "sum"
	for from := 0; ; {
		at, end := find(text, from, sum)
		if at < 0 {
			break
		}
		before := strings.TrimRight(text[max(0, at-4):at], "=\n")
		if from = end; before != "" && strings.IndexByte("&;6", before[len(before)-1]) >= 0 && given(text[end:], sumDigits) {
			sums++
		}
	}
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
