package torque

import (
	"slices"
	"strconv"

	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// rank puts what has to be looked at first.
func (l line) rank() int {
	switch {
	case l.verdict == lineDisagrees:
		return 0
	case l.under != "", l.Angle > 0, l.verdict == lineAmbiguous, l.verdict == lineUnreadable:
		return 1
	}
	return 2
}

// table goes through a pasted table, row by row, what does not fit first.
func (p page) table() *sheet.Element {
	list := sheet.New("ul class=rows-checked")
	rows := slices.Clone(p.f.lines)
	slices.SortStableFunc(rows, func(x, y line) int { return x.rank() - y.rank() })
	for _, l := range rows {
		list.With(p.row(l))
	}
	return tool.Slotted(p.Section("table", list, sheet.Text("p", "small", p.say("table.note"))), "table")
}

// row is one line of the table, and what was found of it.
func (p page) row(l line) *sheet.Element {
	item := sheet.New("li data-line=? data-verdict=?", strconv.Itoa(l.Number), string(l.verdict)).With(sheet.Text("code", "", l.Text),
		sheet.Text("span", "", p.rowText(l)))
	if l.Pair != nil {
		item.With(p.slips(l.Pair.Slips))
	}
	if n := len(l.Stages); n > 0 {
		item.With(sheet.Text("span", "stages", p.say("row.stages", strconv.Itoa(n), p.s.in(unit("N.m"), *l.torque))))
	}
	if l.Angle > 0 {
		item.With(sheet.Text("span", "falls", p.say("row.angle", p.s.AtMost(float64(l.Angle), 4))))
	}
	if l.under != "" {
		item.With(sheet.Text("span", "falls", p.say("row.falls", l.under)))
	}
	if l.differs {
		item.With(sheet.Text("span", "differs", p.say("row.differs")))
	}
	return item
}

// rowText says what the line's verdict is.
func (p page) rowText(l line) string {
	switch {
	case l.verdict == lineAmbiguous && l.Reads[0] != "":
		return p.say("row.reads", l.Reads[0], l.Reads[1])
	case l.verdict != lineSingle:
		return p.say("row." + string(l.verdict))
	case l.torque != nil:
		return p.say("row.converted", p.rangeIn(unit("N.m"), l), p.rangeIn(unit("lbf.in"), l))
	}
	return ""
}

// rangeIn writes a line's torque, or its range, in a unit.
func (p page) rangeIn(u quantity.Unit, l line) string {
	if l.span == nil {
		return p.s.in(u, *l.torque)
	}
	return p.s.figure(u, l.span.Least) + "–" + p.s.in(u, l.span.Most)
}
