package wording

import (
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

// Page is the speaker of the page's own words: the frame around the tools, which is written into the page when the site
// is made and which the module does without. It knows the core's words too.
func Page(locale string) *Speaker {
	b := catalog.NewBuilder(catalog.Fallback(language.English))
	for _, l := range []struct {
		tag     language.Tag
		entries [][]entry
	}{
		{language.English, [][]entry{english, englishPage}},
	} {
		for _, entries := range l.entries {
			for _, e := range entries {
				if err := b.SetString(l.tag, e.key, e.words); err != nil {
					panic("wording: " + e.key + ": " + err.Error()) // held by a test
				}
			}
		}
	}
	s := For(locale)
	s.printer = message.NewPrinter(language.Make(locale), message.Catalog(b))
	s.extra = map[string]bool{}
	for _, e := range englishPage {
		s.extra[e.key] = true
	}
	return s
}

// ScriptKeys are the keys of the words that the page's scripts say.
func ScriptKeys() (keys []string) {
	for _, e := range englishPage {
		if strings.HasPrefix(e.key, "script.") {
			keys = append(keys, e.key)
		}
	}
	return keys
}
