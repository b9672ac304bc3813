package worksheet

import (
	"strconv"
	"strings"

	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	setup "ohmwright/core/tools/circuit"
	"ohmwright/core/wording"
	"ohmwright/core/worksheet"
)

// marks are the shapes of the verdicts.
var marks = map[Overall]sheet.Mark{
	SetOut: sheet.MarkProbe, Open: sheet.MarkProbe, Decided: sheet.MarkClean, Unnamed: sheet.MarkWaiting,
}

// draft shows a teacher the ready sheets before one is chosen.
func draft(q question, l *tool.Layout) {
	if q.role == Teacher {
		l.Add(tool.Slotted(l.Section("ready", readySheets(l)), role.Name))
	}
}

// ready lays the ready sheets out once one is set out: folded, where they stood before.
func ready(l *tool.Layout) *sheet.Element {
	return tool.Slotted(sheet.New("details class=? data-keep=ready", "more p-ready").With(
		sheet.New("summary").Say(l.Speak.Say("ready.other")), readySheets(l)), role.Name)
}

// readySheets lists the ready sheets: each of its levels is a tap.
func readySheets(l *tool.Layout) *sheet.Element {
	s, list := l.Speak, sheet.New("ul class=?", "rows ready-sheets")
	for k := range worksheet.Kind(worksheet.Kinds) {
		buttons := sheet.New("div class=?", "bar levels")
		for n := worksheet.Level(1); n <= worksheet.Levels; n++ {
			set := tool.Setting{"questions.0.kind", k.String(), "questions.0.level", n.String(), "heading", s.Say("ready.title." + k.String())}
			buttons.With(tool.SetButton("", s.Say("ready.level", n.String()), set).
				Attr("aria-label", s.Say("ready.take", s.Say("questions.kind="+k.String()), n.String())))
		}
		list.With(sheet.New("li class=row").With(sheet.Text("strong", "", s.Say("questions.kind="+k.String())),
			sheet.Text("p", "row-now", s.Say("ready."+k.String())), buttons))
	}
	return list
}

// lay lays the sheet out for whoever has it open.
func lay(q question, f finding, l *tool.Layout) {
	s, word := l.Speak, string(f.overall)
	l.Verdict(marks[f.overall], word, s.Say("word."+word), headline(q, f, s))
	l.Reason(s.Say("why." + word))
	if f.overall == SetOut {
		layTeacher(q, f, l)
		return
	}
	if q.title != "" || q.words != "" || q.due != "" {
		l.Add(tool.Slotted(sheet.New("section class=?", "part p-sheet").With(sheet.Text("h2", "", q.title),
			sheet.Text("p", "class-words", q.words), until(q, s)), role.Name))
	}
	if f.overall == Unnamed {
		return
	}
	l.Add(tool.Slotted(settled(q, s), name.Name))
	if f.overall == Decided {
		l.Add(tool.Slotted(handIn(q, l), name.Name))
	}
	if len(f.Questions) > 1 {
		l.Add(tool.Slotted(overview(q, f, l), name.Name))
	}
	for i, w := range f.Questions {
		if q.works(i, w) {
			l.Add(tool.Slotted(given(i, w, l), name.Name), tool.Slotted(choosing(q, w, l), value.Name))
		}
	}
	for i, w := range f.Questions {
		if w.First != nil {
			l.Add(decidedPart(q, i, w, l))
		}
	}
	if f.overall == Open && len(q.Decisions) > 0 {
		l.Add(handIn(q, l))
	}
}

// until says when the work has to be handed in; the page writes it by the reader's clock.
func until(q question, s *wording.Speaker) *sheet.Element {
	if q.due == "" {
		return nil
	}
	return sheet.New("p class=until").Say(s.Say("until")).With(sheet.New("time datetime=?", q.due).Say(q.due))
}

// settled says whose work it is. The page shows it in place of the field for the name once anything hangs on that ([tool.Handed]), so that
// nobody types over it on a device that is handed on. The next student has a button; so has a name that was mistyped, until something is
// decided.
func settled(q question, s *wording.Speaker) *sheet.Element {
	key := "settled"
	switch {
	case len(q.Decisions) > 0 && q.later:
		key = "locked.later"
	case len(q.Decisions) > 0:
		key = "locked"
	}
	part := sheet.New("section class=?", "part p-settled").With(sheet.Text("h2", "", q.name), sheet.Text("p", "how", s.Say(key)),
		sheet.New("button type=button class=wide data-do=another").Say(s.Say("settled.another")))
	if len(q.Decisions) == 0 {
		part.With(sheet.New("details class=more data-keep=rename").With(sheet.New("summary").Say(s.Say("settled.wrong")),
			sheet.Text("p", "how", s.Say("settled.rename.how")),
			sheet.New("button type=button class=wide data-do=rename data-clears=?", repair.Name+" "+value.Name+" "+drafts.Name).
				Say(s.Say("settled.rename"))))
	}
	return part
}

// works reports whether a question is the one that can be decided on now: for the first time, or in a later try.
func (q question) works(i int, w worksheet.Worked) bool {
	return i == q.at && (w.First == nil || q.later && q.again && !q.solution)
}

// overview lists the questions of a sheet, each with how it stands; a tap opens one.
func overview(q question, f finding, l *tool.Layout) *sheet.Element {
	s, list := l.Speak, sheet.New("ol class=?", "rows questions-list")
	for i, w := range f.Questions {
		state := "state.open"
		switch {
		case w.First != nil:
			state = "state.decided"
		case i == q.at:
			state = "state.here"
		}
		text := s.Say("question.state", questionTitle(w.Question, s), s.Say(state))
		item := sheet.New("li class=?", "row")
		if w.First == nil && i != q.at {
			item.With(tool.SetButton("wide", text, q.opening(i)))
		} else {
			item.Say(text)
		}
		list.With(item)
	}
	return l.Section("questions", list)
}

// headline is the number beside the verdict. A screen reader hears it: of a reading asked for, first what it reads.
func headline(q question, f finding, s *wording.Speaker) string {
	switch f.overall {
	case Decided:
		return s.Say("headline.marks", s.AtMost(f.Marks, 4))
	case Open:
		for _, w := range f.Questions {
			if n := len(w.Readings); n > 0 && w.First == nil {
				last := w.Readings[n-1]
				return s.Say("headline.reading", s.Say("circuit.point."+last.Test.String()), setup.Shown(s, last.Reading),
					setup.Minutes(s, w.Minutes))
			}
		}
		return s.Say("headline.open", strconv.Itoa(f.Undecided), strconv.Itoa(len(f.Questions)))
	case SetOut:
		return s.Say("headline.set_out", strconv.Itoa(len(q.Questions)))
	}
	return ""
}

// layTeacher lays out what a teacher sees: the link for the class, and what a few students are given, side by side, with the key.
func layTeacher(q question, f finding, l *tool.Layout) {
	s := l.Speak
	l.Add(ready(l), tool.Slotted(l.Section("class_link", sheet.New("p class=address").With(sheet.New("a href=?", q.link).Say(q.link)),
		sheet.Text("p", "how", s.Say("class_link.why")),
		sheet.New("button type=button class=wide data-do=share").Say(s.Say("class_link.share"))), words.Name))
	list := sheet.New("div class=?", "samples")
	for _, one := range f.samples {
		card := sheet.New("section class=?", "row sample").With(sheet.Text("h3", "", s.Say("sample", one.name)))
		for _, w := range one.Questions {
			card.With(sheet.Text("p", "row-now", questionTitle(w.Question, s)), tool.Figures(factRows(w, s)),
				sheet.Text("p", "row-key", s.Say("sample.key", keyText(w, s))))
		}
		list.With(card)
	}
	l.Add(tool.Slotted(l.Section("samples", list), words.Name), paper(q, f, l))
}

func questionTitle(q worksheet.Question, s *wording.Speaker) string {
	return s.Say("question.title", s.Say("questions.kind="+q.Kind.String()), q.Level.String())
}

// factRows are what the sheet gives, name and figure.
func factRows(w worksheet.Worked, s *wording.Speaker) (rows [][2]string) {
	if w.Hidden != nil {
		rows = append(rows, [2]string{s.Say("fact.side"), s.Say("bench.side=" + sideOf(w.Hidden.Model))},
			[2]string{s.Say("fact.code"), codeText(w.Hidden.Code, s)})
	}
	facts := factsOf(w)
	for i := 0; i < len(facts); i++ {
		rest := facts[i:]
		switch group := strings.TrimSuffix(rest[0].Name, "min"); {
		case group != rest[0].Name: // limits and the temperature that they hold at stand together
			if group = strings.TrimSuffix(group, "."); group == "" {
				group = "limits"
			}
			rows = append(rows, [2]string{s.Say("fact." + group), s.Say("fact.band", s.Number(rest[0].Number(), rest[0].Decimals),
				figure(rest[1].Figure, s), figure(rest[2].Figure, s))})
			i += 2
		case len(rest) > 1 && (rest[1].Name == "at" || strings.HasSuffix(rest[1].Name, ".at")): // as do a reading and its own
			rows = append(rows, [2]string{s.Say("fact." + strings.TrimSuffix(rest[0].Name, ".reading")),
				s.Say("fact.of", figure(rest[0].Figure, s), figure(rest[1].Figure, s))})
			i++
		default:
			rows = append(rows, [2]string{s.Say("fact." + rest[0].Name), figure(rest[0].Figure, s)})
		}
	}
	return rows
}

func sideOf(m *circuit.Model) string {
	if m.Side == circuit.Low {
		return "low"
	}
	return "high"
}

func codeText(c circuit.Code, s *wording.Speaker) string {
	if c == circuit.NoCode {
		return s.Say("no_code")
	}
	return s.Say("circuit.code_kind=" + c.String())
}

// figure writes a figure of the sheet as it stands there.
func figure(f worksheet.Figure, s *wording.Speaker) string {
	sign := signOf(f)
	if sign == "°" {
		return s.Number(f.Number(), f.Decimals) + sign
	}
	return s.Number(f.Number(), f.Decimals) + "\u00a0" + sign
}

// keyText is what is right on a question, in a line.
func keyText(w worksheet.Worked, s *wording.Speaker) string {
	if w.Hidden != nil {
		return s.Say("key.fault", setup.FaultName(s, w.Hidden.Fault), setup.RepairName(s, w.Hidden.Fault.Repair()))
	}
	t := w.Task
	return s.Say("key.task", s.Three(t.Kind, t.Value), s.Say("condition="+t.Condition), s.Say("decision="+t.Decision),
		s.Say("reason="+t.Reason))
}

// given lays out what a question gives.
func given(i int, w worksheet.Worked, l *tool.Layout) *sheet.Element {
	s := l.Speak
	part := sheet.New("section class=?", "part p-question").With(
		sheet.Text("h2", "", s.Say("question.number", strconv.Itoa(i+1), s.Say("questions.kind="+w.Kind.String()))),
		sheet.Text("p", "why", s.Say("task."+w.Kind.String()+"."+w.Level.String())), tool.Figures(factRows(w, s)))
	if w.Hidden != nil {
		part.With(setup.DrawToAsk(l, w.Hidden.Model, lesson.Tests, true, w.Readings.Of), readings(w, s), prices(w, s))
	}
	return part
}

// prices lists what each test costs.
func prices(w worksheet.Worked, s *wording.Speaker) *sheet.Element {
	return sheet.New("details class=more data-keep=prices").With(sheet.New("summary").Say(s.Say("prices")), tool.Figures(priceRows(w, s)))
}

func priceRows(w worksheet.Worked, s *wording.Speaker) (rows [][2]string) {
	for t := range circuit.Test(lesson.Tests) {
		if t.Possible(w.Hidden.Model.Side, w.Hidden.Model.Return) {
			rows = append(rows, [2]string{setup.TestName(s, t), s.Say("price", setup.Minutes(s, w.Hidden.Model.Minutes[t]))})
		}
	}
	return rows
}

func readings(w worksheet.Worked, s *wording.Speaker) *sheet.Element {
	if len(w.Readings) == 0 {
		return nil
	}
	list := sheet.New("ol class=readings-list")
	for _, p := range w.Readings {
		text := s.Say("reading", setup.TestName(s, p.Test), setup.Shown(s, p.Reading), setup.Minutes(s, p.Minutes))
		if w.Hidden.Told {
			text = s.Say("reading.told", setup.TestName(s, p.Test), setup.Shown(s, p.Reading), setup.Expected(s, p.Test, w.Hidden.Expect(p.Test)),
				setup.Minutes(s, p.Minutes))
		}
		list.With(sheet.New("li data-test=?", p.Test.String()).Say(text))
	}
	return list
}
