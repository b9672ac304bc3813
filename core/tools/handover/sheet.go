package handover

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/handover"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

var marks = map[handover.Verdict]sheet.Mark{
	handover.CountsDiffer: sheet.MarkDisagree, handover.OpenItems: sheet.MarkOpen, handover.Gaps: sheet.MarkUndecided,
	handover.Complete: sheet.MarkWithin,
}

// lay lays the record out as one page: complaint, cause and correction; what was measured apart from what was concluded; what was done;
// what is open and what is missing; a line for the customer, and one to sign on.
func lay(q question, f handover.Finding, l *tool.Layout) {
	word := string(f.Verdict)
	l.Verdict(marks[f.Verdict], word, l.Speak.Say("word."+word), headline(f, l.Speak))
	r, s := q.r, l.Speak
	c := clockOf(r, s)
	vehicle := lined(s, "vehicle", r.vehicle, "tag", r.tag, "odometer", r.odometer, "code", s.List(r.codes...), "date", r.date,
		"who", r.who)
	if zone := c.once(); zone != "" {
		vehicle.With(entry(s, s.Say("times"), zone))
	}
	l.Add(
		l.Section("vehicle", vehicle),
		l.Section("complaint", lined(s, "complaint", r.complaint, "cause", causeOf(r, s), "repair", r.repair), partsList(r, s)),
		measuredTable(q, c, l), circuitDrawn(q, l), judgedList(q, l), concludedList(q, l), notMadeList(q, l), workSheet(q, c, l),
		openList(q, f, l), l.Section("customer", line(s, r.customer), signature(s)),
	)
}

func headline(f handover.Finding, s *wording.Speaker) string {
	switch f.Verdict {
	case handover.CountsDiffer:
		return s.Say("headline.counts_differ")
	case handover.OpenItems:
		return s.Say("headline.open", strconv.Itoa(len(f.Open)))
	case handover.Gaps:
		return s.Say("headline.missing", strconv.Itoa(len(f.Missing)))
	}
	return s.Say("headline.complete")
}

// lined lays out labels and texts: keys and texts by turns. A text that is empty is not recorded.
func lined(s *wording.Speaker, pairs ...string) *sheet.Element {
	list := sheet.New("ul class=figures")
	for i := 0; i+1 < len(pairs); i += 2 {
		list.With(entry(s, s.Say(pairs[i]), pairs[i+1]))
	}
	return list
}

// line is a text that stands by itself.
func line(s *wording.Speaker, text string) *sheet.Element {
	if text == "" {
		return sheet.Text("p", "unrecorded", s.Say("unrecorded"))
	}
	return sheet.New("p class=told").Say(text)
}

func entry(s *wording.Speaker, label, text string) *sheet.Element {
	strong := sheet.Text("strong", "", text)
	if text == "" {
		strong = sheet.Text("strong", "unrecorded", s.Say("unrecorded"))
	}
	return sheet.New("li").With(sheet.Text("span", "", label), strong)
}

// causeOf is the cause as it was written, or what the circuit tool last decided.
func causeOf(r record, s *wording.Speaker) string {
	if a, ok := r.concluded(); ok && r.cause == "" {
		return s.Say("cause.concluded", a.said)
	}
	return r.cause
}

func partsList(r record, s *wording.Speaker) *sheet.Element {
	list := sheet.New("ul class=record-parts")
	for _, p := range r.parts {
		if text := s.List(p[0], p[1]); text != "" {
			list.With(sheet.New("li").Say(text))
		}
	}
	if len(r.parts) == 0 {
		return nil
	}
	return list
}

// measuredTable is what meters showed, and how it was taken. What was corrected later stays, and says so.
func measuredTable(q question, c clock, l *tool.Layout) *sheet.Element {
	s := l.Speak
	head := sheet.New("tr")
	for _, key := range []string{"head.what", "head.value", "head.taken"} {
		head.With(sheet.New("th scope=col").Say(s.Say(key)))
	}
	body := sheet.New("tbody")
	for _, one := range q.r.readings {
		row, value := sheet.New("tr"), shown(s, one.value)
		if word := one.tool + ".readings.value=" + one.value; s.Has(word) {
			value = s.Say(word)
		}
		less := ""
		if one.leads != "" {
			less = s.Say("less_leads", shown(s, one.leads))
		}
		taken := s.List(shown(s, one.at), shown(s, one.supply), one.meter, less, c.told(one.when), one.who)
		if one.value == "yes" || one.value == "no" { // looked up, at no temperature
			taken = s.List(c.told(one.when), one.who)
		}
		if !one.stands() {
			row.Attr("class", "corrected")
			taken = s.List(s.Say("became."+one.corrected), taken)
		}
		body.With(row.With(sheet.New("th scope=row").Say(nameOf(s, one)), sheet.New("td").Say(value), sheet.New("td").Say(taken)))
	}
	if r := q.r; r.newReading != "" {
		body.With(sheet.New("tr").With(sheet.New("th scope=row").Say(s.Say("new_part")), sheet.New("td").Say(shown(s, r.newReading)),
			sheet.New("td").Say(shown(s, r.newAt))))
	}
	if len(q.r.readings) == 0 && q.r.newReading == "" {
		return l.Section("measured", line(s, ""))
	}
	return l.Section("measured", sheet.New("table class=record").With(sheet.New("thead").With(head), body))
}

// judgedList is the specification that the readings were judged by, and where it comes from.
func judgedList(q question, l *tool.Layout) *sheet.Element {
	s, list := l.Speak, sheet.New("ul class=record-list")
	for _, j := range q.r.judges {
		text := s.List(limitsOf(s, j), j.appliesTo, j.source)
		if j.name != "" {
			text = s.Say("judge", j.name, text)
		}
		switch {
		case j.settled:
			text = s.Say("judge.settled", text)
		case len(q.r.judges) > 1 && j.applies:
			text = s.Say("judge.taken", text)
		}
		list.With(sheet.New("li").Say(text))
	}
	if len(q.r.judges) == 0 {
		return nil
	}
	return l.Section("judged", list)
}

// limitsOf writes the limits of a row, and at which temperatures they hold.
func limitsOf(s *wording.Speaker, j judge) string {
	min, max, limits := shown(s, j.min), shown(s, j.max), ""
	switch {
	case j.min != "" && j.max != "":
		limits = s.Say("judge.between", min, max)
	case j.min != "":
		limits = s.Say("judge.least", min)
	case j.max != "":
		limits = s.Say("judge.most", max)
	case j.tolerance != "":
		limits = s.Say("judge.nominal", shown(s, j.nominal), shown(s, j.tolerance))
	default:
		limits = shown(s, j.nominal)
	}
	switch {
	case j.from != "" || j.to != "":
		return s.Say("judge.span", limits, cmp.Or(shown(s, j.from), "…"), cmp.Or(shown(s, j.to), "…"))
	case j.at != "":
		return s.Say("judge.at", limits, shown(s, j.at))
	}
	return limits
}

// circuitDrawn is the circuit with its parts shaded, as the circuit's answer has it: on the screen folded until someone wants to see it.
func circuitDrawn(q question, l *tool.Layout) *sheet.Element {
	if q.r.drawn == "" {
		return nil
	}
	part := sheet.New("details class=? data-keep=drawn data-lazy=yes", "part p-circuit").With(
		sheet.New("summary").Say(l.Speak.Say("sheet.circuit")))
	return part.With(l.Drawing(q.r.drawn)...)
}

// puttingBack are the tools whose answers are about the work rather than about the fault.
var puttingBack = []string{"torque"}

// concludedList is what the tools said of the readings: apart from them, as it rests on assumptions.
func concludedList(q question, l *tool.Layout) *sheet.Element {
	list, n := sheet.New("ul class=figures"), 0
	for _, a := range q.r.answers {
		if !slices.Contains(puttingBack, a.tool) {
			list.With(entry(l.Speak, toolName(l.Speak, a.tool), a.said))
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return l.Section("concluded", list)
}

// toolName returns a tool's title; whatever else stands there is shown as it is.
func toolName(s *wording.Speaker, tool string) string { return worded(s, tool, tool+".title") }

func notMadeList(q question, l *tool.Layout) *sheet.Element {
	if len(q.r.notMade) == 0 {
		return nil
	}
	list := sheet.New("ul class=record-list")
	for _, t := range q.r.notMade {
		list.With(sheet.New("li").Say(nameOf(l.Speak, reading{tool: t.tool, what: t.test})))
	}
	return l.Section("not_made", list)
}

// workSheet is what was done, count by count.
func workSheet(q question, c clock, l *tool.Layout) *sheet.Element {
	s, r := l.Speak, q.r
	list := sheet.New("ul class=figures")
	states := map[string]handover.State{"cleared": q.Cleared, "reread": q.Reread, "relearn": q.Relearn, "road_test": q.Road}
	made := map[string]step{} // the steps that stand in the form too: when they were made, and who said so
	for _, one := range r.steps {
		key, state, ok := strings.Cut(one.what, ".")
		if ok && state == string(states[key]) {
			made[one.what] = one
			continue
		}
		label, said, done := stepName(one.what), one.said, s.Say("step.done")
		if _, ours := states[key]; ours { // what was tapped before the form said otherwise
			label, said, done = s.Say(key), worded(s, said, key+"="+state), ""
		}
		list.With(entry(s, label, s.List(said, c.told(one.when), one.who, done)))
	}
	for _, n := range q.Counts {
		list.With(entry(s, countName(s, r, n), s.Say("counted", number(s, n.Off), number(s, n.On))))
	}
	for _, t := range r.torques {
		label := s.Say("torques")
		if t[0] != "" {
			label = s.Say("torque.of", t[0])
		}
		list.With(entry(s, label, t[1]))
	}
	for _, a := range r.answers {
		if slices.Contains(puttingBack, a.tool) {
			list.With(entry(s, toolName(s, a.tool), s.List(a.said, c.told(a.when), a.who)))
		}
	}
	state := func(key string, is handover.State, more string) {
		text := more
		if is != handover.NotRecorded {
			one := made[key+"."+string(is)]
			text = s.List(s.Say(key+"="+string(is)), more, c.told(one.when), one.who)
		}
		list.With(entry(s, s.Say(key), text))
	}
	state("cleared", q.Cleared, "")
	state("reread", q.Reread, "")
	list.With(entry(s, s.Say("fluid"), r.fluid))
	state("relearn", q.Relearn, r.relearnBy)
	state("road_test", q.Road, "")
	return l.Section("work", list)
}

// openList is what is still to do, and what a record usually has and this one does not.
func openList(q question, f handover.Finding, l *tool.Layout) *sheet.Element {
	s := l.Speak
	list := sheet.New("ul class=record-list")
	for _, item := range f.Open {
		text := q.r.toDo
		if item != handover.Else {
			text = s.Say("open." + string(item))
		}
		list.With(sheet.New("li").Say(text))
	}
	missing := make([]string, len(f.Missing))
	for i, need := range f.Missing {
		missing[i] = s.Say("need." + string(need))
	}
	if len(missing) > 0 {
		list.With(sheet.New("li class=unrecorded").Say(s.Say("missing", s.List(missing...))))
	}
	if len(f.Open) == 0 && len(missing) == 0 {
		list.With(sheet.New("li").Say(s.Say("open.none")))
	}
	return l.Section("open", list)
}

// signature is a free line to sign on, on paper.
func signature(s *wording.Speaker) *sheet.Element {
	return sheet.New("p class=signature").With(sheet.New("span").Say(s.Say("signature")))
}
