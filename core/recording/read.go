package recording

import (
	"math"
	"strconv"
	"strings"

	"ohmwright/core/quantity"
)

const (
	largest   = 1e12 // of a time or a current
	leastStep = 1e-12
	nothing   = 1e-9 // A: less is no current
)

// Read reads a recording: lines of numbers, time and current among them, below any lines of text.
//
// The separator is a tab, a semicolon or a comma that most lines have, else spaces; the decimal mark is decided for the
// file as a whole. A header is the line before the numbers, or the one before a line of units. Columns are found by their
// units, then by their names, then by their order, without a first column that counts.
//
// Errors: *[Fault], of each [FaultKind]. It ignores blank lines, a byte order mark, and other columns.
// Checked in read_test.go and in core/trace with the layouts of testdata/recordings, and by fuzzing.
func Read(text string, l Layout) (Recording, error) {
	p := &reader{text: text, asked: l}
	for _, step := range []func() *Fault{p.cut, p.findBody, p.findColumns, p.findDecimal, p.readSamples} {
		if f := step(); f != nil {
			f.Given, f.Before, f.Name = quantity.Clip(f.Given), quantity.Clip(f.Before), quantity.Clip(f.Name)
			return Recording{}, f
		}
	}
	return p.recording(), nil
}

// A reader has what is known of a text so far; each step of Read adds to it.
type reader struct {
	text  string
	asked Layout
	table // cut
	body  // findBody, and the header above
	header
	time, current column // findColumns
	decimal       mark   // findDecimal
	found         Samples
}

// cut cuts the text into lines and finds the separator.
func (p *reader) cut() *Fault {
	if len(p.text) > MaxBytes {
		return &Fault{Kind: TooLong}
	}
	p.lines = linesOf(strings.TrimPrefix(p.text, "\ufeff"))
	if len(p.lines) == 0 {
		return &Fault{Kind: Empty}
	}
	if len(p.lines) > MaxSamples+maxHeader {
		return &Fault{Kind: TooMany, Line: p.lines[MaxSamples].no}
	}
	p.separator = separatorOf(p.lines)
	return nil
}

// count returns how many samples there are, and sample the cells of one.
func (p *reader) count() int            { return len(p.lines) - p.first }
func (p *reader) sample(n int) []string { return p.row(p.first + n) }

// readSamples reads both columns.
func (p *reader) readSamples() *Fault {
	n := p.count()
	if n > MaxSamples {
		return &Fault{Kind: TooMany, Line: p.lines[p.first+MaxSamples].no, Given: strconv.Itoa(n)}
	}
	s := Samples{T: make([]float64, 0, n), I: make([]float64, 0, n)}
	before, most := "", 0.0
	for k := range n {
		cells := p.sample(k)
		t, f := p.value(cells, &p.time)
		i := 0.0
		if f == nil {
			i, f = p.value(cells, &p.current)
		}
		if f == nil && k > 0 {
			if kind := stepFault(t - s.T[k-1]); kind != 0 {
				f = &Fault{Kind: kind, Column: p.time.at + 1, Given: at(cells, p.time.at), Before: before}
			}
		}
		if f != nil {
			f.Line = p.lines[p.first+k].no
			return f
		}
		before = at(cells, p.time.at)
		s.T, s.I = append(s.T, t), append(s.I, i)
		most = max(most, math.Abs(i))
	}
	switch {
	case n < MinSamples:
		return &Fault{Kind: TooFew, Given: strconv.Itoa(n)}
	case most < nothing:
		return &Fault{Kind: AllZero, Column: p.current.at + 1}
	}
	p.found = s
	return nil
}

// value reads the cell of a column, in s or A.
func (p *reader) value(cells []string, c *column) (float64, *Fault) {
	cell := at(cells, c.at)
	v, kind := parse(cell, p.decimal)
	v = v * c.unit.mul / c.unit.div
	if c.unit.kind == ofVoltage {
		v /= p.asked.Probe
	}
	if kind == 0 && !(math.Abs(v) <= largest) {
		kind = OutOfRange
	}
	if kind != 0 {
		return 0, &Fault{Kind: kind, Column: c.at + 1, Given: cell}
	}
	return v, nil
}

// stepFault says what is wrong with the time from one sample to the next; 0: nothing.
func stepFault(step float64) FaultKind {
	switch {
	case step < 0:
		return NotSorted
	case step == 0:
		return RepeatedTime
	case step < leastStep:
		return OutOfRange
	}
	return 0
}

// recording gathers what was found.
func (p *reader) recording() Recording {
	r := Recording{
		Samples: p.found, Separator: p.separator, Comma: p.decimal == comma,
		First: p.lines[p.first].no, Header: p.header.line,
		TimeColumn: p.time.at + 1, TimeUnit: p.time.symbol, TimeAssumed: p.time.assumed,
		CurrentColumn: p.current.at + 1, CurrentUnit: p.current.symbol, CurrentAssumed: p.current.assumed,
	}
	r.findGaps()
	return r
}
