package jsontext

import (
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// A Kind says what a token is.
type Kind uint8

// The kinds.
const (
	Ended       Kind = iota // the text ends here, be it behind a value or within an object or array
	Cut                     // it ends within a string, number or word
	Wrong                   // what follows is not JSON: see [Reader.Offset]
	String                  // Text is what the string says, its escapes read
	Number                  // Text as written
	Word                    // true, false or null
	BeginObject             // names and values follow by turns
	BeginArray              // values follow
	End                     // of the innermost object or array
)

// A Token is a piece of a text.
type Token struct {
	Kind Kind
	Text string
}

// A Reader reads a text as JSON, strictly, token by token (RFC 8259). Commas and colons are passed over; a name of an object is a String.
// Behind a value another one may follow: whoever wants only one looks for Ended. What is no UTF-8 in a string is read as U+FFFD, and so is
// half of a surrogate pair. Behind a token that is Ended, Cut or Wrong there is nothing more to read. It accepts what encoding/json does,
// and finds a fault at the same place; FuzzReader holds it to that.
type Reader struct {
	text string
	at   int
	open []byte // the brackets that are not closed, [ or {
	next place
}

// A place is where in the grammar a reader is: what may come next.
type place uint8

const (
	aValue     place = iota
	firstValue       // or the end of the array
	aName
	firstName // or the end of the object
	aColon
	aComma // or the end of the object or array
)

// NewReader returns a reader of a text.
func NewReader(text string) *Reader { return &Reader{text: text} }

// Offset returns how many bytes are read: behind the last token, or where one begins that is Wrong.
func (r *Reader) Offset() int { return r.at }

// Next returns the next token.
func (r *Reader) Next() Token {
	for {
		for r.at < len(r.text) && isSpace(r.text[r.at]) {
			r.at++
		}
		if r.at == len(r.text) {
			return Token{Kind: Ended}
		}
		c, next := r.text[r.at], r.next
		switch {
		case c == ',' && next == aComma:
			r.next = aValue
			if r.innermost() == '{' {
				r.next = aName
			}
		case c == ':' && next == aColon:
			r.next = aValue
		case c == ']' && (next == firstValue || next == aComma && r.innermost() == '['),
			c == '}' && (next == firstName || next == aComma && r.innermost() == '{'):
			r.open = r.open[:len(r.open)-1]
			r.at++
			return r.past(Token{Kind: End})
		case next == aValue || next == firstValue:
			return r.value(c)
		case c == '"' && (next == aName || next == firstName):
			t := r.string()
			r.next = aColon
			return t
		default:
			return Token{Kind: Wrong}
		}
		r.at++
	}
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// innermost returns the bracket that is open, 0 if none is.
func (r *Reader) innermost() byte {
	if len(r.open) == 0 {
		return 0
	}
	return r.open[len(r.open)-1]
}

// past returns a token, and notes that a value ends with it.
func (r *Reader) past(t Token) Token {
	r.next = aComma
	if len(r.open) == 0 {
		r.next = aValue
	}
	return t
}

// value reads what begins a value, or is one.
func (r *Reader) value(c byte) Token {
	switch c {
	case '{':
		r.open, r.next = append(r.open, c), firstName
		r.at++
		return Token{Kind: BeginObject}
	case '[':
		r.open, r.next = append(r.open, c), firstValue
		r.at++
		return Token{Kind: BeginArray}
	case '"':
		return r.past(r.string())
	case 't':
		return r.past(r.word("true"))
	case 'f':
		return r.past(r.word("false"))
	case 'n':
		return r.past(r.word("null"))
	}
	return r.past(r.number())
}

// took returns a token that has n bytes of the text.
func (r *Reader) took(kind Kind, n int) Token {
	t := Token{kind, r.text[r.at : r.at+n]}
	r.at += n
	return t
}

// broken returns the token for a piece that goes wrong after n bytes: it is cut off if the text ends there.
func (r *Reader) broken(n int) Token {
	if r.at+n == len(r.text) {
		return Token{Kind: Cut}
	}
	return Token{Kind: Wrong}
}

func (r *Reader) word(word string) Token {
	rest := r.text[r.at:]
	for i := range len(word) {
		if i == len(rest) || rest[i] != word[i] {
			return r.broken(i)
		}
	}
	return r.took(Word, len(word))
}

// number reads a number: a sign, digits of which the first is 0 only if it is alone, a fraction, an exponent.
func (r *Reader) number() Token {
	n := 0
	if r.ahead(n) == '-' {
		n++
	}
	whole := n
	if n = r.digits(n); n == whole {
		return r.broken(n)
	}
	if r.ahead(whole) == '0' {
		n = whole + 1
	}
	if r.ahead(n) == '.' {
		from := n + 1
		if n = r.digits(from); n == from {
			return r.broken(n)
		}
	}
	if c := r.ahead(n); c == 'e' || c == 'E' {
		n++
		if c = r.ahead(n); c == '+' || c == '-' {
			n++
		}
		from := n
		if n = r.digits(from); n == from {
			return r.broken(n)
		}
	}
	return r.took(Number, n)
}

// ahead returns the byte n bytes on, 0 behind the end: that is in no number.
func (r *Reader) ahead(n int) byte {
	if r.at+n < len(r.text) {
		return r.text[r.at+n]
	}
	return 0
}

// digits returns where the digits end that begin n bytes on.
func (r *Reader) digits(n int) int {
	for c := r.ahead(n); c >= '0' && c <= '9'; c = r.ahead(n) {
		n++
	}
	return n
}

// string reads a string that begins here. One without escapes, as most are, is a piece of the text itself.
func (r *Reader) string() Token {
	rest := r.text[r.at:]
	plain := true
	for n := 1; n < len(rest); n++ {
		switch c := rest[n]; {
		case c == '"':
			said := r.took(String, n+1)
			said.Text = said.Text[1:n]
			if !plain || !utf8.ValidString(said.Text) {
				said.Text = unescaped(said.Text)
			}
			return said
		case c < ' ':
			return Token{Kind: Wrong}
		case c == '\\':
			plain = false
			n++
			if n == len(rest) {
				return Token{Kind: Cut}
			}
			if rest[n] == 'u' {
				for range 4 {
					n++
					if n == len(rest) || hexOf(rest[n]) < 0 {
						return r.broken(n)
					}
				}
			} else if strings.IndexByte(escapes, rest[n]) < 0 {
				return Token{Kind: Wrong}
			}
		}
	}
	return Token{Kind: Cut}
}

// The escapes of a character, and what they stand for.
const (
	escapes = `"\/bfnrt`
	escaped = "\"\\/\b\f\n\r\t"
)

// unescaped returns what stands between the quotation marks of a well-formed string.
func unescaped(s string) string {
	b := make([]byte, 0, len(s))
	for s != "" {
		if s[0] != '\\' {
			c, size := utf8.DecodeRuneInString(s)
			b, s = utf8.AppendRune(b, c), s[size:]
			continue
		}
		if s[1] != 'u' {
			b, s = append(b, escaped[strings.IndexByte(escapes, s[1])]), s[2:]
			continue
		}
		c := unit(s)
		s = s[6:]
		if utf16.IsSurrogate(c) {
			c = utf16.DecodeRune(c, unit(s)) // U+FFFD if that is no pair
			if c != utf8.RuneError {
				s = s[6:]
			}
		}
		b = utf8.AppendRune(b, c)
	}
	return string(b)
}

// unit returns the 16 bits that an escape \uXXXX at the beginning of a text stands for, -1 if there is none.
func unit(s string) rune {
	if len(s) < 6 || s[0] != '\\' || s[1] != 'u' {
		return -1
	}
	c := rune(0)
	for i := range 4 {
		c = c<<4 | rune(hexOf(s[2+i]))
	}
	return c
}

// hexOf returns the value of a hexadecimal digit, -1 if it is none.
func hexOf(c byte) int {
	switch {
	case c >= '0' && c <= '9':
		return int(c - '0')
	case c >= 'a' && c <= 'f':
		return int(c-'a') + 10
	case c >= 'A' && c <= 'F':
		return int(c-'A') + 10
	}
	return -1
}
