//go:build !page

package wording

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lamp is a room in three languages, none but English whole.
var lamp = Room{"lamp", []Words{
	{"en", []Entry{{"bulb", "a bulb"}, {"of", "%s of %s"}, {"swapped", "%[2]s, %[1]s, %s, 100 %%"}, {"a", "first"}, {"z.z", "last"}}},
	{"de", []Entry{{"bulb", "eine Birne"}, {"of", "%[2]s: %[1]s"}}},
	{"de-CH", []Entry{{"bulb", "e Birä"}}},
}}

func phrasesOf(t *testing.T, b *Book, lang string) *Phrases {
	text, err := b.Compiled(lang)
	require.NoError(t, err)
	p, err := ReadPhrases(text)
	require.NoError(t, err)
	return p
}

// TestPhrasesSayWhatTheBookSays checks that compiled words say the same as the catalogue, in languages that have them, partly, and not.
func TestPhrasesSayWhatTheBookSays(t *testing.T) {
	b := NewBook(lamp)
	keys := []string{"bulb", "lamp.bulb", "lamp.of", "lamp.swapped", "lamp.a", "lamp.z.z", "fault.missing", "echo.over", "kind.1", "unknown",
		"", "lamp.", ".bulb", "fault", ":", "zzz", "lamp.a\t"}
	for _, lang := range []string{"en", "de", "de-CH", "de-AT", "fr"} {
		said, want := phrasesOf(t, b, lang).Speaker(lang), b.Speaker(lang, lang)
		for _, key := range keys {
			for _, room := range []string{"", "lamp", "elsewhere"} {
				s, w := said, want
				if room != "" {
					s, w = said.Within(room), want.Within(room)
				}
				if !assert.Equal(t, w.Has(key), s.Has(key), "%s: %q in %q", lang, key, room) || !s.Has(key) {
					continue
				}
				args := []any{"A", "%s"}
				if !strings.Contains(w.Say(key), "%!") {
					args = nil
				}
				assert.Equal(t, w.Say(key, args...), s.Say(key, args...), "%s: %q in %q", lang, key, room)
			}
		}
	}
	s := phrasesOf(t, b, "de").Speaker("de")
	assert.Equal(t, "B: A", s.Say("lamp.of", "A", "B"), "worked out by hand")
	assert.Equal(t, "B, A, B, 100 %", s.Say("lamp.swapped", "A", "B"), "worked out by hand; English stands in")
	assert.Panics(t, func() { s.Say("lamp.none") })
	assert.Panics(t, func() { s.Say("lamp.of", 1, 2) })
}

// TestCompiledRefuses checks that words which the compiled text cannot hold or fill in are refused, and texts that are none.
func TestCompiledRefuses(t *testing.T) {
	for _, words := range []string{"two\nlines", "a\ttab", "%d", "%", "%[1]d", "%[x", "100 % sure", "%5s", "${x}"} {
		_, err := NewBook(Room{"lamp", []Words{{"en", []Entry{{"bulb", words}}}}}).Compiled("en")
		assert.Error(t, err, words)
	}
	_, err := NewBook(Room{"lamp", []Words{{"de", []Entry{{"bulb", "Birne"}}}}}).Compiled("fr")
	assert.ErrorContains(t, err, "lamp.bulb has no words in English")
	_, err = NewBook().Compiled("no language")
	assert.Error(t, err)
	for _, text := range []string{"", "a\tb", "\n", "words\n"} {
		_, err := ReadPhrases(text)
		assert.ErrorIs(t, err, ErrPhrases)
	}
}
