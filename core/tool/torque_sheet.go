package tool

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
)

// layTorque lays out what was asked of a torque, each part behind the fields that ask for it.
func layTorque(r *Record, a *Answer) (head, why *sheet.Element, body []*sheet.Element) {
	res := a.Result.(torqueResult)
	head = a.torqueHead(r, res)
	if res.Torque != nil {
		body = append(body, a.unitsList(r, res))
	}
	if res.Pair != nil {
		body = append(body, a.pairSheet(r, res))
	}
	if res.Setting != nil {
		body = append(body, a.settingSheet(r, res))
	}
	if res.WrenchCheck != nil {
		body = append(body, a.scaleSheet(r, res))
	}
	if res.Fastener != nil {
		body = append(body, a.threadSheet(r, res))
	}
	if len(res.Table) > 0 {
		body = append(body, a.tableSheet(r, res))
	}
	return head, nil, append(body, a.tighteningSheets(r, res)...)
}

// draftTorque draws the plate before there is an answer, so that it can be tapped at once.
func draftTorque(_ *Record, a *Answer) []*sheet.Element {
	return []*sheet.Element{a.plateFigure(sequenceResult{}, "")}
}

// torqueHead is what matters most of what was found: what must not be done, else what to set, else the torque.
func (a *Answer) torqueHead(r *Record, res torqueResult) *sheet.Element {
	say := a.Speak.Say
	verdict := func(mark sheet.Mark, kind, number string, args ...any) *sheet.Element {
		return sheet.Verdict(mark, kind, say("torque.word."+kind, args...), number)
	}
	at := func(v float64) string { return a.torqueIn(r, v) }
	if stop := a.stopOf(r, res); stop != nil {
		return sheet.Verdict(stop.mark, stop.kind, stop.word, stop.number)
	}
	if s := res.Sequence; s != nil && s.Progress != nil && !s.Progress.Changed {
		return a.sequenceHead(r, res)
	}
	if res.Torque == nil {
		switch {
		case res.Sequence != nil && len(res.Sequence.Order) > 0:
			return a.sequenceHead(r, res)
		case res.Fastener != nil:
			return verdict(sheet.MarkUndecided, "no_figure", say("torque.headline.no_figure", res.Fastener.Thread, a.figured(in(a.unitFor(r), res.Fastener.TorqueBand.Min.Value), 2)+"\u00a0"+whole(a.unitFor(r).Sign)))
		}
		wrong := 0
		for _, l := range res.Table {
			if l.Verdict == "disagree" {
				wrong++
			}
		}
		if wrong > 0 {
			return verdict(sheet.MarkDisagree, "table_wrong", say("torque.headline.table_wrong", a.Speak.Number(float64(wrong), 0), a.Speak.Number(float64(len(res.Table)), 0)))
		}
		return verdict(sheet.MarkWithin, "table", say("torque.headline.table", a.Speak.Number(float64(len(res.Table)), 0)))
	}
	target := at(res.Torque.Value)
	if set, number, ok := a.settingHead(r, res); ok {
		return verdict(sheet.MarkWrench, "set", number, set)
	}
	own := a.unitFor(r)
	if res.Range != nil {
		return verdict(sheet.MarkWrench, "torque", say("torque.headline.range", at(res.Range.Min.Value), at(res.Range.Max.Value)), target)
	}
	// What was typed is known: the other unit is the answer.
	typed := r.at("torque").unit
	if own.Symbol == typed {
		own = torqueUnit(counterpart(typed, res.Torque.Value))
	}
	return verdict(sheet.MarkWrench, "torque", say("torque.headline.torque", a.printed(r.valueOf("torque"))), a.inUnit(own, res.Torque.Value))
}

// footPounds is the torque in newton metres from which foot-pounds are what a wrench for it shows; common practice.
const footPounds = 25

// counterpart is the unit that a torque is wanted in where it was given in another.
func counterpart(typed string, newtonMetres float64) string {
	switch {
	case typed != "N.m":
		return "N.m"
	case newtonMetres < footPounds:
		return "lbf.in"
	}
	return "lbf.ft"
}

// settingHead is what to set where that is not the torque itself: with an adapter on, or at the nearest mark.
func (a *Answer) settingHead(r *Record, res torqueResult) (set, number string, ok bool) {
	say := a.Speak.Say
	worked := a.setTo(r, res)
	if w := res.WrenchCheck; w != nil && w.Marks != nil && a.torqueIn(r, w.Marks.Nearest.Value) != worked {
		set = a.torqueIn(r, w.Marks.Nearest.Value)
		if res.Setting != nil {
			return set, say("torque.headline.mark_at_bolt", worked, a.torqueIn(r, res.Torque.Value)), true
		}
		return set, say("torque.headline.mark", worked), true
	}
	if res.Setting == nil {
		return "", "", false
	}
	return worked, say("torque.headline.at_bolt", a.torqueIn(r, res.Torque.Value)), true
}

// A stop is what has to be cleared up before a wrench is put on.
type stop struct {
	mark               sheet.Mark
	kind, word, number string
}

// stopOf is the gravest of them; nil where there is none.
func (a *Answer) stopOf(r *Record, res torqueResult) *stop {
	say := a.Speak.Say
	target := ""
	switch {
	case res.Torque != nil:
		target = a.torqueIn(r, res.Torque.Value)
	case res.Fastener != nil:
		target = a.torqueIn(r, res.Fastener.TorqueBand.Min.Value)
	}
	is := func(mark sheet.Mark, kind, number string) *stop {
		return &stop{mark, kind, say("torque.word." + kind), number}
	}
	switch w, f := res.WrenchCheck, res.Fastener; {
	case res.Pair != nil && res.Pair.Verdict == "disagree":
		return is(sheet.MarkDisagree, "disagree", say("torque.headline.disagree", a.printed(r.valueOf("torque")), a.printed(r.valueOf("printed_as"))))
	case f != nil && f.Verdict == "breaks":
		return is(sheet.MarkAbove, "breaks", say("torque.headline.on", target, f.Thread))
	case w != nil && w.Verdict == "above_scale":
		return is(sheet.MarkAbove, "above_scale", say("torque.headline.scale", a.setTo(r, res), a.torqueIn(r, r.Group("wrench").Value("max"))))
	case w != nil && w.Verdict == "below_scale":
		return is(sheet.MarkBelow, w.Verdict, say("torque.headline.scale_from", a.setTo(r, res), a.torqueIn(r, r.Group("wrench").Value("min"))))
	case w != nil && w.Verdict != "usable":
		return is(sheet.MarkBelow, w.Verdict, say("torque.headline.of_scale", a.setTo(r, res), a.torqueIn(r, r.Group("wrench").Value("max"))))
	case f != nil && f.Verdict == "stretches":
		return is(sheet.MarkAbove, "stretches", say("torque.headline.on", target, f.Thread))
	case f != nil && f.StripCheck != nil && f.StripCheck.Verdict == "strips":
		return is(sheet.MarkAbove, "strips", say("torque.headline.on", target, f.Thread))
	}
	return nil
}

// setTo is what the wrench is set to, in the unit that it shows.
func (a *Answer) setTo(r *Record, res torqueResult) string {
	if res.Setting != nil {
		return a.torqueIn(r, res.Setting.Value)
	}
	return a.torqueIn(r, res.Torque.Value)
}

// ownUnits are the units that the reader's wrench shows, as far as is known.
func ownUnits(r *Record) (own []string) {
	w := r.Group("wrench")
	if shows := w.Text("shows"); w.OK("shows") && shows != "any" {
		return []string{shows}
	}
	for _, name := range []string{"max", "min", "graduation"} {
		if s := w.at(name); s.given && s.ok && !slices.Contains(own, s.unit) {
			own = append(own, s.unit)
		}
	}
	return own
}

// unitFor is the unit that torques are said in: the wrench's, else the one given.
func (a *Answer) unitFor(r *Record) quantity.Unit {
	if own := ownUnits(r); len(own) > 0 {
		return torqueUnit(own[0])
	}
	for _, name := range []string{"torque", "min", "max"} {
		if s := r.at(name); s.given && s.ok {
			return torqueUnit(s.unit)
		}
	}
	return torqueUnit("N.m")
}

// torqueIn writes a torque in the unit that torques are said in.
func (a *Answer) torqueIn(r *Record, v float64) string { return a.inUnit(a.unitFor(r), v) }

func (a *Answer) inUnit(u quantity.Unit, v float64) string {
	return a.figured(in(u, v), 4) + "\u00a0" + whole(u.Sign)
}

// whole is a unit's sign that no line ends in.
func whole(sign string) string { return strings.ReplaceAll(sign, "-", "\u2011") }

// printed is a quantity as it was given, in the reader's notation.
func (a *Answer) printed(v quantity.Value) string {
	digits := v.Digits
	if a.Speak.Mark() == quantity.Comma {
		digits = strings.Replace(digits, ".", ",", 1)
	}
	return digits + "\u00a0" + whole(v.Unit.Sign)
}

// figured writes a number to so many figures at most, without zeros at its end.
func (a *Answer) figured(v float64, figures int) string {
	if v == 0 {
		return a.Speak.Number(0, 0)
	}
	power := int(math.Floor(math.Log10(math.Abs(v))))
	decimals := max(0, figures-1-power)
	short := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(short, ".") {
		short = strings.TrimRight(short, "0")
		decimals = len(short) - strings.IndexByte(short, '.') - 1
	}
	return a.Speak.Number(v, decimals)
}

// newtons and millimetres are a force and a length that were worked out, as they are read at a glance.
func (a *Answer) newtons(v float64) string {
	if math.Abs(v) >= 1000 {
		return a.figured(v/1000, 3) + "\u00a0kN"
	}
	return a.figured(v, 3) + "\u00a0N"
}

func (a *Answer) millimetres(v float64) string { return a.figured(v, 3) + "\u00a0mm" }

// lengthOf writes a length of the adapter in the unit that the field was given in.
func (a *Answer) lengthOf(r *Record, name string, v quantity.Length) string {
	u := unitOf(quantity.OfLength, r.Group("adapter").at(name).unit)
	return a.figured(in(u, float64(v)), 3) + "\u00a0" + u.Sign
}

// slotted puts a part behind a field.
func slotted(e *sheet.Element, slot string) *sheet.Element { return e.Attr("data-slot", slot) }

// A setting is what a button sets: flat keys and their texts in turn, as data-set has them.
type setting []string

// String writes it as JSON. Keys and texts are the core's own: letters, digits and dots, that need no escape.
func (s setting) String() string {
	b := []byte{'{'}
	for i := 0; i+1 < len(s); i += 2 {
		if i > 0 {
			b = append(b, ',')
		}
		b = strconv.AppendQuote(b, s[i])
		b = append(b, ':')
		b = strconv.AppendQuote(b, s[i+1])
	}
	return string(append(b, '}'))
}

// settingButton is a button that sets fields.
func settingButton(class, text string, set setting) *sheet.Element {
	return sheet.New("button type=button class=? data-set=?", class, set.String()).Say(text)
}

// unitsList is the torque in every unit, those of the reader's wrench largest; a tap says what the wrench shows.
func (a *Answer) unitsList(r *Record, res torqueResult) *sheet.Element {
	say := a.Speak.Say
	own := ownUnits(r)
	set, _, differs := a.settingHead(r, res)
	list := sheet.New("ul class=units-list aria-label=?", say("torque.units"))
	for _, symbol := range shownUnits {
		u := torqueUnit(symbol)
		text, name := a.figured(in(u, res.Torque.Value), 4), say("torque.wrench.shows="+symbol)
		if res.Range != nil {
			text = a.figured(in(u, res.Range.Min.Value), 4) + "–" + a.figured(in(u, res.Range.Max.Value), 4)
		}
		class, pressed, shows := "", "false", symbol
		if slices.Contains(own, symbol) {
			class, pressed, shows = "own", "true", ""
			if differs && symbol == own[0] { // what the wrench is set to is the figure to be read from afar
				class, name = "own set", say("torque.units.set", text+"\u00a0"+whole(u.Sign))
				text, _, _ = strings.Cut(set, "\u00a0")
			}
		}
		list.With(sheet.New("li data-unit=? class=?", symbol, class).With(
			sheet.New("button type=button data-set=? aria-pressed=?", setting{"wrench.shows", shows}.String(), pressed).With(
				sheet.Text("strong", "", text), sheet.Text("span", "", u.Sign), sheet.Text("small", "", name))))
	}
	how := "torque.units.how"
	switch {
	case differs && len(own) > 0:
		how = "torque.units.set.how"
	case len(own) > 0:
		how = "torque.units.own"
	}
	return slotted(sheet.New("section class=?", "part p-units").With(list, sheet.Text("p", "small", say(how))), "torque")
}

// pairSheet says whether two printed figures are of one torque, and if not, which slip would explain it.
func (a *Answer) pairSheet(r *Record, res torqueResult) *sheet.Element {
	say, p := a.Speak.Say, res.Pair
	first, second := r.valueOf("torque"), r.valueOf("printed_as")
	converted := say("torque.pair.converted", a.printed(first), a.inUnit(second.Unit, first.In), a.printed(second), a.inUnit(first.Unit, second.In))
	part := a.section("pair", sheet.Text("p", "", say("torque.pair."+p.Verdict, a.apart(p.Difference.Value))), sheet.Text("p", "numbers", converted))
	if slips := a.slipList(p.Slips); slips != nil {
		part.With(sheet.Text("p", "", say("torque.slips")), slips)
	}
	if p.Verdict == "disagree" {
		part.With(sheet.Text("p", "small", say("torque.pair.ask")))
	}
	return slotted(part, "printed_as")
}

// apart says how far two figures lie apart: as a share, or how many times one is the other.
func (a *Answer) apart(difference float64) string {
	times := 1 + difference
	if times > 0 && times < 1 {
		times = 1 / times
	}
	if times >= 2 {
		return a.Speak.Say("torque.pair.times", a.figured(times, 2))
	}
	return a.percent(math.Abs(difference))
}

// slipList names slips, and what the figure would be without them.
func (a *Answer) slipList(slips []slipResult) *sheet.Element {
	if len(slips) == 0 {
		return nil
	}
	list := sheet.New("ul class=slips")
	for _, s := range slips {
		u := torqueUnit(s.Meant.Unit)
		list.With(sheet.New("li data-slip=?", s.Slip).Say(a.Speak.Say("torque.slip."+s.Slip, a.Speak.Say("torque.figure."+s.Figure), a.figured(s.Meant.Value, 4)+"\u00a0"+whole(u.Sign))))
	}
	return list
}

// settingSheet is what to set with the adapter on, drawn, and when that does not hold.
func (a *Answer) settingSheet(r *Record, res torqueResult) *sheet.Element {
	say := a.Speak.Say
	ad := adapterOf(r.Group("adapter"))
	caption := say("torque.setting.lever", a.lengthOf(r, "wrench", ad.Reach()), a.lengthOf(r, "wrench", ad.Wrench))
	if ad.Reach() == ad.Wrench {
		caption = say("torque.setting.square")
	}
	part := a.section("setting",
		sheet.New("p class=big-line").With(sheet.Text("strong", "", say("torque.word.set", a.setTo(r, res))), sheet.Text("span", "", say("torque.headline.at_bolt", a.torqueIn(r, res.Torque.Value)))),
		a.adapterDrawing(r, ad, caption), sheet.Text("p", "small", say("torque.setting.holds")))
	return slotted(part, "adapter")
}

// The room of the adapter's drawing, and how long its lever is drawn.
const (
	leverBox  = "0 0 328 120"
	leverRoom = 230.0
)

// adapterDrawing draws handle, drive and adapter from above, to scale.
func (a *Answer) adapterDrawing(r *Record, ad fastener.Adapter, caption string) *sheet.Element {
	scale := leverRoom / float64(ad.Wrench+ad.Extension)
	l, e := float64(ad.Wrench)*scale, float64(ad.Extension)*scale
	turn := float64(ad.Angle) * math.Pi / 180
	driveX, driveY := 24+l, 80.0
	boltX, boltY := driveX+e*math.Cos(turn), driveY-e*math.Sin(turn)
	boltY = math.Max(boltY, 14)
	at := func(x, y float64) string { return sheet.Num(x) + " " + sheet.Num(y) }
	return sheet.New("figure").With(
		sheet.New("svg viewBox=? class=? role=img aria-label=?", leverBox, "drawing lever", caption).With(
			sheet.New("path class=handle d=?", "M"+at(24, driveY)+"H"+sheet.Num(driveX)),
			sheet.New("path class=adapter d=?", "M"+at(driveX, driveY)+"L"+at(boltX, boltY)),
			sheet.New("path class=pull d=?", "M"+at(24, driveY-30)+"V"+sheet.Num(driveY-6)+"m-5 -8l5 8l5 -8"),
			sheet.New("circle class=drive cx=? cy=? r=6", sheet.Num(driveX), sheet.Num(driveY)),
			sheet.New("path class=hex d=?", hexagon(boltX, boltY, 11)),
			sheet.New("text x=? y=? text-anchor=middle", sheet.Num(24+l/2), sheet.Num(driveY+18)).Say("L "+a.lengthOf(r, "wrench", ad.Wrench)),
			sheet.New("text x=320 y=? text-anchor=end", sheet.Num(driveY+34)).Say("E "+a.lengthOf(r, "extension", ad.Extension)),
		), sheet.New("figcaption").Say(caption))
}

// hexagon is the path of a bolt's head.
func hexagon(x, y, size float64) string {
	path := "M"
	for k := range 6 {
		if k > 0 {
			path += "L"
		}
		turn := float64(k) * math.Pi / 3
		path += sheet.Num(x+size*math.Cos(turn)) + " " + sheet.Num(y+size*math.Sin(turn))
	}
	return path + "z"
}

// scaleSheet says whether the wrench reaches the setting, what its marks allow, and what torque it may reach.
func (a *Answer) scaleSheet(r *Record, res torqueResult) *sheet.Element {
	say, w := a.Speak.Say, res.WrenchCheck
	at := func(v Amount) string { return a.torqueIn(r, v.Value) }
	var rows [][2]string
	if w.Fifth != nil {
		rows = append(rows, [2]string{say("torque.scale.fifth"), at(*w.Fifth)})
	}
	if w.Reached != nil {
		rows = append(rows, [2]string{say("torque.scale.reached", a.percent(w.Deviation.Value)), say("torque.span", at(w.Reached.Min), at(w.Reached.Max))})
	}
	if m := w.Marks; m != nil {
		for _, mark := range []struct {
			key string
			at  *Amount
		}{{"torque.scale.mark_below", m.Below}, {"torque.scale.mark_above", m.Above}} {
			switch {
			case mark.at == nil:
			case m.Below != nil && m.Above != nil && m.Below.Value == m.Above.Value:
				if mark.at == m.Below {
					rows = append(rows, [2]string{say("torque.scale.mark"), at(*mark.at)})
				}
			default:
				rows = append(rows, [2]string{say(mark.key), at(*mark.at)})
			}
		}
		rows = append(rows, [2]string{say("torque.scale.nearest", at(m.Nearest)), say("torque.span", at(m.Reached.Min), at(m.Reached.Max))})
	}
	if w.InRange != "" {
		rows = append(rows, [2]string{say("torque.scale.in_range"), say("torque.scale.in_range." + w.InRange)})
	}
	return slotted(a.section("scale", sheet.Text("p", "", say("torque.scale."+w.Verdict, a.setTo(r, res))), a.figures(rows)), "wrench")
}

// threadSheet is what the thread could take, always under the words that this is no specification.
func (a *Answer) threadSheet(r *Record, res torqueResult) *sheet.Element {
	say, f := a.Speak.Say, res.Fastener
	g := r.Group("fastener")
	at := func(v Amount) string { return a.torqueIn(r, v.Value) }
	force := func(v Amount) string { return a.newtons(v.Value) }
	within := g.Value("friction_within")
	low, high := a.Speak.Number(g.Value("friction")-within, 2), a.Speak.Number(g.Value("friction")+within, 2)
	used := f.TorqueBand.Min
	if res.Torque != nil {
		used = *res.Torque
	}
	rows := [][2]string{
		{say("torque.thread.torque", a.percent(g.Value("utilisation")), low), say("torque.thread.up_to", at(f.TorqueBand.Min))},
		{say("torque.thread.sure", a.Speak.Number(g.Value("friction"), 2), high), say("torque.span", at(f.Torque), at(f.TorqueBand.Max))},
		{say("torque.thread.at", at(used), high, low), say("torque.span", force(f.PreloadBand.Min), force(f.PreloadBand.Max))},
		{say("torque.thread.stressed", low), a.percent(f.StressedMax.Value)},
		{say("torque.thread.proof"), force(f.ProofLoad)},
		{say("torque.thread.area"), a.figured(f.StressArea.Value, 3) + "\u00a0mm²"},
	}
	part := a.section("thread", a.preloadDrawing(f), a.figures(rows))
	if p := f.Practice; p != nil {
		part.With(sheet.Text("p", "practice", say("torque.practice."+p.Lies, a.inUnit(torqueUnit("lbf.in"), p.Torque.Value), a.inUnit(torqueUnit("N.m"), p.Torque.Value),
			a.inUnit(torqueUnit("N.m"), p.Band.Min.Value), a.inUnit(torqueUnit("N.m"), p.Band.Max.Value), g.Text("class"))+" "+say("torque.practice.why", a.percent(p.Stressed.Max.Value), a.percent(p.Stressed.Min.Value))))
	}
	if s := f.StripCheck; s != nil {
		part.With(sheet.Text("h3", "", say("torque.strip")), sheet.Text("p", "", say("torque.strip."+s.Verdict, force(s.Preload), force(s.Load.Min), force(s.Load.Max))), sheet.Text("p", "small", say("torque.strip.holds_for")))
	}
	return slotted(part, "fastener")
}

// preloadDrawing draws the band of preload that one torque gives, beside the proof load and what strips the threads.
func (a *Answer) preloadDrawing(f *fastenerResult) *sheet.Element {
	say := a.Speak.Say
	most := math.Max(f.ProofLoad.Value, f.PreloadBand.Max.Value)
	if f.StripCheck != nil {
		most = math.Max(most, math.Min(f.StripCheck.Load.Max.Value, 2*most))
	}
	x := sheet.Scale{From: 0, To: most * 1.08 / 1000, A: 10, B: 318}
	px := func(v Amount) float64 { c, _ := x.Clamp(v.Value / 1000); return c }
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", "0 0 328 100", "drawing preload", say("torque.drawn.text", a.newtons(f.PreloadBand.Min.Value), a.newtons(f.PreloadBand.Max.Value), a.newtons(f.ProofLoad.Value)))
	ticks, d := x.Ticks(5)
	for _, v := range ticks {
		svg.With(sheet.New("path class=grid d=?", "M"+sheet.Num(x.At(v))+" 30V78"), sheet.New("text x=? y=94 text-anchor=middle", sheet.Num(x.At(v))).Say(a.Speak.Number(v, d)))
	}
	svg.With(sheet.New("rect class=band x=? y=42 width=? height=24", sheet.Num(px(f.PreloadBand.Min)), sheet.Num(math.Max(2, px(f.PreloadBand.Max)-px(f.PreloadBand.Min)))))
	svg.With(sheet.New("path class=average d=?", "M"+sheet.Num(px(f.PreloadAt))+" 38V70"))
	proof := px(f.ProofLoad)
	svg.With(sheet.New("path class=limit d=?", "M"+sheet.Num(proof)+" 26V78"), sheet.New("text x=? y=20 text-anchor=?", sheet.Num(proof), anchor(proof)).Say(say("torque.drawn.proof")))
	if s := f.StripCheck; s != nil {
		svg.With(sheet.New("path class=gives-way d=?", "M"+sheet.Num(px(s.Load.Min))+" 72H"+sheet.Num(px(s.Load.Max))+"M"+sheet.Num(px(s.Load.Min))+" 66v12"), sheet.New("text x=? y=66 text-anchor=end", sheet.Num(px(s.Load.Max))).Say(say("torque.drawn.strip")))
	}
	return sheet.New("figure").With(svg, sheet.New("figcaption").Say(say("torque.drawn.caption")))
}

// anchor keeps a label on the drawing.
func anchor(x float64) string {
	switch {
	case x > 250:
		return "end"
	case x < 60:
		return "start"
	}
	return "middle"
}

// rangeIn writes a line's torque, or its range, in a unit.
func (a *Answer) rangeIn(u quantity.Unit, l lineResult) string {
	if l.Range == nil {
		return a.inUnit(u, l.Torque.Value)
	}
	return a.figured(in(u, l.Range.Min.Value), 4) + "–" + a.inUnit(u, l.Range.Max.Value)
}

// rank puts what has to be looked at first.
func (l lineResult) rank() int {
	switch {
	case l.Verdict == "disagree":
		return 0
	case l.Falls, l.Angle != nil, l.Verdict == "ambiguous", l.Verdict == "unreadable":
		return 1
	}
	return 2
}

// tableSheet goes through a pasted table, row by row, what does not fit first.
func (a *Answer) tableSheet(r *Record, res torqueResult) *sheet.Element {
	say := a.Speak.Say
	list := sheet.New("ul class=rows-checked")
	rows := slices.Clone(res.Table)
	slices.SortStableFunc(rows, func(x, y lineResult) int { return x.rank() - y.rank() })
	for _, l := range rows {
		text := ""
		switch {
		case l.Verdict == "ambiguous" && len(l.Reads) == 2:
			text = say("torque.row.reads", l.Reads[0], l.Reads[1])
		case l.Verdict != "single":
			text = say("torque.row." + l.Verdict)
		case l.Torque != nil:
			text = say("torque.row.converted", a.rangeIn(torqueUnit("N.m"), l), a.rangeIn(torqueUnit("lbf.in"), l))
		}
		item := sheet.New("li data-line=? data-verdict=?", strconv.Itoa(l.Line), l.Verdict).With(sheet.Text("code", "", l.Text), sheet.Text("span", "", text), a.slipList(l.Slips))
		if len(l.Stages) > 0 {
			item.With(sheet.Text("span", "stages", say("torque.row.stages", strconv.Itoa(len(l.Stages)), a.inUnit(torqueUnit("N.m"), l.Torque.Value))))
		}
		if l.Angle != nil {
			item.With(sheet.Text("span", "falls", say("torque.row.angle", a.figured(l.Angle.Value, 4))))
		}
		if l.Falls {
			item.With(sheet.Text("span", "falls", say("torque.row.falls", l.Under)))
		}
		if l.Differs {
			item.With(sheet.Text("span", "differs", say("torque.row.differs")))
		}
		list.With(item)
	}
	return slotted(a.section("table", list, sheet.Text("p", "small", say("torque.table.note"))), "table")
}
