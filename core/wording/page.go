package wording

import (
	"slices"
	"strings"
)

// Page is the speaker of the page's own words in a language: the frame around the tools, which is written into the page
// when the site is made and which the module does without. It knows the core's words too.
func Page(lang string) *Speaker {
	return newSpeaker(lang, lang, newBook(func(c catalogue) []entry { return c.page }))
}

// Languages are the tags of the languages that have a catalogue.
func Languages() (tags []string) {
	for _, l := range languages {
		tags = append(tags, l.tag.String())
	}
	return tags
}

// ScriptKeys are the keys of the words that the page's scripts say.
func ScriptKeys() (keys []string) {
	for _, e := range slices.Concat(englishPage, englishDrivePage, englishTorquePage) {
		if strings.HasPrefix(e.key, "script.") {
			keys = append(keys, e.key)
		}
	}
	return keys
}
