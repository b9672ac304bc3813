package fastener

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ohmwright/core/quantity"
)

// A LineFault says why a line of a table has no torque. The zero LineFault is none.
type LineFault uint8

// The faults of a line.
const (
	NoTorque   LineFault = iota + 1 // there is no torque, or no unit to its number
	Ambiguous                       // two readings
	Unreadable                      // a number that is none, too large, or 0
)

// String is the fault's word in an answer: no_torque, ambiguous, unreadable; nothing where there is none.
func (f LineFault) String() string {
	switch f {
	case 0:
		return ""
	case NoTorque:
		return "no_torque"
	case Ambiguous:
		return "ambiguous"
	case Unreadable:
		return "unreadable"
	}
	return "unknown"
}

// A Figure is a torque of a table. The Value itself is the torque printed, or the lower end of a range.
type Figure struct {
	quantity.Value
	To     quantity.Value // the upper end of a range; else the zero Value
	Within quantity.Value // behind ±: a torque, or a ratio; else the zero Value
}

// Ranges says whether the figure is a range.
func (f Figure) Ranges() bool { return f.To.Digits != "" }

// top is the largest torque that the figure names.
func (f Figure) top() float64 { return max(f.In, f.To.In) }

// A Line is what one line of a table says of one size.
type Line struct {
	Number   int    // of the text's lines, from 1; a line with several sizes makes several
	Text     string // without white space around it
	Size     string // as printed; "" if there is none
	Thread   *Thread
	Diameter quantity.Length // in mm of a metric size, whether or not its thread is known; else 0
	Class    string          // the property class, in the line or above it; "" if there is none
	Figures  []Figure        // in the order printed, of the last stage where there are several; none where there is a fault
	Stages   []Figure        // of each stage that has a torque its first figure; nil where there are no two
	Angle    quantity.Angle  // in degrees, of the last stage that is turned by an angle and not to a torque; 0 where there is none
	Pair     *Pair           // of the figures in different units those that agree least; nil where there are no two
	Fault    LineFault
	Reads    [2]string // the two readings, where the fault is Ambiguous and it is a number that has them
}

// A Table is a table of torques as it was pasted.
type Table struct {
	Lines    []Line
	Headings []int // the lines that name columns, or are words alone
	More     bool  // there are more than MaxLines, and those behind are not read
}

// MaxLines is the most lines of a table that are read.
const MaxLines = 200

// ReadTable reads lines of sizes and torques as they come from a manual, a web page or a spreadsheet.
//
// Cells are parted by tabs, bars, semicolons, commas under a header with as many, or two blanks. A torque is a number with its
// unit behind it, or a number in a column, or in a table, whose header has the unit; "8–10 N·m" is a range, "9 ± 1 N·m" has a
// tolerance. A size is metric (M6, M6x1, M8 x 1,25), or in inches (1/4-20, #10-32), which is kept as text. A header may have classes or
// sizes over its columns: then a line makes one [Line] for each. Units: as quantity spells them, a slash for the hyphen too.
//
// A bolt may be tightened in stages, "20 N·m then 35 N·m", "1st 15 N·m 2nd 30 N·m", "stage 1: 30 N·m, stage 2: +90°", and at last by
// an angle: the torque is then that of the last stage that has one, and alone it does not say how tight the bolt is. An angle is a
// number with ° or deg behind it, a part of a turn, a bare number behind a plus, or in a column of angles, that comes behind a torque; on a
// line of its own it is of the line above too. Figures are held to each other within a stage only, one in brackets to those before it;
// figures that disagree in an earlier stage are the line's pair where those of the last do not.
//
// Errors: none; a line that holds a number and no torque has a [LineFault]. It ignores blank lines, bullets, notes, lengths and
// counts, and angles of fittings and tools where a word beside them says so. What it cannot do: a torque before its unit on another
// line, a size merged over several lines, stages on lines of their own.
// Checked in table_test.go, and by fuzzing.
func ReadTable(text string, mark quantity.Mark) Table {
	r := &tableReader{mark: mark, known: map[string]quantity.Unit{}}
	number := 0
	for rest := cleaned(text); rest != "" && !r.table.More; {
		end := strings.IndexAny(rest, "\n\r")
		line, next := rest, ""
		if end >= 0 {
			line, next = rest[:end], rest[end+1:]
			if rest[end] == '\r' {
				next = strings.TrimPrefix(next, "\n")
			}
		}
		rest = next
		number++
		r.line(number, line)
	}
	return r.table
}

// cleaned is the text in as few kinds of blanks and dashes as there are meanings.
func cleaned(text string) string {
	return cleaner.Replace(strings.ToValidUTF8(text, "\ufffd"))
}

var cleaner = strings.NewReplacer("\u00a0", " ", "\u2002", " ", "\u2003", " ", "\u2007", " ", "\u2009", " ", "\u200a", " ", "\u202f", " ", "\u3000", " ",
	"\u00ad", "", "\u200b", "", "\u200c", "", "\u200d", "", "\ufeff", "", "\x00", "", "\v", "\n", "\f", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n",
	"->", "→", "=>", "→", "⇒", "→", "\u2010", "-", "\u2011", "-", "\u2212", "-", "\u2012", "–", "\u2014", "–", "\u2015", "–", "+/-", "±", "+-", "±")

// A token is a piece of a line that means something.
type token struct {
	kind tokenKind
	text string
	cell int
	unit quantity.Unit // of a unit
	size sizeRead      // of a size
	// stage is the number of a stage, 0 of a word that names no number, or follows of one that says that a stage follows.
	stage int
}

// follows is the stage of a word that says that another stage comes: then.
const follows = -1

type tokenKind uint8

const (
	aWord tokenKind = iota
	aNumber
	aUnit
	aSize
	aDash // between the ends of a range, or between anything
	aPlusMinus
	aMark
	anAngle // its text is the degrees alone
	aStage
)

type sizeRead struct {
	thread   *Thread
	diameter quantity.Length
}

// A column is what a header says of the cells below it.
type column struct {
	from, to int             // in characters of the line
	units    []quantity.Unit // degrees among them
	stage    int             // that its torques are of; 0 where it says none
	class    string
	size     *token
	sized    bool // its bare numbers are diameters
}

type tableReader struct {
	mark    quantity.Mark
	table   Table
	known   map[string]quantity.Unit // spellings looked at; the zero Unit is none
	columns []column                 // of the header above
	parted  rune                     // by what
	units   []quantity.Unit          // of the header above, in order
	stages  []int                    // that they are of
	angle   string                   // in degrees, that the header above adds to every torque
	class   string                   // that a heading names
	fresh   bool                     // no line has come since the header
	staged  bool                     // the token before names a stage
	above   int                      // the line above, counted from 1, if it has a torque and is one line alone; else 0
}

// degrees is the unit that a column of angles has.
var degrees = quantity.Units(quantity.OfAngle)[0]

// A cell is a part of a line.
type cell struct {
	text     string
	from, to int // in characters
}

// mostCells is into how many cells a line is parted; the last has the rest.
const mostCells = 64

// cells parts a line by what it is parted by.
func cells(line string) (list []cell, by rune) {
	for _, by = range "\t|;" {
		if strings.ContainsRune(line, by) {
			return parted(line, by), by
		}
	}
	at := 0
	for at < len(line) {
		rest := line[at:]
		lead := len(rest) - len(strings.TrimLeft(rest, " "))
		rest = rest[lead:]
		end := strings.Index(rest, "  ")
		if end < 0 || len(list)+1 == mostCells {
			end = len(rest)
		}
		if end > 0 {
			from := utf8.RuneCountInString(line[:at+lead])
			list = append(list, cell{rest[:end], from, from + utf8.RuneCountInString(rest[:end])})
		}
		at += lead + end
	}
	return list, ' '
}

// parted parts a line by one sign; bars around the whole are no cells.
func parted(line string, by rune) (list []cell) {
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

// line reads one line.
func (r *tableReader) line(number int, text string) {
	line := text
	text = strings.TrimSpace(text)
	if strings.IndexFunc(text, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }) < 0 {
		return // blank, or a rule
	}
	list, by := cells(strings.TrimRight(line, " "))
	if by == ' ' && len(list) == 1 && tight(text) {
		if c := parted(text, ','); r.parted == ',' && len(c) == len(r.columns) {
			list, by = c, ','
		} else if t := r.tokens(c); r.parted != ',' && len(c) > 1 && r.heads(t) && unitsIn(t) > 0 {
			list, by = c, ','
		}
	}
	tokens := r.tokens(list)
	if r.heads(tokens) {
		r.header(list, tokens, by)
		r.table.Headings = append(r.table.Headings, number)
		r.above = 0
		return
	}
	r.fresh = false
	lines := r.read(list, tokens, by)
	if len(lines) == 0 {
		r.table.Headings = append(r.table.Headings, number)
		r.above = 0
		return
	}
	if l := lines[0]; r.above > 0 && len(lines) == 1 && l.Fault == NoTorque && l.Size == "" && l.Angle > 0 {
		r.table.Lines[r.above-1].Angle = l.Angle
	}
	for _, l := range lines {
		if r.table.More = len(r.table.Lines) >= MaxLines; r.table.More {
			return
		}
		l.Number, l.Text = number, text
		r.table.Lines = append(r.table.Lines, l)
	}
	switch {
	case len(lines) == 1 && lines[0].Fault == 0:
		r.above = len(r.table.Lines)
	case len(lines) > 1 || lines[0].Angle == 0:
		r.above = 0
	}
}

// tight says whether a comma stands without a blank behind it, as between cells: "Torque, N·m" has none.
func tight(text string) bool {
	return strings.Count(text, ",") > strings.Count(text, ", ")
}

func unitsIn(tokens []token) (n int) {
	for _, t := range tokens {
		if t.kind == aUnit {
			n++
		}
	}
	return n
}

// classes are the property classes that a table may name (ISO 898-1).
var classes = []string{"3.6", "4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"}

func classIn(number string) (string, bool) {
	n := strings.Replace(number, ",", ".", 1)
	return n, slices.Contains(classes, n)
}

// heads says whether a line is a header: units, or classes or sizes over columns, and no torque of its own.
func (r *tableReader) heads(tokens []token) bool {
	units, numbers, named, sizes, dashes := 0, 0, map[string]bool{}, 0, 0
	for k, t := range tokens {
		switch t.kind {
		case aUnit:
			units++
			if garbled(tokens, k) {
				return false
			}
		case aSize:
			sizes++
		case aDash:
			dashes++
		case aNumber:
			if measured(tokens, k) {
				continue
			}
			numbers++
			if c, ok := classIn(t.text); ok {
				named[c] = true
			}
		}
	}
	switch {
	case numbers == 0:
		return units > 0 && sizes != 1 || sizes > 1 && dashes == 0 && units == 0
	case len(named) < numbers || sizes > 0:
		return false
	}
	return numbers > 1 || numbers == 1 && units == 1 && tokens[0].kind == aWord && tokens[len(tokens)-1].kind == aUnit && !r.united(tokens) ||
		numbers == 1 && units == 0 && r.classWord(tokens)
}

// garbled says whether something that begins as a number and is none stands before a unit: 1e999 N·m.
func garbled(tokens []token, unit int) bool {
	return unit > 0 && tokens[unit-1].kind == aWord && digit(tokens[unit-1].text[0])
}

// united says whether a number has a unit behind it.
func (r *tableReader) united(tokens []token) bool {
	for k := 1; k < len(tokens); k++ {
		if tokens[k].kind == aUnit && tokens[k-1].kind == aNumber {
			return true
		}
	}
	return false
}

// classWord says whether a word before a number says that it is a class.
func (r *tableReader) classWord(tokens []token) bool {
	for k := 1; k < len(tokens); k++ {
		if tokens[k].kind == aNumber && tokens[k-1].kind == aWord && slices.Contains(classNames, strings.ToLower(tokens[k-1].text)) {
			return true
		}
	}
	return false
}

var (
	classNames   = []string{"class", "cl", "grade", "gr", "property", "strength", "klasse", "festigkeitsklasse", "fk"}
	sizeNamed    = []string{"thread", "diameter", "dia", "size", "gewinde", "d", "ø"}
	rangeWords   = []string{"to", "bis", "thru", "through", "until"}
	measureWords = []string{"mm", "cm", "m", "in", "inch", "inches", "deg", "degree", "degrees", "pcs", "pc", "off", "x", "hours", "hour", "h", "min", "°c", "c", "f", "rpm", "km", "miles", "psi", "bar", "kpa", "stk"}
)

// measured says whether a number counts or measures something else than a torque: 4 pcs, 20 °C, 85 of 85–95°, 1 of 1. stage, 20 mm, M6 apart.
func measured(tokens []token, k int) bool {
	if k+1 < len(tokens) && tokens[k+1].cell == tokens[k].cell {
		at := func(j int, kind tokenKind) bool {
			return j < len(tokens) && tokens[j].kind == kind && tokens[j].cell == tokens[k].cell
		}
		switch n := tokens[k+1]; n.kind {
		case aUnit:
			return false
		case aStage:
			return true
		case aDash, aPlusMinus:
			if at(k+2, anAngle) {
				return true
			}
		case aWord:
			return slices.Contains(measureWords, strings.ToLower(n.text))
		case aMark:
			return n.text == "." && at(k+2, aStage) || n.text == "°" || n.text == "%" || n.text == "º" || n.text == "\"" || n.text == "×" || n.text == "*" || n.text == "="
		}
	}
	return k > 0 && tokens[k-1].kind == aMark && tokens[k-1].cell == tokens[k].cell && (tokens[k-1].text == "×" || tokens[k-1].text == "*" || tokens[k-1].text == "#" || tokens[k-1].text == "+")
}

// header takes a header's columns; one that follows another with as many cells adds to it.
func (r *tableReader) header(list []cell, tokens []token, by rune) {
	fresh := make([]column, len(list))
	for k, c := range list {
		fresh[k].from, fresh[k].to = c.from, c.to
	}
	one, many := "", false
	r.units, r.stages, r.angle = nil, nil, ""
	stage := 0
	for k, t := range tokens {
		c := &fresh[t.cell]
		if angled(tokens, k) && (len(c.units) == 0 || c.units[len(c.units)-1].Symbol != degrees.Symbol) {
			c.units = append(c.units, degrees)
			r.units, r.stages = append(r.units, degrees), append(r.stages, stage)
		}
		switch t.kind {
		case anAngle:
			if turns(tokens, k) {
				r.angle = t.text
			}
		case aStage:
			if t.stage > 0 {
				c.stage, stage = t.stage, t.stage
			}
		case aUnit:
			c.units = append(c.units, t.unit)
			r.units, r.stages = append(r.units, t.unit), append(r.stages, stage)
		case aNumber:
			if class, ok := classIn(t.text); ok {
				c.class, many, one = class, many || one != "" && one != class, class
			}
		case aSize:
			c.size = &t
		case aWord:
			c.sized = c.sized || slices.Contains(sizeNamed, strings.ToLower(t.text))
		}
	}
	if !many {
		for k := range fresh {
			fresh[k].class = ""
		}
		if one != "" {
			r.class = one
		}
	} else {
		r.class = ""
	}
	if r.fresh && r.parted == by && (by != ' ' || len(r.columns) == len(fresh)) {
		for len(fresh) < len(r.columns) {
			fresh = append(fresh, column{from: len(fresh), to: len(fresh) + 1})
		}
		for k, c := range r.columns {
			if len(fresh[k].units) == 0 {
				fresh[k].units = c.units
			}
			if fresh[k].class == "" {
				fresh[k].class = c.class
			}
			if fresh[k].size == nil {
				fresh[k].size = c.size
			}
			fresh[k].sized = fresh[k].sized || c.sized
			if fresh[k].stage == 0 {
				fresh[k].stage = c.stage
			}
		}
		r.units, r.stages = nil, nil
		for _, c := range fresh {
			for _, u := range c.units {
				r.units, r.stages = append(r.units, u), append(r.stages, c.stage)
			}
		}
	}
	r.columns, r.parted, r.fresh = fresh, by, true
}

// columnOf is the header's column of a cell, or nil where the header has none for it.
func (r *tableReader) columnOf(list []cell, k int, by rune) *column {
	if r.parted != by || len(r.columns) < 2 || len(list) < 2 {
		return nil
	}
	if by != ' ' || len(list) == len(r.columns) {
		if k < len(r.columns) {
			return &r.columns[k]
		}
		return nil
	}
	best, most := -1, 0
	for j, c := range r.columns {
		if shared := min(c.to, list[k].to) - max(c.from, list[k].from) + 1; shared > most {
			best, most = j, shared
		}
	}
	if best < 0 {
		return nil
	}
	return &r.columns[best]
}

// A piece is a figure with where it stands.
type piece struct {
	figure   Figure
	cell     int
	at       int // token
	text     [2]string
	plus     string // digits behind ±
	percent  bool
	unit     quantity.Unit
	plusUnit quantity.Unit
	headed   bool // the header has its unit
	stage    int  // that it is of, by the words before it or above it; numbers of their own where there are words alone
	added    bool // behind a plus
	bracket  bool
	fault    LineFault
	reads    [2]string
}

// read reads a line that is no header; it gives none for a line of words.
func (r *tableReader) read(list []cell, tokens []token, by rune) []Line {
	digits := false
	for _, t := range tokens {
		digits = digits || t.kind == aNumber || t.kind == aSize || strings.ContainsAny(t.text, "0123456789")
	}
	pieces, class := r.pieces(tokens)
	if class == "" {
		class = r.class
	}
	with := 0
	for _, p := range pieces {
		if p.unit.Symbol != "" {
			with++
		}
	}
	var size *token
	for k := range tokens {
		if tokens[k].kind == aSize {
			size = &tokens[k]
			break
		}
	}
	if size == nil {
		size = r.bareSize(list, tokens, by, &pieces)
	}
	fault := r.assign(list, tokens, by, pieces, with)
	if !digits || with == 0 && size == nil && fault == 0 && len(r.table.Lines) == 0 && len(r.columns) == 0 && r.worded(tokens) && len(r.angles(tokens, pieces)) == 0 {
		return nil
	}
	pieces = slices.DeleteFunc(pieces, func(p piece) bool { return p.unit.Symbol == "" })
	angles := r.angles(tokens, pieces)
	pieces = slices.DeleteFunc(pieces, func(p piece) bool { return p.unit.Symbol == degrees.Symbol })
	r.order(list, tokens, by, pieces)
	if fault == 0 && len(pieces) == 0 {
		fault = NoTorque
		for k, t := range tokens {
			if t.kind == aUnit && garbled(tokens, k) {
				fault = Unreadable
			}
		}
	}
	base := Line{Class: class, Fault: fault}
	if fault != 0 {
		base.sizedBy(size)
		for _, a := range angles {
			base.Angle = a.degrees
		}
		return []Line{base}
	}
	for k := range pieces {
		r.value(tokens, &pieces[k])
	}
	return r.lines(base, size, list, tokens, by, pieces, angles)
}

// worded says whether a line has words, as a title has.
func (r *tableReader) worded(tokens []token) bool {
	for _, t := range tokens {
		if (t.kind == aWord || t.kind == aStage) && utf8.RuneCountInString(t.text) > 2 {
			return true
		}
	}
	return false
}

func (l *Line) sizedBy(t *token) {
	if t != nil {
		l.Size, l.Thread, l.Diameter = t.text, t.size.thread, t.size.diameter
	}
}

// pieces finds the numbers that may be torques, with their ranges, tolerances and units, and the class.
func (r *tableReader) pieces(tokens []token) (list []piece, class string) {
	is := func(k int, kind tokenKind) bool { return k >= 0 && k < len(tokens) && tokens[k].kind == kind }
	same := func(a, b int) bool { return tokens[a].cell == tokens[b].cell }
	for k := 0; k < len(tokens); k++ {
		if !is(k, aNumber) {
			continue
		}
		if c, ok := classIn(tokens[k].text); ok && class == "" && !is(k+1, aUnit) && !measured(tokens, k) {
			apart := !is(k+1, aDash) || !is(k+2, aNumber) || is(k-1, aDash) && is(k-2, aSize)
			if named := is(k-1, aWord) && slices.Contains(classNames, strings.ToLower(tokens[k-1].text)); named || apart && !is(k+1, aPlusMinus) && !is(k-1, aDash) && !is(k-1, aPlusMinus) && r.alone(tokens, k) || apart && is(k-1, aDash) && is(k-2, aSize) && is(k+1, aDash) {
				class = c
				continue
			}
		}
		if measured(tokens, k) {
			continue
		}
		p := piece{cell: tokens[k].cell, at: k, text: [2]string{tokens[k].text}}
		end := k + 1
		plus := func() {
			if is(end, aPlusMinus) && is(end+1, aNumber) {
				p.plus = tokens[end+1].text
				end += 2
				switch {
				case is(end, aUnit):
					p.plusUnit = tokens[end].unit
					if p.unit.Symbol == "" {
						p.unit = p.plusUnit
					}
					end++
				case is(end, aMark) && tokens[end].text == "%":
					p.percent = true
					end++
				}
			}
		}
		plus()
		// 10/89 N·m/in-lb; 10/12 N·m might be either.
		if slash := func(k int) bool { return is(k, aMark) && tokens[k].text == "/" }; p.plus == "" && slash(end) && is(end+1, aNumber) && is(end+2, aUnit) {
			q := piece{cell: p.cell, at: end + 1, text: [2]string{tokens[end+1].text}, unit: tokens[end+2].unit}
			if p.unit = q.unit; slash(end+3) && is(end+4, aUnit) {
				q.unit = tokens[end+4].unit
				end += 5
			} else {
				p.fault = Ambiguous
				end += 3
			}
			list = append(list, p, q)
			k = end - 1
			continue
		}
		if p.unit.Symbol == "" && is(end, aUnit) && (same(end-1, end) || end+1 == len(tokens) || !same(end, end+1)) {
			p.unit = tokens[end].unit
			end++
			plus()
		}
		// A range: 8–10 N·m, or 8 N·m – 10 N·m.
		if p.plus == "" && is(end, aDash) && is(end+1, aNumber) && same(end, end+1) && same(k, end) && !(measured(tokens, end+1)) {
			other, after := quantity.Unit{}, end+2
			if is(after, aUnit) {
				other = tokens[after].unit
				after++
			}
			if p.unit.Symbol == "" || p.unit.Symbol == other.Symbol {
				p.text[1], p.unit = tokens[end+1].text, other
				end = after
				plus()
			}
		}
		list = append(list, p)
		k = end - 1
	}
	return list, class
}

// alone says whether a number that may be a class has no other meaning: figures with units are there, or it has its cell to itself
// in a column without a unit.
func (r *tableReader) alone(tokens []token, k int) bool {
	if r.united(tokens) {
		return true
	}
	if tokens[k].cell < len(r.columns) && len(r.columns) > 1 && len(r.columns[tokens[k].cell].units) > 0 {
		return false
	}
	numbers := 0
	for j, t := range tokens {
		if t.kind == aNumber && !measured(tokens, j) {
			numbers++
		}
	}
	return numbers > len(r.units) && len(r.units) > 0
}

// bareSize takes a number in a column of sizes for a diameter, and takes it from the pieces.
func (r *tableReader) bareSize(list []cell, tokens []token, by rune, pieces *[]piece) *token {
	for k, p := range *pieces {
		c := r.columnOf(list, p.cell, by)
		if c == nil || !c.sized || len(c.units) > 0 || p.unit.Symbol != "" {
			continue
		}
		if t, ok := metric("M" + list[p.cell].text); ok && t.to == 1+len(list[p.cell].text) {
			*pieces = slices.DeleteFunc(slices.Clone(*pieces), func(q piece) bool { return q.cell == (*pieces)[k].cell })
			return &token{kind: aSize, text: list[p.cell].text, cell: p.cell, size: t.size}
		}
	}
	return nil
}

// assign gives units to the numbers that have none beside them: those of their cell, of their column, or of the table's header.
func (r *tableReader) assign(list []cell, tokens []token, by rune, pieces []piece, with int) LineFault {
	given, columns := 0, 0
	for c := range list {
		var bare []*piece
		for k := range pieces {
			if pieces[k].cell == c && pieces[k].unit.Symbol == "" {
				bare = append(bare, &pieces[k])
			}
		}
		if len(bare) == 0 {
			continue
		}
		var units []quantity.Unit
		loose := true // nothing but numbers, units and marks
		for k, t := range tokens {
			if t.cell != c {
				continue
			}
			switch {
			case t.kind == aUnit && k > 0 && tokens[k-1].kind == aNumber:
				loose = false
			case t.kind == aUnit:
				units = append(units, t.unit)
			case t.kind == aWord:
				loose = false
			}
		}
		// 10 (89) N·m (in-lb): the last number has its unit beside it by chance.
		if head := r.columnOf(list, c, by); head != nil && len(head.units) > 0 {
			columns++
			if len(bare) > len(head.units) {
				return Ambiguous
			}
			for k := range bare {
				bare[k].unit, bare[k].headed = head.units[k], true
				given++
			}
		} else if loose && len(units) == len(bare) {
			for k := range bare {
				bare[k].unit = units[k]
				given++
			}
		}
	}
	if with+given+columns > 0 || len(r.units) == 0 || r.mapped(list, by) {
		return 0
	}
	units, stages := r.units, r.stages
	if slices.ContainsFunc(tokens, func(t token) bool { return t.kind == anAngle }) { // the angles are not among the pieces
		units, stages = nil, nil
		for k, u := range r.units {
			if u.Symbol != degrees.Symbol {
				units, stages = append(units, u), append(stages, r.stages[k])
			}
		}
	}
	after := 0
	for k := range pieces {
		if k > 0 && len(pieces)-k == len(units) && r.sizeBefore(tokens, pieces[k].at) && !r.sizeBefore(tokens, pieces[k-1].at) {
			after = k
		}
	}
	switch n := len(pieces) - after; {
	case n == 0:
		return 0
	case n != len(units):
		return Ambiguous
	}
	for k := range units {
		pieces[after+k].unit, pieces[after+k].stage, pieces[after+k].headed = units[k], stages[k], true
	}
	return 0
}

// mapped says whether some cell of the line stands in a column that has a unit.
func (r *tableReader) mapped(list []cell, by rune) bool {
	for k := range list {
		if c := r.columnOf(list, k, by); c != nil && len(c.units) > 0 {
			return true
		}
	}
	return false
}

func (r *tableReader) sizeBefore(tokens []token, at int) bool {
	return slices.ContainsFunc(tokens[:at], func(t token) bool { return t.kind == aSize })
}

// value reads the digits of a piece in its unit.
func (r *tableReader) value(tokens []token, p *piece) {
	if p.fault != 0 {
		return
	}
	parse := func(digits string, unit quantity.Unit) (v quantity.Value) {
		v, err := quantity.Parse(digits+unit.Symbol, r.mark, quantity.OfTorque)
		e, _ := err.(*quantity.Error)
		switch {
		case e != nil && e.Fault == quantity.Ambiguous:
			p.fault, p.reads = Ambiguous, e.Reads
		case e != nil || !(v.In > 0):
			p.fault = Unreadable
		}
		return v
	}
	p.figure.Value = parse(p.text[0], p.unit)
	if p.text[1] != "" {
		if p.figure.To = parse(p.text[1], p.unit); p.fault == 0 && p.figure.To.In <= p.figure.In {
			p.fault = Ambiguous
		}
	}
	switch {
	case p.plus == "" || p.fault != 0:
	case p.percent:
		if v, err := quantity.Parse(p.plus+"%", r.mark, quantity.OfRatio); err == nil {
			p.figure.Within = v
		}
	case p.plusUnit.Symbol != "":
		p.figure.Within = parse(p.plus, p.plusUnit)
	default:
		p.figure.Within = parse(p.plus, p.unit)
	}
	// 1 250 N·m: a thousand and more, or a number of something before a torque.
	if k := p.at; p.fault == 0 && k > 0 && tokens[k-1].kind == aNumber && tokens[k-1].cell == p.cell && threes(p.text[0]) && len(tokens[k-1].text) <= 3 && strings.Trim(tokens[k-1].text, "0123456789") == "" && tokens[k-1].text[0] != '0' {
		p.fault = Ambiguous
		p.reads = [2]string{p.text[0] + " " + p.unit.Symbol, tokens[k-1].text + p.text[0] + " " + p.unit.Symbol}
	}
}

// threes says whether a number begins with three digits.
func threes(number string) bool {
	whole := strings.IndexAny(number, ".,")
	if whole < 0 {
		whole = len(number)
	}
	return whole == 3
}

// lines makes one line of the pieces, or one for each size, or class, that the line or the header has.
func (r *tableReader) lines(base Line, size *token, list []cell, tokens []token, by rune, pieces []piece, angles []angleAt) []Line {
	type part struct {
		size   *token
		class  string
		pieces []piece
	}
	var parts []part
	if sizes := r.bySize(tokens, pieces); sizes != nil {
		for _, s := range sizes {
			parts = append(parts, part{s.size, base.Class, s.pieces})
		}
	} else {
		for _, p := range pieces {
			own := part{size, base.Class, []piece{p}}
			if c := r.columnOf(list, p.cell, by); c != nil {
				if c.class != "" {
					own.class = c.class
				}
				if size == nil && c.size != nil {
					own.size = c.size
				}
			}
			if last := len(parts) - 1; last >= 0 && parts[last].class == own.class && parts[last].size == own.size {
				parts[last].pieces = append(parts[last].pieces, p)
				continue
			}
			parts = append(parts, own)
		}
	}
	var out []Line
	for k, part := range parts {
		l := base
		l.sizedBy(part.size)
		l.Class = part.class
		last := part.pieces[len(part.pieces)-1].at
		multi := false // several torques in one unit are stages
		for _, a := range angles {
			// An angle is of the part that it stands behind, or else of the first one.
			own := len(parts) == 1 || a.at > part.pieces[0].at
			for j, other := range parts {
				if at := other.pieces[0].at; j != k && at < a.at && (at > part.pieces[0].at || !own) {
					own = false
				}
			}
			if own || k == 0 && !slices.ContainsFunc(pieces, func(p piece) bool { return p.at < a.at }) {
				l.Angle, multi = a.degrees, multi || a.at > last
			}
		}
		if l.Angle == 0 && r.angle != "" && part.pieces[0].headed {
			l.Angle = r.degrees(r.angle)
		}
		for _, p := range part.pieces {
			if p.fault != 0 && l.Fault == 0 {
				l.Fault, l.Reads = p.fault, p.reads
			}
		}
		if l.Fault == 0 {
			l.figures(part.pieces, multi || slices.ContainsFunc(tokens, func(t token) bool {
				return t.kind == aStage && slices.Contains(severalStages, strings.ToLower(t.text))
			}))
		}
		out = append(out, l)
	}
	return out
}

// figures takes a line's figures by stages, and pairs them. With multi several figures in one unit, not in brackets, are stages.
func (l *Line) figures(pieces []piece, multi bool) {
	// A set is figures of one torque: one in each unit.
	type set struct {
		figures []Figure
		begins  bool // a stage
	}
	var sets []set
	for k, p := range pieces {
		begins, apart := k == 0, k == 0
		if k > 0 {
			now := sets[len(sets)-1].figures
			begins = p.stage != pieces[k-1].stage || p.added && p.figure.In > now[0].In
			apart = !p.bracket && slices.ContainsFunc(now, func(f Figure) bool { return f.Unit.Symbol == p.figure.Unit.Symbol })
		}
		switch {
		case begins || apart:
			sets = append(sets, set{[]Figure{p.figure}, begins || multi})
		default:
			s := &sets[len(sets)-1]
			s.figures = append(s.figures, p.figure)
		}
	}
	last := 0
	var stages []Figure
	for k, s := range sets {
		if s.begins {
			last, stages = k, append(stages, s.figures[0])
		}
	}
	if len(stages) > 1 {
		l.Stages = stages
	}
	note := func(p *Pair, from Agreement) {
		if p != nil && (l.Pair == nil || p.Verdict > l.Pair.Verdict) && p.Verdict >= from {
			l.Pair = p
		}
	}
	for _, s := range sets[last:] {
		l.Figures = append(l.Figures, s.figures...)
	}
	if halves := inHalves(l.Figures); halves != nil {
		for _, two := range halves {
			note(pairOf(two), Agree)
		}
	} else {
		for _, s := range sets[last:] {
			note(pairOf(s.figures), Agree)
		}
	}
	for _, s := range sets[:last] {
		note(pairOf(s.figures), Disagree)
	}
}

// inHalves pairs figures of which the first half is in one unit and the second in another: 8 10 N·m 71 89 in-lb. Else it is nil.
func inHalves(figures []Figure) (pairs [][]Figure) {
	n := len(figures) / 2
	if n < 2 || len(figures)%2 != 0 || figures[0].Unit.Symbol == figures[n].Unit.Symbol {
		return nil
	}
	for k := range n {
		a, b := figures[k], figures[n+k]
		if a.Unit.Symbol != figures[0].Unit.Symbol || b.Unit.Symbol != figures[n].Unit.Symbol {
			return nil
		}
		pairs = append(pairs, []Figure{a, b})
	}
	return pairs
}

type sizePart struct {
	size   *token
	pieces []piece
}

// bySize parts a line with several sizes, "M6 10 N·m, M8 25 N·m", where each has torques behind it, or each has them before it; else
// nil.
func (r *tableReader) bySize(tokens []token, pieces []piece) []sizePart {
	var at []int
	for k, t := range tokens {
		if t.kind == aSize {
			at = append(at, k)
		}
	}
	if len(at) < 2 {
		return nil
	}
	for _, before := range []bool{false, true} {
		parts := make([]sizePart, len(at))
		for k := range at {
			parts[k].size = &tokens[at[k]]
		}
		whole := true
		for _, p := range pieces {
			j, _ := slices.BinarySearch(at, p.at)
			if !before {
				j--
			}
			if j < 0 || j >= len(at) {
				whole = false
				break
			}
			parts[j].pieces = append(parts[j].pieces, p)
		}
		if whole && !slices.ContainsFunc(parts, func(s sizePart) bool { return len(s.pieces) == 0 }) {
			return parts
		}
	}
	return nil
}

// pairOf compares the figures in different units, and keeps the two that agree least: the first such.
func pairOf(figures []Figure) (worst *Pair) {
	note := func(a, b quantity.Value) {
		if p := Compare(a, b); worst == nil || p.Verdict > worst.Verdict {
			worst = &p
		}
	}
	for i, a := range figures[:min(len(figures), 6)] {
		for _, b := range figures[i+1 : min(len(figures), 6)] {
			if a.Unit.Symbol == b.Unit.Symbol || a.Ranges() != b.Ranges() {
				continue
			}
			if note(a.Value, b.Value); a.Ranges() {
				note(a.To, b.To)
			}
		}
	}
	return worst
}

// tokens reads the cells of a line.
func (r *tableReader) tokens(list []cell) (all []token) {
	r.staged = false
	for k, c := range list {
		s := c.text
		for at := 0; at < len(s); {
			t, n := r.token(s, at)
			if n <= 0 {
				_, n = utf8.DecodeRuneInString(s[at:])
			} else {
				t.cell = k
				all = append(all, t)
				r.staged = t.kind == aStage
			}
			at += n
		}
	}
	return all
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// letterBefore says whether a letter or a digit stands just before a place.
func letterBefore(s string, at int) bool {
	c, _ := utf8.DecodeLastRuneInString(s[:at])
	return at > 0 && (unicode.IsLetter(c) || unicode.IsDigit(c))
}

// token reads what stands at a place, and says how long it is; 0 is nothing.
func (r *tableReader) token(s string, at int) (token, int) {
	rest := s[at:]
	c, n := utf8.DecodeRuneInString(rest)
	switch {
	case c == ' ':
		return token{}, 0
	case (c == 'M' || c == 'm') && (!letterBefore(s, at) || at > 1 && s[at-1]|0x20 == 'x' && digit(s[at-2])):
		if m, ok := metric(rest); ok && !r.unitFollows(rest[:m.to], rest[m.to:]) {
			return token{kind: aSize, text: rest[:m.to], size: m.size}, m.to
		} else if ok && m.plain > 0 {
			m, _ = metric(rest[:m.plain])
			return token{kind: aSize, text: rest[:m.to], size: m.size}, m.to
		}
	}
	switch {
	case digit(rest[0]) || rest[0] == '.' && len(rest) > 1 && digit(rest[1]) && !letterBefore(s, at), c == '#':
		return r.number(rest)
	case strings.ContainsRune(halves, c):
		if tail, by := turnTail(rest[n:]); tail > 0 && by > 1 {
			return ofTurn("0"+half(c), by), n + tail
		}
		return token{kind: aNumber, text: "0" + half(c)}, n
	case unicode.IsLetter(c):
		if !letterBefore(s, at) || at > 0 && digit(s[at-1]) {
			if u, n := r.unit(rest); n > 0 {
				return token{kind: aUnit, text: rest[:n], unit: u}, n
			}
		}
		for n < len(rest) {
			c, w := utf8.DecodeRuneInString(rest[n:])
			if !unicode.IsLetter(c) && !unicode.IsDigit(c) {
				break
			}
			n += w
		}
		word := rest[:n]
		if t, n := r.stage(rest, word); n > 0 {
			return t, n
		}
		if parts := map[string]string{"quarter": "0.25", "half": "0.5"}[strings.ToLower(word)]; parts != "" {
			if tail, by := turnTail(rest[n:]); tail > 0 && by > 1 {
				return ofTurn(parts, by), n + tail
			}
		}
		if slices.Contains(rangeWords, strings.ToLower(word)) {
			return token{kind: aDash, text: word}, n
		}
		if tail := strings.TrimLeft(rest[n:], ". "); strings.EqualFold(word, "no") {
			if t, w := inch("#" + tail); w > 1 {
				t.text = rest[:len(rest)-len(tail)+w-1]
				return t, len(t.text)
			}
		}
		return token{kind: aWord, text: word}, n
	case strings.ContainsRune("-–~÷…", c):
		return token{kind: aDash, text: rest[:n]}, n
	case strings.HasPrefix(rest, ".."):
		n = len(rest) - len(strings.TrimLeft(rest, "."))
		return token{kind: aDash, text: rest[:n]}, n
	case c == '±':
		return token{kind: aPlusMinus, text: rest[:n]}, n
	case unicode.IsSpace(c):
		return token{}, 0
	}
	return token{kind: aMark, text: rest[:n]}, n
}

// halves are the fractions that are one sign.
const halves = "½¼¾⅛⅜⅝⅞"

func half(c rune) string {
	return map[rune]string{'½': ".5", '¼': ".25", '¾': ".75", '⅛': ".125", '⅜': ".375", '⅝': ".625", '⅞': ".875"}[c]
}

// number reads a number, a size in inches, or a number that is part of a name: 6g, 1st.
func (r *tableReader) number(rest string) (token, int) {
	if a, b, n := partOf(rest); n > 0 {
		if tail, by := turnTail(rest[n:]); tail > 0 && by > 1 {
			return token{kind: anAngle, text: decimal(float64(by*a) / float64(b))}, n + tail
		}
	}
	if text, n := r.mixed(rest); n > 0 {
		return token{kind: aNumber, text: text}, n
	}
	if t, n := inch(rest); n > 0 && !r.unitFollows(rest[:n], rest[n:]) {
		return t, n
	}
	n := 0
	for n < len(rest) {
		c, w := utf8.DecodeRuneInString(rest[n:])
		if !digit(rest[n]) && !(strings.ContainsRune(".,'’", c) && n+w < len(rest) && digit(rest[n+w])) {
			break
		}
		n += w
	}
	if n == 0 {
		return token{kind: aMark, text: "#"}, 1
	}
	text := rest[:n]
	if text[0] == '.' {
		text = "0" + text
	}
	if tail, by := turnTail(rest[n:]); tail > 0 {
		return ofTurn(text, by), n + tail
	}
	tail := strings.TrimLeft(rest[n:], " ")
	if c, w := utf8.DecodeRuneInString(tail); strings.ContainsRune(halves, c) && strings.Trim(text, "0123456789") == "" {
		return token{kind: aNumber, text: text + half(c)}, len(rest) - len(tail) + w
	}
	c, _ := utf8.DecodeRuneInString(rest[n:])
	if !unicode.IsLetter(c) {
		return token{kind: aNumber, text: text}, n
	}
	if _, w := r.unit(rest[n:]); w > 0 {
		return token{kind: aNumber, text: text}, n
	}
	if c == 'x' || c == 'X' { // 4xM6, or 4x
		return token{kind: aWord, text: rest[:n+1]}, n + 1
	}
	for n < len(rest) {
		c, w := utf8.DecodeRuneInString(rest[n:])
		if !unicode.IsLetter(c) && !unicode.IsDigit(c) {
			break
		}
		n += w
	}
	if number, w := integer(rest); w > 0 && w <= 2 && slices.Contains([]string{"st", "nd", "rd", "th"}, strings.ToLower(rest[w:n])) {
		return token{kind: aStage, text: rest[:n], stage: number}, n
	}
	return token{kind: aWord, text: rest[:n]}, n
}

// unit reads a unit of torque at the front of a text: the longest spelling that is one.
func (r *tableReader) unit(rest string) (quantity.Unit, int) {
	if !strings.ContainsRune("ncdmlifkop", unicode.ToLower(rune(rest[0]))) {
		return quantity.Unit{}, 0
	}
	var ends []int
	words := 0
	for at := 0; at < len(rest) && words < 5 && at < 40; {
		n := at
		for n < len(rest) {
			c, w := utf8.DecodeRuneInString(rest[n:])
			if !unicode.IsLetter(c) {
				break
			}
			n += w
		}
		if n == at {
			break
		}
		if n >= len(rest) || !digit(rest[n]) {
			ends = append(ends, n)
		}
		words++
		// What may stand between the words: a sign or two, with blanks: lbs.-ft.
		at = n
		for signs := 0; at < len(rest); {
			c, w := utf8.DecodeRuneInString(rest[at:])
			if c != ' ' {
				if signs++; signs > 2 || !strings.ContainsRune(".-/·⋅∙•*×", c) {
					break
				}
			}
			at += w
		}
	}
	for k := len(ends) - 1; k >= 0; k-- {
		name := rest[:ends[k]]
		u, seen := r.known[name]
		if !seen {
			if v, err := quantity.Parse("1 "+strings.Replace(name, "/", "-", 1), quantity.Point, quantity.OfTorque); err == nil {
				u = v.Unit
			}
			r.known[name] = u
		}
		if u.Symbol != "" {
			return u, ends[k]
		}
	}
	return quantity.Unit{}, 0
}

// unitFollows says whether the number at the end of a size is a torque: M6-10 N·m.
func (r *tableReader) unitFollows(size, rest string) bool {
	if size == "" || !digit(size[len(size)-1]) {
		return false
	}
	rest = strings.TrimLeft(rest, " ")
	if rest == "" {
		return false
	}
	_, n := r.unit(rest)
	return n > 0
}

// mixed reads a number with a fraction before pounds or ounces: 7 1/2 ft-lb. It gives it as a decimal.
func (r *tableReader) mixed(s string) (string, int) {
	whole, n := integer(s)
	numerator, denominator, m := fraction(s)
	if m == 0 && n > 0 && n < len(s) && (s[n] == ' ' || s[n] == '-') {
		if numerator, denominator, m = fraction(s[n+1:]); m > 0 {
			m += n + 1
		}
	} else {
		whole = 0
	}
	if m == 0 || denominator > 8 {
		return "", 0
	}
	tail := strings.TrimLeft(s[m:], " -")
	if tail == "" {
		return "", 0
	}
	if u, w := r.unit(tail); w == 0 || !strings.HasPrefix(u.Symbol, "lbf") && !strings.HasPrefix(u.Symbol, "ozf") {
		return "", 0
	}
	return strconv.FormatFloat(float64(whole)+float64(numerator)/float64(denominator), 'f', -1, 64), m
}

// integer reads at most four digits.
func integer(s string) (value, n int) {
	for n < len(s) && digit(s[n]) {
		n++
	}
	if n > 4 {
		return 0, 0
	}
	value, _ = strconv.Atoi(s[:n])
	return value, n
}

// fraction reads a fraction of an inch, less than one and in its lowest terms.
func fraction(s string) (numerator, denominator, n int) {
	numerator, n = integer(s)
	if n == 0 || n+1 >= len(s) || s[n] != '/' {
		return 0, 0, 0
	}
	denominator, w := integer(s[n+1:])
	if w == 0 || !slices.Contains([]int{2, 4, 8, 16, 32, 64}, denominator) || numerator%2 == 0 || numerator >= denominator {
		return 0, 0, 0
	}
	n += 1 + w
	if n < len(s) && (s[n] == '/' || s[n] == '.' && n+1 < len(s) && digit(s[n+1])) {
		return 0, 0, 0
	}
	return numerator, denominator, n
}

// inch reads a size in inches: 1/4-20, 1 1/4-7 UNC, #10-32, 10-32 UNF, 1/8 NPT.
func inch(s string) (token, int) {
	series := func(n int) int { // the thread's series behind it
		rest := strings.TrimLeft(s[n:], " -")
		for _, name := range []string{"UNEF", "UNC", "UNF", "UNS", "UNJF", "UNR", "UN", "NPTF", "NPT", "BSPP", "BSPT", "BSP", "BSF", "BSW"} {
			if len(rest) >= len(name) && strings.EqualFold(rest[:len(name)], name) {
				return len(s) - len(rest) + len(name)
			}
		}
		return n
	}
	n, pitched := 0, false
	numbered := strings.HasPrefix(s, "#")
	if numbered {
		n = 1
	}
	if _, w := integer(s[n:]); w > 0 && n+w < len(s) && (s[n+w] == ' ' || s[n+w] == '-') {
		if _, _, m := fraction(s[n+w+1:]); m > 0 && w == 1 {
			n += w + 1 + m
			pitched = true
		}
	}
	if !pitched {
		if _, _, m := fraction(s[n:]); m > 0 {
			n += m
			pitched = true
		}
	}
	if !pitched { // a number and a pitch
		_, w := integer(s[n:])
		if w == 0 || w > 2 || n+w >= len(s) || s[n+w] != '-' {
			return token{}, 0
		}
		m := n + w + 1
		if _, v := integer(s[m:]); v != 2 || m+2 < len(s) && (s[m+2] == '.' || s[m+2] == ',') {
			return token{}, 0
		}
		n = m + 2
		end := series(n)
		if !numbered && end == n {
			return token{}, 0
		}
		return token{kind: aSize, text: s[:end]}, end
	}
	for _, sign := range []string{"\"", "″", "”", " in.", " in ", "in "} {
		if strings.HasPrefix(s[n:], sign) && !strings.HasPrefix(strings.TrimLeft(s[n:], " "), "in lb") {
			n += len(strings.TrimRight(sign, " "))
			break
		}
	}
	for _, sign := range []string{"-", "–", " - ", " x ", "x"} {
		if rest, ok := strings.CutPrefix(s[n:], sign); ok {
			if _, w := integer(rest); (w == 2 || w == 1) && (w == len(rest) || rest[w] == ' ' || rest[w] == '\t' || rest[w] == ',' || rest[w] == ':' || rest[w] == ')' || unicode.IsLetter(rune(rest[w])) || rest[w] == '-') {
				n += len(sign) + w
			}
			break
		}
	}
	n = series(n)
	return token{kind: aSize, text: s[:n]}, n
}

type metricSize struct {
	size      sizeRead
	to, plain int // its length; that of the M and the diameter alone
}

// metric reads a metric size: M6, M 6 x 1.0, M8x1,25x30, M6-1.0. A second number too large for a pitch is the bolt's length.
func metric(s string) (m metricSize, ok bool) {
	n := 1
	if s[0] == 'M' {
		n = len(s) - len(strings.TrimLeft(s[1:], " "))
	}
	d, w := plainNumber(s[n:])
	if w == 0 || !(d >= 1) || d > 100 {
		return m, false
	}
	n += w
	m.plain = n
	name := "M" + decimal(d)
	m.size.diameter = quantity.Length(d)
	if t, err := ParseThread(name); err == nil {
		m.size.thread = &t
	}
	for first := true; ; first = false {
		rest := strings.TrimLeft(s[n:], " ")
		c, w := utf8.DecodeRuneInString(rest)
		if c == '-' && (!first || len(rest) < len(s[n:])) || c == 0 || !strings.ContainsRune("xX×*-", c) {
			break
		}
		rest = rest[w:]
		if c != '-' {
			rest = strings.TrimLeft(rest, " ")
		}
		p, v := plainNumber(rest)
		if v == 0 {
			break
		}
		if first {
			t, err := ParseThread(name + "x" + decimal(p))
			switch {
			case err == nil:
				m.size.thread = &t
			case c == '-':
				v = 0 // M6-10: no pitch
			case p < d/2 && p < 4:
				m.size.thread = nil // a pitch, and none that is known
			}
		}
		if v == 0 {
			break
		}
		n = len(s) - len(rest) + v
	}
	// A tolerance class: -6g, 6H.
	if rest := strings.TrimLeft(s[n:], " -"); len(rest) > 1 && rest[0] >= '4' && rest[0] <= '8' && strings.IndexByte("gGhHeE", rest[1]) >= 0 && (len(rest) == 2 || !letterOrDigit(rest[2:])) {
		n = len(s) - len(rest) + 2
	}
	if letterOrDigit(s[n:]) && n == m.plain {
		return m, false
	}
	m.to = n
	return m, true
}

func letterOrDigit(s string) bool {
	c, _ := utf8.DecodeRuneInString(s)
	return s != "" && (unicode.IsLetter(c) || unicode.IsDigit(c))
}

// plainNumber reads a number with at most one mark in it, which a digit follows.
func plainNumber(s string) (value float64, n int) {
	marked := false
	for n < len(s) && n < 8 && (digit(s[n]) || !marked && n > 0 && (s[n] == '.' || s[n] == ',') && n+1 < len(s) && digit(s[n+1])) {
		marked = marked || !digit(s[n])
		n++
	}
	value, _ = strconv.ParseFloat(strings.Replace(s[:n], ",", ".", 1), 64)
	return value, n
}

// Under gives the line, by its place among the lines, that has the largest torque of those which a line's torque should not fall below
// and does: lines of a smaller diameter, of the same class where both name one.
//
// A torque falls below another where even the upper end of its range is below the lower end of the other's. It says nothing of lines with
// an angle, whose torque is not all, nor by them. It ignores sizes in inches, and that bolts into aluminium, of studs or with sealant have torques of their own: a note, no fault. Checked in table_test.go.
func (t Table) Under(i int) (smaller int, falls bool) {
	l := t.Lines[i]
	if l.Diameter == 0 || len(l.Figures) == 0 || l.Angle > 0 {
		return 0, false
	}
	least := 0.0
	for k, s := range t.Lines {
		if s.Diameter == 0 || s.Diameter >= l.Diameter || len(s.Figures) == 0 || s.Angle > 0 || s.Class != "" && l.Class != "" && s.Class != l.Class {
			continue
		}
		if low := s.Figures[0].In; low > l.Figures[0].top()*(1+within) && low > least && !l.Figures[0].agrees(s.Figures[0]) {
			smaller, falls, least = k, true, low
		}
	}
	return smaller, falls
}

// Falls gives the lines, by their places among the lines, whose torque is below that of a smaller size: see [Table.Under].
func (t Table) Falls() (at []int) {
	for i := range t.Lines {
		if _, falls := t.Under(i); falls {
			at = append(at, i)
		}
	}
	return at
}

// agrees says whether two figures are one as printed, in whatever unit.
func (f Figure) agrees(g Figure) bool {
	same := func(a, b quantity.Value) bool {
		if a.Unit.Symbol == b.Unit.Symbol {
			return a.In == b.In
		}
		x, y := printedOf(a), printedOf(b)
		return agreement(x, x.unit, y, y.unit) == Agree
	}
	if f.Ranges() != g.Ranges() || !same(f.Value, g.Value) {
		return false
	}
	return !f.Ranges() || same(f.To, g.To)
}

// Differs gives the lines, by their places among the lines, that have one size and class and not one torque: "M6 is 8, 12, 14 and 16
// N·m in one table". It is a note that the size does not give the torque, no fault.
//
// A metric size is the same by diameter and pitch, another by its text. Checked in table_test.go.
func (t Table) Differs() (groups [][]int) {
	type kind struct {
		size  string
		pitch quantity.Length
		class string
	}
	var order []kind
	by := map[kind][]int{}
	for i, l := range t.Lines {
		if l.Size == "" || len(l.Figures) == 0 {
			continue
		}
		k := kind{strings.ToLower(strings.ReplaceAll(l.Size, " ", "")), 0, l.Class}
		switch {
		case l.Thread != nil:
			k.size, k.pitch = decimal(float64(l.Diameter)), l.Thread.Pitch
		case l.Diameter > 0:
			k.pitch = quantity.Length(math.Inf(1)) // apart from what is known
		}
		if by[k] == nil {
			order = append(order, k)
		}
		by[k] = append(by[k], i)
	}
	for _, k := range order {
		list := by[k]
		if slices.ContainsFunc(list, func(i int) bool { return !t.Lines[i].Figures[0].agrees(t.Lines[list[0]].Figures[0]) }) {
			groups = append(groups, list)
		}
	}
	return groups
}
