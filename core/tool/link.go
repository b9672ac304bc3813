package tool

import (
	"strconv"
	"strings"
)

// Link returns the link of a request: the tool's name, the version, and pairs of keys and values. core/link reads it.
func Link(name string, pairs []Pair) string {
	var b strings.Builder
	b.WriteString("#/" + name + "?v=" + strconv.Itoa(Contract))
	for _, p := range pairs {
		b.WriteString("&" + Escape(p.Key) + "=" + Escape(p.Value))
	}
	return b.String()
}

// Escape writes a text so that it can be part of a link. Letters, digits and - . _ ~ : / stay, a space becomes +, and any
// other byte %XX. url.QueryEscape would write : and / as %XX too, and so other links.
func Escape(s string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', strings.IndexByte("-._~:/", c) >= 0:
			b.WriteByte(c)
		case c == ' ':
			b.WriteByte('+')
		default:
			b.WriteString(string([]byte{'%', hex[c>>4], hex[c&15]}))
		}
	}
	return b.String()
}
