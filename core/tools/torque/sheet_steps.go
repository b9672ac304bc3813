package torque

import (
	"strconv"

	"ohmwright/core/fastener"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// tightening are the plate with its bolts, the step at hand, and the passes.
func (p page) tightening() []*sheet.Element {
	s := p.f.sequence
	if s == nil {
		return []*sheet.Element{p.plate(&sequence{}, "")}
	}
	out := []*sheet.Element{p.plate(s, p.fill(s))}
	if len(s.order) == 0 {
		return out
	}
	if s.underWay() {
		out = append(out, p.step(s))
	}
	return append(out, p.order(s))
}

// sequenceHeadline says where the tightening stands.
func (p page) sequenceHeadline() string {
	s := p.f.sequence
	if p.f.overall == order {
		return p.say("headline.order", strconv.Itoa(len(s.passes)))
	}
	pass, place := s.at(s.progress.done)
	return p.say("headline.step", p.passName(s.passes[pass]), strconv.Itoa(place+1), strconv.Itoa(len(s.order)))
}

// passName says what a pass does.
func (p page) passName(f passFound) string {
	if f.kind == toShare {
		return p.say("pass.share", p.s.share(f.share))
	}
	return p.say("pass." + string(f.kind))
}

// beyond is the key of the words for a wrench that does not reach a pass's setting; "" where it does, or no scale is known.
func (f passFound) beyond() string {
	if f.Use == nil || *f.Use == fastener.Usable {
		return ""
	}
	return "pass." + f.Use.String()
}

// passSetting says what to set the wrench to in a pass, and where it does not reach that.
func (p page) passSetting(f passFound) string {
	switch {
	case f.kind == snug:
		return p.say("pass.snug.how")
	case f.Torque == 0:
		return p.say("pass.no_torque")
	}
	text := p.s.torque(f.Torque)
	if p.q.Adapter != nil {
		text = p.say("pass.setting", p.s.torque(f.Setting), text)
	}
	switch beyond := f.beyond(); {
	case beyond != "":
		text = p.say(beyond, text)
	case f.Mark > 0 && f.Mark != f.Setting:
		text = p.say("pass.mark", text, p.s.torque(f.Mark))
	}
	return text
}

// passFigures are what to set in a pass, to be read from afar, and what else is to be said of it.
func (p page) passFigures(f passFound) (large, small string) {
	switch {
	case f.kind == snug:
		return p.say("pass.snug.large"), p.say("pass.snug.how")
	case f.Torque == 0:
		return p.say("pass.no_torque"), ""
	}
	set := f.Setting
	if p.q.Adapter != nil {
		small = p.say("pass.at_bolt", p.s.torque(f.Torque))
	}
	if f.Mark > 0 {
		set = f.Mark
	}
	if beyond := f.beyond(); beyond != "" {
		small = p.say(beyond + ".small")
	}
	return p.s.torque(set), small
}

// moved are the keys of another count of steps, with the wrench set for a pass, counted from 1.
func (s *sequence) moved(done, set int) tool.Setting {
	return tool.Setting{"progress.done", strconv.Itoa(done), "progress.of", s.of, "progress.set", strconv.Itoa(set)}
}

// once is for how many milliseconds a second press of the same button does nothing: no bolt takes less.
const once = "700"

// step is one bolt at a time, in a size that is read from the other side of the bench; before each pass, what to set.
func (p page) step(s *sequence) *sheet.Element {
	done := s.progress.done
	bar := sheet.New("div class=bar")
	if done > 0 {
		before, _ := s.at(done - 1)
		bar.With(tool.SetButton("", p.say("step.back"), s.moved(done-1, before+1)))
	}
	bar.With(sheet.New("button type=button data-alone=no").Say(p.say("step.leave")))
	if done == s.steps {
		all := sheet.New("p class=big").With(sheet.Text("strong", "", "✓"), sheet.Text("span", "", p.say("step.all", strconv.Itoa(len(s.order)))))
		return p.stepPart("end").With(sheet.New("h2").Say(p.say("step.finished")),
			all, p.lengthRows(s), sheet.Text("p", "small", p.say("step.after")), bar)
	}
	pass, place := s.at(done)
	f := s.passes[pass]
	title := sheet.New("h2").Say(p.say("step.pass", strconv.Itoa(pass+1), strconv.Itoa(len(s.passes)), p.passName(f)))
	if place == 0 && s.progress.set != pass+1 {
		return p.stepPart("set").With(title).With(p.setForPass(s, f, pass)...).With(bar)
	}
	return p.stepPart("bolt").With(title).With(p.boltAtHand(s, f, pass, place)...).With(bar)
}

// stepPart is the part that is shown alone, under what stops the tightening.
func (p page) stepPart(at string) *sheet.Element {
	e := sheet.New("section class=? data-slot=bolts-next data-alone-part=yes data-at=?", "part p-step", at)
	if p.f.stops {
		e.With(sheet.Text("p", "stop", p.say("step.stop", p.word(), p.headline())))
	}
	return e
}

// setForPass is what to set before a pass begins.
func (p page) setForPass(s *sequence, f passFound, pass int) []*sheet.Element {
	large, small := p.passFigures(f)
	word := "step.set"
	if f.kind == snug || f.Torque == 0 {
		word = "step.begin"
	}
	return []*sheet.Element{
		sheet.New("p class=set").With(sheet.Text("strong", "", large), sheet.Text("span", "", small)),
		tool.SetButton("wide ready", p.say(word), s.moved(s.progress.done, pass+1)).Attr("data-once", once),
	}
}

// boltAtHand is the bolt to tighten now.
func (p page) boltAtHand(s *sequence, f passFound, pass, place int) []*sheet.Element {
	large, small := p.passFigures(f)
	if b := s.bolts[s.order[place]]; b.length > 0 {
		small = p.say("step.length", p.s.millimetres(b.length))
	}
	word := "step.next"
	if place+1 == len(s.order) {
		word = "step.last"
	}
	return []*sheet.Element{
		sheet.New("div class=now").With(
			sheet.New("p class=big").With(sheet.Text("strong", "", strconv.Itoa(place+1)),
				sheet.Text("span", "", p.say("step.of", strconv.Itoa(len(s.order))))),
			sheet.New("p class=numbers").With(sheet.Text("strong", "", large), sheet.Text("span", "", small))),
		p.smallPlate(s),
		tool.SetButton("wide go", p.say(word), s.moved(s.progress.done+1, pass+1)).Attr("data-once", once),
	}
}

// order is the order to print: passes, counts, and where to begin.
func (p page) order(s *sequence) *sheet.Element {
	cautions := p.Cautions(func(code string) bool { return code == "threads_strip" || code == "under_pressure" })
	part := tool.Slotted(p.Section("order", cautions), "bolts-next")
	if s.underWay() {
		goOn := sheet.New("button type=button class=? data-alone=yes", "wide go")
		part.With(goOn.Say(p.say("step.go_on", strconv.Itoa(s.progress.done), strconv.Itoa(s.steps))),
			tool.SetButton("wide", p.say("step.again"), tool.Setting{"progress", ""}))
	} else {
		part.With(tool.SetButton("wide go", p.say("step.start"), s.moved(0, 0)).Attr("data-alone", "yes"))
	}
	rows := make([][2]string, len(s.passes))
	for i, f := range s.passes {
		rows[i] = [2]string{strconv.Itoa(i+1) + "  " + p.passName(f), p.passSetting(f)}
	}
	paper := sheet.New("ul class=paper")
	for _, line := range []string{"paper.part", "paper.wrench", "paper.who"} {
		paper.With(sheet.New("li").Say(p.say(line)))
	}
	return part.With(tool.Figures(rows).Attr("data-ticks", "yes"), p.lengthRows(s), paper, sheet.Text("p", "small", p.say("order.note")))
}
