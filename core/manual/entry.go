package manual

import (
	"slices"

	"ohmwright/core/quantity"
)

// A body is a row that is no header, with the header above it.
type body struct {
	row
	head header
	mark quantity.Mark
}

// An entry is a number that may be a torque, or with degrees for a unit an angle.
type entry struct {
	at, cell  int    // its token and its cell
	digits    string // of the number, or of the lower end of a range
	top       string // of the upper end of a range
	within    tolerance
	unit      quantity.Unit // the zero Unit as long as it is not known
	headed    bool          // the header has the unit
	headStage int           // the stage that the header names with it, 0 if it names none
	fault     Fault
}

// A tolerance is what comes after ±, or after + and −.
type tolerance struct {
	digits  string
	less    string // after −
	percent bool
	unit    quantity.Unit
}

// united reports whether an entry has a unit.
func (e entry) united() bool { return e.unit.Symbol != "" }

// entries finds the numbers that may be torques, with their ranges, tolerances and the units beside them, and the property class.
func (b body) entries() (list []entry, class string) {
	f := finder{body: b}
	for k := 0; k < len(b.tokens); {
		k = f.find(k)
	}
	return f.list, f.class
}

// A finder finds entries from left to right. Its steps take the token at which they begin and return the one at which they end.
type finder struct {
	body
	list  []entry
	class string // "" until it is found
}

// find takes a number and all that belongs to it, or skips a token.
func (f *finder) find(k int) int {
	if !f.is(k, aNumber) {
		return k + 1
	}
	if class, ok := classIn(f.tokens[k].text); ok && f.isClass(k) {
		f.class = class
		return k + 1
	}
	if f.measured(k) {
		return k + 1
	}
	e := entry{at: k, cell: f.tokens[k].cell, digits: f.tokens[k].text}
	end := f.tolerance(&e, k+1)
	if e.within.digits == "" && f.isMark(end, "/") && f.is(end+1, aNumber) && f.is(end+2, aUnit) {
		return f.slashed(e, end+1)
	}
	end = f.unit(&e, end)
	end = f.upper(&e, end)
	end = f.beside(&e, end)
	f.list = append(f.list, e)
	return end
}

// isClass reports whether a number in the list of classes is a class here: after a word such as "class", where it can have no other
// meaning, or between dashes after a size: M6 - 8.8 - 10 N·m.
func (f *finder) isClass(k int) bool {
	if f.class != "" || f.is(k+1, aUnit) || f.measured(k) {
		return false
	}
	afterSize := f.is(k-1, aDash) && f.is(k-2, aSize)
	ranged := f.is(k+1, aDash) && f.is(k+2, aNumber) && !afterSize
	free := !f.is(k+1, aPlusMinus) && !f.is(k-1, aDash) && !f.is(k-1, aPlusMinus)
	return f.calledClass(k) || !ranged && (free && f.alone(k) || afterSize && f.is(k+1, aDash))
}

// alone reports whether a number that may be a class can have no other meaning: other numbers have units beside them, or the header has
// units, fewer than there are numbers, and none over this one.
func (f *finder) alone(k int) bool {
	if f.united() {
		return true
	}
	if c := f.tokens[k].cell; c < len(f.head.columns) && len(f.head.columns) > 1 && len(f.head.columns[c].units) > 0 {
		return false
	}
	numbers := 0
	for j := range f.tokens {
		if f.is(j, aNumber) && !f.measured(j) {
			numbers++
		}
	}
	return numbers > len(f.head.units) && len(f.head.units) > 0
}

// tolerance takes a tolerance, also in brackets, with its unit, which is the number's too if that has none yet.
func (f *finder) tolerance(e *entry, from int) int {
	k := from
	if f.isMark(k, "(") {
		k++
	}
	end := f.uneven(e, k)
	if f.is(k, aPlusMinus) && f.is(k+1, aNumber) {
		e.within.digits = f.tokens[k+1].text
		end = f.withinUnit(e, k+2)
	}
	switch {
	case end == k:
		return from
	case k > from && f.isMark(end, ")"):
		return end + 1
	}
	return end
}

// withinUnit takes the unit of a tolerance.
func (f *finder) withinUnit(e *entry, k int) int {
	switch {
	case f.is(k, aUnit):
		e.within.unit = f.tokens[k].unit
		if !e.united() {
			e.unit = e.within.unit
		}
		return k + 1
	case f.isMark(k, "%"):
		e.within.percent = true
		return k + 1
	}
	return k
}

// uneven takes a tolerance that is another one downwards: 10 +2/-1 N·m. With one half of it, as in 10 +2 N·m, nobody can tell. It returns
// from if there is none.
func (f *finder) uneven(e *entry, from int) int {
	sign := f.sign(from)
	if sign == "" || !f.is(from+1, aNumber) {
		return from
	}
	half := entry{unit: e.unit, within: tolerance{digits: f.tokens[from+1].text}}
	k := f.withinUnit(&half, from+2)
	if f.isMark(k, "/") {
		k++
	}
	if other := f.sign(k); other == "" || other == sign || !f.is(k+1, aNumber) {
		if sign == "+" && !e.united() && half.united() {
			e.fault, e.unit = Ambiguous, half.unit
			return k
		}
		return from
	}
	half.within.less = f.tokens[k+1].text
	k = f.withinUnit(&half, k+2)
	if sign == "-" {
		half.within.digits, half.within.less = half.within.less, half.within.digits
	}
	e.within, e.unit = half.within, half.unit
	return k
}

// sign returns the sign of one side of a tolerance, "" for any other token.
func (f *finder) sign(k int) string {
	switch {
	case f.isMark(k, "+"):
		return "+"
	case f.is(k, aDash) && (f.tokens[k].text == "-" || f.tokens[k].text == "–"):
		return "-"
	}
	return ""
}

// slashed takes the second of two numbers with a slash between them, and their units: 10/89 N·m/in-lb. With one unit for both, as in
// 10/12 N·m, they might be two torques or a range.
func (f *finder) slashed(first entry, k int) int {
	second := entry{at: k, cell: first.cell, digits: f.tokens[k].text, unit: f.tokens[k+1].unit}
	first.unit = second.unit
	end := k + 2
	if f.isMark(end, "/") && f.is(end+1, aUnit) {
		second.unit = f.tokens[end+1].unit
		end += 2
	} else {
		first.fault = Ambiguous
	}
	f.list = append(f.list, first, second)
	return end
}

// unit takes the unit after a number, in the same cell or with a cell to itself, and a tolerance after that.
func (f *finder) unit(e *entry, k int) int {
	if e.united() || !f.is(k, aUnit) || !f.same(k-1, k) && k+1 < len(f.tokens) && f.same(k, k+1) {
		return k
	}
	e.unit = f.tokens[k].unit
	return f.tolerance(e, k+1)
}

// upper takes the upper end of a range, with the same unit if both have one: 8–10 N·m, 8 N·m – 10 N·m.
func (f *finder) upper(e *entry, k int) int {
	if e.within.digits != "" || !f.ranges(e, k) || !f.is(k+1, aNumber) || !f.same(k, k+1) || !f.same(e.at, k) || f.measured(k+1) {
		return k
	}
	unit, end := quantity.Unit{}, k+2
	if f.is(end, aUnit) {
		unit = f.tokens[end].unit
		end++
	}
	if e.united() && e.unit.Symbol != unit.Symbol {
		return k
	}
	e.top, e.unit = f.tokens[k+1].text, unit
	return f.tolerance(e, end)
}

// ranges reports whether a token stands between the ends of a range: a dash, "to", "max", or "and" after "between".
func (f *finder) ranges(e *entry, k int) bool {
	and := f.is(k, aWord) && oneOf(andWords, f.tokens[k].text)
	return f.is(k, aDash) || and && f.is(e.at-1, aWord) && oneOf(betweenWords, f.tokens[e.at-1].text)
}

// beside takes the second of two figures with one unit behind both, which may be either or a range: 9 or 11 N·m, M6 9, 11 N·m. It returns
// k if there is none.
func (f *finder) beside(first *entry, k int) int {
	word := f.is(k, aWord) && (oneOf(orWords, f.tokens[k].text) || oneOf(andWords, f.tokens[k].text))
	joins := word || f.isMark(k, ",") && f.is(first.at-1, aSize)
	if !joins || first.united() || !f.is(k+1, aNumber) || f.measured(k+1) {
		return k
	}
	second := entry{at: k + 1, cell: f.tokens[k+1].cell, digits: f.tokens[k+1].text}
	if end := f.unit(&second, k+2); second.united() {
		first.unit, first.fault = second.unit, Ambiguous
		return end
	}
	return k
}

// size returns the first size in the row, or a number in a column of sizes, which is then no entry; nil if there is none.
func (b body) size(entries []entry) (*token, []entry) {
	for k := range b.tokens {
		if b.is(k, aSize) {
			return &b.tokens[k], entries
		}
	}
	for _, e := range entries {
		c := b.column(e.cell)
		if c == nil || !c.sized || len(c.units) > 0 || e.united() {
			continue
		}
		text := b.cells[e.cell].text
		if m, ok := metric("M" + text); ok && m.to == 1+len(text) {
			rest := slices.DeleteFunc(slices.Clone(entries), func(other entry) bool { return other.cell == e.cell })
			return &token{kind: aSize, text: text, cell: e.cell, size: m.size}, rest
		}
	}
	return nil, entries
}

// column returns the header's column above a cell, nil if there is none. If cells are missing between
// blanks, it is the column that overlaps the cell most.
func (b body) column(k int) *column {
	columns := b.head.columns
	if b.head.by != b.by || len(columns) < 2 || len(b.cells) < 2 {
		return nil
	}
	if b.by != ' ' || len(b.cells) == len(columns) {
		if k < len(columns) {
			return &columns[k]
		}
		return nil
	}
	best, most := -1, 0
	for j, c := range columns {
		if shared := min(c.to, b.cells[k].to) - max(c.from, b.cells[k].from) + 1; shared > most {
			best, most = j, shared
		}
	}
	if best < 0 {
		return nil
	}
	return &columns[best]
}
