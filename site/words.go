package site

import (
	"slices"

	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// The page's own words: those around the tools, and those of its scripts. They are written into the page when the site is
// made; the module does not contain them.
var (
	pageWords = wording.Room{Name: "page", Words: []wording.Words{
		{Language: "en", Entries: slices.Concat(english, englishJob, englishExample)},
		{Language: "de", Entries: de}, {Language: "es", Entries: es}, {Language: "fr", Entries: fr}}}
	scriptWords = wording.Room{Name: "script", Words: []wording.Words{
		{Language: "en", Entries: slices.Concat(englishScript, englishJobScript)},
		{Language: "de", Entries: deScript}, {Language: "es", Entries: esScript}, {Language: "fr", Entries: frScript}}}
)

// rooms returns the words of all tools and of the page, but not the shared ones.
func rooms() []wording.Room { return EveryRoom()[1:] }

// EveryRoom returns all words of the program, the shared ones first.
func EveryRoom() []wording.Room {
	return append(moduleRooms(), withPseudo(pageWords), withPseudo(scriptWords))
}

// moduleRooms returns the words of the page's module: the shared ones and those of all tools.
func moduleRooms() []wording.Room {
	list := []wording.Room{withPseudo(wording.SharedRoom())}
	for _, room := range tools.Rooms() {
		list = append(list, withPseudo(room))
	}
	return list
}

// Languages returns the tags of the languages in which the page can be made.
func Languages() (tags []string) {
	for _, w := range withPseudo(pageWords).Words {
		tags = append(tags, w.Language)
	}
	return tags
}

// speaker returns a speaker that knows the words of the page and of the tools in a language.
func speaker(lang string) *wording.Speaker {
	return wording.NewBook(EveryRoom()...).Speaker(lang, lang)
}
