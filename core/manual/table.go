package manual

import (
	"strings"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A Fault says why a line of a table has no torque. The zero Fault is none.
type Fault uint8

// The faults of a line.
const (
	NoTorque   Fault = iota + 1 // there is no torque, or a number without a unit
	Ambiguous                   // it can be read in two ways
	Unreadable                  // a number is malformed, too large, or 0
)

// String returns the fault's word in an answer: no_torque, ambiguous, unreadable; nothing where there is none.
func (f Fault) String() string {
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
	Within quantity.Value // the tolerance after ± or +, a torque or a ratio; else the zero Value
	Less   quantity.Value // the tolerance downwards where it is another one: 10 +2/-1; else the zero Value
}

// Ranges reports whether the figure is a range.
func (f Figure) Ranges() bool { return f.To.Digits != "" }

// top returns the largest torque that the figure names.
func (f Figure) top() float64 { return max(f.In, f.To.In) }

// A Line is what one line of a table says about one size.
type Line struct {
	Number   int    // of the line in the text, from 1; a line with several sizes has several Lines
	Text     string // without white space around it
	Size     string // as printed; "" if there is none
	Thread   *fastener.Thread
	Diameter quantity.Length // in mm, of a metric size, known thread or not; else 0
	Class    string          // the property class, named in the line or above it; "" if there is none
	Figures  []Figure        // in the order printed, of the last stage if there are several; none where there is a fault
	Stages   []Figure        // the first figure of each stage that has a torque; nil if there are fewer than two
	Angle    quantity.Angle  // in degrees, of the last stage tightened by an angle instead of a torque; 0 if there is none
	Pair     *fastener.Pair  // of the figures in different units, the two that agree least; nil if there are no two
	Fault    Fault
	Reads    [2]string // the two readings of a number, where that is why the line is Ambiguous
}

// A Table is a table of torques as it was pasted.
type Table struct {
	Lines []Line
	More  bool // there are more than MaxLines lines; the rest was not read
}

// MaxLines is the largest number of lines of a table that are read.
const MaxLines = 200

// Read reads lines of sizes and torques as they come from a manual, a web page or a spreadsheet.
//
// Cells are separated by tabs, bars, semicolons, two blanks, or commas (below a header with as many). A torque is a number with
// its unit after it, or a number whose unit is in the header of its column or table. "8–10 N·m" is a range, "9 ± 1 N·m" has a
// tolerance. A size is metric (M6, M6x1, M8 x 1,25) or in inches (1/4-20, #10-32); inches are kept as text. If a header has
// classes or sizes over its columns, each row below makes one [Line] for each. Units are spelled as quantity knows them; a slash
// counts as the hyphen.
//
// A bolt may be tightened in stages: "20 N·m then 35 N·m", "1st 15 N·m 2nd 30 N·m", "stage 1: 30 N·m, stage 2: +90°". The last
// stage may be an angle. Then the torque is that of the last stage that has one, and does not tell by itself how tight the bolt
// is. An angle comes after a torque: a number with ° or deg, a part of a turn, a number after a plus, or a number in a column of
// angles. An angle on a line of its own belongs to the line above too. Figures are compared within a stage only, a figure in
// brackets with those before it. If those of the last stage agree and those of an earlier one do not, the earlier ones are the
// line's pair.
//
// Errors: none; a line that has a number and no torque has a [Fault]. It ignores blank lines, bullets, notes, lengths and counts,
// and the angles of fittings and tools if a word beside them names one. It cannot read a torque whose unit follows on another line,
// a size merged over several lines, or stages on lines of their own. Checked in read_test.go, and by fuzzing.
func Read(text string, mark quantity.Mark) Table {
	r := &reader{mark: mark, lexer: lexer{known: map[string]quantity.Unit{}}}
	for i, line := range rows(text) {
		if r.table.More {
			break
		}
		r.line(i+1, line)
	}
	return r.table
}

// A reader knows what the lines above said.
type reader struct {
	mark  quantity.Mark
	lexer lexer
	head  header // the last one
	table Table
	above int // how many Lines there were after the line above, if it had a torque and made one Line; else 0
}

// line reads one line of the text.
func (r *reader) line(number int, text string) {
	var readings []row
	for _, s := range splits(text) {
		readings = append(readings, r.lexer.row(s))
	}
	if len(readings) == 0 {
		return // a blank line, or a rule
	}
	row := r.head.choose(readings)
	if row.isHeader() {
		r.head = r.head.then(row)
		r.above = 0
		return
	}
	r.head.open = false
	lines := body{row, r.head, r.mark}.lines(len(r.table.Lines) == 0)
	if len(lines) == 0 { // only words
		r.above = 0
		return
	}
	r.add(number, strings.TrimSpace(text), lines)
}

// add adds the Lines of one line of the text. An angle alone belongs to the line above too.
func (r *reader) add(number int, text string, lines []Line) {
	one := len(lines) == 1
	if l := lines[0]; r.above > 0 && one && l.Fault == NoTorque && l.Size == "" && l.Angle > 0 {
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
	case one && lines[0].Fault == 0:
		r.above = len(r.table.Lines)
	case !one || lines[0].Angle == 0:
		r.above = 0
	}
}
