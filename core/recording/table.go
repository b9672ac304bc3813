package recording

import "strings"

const (
	maxColumns = 64
	looked     = 512  // lines that decide the separator and the columns
	maxHeader  = 1000 // lines beside the samples
)

type line struct {
	no   int // from 1, blank lines counted
	text string
}

// A table is a text as lines of cells.
type table struct {
	lines     []line // without blank ones
	separator byte
	cells     []string // reused by split
}

// linesOf cuts a text into lines that are not blank, at most a little more than may be read.
func linesOf(text string) (list []line) {
	list = make([]line, 0, min(MaxSamples, strings.Count(text, "\n")+1))
	for no := 1; text != "" && len(list) <= MaxSamples+maxHeader; no++ {
		end := 0
		for end < len(text) && text[end] != '\n' && text[end] != '\r' {
			end++
		}
		l := text[:end]
		if end+1 < len(text) && text[end] == '\r' && text[end+1] == '\n' {
			end++
		}
		text = text[min(end+1, len(text)):]
		if !blank(l) {
			list = append(list, line{no, l})
		}
	}
	return list
}

// blank reports whether a line has nothing but separators and white space.
func blank(l string) bool {
	for k := 0; k < len(l); k++ {
		if l[k] > ' ' && l[k] != ';' && l[k] != ',' && l[k] != '"' {
			return strings.Trim(l[k:], " \t;,\"\u00a0") == ""
		}
	}
	return true
}

// some calls a function for up to about 512 lines, evenly spread, and returns for how many.
func some(lines []line, do func(line)) (n int) {
	stride := 1 + (len(lines)-1)/looked
	for k := 0; k < len(lines); k += stride {
		do(lines[k])
		n++
	}
	return n
}

// separatorOf returns the first of tab, semicolon and comma that at least half of the lines have, else a space.
func separatorOf(lines []line) byte {
	for _, s := range []byte{'\t', ';', ','} {
		with := 0
		n := some(lines, func(l line) {
			if strings.IndexByte(strings.TrimSpace(l.text), s) >= 0 {
				with++
			}
		})
		if 2*with >= n {
			return s
		}
	}
	return ' '
}

// row returns the cells of a line; they are overwritten by the next call.
func (t *table) row(k int) []string { return t.split(t.lines[k].text) }

// split cuts a line into cells, without the white space and quotes around them; the next call overwrites them.
func (t *table) split(text string) []string {
	t.cells = t.cells[:0]
	if t.separator == ' ' {
		text = strings.TrimSpace(text)
	}
	for more := true; more && len(t.cells) < maxColumns; {
		if t.separator != '\t' {
			text = strings.TrimLeft(text, " ")
		}
		var cell string
		cell, text, more = cutCell(text, t.separator)
		t.cells = append(t.cells, strings.TrimSpace(cell))
	}
	return t.cells
}

// cutCell cuts off the first cell. A cell in quotes may contain the separator.
func cutCell(text string, separator byte) (cell, rest string, more bool) {
	from := 0 // where to look for the separator
	if text != "" && text[0] == '"' {
		from = 1 + strings.IndexByte(text[1:], '"') // 0: no second quote
	}
	end := strings.IndexByte(text[from:], separator)
	if more = end >= 0; more {
		cell, rest = text[:from+end], text[from+end+1:]
	} else {
		cell = text
	}
	if from > 0 {
		cell = text[1:from]
	}
	return cell, rest, more
}

// at returns a cell, or an empty one if the line is too short.
func at(cells []string, k int) string {
	if k < len(cells) {
		return cells[k]
	}
	return ""
}
