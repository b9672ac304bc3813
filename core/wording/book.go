//go:build !page

package wording

import (
	"strings"
	"sync"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
	"golang.org/x/text/number"

	"ohmwright/core/quantity"
)

// A Book holds the words of some rooms, and the shared ones. A room's words are gone through when the first of them is asked for, and a
// sentence is compiled when it is first said.
type Book struct {
	builder *catalog.Builder
	names   []string                        // of the rooms, in their order
	rooms   map[string]func() []translation // by the room's name; the shared words have none
	mu      sync.Mutex
	opened  map[string]bool // sentences that are compiled
}

// A translation is the words of one room in one language, by key.
type translation struct {
	tag   language.Tag
	words map[string]string
}

// NewBook returns a book with the words of rooms and the shared words.
func NewBook(rooms ...Room) *Book {
	b := &Book{builder: catalog.NewBuilder(), rooms: map[string]func() []translation{}, opened: map[string]bool{}}
	for _, r := range append([]Room{SharedRoom()}, rooms...) {
		b.names = append(b.names, r.Name)
		b.rooms[r.Name] = sync.OnceValue(r.translations)
	}
	return b
}

// translations returns the words of a room by language and key.
func (r Room) translations() []translation {
	list := make([]translation, len(r.Words))
	for i, w := range r.Words {
		words := make(map[string]string, len(w.Entries))
		for _, e := range w.Entries {
			words[e[0]] = e[1]
		}
		list[i] = translation{language.MustParse(w.Language), words}
	}
	return list
}

// of calls do with the words of a room for a key in each language that has them. It reports whether there are any.
func (b *Book) of(room, key string, do func(language.Tag, string)) (known bool) {
	translations, ok := b.rooms[room]
	if !ok {
		return false
	}
	for _, t := range translations() {
		if words, ok := t.words[key]; ok {
			known = true
			do(t.tag, words)
		}
	}
	return known
}

// find calls do with the words for a key as it is used outside its room, in each language that has them. It reports whether there are any.
func (b *Book) find(key string, do func(language.Tag, string)) bool {
	if room, own, ok := strings.Cut(key, "."); ok && room != "" && b.of(room, own, do) {
		return true
	}
	return b.of("", key, do)
}

// has reports whether there are words for a key as it is used outside its room.
func (b *Book) has(key string) bool { return b.find(key, func(language.Tag, string) {}) }

// open compiles a sentence in every language that has it. It reports whether there is one.
func (b *Book) open(key string) bool {
	b.mu.Lock()
	defer b.mu.Unlock()
	known, seen := b.opened[key]
	if seen {
		return known
	}
	known = b.find(key, func(own language.Tag, words string) {
		// English also stands in for languages without a catalogue: their lookup ends at the undetermined language.
		tags := []language.Tag{own}
		if own == language.English {
			tags = append(tags, language.Und)
		}
		for _, tag := range tags {
			if err := b.builder.SetString(tag, key, words); err != nil {
				panic("wording: " + key + ": " + err.Error()) // a test compiles all of them
			}
		}
	})
	if known {
		b.opened[key] = true // keys without words come from outside too, and could be any number
	}
	return known
}

// Shared returns a book with only the shared words.
var Shared = sync.OnceValue(func() *Book { return NewBook() })

// A printed is the sentences of a book in one language.
type printed struct {
	book  *Book
	words *message.Printer
	tag   language.Tag
}

func (p printed) form(count int) string { return formIn(p.tag, small(count)) }

// formNames are the forms beside "other".
var formNames = map[plural.Form]string{plural.Zero: "zero", plural.One: "one", plural.Two: "two", plural.Few: "few", plural.Many: "many"}

// formIn returns the form that a language has for a count, as golang.org/x/text has it; "" for "other".
func formIn(tag language.Tag, count int) string {
	return formNames[plural.Cardinal.MatchPlural(tag, count, 0, 0, 0, 0)]
}

func (p printed) has(key string) bool { return p.book.has(key) }

func (p printed) say(key string, args []any) (string, bool) {
	if !p.book.open(key) {
		return "", false
	}
	if _, formed := plain(key); formed { // another language's form is none of this one
		if _, known := p.book.nearest(p.tag, key); !known {
			return "", false
		}
	}
	return p.words.Sprintf(key, args...), true
}

// Speaker returns the speaker for a reader. It uses English if the book has no words in the language. locale decides how
// numbers are written, but the digits are always 0 to 9. Both are BCP 47 tags, such as de or fr-CA; one that cannot be
// read counts as English.
func (b *Book) Speaker(lang, locale string) *Speaker {
	return &Speaker{words: printed{b, message.NewPrinter(tagOf(lang), message.Catalog(b.builder)), tagOf(lang)}, mark: markOf(tagOf(locale))}
}

// markOf returns the decimal mark of a locale.
func markOf(locale language.Tag) quantity.Mark {
	if strings.Contains(message.NewPrinter(locale).Sprint(number.Decimal(0.5)), ",") {
		return quantity.Comma
	}
	return quantity.Point
}

// tagOf parses a tag, and adds that digits are 0 to 9.
func tagOf(locale string) language.Tag {
	tag, err := language.Parse(locale)
	if err != nil {
		return language.English
	}
	if plain, err := tag.SetTypeForKey("nu", "latn"); err == nil {
		return plain
	}
	return tag
}
