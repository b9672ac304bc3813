package manual

import (
	"slices"
	"strings"

	"ohmwright/core/quantity"
)

// A header is what a line, or several lines one after another, say about the rows below.
type header struct {
	columns []column
	by      rune       // the separator
	units   []headUnit // of all columns, in order
	angle   string     // in degrees, added to every torque: "N·m + 90°"
	class   string     // of all rows below, until another header names one
	open    bool       // no row has come yet: a header that follows adds to this one
}

// A headUnit is a unit of a header and the stage that it is for, 0 if it names none.
type headUnit struct {
	quantity.Unit
	stage int
}

// A column is what a header says about the cells below it.
type column struct {
	from, to int             // in characters of the line
	units    []quantity.Unit // degrees included
	stage    int             // of its torques; 0 if it names none
	class    string
	size     *token
	sized    bool // bare numbers in it are diameters
}

// classes are the property classes that a table may name (ISO 898-1).
var classes = []string{"3.6", "4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"}

// classIn returns a number with a point for its comma, and whether it is a property class.
func classIn(number string) (string, bool) {
	n := strings.Replace(number, ",", ".", 1)
	return n, slices.Contains(classes, n)
}

// choose decides between the ways in which a line was cut. Commas separate its cells if they do so in the header above, with as many
// columns, or if the line so cut is a header with a unit and the header above is not cut by commas.
func (h header) choose(readings []row) row {
	if len(readings) == 1 {
		return readings[0]
	}
	whole, commas := readings[0], readings[1]
	unit := slices.ContainsFunc(commas.tokens, func(t token) bool { return t.kind == aUnit })
	switch {
	case h.by == ',' && len(commas.cells) == len(h.columns):
		return commas
	case h.by != ',' && len(commas.cells) > 1 && commas.isHeader() && unit:
		return commas
	}
	return whole
}

// isHeader reports whether a row is a header: it has units, or classes or sizes over columns, and no torque of its own.
func (r row) isHeader() bool {
	units, numbers, named, sizes, dashes := 0, 0, map[string]bool{}, 0, 0
	for k, t := range r.tokens {
		switch t.kind {
		case aUnit:
			units++
			if r.garbled(k) {
				return false
			}
		case aSize:
			sizes++
		case aDash:
			dashes++
		case aNumber:
			if r.measured(k) {
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
	case numbers > 1:
		return true
	case units == 1:
		return r.is(0, aWord) && r.is(len(r.tokens)-1, aUnit) && !r.united()
	}
	return units == 0 && r.namesClass()
}

// garbled reports whether something that begins like a number and is none comes before a unit: 1e999 N·m.
func (r row) garbled(unit int) bool { return r.is(unit-1, aWord) && digit(r.tokens[unit-1].text[0]) }

// united reports whether some number has a unit after it.
func (r row) united() bool {
	for k := range r.tokens {
		if r.is(k, aUnit) && r.is(k-1, aNumber) {
			return true
		}
	}
	return false
}

// namesClass reports whether some number has a word such as "class" before it.
func (r row) namesClass() bool {
	for k := range r.tokens {
		if r.is(k, aNumber) && r.calledClass(k) {
			return true
		}
	}
	return false
}

// calledClass reports whether the word before a token is one such as "class".
func (r row) calledClass(k int) bool {
	return r.is(k-1, aWord) && oneOf(classNames, r.tokens[k-1].text)
}

// measured reports whether the number is no torque, judging by its neighbours: "4 pcs", "20 °C", the 85 of "85–95°", "1. stage".
func (r row) measured(k int) bool {
	own := func(j int, kind tokenKind) bool { return r.is(j, kind) && r.same(j, k) }
	sign := func(j int, signs ...string) bool { return own(j, aMark) && slices.Contains(signs, r.tokens[j].text) }
	switch {
	case own(k-1, aWord) && oneOf(itemNames, r.tokens[k-1].text), sign(k-1, ".") && own(k-2, aWord) && oneOf(itemNames, r.tokens[k-2].text):
		return true
	case own(k+1, aUnit):
		return false
	case own(k+1, aStage):
		return true
	case (own(k+1, aDash) || own(k+1, aPlusMinus)) && own(k+2, anAngle):
		return true
	case own(k+1, aWord):
		return oneOf(measureWords, r.tokens[k+1].text)
	case own(k+1, aMark):
		return sign(k+1, ".") && own(k+2, aStage) || sign(k+1, "°", "%", "º", "\"", "×", "=") ||
			sign(k+1, "*") && (own(k+2, aNumber) || own(k+2, aSize)) // else a footnote's
	}
	return sign(k-1, "×", "*", "#", "+")
}

// then returns the header that a row makes below this one. It adds to this one if no other row has come between and both have the same
// columns.
func (h header) then(r row) header {
	next := r.header(h.class)
	if !h.open || h.by != next.by || next.by == ' ' && len(h.columns) != len(next.columns) {
		return next
	}
	for n := len(next.columns); n < len(h.columns); n++ {
		next.columns = append(next.columns, column{from: n, to: n + 1})
	}
	for k, c := range h.columns {
		next.columns[k].add(c)
	}
	next.units = nil
	for _, c := range next.columns {
		for _, u := range c.units {
			next.units = append(next.units, headUnit{u, c.stage})
		}
	}
	return next
}

// add fills in what a column lacks from the one above it.
func (c *column) add(above column) {
	if len(c.units) == 0 {
		c.units = above.units
	}
	if c.class == "" {
		c.class = above.class
	}
	if c.size == nil {
		c.size = above.size
	}
	c.sized = c.sized || above.sized
	if c.stage == 0 {
		c.stage = above.stage
	}
}

// header reads a header. class is the one in force above it.
func (r row) header(class string) header {
	h := header{by: r.by, open: true, columns: make([]column, len(r.cells))}
	for k, c := range r.cells {
		h.columns[k].from, h.columns[k].to = c.from, c.to
	}
	var named []string
	stage := 0
	for k, t := range r.tokens {
		c := &h.columns[t.cell]
		if r.namesAngles(k) && (len(c.units) == 0 || !isDegrees(c.units[len(c.units)-1])) {
			c.units = append(c.units, degrees)
			h.units = append(h.units, headUnit{degrees, stage})
		}
		switch t.kind {
		case anAngle:
			if r.turnsBolt(k) {
				h.angle = t.text
			}
		case aStage:
			if t.stage > 0 {
				c.stage, stage = t.stage, t.stage
			}
		case aUnit:
			c.units = append(c.units, t.unit)
			h.units = append(h.units, headUnit{t.unit, stage})
		case aNumber:
			if name, ok := classIn(t.text); ok {
				c.class = name
				named = append(named, name)
			}
		case aSize:
			c.size = &t
		case aWord:
			c.sized = c.sized || oneOf(sizeNames, t.text)
		}
	}
	h.setClass(slices.Compact(named), class)
	return h
}

// setClass takes the classes that a header names. Several are those of its columns; a single one is that of all rows below; if there is
// none, the one from above stays in force.
func (h *header) setClass(named []string, above string) {
	if len(named) > 1 {
		return
	}
	for k := range h.columns {
		h.columns[k].class = ""
	}
	h.class = above
	if len(named) == 1 {
		h.class = named[0]
	}
}

// namesAngles reports whether a token names a column of angles: angle, deg, °.
func (r row) namesAngles(k int) bool {
	switch t := r.tokens[k]; t.kind {
	case aWord:
		word := strings.ToLower(t.text)
		return word == "angle" || slices.Contains(degreeNames, word) || strings.HasSuffix(word, "winkel")
	case aMark:
		temperature := r.is(k+1, aWord) && len(r.tokens[k+1].text) == 1 // °C
		return isDegreeSign([]rune(t.text)[0]) && !temperature && !r.is(k-1, aNumber)
	}
	return false
}

// turnsBolt reports whether an angle is one that a bolt is turned by, and not that of a part or a tool named beside it.
func (r row) turnsBolt(k int) bool {
	for _, j := range [2]int{k - 1, k + 1} {
		if r.is(j, aWord) && r.same(j, k) && oneOf(toolNames, r.tokens[j].text) {
			return false
		}
	}
	return true
}
