// Package markbook is a teacher's table of a class: it finds what students handed in, in whatever was pasted, and marks each of it anew
// from the teacher's own sheet. What a link says of its marks is never asked.
package markbook

import (
	"strings"

	"ohmwright/core/link"
	tools "ohmwright/core/tools/worksheet"
)

// start is how the link of a sheet begins; name is the part of it that no program writes in another way.
const (
	start = "#/" + name + "?"
	name  = "worksheet"
)

// Longest is the most bytes of one link that are looked at.
const Longest = 64 << 10

// Links finds the links of sheets in a text: a chat, a mailbox, a page as text or as source. It takes off what mail and chat do to a link:
// lines wrapped and quoted, quoted-printable and base64 (RFC 2045, 6.7 and 6.8), entities of HTML and escapes of JSON, a link inside
// another one's parameter, brackets around it and punctuation after it. Each is returned as the tool writes it.
//
// What was handed in carries a sum, which says where it ends, and whether it was read as it was written: of several ways to read a text
// the one is taken that gives a link whose sum holds.
func Links(text string) (links []string) {
	found, _ := search(text)
	for _, f := range found {
		links = append(links, f.link)
	}
	return links
}

// A found is a link, and the number of pieces of others up to the next one: what has the keys of a hand-in, and nothing that can be opened.
type found struct {
	link string
	lost int
}

// search finds links; lost are the pieces before the first.
func search(text string) (list []found, lost int) {
	text = folded(unpacked(text))
	all := anchorsOf(text)
	if len(all) == 0 {
		return nil, pieces(text, "")
	}
	lost = pieces(text[:all[0].at], "")
	for len(all) > 0 {
		rest, taken := read(text, all)
		end := len(text)
		if taken < len(all) {
			end = all[taken].at
		}
		list = append(list, found{start + rest, pieces(text[all[0].end:end], rest)})
		all = all[taken:]
	}
	return list, lost
}

// folded returns a text with each break between lines as "\n", whatever mail put before and after it, and blank lines as one. A space after
// a soft break of quoted-printable is the text's own.
func folded(text string) string {
	if !strings.Contains(text, "\n") {
		return text
	}
	var b strings.Builder
	b.Grow(len(text))
	blank, soft := true, false
	for line := range strings.SplitSeq(text, "\n") {
		indented := strings.HasPrefix(line, " ") || strings.HasPrefix(line, "\t")
		line = strings.TrimLeft(strings.TrimRight(line, " \t\r"), "> \t|")
		if line != "" || !blank {
			if soft && indented {
				b.WriteByte(' ')
			}
			b.WriteString(line)
			b.WriteByte('\n')
		}
		blank, soft = line == "", strings.HasSuffix(line, "=")
	}
	return b.String()
}

// An anchor is where the link of a sheet begins.
type anchor struct {
	at, end int // of the tool's name
	layers  int // of %XX around it: none, or one for each address that it was put into
}

// anchorsOf finds where links begin.
func anchorsOf(text string) (list []anchor) {
	for at := 0; ; {
		from, end := find(text, at, name)
		if from < 0 {
			return list
		}
		at = end
		if !begins(text[:from]) {
			continue
		}
		if layers, ok := layersOf(text[end:]); ok {
			list = append(list, anchor{from, end, layers})
		}
	}
}

// find returns where a word stands, which may be broken over lines, at or after a place; -1 for nowhere.
func find(text string, from int, word string) (at, end int) {
	for {
		i := strings.IndexByte(text[from:], word[0])
		if i < 0 {
			return -1, -1
		}
		at = from + i
		if end, ok := matched(text, at, word); ok {
			return at, end
		}
		from = at + 1
	}
}

// matched reports whether a word stands at a place, and where it ends.
func matched(text string, at int, word string) (end int, ok bool) {
	for i := range len(word) {
		if i > 0 {
			at = pastBreak(text, at)
		}
		if at >= len(text) || text[at] != word[i] {
			return at, false
		}
		at++
	}
	return at, true
}

// pastBreak passes over a break between lines, hard or as quoted-printable has it.
func pastBreak(text string, at int) int {
	switch rest := text[at:]; {
	case strings.HasPrefix(rest, "=\n"):
		return at + 2
	case strings.HasPrefix(rest, "\n\n"):
		return at + 2
	case strings.HasPrefix(rest, "\n"):
		return at + 1
	}
	return at
}

// near is the most bytes that "#/" or "?" take, however often they were encoded.
const near = 60

var unbroken = strings.NewReplacer("=\n", "", "\n", "")

// begins reports whether a text ends with what stands before the tool's name in a link.
func begins(before string) bool {
	if strings.HasSuffix(before, "#/") {
		return true
	}
	s := unescaped(unbroken.Replace(before[max(0, len(before)-near):]))
	for range mostLayers {
		s = percentDecoded(s)
	}
	return strings.HasSuffix(s, "#/")
}

// mostLayers is the most addresses around a link.
const mostLayers = 3

// layersOf returns how often the rest of a link was put into another address, from the ? it begins with.
func layersOf(rest string) (layers int, ok bool) {
	s := unescaped(unbroken.Replace(rest[:min(len(rest), near)]))
	s = strings.TrimPrefix(s, "=3F")
	for ; layers <= mostLayers; layers++ {
		if strings.HasPrefix(s, "?") || strings.HasPrefix(rest, "=3F") {
			return layers, true
		}
		if s == "" || s[0] != '%' {
			return 0, false
		}
		s = percentDecoded(s)
	}
	return 0, false
}

// mostInside is the most places in one link where another one seems to begin: a title may hold one, written as %XX.
const mostInside = 3

// read reads the rest of the link at the first of some anchors; taken is how many anchors it takes.
func read(text string, all []anchor) (rest string, taken int) {
	a := all[0]
	for n := 1; n <= min(len(all), mostInside); n++ {
		region := regionOf(text, all, n)
		for _, r := range readings {
			if rest, ok := whole(r.of(region, a.layers)); ok {
				return rest, n
			}
		}
		if n < len(all) && all[n].layers <= a.layers {
			break
		}
	}
	return broken(regionOf(text, all, 1), a.layers), 1
}

// regionOf returns what may belong to the link at the first anchor, up to another one.
func regionOf(text string, all []anchor, n int) string {
	end := len(text)
	if n < len(all) {
		end = all[n].at
	}
	return text[all[0].end:min(end, all[0].end+Longest)]
}

// mostSums is the most sums that are tried in one reading: a link has one.
const mostSums = 4

// whole returns the link that a text begins with, without its start, if its sum holds: over the text, or over what it says, where a program
// wrote the same characters in another way.
func whole(s string) (rest string, ok bool) {
	s = s[:linkEnd(s, true)]
	at, tried := 0, 0
	for ; tried < mostSums; tried++ {
		i := strings.Index(s[at:], tools.SumKey)
		if i < 0 {
			return "", false
		}
		body := s[:at+i]
		at += i + len(tools.SumKey)
		if len(s) < at+sumDigits || !hex(s[at:at+sumDigits]) {
			continue
		}
		sum := s[at : at+sumDigits]
		if again := link.Rewritten(body); len(again) < Longest && tools.SumOf(start+again) == sum {
			return again + tools.SumKey + sum, true
		}
		if tools.SumOf(start+body) == sum {
			return body + tools.SumKey + sum, true
		}
	}
	return "", false
}

// sumDigits is the length of a sum.
const sumDigits = 8

// mostLines is the most lines of one link. Mail wraps at 70 characters or more, so it is far more than any has.
const mostLines = 400

// broken returns the link that a text begins with where no sum holds: it was changed, or cut, or never had one. A sum ends it, on whatever
// line. Without one it ends with its line, or with a line that was cut in its middle.
func broken(region string, layers int) string {
	if printed(region, layers) {
		region = region[:stop(region, false)]
		region = printable(strings.ReplaceAll(region, "=\n", ""))
	} else {
		region = hardened(region)
		region = region[:stop(region, false)]
	}
	lines := strings.SplitN(region, "\n", mostLines+1)
	lines = lines[:min(len(lines), mostLines)]
	joined := lines[0]
	for _, l := range lines[1:] {
		if entity := joined[max(0, strings.LastIndexByte(joined, '&')):] + l; !strings.HasPrefix(entity, "&amp;") &&
			(!strings.ContainsAny(l, "=&%") || strings.Contains(l, "://")) {
			break
		}
		joined += l
	}
	rest := written(decoded(joined, layers))
	body, sum, begun := strings.Cut(rest, tools.SumKey)
	switch cut := len(sum) < sumDigits; {
	case begun && cut && len(sum) >= sumDigits/2 && strings.HasPrefix(tools.SumOf(start+body), sum):
		return rest // as much of the right one is no accident: its end is cut off
	case begun && !cut && hex(sum[:sumDigits]):
		return body + tools.SumKey + sum[:sumDigits]
	}
	if all, ok := summed(lines, layers); ok {
		return written(all)
	}
	return rest
}

// summed returns the link that stands on some lines up to its sum, and whether it has one. The sum ends where its line does, or where a
// word does.
func summed(lines []string, layers int) (rest string, ok bool) {
	of := func(n int) (s string, end int) {
		s = decoded(strings.Join(lines[:n], ""), layers)
		s = s[:linkEnd(s, false)]
		i := strings.Index(s, tools.SumKey)
		if end = i + len(tools.SumKey) + sumDigits; i < 0 || end > len(s) || !hex(s[end-sumDigits:end]) {
			return s, -1
		}
		return s, end
	}
	least, most := 1, len(lines)
	for least < most { // the fewest lines that have all of it
		middle := (least + most) / 2
		if _, end := of(middle); end < 0 {
			least = middle + 1
		} else {
			most = middle
		}
	}
	s, end := of(least)
	if end < 0 || end < len(s) && alphanumeric(s[end]) {
		return "", false
	}
	return s[:end], true
}

// written returns the link that a text begins with as the tool writes it, without the punctuation behind it.
func written(s string) string {
	s = strings.TrimRight(s[:linkEnd(s, false)], ".:/-&")
	if again := link.Rewritten(s); len(again) <= Longest {
		return again
	}
	return s
}

// linkEnd returns where the characters end that may stand in a link as the tool writes it; loosely, also others than ASCII's, which some
// programs write in one.
func linkEnd(s string, loosely bool) int {
	for i := range len(s) {
		if !inLink(s[i]) && (!loosely || s[i] < 0x80) {
			return i
		}
	}
	return len(s)
}

// inLink reports whether a byte may stand in a link as the tool writes it.
func inLink(c byte) bool { return alphanumeric(c) || strings.IndexByte("-._~:/+%&=", c) >= 0 }

func alphanumeric(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
}

func hex(s string) bool {
	for i := range len(s) {
		if !(s[i] >= '0' && s[i] <= '9' || s[i] >= 'a' && s[i] <= 'f') {
			return false
		}
	}
	return true
}
