package worksheet

import (
	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	setup "ohmwright/core/tools/circuit"
	"ohmwright/core/wording"
	"ohmwright/core/worksheet"
)

// paper lays out what a teacher prints: a sheet for each name, to be worked on with a pencil, and one key for all of them. What a reading
// shows stands in the key, for the teacher to tell who asks for it.
func paper(q question, f finding, l *tool.Layout) *sheet.Element {
	s := l.Speak
	details := sheet.New("details class=? data-keep=paper", "more paper-class").With(sheet.New("summary").Say(s.Say("paper")))
	for _, one := range f.samples {
		details.With(paperSheet(q, one, s))
	}
	key := sheet.New("section class=paper-key").With(sheet.Text("h2", "", s.Say("paper.key", q.title)))
	for _, one := range f.samples {
		key.With(sheet.Text("h3", "", one.name))
		for _, w := range one.Questions {
			key.With(sheet.Text("p", "", s.Say("paper.key.line", questionTitle(w.Question, s), keyText(w, s))))
			if w.Hidden != nil {
				key.With(tool.Figures(keyReadings(w, s)))
			}
		}
	}
	return details.With(key)
}

// paperSheet is one student's sheet.
func paperSheet(q question, one sample, s *wording.Speaker) *sheet.Element {
	part := sheet.New("section class=paper-sheet").With(sheet.Text("h2", "", q.title),
		sheet.Text("p", "paper-name", s.Say("paper.name", one.name)))
	if q.words != "" {
		part.With(sheet.Text("p", "class-words", q.words))
	}
	part.With(until(q, s))
	for _, w := range one.Questions {
		part.With(sheet.Text("h3", "", questionTitle(w.Question, s)),
			sheet.Text("p", "", s.Say("task."+w.Kind.String()+"."+w.Level.String())), tool.Figures(factRows(w, s)))
		if w.Hidden != nil {
			part.With(sheet.Text("p", "paper-of", s.Say("prices")), tool.Figures(priceRows(w, s)), paperChoice("repair", repairWords(), s))
		} else {
			part.With(sheet.Text("p", "paper-line", s.Say("paper.figure")), paperChoice("unit", w.Task.Offered(), s),
				paperChoice("condition", w.Task.Conditions, s), paperChoice("decision", w.Task.Decisions, s), paperChoice("reason", w.Task.Reasons, s))
		}
		part.With(sheet.Text("p", "paper-space", s.Say("paper.space")))
	}
	return part
}

// paperChoice lists the words of a choice, each with a box to tick.
func paperChoice(field string, of []string, s *wording.Speaker) *sheet.Element {
	list := sheet.New("ul class=paper-choice").With(sheet.New("li class=paper-of").Say(s.Say(field)))
	for _, word := range of {
		list.With(sheet.New("li").Say(s.Say(field + "=" + word)))
	}
	return list
}

func repairWords() (list []string) {
	for r := range circuit.Repair(lesson.Repairs) {
		list = append(list, r.String())
	}
	return list
}

// keyReadings are what every test of a hidden fault shows.
func keyReadings(w worksheet.Worked, s *wording.Speaker) (rows [][2]string) {
	for t := range circuit.Test(lesson.Tests) {
		if t.Possible(w.Hidden.Model.Side, w.Hidden.Model.Return) {
			rows = append(rows, [2]string{setup.TestName(s, t), setup.Shown(s, w.Hidden.Reading(t))})
		}
	}
	return rows
}
