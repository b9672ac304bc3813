package torque

import (
	"math"
	"strconv"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// A page lays one answer out.
type page struct {
	*tool.Layout
	q question
	f finding
	s speaker
}

func (p page) say(key string, args ...any) string { return p.s.Say(key, args...) }

// lay lays out what was asked of a torque, each part behind the fields that ask for it.
func lay(q question, f finding, l *tool.Layout) {
	p := page{l, q, f, speaker{l.Speak, q.said}}
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
	if len(f.lines) > 0 {
		l.Add(p.table())
	}
	l.Add(p.tightening()...)
}

// draft draws the plate before there is an answer, so that it can be tapped at once.
func draft(q question, l *tool.Layout) {
	p := page{l, q, finding{}, speaker{l.Speak, q.said}}
	l.Add(p.tightening()...)
}

// marks are the shapes of the verdicts; the others have that of a wrench.
var marks = map[verdict]sheet.Mark{
	disagree: sheet.MarkDisagree, breaks: sheet.MarkAbove, aboveScale: sheet.MarkAbove, stretches: sheet.MarkAbove, strips: sheet.MarkAbove,
	belowScale: sheet.MarkBelow, belowFifth: sheet.MarkBelow,
	noFigure: sheet.MarkUndecided, tableWrong: sheet.MarkDisagree, tableRead: sheet.MarkWithin,
}

// head lays out what matters most of what was found.
func (p page) head() {
	mark, known := marks[p.f.overall]
	if !known {
		mark = sheet.MarkWrench
	}
	word, number := p.word(), p.headline()
	p.Verdict(mark, string(p.f.overall), word, number)
}

// word is the word of the verdict.
func (p page) word() string {
	key := "word." + string(p.f.overall)
	switch p.f.overall {
	case setWrench:
		return p.say(key, p.s.torque(p.f.set))
	case oneTorque:
		return p.say(key, p.s.in(p.f.headUnit, p.q.Torque))
	case order:
		return p.say(key, strconv.Itoa(len(p.f.sequence.order)))
	case step:
		pass, _ := p.f.sequence.at(p.f.sequence.progress.done)
		return p.say(key, strconv.Itoa(pass+1), strconv.Itoa(len(p.f.sequence.passes)))
	}
	return p.say(key)
}

// headline is the number that the word rests on.
func (p page) headline() string {
	s, f, q := p.s, p.f, p.q
	switch f.overall {
	case disagree:
		return p.say("headline.disagree", s.printed(f.Pair.Figures[0]), s.printed(f.Pair.Figures[1]))
	case aboveScale:
		return p.say("headline.scale", s.torque(f.Setting), s.torque(q.Wrench.Max))
	case belowScale:
		return p.say("headline.scale_from", s.torque(f.Setting), s.torque(q.Wrench.Min))
	case belowFifth:
		return p.say("headline.of_scale", s.torque(f.Setting), s.torque(q.Wrench.Max))
	case breaks, stretches, strips:
		return p.say("headline.on", s.torque(f.Estimate.At), q.Assembly.Thread.String())
	case noFigure:
		about := s.AtMost(in(q.said, float64(f.Estimate.Band.Least)), 2) + "\u00a0" + unbroken(q.said.Sign)
		return p.say("headline.no_figure", q.Assembly.Thread.String(), about)
	case tableWrong:
		return p.say("headline.table_wrong", strconv.Itoa(f.wrong), strconv.Itoa(len(f.lines)))
	case tableRead:
		return p.say("headline.table", strconv.Itoa(len(f.lines)))
	case order, step:
		return p.sequenceHeadline()
	case setWrench:
		return p.setHeadline()
	}
	if q.Wanted != nil {
		return p.say("headline.range", s.torque(q.Wanted.Least), s.torque(q.Wanted.Most))
	}
	return p.say("headline.torque", s.printed(q.given))
}

// setHeadline says what the setting is for.
func (p page) setHeadline() string {
	switch {
	case !p.f.atMark:
		return p.say("headline.at_bolt", p.s.torque(p.q.Torque))
	case p.q.Adapter != nil:
		return p.say("headline.mark_at_bolt", p.s.torque(p.f.Setting), p.s.torque(p.q.Torque))
	}
	return p.say("headline.mark", p.s.torque(p.f.Setting))
}

// units is the torque in every unit, those of the reader's wrench largest; a tap says what the wrench shows.
func (p page) units() *sheet.Element {
	list := sheet.New("ul class=units-list aria-label=?", p.say("units"))
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
	part := sheet.New("section class=?", "part p-units").With(list, sheet.Text("p", "small", p.say(how)))
	return tool.Slotted(part, "torque")
}

// inUnit is the torque in one unit.
func (p page) inUnit(symbol string) *sheet.Element {
	u := unit(symbol)
	text, name := p.s.figure(u, p.q.Torque), p.say("wrench.shows="+symbol)
	if w := p.q.Wanted; w != nil {
		text = p.s.figure(u, w.Least) + "–" + p.s.figure(u, w.Most)
	}
	class, pressed, shows := "", "false", symbol
	if among(p.q.own, u) {
		class, pressed, shows = "own", "true", ""
		if p.f.differs && symbol == p.q.own[0].Symbol { // what the wrench is set to is the figure to be read from afar
			class, name = "own set", p.say("units.set", text+"\u00a0"+unbroken(u.Sign))
			text = p.s.figure(p.q.said, p.f.set)
		}
	}
	button := sheet.New("button type=button data-set=? aria-pressed=?", tool.Setting{"wrench.shows", shows}.String(), pressed)
	return sheet.New("li data-unit=? class=?", symbol, class).With(
		button.With(sheet.Text("strong", "", text), sheet.Text("span", "", u.Sign), sheet.Text("small", "", name)))
}

// pair says whether two printed figures are of one torque, and if not, which slip would explain it.
func (p page) pair() *sheet.Element {
	pair := p.f.Pair
	first, second := pair.Figures[0], pair.Figures[1]
	converted := p.say("pair.converted", p.s.printed(first), p.s.in(second.Unit, quantity.Torque(first.In)),
		p.s.printed(second), p.s.in(first.Unit, quantity.Torque(second.In)))
	part := p.Section("pair", sheet.Text("p", "", p.say("pair."+pair.Verdict.String(), p.apart(pair.Difference))),
		sheet.Text("p", "numbers", converted))
	if slips := p.slips(pair.Slips); slips != nil {
		part.With(sheet.Text("p", "", p.say("slips")), slips)
	}
	if pair.Verdict == fastener.Disagree {
		part.With(sheet.Text("p", "small", p.say("pair.ask")))
	}
	return tool.Slotted(part, "printed_as")
}

// apart says how far two figures lie apart: as a share, or how many times one is the other.
func (p page) apart(difference quantity.Ratio) string {
	times := 1 + float64(difference)
	if times > 0 && times < 1 {
		times = 1 / times
	}
	if times >= 2 {
		return p.say("pair.times", p.s.AtMost(times, 2))
	}
	return p.s.Share(math.Abs(float64(difference)))
}

// slips names slips, and what the figure would be without them; nil where there are none.
func (p page) slips(slips []fastener.Slip) *sheet.Element {
	if len(slips) == 0 {
		return nil
	}
	list := sheet.New("ul class=slips")
	for _, slip := range slips {
		meant := p.s.AtMost(slip.Number(), 4) + "\u00a0" + unbroken(slip.Meant.Unit.Sign)
		text := p.say("slip."+slip.String(), p.say("figure."+figures[slip.Figure]), meant)
		list.With(sheet.New("li data-slip=?", slip.String()).Say(text))
	}
	return list
}
