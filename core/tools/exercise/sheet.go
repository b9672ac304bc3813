package exercise

import (
	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	setup "ohmwright/core/tools/circuit"
)

// marks are the shapes of the verdicts.
var marks = map[lesson.Verdict]sheet.Mark{
	lesson.Unanswered: sheet.MarkProbe, lesson.Found: sheet.MarkClean, lesson.Missed: sheet.MarkRefused,
}

// draft shows a stop before there is an answer.
func draft(q question, l *tool.Layout) { stopOf(q).Draft(l) }

// lay lays out an exercise: the readings asked for so far, and once the learner has answered, what was hidden.
func lay(q question, f finding, l *tool.Layout) {
	if f.stop != "" {
		f.stop.Lay(l)
		return
	}
	s, word := l.Speak, string(f.Overall)
	number := ""
	if f.Marked == nil {
		code := s.Say("no_code")
		if f.Code != circuit.NoCode {
			code = s.Say("code", s.Say("circuit.code_kind="+f.Code.String()))
		}
		number = s.Say("headline.hidden", setup.Minutes(s, f.Minutes), code)
		if n := len(f.Readings); n > 0 { // a screen reader hears what was read first
			last := f.Readings[n-1]
			number = s.Say("headline.reading", setup.Shown(s, last.Reading), s.Say("circuit.point."+last.Test.String()), number)
		}
		l.Reason(s.Say("why.hidden", code))
	} else {
		number = s.Say("headline.marked", s.AtMost(f.Marked.Marks.Marks, 4), s.Chance(f.Marked.Supported))
	}
	l.Verdict(marks[f.Overall], word, s.Say("word."+word), number)
	if f.Marked != nil {
		l.Add(tool.Slotted(foundSheet(f.Marked, l), answer.Name).Attr("data-first", "yes"))
	}
	l.Add(setup.DrawToAsk(l, q.Model, lesson.Tests, f.Marked == nil, f.Readings.Of))
	if len(f.Readings) > 0 {
		l.Add(readings(f.Finding, l))
	}
	if f.Marked == nil {
		l.Add(tool.Slotted(choosing(q.chosen, l), answer.Name))
	}
}

// choosing lays out the repairs to choose from, and the one button that decides.
func choosing(chosen string, l *tool.Layout) *sheet.Element {
	s, part := l.Speak, sheet.New("section class=?", "part p-choosing")
	var words [][2]string
	for r := range circuit.Repair(lesson.Repairs) {
		words = append(words, [2]string{r.String(), s.Say("answer=" + r.String())})
	}
	part.With(l.Radios(repair.Name, s.Say("answer.choose"), chosen, words))
	if chosen == "" {
		return part.With(sheet.Text("p", "how", s.Say("lacks.repair")))
	}
	return part.With(tool.SetButton("wide decide", s.Say("decide"), tool.Setting{answer.Name, chosen, repair.Name, ""}).
		Attr("data-once", "700"), sheet.Text("p", "how", s.Say("decide.once")))
}

func readings(f lesson.Finding, l *tool.Layout) *sheet.Element {
	list, s := sheet.New("ol class=readings-list"), l.Speak
	for _, p := range f.Readings {
		text := s.Say("reading", setup.TestName(s, p.Test), setup.Shown(s, p.Reading), setup.Expected(s, p.Test, p.Healthy),
			setup.Minutes(s, p.Minutes))
		list.With(sheet.New("li data-test=?", p.Test.String()).Say(text))
	}
	return tool.Slotted(l.Section("readings", list), "asked")
}

// foundSheet tells what was hidden, and which way the circuit tool would have gone.
func foundSheet(m *lesson.Marked, l *tool.Layout) *sheet.Element {
	s, best := l.Speak, m.Best
	list := sheet.New("ol class=readings-list")
	for _, t := range best.Tests {
		list.With(sheet.New("li").Say(setup.TestName(s, t)))
	}
	end := "best.right"
	if !best.Right {
		end = "best.wrong"
	}
	list.With(sheet.New("li").Say(s.Say(end, setup.RepairName(s, best.Repair))))
	return l.Section("found",
		sheet.Text("p", "why", s.Say("found", setup.FaultName(s, m.Fault), setup.RepairName(s, m.Fault.Repair()))),
		sheet.Text("p", "", s.Say("best", setup.Minutes(s, best.Minutes), s.Whole(best.Cost), s.Whole(m.Own.Cost))), list)
}
