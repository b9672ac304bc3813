//go:build page

package tools

import (
	"sync"

	"ohmwright/core/wording"
)

// told are the words of the page's language.
var told *wording.Phrases

// Take takes the words of the page's language, which a book has compiled. Nothing can be said before.
func Take(compiled string) (err error) {
	told, err = wording.ReadPhrases(compiled)
	return err
}

// Speaker returns a speaker for a reader. The page has one language, whichever is asked for; locale decides how numbers are written.
func Speaker(_, locale string) *wording.Speaker { return told.Speaker(locale) }

// English returns the speaker for callers about whom nothing is known: in the page's language, with a decimal point.
var English = sync.OnceValue(func() *wording.Speaker { return Speaker("en", "en") })
