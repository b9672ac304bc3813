//go:build !page

package wording

import (
	"slices"
	"strings"

	"golang.org/x/text/language"
)

// Forms returns the forms that a language has for whole numbers, beside "other"; none for a tag that is no language's.
func Forms(lang string) (forms []string) {
	tag, err := language.Parse(lang)
	if err != nil {
		return nil
	}
	for count := range formsUpTo {
		if form := formIn(tag, count); form != "" && !slices.Contains(forms, form) {
			forms = append(forms, form)
		}
	}
	return forms
}

// Wanted returns the English sentences that a translator into a language has to word: a sentence that counts once for each form of that
// language.
func (r Room) Wanted(lang string) (list []Entry) {
	others := map[string]string{}
	for _, e := range r.Words[0].Entries {
		others[e[0]] = e[1]
	}
	for _, e := range r.Words[0].Entries {
		key, own, formed := strings.Cut(e[0], "#")
		if !formed {
			list = append(list, e)
			continue
		}
		for _, form := range Forms(lang) {
			if form == own {
				list = append(list, e)
			} else if _, given := others[key+"#"+form]; !given {
				list = append(list, Entry{key + "#" + form, others[key]})
			}
		}
	}
	return list
}
