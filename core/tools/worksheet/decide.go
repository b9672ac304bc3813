package worksheet

import (
	"cmp"
	"slices"
	"strconv"

	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	setup "ohmwright/core/tools/circuit"
	"ohmwright/core/wording"
	"ohmwright/core/worksheet"
)

// choosing lays out what can be chosen on the question that is worked on, and the one button that decides.
func choosing(q question, w worksheet.Worked, l *tool.Layout) *sheet.Element {
	s, part := l.Speak, sheet.New("section class=?", "part p-choosing")
	if w.Hidden != nil {
		part.With(choice("repair", q.texts.repair, repairWords(), l))
	} else {
		part.Attr("data-asks", "figure").With(choice("unit", q.texts.unit, w.Task.Offered(), l),
			choice("condition", q.texts.condition, w.Task.Conditions, l),
			choice("decision", q.texts.decision, w.Task.Decisions, l), choice("reason", q.texts.reason, w.Task.Reasons, l))
	}
	lacks := lacking(q, w, s)
	if lacks != "" {
		return part.With(sheet.Text("p", "how", lacks))
	}
	return part.With(tool.SetButton("wide decide", s.Say("decide"), q.deciding(w)).Attr("data-once", "700"),
		sheet.Text("p", "how", s.Say("decide.once")))
}

// choice lays out the words of a field to choose from.
func choice(field, chosen string, of []string, l *tool.Layout) *sheet.Element {
	words := make([][2]string, len(of))
	for i, word := range of {
		words[i] = [2]string{word, l.Speak.Say(field + "=" + word)}
	}
	return l.Radios(field, l.Speak.Say(field), chosen, words)
}

// lacking says what has to be chosen before a decision; "" for nothing.
func lacking(q question, w worksheet.Worked, s *wording.Speaker) string {
	switch {
	case worksheet.Plain(q.name) == "":
		return s.Say("lacks.name")
	case w.Hidden != nil && q.draft.Repair == nil:
		return s.Say("lacks.repair")
	case w.Task != nil && (!q.draft.Given || q.texts.unit == "" || q.texts.condition == "" || q.texts.decision == "" || q.texts.reason == ""):
		return s.Say("lacks.answer")
	}
	return ""
}

// deciding is what the button sets: the next decision as it stands, and an empty page for the next question.
func (q question) deciding(w worksheet.Worked) tool.Setting {
	row := "decisions." + strconv.Itoa(len(q.Decisions)) + "."
	set := tool.Setting{row + "question", strconv.Itoa(q.at + 1)}
	if w.Hidden != nil {
		set = append(set, row+"after", strconv.Itoa(len(q.Asked)))
	}
	set = append(set, q.texts.setting(row)...)
	if q.drafts[q.at] != (draftTexts{}) {
		set = append(set, draftRow(q.at), "")
	}
	d := q.with(worksheet.Decision{Question: q.at})
	return append(append(set, "at", ""), q.drafts[d.working(false, 0)].setting("")...)
}

// with returns the question with one more decision.
func (q question) with(d worksheet.Decision) question {
	q.Decisions = append(slices.Clip(q.Decisions), d)
	return q
}

// draftRow is the row of the drafts that a question has.
func draftRow(i int) string { return "drafts." + strconv.Itoa(i) }

// setting sets what is worked on under keys that begin with a text.
func (t draftTexts) setting(at string) tool.Setting {
	return tool.Setting{at + "repair", t.repair, at + "value", t.value, at + "unit", t.unit, at + "condition", t.condition,
		at + "decision", t.decision, at + "reason", t.reason}
}

// opening goes to a question. What was chosen and typed on the one that is left is put aside, and comes back with it.
func (q question) opening(i int) tool.Setting {
	set := append(tool.Setting{"at", strconv.Itoa(i + 1)}, q.drafts[i].setting("")...)
	left := q.texts
	left.value = cmp.Or(left.value, q.figure)
	if i == q.at || left == (draftTexts{}) && q.drafts[q.at] == (draftTexts{}) {
		return set
	}
	row := draftRow(q.at) + "."
	return append(append(set, row+"question", strconv.Itoa(q.at+1)), left.setting(row)...)
}

// decidedPart lays out a decision with its marks, later tries, and the solution once it may be told.
func decidedPart(q question, i int, w worksheet.Worked, l *tool.Layout) *sheet.Element {
	s, how := l.Speak, rightOrNot(w.First.Right())
	part := sheet.New("section class=?", "part p-decided").With(
		sheet.Text("h2", "", s.Say("question.number", strconv.Itoa(i+1), s.Say("questions.kind="+w.Kind.String()))),
		sheet.New("p class=why data-verdict=?", how).Say(s.Say("decided."+how, decidedText(*w.First, w, s))), tool.Figures(markRows(*w.First, s)))
	if w.First.Task != nil && w.First.Task.Slip != "" {
		part.With(sheet.New("p class=? data-slip=?", "slip", string(w.First.Task.Slip)).Say(s.Say("slip." + string(w.First.Task.Slip))))
	}
	for _, d := range w.Later {
		part.With(sheet.Text("p", "later", s.Say("later."+rightOrNot(d.Right()), decidedText(d, w, s))))
	}
	if !q.solved(w) {
		if !q.works(i, w) {
			part.With(tool.SetButton("wide", s.Say("try_again"), q.opening(i)))
		}
		return part.With(tool.SetButton("wide", s.Say("solution.show"), tool.Setting{"solution", "yes"}))
	}
	return part.With(tool.Figures(factRows(w, s)), solutionPart(w, s))
}

func rightOrNot(right bool) string {
	if right {
		return "right"
	}
	return "wrong"
}

// decidedText says what was decided.
func decidedText(d worksheet.Decided, w worksheet.Worked, s *wording.Speaker) string {
	if w.Hidden != nil {
		if d.Repair == nil {
			return s.Say("nothing_named")
		}
		return setup.RepairName(s, *d.Repair)
	}
	unit := ""
	if u, ok := unitNamed(d.Unit); ok {
		unit = "\u00a0" + u.Sign
	}
	if !d.Given {
		return s.Say("nothing_named")
	}
	if d.Answer.Decision == "" {
		return s.Exact(d.Number) + unit
	}
	return s.List(s.Exact(d.Number)+unit, s.Say("decision="+d.Answer.Decision))
}

// markRows are the marks, part by part.
func markRows(d worksheet.Decided, s *wording.Speaker) (rows [][2]string) {
	rows = append(rows, [2]string{s.Say("marks"), s.Say("marks.of", s.AtMost(d.Marks, 4))})
	if m := d.Fault; m != nil {
		return append(rows, [2]string{s.Say("marks.supported"), s.Chance(m.Supported)},
			[2]string{s.Say("marks.minutes"), s.Say("marks.minutes.beside", setup.Minutes(s, m.Minutes), setup.Minutes(s, m.Best))})
	}
	for _, p := range parts(d.Task) {
		rows = append(rows, [2]string{s.Say(p.name), s.Say("marks.part."+rightOrNot(p.Right), s.AtMost(p.Earned, 3), s.AtMost(p.Of, 3))})
	}
	return rows
}

// solutionPart works the question through, line by line.
func solutionPart(w worksheet.Worked, s *wording.Speaker) *sheet.Element {
	list := sheet.New("ol class=readings-list")
	if w.Hidden != nil {
		for _, st := range w.Hidden.Solution() {
			list.With(sheet.New("li").Say(s.Say("solution.test", setup.TestName(s, st.Test), setup.Shown(s, st.Reading),
				setup.Expected(s, st.Test, st.Healthy), setup.RepairName(s, st.Repair), s.Chance(st.P))))
		}
	} else {
		for _, line := range w.Task.Lines {
			formula, numbers := s.Formula(line.Formula, with(line, s))
			list.With(sheet.New("li").With(sheet.Text("span", "what", s.Say("step."+line.What)+" "),
				sheet.Text("code", "with", formula+" = "+numbers+" = "+s.Three(line.Kind, line.Value))))
		}
	}
	return sheet.New("div class=solution").With(sheet.Text("h3", "", s.Say("worked")), list,
		sheet.Text("p", "row-key", s.Say("solution.key", keyText(w, s))))
}

// handIn lays out what a student hands in: one readable line and the link.
func handIn(q question, l *tool.Layout) *sheet.Element {
	return l.Section("hand_in", sheet.New("button type=button class=? data-do=share", "wide hand-in").Say(l.Speak.Say("hand_in")),
		sheet.Text("p", "how", l.Speak.Say("hand_in.why")),
		sheet.New("p class=address").With(sheet.New("a href=?", q.handIn).Say(q.line)))
}

// unitNamed returns a unit that can be chosen.
func unitNamed(symbol string) (quantity.Unit, bool) {
	for _, k := range []quantity.Kind{quantity.OfResistance, quantity.OfVoltage, quantity.OfCurrent, quantity.OfTorque, quantity.OfRatio,
		quantity.OfTemperature, quantity.OfLength, quantity.OfAngle} {
		if u, ok := quantity.UnitNamed(k, symbol); ok && symbol != "" {
			return u, true
		}
	}
	return quantity.Unit{}, false
}

func signOf(f worksheet.Figure) string {
	u, _ := quantity.UnitNamed(f.Kind, f.Unit)
	return u.Sign
}
