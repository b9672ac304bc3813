package torque

import (
	"math"
	"strconv"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/plate"
	"ohmwright/core/tools/torque/speech"
)

// A page lays out one answer.
type page struct {
	*tool.Layout
	q question
	f finding
	s speech.Speaker
}

// lay lays out the answer. Each part is placed after the fields that ask for it.
func lay(q question, f finding, l *tool.Layout) {
	p := page{l, q, f, speech.Speaker{Speaker: l.Speak, Said: q.said}}
	p.head()
	if q.Torque > 0 {
		l.Add(p.units())
	}
	if f.Pair != nil {
		l.Add(p.pair())
	}
	if q.Torque > 0 && q.Adapter != nil {
		l.Add(p.setting())
	}
	if f.Scale != nil {
		l.Add(p.scale())
	}
	if f.Estimate != nil {
		l.Add(p.thread())
	}
	if len(f.table.Lines) > 0 {
		l.Add(p.table())
	}
	l.Add(plate.Parts(p.tightening(), l, p.s)...)
	l.Add(p.done())
}

// done leads to the handover, and takes along what the wrench is to be set to.
func (p page) done() *sheet.Element {
	q, f := p.q, p.f
	var set string
	switch {
	case f.stops || q.Torque <= 0:
		return p.Lead("handover", "sheet.handover")
	case f.differs:
		set = strconv.FormatFloat(shown(q.said, f.set), 'f', -1, 64) + " " + q.said.Symbol
	case q.given.Unit.Symbol != "":
		set = q.given.String()
	default:
		set = strconv.FormatFloat(shown(q.said, q.Torque), 'f', -1, 64) + " " + q.said.Symbol
	}
	return p.Carry("handover", "sheet.handover", tool.Setting{"torques.0.set", set})
}

// draft draws the plate before there is an answer, so that it can be tapped at once.
func draft(_ question, l *tool.Layout) {
	l.Add(plate.Parts(plate.Tightening{}, l, speech.Speaker{Speaker: l.Speak})...)
}

// tightening returns what the plate is to show.
func (p page) tightening() plate.Tightening {
	t := plate.Tightening{Bolts: p.f.bolts, Patterned: p.q.patterned, Adapter: p.q.Adapter != nil}
	if p.f.stops {
		t.Stop = p.s.Say("step.stop", p.word(), p.headline())
	}
	return t
}

// marks are the marks of the verdicts; a verdict that is not listed has the wrench.
var marks = map[verdict]sheet.Mark{
	disagree: sheet.MarkDisagree, breaks: sheet.MarkAbove, aboveScale: sheet.MarkAbove, stretches: sheet.MarkAbove, strips: sheet.MarkAbove,
	belowScale: sheet.MarkBelow, belowFifth: sheet.MarkBelow,
	noFigure: sheet.MarkUndecided, tableWrong: sheet.MarkDisagree, tableRead: sheet.MarkWithin,
}

// head sets the verdict.
func (p page) head() {
	mark, known := marks[p.f.overall]
	if !known {
		mark = sheet.MarkWrench
	}
	word, number := p.word(), p.headline()
	p.Verdict(mark, string(p.f.overall), word, number)
}

// word returns the words of the verdict.
func (p page) word() string {
	key := "word." + string(p.f.overall)
	switch p.f.overall {
	case setWrench:
		return p.s.Say(key, p.s.Torque(p.f.set))
	case oneTorque:
		return p.s.Say(key, p.s.In(p.f.headUnit, p.q.Torque))
	case step:
		pass, _ := p.f.bolts.At(p.f.bolts.Progress.Done)
		return p.s.Say(key, strconv.Itoa(pass+1), strconv.Itoa(len(p.f.bolts.Passes)))
	}
	return p.s.Say(key)
}

// headline returns the number on which the verdict rests.
func (p page) headline() string {
	s, f, q := p.s, p.f, p.q
	switch f.overall {
	case disagree:
		return p.s.Say("headline.disagree", s.Printed(f.Pair.Figures[0]), s.Printed(f.Pair.Figures[1]))
	case aboveScale:
		return p.s.Say("headline.scale", s.Torque(f.Setting), s.Torque(q.Wrench.Max))
	case belowScale:
		return p.s.Say("headline.scale_from", s.Torque(f.Setting), s.Torque(q.Wrench.Min))
	case belowFifth:
		return p.s.Say("headline.of_scale", s.Torque(f.Setting), s.Torque(q.Wrench.Max))
	case breaks, stretches, strips:
		return p.s.Say("headline.on", s.Torque(f.Estimate.At), q.Assembly.Thread.String())
	case noFigure:
		about := s.AtMost(q.said.To(float64(f.Estimate.Band.Least)), 2) + "\u00a0" + speech.Unbroken(q.said.Sign)
		return p.s.Say("headline.no_figure", q.Assembly.Thread.String(), about)
	case tableWrong:
		return p.s.Say(p.s.Form("headline.table_wrong", len(f.table.Lines)), strconv.Itoa(f.table.Disagree), strconv.Itoa(len(f.table.Lines)))
	case tableRead:
		return p.s.Say("headline.table", strconv.Itoa(len(f.table.Lines)))
	case order:
		if f.bolts.UnderWay() {
			return s.Say("headline.done", strconv.Itoa(len(f.bolts.Order)))
		}
		return s.Say("headline.order", strconv.Itoa(len(f.bolts.Order)), strconv.Itoa(len(f.bolts.Passes)))
	case step:
		pass, place := f.bolts.At(f.bolts.Progress.Done)
		return s.Say("headline.step", plate.PassName(s, f.bolts.Passes[pass].Pass), strconv.Itoa(place+1), strconv.Itoa(len(f.bolts.Order)))
	case setWrench:
		return p.setHeadline()
	}
	if q.Wanted != nil {
		return p.s.Say("headline.range", s.Torque(q.Wanted.Least), s.Torque(q.Wanted.Most))
	}
	return p.s.Say("headline.torque", s.Printed(q.given))
}

// setHeadline says what the setting is for.
func (p page) setHeadline() string {
	switch {
	case !p.f.atMark:
		return p.s.Say("headline.at_bolt", p.s.Torque(p.q.Torque))
	case p.q.Adapter != nil:
		return p.s.Say("headline.mark_at_bolt", p.s.Torque(p.f.Setting), p.s.Torque(p.q.Torque))
	}
	return p.s.Say("headline.mark", p.s.Torque(p.f.Setting))
}

// units shows the torque in every unit, with the units of the reader's wrench largest. Tapping a unit says that the wrench shows it.
func (p page) units() *sheet.Element {
	list := sheet.New("ul class=units-list aria-label=?", p.s.Say("units"))
	for _, symbol := range shownUnits {
		list.With(p.inUnit(symbol))
	}
	how := "units.how"
	switch own := len(p.q.own) > 0; {
	case p.f.differs && own:
		how = "units.set.how"
	case own:
		how = "units.own"
	}
	part := sheet.New("section class=?", "part p-units").With(list, sheet.Text("p", "small", p.s.Say(how)))
	return tool.Slotted(part, "torque")
}

// inUnit shows the torque in one unit.
func (p page) inUnit(symbol string) *sheet.Element {
	u := speech.Unit(symbol)
	text, name := p.s.Figure(u, p.q.Torque), p.s.Say("wrench.shows="+symbol)
	if w := p.q.Wanted; w != nil {
		text = p.s.Figure(u, w.Least) + "–" + p.s.Figure(u, w.Most)
	}
	class, pressed, shows := "", "false", symbol
	if among(p.q.own, u) {
		class, pressed, shows = "own", "true", ""
		if p.f.differs && symbol == p.q.own[0].Symbol { // what to set the wrench to is in large type
			class, name = "own set", p.s.Say("units.set", text+"\u00a0"+speech.Unbroken(u.Sign))
			text = p.s.Figure(p.q.said, p.f.set)
		}
	}
	button := sheet.New("button type=button data-set=? aria-pressed=?", tool.Setting{"wrench.shows", shows}.String(), pressed)
	return sheet.New("li data-unit=? class=?", symbol, class).With(
		button.With(sheet.Text("strong", "", text), sheet.Text("span", "", u.Sign), sheet.Text("small", "", name)))
}

// pair says whether two printed figures are the same torque. If they are not, it lists slips that would explain it.
func (p page) pair() *sheet.Element {
	pair := p.f.Pair
	first, second := pair.Figures[0], pair.Figures[1]
	converted := p.s.Say("pair.converted", p.s.Printed(first), p.s.In(second.Unit, quantity.Torque(first.In)),
		p.s.Printed(second), p.s.In(first.Unit, quantity.Torque(second.In)))
	part := p.Section("pair", sheet.Text("p", "", p.s.Say("pair."+pair.Verdict.String(), p.apart(pair.Difference))),
		sheet.Text("p", "numbers", converted))
	if slips := p.slips(pair.Slips); slips != nil {
		part.With(sheet.Text("p", "", p.s.Say("slips")), slips)
	}
	if pair.Verdict == fastener.Disagree {
		part.With(sheet.Text("p", "small", p.s.Say("pair.ask")))
	}
	return tool.Slotted(part, "printed_as")
}

// apart says by how much two figures differ: in per cent, or how many times one is the other.
func (p page) apart(difference quantity.Ratio) string {
	times := 1 + float64(difference)
	if times > 0 && times < 1 {
		times = 1 / times
	}
	if times >= 2 {
		return p.s.Say("pair.times", p.s.AtMost(times, 2))
	}
	return p.s.Share(math.Abs(float64(difference)))
}

// slips lists slips, and what the figure would be without each; nil if there are none.
func (p page) slips(slips []fastener.Slip) *sheet.Element {
	if len(slips) == 0 {
		return nil
	}
	list := sheet.New("ul class=slips")
	for _, slip := range slips {
		meant := p.s.AtMost(slip.Number(), 4) + "\u00a0" + speech.Unbroken(slip.Meant.Unit.Sign)
		text := p.s.Say("slip."+slip.String(), p.s.Say("figure."+figures[slip.Figure]), meant)
		list.With(sheet.New("li data-slip=?", slip.String()).Say(text))
	}
	return list
}
