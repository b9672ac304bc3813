package wording

import "strings"

// A sentence that counts has words for each form that its language has for whole numbers, as the Unicode plural rules (CLDR) name them:
// those of KEY are for the form "other", those of KEY#one, KEY#few … for the rest, where they differ.

// Form returns the key of a sentence's words for a count.
func (s *Speaker) Form(key string, count int) string {
	if form := s.words.form(count); form != "" {
		return key + "#" + form
	}
	return key
}

// plain returns a key without its form, and reports whether it had one. Words of a language that do not differ stand without a form.
func plain(key string) (string, bool) {
	before, after, formed := strings.Cut(key, "#")
	if !formed {
		return key, false
	}
	_, hint, _ := strings.Cut(after, ".") // fault.KEY#one.hint
	if hint != "" {
		before += "." + hint
	}
	return before, true
}

// formsUpTo is how many counts the compiled words have a form for, one by one. From then on a count has the form of the one from 100 on
// that ends in the same two digits, which TestFormsOfEveryLanguage holds.
const formsUpTo = 200

// small returns a count below formsUpTo that has the same form.
func small(count int) int {
	if count = max(count, -count); count >= formsUpTo {
		return count%100 + 100
	}
	return count
}
