//go:build !page

package wording

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
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

// counted is a room with a sentence that counts, in languages of one, two, three and six forms, and one that a language words once for all.
var counted = Room{"lamp", []Words{
	{"en", []Entry{{"bulbs", "%s bulbs"}, {"bulbs#one", "%s bulb"}, {"dark", "%s of %s are dark"}}},
	{"ja", []Entry{{"bulbs", "電球%s個"}}},
	{"pl", []Entry{{"bulbs", "%s żarówki"}, {"bulbs#one", "%s żarówka"}, {"bulbs#few", "%s żarówki"}, {"bulbs#many", "%s żarówek"}}},
	{"fr", []Entry{{"bulbs", "%s ampoules"}, {"bulbs#one", "%s ampoule"}}},
}}

// TestCountsHaveTheirForms compares counts with what a reader of each language writes (CLDR's plural rules), with compiled words and with
// the catalogue.
func TestCountsHaveTheirForms(t *testing.T) {
	b := NewBook(counted)
	for lang, want := range map[string]map[int]string{
		"en": {0: "0 bulbs", 1: "1 bulb", 2: "2 bulbs", 101: "101 bulbs", 1001: "1001 bulbs"},
		"fr": {0: "0 ampoule", 1: "1 ampoule", 2: "2 ampoules", 101: "101 ampoules"},
		"ja": {0: "電球0個", 1: "電球1個"},
		"pl": {0: "0 żarówek", 1: "1 żarówka", 2: "2 żarówki", 5: "5 żarówek", 12: "12 żarówek", 22: "22 żarówki", 112: "112 żarówek",
			122: "122 żarówki", 1002: "1002 żarówki", 1012: "1012 żarówek"},
	} {
		for count, text := range want {
			for _, s := range []*Speaker{b.Speaker(lang, lang), phrasesOf(t, b, lang).Speaker(lang)} {
				assert.Equal(t, text, s.Within("lamp").Say(s.Form("bulbs", count), strconv.Itoa(count)), lang)
				assert.Contains(t, s.Say(s.Form("lamp.dark", count), "1", "2"), "1 of 2", "words without forms serve for all")
			}
		}
	}
	s := b.Speaker("en", "en")
	assert.Equal(t, "fault.missing.hint", func() string { key, _ := plain("fault.missing#one.hint"); return key }())
	assert.Panics(t, func() { s.Say("lamp.none#one") })
}

// TestFormsOfEveryLanguage checks the form that compiled words give a count against golang.org/x/text's: in all languages, up to 1,200.
func TestFormsOfEveryLanguage(t *testing.T) {
	b, n := NewBook(), 0
	for _, base := range language.Supported.BaseLanguages() {
		tag, err := language.Raw.Compose(base)
		if err != nil {
			continue
		}
		words := &Phrases{lines: formsKey + "\t" + compiledForms(tag) + "\n"}
		for count := range 1200 {
			if got, want := words.form(count), formNames[plural.Cardinal.MatchPlural(tag, count, 0, 0, 0, 0)]; got != want {
				assert.Fail(t, "form", "%s: %d is %q, not %q", base, count, got, want)
			}
			n++
		}
	}
	assert.Greater(t, n, 100_000)
	assert.Equal(t, "", b.Speaker("de", "de").words.form(2))
}

// TestPhrasesAreFoundAgain checks that what was found once is found again as it was, and what is missing stays so, with more keys than
// are kept.
func TestPhrasesAreFoundAgain(t *testing.T) {
	b := NewBook(lamp)
	p := phrasesOf(t, b, "en")
	for range 2 {
		for line := range strings.Lines(p.lines) {
			key, words, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
			for range 2 {
				found, ok := p.find(key)
				assert.Equal(t, []any{words, true}, []any{found, ok}, key)
				_, ok = p.find(key + ".none")
				assert.False(t, ok, key)
			}
		}
		for n := range 2 * knownPhrases {
			assert.False(t, p.has("none."+strconv.Itoa(n)))
		}
	}
}
