package recording

import "strings"

// Names of columns, in lower case.
var (
	timeNames    = []string{"time", "t", "zeit", "temps", "tiempo", "tempo", "elapsed", "timestamp", "x", "x-axis"}
	currentNames = []string{"current", "i", "strom", "courant", "corriente", "corrente", "amps", "clamp"}
	indexNames   = []string{"index", "no", "no.", "nr", "nr.", "#", "n", "sample", "point", "id"}
)

// A head is the header of one column.
type head struct {
	text    string // as written
	name    string // its first word, in lower case
	given   string // the unit as written
	unit    unit
	known   bool // there is a unit, and it is known
	unknown bool // there must be a unit, but it is none that is known
}

// headOf reads "Time (ms)", "I [mA]", "t/ms", "current_A", "Volts" or "(A)".
func headOf(cell string) head {
	h := head{text: cell}
	c := strings.TrimSpace(cell)
	if f := strings.FieldsFunc(c, func(r rune) bool { return strings.ContainsRune(" ()[]/_,:;\t", r) }); len(f) > 0 {
		h.name = strings.ToLower(f[0])
		if len(f) == 1 && !strings.ContainsAny(c, "([") {
			h.given = f[0]
		}
	}
	if from := strings.LastIndexAny(c, "(["); from >= 0 {
		inside := strings.TrimRight(strings.TrimSpace(c[from+1:]), ")] ")
		h.unit, h.known = unitCalled(inside)
		h.given = inside
		h.unknown = !h.known && inside != "" && len([]rune(inside)) <= 3 && !strings.ContainsAny(inside, "0123456789")
		return h
	}
	if from := strings.LastIndexAny(c, "/_"); from >= 0 {
		h.given = c[from+1:]
	} else if from := strings.LastIndexAny(c, " ,"); from >= 0 && len(c)-from > 2 { // "Time ms" names a unit, "Channel A" does not
		h.given = c[from+1:]
	}
	h.unit, h.known = unitCalled(h.given)
	return h
}

// A header is the line above the numbers, and what it says of each column.
type header struct {
	line      int // from 1; 0: there is none
	headCells int // cells of that line
	heads     []head
}

// findHeader reads the line above the numbers, or two: names and, below them, units.
func (p *reader) findHeader() {
	p.heads = make([]head, p.wide)
	above := p.first - 1
	if above < 0 || len(p.row(above)) < 2 {
		return
	}
	var units []head
	if above > 0 && onlyUnits(p.row(above), p.numeric) && len(p.row(above-1)) > 1 {
		units, _ = p.headsIn(above)
		above--
	}
	p.header.line = p.lines[above].no
	p.heads, p.headCells = p.headsIn(above)
	for k, u := range units {
		if u.known {
			u.name, u.text = p.heads[k].name, p.heads[k].text
			p.heads[k] = u
		}
	}
}

// headsIn reads the cells of a line as headers, and counts the cells.
func (p *reader) headsIn(k int) (list []head, cells int) {
	row := p.row(k)
	list = make([]head, p.wide)
	for c := range min(p.wide, len(row)) {
		list[c] = headOf(strings.Clone(row[c])) // the recording must not keep the whole text alive
	}
	return list, len(row)
}

// onlyUnits reports whether the cells of some columns are units, at least one of them; the others may be empty.
func onlyUnits(cells []string, columns []int) bool {
	some := false
	for _, k := range columns {
		if c := strings.Trim(at(cells, k), "()[] "); c != "" {
			if _, some = unitCalled(c); !some {
				return false
			}
		}
	}
	return some
}
