package manual

import (
	"slices"

	"ohmwright/core/quantity"
)

// assign fills in the units of entries that have none beside them: the units of their cell, of their column, or of the whole header.
func (b body) assign(entries []entry) Fault {
	known := slices.ContainsFunc(entries, entry.united)
	for c := range b.cells {
		bare := bareIn(entries, c)
		if len(bare) == 0 {
			continue
		}
		if head := b.column(c); head != nil && len(head.units) > 0 {
			if len(bare) > len(head.units) {
				return Ambiguous
			}
			known = true
			for k, e := range bare {
				e.unit, e.headed = head.units[k], true
			}
		} else if units := b.looseUnits(c); len(units) == len(bare) {
			known = true
			for k, e := range bare {
				e.unit = units[k]
			}
		}
	}
	if known || len(b.head.units) == 0 || b.headedCell() {
		return 0
	}
	return b.fromHeader(entries)
}

// bareIn returns the entries in a cell that have no unit.
func bareIn(entries []entry, cell int) (bare []*entry) {
	for k := range entries {
		if entries[k].cell == cell && !entries[k].united() {
			bare = append(bare, &entries[k])
		}
	}
	return bare
}

// looseUnits returns the units in a cell that has no words and no unit right after a number: 10 (89) N·m (in-lb).
func (b body) looseUnits(cell int) (units []quantity.Unit) {
	for k, t := range b.tokens {
		switch {
		case t.cell != cell:
		case t.kind == aWord, t.kind == aUnit && b.is(k-1, aNumber):
			return nil
		case t.kind == aUnit:
			units = append(units, t.unit)
		}
	}
	return units
}

// headedCell reports whether some cell of the row is below a column that has a unit.
func (b body) headedCell() bool {
	for k := range b.cells {
		if c := b.column(k); c != nil && len(c.units) > 0 {
			return true
		}
	}
	return false
}

// fromHeader gives the entries the units of the header in order. Numbers before the size are skipped if there are as many after it as
// there are units. An angle that has its degrees beside it is no entry and needs no unit.
func (b body) fromHeader(entries []entry) Fault {
	units := b.head.units
	if slices.ContainsFunc(b.tokens, func(t token) bool { return t.kind == anAngle }) {
		units = slices.DeleteFunc(slices.Clone(units), func(u headUnit) bool { return isDegrees(u.Unit) })
	}
	skipped := 0
	for k := 1; k < len(entries); k++ {
		if len(entries)-k == len(units) && b.sizeBefore(entries[k].at) && !b.sizeBefore(entries[k-1].at) {
			skipped = k
		}
	}
	entries = entries[skipped:]
	switch len(entries) {
	case 0:
		return 0
	case len(units):
		for k, u := range units {
			entries[k].unit, entries[k].headStage, entries[k].headed = u.Unit, u.stage, true
		}
		return 0
	}
	return Ambiguous
}

// sizeBefore reports whether a size comes before a token.
func (b body) sizeBefore(at int) bool {
	return slices.ContainsFunc(b.tokens[:at], func(t token) bool { return t.kind == aSize })
}
