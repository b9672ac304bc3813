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
	if s := res.Sequence; s != nil && s.Progress != nil && !s.Progress.Changed {
		return a.sequenceHead(r, res)
	}
	if res.Torque == nil {
		switch {
		case res.Sequence != nil && len(res.Sequence.Order) > 0:
			return a.sequenceHead(r, res)
		case res.Fastener != nil:
			return verdict(sheet.MarkUndecided, "no_figure", say("torque.headline.no_figure", res.Fastener.Thread, at(res.Fastener.TorqueBand.Min.Value), at(res.Fastener.TorqueBand.Max.Value)))
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
	switch {
	case res.Pair != nil && res.Pair.Verdict == "disagree":
		return verdict(sheet.MarkDisagree, "disagree", say("torque.headline.disagree", a.printed(r.valueOf("torque")), a.printed(r.valueOf("printed_as"))))
	case res.WrenchCheck != nil && res.WrenchCheck.Verdict != "usable":
		mark := sheet.MarkBelow
		if res.WrenchCheck.Verdict == "above_scale" {
			mark = sheet.MarkAbove
		}
		return verdict(mark, res.WrenchCheck.Verdict, say("torque.headline.set", a.setTo(r, res), target))
	case res.Fastener != nil && res.Fastener.Stressed.Value > 1:
		return verdict(sheet.MarkAbove, "yields", say("torque.headline.yields", target, res.Fastener.Thread))
	case res.Fastener != nil && res.Fastener.StripCheck != nil && res.Fastener.StripCheck.Verdict == "strips":
		return verdict(sheet.MarkAbove, "strips", say("torque.headline.strips", target, res.Fastener.Thread))
	case res.Setting != nil:
		return verdict(sheet.MarkWrench, "set", say("torque.headline.at_bolt", target), a.setTo(r, res))
	}
	if res.Range != nil {
		return verdict(sheet.MarkWrench, "torque", say("torque.headline.range", at(res.Range.Min.Value), at(res.Range.Max.Value)), target)
	}
	other := a.printed(r.valueOf("torque"))
	switch u := a.unitFor(r); {
	case u.Symbol != r.at("torque").unit:
	case u.Symbol == "N.m":
		other = a.inUnit(torqueUnit("lbf.in"), res.Torque.Value)
	default:
		other = a.inUnit(torqueUnit("N.m"), res.Torque.Value)
	}
	return verdict(sheet.MarkWrench, "torque", say("torque.headline.torque", other), target)
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
	if w == nil {
		return nil
	}
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
	list := sheet.New("ul class=units-list aria-label=?", say("torque.units"))
	for _, symbol := range torqueUnits {
		u := torqueUnit(symbol)
		text := a.figured(in(u, res.Torque.Value), 4)
		if res.Range != nil {
			text = a.figured(in(u, res.Range.Min.Value), 4) + "–" + a.figured(in(u, res.Range.Max.Value), 4)
		}
		class, pressed, set := "", "false", symbol
		if slices.Contains(own, symbol) {
			class, pressed, set = "own", "true", ""
		}
		list.With(sheet.New("li data-unit=? class=?", symbol, class).With(
			sheet.New("button type=button data-set=? aria-pressed=?", setting{"wrench.shows", set}.String(), pressed).With(
				sheet.Text("strong", "", text), sheet.Text("span", "", u.Sign), sheet.Text("small", "", say("torque.wrench.shows="+symbol)))))
	}
	how := "torque.units.how"
	if len(own) > 0 {
		how = "torque.units.own"
	}
	return slotted(sheet.New("section class=?", "part p-units").With(list, sheet.Text("p", "small", say(how))), "torque")
}

// pairSheet says whether two printed figures are of one torque, and if not, which slip would explain it.
func (a *Answer) pairSheet(r *Record, res torqueResult) *sheet.Element {
	say, p := a.Speak.Say, res.Pair
	first, second := r.valueOf("torque"), r.valueOf("printed_as")
	converted := say("torque.pair.converted", a.printed(first), a.inUnit(second.Unit, first.In), a.printed(second), a.inUnit(first.Unit, second.In))
	part := a.section("pair", sheet.Text("p", "", say("torque.pair."+p.Verdict, a.percent(math.Abs(p.Difference.Value)))), sheet.Text("p", "numbers", converted))
	if slips := a.slipList(p.Slips); slips != nil {
		part.With(sheet.Text("p", "", say("torque.slips")), slips)
	}
	if p.Verdict == "disagree" {
		part.With(sheet.Text("p", "small", say("torque.pair.ask")))
	}
	return slotted(part, "printed_as")
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
	caption := say("torque.setting.lever", a.millimetres(res.Reach.Value), a.millimetres(float64(ad.Wrench)))
	if ad.Reach() == ad.Wrench {
		caption = say("torque.setting.square")
	}
	part := a.section("setting",
		sheet.New("p class=big-line").With(sheet.Text("strong", "", say("torque.word.set", a.setTo(r, res))), sheet.Text("span", "", say("torque.headline.at_bolt", a.torqueIn(r, res.Torque.Value)))),
		a.adapterDrawing(ad, caption), sheet.Text("p", "small", say("torque.setting.holds")))
	return slotted(part, "adapter")
}

// The room of the adapter's drawing, and how long its lever is drawn.
const (
	leverBox  = "0 0 328 120"
	leverRoom = 230.0
)

// adapterDrawing draws handle, drive and adapter from above, to scale.
func (a *Answer) adapterDrawing(ad fastener.Adapter, caption string) *sheet.Element {
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
			sheet.New("text x=? y=? text-anchor=middle", sheet.Num(24+l/2), sheet.Num(driveY+18)).Say("L "+a.millimetres(float64(ad.Wrench))),
			sheet.New("text x=320 y=? text-anchor=end", sheet.Num(driveY+34)).Say("E "+a.millimetres(float64(ad.Extension))),
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
	rows := [][2]string{{say("torque.scale.reached", a.percent(w.Deviation.Value)), say("torque.span", at(w.Reached.Min), at(w.Reached.Max))}}
	if w.Fifth != nil {
		rows = append([][2]string{{say("torque.scale.fifth"), at(*w.Fifth)}}, rows...)
	}
	if m := w.Marks; m != nil {
		if m.Below.Value == m.Above.Value {
			rows = append(rows, [2]string{say("torque.scale.mark"), at(m.Below)})
		} else {
			rows = append(rows, [2]string{say("torque.scale.marks"), say("torque.span", at(m.Below), at(m.Above))}, [2]string{say("torque.scale.nearest", at(m.Nearest)), say("torque.span", at(m.Reached.Min), at(m.Reached.Max))})
		}
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
	key := "torque.thread.at_given"
	if res.Torque == nil {
		key = "torque.thread.at_estimate"
	}
	used := f.Torque
	if res.Torque != nil {
		used = *res.Torque
	}
	rows := [][2]string{
		{say("torque.thread.torque", a.percent(g.Value("utilisation")), low, high), say("torque.span", at(f.TorqueBand.Min), at(f.TorqueBand.Max))},
		{say(key, at(used), high, low), say("torque.span", force(f.PreloadBand.Min), force(f.PreloadBand.Max))},
		{say("torque.thread.stressed", low), a.percent(f.StressedMax.Value)},
		{say("torque.thread.proof"), force(f.ProofLoad)},
		{say("torque.thread.area"), a.figured(f.StressArea.Value, 3) + "\u00a0mm²"},
	}
	part := a.section("thread", a.preloadDrawing(f), a.figures(rows))
	if p := f.Practice; p != nil {
		key := "torque.practice.outside"
		if p.Within {
			key = "torque.practice.within"
		}
		part.With(sheet.Text("p", "practice", say(key, a.inUnit(torqueUnit("lbf.in"), p.Torque.Value), a.inUnit(torqueUnit("N.m"), p.Torque.Value),
			a.inUnit(torqueUnit("N.m"), p.Band.Min.Value), a.inUnit(torqueUnit("N.m"), p.Band.Max.Value), g.Text("class"))+" "+say("torque.practice.why", a.percent(p.Stressed.Max.Value), a.percent(p.Stressed.Min.Value))))
	}
	if s := f.StripCheck; s != nil {
		part.With(sheet.Text("h3", "", say("torque.strip")), sheet.Text("p", "", say("torque.strip."+s.Verdict, force(s.Preload), force(s.Load.Min), force(s.Load.Max), a.millimetres(s.EngagementNeeded.Value))), sheet.Text("p", "small", say("torque.strip.holds_for")))
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

// tableSheet goes through a pasted table, row by row, what does not fit first.
func (a *Answer) tableSheet(r *Record, res torqueResult) *sheet.Element {
	say := a.Speak.Say
	list := sheet.New("ul class=rows-checked")
	for _, l := range res.Table {
		text := ""
		switch {
		case l.Verdict == "ambiguous" && len(l.Reads) == 2:
			text = say("torque.row.reads", l.Reads[0], l.Reads[1])
		case l.Verdict != "single":
			text = say("torque.row." + l.Verdict)
		case l.Torque != nil:
			text = say("torque.row.converted", a.inUnit(torqueUnit("N.m"), l.Torque.Value), a.inUnit(torqueUnit("lbf.in"), l.Torque.Value))
		}
		item := sheet.New("li data-line=? data-verdict=?", strconv.Itoa(l.Line), l.Verdict).With(sheet.Text("code", "", l.Text), sheet.Text("span", "", text), a.slipList(l.Slips))
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
