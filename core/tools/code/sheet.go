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
	l.Reason(reasonOf(f, l.Speak))
	if f.Stop == "" {
		l.Add(carry(q, f, l))
		l.Add(meaning(f, l)...)
	}
	l.Add(decoded(q, f, l))
}

// reasonOf is the sentence below the verdict: why there is no advice, or what to find out first.
func reasonOf(f code.Finding, s *wording.Speaker) string {
	switch {
	case f.Stop != "":
		return s.Say("why.stop." + string(f.Stop))
	case f.First == code.UnitFeed:
		return s.Say("why.unit_feed") + " " + s.Say("why.listed")
	}
	reason := s.Say("why.unknown")
	if f.Known {
		reason = s.Say("why")
	}
	if f.First == code.ShowsNow {
		reason += " " + s.Say("why.shows_now")
	}
	if len(f.Meaning.High)+len(f.Meaning.Low) > 0 {
		reason += " " + s.Say("why.listed")
	}
	return reason
}

// carry leads to the question of the circuit; nil where there is none: advice is stopped, or a code of the network between control units.
func carry(q code.Question, f code.Finding, l *tool.Layout) *sheet.Element {
	if q.Code.System() == code.Network {
		return nil
	}
	kind, words := f.Kind, "carry"
	switch {
	case f.First != "":
		words += "." + string(f.First)
	case kind == "":
		words += ".no_kind"
	}
	if kind == "" { // not said, not a code of the pin, or one of a state that may be gone
		kind = "none"
	}
	return l.Carry("circuit", words, tool.Setting{"code_kind", kind})
}

// meaning lays out what sets the code: by the side of the driver, or once where no driver is involved.
func meaning(f code.Finding, l *tool.Layout) []*sheet.Element {
	hi, lo := f.Meaning.High, f.Meaning.Low
	switch {
	case len(hi)+len(lo) == 0:
		return nil
	case f.UnitPower():
		return []*sheet.Element{l.Section("unit_power", stateList(l.Speak, "unit", hi))}
	}
	return []*sheet.Element{l.Section("high_side", stateList(l.Speak, "high", hi)), l.Section("low_side", stateList(l.Speak, "low", lo))}
}

// markOf is the shape of a verdict.
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
	case code.Stopped:
		return sheet.MarkStop
	case code.MakersOwn, code.NotInTable:
		return sheet.MarkWaiting
	}
	return sheet.MarkUndecided
}

// headline returns the name of the circuit, or the code itself if the circuit is not known, and the failure type.
func headline(q code.Question, f code.Finding, s *wording.Speaker) string {
	var text string
	if f.Known {
		text = circuitName(s, f.Circuit)
	} else {
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
		piece(text, say("names", circuitName(l.Speak, f.Circuit), say("failure."+string(f.Failure))))
	}
	if meaning := typeText(l.Speak, q.Type); meaning != "" {
		piece(string(q.Type), meaning)
	}
	return l.Section("decoded", list)
}
