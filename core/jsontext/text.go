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
func Append(b []byte, s string) []byte {
	const short, long = "\b\f\n\r\t\"\\", `bfnrt"\`
	b = append(b, '"')
	if isPlain(s) {
		return append(append(b, s...), '"')
	}
	from := 0 // what is before it is written
	for i, r := range s {
		if r >= ' ' && r != '"' && r != '\\' && r != utf8.RuneError {
			continue
		}
		b = append(b, s[from:i]...)
		_, size := utf8.DecodeRuneInString(s[i:])
		from = i + size
		switch at := strings.IndexRune(short, r); {
		case r == utf8.RuneError:
			b = utf8.AppendRune(b, r)
		case at >= 0:
			b = append(b, '\\', long[at])
		default:
			const hex = "0123456789abcdef"
			b = append(b, '\\', 'u', '0', '0', hex[r>>4], hex[r&15])
		}
	}
	b = append(b, s[from:]...)
	return append(b, '"')
}

// isPlain reports whether a text is ASCII and needs no escape: most are.
func isPlain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= utf8.RuneSelf || c == '"' || c == '\\' {
			return false
		}
	}
	return true
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

// AppendList appends texts as a JSON array.
func AppendList(b []byte, texts []string) []byte {
	b = append(b, '[')
	for i, text := range texts {
		if i > 0 {
			b = append(b, ',')
		}
		b = Append(b, text)
	}
	return append(b, ']')
}
