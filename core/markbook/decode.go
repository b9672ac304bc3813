package markbook

import (
	"strconv"
	"strings"
)

// A reading is a way to read the lines that a link may stand on.
type reading struct {
	printed bool // as quoted-printable
	spaced  bool // with spaces and blank lines in it
}

// readings are the ways, likeliest first.
var readings = []reading{{}, {printed: true}, {spaced: true}, {printed: true, spaced: true}}

// of reads the lines after the tool's name, and returns what comes after the ? of the link; "" if nothing does.
func (r reading) of(region string, layers int) string {
	if !r.printed {
		region = hardened(region)
	}
	region = region[:stop(region, r.spaced)]
	if r.printed {
		if !strings.Contains(region, "=") {
			return ""
		}
		region = strings.ReplaceAll(region, "=\n", "")
	}
	if r.spaced {
		region = spaceless.Replace(region)
	}
	region = strings.ReplaceAll(region, "\n", "")
	if r.printed {
		region = printable(region)
	}
	return decoded(region, layers)
}

// hardened returns lines that are not quoted-printable without the space that is kept where they might be.
func hardened(region string) string { return strings.ReplaceAll(region, "\n ", "\n") }

// spaceless takes out what is not seen: spaces, and the signs that programs put where a line may be broken.
var spaceless = strings.NewReplacer(" ", "", "\t", "", "\u200b", "", "\u00ad", "", "\u2060", "", "\ufeff", "")

// stop returns where a text can no longer belong to a link, in whatever form.
func stop(s string, spaced bool) int {
	for i := range len(s) {
		switch c := s[i]; {
		case inLink(c) || c >= 0x80 || strings.IndexByte(`;\#?`, c) >= 0:
		case c == '\n' && (spaced || !strings.HasPrefix(s[i:], "\n\n")):
		case (c == ' ' || c == '\t') && spaced:
		default:
			return i
		}
	}
	return len(s)
}

// decoded undoes entities, escapes and layers of %XX, and returns what comes after the ? of a link.
func decoded(s string, layers int) string {
	s = unescaped(s)
	for range layers {
		end := 0
		for end < len(s) && s[end] != '&' && inLink(s[end]) {
			end++
		}
		s = percentDecoded(s[:end])
	}
	if layers > 0 {
		s = unescaped(s)
	}
	if !strings.HasPrefix(s, "?") {
		return ""
	}
	return s[1:]
}

// printed reports whether what follows the tool's name looks like quoted-printable.
func printed(region string, layers int) bool {
	_, rest, found := strings.Cut(unescaped(unbroken.Replace(region)), "=")
	return layers > 0 || found && strings.HasPrefix(rest, "3D")
}

// printable undoes quoted-printable in a text without breaks.
func printable(s string) string { return replaced(s, '=', hexPair) }

// percentDecoded undoes one layer of %XX.
func percentDecoded(s string) string { return replaced(s, '%', hexPair) }

// hexPair reads the two hex digits behind the sign that a text begins with.
func hexPair(s string) (is byte, taken int) {
	if len(s) < 3 {
		return 0, 0
	}
	n, err := strconv.ParseUint(s[1:3], 16, 8)
	if err != nil {
		return 0, 0
	}
	return byte(n), 3
}

// mostOften is how often a text is taken to have been put into HTML or JSON.
const mostOften = 3

// unescaped undoes the entities of HTML and the escapes of JSON.
func unescaped(s string) string {
	for range mostOften {
		before := s
		if strings.Contains(s, ";") {
			s = replaced(s, '&', entity)
		}
		s = replaced(s, '\\', jsonEscape)
		if s == before {
			break
		}
	}
	return s
}

// replaced replaces what begins with a sign by the character that it stands for, if it does: one returns it, and the bytes that it takes.
func replaced(s string, sign byte, one func(s string) (is byte, taken int)) string {
	at := strings.IndexByte(s, sign)
	if at < 0 {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	for ; at >= 0; at = strings.IndexByte(s, sign) {
		b.WriteString(s[:at])
		is, taken := one(s[at:])
		if taken == 0 {
			is, taken = sign, 1
		}
		b.WriteByte(is)
		s = s[at+taken:]
	}
	b.WriteString(s)
	return b.String()
}

// named are the entities that have a name, of what may stand in a link or behind it.
var named = map[string]byte{"amp": '&', "lt": '<', "gt": '>', "quot": '"', "equals": '=', "num": '#', "sol": '/', "quest": '?',
	"period": '.', "percnt": '%', "plus": '+', "colon": ':', "lowbar": '_'}

// entity reads the entity that a text begins with.
func entity(s string) (is byte, taken int) {
	end := strings.IndexByte(s[:min(len(s), 12)], ';')
	if end < 2 {
		return 0, 0
	}
	name := s[1:end]
	if is, ok := named[name]; ok {
		return is, end + 1
	}
	digits, base := name[1:], 10
	if name[0] != '#' {
		return 0, 0
	}
	if strings.HasPrefix(digits, "x") || strings.HasPrefix(digits, "X") {
		digits, base = digits[1:], 16
	}
	return printing(digits, base, end+1)
}

// jsonEscape reads the escape that a text begins with.
func jsonEscape(s string) (is byte, taken int) {
	switch {
	case strings.HasPrefix(s, `\/`):
		return '/', 2
	case strings.HasPrefix(s, `\u`) && len(s) >= 6:
		return printing(s[2:6], 16, 6)
	}
	return 0, 0
}

// printing returns a character of ASCII by its number, and the bytes that were taken; none for any other.
func printing(digits string, base, bytes int) (is byte, taken int) {
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil || n < ' ' || n > '~' {
		return 0, 0
	}
	return byte(n), bytes
}
