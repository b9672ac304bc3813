package recording

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// A column is where time or current stands, and in which unit.
type column struct {
	at      int // from 0
	header  string
	unit    unit
	symbol  string // of the unit, as written
	assumed bool   // nothing names the unit
}

// findColumns decides which columns are time and current, and in which units.
func (p *reader) findColumns() (f *Fault) {
	current := p.asked.CurrentColumn - 1
	time := p.timeColumn(current)
	if current < 0 {
		current = p.currentColumn(time)
	}
	if p.time, f = p.columnAt(time, p.asked.TimeUnit, "s", ofTime); f != nil {
		return f
	}
	if p.current, f = p.columnAt(current, p.asked.CurrentUnit, "A", ofCurrent, ofVoltage); f != nil {
		return f
	}
	if p.current.unit.kind == ofVoltage && !(p.asked.Probe > 1e-9 && p.asked.Probe < 1e9) {
		return &Fault{Kind: NeedsProbe, Line: p.header.line, Column: current + 1, Given: p.current.symbol, Name: p.current.header}
	}
	return nil
}

// A want is a condition that a column may meet.
type want func(k int, h head) bool

func anything(int, head) bool { return true }

func inUnit(of kind) want { return func(_ int, h head) bool { return h.known && h.unit.kind == of } }

func called(names []string) want {
	return func(_ int, h head) bool { return slices.Contains(names, h.name) }
}

// prefer returns the first column of numbers that meets the first want that any of them meets, or -1; one column is left out.
func (p *reader) prefer(not int, wants ...want) int {
	for _, meets := range wants {
		for _, k := range p.numeric {
			if k != not && meets(k, p.heads[k]) {
				return k
			}
		}
	}
	return -1
}

// timeColumn finds the time by its unit, then by its name, then by its place behind a counting column; current is taken already.
func (p *reader) timeColumn(current int) int {
	if p.asked.TimeColumn > 0 {
		return p.asked.TimeColumn - 1
	}
	if k := p.prefer(current, inUnit(ofTime), called(timeNames)); k >= 0 {
		return k
	}
	var rest []int
	for _, k := range p.numeric {
		if k != current && !called(indexNames)(k, p.heads[k]) {
			rest = append(rest, k)
		}
	}
	switch {
	case len(rest) == 0:
		return p.prefer(current, anything)
	case len(rest) > 2 && p.counts(rest[0]) && p.rises(rest[1]):
		return rest[1]
	}
	return rest[0]
}

// currentColumn finds the current by its unit or name, then a voltage, then a column behind the time, then any other.
func (p *reader) currentColumn(time int) int {
	isTime, isIndex := inUnit(ofTime), called(indexNames)
	behind := func(k int, h head) bool { return k > time && !isTime(k, h) }
	other := func(k int, h head) bool { return !isTime(k, h) && !isIndex(k, h) }
	return p.prefer(time, inUnit(ofCurrent), called(currentNames), inUnit(ofVoltage), behind, other, anything)
}

// columnAt finds a column's unit: the one asked for, else the header's, else the usual one.
func (p *reader) columnAt(at int, asked, usual string, kinds ...kind) (column, *Fault) {
	h := p.heads[at]
	c := column{at: at, header: h.text}
	switch fits := h.known && slices.Contains(kinds, h.unit.kind); {
	case asked != "":
		u, ok := unitCalled(asked)
		if !ok || !slices.Contains(kinds, u.kind) {
			return c, c.unknownUnit(0, asked, kinds)
		}
		c.unit, c.symbol = u, asked
	case fits:
		c.unit, c.symbol = h.unit, h.given
	case h.unknown || h.known && strings.ContainsAny(h.text, "(["):
		return c, c.unknownUnit(p.header.line, h.given, kinds)
	default:
		c.unit, _ = unitCalled(usual)
		c.symbol, c.assumed = usual, true
	}
	return c, nil
}

// unknownUnit returns the fault of a unit that is unknown or of another kind.
func (c *column) unknownUnit(line int, given string, kinds []kind) *Fault {
	f := &Fault{Kind: UnknownUnit, Line: line, Column: c.at + 1, Given: given, Name: c.header}
	for _, n := range knownUnits {
		if u, ok := unitCalled(n); ok && slices.Contains(kinds, u.kind) {
			f.Want = append(f.Want, n)
		}
	}
	return f
}

// counts reports whether each number of a column is the one before plus one.
func (p *reader) counts(column int) bool {
	return p.holds(column, func(v, before float64) bool { return v == before+1 })
}

// rises reports whether each number of a column is more than the one before.
func (p *reader) rises(column int) bool {
	return p.holds(column, func(v, before float64) bool { return v > before })
}

// holds reports whether something is true of each number of a column and the one before, in the first 512 samples.
func (p *reader) holds(column int, is func(v, before float64) bool) bool {
	before := math.NaN()
	for n := range min(p.count(), looked) {
		v, err := strconv.ParseFloat(strings.Replace(at(p.sample(n), column), ",", ".", 1), 64)
		if err != nil || !math.IsNaN(before) && !is(v, before) {
			return false
		}
		before = v
	}
	return true
}
