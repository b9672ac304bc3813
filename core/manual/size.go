package manual

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// metric reads a metric size. If its last number is a torque, the size is the diameter alone: M6-10 N·m.
func (x *lexer) metric(rest string) (token, int) {
	m, ok := metric(rest)
	if !ok {
		return token{}, 0
	}
	if x.unitFollows(rest[:m.to], rest[m.to:]) {
		m, _ = metric(rest[:m.plain])
	}
	return token{kind: aSize, text: rest[:m.to], size: m.size}, m.to
}

type metricSize struct {
	size
	to    int // its length
	plain int // the length of the M and the diameter alone
}

// metric reads a metric size: M6, M 6 x 1.0, M8x1,25x30, M6-1.0. A second number too large for a pitch is the length of the bolt.
func metric(s string) (m metricSize, ok bool) {
	n := 1
	if s[0] == 'M' {
		n = len(s) - len(strings.TrimLeft(s[1:], " "))
	}
	d, w := plainNumber(s[n:])
	if w == 0 || !(d >= 1) || d > 100 {
		return m, false
	}
	m.plain = n + w
	m.diameter = quantity.Length(d)
	if t, err := fastener.ParseThread("M" + decimal(d)); err == nil {
		m.thread = &t
	}
	n = m.pitch(s, m.plain)
	if rest := strings.TrimLeft(s[n:], " -"); isFit(rest) {
		n = len(s) - len(rest) + 2
	}
	if letterFirst(s[n:]) && n == m.plain {
		return m, false
	}
	m.to = n
	return m, true
}

// pitch reads the pitch and the length of the bolt, from n, and returns where they end.
func (m *metricSize) pitch(s string, n int) int {
	for first := true; ; first = false {
		rest := strings.TrimLeft(s[n:], " ")
		c, w := utf8.DecodeRuneInString(rest)
		if c == '-' && (!first || len(rest) < len(s[n:])) || c == 0 || !strings.ContainsRune("xX×*-", c) {
			return n
		}
		rest = rest[w:]
		if c != '-' {
			rest = strings.TrimLeft(rest, " ")
		}
		p, v := plainNumber(rest)
		if v == 0 {
			return n
		}
		if first {
			t, err := fastener.ParseThread("M" + decimal(float64(m.diameter)) + "x" + decimal(p))
			switch {
			case err == nil:
				m.thread = &t
			case c == '-':
				return n // M6-10: no pitch
			case p < float64(m.diameter)/2 && p < 4:
				m.thread = nil // a pitch, but none that is known
			}
		}
		n = len(s) - len(rest) + v
	}
}

// isFit reports whether a text begins with a tolerance class: 6g, 6H.
func isFit(s string) bool {
	return len(s) > 1 && s[0] >= '4' && s[0] <= '8' && strings.IndexByte("gGhHeE", s[1]) >= 0 && (len(s) == 2 || !letterFirst(s[2:]))
}

// threadSeries are the series of threads in inches, and of pipe threads. A name comes before any shorter one that it begins with.
var threadSeries = []string{"UNEF", "UNC", "UNF", "UNS", "UNJF", "UNR", "UN", "NPTF", "NPT", "BSPP", "BSPT", "BSP", "BSF", "BSW"}

// seriesEnd reads the name of a series at n, and returns where it ends, or n.
func seriesEnd(s string, n int) int {
	rest := strings.TrimLeft(s[n:], " -")
	for _, name := range threadSeries {
		if len(rest) >= len(name) && strings.EqualFold(rest[:len(name)], name) {
			return len(s) - len(rest) + len(name)
		}
	}
	return n
}

// inch reads a size in inches: 1/4-20, 1 1/4-7 UNC, #10-32, 10-32 UNF, 1/8 NPT.
func inch(s string) (token, int) {
	n := 0
	if strings.HasPrefix(s, "#") {
		n = 1
	}
	end := inchDiameter(s, n)
	if end == n {
		end = numberedSize(s, n)
	} else {
		end = seriesEnd(s, inchPitch(s, inchSign(s, end)))
	}
	if end == 0 {
		return token{}, 0
	}
	return token{kind: aSize, text: s[:end]}, end
}

// inchDiameter reads a fraction, with a whole number of one digit before it or without, and returns where it ends; n if there is none.
func inchDiameter(s string, n int) int {
	if _, w := integer(s[n:]); w > 0 && n+w < len(s) && (s[n+w] == ' ' || s[n+w] == '-') {
		if _, _, m := fraction(s[n+w+1:]); m > 0 && w == 1 {
			return n + w + 1 + m
		}
	}
	_, _, m := fraction(s[n:])
	return n + m
}

// numberedSize reads the number of a size and its pitch, and returns where they end, 0 if there are none. Without "#" before it, it has to
// have a series after it.
func numberedSize(s string, n int) int {
	_, w := integer(s[n:])
	if w == 0 || w > 2 || n+w >= len(s) || s[n+w] != '-' {
		return 0
	}
	m := n + w + 1
	if _, v := integer(s[m:]); v != 2 || m+2 < len(s) && (s[m+2] == '.' || s[m+2] == ',') {
		return 0
	}
	end := seriesEnd(s, m+2)
	if n == 0 && end == m+2 {
		return 0
	}
	return end
}

// inchSign reads a sign or a word for inches, and returns where it ends, or n. "in lb" is a unit.
func inchSign(s string, n int) int {
	for _, sign := range []string{"\"", "″", "”", " in.", " in ", "in "} {
		if strings.HasPrefix(s[n:], sign) && !strings.HasPrefix(strings.TrimLeft(s[n:], " "), "in lb") {
			return n + len(strings.TrimRight(sign, " "))
		}
	}
	return n
}

// inchPitch reads a pitch of one or two digits, and returns where it ends, or n.
func inchPitch(s string, n int) int {
	for _, sign := range []string{"-", "–", " - ", " x ", "x"} {
		rest, ok := strings.CutPrefix(s[n:], sign)
		if !ok {
			continue
		}
		_, w := integer(rest)
		if w != 1 && w != 2 || w < len(rest) && strings.IndexByte(" \t,:)-", rest[w]) < 0 && !unicode.IsLetter(rune(rest[w])) {
			return n
		}
		return n + len(sign) + w
	}
	return n
}
