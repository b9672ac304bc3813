package bank

import (
	"strconv"
	"strings"

	"ohmwright/core/bank"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

// marks are the shapes of the verdicts on the sheet.
var marks = map[bank.Overall]sheet.Mark{
	bank.Out: sheet.MarkDisagree, bank.Leak: sheet.MarkUnwanted, bank.OffTogether: sheet.MarkUndecided, bank.Odd: sheet.MarkDisagree,
	bank.Unlike: sheet.MarkDisagree, bank.Differs: sheet.MarkDisagree, bank.Undecided: sheet.MarkUndecided, bank.NotRead: sheet.MarkWaiting,
	bank.NoSpec: sheet.MarkWaiting, bank.Plausible: sheet.MarkWithin,
}

// rowMarks are the shapes of the verdicts on a winding.
var rowMarks = map[string]sheet.Mark{
	string(winding.OverallOpen): sheet.MarkOpen, string(winding.NoSpecification): sheet.MarkWaiting, string(winding.Shorted): sheet.MarkBelow,
	string(measure.Below): sheet.MarkBelow, string(measure.Within): sheet.MarkWithin, string(measure.Above): sheet.MarkAbove,
	string(measure.Undecided): sheet.MarkUndecided, string(bank.NotRead): sheet.MarkWaiting,
}

// lay lays out what the sheet says.
func lay(q question, f finding, l *tool.Layout) {
	word := string(f.Overall)
	l.Verdict(marks[f.Overall], word, l.Speak.Say("word."+word), headline(q, f, l.Speak))
	l.Reason(l.Speak.Say("why." + word))
	l.Add(bankDrawing(q, f, l), rowCards(q, f, l))
	if len(f.Pins) > 0 {
		l.Add(pinSheet(q, f, l))
	}
}

// concerned reports whether the verdict of the sheet is about a winding.
func concerned(o bank.Overall) func(bank.Judged) bool {
	switch o {
	case bank.Leak:
		return func(j bank.Judged) bool { return j.ToCase == bank.InsulationLeaks }
	case bank.Odd:
		return isLike(bank.LikeOdd)
	case bank.Unlike:
		return isLike(bank.LikeDisagree)
	}
	return func(j bank.Judged) bool { return j.Of() == o }
}

// headline is how many windings the word is about, and which.
func headline(q question, f finding, s *wording.Speaker) string {
	count := s.Say("count", strconv.Itoa(f.Count), strconv.Itoa(len(f.Rows)))
	switch f.Overall {
	case bank.Plausible:
		return count
	case bank.OffTogether:
		return s.Say("headline.off_together", count, s.Number(f.Shared.Factor.Value, 2))
	}
	if names := namesWhere(q, f, s, concerned(f.Overall)); names != "" {
		return s.Say("headline", count, names)
	}
	return s.Say("headline.pins", strconv.Itoa(f.Count))
}

// rowCards lays the windings out, one below the other; a tap on the head of one takes it to its circuit.
func rowCards(q question, f finding, l *tool.Layout) *sheet.Element {
	list := sheet.New("ul class=?", "rows bank-rows")
	for i, j := range f.Rows {
		list.With(rowCard(q, i, j, l))
	}
	return l.Section("windings", list)
}

func rowCard(q question, i int, j bank.Judged, l *tool.Layout) *sheet.Element {
	s, verdict := l.Speak, verdictOf(j)
	mark := rowMarks[verdict]
	head := sheet.New("div class=row-head")
	if q.carry[i] != nil {
		head = l.CarryBy("row-go", "circuit", q.carry[i])
	}
	word := s.Say("verdict." + verdict)
	head.With(sheet.Glyph(mark), sheet.Text("strong", "", q.names[i]), sheet.Text("span", "row-word", word))
	if q.carry[i] != nil {
		head.With(sheet.Text("span", "unseen", s.Say("to_circuit")), sheet.Text("span", "row-to", "→").Attr("aria-hidden", "true"))
	}
	card := sheet.New("li class=? data-verdict=?", "row v-"+string(mark), verdict).With(head)
	for _, line := range rowLines(q, i, j, s) {
		card.With(sheet.Text("p", line[0], line[1]))
	}
	return card
}

// rowLines are what is said of a winding: class and text of each line.
func rowLines(q question, i int, j bank.Judged, s *wording.Speaker) (lines [][2]string) {
	line := func(class, text string) { lines = append(lines, [2]string{class, text}) }
	if j.Read && !j.Winding.Open {
		line("row-band", valueText(q, i, j, s))
	}
	if j.Explained {
		line("row-now", s.Say("explained"))
	}
	if a := j.Alike; a != nil && a.Verdict != bank.LikeAlike {
		line("row-alike", s.Say("alike."+string(a.Verdict), s.Number(a.Ratio.Value, 3), s.Number(2*a.Ratio.U, 3), strconv.Itoa(a.Of)))
	}
	if j.Other != nil {
		line("row-now", secondText(j, s))
	}
	if j.ToCase != "" {
		line("row-now", s.Say("to_case."+string(j.ToCase)))
	}
	return lines
}

// secondText is what is said of the second unit's winding: by itself, and beside this one.
func secondText(j bank.Judged, s *wording.Speaker) string {
	own, c := s.Say("verdict."+string(j.Other.Overall)), j.Comparison
	if j.Other.Overall == winding.NoSpecification {
		own = "" // that is said of the sheet
	}
	if c == nil {
		return s.Say("second", own)
	}
	text := s.Say("comparison." + string(c.Verdict))
	if c.HasRatio {
		text = s.Say("comparison.ratio", text, s.Number(c.Ratio.Value, 2), s.Number(2*c.Ratio.U, 2))
	}
	if own == "" {
		return s.Say("second", text)
	}
	return s.Say("second.compared", own, text)
}

// valueText is a winding's value at the temperature of its specification, and what that allows where it is its own.
func valueText(q question, i int, j bank.Judged, s *wording.Speaker) string {
	if len(j.Winding.Rows) == 0 {
		e := j.Winding.AtReference
		return s.Say("value", s.PlusMinus(quantity.OfResistance, e.Value, e.U), s.Celsius(float64(q.Reference), 0))
	}
	r := j.Winding.Rows[0]
	value, at := s.PlusMinus(quantity.OfResistance, r.Corrected.Value, r.Corrected.U), s.Celsius(float64(r.At), 0)
	if q.ownSpec[i] {
		return s.Say("value.of", value, at, bandText(s, r.Band))
	}
	return s.Say("value", value, at)
}

// bandText writes a band in words.
func bandText(s *wording.Speaker, b measure.Band) string {
	switch {
	case !b.HasMax():
		return s.Say("band.least", s.Ohms(b.Min, 0))
	case !b.HasMin():
		return s.Say("band.most", s.Ohms(b.Max, 0))
	}
	return s.Say("band", s.Ohms(b.Min, 0), s.Ohms(b.Max, 0))
}

// pinSheet lists the checks from pin to pin.
func pinSheet(q question, f finding, l *tool.Layout) *sheet.Element {
	rows := [][2]string{}
	for i, p := range f.Pins {
		text := l.Speak.Say("pair." + string(p.Verdict))
		if p.Ratio != nil {
			text = l.Speak.Say("pair.ratio", text, l.Speak.Number(p.Ratio.Value, 2), l.Speak.Number(2*p.Ratio.U, 2))
		}
		rows = append(rows, [2]string{strings.Join(q.pins[i][:], " – "), text})
	}
	return l.Section("pins", tool.Figures(rows))
}
