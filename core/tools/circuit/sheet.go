package circuit

import (
	"fmt"

	"ohmwright/core/bench"
	"ohmwright/core/circuit"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// lay lays out what the readings mean, and what to do now.
func lay(q question, f circuit.Diagnosis, l *tool.Layout) {
	head(&f, l)
	l.Reason(why(&f, l))
	l.Add(likelyChain(q, &f, l))
	switch f.Decision.Do {
	case circuit.Recheck:
		l.Add(againCard(f.Decision.Test, l))
	case circuit.MakeTest:
		l.Add(nextCard(&f, l))
	}
	l.Add(chances(&f, l))
	if len(q.Readings) > 0 {
		l.Add(readingsList(q, &f, l))
	}
	if len(f.Next) > 0 {
		l.Add(otherTests(&f, l))
	}
	l.Add(l.Carry("exercise", "sheet.practise", q.toExercise), bench.CarryPulsed(l, (q.spec.min+q.spec.max)/2, q.toDrive))
}

// draft draws the circuit before there is an answer, so that readings can be entered at once.
func draft(q question, l *tool.Layout) {
	l.Add(Draw(l, q.Model, nil, "readings", func(t circuit.Test) Point {
		return Point{Test: t, Minutes: q.Minutes[t], Expected: new(string)}
	}))
}

// head sets the verdict: the decision as a shape, a word and a number.
func head(f *circuit.Diagnosis, l *tool.Layout) {
	mark, word, number := sheet.MarkMend, f.Decision.Repair.String(), ""
	switch d := f.Decision; {
	case d.Do == circuit.Recheck:
		mark, word, number = sheet.MarkDisagree, "again", l.Speak.Say("headline.again", TestName(l.Speak, d.Test))
	case d.Do == circuit.MakeTest:
		mark, word = sheet.MarkProbe, "test"
		number = l.Speak.Say("headline.test", TestName(l.Speak, d.Test), Minutes(l.Speak, f.Next[0].Minutes))
	case d.Repair == circuit.Nothing:
		mark, number = sheet.MarkClean, l.Speak.Say("headline.nothing", l.Speak.Chance(f.RepairP))
	default:
		number = l.Speak.Say("headline.repair", l.Speak.Chance(f.RepairP))
	}
	l.Verdict(mark, word, l.Speak.Say("do."+word), number)
}

// why gives the reason for the decision in a sentence or two.
func why(f *circuit.Diagnosis, l *tool.Layout) string {
	s, key := l.Speak, "why."+string(f.Why)
	name := func(c circuit.Chance[circuit.Fault]) string { return FaultName(s, c.Of) }
	switch one := f.Likeliest; f.Why {
	case circuit.TestPays:
		one, two := f.Faults[0], f.Faults[1]
		return s.Say(key, name(one), s.Chance(one.P), name(two), s.Chance(two.P), s.Whole(f.Next[0].Value))
	case circuit.NoTestLeft, circuit.NoTestPays:
		return s.Say(key, name(one), s.Chance(one.P), s.Whole(f.Cost))
	case circuit.Sure:
		return s.Say(key, name(one), s.Chance(one.P))
	}
	return s.Say(key)
}

// likelyChain draws the circuit, with each part shaded by its probability of being at fault.
func likelyChain(q question, f *circuit.Diagnosis, l *tool.Layout) *sheet.Element {
	drawn := Draw(l, q.Model, (*Likely)(&f.ByPart), "readings", func(t circuit.Test) Point {
		expected := l.Speak.Say("next.expected", Expected(l.Speak, t, f.Healthy[t]))
		p := Point{Test: t, Minutes: q.Minutes[t], Expected: &expected}
		p.Now = f.Decision.Do != circuit.MakeRepair && f.Decision.Test == t
		if f.Made(t) {
			p.Taken = Shown(l.Speak, q.Readings[f.Latest[t]])
		}
		return p
	})
	return drawn.With(sheet.Text("p", "no-fault", l.Speak.Say("none", l.Speak.Chance(f.ByPart[circuit.Nowhere]))),
		sheet.New("figcaption").Say(l.Speak.Say("drawn.caption")))
}

// nextCard lays out the next test: why, how many minutes, and what each outcome would mean.
func nextCard(f *circuit.Diagnosis, l *tool.Layout) *sheet.Element {
	s, n := l.Speak, f.Next[0]
	list := sheet.New("ul class=outcomes")
	for _, o := range n.Outcomes {
		then := s.Say("outcome", RepairName(s, o.Repair), s.Chance(o.RepairP), FaultName(s, o.Fault), s.Chance(o.FaultP))
		list.With(sheet.New("li data-repair=?", o.Repair.String()).With(
			sheet.Text("strong", "", outcome(s, n.Test, o)),
			sheet.Text("span", "then", then),
			sheet.Text("span", "odds", s.Chance(o.P))))
	}
	return testCard(n.Test, s.Say("next.title", TestName(s, n.Test)), false, l).With(
		sheet.Text("p", "numbers", s.Say("next.numbers", Minutes(s, n.Minutes), s.Whole(n.Value))),
		sheet.Text("p", "expected", s.Say("next.expected", Expected(s, n.Test, f.Healthy[n.Test]))),
		list)
}

// againCard asks for a reading to be repeated.
func againCard(t circuit.Test, l *tool.Layout) *sheet.Element {
	return testCard(t, l.Speak.Say("again.title", TestName(l.Speak, t)), true, l)
}

// testCard lays out a test: how to make it, and a button that opens its entry. If again, the button opens a new entry.
func testCard(t circuit.Test, title string, again bool, l *tool.Layout) *sheet.Element {
	button := sheet.New("button type=button class=wide data-pick=readings data-value=?", t.String()).Say(l.Speak.Say("next.take"))
	if again {
		button.Attr("data-again", "yes")
	}
	return sheet.New("section class=? data-test=? data-slot=readings-next", "part p-next", t.String()).With(
		sheet.New("h2").Say(title), button, sheet.Text("p", "how", l.Speak.Say(testKey(t)+".how")))
}

// leastShown is the probability below which the list leaves a fault out. The drawing includes every fault.
const leastShown = 0.02

// chances lists the repairs, each followed by the faults that it puts right, with a bar for each probability.
func chances(f *circuit.Diagnosis, l *tool.Layout) *sheet.Element {
	list := sheet.New("ul class=chances-list")
	line := func(class, name string, p float64) *sheet.Element {
		return sheet.New("li class=?", class).With(sheet.Text("span", "name", name), sheet.Text("span", "chance", l.Speak.Chance(p)), bar(p))
	}
	for _, r := range f.Repairs {
		if r.P < leastShown {
			continue
		}
		list.With(line("repair r-"+r.Of.String(), RepairName(l.Speak, r.Of), r.P))
		for _, c := range f.Faults {
			if c.Of.Repair() == r.Of && c.P >= leastShown && c.Of != circuit.None {
				list.With(line("fault", FaultName(l.Speak, c.Of), c.P))
			}
		}
	}
	return l.Section("repairs", list)
}

// bar draws a probability as a bar.
func bar(p float64) *sheet.Element {
	return sheet.New("svg viewBox=? class=odds-bar preserveAspectRatio=none aria-hidden=true focusable=false", "0 0 100 8").With(
		sheet.New("rect class=bar-ground width=100 height=8"), sheet.New("rect class=bar-part height=8 width=?", sheet.Num(100*p)))
}

func readingsList(q question, f *circuit.Diagnosis, l *tool.Layout) *sheet.Element {
	list, s := sheet.New("ol class=readings-list"), l.Speak
	for i, r := range q.Readings {
		name, shown := TestName(s, r.Test), Shown(s, r)
		if f.Latest[r.Test] == i {
			text := s.Say("reading.counted", name, shown, Expected(s, r.Test, f.Healthy[r.Test]))
			list.With(sheet.New("li data-test=?", r.Test.String()).Say(text))
		} else {
			list.With(sheet.New("li class=superseded data-test=?", r.Test.String()).Say(s.Say("reading.superseded", name, shown)))
		}
	}
	return l.Section("readings", list)
}

// otherTests lists the tests that are not the next one, folded. A brief layout leaves the folded part empty.
func otherTests(f *circuit.Diagnosis, l *tool.Layout) *sheet.Element {
	s := l.Speak
	part := sheet.New("details class=? data-keep=others data-lazy=yes", "part p-others").With(sheet.New("summary").Say(s.Say("next.other")))
	if l.Brief {
		return part
	}
	list := sheet.New("ul class=others")
	for _, n := range f.Next {
		if f.Decision.Do == circuit.MakeTest && f.Decision.Test == n.Test {
			continue
		}
		pays := s.Say("next.not")
		if n.Value > 0 {
			pays = s.Say("next.pays", s.Whole(n.Value))
		}
		expected := s.Say("next.expected", Expected(s, n.Test, f.Healthy[n.Test]))
		numbers := fmt.Sprintf("%s · %s · %s", s.Say("minutes.short", Minutes(s, n.Minutes)), pays, expected)
		list.With(sheet.New("li data-test=?", n.Test.String()).With(
			sheet.New("button type=button class=wide data-pick=readings data-value=?", n.Test.String()).Say(TestName(s, n.Test)),
			sheet.Text("span", "numbers", numbers)))
	}
	return part.With(list)
}
