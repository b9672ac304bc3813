package wording

import "strings"

// Page is the speaker of the page's own words: the frame around the tools, which is written into the page when the site
// is made and which the module does without. It knows the core's words too.
func Page(locale string) *Speaker { return newSpeaker(locale, newBook(englishPage)) }

// ScriptKeys are the keys of the words that the page's scripts say.
func ScriptKeys() (keys []string) {
	for _, e := range englishPage {
		if strings.HasPrefix(e.key, "script.") {
			keys = append(keys, e.key)
		}
	}
	return keys
}
