package tool

import (
	"ohmwright/core/code"
	"ohmwright/core/sheet"
)

// layCode lays out what a trouble code says.
func layCode(r *Record, a *Answer) (head, why *sheet.Element, body []*sheet.Element) {
	res := a.Result.(codeResult)
	say := a.Speak.Say
	mark, word := codeWord(res)
	head = sheet.Verdict(mark, word, say("code.word."+word), a.codeHeadline(res))
	reason := say("code.why.unknown")
	if res.Known {
		reason = say("code.why")
	}
	if hi, lo := res.Meaning.HighSide, res.Meaning.LowSide; len(hi)+len(lo) > 0 {
		reason += " " + say("code.why.listed")
		body = append(body, a.section("high_side", a.stateList("high", hi)), a.section("low_side", a.stateList("low", lo)))
	}
	if res.CodeKind != "" {
		body = append([]*sheet.Element{a.carry("circuit", "code.carry", map[string]string{"code_kind": res.CodeKind})}, body...)
	}
	return head, sheet.Text("p", "why", reason), append(body, a.decodedSheet(r, res))
}

// codeMarks are the marks of the failures that point somewhere.
var codeMarks = [...]struct {
	failure code.Failure
	mark    sheet.Mark
}{{code.Low, sheet.MarkBelow}, {code.High, sheet.MarkAbove}, {code.Open, sheet.MarkOpen}, {code.Range, sheet.MarkDisagree}, {"", sheet.MarkWaiting}}

// codeWord is the one word for the code, and its mark.
func codeWord(res codeResult) (mark sheet.Mark, word string) {
	mark, word = sheet.MarkUndecided, res.Failure
	for _, m := range codeMarks {
		if string(m.failure) == res.Failure {
			mark = m.mark
		}
	}
	switch {
	case res.Known:
	case res.Origin == string(code.Manufacturer):
		word = "manufacturer"
	default:
		word = "not_in_table"
	}
	return mark, word
}

// codeHeadline is the circuit, or the code where none is known, and the failure type.
func (a *Answer) codeHeadline(res codeResult) string {
	text := res.Circuit
	if !res.Known {
		text = a.Speak.Say("code.headline.unknown", res.Code, a.Speak.Say("code.system."+res.System))
	}
	if t := res.FailureType; t != nil && t.Meaning != "" {
		return a.Speak.Say("code.headline.typed", text, t.Meaning)
	}
	return text
}

// stateList lays out the states at one side of the driver, or says that the code does not fit that side.
func (a *Answer) stateList(side string, list []stateResult) *sheet.Element {
	if len(list) == 0 {
		return sheet.New("p").Say(a.Speak.Say("code.none." + side))
	}
	states := sheet.New("ol class=states")
	for _, s := range list {
		states = states.With(sheet.New("li data-state=?", s.State).With(
			sheet.Text("strong", "", a.Speak.Say("code.name."+s.State))).Say(" " + s.Text))
	}
	return states
}

// decodedSheet takes the code apart, piece by piece.
func (a *Answer) decodedSheet(r *Record, res codeResult) *sheet.Element {
	say := a.Speak.Say
	c, _, _, _, _ := codeOf(r)
	list := sheet.New("ul class=states")
	piece := func(name, text string) {
		list = list.With(sheet.New("li").With(sheet.Text("strong", "", name)).Say(" " + text))
	}
	piece(res.Code[:1], say("code.system."+res.System))
	piece(c.Group(), say("code.origin."+res.Origin))
	if res.Area != "" {
		piece(res.Code[2:3], say("code.area."+res.Area))
	}
	if res.Known {
		piece(res.Code, say("code.names", res.Circuit, say("code.failure."+res.Failure)))
	}
	if t := res.FailureType; t != nil && t.Meaning != "" {
		piece(t.Code, t.Meaning)
	}
	return a.section("decoded", list)
}
