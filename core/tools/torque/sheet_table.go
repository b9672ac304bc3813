package torque

import (
	"slices"
	"sort"
	"strconv"

	"ohmwright/core/manual"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

// rank returns 0 for lines that disagree, 1 for lines to look at, and 2 for the rest.
func rank(l manual.Judged) int {
	switch {
	case l.Verdict == manual.Disagrees:
		return 0
	case l.Under != "", l.Angle > 0, l.Verdict == manual.TwoWays, l.Verdict == manual.NotReadable:
		return 1
	}
	return 2
}

// table lays out a pasted table line by line. Lines with a problem come first.
func (p page) table() *sheet.Element {
	list := sheet.New("ul class=rows-checked")
	rows := slices.Clone(p.f.table.Lines)
	sort.SliceStable(rows, func(i, j int) bool { return rank(rows[i]) < rank(rows[j]) })
	for _, l := range rows {
		list.With(p.row(l))
	}
	return tool.Slotted(p.Section("table", list, sheet.Text("p", "small", p.s.Say("table.note"))), "table")
}

// row lays out one line of the table and what was found about it.
func (p page) row(l manual.Judged) *sheet.Element {
	item := sheet.New("li data-line=? data-verdict=?", strconv.Itoa(l.Number), string(l.Verdict)).With(sheet.Text("code", "", l.Text),
		sheet.Text("span", "", p.rowText(l)))
	if l.Pair != nil {
		item.With(p.slips(l.Pair.Slips))
	}
	if n := len(l.Stages); n > 0 {
		item.With(sheet.Text("span", "stages", p.s.Say("row.stages", strconv.Itoa(n), p.s.In(speech.Unit("N.m"), *l.Torque))))
	}
	if l.Angle > 0 {
		item.With(sheet.Text("span", "falls", p.s.Say("row.angle", p.s.AtMost(float64(l.Angle), 4))))
	}
	if l.Under != "" {
		item.With(sheet.Text("span", "falls", p.s.Say("row.falls", l.Under)))
	}
	if l.Differs {
		item.With(sheet.Text("span", "differs", p.s.Say("row.differs")))
	}
	return item
}

// rowText says in words what the line's verdict is.
func (p page) rowText(l manual.Judged) string {
	switch {
	case l.Verdict == manual.TwoWays && l.Reads[0] != "":
		return p.s.Say("row.reads", l.Reads[0], l.Reads[1])
	case l.Verdict != manual.Single:
		return p.s.Say("row." + string(l.Verdict))
	case l.Torque != nil:
		return p.s.Say("row.converted", p.rangeIn(speech.Unit("N.m"), l), p.rangeIn(speech.Unit("lbf.in"), l))
	}
	return ""
}

// rangeIn writes a line's torque, or its range, in a unit.
func (p page) rangeIn(u quantity.Unit, l manual.Judged) string {
	if l.Span == nil {
		return p.s.In(u, *l.Torque)
	}
	return p.s.Figure(u, l.Span.Least) + "–" + p.s.In(u, l.Span.Most)
}
