package tool

import (
	"ohmwright/core/circuit"
	"ohmwright/core/sheet"
)

// layExercise lays an exercise out: what was asked for so far, and after the learner's answer what was hidden.
func layExercise(r *Record, a *Answer) (head, why *sheet.Element, body []*sheet.Element) {
	res, say := a.Result.(exerciseResult), a.Speak.Say
	code := say("exercise.no_code")
	if res.CodeKind != "" {
		code = say("exercise.code", say("circuit.code_kind="+res.CodeKind))
	}
	minutes := a.minutes(res.Minutes)
	switch f := res.Found; {
	case f == nil:
		head = sheet.Verdict(sheet.MarkProbe, "hidden", say("exercise.word.hidden"), say("exercise.headline.hidden", minutes, code))
		why = sheet.Text("p", "why", say("exercise.why.hidden", code))
	case f.Right:
		head = sheet.Verdict(sheet.MarkClean, "found", say("exercise.word.found"), say("exercise.headline.marked", a.money(f.Score), a.money(f.Cost)))
	default:
		head = sheet.Verdict(sheet.MarkRefused, "missed", say("exercise.word.missed"), say("exercise.headline.marked", a.money(f.Score), a.money(f.Cost)))
	}
	side, ret := sideOf(r)
	body = append(body, a.chainDrawing(side, ret, nil, "asked", func(t circuit.Test) *sheet.Element { return a.askedPoint(t, r.Group("minutes").slots[t].value, res) }).With(
		sheet.New("figcaption").Say(say("exercise.drawn.caption"))))
	if len(res.Readings) > 0 {
		list := sheet.New("ol class=readings-list")
		for _, k := range res.Readings {
			list.With(sheet.New("li data-test=?", k.Test).Say(say("exercise.reading", say(testWords+k.Test), a.shown(k.Test, k.Value), a.expected(k.Expected, k.Test), a.minutes(k.Minutes))))
		}
		part := a.section("readings", list)
		part.Attr("data-slot", "asked")
		body = append(body, part)
	}
	if res.Found != nil {
		body = append(body, a.foundSheet(*res.Found))
	}
	return head, why, body
}

// foundSheet tells what was hidden and how the circuit question would have gone.
func (a *Answer) foundSheet(f foundResult) *sheet.Element {
	say := a.Speak.Say
	list := sheet.New("ol class=readings-list")
	for _, t := range f.Best.Tests {
		list.With(sheet.New("li").Say(say(testWords + t)))
	}
	end := "exercise.best.right"
	if !f.Best.Right {
		end = "exercise.best.wrong"
	}
	list.With(sheet.New("li").Say(say(end, say("circuit.repair."+f.Best.Repair))))
	return a.section("found",
		sheet.Text("p", "why", say("exercise.found", say("circuit.fault."+f.Fault), say("circuit.repair."+f.Repair))),
		sheet.Text("p", "", say("exercise.best", a.minutes(f.Best.Minutes), a.money(f.Best.Cost), a.money(f.Cost))), list)
}

// askedPoint is one of the points at which a reading can be asked for.
func (a *Answer) askedPoint(t circuit.Test, paid float64, res exerciseResult) *sheet.Element {
	say, name := a.Speak.Say, t.String()
	full, class, text := say(testWords+name), "point", say("circuit.point."+name)
	state := say("circuit.point.state.open", full, a.minutes(paid), text)
	for _, k := range res.Readings {
		if k.Test == name {
			text = a.shown(name, k.Value)
			class, state = "point taken", say("circuit.point.state.taken", full, text)
		}
	}
	return sheet.New("button type=button class=? data-pick=asked data-value=? aria-label=?", class, name, state).Say(text)
}
