package trace

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/quantity"
)

const (
	maxColumns = 64
	looked     = 512  // lines that decide about separator and columns
	largest    = 1e12 // of a time or a current
	leastStep  = 1e-12
	nothing    = 1e-9 // A, no current
	maxHeader  = 1000 // lines beside the samples
)

type line struct {
	no   int
	text string
}

// A unit is what a header may name: the value in s, A or V is that of the cell, times mul, by div.
type unit struct {
	kind     byte // 't', 'i' or 'v'
	mul, div float64
}

var units = map[string]unit{"s": {'t', 1, 1}, "ms": {'t', 1, 1e3}, "us": {'t', 1, 1e6}, "ns": {'t', 1, 1e9}, "min": {'t', 60, 1}, "h": {'t', 3600, 1},
	"a": {'i', 1, 1}, "ma": {'i', 1, 1e3}, "ua": {'i', 1, 1e6}, "ka": {'i', 1e3, 1}, "v": {'v', 1, 1}, "mv": {'v', 1, 1e3}, "uv": {'v', 1, 1e6}}

var knownUnits = []string{"s", "ms", "µs", "ns", "min", "h", "A", "mA", "µA", "kA", "V", "mV", "µV"}

// unitCalled finds a unit by its symbol or by its name, whatever the case.
func unitCalled(name string) (unit, bool) {
	n := strings.ToLower(strings.TrimSpace(name))
	n = strings.NewReplacer("µ", "u", "μ", "u", "milli", "m", "micro", "u", "nano", "n", "kilo", "k").Replace(n)
	if u, ok := units[n]; ok {
		return u, true
	}
	n = strings.TrimSuffix(n, "s")
	for _, long := range [...][2]string{{"second", "s"}, {"sekunden", "s"}, {"seconde", "s"}, {"sec", "s"}, {"sek", "s"}, {"minute", "min"},
		{"hour", "h"}, {"hr", "h"}, {"ampere", "a"}, {"ampère", "a"}, {"amp", "a"}, {"volt", "v"}} {
		if prefix, ok := strings.CutSuffix(n, long[0]); ok {
			u, ok := units[prefix+long[1]]
			return u, ok
		}
	}
	return unit{}, false
}

var timeNames = []string{"time", "t", "zeit", "temps", "tiempo", "tempo", "elapsed", "timestamp", "x", "x-axis"}
var currentNames = []string{"current", "i", "strom", "courant", "corriente", "corrente", "amps", "clamp"}
var indexNames = []string{"index", "no", "no.", "nr", "nr.", "#", "n", "sample", "point", "id"}

// A head is what a column's header says.
type head struct {
	name    string // its first word, lower case
	given   string // the unit as written
	unit    unit
	known   bool
	unknown bool // something that must be a unit, and is none that is known
}

// headOf reads "Time (ms)", "I [mA]", "t/ms", "current_A", "Volts" or "(A)".
func headOf(cell string) head {
	h := head{}
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
	} else if from := strings.LastIndexAny(c, " ,"); from >= 0 && len(c)-from > 2 { // "Channel A" is no unit, "Time ms" is
		h.given = c[from+1:]
	}
	h.unit, h.known = unitCalled(h.given)
	return h
}

// Read reads a recording: lines of numbers, time and current among them, behind any lines of text.
//
// The separator is a tab, a semicolon or a comma, whichever most lines have, else spaces; the decimal mark is decided for the
// file as a whole. A header is the line before the numbers, or the one before a line of units. Columns are found by their
// units, then by their names, then by their order; a counting first column is passed over.
//
// Errors: *[Fault], of each [FaultKind]. It ignores blank lines, a byte order mark, and other columns.
// Checked in read_test.go with the layouts of testdata/recordings, and by fuzzing.
func Read(text string, l Layout) (Recording, error) {
	if len(text) > MaxBytes {
		return Recording{}, &Fault{Kind: TooLong}
	}
	lines := linesOf(strings.TrimPrefix(text, "\ufeff"))
	if len(lines) == 0 {
		return Recording{}, &Fault{Kind: Empty}
	}
	if len(lines) > MaxSamples+maxHeader {
		return Recording{}, &Fault{Kind: TooMany, Line: lines[MaxSamples].no}
	}
	r := Recording{Separator: separatorOf(lines), Probe: l.Probe}
	p := &reader{r: &r, l: l, lines: lines}
	for _, step := range []func() *Fault{p.columns, p.heads, p.choose, p.mark, p.values, p.times} {
		if f := step(); f != nil {
			f.Given, f.Before, f.Name = quantity.Clip(f.Given), quantity.Clip(f.Before), quantity.Clip(f.Name)
			return Recording{}, f
		}
	}
	return r, nil
}

type reader struct {
	r       *Recording
	l       Layout
	lines   []line
	cells   []string
	numeric []int // columns of numbers, from 0
	wide    int   // the most columns of a line looked at
	first   int   // of lines, that has numbers
	head    []head
	names   []string
	t, i    int // columns, from 0
	tu, iu  unit
}

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

// blank says whether a line has nothing but separators and white space.
func blank(l string) bool {
	for k := 0; k < len(l); k++ {
		if l[k] > ' ' && l[k] != ';' && l[k] != ',' && l[k] != '"' {
			return strings.Trim(l[k:], " \t;,\"\u00a0") == ""
		}
	}
	return true
}

// some calls a function for at most so many lines, evenly spread.
func some(lines []line, do func(line)) int {
	stride := 1 + (len(lines)-1)/looked
	n := 0
	for k := 0; k < len(lines); k += stride {
		do(lines[k])
		n++
	}
	return n
}

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

// split cuts a line into cells, without white space and quotes around them.
func (p *reader) split(text string) []string {
	p.cells = p.cells[:0]
	sep := p.r.Separator
	if sep == ' ' {
		text = strings.TrimSpace(text)
	}
	for len(p.cells) < maxColumns {
		if sep == ' ' || sep != '\t' {
			text = strings.TrimLeft(text, " ")
		}
		end, cell := 0, ""
		if strings.HasPrefix(text, `"`) && strings.IndexByte(text[1:], '"') >= 0 {
			q := 1 + strings.IndexByte(text[1:], '"')
			cell = text[1:q]
			if end = strings.IndexByte(text[q:], sep); end >= 0 {
				end += q
			}
		} else if end = strings.IndexByte(text, sep); end >= 0 {
			cell = text[:end]
		} else {
			cell = text
		}
		p.cells = append(p.cells, strings.TrimSpace(cell))
		if end < 0 {
			break
		}
		text = text[end+1:]
	}
	return p.cells
}

// numberLike says whether a cell is a number under some decimal mark.
func numberLike(c string) bool {
	digits := 0
	for k := 0; k < len(c); k++ {
		switch b := c[k]; {
		case b >= '0' && b <= '9':
			digits++
		case b == '.' || b == ',':
		case b == '-' || b == '+':
			if k > 0 && c[k-1]|0x20 != 'e' {
				return false
			}
		case b|0x20 == 'e':
			if digits == 0 || k == len(c)-1 {
				return false
			}
		case k == 0 && strings.HasPrefix(c, "\u2212"):
			return digits == 0 && numberLike(c[3:])
		default:
			return false
		}
	}
	return digits > 0
}

// columns finds the columns of numbers, and the first line that has them.
func (p *reader) columns() *Fault {
	var count [maxColumns]int
	n := some(p.lines, func(l line) {
		cells := p.split(l.text)
		p.wide = max(p.wide, len(cells))
		for k, c := range cells {
			if numberLike(c) {
				count[k]++
			}
		}
	})
	for k, c := range count {
		if 2*c >= n && c > 0 || k+1 == p.l.TimeColumn || k+1 == p.l.CurrentColumn {
			p.numeric = append(p.numeric, k)
		}
	}
	for _, c := range []int{p.l.TimeColumn, p.l.CurrentColumn} {
		if c < 0 || c > p.wide {
			return &Fault{Kind: NoColumn, Column: c, Given: strconv.Itoa(c)}
		}
	}
	if p.l.TimeColumn > 0 && p.l.TimeColumn == p.l.CurrentColumn {
		return &Fault{Kind: NoColumn, Column: p.l.TimeColumn, Given: strconv.Itoa(p.l.TimeColumn)}
	}
	if len(p.numeric) < 2 {
		return p.noColumns()
	}
	p.first = -1
	for k, l := range p.lines {
		if p.full(l.text) && (k+1 == len(p.lines) || p.full(p.lines[k+1].text)) {
			p.first = k
			break
		}
	}
	if p.first < 0 {
		return p.noColumns()
	}
	// A line just before with a time and a text is a sample that cannot be read, and so is one below a line of headers.
	for p.first > 0 {
		cells := p.split(p.lines[p.first-1].text)
		numbers, lead := 0, len(cells) > p.numeric[0] && numberLike(cells[p.numeric[0]])
		for _, c := range p.numeric {
			if c < len(cells) && numberLike(cells[c]) {
				numbers++
			}
		}
		if numbers == 0 || !lead && (p.first < 2 || len(cells) != p.wide || len(p.split(p.lines[p.first-2].text)) != p.wide) {
			break
		}
		p.first--
	}
	return nil
}

// full says whether a line has a number in each of the columns of numbers.
func (p *reader) full(text string) bool {
	cells := p.split(text)
	for _, c := range p.numeric {
		if c >= len(cells) || !numberLike(cells[c]) {
			return false
		}
	}
	return true
}

// noColumns says why there are no two columns of numbers.
func (p *reader) noColumns() *Fault {
	alone := (*Fault)(nil)
	for _, l := range p.lines {
		cells := p.split(l.text)
		text, numbers := -1, 0
		for k, c := range cells {
			if numberLike(c) {
				numbers++
			} else if text < 0 {
				text = k
			}
		}
		if numbers > 0 && len(cells) > 1 && text >= 0 && len(p.numeric) > 0 && numberLike(at(cells, p.numeric[0])) {
			return &Fault{Kind: NotNumber, Line: l.no, Column: text + 1, Given: cells[text]}
		}
		if numbers == 1 && len(cells) == 1 && alone == nil {
			alone = &Fault{Kind: OneColumn, Line: l.no, Column: 1, Given: cells[0]}
		}
	}
	if alone != nil {
		return alone
	}
	return &Fault{Kind: NotNumber, Line: p.lines[0].no, Column: 1, Given: p.split(p.lines[0].text)[0]}
}

func at(cells []string, k int) string {
	if k < len(cells) {
		return cells[k]
	}
	return ""
}

// heads reads the header, and a line of units below it.
func (p *reader) heads() *Fault {
	p.head, p.names = make([]head, p.wide), make([]string, p.wide)
	p.r.First = p.lines[p.first].no
	above := p.first - 1
	if above < 0 {
		return nil
	}
	cells := p.split(p.lines[above].text)
	if len(cells) < 2 {
		return nil
	}
	isUnits, some := above > 0, false
	for _, k := range p.numeric {
		if c := strings.Trim(at(cells, k), "()[] "); c != "" {
			_, ok := unitCalled(c)
			isUnits, some = isUnits && ok, some || ok
		}
	}
	var below []head
	if isUnits && some {
		if up := p.split(p.lines[above-1].text); len(up) > 1 {
			below = make([]head, p.wide)
			for k := range min(p.wide, len(p.split(p.lines[above].text))) {
				below[k] = headOf(p.cells[k])
			}
			above--
		}
	}
	p.r.Header = p.lines[above].no
	for k, c := range p.split(p.lines[above].text) {
		if k < p.wide {
			p.names[k], p.head[k] = strings.Clone(c), headOf(c)
		}
	}
	for k, h := range below {
		if h.known {
			h.name = p.head[k].name
			p.head[k] = h
		}
	}
	return nil
}

// choose decides which columns are time and current, and in which units.
func (p *reader) choose() *Fault {
	find := func(not int, is func(h head) bool) int {
		for _, k := range p.numeric {
			if k != not && is(p.head[k]) {
				return k
			}
		}
		return -1
	}
	is := func(kind byte) func(head) bool { return func(h head) bool { return h.known && h.unit.kind == kind } }
	named := func(names []string) func(head) bool {
		return func(h head) bool { return slices.Contains(names, h.name) }
	}
	first := func(found ...int) int {
		for _, k := range found {
			if k >= 0 {
				return k
			}
		}
		return -1
	}
	fixed := p.l.CurrentColumn - 1
	p.t, p.i = p.l.TimeColumn-1, fixed
	if p.t < 0 {
		p.t = first(find(fixed, is('t')), find(fixed, named(timeNames)))
	}
	if p.t < 0 {
		rest := slices.DeleteFunc(slices.Clone(p.numeric), func(k int) bool { return k == fixed || slices.Contains(indexNames, p.head[k].name) })
		switch {
		case len(rest) == 0:
			p.t = find(fixed, func(head) bool { return true })
		case len(rest) > 2 && p.counts(rest[0]) && p.rises(rest[1]):
			p.t = rest[1]
		default:
			p.t = rest[0]
		}
	}
	if p.i < 0 {
		later := find(p.t, func(h head) bool { return !slices.Contains(indexNames, h.name) && !is('t')(h) })
		for _, k := range p.numeric {
			if k > p.t && !is('t')(p.head[k]) {
				later = k
				break
			}
		}
		p.i = first(find(p.t, is('i')), find(p.t, named(currentNames)), find(p.t, is('v')), later, find(p.t, func(head) bool { return true }))
	}
	p.r.TimeColumn, p.r.CurrentColumn, p.r.Columns = p.t+1, p.i+1, len(p.numeric)
	p.r.TimeHeader, p.r.CurrentHeader = p.names[p.t], p.names[p.i]
	var f *Fault
	if p.tu, p.r.TimeUnit, p.r.TimeAssumed, f = p.unitOf(p.t, p.l.TimeUnit, "s", "t"); f != nil {
		return f
	}
	if p.iu, p.r.CurrentUnit, p.r.CurrentAssumed, f = p.unitOf(p.i, p.l.CurrentUnit, "A", "iv"); f != nil {
		return f
	}
	if p.iu.kind == 'v' && !(p.l.Probe > 1e-9 && p.l.Probe < 1e9) {
		return &Fault{Kind: NeedsProbe, Line: p.r.Header, Column: p.i + 1, Given: p.r.CurrentUnit, Name: p.names[p.i]}
	}
	if p.iu.kind != 'v' {
		p.r.Probe = 0
	}
	return nil
}

// unitOf is a column's unit: that of the layout, else of the header, else the usual one.
func (p *reader) unitOf(column int, asked, usual, kinds string) (unit, string, bool, *Fault) {
	fault := func(line int, given string) *Fault {
		f := &Fault{Kind: UnknownUnit, Line: line, Column: column + 1, Given: given, Name: p.names[column]}
		for _, n := range knownUnits {
			if u, ok := unitCalled(n); ok && strings.IndexByte(kinds, u.kind) >= 0 {
				f.Want = append(f.Want, n)
			}
		}
		return f
	}
	h := p.head[column]
	switch {
	case asked != "":
		u, ok := unitCalled(asked)
		if !ok || strings.IndexByte(kinds, u.kind) < 0 {
			return u, "", false, fault(0, asked)
		}
		return u, asked, false, nil
	case h.known && strings.IndexByte(kinds, h.unit.kind) >= 0:
		return h.unit, strings.Clone(h.given), false, nil
	case h.unknown || h.known && strings.ContainsAny(p.names[column], "(["):
		return h.unit, "", false, fault(p.r.Header, h.given)
	}
	u, _ := unitCalled(usual)
	return u, usual, true, nil
}

// counts says whether a column counts by one; rises, whether it rises throughout.
func (p *reader) counts(column int) bool {
	return p.holds(column, func(v, before float64) bool { return v == before+1 })
}
func (p *reader) rises(column int) bool {
	return p.holds(column, func(v, before float64) bool { return v > before })
}

func (p *reader) holds(column int, is func(v, before float64) bool) bool {
	before := math.NaN()
	for _, l := range p.lines[p.first:min(len(p.lines), p.first+looked)] {
		v, err := strconv.ParseFloat(strings.Replace(at(p.split(l.text), column), ",", ".", 1), 64)
		if err != nil || !math.IsNaN(before) && !is(v, before) {
			return false
		}
		before = v
	}
	return true
}

// mark decides the decimal mark, over all cells of both columns: a mark is the decimal one where it stands alone in its cell
// and not before just three digits, or behind a zero, or last of two kinds. What is left open is refused.
func (p *reader) mark() *Fault {
	var sure, open [2]int // 0 the point, 1 the comma: lines+1
	whole := true         // no cell has a mark
	zeros := -1           // a line with a cell as "001"
	narrow := p.r.Header > 0 && p.headerCells() != p.wide
	for n, l := range p.lines[p.first:] {
		cells := p.split(l.text)
		for _, column := range [2]int{p.t, p.i} {
			c := at(cells, column)
			if !numberLike(c) {
				continue
			}
			if zeros < 0 && len(c) > 1 && c[0] == '0' && c[1] >= '0' && c[1] <= '9' {
				zeros = n
			}
			kind, certain := marked(c)
			switch {
			case kind == 0:
			case certain:
				sure[kind-1] = n + 1
			default:
				open[kind-1] = n + 1
			}
			whole = whole && kind == 0
		}
	}
	fault := func(n int, reads [2]string) *Fault {
		l := p.lines[p.first+n]
		return &Fault{Kind: Ambiguous, Line: l.no, Column: p.t + 1, Given: l.text, Reads: reads}
	}
	if p.r.Separator == ',' && whole && (zeros >= 0 || narrow || p.wide > 3 && p.r.Header == 0) {
		n := max(zeros, 0)
		cells := p.split(p.lines[p.first+n].text)
		pairs := ""
		for k := 0; k < len(cells); k += 2 {
			if k > 0 {
				pairs += " | "
			}
			if pairs += cells[k]; k+1 < len(cells) {
				pairs += "." + cells[k+1]
			}
		}
		return fault(n, [2]string{strings.Join(cells, " | "), pairs})
	}
	two := func(n int) *Fault {
		cells := p.split(p.lines[p.first+n].text)
		for _, column := range [2]int{p.t, p.i} {
			if c := at(cells, column); strings.ContainsAny(c, ".,") {
				f := fault(n, [2]string{strings.Replace(c, ",", ".", 1), strings.NewReplacer(".", "", ",", "").Replace(c)})
				f.Given, f.Column = c, column+1
				return f
			}
		}
		return fault(n, [2]string{})
	}
	switch {
	case sure[0] > 0 && sure[1] > 0:
		return two(min(sure[0], sure[1]) - 1)
	case sure[0] > 0 && open[1] > 0:
		return two(open[1] - 1)
	case sure[1] > 0 && open[0] > 0:
		return two(open[0] - 1)
	case sure[0] == 0 && sure[1] == 0 && open[1] > 0:
		return two(open[1] - 1)
	}
	p.r.Comma = sure[1] > 0
	return nil
}

// marked is the decimal mark of a number, 1 a point and 2 a comma, 0 if it has neither; and whether it can be no other.
func marked(c string) (kind int, certain bool) {
	var count [3]int
	last, zero, end := 0, false, len(c)
	for k := 0; k < len(c); k++ {
		is := 0
		switch c[k] {
		case '.':
			is = 1
		case ',':
			is = 2
		case 'e', 'E':
			end = k
		}
		if is > 0 {
			if kind == 0 {
				lead := strings.TrimLeft(c[:k], "+-\u2212")
				zero = lead == "" || lead[0] == '0' || len(lead) > 3
			}
			kind, last = is, k
			count[is]++
		}
		if end < len(c) {
			break
		}
	}
	switch other := 3 - kind; {
	case kind == 0:
		return 0, false
	case count[kind] > 1: // 1,234,567
		return other, true
	case count[other] > 0: // 1.234,5
		return kind, true
	}
	return kind, zero || end-last != 4
}

func (p *reader) headerCells() int {
	for _, l := range p.lines[:p.first] {
		if l.no == p.r.Header {
			return len(p.split(l.text))
		}
	}
	return 0
}

// number reads a cell under the file's decimal mark; the other mark stands between groups of digits.
func (p *reader) number(c string) (float64, FaultKind) {
	if !numberLike(c) {
		switch strings.ToLower(strings.TrimLeft(c, "+-")) {
		case "nan", "inf", "infinity", "∞", "-∞":
			return 0, OutOfRange
		}
		return 0, NotNumber
	}
	if strings.HasPrefix(c, "\u2212") {
		c = "-" + c[3:]
	}
	if p.r.Comma {
		if strings.IndexByte(c, '.') >= 0 {
			c = strings.ReplaceAll(c, ".", "")
		}
		if k := strings.IndexByte(c, ','); k >= 0 {
			c = c[:k] + "." + c[k+1:]
		}
	} else if strings.IndexByte(c, ',') >= 0 {
		c = strings.ReplaceAll(c, ",", "")
	}
	v, err := strconv.ParseFloat(c, 64)
	switch {
	case err != nil && math.IsInf(v, 0):
		return 0, OutOfRange
	case err != nil:
		return 0, NotNumber
	}
	return v, 0
}

// values reads both columns.
func (p *reader) values() *Fault {
	n := len(p.lines) - p.first
	if n > MaxSamples {
		return &Fault{Kind: TooMany, Line: p.lines[p.first+MaxSamples].no, Given: strconv.Itoa(n)}
	}
	r := p.r
	r.T, r.I = make([]float64, 0, n), make([]float64, 0, n)
	before, most := "", 0.0
	for _, l := range p.lines[p.first:] {
		cells := p.split(l.text)
		var v [2]float64
		for k, column := range [2]int{p.t, p.i} {
			c := at(cells, column)
			x, kind := p.number(c)
			u := p.tu
			if k == 1 {
				u = p.iu
			}
			x = x * u.mul / u.div
			if u.kind == 'v' {
				x /= p.l.Probe
			}
			if kind == 0 && !(math.Abs(x) <= largest) {
				kind = OutOfRange
			}
			if kind != 0 {
				return &Fault{Kind: kind, Line: l.no, Column: column + 1, Given: c}
			}
			v[k] = x
		}
		if m := len(r.T); m > 0 {
			kind := FaultKind(0)
			switch step := v[0] - r.T[m-1]; {
			case step < 0:
				kind = NotSorted
			case step == 0:
				kind = RepeatedTime
			case step < leastStep:
				kind = OutOfRange
			}
			if kind != 0 {
				return &Fault{Kind: kind, Line: l.no, Column: p.t + 1, Given: at(cells, p.t), Before: before}
			}
		}
		before = at(cells, p.t)
		r.T, r.I = append(r.T, v[0]), append(r.I, v[1])
		most = max(most, math.Abs(v[1]))
	}
	switch {
	case n < MinSamples:
		return &Fault{Kind: TooFew, Given: strconv.Itoa(n)}
	case most < nothing:
		return &Fault{Kind: AllZero, Column: p.i + 1}
	}
	return nil
}

// times finds the usual step and the gaps.
func (p *reader) times() *Fault {
	r := p.r
	stride := 1 + len(r.T)/(2*looked)
	steps := make([]float64, 0, 2*looked)
	for k := 1; k < len(r.T); k += stride {
		steps = append(steps, r.T[k]-r.T[k-1])
	}
	slices.Sort(steps)
	r.Interval = steps[len(steps)/2]
	for k := 1; k < len(r.T); k++ {
		if n := math.Round((r.T[k] - r.T[k-1]) / r.Interval); n > 1 {
			r.Gaps++
			r.Missing = int(min(float64(r.Missing)+n-1, 1e9))
		}
	}
	return nil
}
