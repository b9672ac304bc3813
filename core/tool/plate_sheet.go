package tool

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/sheet"
)

// The plate on which bolts are placed: its drawing, and the places that it shows at least.
const (
	plateBox               = "0 0 328 328"
	plateNear, plateFar    = 16.0, 312.0
	plateSide              = 100.0
	plateStep              = 5
	boltRadius, boltTarget = 13.0, 22.0
)

// tighteningSheets are the plate with its bolts, the step at hand, and the passes.
func (a *Answer) tighteningSheets(r *Record, res torqueResult) []*sheet.Element {
	s := res.Sequence
	if s == nil {
		return []*sheet.Element{a.plateFigure(sequenceResult{}, "")}
	}
	out := []*sheet.Element{a.plateFigure(*s, fillOf(r, s))}
	if len(s.Order) == 0 {
		return out
	}
	if s.Progress != nil && !s.Progress.Changed {
		out = append(out, a.stepSheet(r, res))
	}
	return append(out, a.orderSheet(r, s))
}

// fillOf are the keys that make single rows of a generated pattern; "" where there is none.
func fillOf(r *Record, s *sequenceResult) string {
	if !r.Given("pattern") {
		return ""
	}
	set := setting{"pattern", ""}
	for i, b := range s.Bolts {
		at := "bolts." + strconv.Itoa(i) + "."
		length, kept := "", ""
		if b.Length != nil {
			length = millimetreText(b.Length.Value)
		}
		if b.Kept {
			kept = "yes"
		}
		set = append(set, at+"x", millimetreText(b.X.Value), at+"y", millimetreText(b.Y.Value), at+"length", length, at+"kept", kept)
	}
	return set.String()
}

// millimetreText is a length as a link writes it, to a thousandth.
func millimetreText(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) + "mm"
}

// A plate maps places to a drawing.
type plate struct{ x, y sheet.Scale }

// plateOf shows the whole plate, and more where a bolt lies beside it.
func plateOf(bolts []boltResult) plate {
	low, high := 0.0, plateSide
	for _, b := range bolts {
		low, high = math.Min(low, math.Min(b.X.Value, b.Y.Value)), math.Max(high, math.Max(b.X.Value, b.Y.Value))
	}
	return plate{sheet.Scale{From: low, To: high, A: plateNear, B: plateFar}, sheet.Scale{From: low, To: high, A: plateFar, B: plateNear}}
}

// board draws the plate's edge and its grid.
func (p plate) board() *sheet.Element {
	g := sheet.New("g class=board").With(sheet.New("rect class=edge x=2 y=2 width=324 height=324 rx=10"))
	grid := ""
	for k := range 11 {
		v := p.x.From + float64(k)/10*(p.x.To-p.x.From)
		grid += "M" + sheet.Num(p.x.At(v)) + " " + sheet.Num(plateNear) + "V" + sheet.Num(plateFar) + "M" + sheet.Num(plateNear) + " " + sheet.Num(p.y.At(v)) + "H" + sheet.Num(plateFar)
	}
	return g.With(sheet.New("path class=grid d=?", grid))
}

// bolt draws one bolt with its number.
func (a *Answer) bolt(p plate, b boltResult, class string) *sheet.Element {
	x, y := p.x.At(b.X.Value), p.y.At(b.Y.Value)
	g := sheet.New("g class=?", class).With(
		sheet.New("circle class=hit cx=? cy=? r=?", sheet.Num(x), sheet.Num(y), sheet.Num(boltTarget)),
		sheet.New("circle class=head-of cx=? cy=? r=?", sheet.Num(x), sheet.Num(y), sheet.Num(boltRadius)))
	if b.Kept {
		return g.With(sheet.New("path class=cross d=?", "M"+sheet.Num(x-7)+" "+sheet.Num(y-7)+"l14 14m0 -14l-14 14"))
	}
	g.With(sheet.New("text x=? y=? text-anchor=middle", sheet.Num(x), sheet.Num(y+4.5)).Say(strconv.Itoa(b.Number)))
	if b.Length != nil {
		g.With(sheet.New("text class=len x=? y=? text-anchor=middle", sheet.Num(x), sheet.Num(y+boltRadius+10)).Say(a.figured(b.Length.Value, 3)))
	}
	return g
}

// boltClass says how far a bolt's tightening has come in the pass at hand.
func (s *sequenceResult) boltClass(b boltResult) string {
	class := "bolt"
	if b.Kept {
		return class + " kept"
	}
	if b.Number == 1 {
		class += " first"
	}
	if s.Progress == nil || s.Progress.Changed || len(s.Order) == 0 {
		return class
	}
	switch _, place := s.at(s.Progress.Done); {
	case s.Progress.Done == s.Steps, b.Number <= place:
		return class + " done"
	case b.Number == place+1:
		return class + " now"
	}
	return class
}

// plateFigure draws the plate, to be tapped.
func (a *Answer) plateFigure(s sequenceResult, fill string) *sheet.Element {
	say := a.Speak.Say
	p := plateOf(s.Bolts)
	locked := s.Progress != nil && !s.Progress.Changed && s.Progress.Done < s.Steps
	window := strings.Join([]string{sheet.Num(p.x.From), sheet.Num(p.y.From), sheet.Num(p.x.To), sheet.Num(p.y.To)}, " ")
	inner := strings.Join([]string{sheet.Num(p.x.A), sheet.Num(p.y.A), sheet.Num(p.x.B), sheet.Num(p.y.B)}, " ")
	svg := sheet.New("svg viewBox=? class=? data-plate=bolts data-window=? data-inner=? data-step=? data-fill=? tabindex=0 role=group aria-label=?", plateBox, "drawing plate", window, inner, strconv.Itoa(plateStep), fill, say("torque.plate.text", a.Speak.Number(float64(len(s.Bolts)), 0)))
	if locked {
		svg.Attr("data-locked", "yes")
	}
	svg.With(p.board())
	for i, b := range s.Bolts {
		key, number := "torque.plate.bolt", []any{strconv.Itoa(b.Number)}
		switch {
		case b.Kept:
			key, number = "torque.plate.kept", nil
		case b.Length != nil:
			key, number = "torque.plate.bolt_of", append(number, a.millimetres(b.Length.Value))
		}
		row := strconv.Itoa(i)
		svg.With(a.bolt(p, b, s.boltClass(b)).Attr("data-bolt", row).Attr("data-value", row).Attr("data-at", sheet.Num(b.X.Value)+" "+sheet.Num(b.Y.Value)).Attr("role", "button").Attr("tabindex", "0").
			Attr("aria-label", say(key, append(number, a.figured(b.X.Value, 4), a.figured(b.Y.Value, 4))...)))
	}
	caption := say("torque.plate.empty")
	switch {
	case locked:
		caption = say("torque.plate.locked")
	case len(s.Bolts) > 0:
		caption = say("torque.plate.caption")
	}
	f := sheet.New("figure class=? data-slot=bolts", "plate-figure").With(svg, sheet.New("figcaption").Say(caption))
	if len(s.Bolts) > 0 && !locked {
		f.With(a.pens(s))
		f.With(settingButton("wide", say("torque.plate.clear"), setting{"bolts", "", "pattern", "", "progress", ""}))
	}
	return f
}

// pens are what a tap can put onto a bolt: a length that another one has, or that it is not to be undone.
func (a *Answer) pens(s sequenceResult) *sheet.Element {
	say := a.Speak.Say
	group := sheet.New("div class=pens role=group aria-label=?", say("torque.pens"))
	pen := func(text, key, value string) {
		group.With(sheet.New("button type=button aria-pressed=false data-pen=?", setting{key, value}.String()).Say(text))
	}
	for _, l := range s.Lengths {
		if l.Length != nil {
			pen(a.millimetres(l.Length.Value), "length", millimetreText(l.Length.Value))
		}
	}
	pen(say("torque.bolts.kept=yes"), "kept", "yes")
	return group
}

// passName says what a pass does.
func (a *Answer) passName(p passResult) string {
	if p.Kind == "share" {
		return a.Speak.Say("torque.pass.share", a.percent(p.Share.Value))
	}
	return a.Speak.Say("torque.pass." + p.Kind)
}

// passSetting says what to set the wrench to in a pass, and where it does not reach that.
func (a *Answer) passSetting(r *Record, p passResult) string {
	say := a.Speak.Say
	switch {
	case p.Kind == "snug":
		return say("torque.pass.snug.how")
	case p.Torque == nil:
		return say("torque.pass.no_torque")
	}
	text, set := a.torqueIn(r, p.Torque.Value), p.Torque.Value
	if p.Setting != nil {
		set = p.Setting.Value
		text = say("torque.pass.setting", a.torqueIn(r, set), text)
	}
	switch {
	case p.WrenchCheck != "" && p.WrenchCheck != "usable":
		text = say("torque.pass."+p.WrenchCheck, text)
	case p.Mark != nil && p.Mark.Value != set:
		text = say("torque.pass.mark", text, a.torqueIn(r, p.Mark.Value))
	}
	return text
}

// moved are the keys of another count of steps, with the wrench set for a pass, counted from 1.
func (s *sequenceResult) moved(done, set int) setting {
	return setting{"progress.done", strconv.Itoa(done), "progress.of", s.Of, "progress.set", strconv.Itoa(set)}
}

// stepSheet is one bolt at a time, in a size that is read from the other side of the bench; before each pass, what to set.
func (a *Answer) stepSheet(r *Record, res torqueResult) *sheet.Element {
	s := res.Sequence
	say, done := a.Speak.Say, s.Progress.Done
	bar := sheet.New("div class=bar")
	if done > 0 {
		before, _ := s.at(done - 1)
		bar.With(settingButton("", say("torque.step.back"), s.moved(done-1, before+1)))
	}
	bar.With(sheet.New("button type=button data-alone=no").Say(say("torque.step.leave")))
	part := func(at string) *sheet.Element {
		e := sheet.New("section class=? data-slot=bolts-next data-alone-part=yes data-at=?", "part p-step", at)
		if stop := a.stopOf(r, res); stop != nil {
			e.With(sheet.Text("p", "stop", say("torque.step.stop", stop.word, stop.number)))
		}
		return e
	}
	if done == s.Steps {
		return part("end").With(sheet.New("h2").Say(say("torque.step.finished")),
			sheet.New("p class=big").With(sheet.Text("strong", "", "✓"), sheet.Text("span", "", say("torque.step.all", a.Speak.Number(float64(len(s.Order)), 0)))),
			a.lengthRows(s), sheet.Text("p", "small", say("torque.step.after")), bar)
	}
	pass, place := s.at(done)
	p := s.Passes[pass]
	large, small := a.passFigures(r, p)
	if place == 0 && s.Progress.Set != pass+1 {
		word := "torque.step.set"
		if p.Kind == "snug" || p.Torque == nil {
			word = "torque.step.begin"
		}
		return part("set").With(sheet.New("h2").Say(say("torque.step.pass", strconv.Itoa(pass+1), strconv.Itoa(len(s.Passes)), a.passName(p))),
			sheet.New("p class=set").With(sheet.Text("strong", "", large), sheet.Text("span", "", small)),
			settingButton("wide ready", say(word), s.moved(done, pass+1)).Attr("data-once", once), bar)
	}
	b := s.Bolts[s.Order[place]-1]
	if b.Length != nil {
		small = say("torque.step.length", a.millimetres(b.Length.Value))
	}
	word := "torque.step.next"
	if place+1 == len(s.Order) {
		word = "torque.step.last"
	}
	next := s.moved(done+1, pass+1)
	return part("bolt").With(
		sheet.New("h2").Say(say("torque.step.pass", strconv.Itoa(pass+1), strconv.Itoa(len(s.Passes)), a.passName(p))),
		sheet.New("div class=now").With(
			sheet.New("p class=big").With(sheet.Text("strong", "", strconv.Itoa(place+1)), sheet.Text("span", "", say("torque.step.of", strconv.Itoa(len(s.Order))))),
			sheet.New("p class=numbers").With(sheet.Text("strong", "", large), sheet.Text("span", "", small))),
		a.smallPlate(s), settingButton("wide go", say(word), next).Attr("data-once", once), bar)
}

// once is for how many milliseconds a second press of the same button does nothing: no bolt takes less.
const once = "700"

// passFigures are what to set in a pass, to be read from afar, and what else is to be said of it.
func (a *Answer) passFigures(r *Record, p passResult) (large, small string) {
	say := a.Speak.Say
	switch {
	case p.Kind == "snug":
		return say("torque.pass.snug.large"), say("torque.pass.snug.how")
	case p.Torque == nil:
		return say("torque.pass.no_torque"), ""
	}
	set := *p.Torque
	if p.Setting != nil {
		set, small = *p.Setting, say("torque.pass.at_bolt", a.torqueIn(r, p.Torque.Value))
	}
	if p.Mark != nil {
		set = *p.Mark
	}
	if p.WrenchCheck != "" && p.WrenchCheck != "usable" {
		small = say("torque.pass." + p.WrenchCheck + ".small")
	}
	return a.torqueIn(r, set.Value), small
}

// smallPlate draws the bolts alone, as large as they fit.
func (a *Answer) smallPlate(s *sequenceResult) *sheet.Element {
	p := plateOf(s.Bolts)
	left, right, top, bottom := plateFar, plateNear, plateFar, plateNear
	for _, b := range s.Bolts {
		x, y := p.x.At(b.X.Value), p.y.At(b.Y.Value)
		left, right, top, bottom = math.Min(left, x), math.Max(right, x), math.Min(top, y), math.Max(bottom, y)
	}
	const room = boltRadius + 14
	box := strings.Join([]string{sheet.Num(left - room), sheet.Num(top - room), sheet.Num(right - left + 2*room), sheet.Num(bottom - top + 2*room)}, " ")
	svg := sheet.New("svg viewBox=? class=? aria-hidden=true focusable=false", box, "drawing plate small")
	// What is drawn last lies over its neighbours: the bolt at hand.
	rank := func(b boltResult) int {
		switch {
		case b.Kept:
			return 0
		case strings.HasSuffix(s.boltClass(b), " now"):
			return 2
		}
		return 1
	}
	bolts := slices.Clone(s.Bolts)
	slices.SortStableFunc(bolts, func(x, y boltResult) int { return rank(x) - rank(y) })
	for _, b := range bolts {
		svg.With(a.bolt(p, b, s.boltClass(b)))
	}
	return svg
}

// orderSheet is the order to print: passes, counts, and where to begin.
func (a *Answer) orderSheet(r *Record, s *sequenceResult) *sheet.Element {
	say := a.Speak.Say
	part := slotted(a.section("order", a.cautionList(func(code string) bool { return code == "threads_strip" || code == "under_pressure" })), "bolts-next")
	switch {
	case s.Progress == nil || s.Progress.Changed:
		part.With(settingButton("wide go", say("torque.step.start"), s.moved(0, 0)).Attr("data-alone", "yes"))
	default:
		part.With(sheet.New("button type=button class=? data-alone=yes", "wide go").Say(say("torque.step.go_on", strconv.Itoa(s.Progress.Done), strconv.Itoa(s.Steps))),
			settingButton("wide", say("torque.step.again"), setting{"progress", ""}))
	}
	rows := make([][2]string, len(s.Passes))
	for i, p := range s.Passes {
		rows[i] = [2]string{strconv.Itoa(i+1) + "  " + a.passName(p), a.passSetting(r, p)}
	}
	paper := sheet.New("ul class=paper")
	for _, line := range []string{"torque.paper.part", "torque.paper.wrench", "torque.paper.who"} {
		paper.With(sheet.New("li").Say(say(line)))
	}
	return part.With(a.figures(rows).Attr("data-ticks", "yes"), a.lengthRows(s), paper, sheet.Text("p", "small", say("torque.order.note")))
}

// lengthRows counts the bolts by length, so that none is left over.
func (a *Answer) lengthRows(s *sequenceResult) *sheet.Element {
	var rows [][2]string
	for _, l := range s.Lengths {
		name := a.Speak.Say("torque.length.unknown")
		if l.Length != nil {
			name = a.Speak.Say("torque.length", a.millimetres(l.Length.Value))
		}
		rows = append(rows, [2]string{name, strconv.Itoa(l.Count)})
	}
	kept := 0
	for _, b := range s.Bolts {
		if b.Kept {
			kept++
		}
	}
	if kept > 0 {
		rows = append(rows, [2]string{a.Speak.Say("torque.length.kept"), strconv.Itoa(kept)})
	}
	return a.figures(rows)
}

// sequenceHead says where the tightening stands.
func (a *Answer) sequenceHead(r *Record, res torqueResult) *sheet.Element {
	say, s := a.Speak.Say, res.Sequence
	if s.Progress == nil || s.Progress.Changed || s.Progress.Done == s.Steps {
		return sheet.Verdict(sheet.MarkWrench, "order", say("torque.word.order", strconv.Itoa(len(s.Order))), say("torque.headline.order", strconv.Itoa(len(s.Passes))))
	}
	pass, place := s.at(s.Progress.Done)
	return sheet.Verdict(sheet.MarkWrench, "step", say("torque.word.step", strconv.Itoa(pass+1), strconv.Itoa(len(s.Passes))), say("torque.headline.step", a.passName(s.Passes[pass]), strconv.Itoa(place+1), strconv.Itoa(len(s.Order))))
}
