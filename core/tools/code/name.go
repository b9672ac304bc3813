package code

import (
	"strings"

	"ohmwright/core/wording"
)

// circuitName returns the name of a circuit of the table in the reader's language. The table's English, without its letters and numbers
// (A, bank 1), is the key of the sentence that they are put into.
func circuitName(s *wording.Speaker, circuit string) string {
	var key []string
	var marks []any
	for word := range strings.FieldsSeq(circuit) {
		if mark := strings.Trim(word, "(),"); isMark(mark) {
			marks = append(marks, mark)
		} else {
			key = append(key, strings.FieldsFunc(strings.ToLower(word), apart)...)
		}
	}
	return s.Say("circuit."+strings.Join(key, "_"), marks...)
}

// isMark reports whether a word tells one of several alike: A to K, or a number.
func isMark(word string) bool {
	return len(word) == 1 && 'A' <= word[0] && word[0] <= 'K' || word != "" && strings.Trim(word, "0123456789") == ""
}

func apart(c rune) bool { return (c < 'a' || 'z' < c) && (c < '0' || '9' < c) }
