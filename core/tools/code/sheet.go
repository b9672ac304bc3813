package code

import (
	"ohmwright/core/code"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// lay lays out what a trouble code says.
func lay(q code.Question, f code.Finding, l *tool.Layout) {
	say := l.Speak.Say
	word := string(f.Overall)
	l.Verdict(markOf(f.Overall), word, say("word."+word), headline(q, f, l.Speak))
	reason := say("why.unknown")
	if f.Known {
		reason = say("why")
	}
	if f.Kind != "" {
		l.Add(l.Carry("circuit", "carry", tool.Setting{"code_kind", f.Kind}))
	}
	if hi, lo := f.Meaning.High, f.Meaning.Low; len(hi)+len(lo) > 0 {
		reason += " " + say("why.listed")
		l.Add(l.Section("high_side", stateList(l.Speak, "high", hi)), l.Section("low_side", stateList(l.Speak, "low", lo)))
	}
	l.Reason(reason)
	l.Add(decoded(q, f, l))
}

// markOf returns the mark for a verdict.
func markOf(v code.Verdict) sheet.Mark {
	switch v {
	case code.Verdict(code.Low):
		return sheet.MarkBelow
	case code.Verdict(code.High):
		return sheet.MarkAbove
	case code.Verdict(code.Open):
		return sheet.MarkOpen
	case code.Verdict(code.Range):
		return sheet.MarkDisagree
	case code.MakersOwn, code.NotInTable:
		return sheet.MarkWaiting
	}
	return sheet.MarkUndecided
}

// headline returns the name of the circuit, or the code itself if the circuit is not known, and the failure type.
func headline(q code.Question, f code.Finding, s *wording.Speaker) string {
	text := f.Circuit
	if !f.Known {
		text = s.Say("headline.unknown", q.Code.String(), s.Say("system."+string(q.Code.System())))
	}
	if meaning := typeText(s, q.Type); meaning != "" {
		return s.Say("headline.typed", text, meaning)
	}
	return text
}

// stateList lays out the possible states for one side of the driver, or says that the code does not fit that side.
func stateList(s *wording.Speaker, side string, list []code.State) *sheet.Element {
	if len(list) == 0 {
		return sheet.New("p").Say(s.Say("none." + side))
	}
	out := sheet.New("ol class=states")
	for _, state := range list {
		out.With(sheet.New("li data-state=?", string(state)).With(
			sheet.Text("strong", "", s.Say("name."+string(state)))).Say(" " + stateText(s, side, state)))
	}
	return out
}

// decoded explains the parts of the code, one by one.
func decoded(q code.Question, f code.Finding, l *tool.Layout) *sheet.Element {
	say, c := l.Speak.Say, q.Code
	text := c.String()
	list := sheet.New("ul class=states")
	piece := func(name, text string) {
		list.With(sheet.New("li").With(sheet.Text("strong", "", name)).Say(" " + text))
	}
	piece(text[:1], say("system."+string(c.System())))
	piece(c.Group(), say("origin."+string(c.Origin())))
	if area := c.Area(); area != "" {
		piece(text[2:3], say("area."+string(area)))
	}
	if f.Known {
		piece(text, say("names", f.Circuit, say("failure."+string(f.Failure))))
	}
	if meaning := typeText(l.Speak, q.Type); meaning != "" {
		piece(string(q.Type), meaning)
	}
	return l.Section("decoded", list)
}
