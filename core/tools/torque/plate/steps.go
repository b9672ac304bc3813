package plate

import (
	"strconv"

	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

// PassName returns what a pass does, in words.
func PassName(s speech.Speaker, p bolts.Pass) string {
	if p.Kind == bolts.ToShare {
		return s.Say("pass.share", s.PerCent(p.Share))
	}
	return s.Say("pass." + string(p.Kind))
}

// beyond returns the key for a wrench that cannot be set for a pass; "" if it can, or if its scale is not known.
func beyond(f bolts.PassFound) string {
	if f.Use == nil || *f.Use == fastener.Usable {
		return ""
	}
	return "pass." + f.Use.String()
}

// passSetting says what to set the wrench to in a pass, and whether it can be set to that.
func (p page) passSetting(f bolts.PassFound) string {
	switch {
	case f.Kind == bolts.Snug:
		return p.s.Say("pass.snug.how")
	case f.Torque == 0:
		return p.s.Say("pass.no_torque")
	}
	text := p.s.Torque(f.Torque)
	if p.Adapter {
		text = p.s.Say("pass.setting", p.s.Torque(f.Setting), text)
	}
	switch key := beyond(f); {
	case key != "":
		text = p.s.Say(key, text)
	case f.Mark > 0 && f.Mark != f.Setting:
		text = p.s.Say("pass.mark", text, p.s.Torque(f.Mark))
	}
	return text
}

// passFigures returns what to set in a pass, in large type, and a note in small type.
func (p page) passFigures(f bolts.PassFound) (large, small string) {
	switch {
	case f.Kind == bolts.Snug:
		return p.s.Say("pass.snug.large"), p.s.Say("pass.snug.how")
	case f.Torque == 0:
		return p.s.Say("pass.no_torque"), ""
	}
	set := f.Setting
	if p.Adapter {
		small = p.s.Say("pass.at_bolt", p.s.Torque(f.Torque))
	}
	if f.Mark > 0 {
		set = f.Mark
	}
	if key := beyond(f); key != "" {
		small = p.s.Say(key + ".small")
	}
	return p.s.Torque(set), small
}

// moved returns a setting for another count of steps. set is the pass, from 1, for which the wrench was set.
func (p page) moved(done, set int) tool.Setting {
	return tool.Setting{"progress.done", strconv.Itoa(done), "progress.of", p.found.Of, "progress.set", strconv.Itoa(set)}
}

// once is the time in ms during which a second press of the same button is ignored. No bolt can be tightened faster.
const once = "700"

// step shows one bolt at a time, large enough to read from across the bench. Before each pass it shows what to set.
func (p page) step() *sheet.Element {
	done := p.found.Progress.Done
	bar := sheet.New("div class=bar")
	if done > 0 {
		before, _ := p.found.At(done - 1)
		bar.With(tool.SetButton("", p.s.Say("step.back"), p.moved(done-1, before+1)))
	}
	bar.With(sheet.New("button type=button data-alone=no").Say(p.s.Say("step.leave")))
	if done == p.found.Steps {
		count := p.s.Say(p.s.Form("step.all", len(p.found.Order)), strconv.Itoa(len(p.found.Order)))
		all := sheet.New("p class=big").With(sheet.Text("strong", "", "✓"), sheet.Text("span", "", count))
		return p.stepPart("end").With(sheet.New("h2").Say(p.s.Say("step.finished")),
			all, p.lengthRows(), sheet.Text("p", "small", p.s.Say("step.after")), bar)
	}
	pass, place := p.found.At(done)
	f := p.found.Passes[pass]
	title := sheet.New("h2").Say(p.s.Say("step.pass", strconv.Itoa(pass+1), strconv.Itoa(len(p.found.Passes)), PassName(p.s, f.Pass)))
	if place == 0 && p.found.Progress.Set != pass+1 {
		return p.stepPart("set").With(title).With(p.setForPass(f, pass)...).With(bar)
	}
	return p.stepPart("bolt").With(title).With(p.boltAtHand(f, pass, place)...).With(bar)
}

// stepPart returns the part that can be shown alone. It begins with whatever stops the tightening.
func (p page) stepPart(at string) *sheet.Element {
	e := sheet.New("section class=? data-slot=bolts-next data-alone-part=yes data-at=?", "part p-step", at)
	if p.Stop != "" {
		e.With(sheet.Text("p", "stop", p.Stop))
	}
	return e
}

// setForPass shows what to set before a pass begins.
func (p page) setForPass(f bolts.PassFound, pass int) []*sheet.Element {
	large, small := p.passFigures(f)
	word := "step.set"
	if f.Kind == bolts.Snug || f.Torque == 0 {
		word = "step.begin"
	}
	return []*sheet.Element{
		sheet.New("p class=set").With(sheet.Text("strong", "", large), sheet.Text("span", "", small)),
		tool.SetButton("wide ready", p.s.Say(word), p.moved(p.found.Progress.Done, pass+1)).Attr("data-once", once),
	}
}

// boltAtHand shows the bolt to tighten now.
func (p page) boltAtHand(f bolts.PassFound, pass, place int) []*sheet.Element {
	large, small := p.passFigures(f)
	if b := p.found.Bolts[p.found.Order[place]]; b.Length > 0 {
		small = p.s.Say("step.length", p.s.Millimetres(b.Length))
	}
	word := "step.next"
	if place+1 == len(p.found.Order) {
		word = "step.last"
	}
	return []*sheet.Element{
		sheet.New("div class=now").With(
			sheet.New("p class=big").With(sheet.Text("strong", "", strconv.Itoa(place+1)),
				sheet.Text("span", "", p.s.Say("step.of", strconv.Itoa(len(p.found.Order))))),
			sheet.New("p class=numbers").With(sheet.Text("strong", "", large), sheet.Text("span", "", small))),
		p.smallPlate(place + 1),
		tool.SetButton("wide go", p.s.Say(word), p.moved(p.found.Progress.Done+1, pass+1)).Attr("data-once", once),
	}
}

// order lays out the order for printing: passes, counts, and where to begin.
func (p page) order() *sheet.Element {
	cautions := p.layout.Cautions(func(code string) bool { return code == "threads_strip" || code == "under_pressure" })
	part := tool.Slotted(p.layout.Section("order", cautions), "bolts-next")
	if p.found.UnderWay() {
		goOn := sheet.New("button type=button class=? data-alone=yes", "wide go")
		part.With(goOn.Say(p.s.Say("step.go_on", strconv.Itoa(p.found.Progress.Done), strconv.Itoa(p.found.Steps))),
			tool.SetButton("wide", p.s.Say("step.again"), tool.Setting{"progress", ""}))
	} else {
		part.With(tool.SetButton("wide go", p.s.Say("step.start"), p.moved(0, 0)).Attr("data-alone", "yes"))
	}
	rows := make([][2]string, len(p.found.Passes))
	for i, f := range p.found.Passes {
		rows[i] = [2]string{strconv.Itoa(i+1) + "  " + PassName(p.s, f.Pass), p.passSetting(f)}
	}
	paper := sheet.New("ul class=paper")
	for _, line := range []string{"paper.part", "paper.wrench", "paper.who"} {
		paper.With(sheet.New("li").Say(p.s.Say(line)))
	}
	return part.With(tool.Figures(rows).Attr("data-ticks", "yes"), p.lengthRows(), paper, sheet.Text("p", "small", p.s.Say("order.note")))
}
