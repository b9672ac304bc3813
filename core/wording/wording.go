// Package wording says sentences in the reader's language, with numbers in the reader's notation. Each sentence is worded
// in one place: in the folder of the tool that says it, in site for the frame of the page, or here if several rooms share
// it. This package names no tool. Languages are message catalogues of golang.org/x/text; the English one is complete.
package wording

import (
	"math"
	"strconv"
	"strings"
	"sync"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
	"golang.org/x/text/number"

	"ohmwright/core/portable"
	"ohmwright/core/quantity"
)

// An Entry is a sentence: its key, and its words with verbs of package fmt.
type Entry [2]string

// Words are the sentences of one room in one language, given by its BCP 47 tag.
type Words struct {
	Language string
	Entries  []Entry
}

// A Room is a part of the program with its own words. Inside the room their keys have no prefix; elsewhere a key is ROOM.KEY.
type Room struct {
	Name  string
	Words []Words
}

// shared holds the words that belong to no room.
var shared = Room{Words: []Words{{"en", english}}}

// A Book holds the words of some rooms, and the shared ones. A room's words are gone through when the first of them is asked for, and a
// sentence is compiled when it is first said: before its first answer a page says few, of few rooms.
type Book struct {
	builder *catalog.Builder
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
	for _, r := range append([]Room{shared}, rooms...) {
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

// say calls do with the words for a key as it is used outside its room, in each language that has them. It reports whether there are any.
func (b *Book) say(key string, do func(language.Tag, string)) bool {
	if room, own, ok := strings.Cut(key, "."); ok && room != "" && b.of(room, own, do) {
		return true
	}
	return b.of("", key, do)
}

// known reports whether there are words for a key as it is used outside its room.
func (b *Book) known(key string) bool { return b.say(key, func(language.Tag, string) {}) }

// Key returns an entry's key as it is used outside its room.
func (r Room) Key(e Entry) string {
	if r.Name == "" {
		return e[0]
	}
	return r.Name + "." + e[0]
}

// open compiles a sentence in every language that has it.
func (b *Book) open(key string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.opened[key] {
		return
	}
	b.opened[key] = true
	b.say(key, func(own language.Tag, words string) {
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
}

// Shared returns a book with only the shared words.
var Shared = sync.OnceValue(func() *Book { return NewBook() })

// SharedRoom returns the room of the shared words, for code that goes through all words.
func SharedRoom() Room { return shared }

// A Speaker words things for one reader. Several goroutines may use it at once.
type Speaker struct {
	words *message.Printer
	mark  quantity.Mark
	book  *Book
	room  string   // prefix of the keys of the room's own words; "" for none
	rooms sync.Map // speakers for rooms, by name
	said  sync.Map // what was said without arguments, since labels are said again at every keystroke
}

// Speaker returns the speaker for a reader. It uses English if the book has no words in the language. locale decides how
// numbers are written, but the digits are always 0 to 9. Both are BCP 47 tags, such as de or fr-CA; one that cannot be
// read counts as English.
func (b *Book) Speaker(lang, locale string) *Speaker {
	s := &Speaker{book: b, words: message.NewPrinter(tagOf(lang), message.Catalog(b.builder))}
	if strings.Contains(message.NewPrinter(tagOf(locale)).Sprint(number.Decimal(0.5)), ",") {
		s.mark = quantity.Comma
	}
	return s
}

// Within returns a speaker for the same reader that looks a key up among a room's own words first.
func (s *Speaker) Within(room string) *Speaker {
	if s.room == room+"." {
		return s
	}
	if own, ok := s.rooms.Load(room); ok {
		return own.(*Speaker)
	}
	own, _ := s.rooms.LoadOrStore(room, &Speaker{words: s.words, mark: s.mark, book: s.book, room: room + "."})
	return own.(*Speaker)
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

// Mark returns the reader's decimal mark.
func (s *Speaker) Mark() quantity.Mark { return s.mark }

// Has reports whether there are words for a key.
func (s *Speaker) Has(key string) bool { return s.full(key) != "" }

// full returns the key with its room's prefix; "" if there are no words for it.
func (s *Speaker) full(key string) string {
	if s.room != "" && s.book.known(s.room+key) {
		return s.room + key
	}
	if s.book.known(key) {
		return key
	}
	return ""
}

// Say returns the words of a key with its arguments. It panics if the key has no words, which is a fault of the program.
func (s *Speaker) Say(key string, args ...any) string {
	if len(args) == 0 {
		if text, ok := s.said.Load(key); ok {
			return text.(string)
		}
	}
	full := s.full(key)
	if full == "" {
		panic("wording: no words for " + s.room + key)
	}
	s.book.open(full)
	text := s.words.Sprintf(full, args...)
	if len(args) == 0 {
		s.said.Store(key, text)
	}
	return text
}

// Number writes a number with so many decimals, in the digits 0 to 9 and with the decimal mark of the reader's locale.
// Without grouping, the mark is all that a locale changes. Thousands are not grouped: a grouping mark can be mistaken for
// a decimal mark, and the units here keep numbers short.
func (s *Speaker) Number(v float64, decimals int) string {
	text := s.mark.In(strconv.FormatFloat(math.Abs(v), 'f', decimals, 64))
	if v < 0 && strings.ContainsAny(text, "123456789") {
		return "\u2212" + text
	}
	return text
}

// Exact writes a number in the fewest digits that represent it exactly.
func (s *Speaker) Exact(v float64) string {
	_, fraction, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	return s.Number(v, len(fraction))
}

// Figures writes a number to so many significant digits, but never rounds its whole part.
func (s *Speaker) Figures(v float64, digits int) string {
	return s.Number(v, max(0, digits-1-magnitude(v)))
}

// magnitude returns the power of ten of a number's first digit; 0 for 0.
func magnitude(v float64) int {
	v = math.Abs(v)
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	return max(-9, int(math.Floor(portable.Log10(v))))
}

// Of writes a value, given in the contract's unit of its kind, in the unit that a person would use. It has the digits that
// are meaningful for the standard uncertainty u; if u is 0, it is written as typed, or to four figures.
func (s *Speaker) Of(k quantity.Kind, v, u float64) string {
	v, u, unit := personal(k, v, u)
	return s.digits(v, u) + unit
}

// PlusMinus writes a value as [Speaker.Of] does, with its expanded uncertainty (k = 2, about 95 %).
func (s *Speaker) PlusMinus(k quantity.Kind, v, u float64) string {
	if u == 0 {
		return s.Of(k, v, 0)
	}
	v, u, unit := personal(k, v, u)
	// One figure of the uncertainty is enough, or two if it begins with a 1 or a 2.
	wide := 2 * u
	decimals := -magnitude(wide)
	if wide < 3*portable.Pow(10, float64(magnitude(wide))) {
		decimals++
	}
	decimals = max(0, min(6, decimals))
	return s.Number(v, decimals) + " ± " + s.Number(wide, decimals) + unit
}

// Ohms writes a resistance as [Speaker.Of] does.
func (s *Speaker) Ohms(v, u float64) string { return s.Of(quantity.OfResistance, v, u) }

// Volts writes a voltage as [Speaker.Of] does.
func (s *Speaker) Volts(v, u float64) string { return s.Of(quantity.OfVoltage, v, u) }

// Amperes writes a current as [Speaker.Of] does.
func (s *Speaker) Amperes(v, u float64) string { return s.Of(quantity.OfCurrent, v, u) }

// Celsius writes a temperature as [Speaker.Of] does.
func (s *Speaker) Celsius(v, u float64) string { return s.Of(quantity.OfTemperature, v, u) }

// personal converts a value and its uncertainty to the unit that a person would use. The text is the unit to write after the number.
func personal(k quantity.Kind, v, u float64) (float64, float64, string) {
	switch k {
	case quantity.OfResistance:
		switch a := math.Abs(v); {
		case a >= 1e6:
			return v / 1e6, u / 1e6, "\u00a0MΩ"
		case a >= 1e4:
			return v / 1e3, u / 1e3, "\u00a0kΩ"
		}
	case quantity.OfInductance, quantity.OfTime, quantity.OfEnergy, quantity.OfPower:
		sign := quantity.Units(k)[0].Sign
		switch a := math.Abs(v); {
		case a == 0 || a >= 1 || k == quantity.OfPower && a >= 0.1:
		case a >= 1e-3 || k == quantity.OfPower || k == quantity.OfEnergy:
			return v * 1e3, u * 1e3, "\u00a0m" + sign
		default:
			return v * 1e6, u * 1e6, "\u00a0µ" + sign
		}
	case quantity.OfForce:
		if math.Abs(v) >= 1e3 {
			return v / 1e3, u / 1e3, "\u00a0kN"
		}
	case quantity.OfFrequency:
		if math.Abs(v) >= 1e4 {
			return v / 1e3, u / 1e3, "\u00a0kHz"
		}
	case quantity.OfAngle:
		return v, u, "°"
	case quantity.OfRatio:
		return v * 100, u * 100, "\u00a0%"
	}
	return v, u, "\u00a0" + quantity.Units(k)[0].Sign
}

// digits writes v to the decimal place of the second figure of its uncertainty.
func (s *Speaker) digits(v, u float64) string {
	if u > 0 {
		return s.Number(v, max(0, min(6, 1-magnitude(u))))
	}
	p := 1.0
	for d := 0; d < 4; d, p = d+1, p*10 {
		if math.Round(v*p)/p == v {
			return s.Number(v, d)
		}
	}
	return s.Figures(v, 4)
}

// Percent writes a share in whole per cent.
func (s *Speaker) Percent(p float64) string { return s.Number(p*100, 0) + "\u00a0%" }

// Chance writes a probability in whole per cent, but never as 0 or 100.
func (s *Speaker) Chance(p float64) string {
	switch {
	case p > 0.995:
		return ">\u00a0" + s.Percent(0.99)
	case p < 0.005:
		return "<\u00a0" + s.Percent(0.01)
	}
	return s.Percent(p)
}

// Share writes a share in per cent, to a tenth unless that is 0.
func (s *Speaker) Share(v float64) string {
	tenths := math.Round(v * 1e3)
	return s.Number(tenths/10, min(1, int(math.Abs(math.Mod(tenths, 10))))) + "\u00a0%"
}

// AtMost writes a number to at most so many figures, without trailing zeros.
func (s *Speaker) AtMost(v float64, figures int) string {
	if v == 0 {
		return s.Number(0, 0)
	}
	power := int(math.Floor(portable.Log10(math.Abs(v))))
	decimals := max(0, figures-1-power)
	short := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(short, ".") {
		short = strings.TrimRight(short, "0")
		decimals = len(short) - strings.IndexByte(short, '.') - 1
	}
	return s.Number(v, decimals)
}

// Whole writes an estimate as a whole number.
func (s *Speaker) Whole(v float64) string { return s.Number(math.Round(v), 0) }

// Degrees writes a temperature to a tenth of a degree.
func (s *Speaker) Degrees(t float64) string { return s.Celsius(math.Round(t*10)/10, 0) }

// Three writes a quantity to three figures.
func (s *Speaker) Three(k quantity.Kind, v float64) string {
	if v == 0 {
		return s.Of(k, 0, 0)
	}
	return s.Of(k, v, 1.5*portable.Pow(10, math.Floor(portable.Log10(math.Abs(v)))-1))
}

// Typed writes a number as it was typed, but to at most two decimals.
func (s *Speaker) Typed(v float64) string {
	switch {
	case v == math.Trunc(v):
		return s.Number(v, 0)
	case math.Round(v*10)/10 == v:
		return s.Number(v, 1)
	}
	return s.Number(v, 2)
}
