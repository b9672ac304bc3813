package markbook

import "strings"

// unpacked returns a mailbox with its parts that are in base64 (RFC 2045, 6.8) as what they hold, if that has to do with a sheet; pictures
// and the like are left out.
func unpacked(text string) string {
	const word, header = "base64", "ncoding:"
	var b strings.Builder
	for from := 0; ; {
		i := strings.Index(text[from:], word)
		if i < 0 {
			if b.Len() == 0 {
				return text
			}
			b.WriteString(text)
			return b.String()
		}
		i += from
		from = i + len(word)
		if !strings.HasSuffix(strings.TrimRight(text[max(0, i-near):i], " \t"), header) {
			continue
		}
		body, end := packed(text, from)
		if body == end {
			continue
		}
		b.WriteString(text[:body])
		if held := unbased(text[body:end]); strings.Contains(held, name) {
			b.WriteString(held)
		}
		b.WriteByte('\n')
		text, from = text[end:], 0
	}
}

// mostHeaders is the most lines that stand between a header and the part that it speaks of, mostLine the most bytes of one.
const mostHeaders, mostLine = 40, 1000

// packed returns where the part begins and ends that a header at a place speaks of: after a blank line, up to one that is no base64.
func packed(text string, at int) (body, end int) {
	for blank, lines := false, 0; !blank; lines++ {
		line := lineAt(text, at)
		if line == "" || lines == mostHeaders {
			return at, at
		}
		blank = lines > 0 && strings.TrimSpace(line) == ""
		at += len(line)
	}
	end = at
	for {
		line := lineAt(text, end)
		digits := strings.TrimRight(line, "= \t\r\n")
		if digits == "" || strings.ContainsFunc(digits, func(r rune) bool { return r >= 0x80 || digits64[r] < 0 }) {
			return at, end
		}
		end += len(line)
	}
}

// lineAt returns the line at a place with its end; "" if there is none, or none of a mail.
func lineAt(text string, at int) string {
	rest := text[at:min(len(text), at+mostLine)]
	if i := strings.IndexByte(rest, '\n'); i >= 0 {
		return rest[:i+1]
	}
	if at+len(rest) == len(text) {
		return rest
	}
	return ""
}

// digits64 has the value of each digit of base64, and -1 for what is none.
var digits64 = func() (values [0x80]int8) {
	for i := range values {
		values[i] = int8(strings.IndexByte("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/", byte(i)))
	}
	return values
}()

// unbased undoes base64.
func unbased(s string) string {
	var b strings.Builder
	b.Grow(len(s) * 3 / 4)
	bits, n := uint32(0), 0
	for i := range len(s) {
		if s[i] >= 0x80 || digits64[s[i]] < 0 { // between lines, or at the end
			continue
		}
		bits, n = bits<<6|uint32(digits64[s[i]]), n+6
		if n >= 8 {
			n -= 8
			b.WriteByte(byte(bits >> n))
		}
	}
	return b.String()
}
