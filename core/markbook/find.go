// Package markbook is a teacher's table of a class: it finds what students handed in, in whatever was pasted, and marks each of it anew
// from the teacher's own sheet. What a link says of its marks is never asked.
package markbook

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"ohmwright/core/tools/worksheet"
)

// start is how the link of a sheet begins.
const start = "#/worksheet?"

// Longest is the most bytes of one link that are looked at.
const Longest = 64 << 10

// Links finds the links of sheets in a text: a chat, a mailbox, a page as text or as source. It takes off what mail and chat do to a link:
// lines wrapped and quoted, quoted-printable (RFC 2045, 6.7), entities of HTML, a link inside another one's parameter, brackets around
// it and punctuation after it. What was handed in carries a sum, so that its end is known where a line was wrapped.
func Links(text string) (links []string) {
	text = plainText(text)
	for {
		i := strings.Index(text, start)
		if i < 0 {
			return links
		}
		text = text[i+len(start):]
		next := len(text)
		if j := strings.Index(text, start); j >= 0 {
			next = j
		}
		link, used := follow(text[:min(next, Longest)])
		links, text = append(links, start+link), text[used:]
	}
}

// plainText undoes what stands for other characters wherever a link may begin: entities, JSON's escapes, a link encoded whole.
func plainText(text string) string {
	if strings.Contains(text, "&") {
		text = entities(text)
	}
	if strings.Contains(text, `\u00`) {
		text = strings.NewReplacer(`\u0026`, "&", `\u003d`, "=", `\u003D`, "=").Replace(text)
	}
	if strings.Contains(text, "%3") {
		text = uncoded(text)
	}
	return text
}

// uncoded undoes one layer of %XX around links that were put whole into another address.
func uncoded(text string) string {
	var b strings.Builder
	for {
		i := codedStart(text)
		if i < 0 {
			b.WriteString(text)
			return b.String()
		}
		end := i + 1 // the # may stand as it is
		for end < len(text) && text[end] != '&' && inLink(text[end]) {
			end++
		}
		b.WriteString(text[:i])
		b.WriteString(unescapedOnce(text[i:end]))
		text = text[end:]
	}
}

// codedStart returns where a link that was coded begins; -1 for none.
func codedStart(text string) int {
	for from := 0; ; {
		i := strings.Index(text[from:], "worksheet%3")
		if i < 0 {
			return -1
		}
		i += from
		from = i + len("worksheet%3")
		if from == len(text) || text[from] != 'F' && text[from] != 'f' {
			continue
		}
		for _, before := range []string{"%23%2F", "%23%2f", "%23/", "#%2F", "#%2f"} {
			if strings.HasSuffix(text[:i], before) {
				return i - len(before)
			}
		}
	}
}

// entities replaces the entities that may stand in a link.
func entities(text string) string {
	var b strings.Builder
	for {
		i := strings.IndexByte(text, '&')
		if i < 0 {
			b.WriteString(text)
			return b.String()
		}
		b.WriteString(text[:i])
		text = text[i:]
		end := strings.IndexByte(text[:min(len(text), 10)], ';')
		r, ok := rune(0), false
		if end > 0 {
			r, ok = entity(text[1:end])
		}
		if !ok {
			b.WriteByte('&')
			text = text[1:]
			continue
		}
		b.WriteRune(r)
		text = text[end+1:]
	}
}

// entity returns the character that an entity stands for.
func entity(name string) (rune, bool) {
	switch name {
	case "amp":
		return '&', true
	case "lt":
		return '<', true
	case "gt":
		return '>', true
	case "quot":
		return '"', true
	case "equals":
		return '=', true
	case "num":
		return '#', true
	case "sol":
		return '/', true
	case "quest":
		return '?', true
	}
	digits, base := name, 10
	switch {
	case strings.HasPrefix(name, "#x"), strings.HasPrefix(name, "#X"):
		digits, base = name[2:], 16
	case strings.HasPrefix(name, "#"):
		digits = name[1:]
	default:
		return 0, false
	}
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil || n < ' ' || n > '~' { // only what a link is written with
		return 0, false
	}
	return rune(n), true
}

// unescapedOnce undoes one layer of %XX.
func unescapedOnce(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '%' && i+2 < len(s) {
			if n, err := strconv.ParseUint(s[i+1:i+3], 16, 8); err == nil {
				b.WriteByte(byte(n))
				i += 2
				continue
			}
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// follow returns the link that a text goes on with, and how many bytes of the text it takes.
func follow(text string) (link string, used int) {
	quoted := strings.HasPrefix(text, "v=3D")
	lines := wrapped(text, quoted)
	// The sum ends it, on whatever line.
	whole := ""
	for i, l := range lines {
		if i > 0 && !l.goesOn {
			break
		}
		whole += l.text
		if at := strings.Index(whole, worksheet.SumKey); at >= 0 {
			end := at + len(worksheet.SumKey) + 8
			if len(whole) >= end && hex(whole[end-8:end]) {
				return whole[:end], l.end - (len(whole) - end)
			}
		}
	}
	// Without one, it ends with its line, or with a line that was cut in its middle.
	link, used = lines[0].text, lines[0].end
	for i := 1; i < len(lines) && lines[i].goesOn && lines[i-1].full && strings.ContainsAny(lines[i].text, "=&%"); i++ {
		link, used = link+lines[i].text, lines[i].end
	}
	return strings.TrimRight(link, ".:/-&"), used
}

// A line is one line's part of a link.
type line struct {
	text   string
	end    int  // of it in the text
	goesOn bool // nothing but a wrap stands between it and the line before
	full   bool // the link goes up to the end of the line
}

// mostLines is the most lines of one link. Mail wraps at 70 characters or more, so it is far more than any has.
const mostLines = 400

// wrapped cuts a text into the parts of a link that stand on its lines.
func wrapped(text string, quoted bool) (lines []line) {
	at, goesOn := 0, true
	for len(lines) < mostLines {
		from := at
		for at < len(text) && (inLink(text[at]) || quoted && text[at] == '=') {
			at++
		}
		l := line{text: text[from:at], end: at, goesOn: goesOn && at > from}
		soft := quoted && strings.HasSuffix(l.text, "=")
		if quoted {
			l.text = printable(strings.TrimSuffix(l.text, "="))
		}
		rest := strings.TrimLeft(text[at:], " \t\r")
		l.full = strings.HasPrefix(rest, "\n")
		lines = append(lines, l)
		if !l.full || at == from {
			return lines
		}
		// What a mail program puts before a line that it quotes is passed over.
		rest = rest[1:]
		next := strings.TrimLeft(rest, "> \t|")
		goesOn = soft || !strings.HasPrefix(rest, "\n") && next != ""
		at = len(text) - len(next)
	}
	return lines
}

// printable undoes quoted-printable.
func printable(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '=' && i+2 < len(s) {
			if n, err := strconv.ParseUint(s[i+1:i+3], 16, 8); err == nil {
				b.WriteByte(byte(n))
				i += 2
				continue
			}
		}
		b.WriteByte(s[i])
	}
	if !utf8.ValidString(b.String()) {
		return strings.ToValidUTF8(b.String(), "\ufffd")
	}
	return b.String()
}

// inLink reports whether a byte may stand in a link as the tool writes it.
func inLink(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.IndexByte("-._~:/+%&=", c) >= 0
}

func hex(s string) bool {
	for i := range len(s) {
		if !(s[i] >= '0' && s[i] <= '9' || s[i] >= 'a' && s[i] <= 'f') {
			return false
		}
	}
	return true
}
