// Package wording holds every sentence that a person reads, once, and says it in the reader's language with numbers in
// the reader's notation. Languages are message catalogues of golang.org/x/text: one file each, the English one complete.
package wording

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
	"golang.org/x/text/number"

	"ohmwright/core/quantity"
)

// An entry is one sentence: its key and its words, with the verbs of package fmt in them.
type entry struct{ key, words string }

// languages lists the catalogues: for each language the core's words and the page's. To add a language, add its file and
// a line here.
var languages = []catalogue{
	{language.English, slices.Concat(english, englishDrive, englishTrace, englishCircuit, englishTorque, englishCode, englishExercise), slices.Concat(englishPage, englishDrivePage, englishDriveHand, englishTraceHand, englishTorquePage, englishExercisePage)},
}

type catalogue struct {
	tag        language.Tag
	core, page []entry
}

// A book is a catalogue that takes in a sentence when it is first said: a page says few of them before its first answer.
type book struct {
	builder *catalog.Builder
	mu      sync.Mutex
	words   []map[string]string // for each language, what was not said yet
	known   map[string]bool
}

// newBook makes a book of the core's words, and of the page's if they are wanted.
func newBook(page func(catalogue) []entry) *book {
	b := &book{builder: catalog.NewBuilder(), known: map[string]bool{}}
	for i, l := range languages {
		b.words = append(b.words, make(map[string]string, len(l.core)))
		for _, e := range append(page(l), l.core...) {
			b.words[i][e.key] = e.words
			b.known[e.key] = true
		}
	}
	return b
}

// open takes a sentence in, in every language that has it.
func (b *book) open(key string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	for i, l := range languages {
		words, ok := b.words[i][key]
		if !ok {
			continue
		}
		// English stands for every language without a catalogue too: a lookup ends at the undetermined one.
		tags := []language.Tag{l.tag}
		if l.tag == language.English {
			tags = append(tags, language.Und)
		}
		for _, tag := range tags {
			if err := b.builder.SetString(tag, key, words); err != nil {
				panic("wording: " + key + ": " + err.Error()) // held by a test
			}
		}
		delete(b.words[i], key)
	}
}

// core is the catalogue of the core.
var core = sync.OnceValue(func() *book { return newBook(func(catalogue) []entry { return nil }) })

// Has says whether there are words for a key.
func Has(key string) bool { return core().known[key] }

// A Speaker words things for one reader. It may be used from several goroutines at once.
type Speaker struct {
	words *message.Printer
	mark  quantity.Mark
	book  *book
	said  sync.Map // what was said without arguments: a label is said again at every keystroke
}

// English is the speaker of the command line, the edge and every reader of whom nothing is known.
var English = sync.OnceValue(func() *Speaker { return For("en") })

// For is the speaker for a reader's locale, a BCP 47 tag such as de or fr-CA: in its language if that has a catalogue,
// else in English; and with its way of writing numbers, always in the digits 0 to 9. An unreadable tag is English.
func For(locale string) *Speaker { return newSpeaker(locale, locale, core()) }

// In is the speaker of a language, as [For], that writes numbers as another locale does: a page is in one language, and
// its reader's browser says how numbers are written.
func In(lang, locale string) *Speaker { return newSpeaker(lang, locale, core()) }

func newSpeaker(lang, locale string, b *book) *Speaker {
	s := &Speaker{book: b, words: message.NewPrinter(tagOf(lang), message.Catalog(b.builder))}
	if strings.Contains(message.NewPrinter(tagOf(locale)).Sprint(number.Decimal(0.5)), ",") {
		s.mark = quantity.Comma
	}
	return s
}

// tagOf reads a tag, and asks for the digits 0 to 9.
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

// Mark is the reader's decimal mark.
func (s *Speaker) Mark() quantity.Mark { return s.mark }

// Say words a key with its arguments. A key without words is a fault of the program, and said as such.
func (s *Speaker) Say(key string, args ...any) string {
	if !s.book.known[key] {
		panic("wording: no words for " + key)
	}
	if len(args) > 0 {
		s.book.open(key)
		return s.words.Sprintf(key, args...)
	}
	if text, ok := s.said.Load(key); ok {
		return text.(string)
	}
	s.book.open(key)
	text := s.words.Sprintf(key)
	s.said.Store(key, text)
	return text
}

// Number writes a number with so many decimals, in the digits 0 to 9, the decimal mark as the reader's locale has it: all that a
// locale changes of a number without grouping. Thousands are not set apart: a grouping mark can be taken for a decimal
// mark, and quantities here are given in units that need none.
func (s *Speaker) Number(v float64, decimals int) string {
	text := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if s.mark == quantity.Comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	if v < 0 && strings.ContainsAny(text, "123456789") {
		return "\u2212" + text
	}
	return text
}

// Exact writes a number in the fewest digits that say it.
func (s *Speaker) Exact(v float64) string {
	_, fraction, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	return s.Number(v, len(fraction))
}

// Figures writes a number with so many significant digits, at least its whole part.
func (s *Speaker) Figures(v float64, digits int) string {
	return s.Number(v, max(0, digits-1-magnitude(v)))
}

// magnitude is the power of ten of the first digit; 0 for 0.
func magnitude(v float64) int {
	v = math.Abs(v)
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	return max(-9, int(math.Floor(math.Log10(v))))
}

// Of writes a value of the contract's unit of a kind, in the unit that a person would use for it, to the digits that its
// standard uncertainty u leaves meaning; without one, as it was typed or to four figures.
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
	// One figure of the uncertainty is enough to judge by, two where it begins with a 1 or a 2.
	wide := 2 * u
	decimals := -magnitude(wide)
	if wide < 3*math.Pow(10, float64(magnitude(wide))) {
		decimals++
	}
	decimals = max(0, min(6, decimals))
	return s.Number(v, decimals) + " ± " + s.Number(wide, decimals) + unit
}

// Ohms, Volts, Amperes and Celsius are [Speaker.Of] for the quantities that are said most.
func (s *Speaker) Ohms(v, u float64) string    { return s.Of(quantity.OfResistance, v, u) }
func (s *Speaker) Volts(v, u float64) string   { return s.Of(quantity.OfVoltage, v, u) }
func (s *Speaker) Amperes(v, u float64) string { return s.Of(quantity.OfCurrent, v, u) }
func (s *Speaker) Celsius(v, u float64) string { return s.Of(quantity.OfTemperature, v, u) }

// personal moves a value to the unit that a person would use, given as the text behind the number.
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

// digits writes v to the place of the second figure of its uncertainty.
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

// Percent writes a share as per cent, whole.
func (s *Speaker) Percent(p float64) string { return s.Number(p*100, 0) + "\u00a0%" }

// Chance writes a probability as [Speaker.Percent] does, but never as certain.
func (s *Speaker) Chance(p float64) string {
	switch {
	case p > 0.995:
		return ">\u00a0" + s.Percent(0.99)
	case p < 0.005:
		return "<\u00a0" + s.Percent(0.01)
	}
	return s.Percent(p)
}
