package wording

import (
	"errors"
	"fmt"
	"strings"
	"sync/atomic"

	"ohmwright/core/quantity"
)

// Phrases are the words of one language as a book has compiled them for a page: a text with a line for each sentence, its key, a tab and
// its words, in the order of the keys. A sentence is searched for when it is said, so that nothing is read before the first answer.
// Several goroutines may use them at once.
type Phrases struct {
	lines string
	known [knownPhrases]atomic.Pointer[phrase] // what was searched for last, by a hash of the key: sentences are said at every keystroke
}

// knownPhrases is a power of two, some times the number of sentences that the answers of a tool have.
const knownPhrases = 1 << 10

// A phrase is what the search for a key led to.
type phrase struct {
	key, words string
	ok         bool
}

// ErrPhrases is returned for a text that is not what [Book.Compiled] writes.
var ErrPhrases = errors.New("wording: these are no compiled words")

// ReadPhrases returns the phrases of a compiled text.
func ReadPhrases(text string) (*Phrases, error) {
	first, _, isLine := strings.Cut(text, "\n")
	if !isLine || !strings.Contains(first, "\t") || text[len(text)-1] != '\n' {
		return nil, fmt.Errorf("%w: %d bytes", ErrPhrases, len(text))
	}
	return &Phrases{lines: text}, nil
}

// Speaker returns a speaker of these words. locale decides how numbers are written: see [Book.Speaker].
func (p *Phrases) Speaker(locale string) *Speaker { return &Speaker{words: p, mark: markIn(locale)} }

// find returns the words of a key.
func (p *Phrases) find(key string) (words string, ok bool) {
	hash := uint32(0)
	for i := range len(key) {
		hash = hash*31 + uint32(key[i])
	}
	known := &p.known[hash%knownPhrases]
	if f := known.Load(); f != nil && f.key == key {
		return f.words, f.ok
	}
	words, ok = p.search(key)
	known.Store(&phrase{key, words, ok})
	return words, ok
}

func (p *Phrases) search(key string) (words string, ok bool) {
	low, high := 0, len(p.lines) // where lines begin
	for low < high {
		start := low + strings.LastIndexByte(p.lines[low:(low+high)/2], '\n') + 1
		line := p.lines[start : start+strings.IndexByte(p.lines[start:], '\n')]
		tab := strings.IndexByte(line, '\t')
		switch name := line[:tab]; {
		case name == key:
			return line[tab+1:], true
		case name < key:
			low = start + len(line) + 1
		default:
			high = start
		}
	}
	return "", false
}

func (p *Phrases) has(key string) bool {
	_, ok := p.find(key)
	return ok
}

func (p *Phrases) say(key string, args []any) (string, bool) {
	words, ok := p.find(key)
	if !ok {
		return "", false
	}
	return filled(words, args), true
}

// formsKey is the key of the forms of counts: see compiledForms.
const formsKey = "#"

func (p *Phrases) form(count int) string {
	forms, ok := p.find(formsKey)
	if !ok || len(forms) < formsUpTo {
		return ""
	}
	names := strings.Split(forms[formsUpTo:], " ")
	return names[min(int(forms[small(count)]-'0'), len(names)-1)]
}

// filled puts arguments into a sentence. Its verbs are those of package fmt that the words use: %s, %[2]s and %%.
func filled(words string, args []any) string {
	at := strings.IndexByte(words, '%')
	if at < 0 {
		return words
	}
	var b strings.Builder
	next := 0 // index of the next argument
	for ; at >= 0; at = strings.IndexByte(words, '%') {
		b.WriteString(words[:at])
		v, rest := verbOf(words[at:])
		if words = rest; v.isSign {
			b.WriteByte('%')
			continue
		}
		missing := "%!s(MISSING)" // as package fmt says it; a test finds it
		if v.number > 0 {
			next, missing = v.number-1, "%!s(BADINDEX)"
		}
		if next < len(args) {
			missing = textOf(args[next])
		}
		b.WriteString(missing)
		next++
	}
	b.WriteString(words)
	return b.String()
}

// A verb is what stands for an argument in a sentence: number counts from 1; 0 is the one after the last. isSign: it is a sign of its own.
type verb struct {
	number int
	isSign bool
}

// verbOf reads the verb at the beginning of words, and returns what follows it. [Book.Compiled] refuses words with any other verb.
func verbOf(words string) (v verb, rest string) {
	switch {
	case strings.HasPrefix(words, "%%"):
		return verb{isSign: true}, words[2:]
	case strings.HasPrefix(words, "%s"):
		return verb{}, words[2:]
	case len(words) >= 5 && words[1] == '[' && words[3:5] == "]s":
		return verb{number: int(words[2] - '0')}, words[5:]
	}
	panic("wording: no verb: " + words)
}

// textOf returns an argument as text.
func textOf(arg any) string {
	switch a := arg.(type) {
	case string:
		return a
	case fmt.Stringer:
		return a.String()
	case error:
		return a.Error()
	}
	panic("wording: an argument is no text")
}

//go:generate go test -run TestMarksAreCurrent -args -write

// markIn returns the decimal mark of a locale.
func markIn(locale string) quantity.Mark { return markAmong(marks, locale) }

func markAmong(marks, locale string) quantity.Mark {
	for _, tag := range shorter(locale) {
		switch {
		case strings.Contains(marks, " "+tag+" "):
			return quantity.Comma
		case strings.Contains(marks, " -"+tag+" "):
			return quantity.Point
		}
	}
	return quantity.Point
}

// shorter returns a locale's tag as far as it says how numbers are written, and the shorter ones that it may take that from:
// sr-latn-me, sr-latn, sr-me, sr.
func shorter(locale string) []string {
	parts := strings.Split(strings.ReplaceAll(strings.ToLower(locale), "_", "-"), "-")
	language, script, region := parts[0], "", ""
	for _, part := range parts[1:] {
		if len(part) == 1 {
			break // extensions
		}
		switch {
		case len(part) == 4 && part[0] >= 'a' && script == "" && region == "":
			script = "-" + part
		case (len(part) == 2 || len(part) == 3 && part[0] <= '9') && region == "":
			region = "-" + part
		}
	}
	own := []string{language + script + region, language + script}
	if script != "" && script != "-latn" {
		return own // another script is as another language, unless it stands in the list
	}
	return append(own, language+region, language)
}
