package manual

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A cell is a part of a line.
type cell struct {
	text     string
	from, to int // where it is: in characters if blanks separate the cells, else its index and the next
}

// A split is a line cut into cells.
type split struct {
	cells []cell
	by    rune // the separator; a blank stands for two or more
}

// mostCells is the largest number of cells of a line; the last one has the rest.
const mostCells = 64

// splits returns the ways in which a line can be cut: one, and if there is no other separator and some comma has no blank after it, a
// second one by commas. Only the header above decides between them. A line without letters and digits has none.
func splits(line string) []split {
	text := strings.TrimSpace(line)
	if strings.IndexFunc(text, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }) < 0 {
		return nil
	}
	first := cut(strings.TrimRight(line, " "))
	if first.by == ' ' && len(first.cells) == 1 && strings.Count(text, ",") > strings.Count(text, ", ") {
		return []split{first, {separated(text, ','), ','}}
	}
	return []split{first}
}

// cut cuts a line by the first separator that it has: tab, bar, semicolon, else two blanks.
func cut(line string) split {
	for _, by := range "\t|;" {
		if strings.ContainsRune(line, by) {
			return split{separated(line, by), by}
		}
	}
	s := split{by: ' '}
	for at := 0; at < len(line); {
		rest := line[at:]
		lead := len(rest) - len(strings.TrimLeft(rest, " "))
		rest = rest[lead:]
		end := strings.Index(rest, "  ")
		if end < 0 || len(s.cells)+1 == mostCells {
			end = len(rest)
		}
		if end > 0 {
			from := utf8.RuneCountInString(line[:at+lead])
			s.cells = append(s.cells, cell{rest[:end], from, from + utf8.RuneCountInString(rest[:end])})
		}
		at += lead + end
	}
	return s
}

// separated cuts a line by a separator, without quotation marks around cells. Bars around the whole line make no cells.
func separated(line string, by rune) (list []cell) {
	if inner, ok := strings.CutPrefix(strings.TrimSpace(line), "|"); by == '|' && ok && strings.HasSuffix(inner, "|") {
		line = strings.TrimSuffix(inner, "|")
	}
	for k, c := range strings.SplitN(line, string(by), mostCells) {
		c = strings.TrimSpace(c)
		if len(c) > 1 && c[0] == '"' && c[len(c)-1] == '"' {
			c = c[1 : len(c)-1]
		}
		list = append(list, cell{c, k, k + 1})
	}
	return list
}
