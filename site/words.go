package site

import (
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// The page's own words: what stands around the tools, and what its scripts say. They are written into the page when the site is
// made, and the module does without them.
var (
	pageWords   = wording.Room{Name: "page", Words: []wording.Words{{Language: "en", Entries: english}}}
	scriptWords = wording.Room{Name: "script", Words: []wording.Words{{Language: "en", Entries: englishScript}}}
)

// Rooms are all words of the house, but for the shared ones: those of the tools and of the page.
func Rooms() []wording.Room { return append(tools.Rooms(), pageWords, scriptWords) }

// Languages are the tags of the languages that the page can be in.
func Languages() (tags []string) {
	for _, w := range pageWords.Words {
		tags = append(tags, w.Language)
	}
	return tags
}

// speaker is the speaker of the page in a language: it knows the page's words and those of the tools.
func speaker(lang string) *wording.Speaker {
	return wording.NewBook(Rooms()...).Speaker(lang, lang)
}
