// Package jsontext reads and writes JSON (RFC 8259) without reflection: encoding/json is 17 kB of the page's module, what it needs of
// every struct's names and tags comes on top, and its first use costs a phone more than all the rest of its first answer.
package jsontext

import (
	"maps"
	"slices"
	"strings"
	"unicode/utf8"
)

// Append appends a text as a JSON string, with the escapes that JSON.stringify of JavaScript uses. What is no UTF-8 becomes U+FFFD. Source:
// RFC 8259, section 7. Checked against encoding/json.
func Append(b []byte, s string) []byte { return appendText(b, s, false) }

// AppendEscaped appends a text as [Append] does, but escapes also what could mean something in HTML (<, > and &) or to an old reader of
// JavaScript (U+2028 and U+2029): byte for byte what encoding/json writes. Responses have it so.
func AppendEscaped(b []byte, s string) []byte { return appendText(b, s, true) }

const hex = "0123456789abcdef"

func appendText(b []byte, s string, more bool) []byte {
	const short, long = "\b\f\n\r\t\"\\", `bfnrt"\`
	b = append(b, '"')
	if isPlain(s, more) {
		return append(append(b, s...), '"')
	}
	from := 0 // what is before it is written
	for i, r := range s {
		if r >= ' ' && r != '"' && r != '\\' && r != utf8.RuneError && !(more && isTricky(r)) {
			continue
		}
		_, size := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && size > 1 {
			continue // that is what the text says
		}
		b = append(b, s[from:i]...)
		from = i + size
		switch at := strings.IndexRune(short, r); {
		case r == utf8.RuneError && !more:
			b = utf8.AppendRune(b, r)
		case r < utf8.RuneSelf && at >= 0:
			b = append(b, '\\', long[at])
		default:
			b = append(b, '\\', 'u', hex[r>>12&15], hex[r>>8&15], hex[r>>4&15], hex[r&15])
		}
	}
	b = append(b, s[from:]...)
	return append(b, '"')
}

func isTricky(r rune) bool { return r == '<' || r == '>' || r == '&' || r == '\u2028' || r == '\u2029' }

// isPlain reports whether a text is ASCII and needs no escape: most are.
func isPlain(s string, more bool) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= utf8.RuneSelf || c == '"' || c == '\\' || more && isTricky(rune(c)) {
			return false
		}
	}
	return true
}

// AppendCompact appends a text that is JSON, without the white space between its tokens.
func AppendCompact(b []byte, text string) []byte {
	within := false // a string
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case within && c == '\\':
			b = append(b, c)
			i++
			c = text[i]
		case c == '"':
			within = !within
		case !within && isSpace(c):
			continue
		}
		b = append(b, c)
	}
	return b
}

// AppendMap appends texts by name as a JSON object, in the order of the names.
func AppendMap(b []byte, texts map[string]string) []byte {
	b = append(b, '{')
	for i, name := range slices.Sorted(maps.Keys(texts)) {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(Append(b, name), ':')
		b = Append(b, texts[name])
	}
	return append(b, '}')
}

// AppendList appends texts as a JSON array, each as [Append] does.
func AppendList(b []byte, texts []string) []byte { return appendTexts(b, texts, false) }

// AppendEscapedList appends texts as a JSON array, each as [AppendEscaped] does.
func AppendEscapedList(b []byte, texts []string) []byte { return appendTexts(b, texts, true) }

func appendTexts(b []byte, texts []string, more bool) []byte {
	b = append(b, '[')
	for i, text := range texts {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendText(b, text, more)
	}
	return append(b, ']')
}
