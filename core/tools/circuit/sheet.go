package circuit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/circuit"
	"ohmwright/core/diagnosis"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// lay lays out what the readings mean, and what to do now.
func lay(q question, f finding, l *tool.Layout) {
	if f.stop != "" {
		f.stop.Lay(l)
		return
	}
	d := &f.Diagnosis
	said := headline(q, d, l)
	if q.winding != "" {
		said = l.Speak.Say("headline.of", l.Speak.Name(q.winding), said)
	}
	l.Verdict(marks[overall(&f)], overall(&f), l.Speak.Say(toDo(&f)), said)
	l.Reason(why(d, l))
	l.Add(windingSheet(q, l))
	drawn, likely := likelyChain(q, d, l), chances(q, d, l)
	switch f.Decision.Do {
	case diagnosis.Recheck:
		l.Add(againCard(q, f.Decision.Test, l), drawn, likely)
	case diagnosis.MakeTest:
		l.Add(nextCard(q, d, l), drawn, likely)
	default: // the chances are the reason: they stand before the drawing, also on a narrow page
		l.Add(tool.Slotted(likely, "readings"), drawn)
	}
	switch {
	case f.Decision.Do != diagnosis.MakeRepair:
	case f.Decision.Repair == circuit.Nothing: // nothing was taken apart to be mended, but a part may have been lifted out to be read
		l.Add(l.Lead("handover", "sheet.as_found"), l.Lead("torque", "sheet.back"))
	default:
		l.Add(l.Lead("torque", "sheet.back"), l.Lead("handover", "sheet.handover"))
	}
	if len(q.Readings) > 0 {
		l.Add(readingsList(q, d, l))
	}
	if len(f.Next) > 0 {
		l.Add(otherTests(d, l))
	}
	l.Add(l.Carry("exercise", "sheet.practise", q.toExercise), bench.CarryPulsed(l, (q.Row.Min+q.Row.Max)/2, q.toDrive))
}

// draft draws the circuit before there is an answer, so that readings can be entered at once; or the stop.
func draft(q question, l *tool.Layout) {
	if stop := q.stop(); stop != "" {
		stop.Draft(l)
		return
	}
	l.Add(windingSheet(q, l), Draw(l, q.Model, nil, "readings", circuit.Tests, func(t circuit.Test) Point {
		return Point{Test: t, Minutes: q.Minutes[t], Expected: new(string)}
	}))
}

// windingSheet says which of several windings this circuit is of, and leads to those whose readings are put aside; nil where there is but
// one circuit.
func windingSheet(q question, l *tool.Layout) *sheet.Element {
	if q.winding == "" && len(q.aside) == 0 {
		return nil
	}
	s, title := l.Speak, l.Speak.Say("about.none")
	if q.winding != "" {
		title = s.Say("about", s.Name(q.winding))
	}
	part := sheet.New("section class=? data-slot=readings", "part p-about").With(sheet.New("h2").Say(title))
	if len(q.aside) == 0 {
		return part
	}
	list := sheet.New("div")
	for _, name := range q.aside {
		said := s.Name(name)
		if name == wording.Nameless {
			said = s.Say("aside.none")
		}
		list.With(l.CarryBy("wide", room, tool.Setting{about.Name, name}).Say(said))
	}
	return part.With(sheet.Text("p", "how", s.Say("about.aside")), list)
}

// marks are the shapes of the verdicts.
var marks = map[string]sheet.Mark{
	"again": sheet.MarkDisagree, "test": sheet.MarkProbe, circuit.Nothing.String(): sheet.MarkClean,
	circuit.Component.String(): sheet.MarkMend, circuit.MendHarness.String(): sheet.MarkMend, circuit.MendPath.String(): sheet.MarkMend,
	circuit.ControlUnit.String(): sheet.MarkMend, circuit.UnitPower.String(): sheet.MarkMend, circuit.InnerHarness.String(): sheet.MarkMend,
	circuit.Unexplained.String(): sheet.MarkDisagree,
}

// toDo returns the key of the verdict in words. Part numbers are looked at, not measured; where too little is known to replace anything,
// several known faults may fit.
func toDo(f *finding) string {
	if f.Why == diagnosis.TooDoubtful {
		return "do.doubtful"
	}
	if f.Decision == (diagnosis.Decision{Do: diagnosis.MakeTest, Test: circuit.RowApplies}) {
		return "do.look"
	}
	return "do." + overall(f)
}

// headline says what the decision rests on: a test and its minutes, or a probability, and in short what makes it doubtful.
func headline(q question, f *diagnosis.Diagnosis, l *tool.Layout) string {
	s := l.Speak
	switch d := f.Decision; {
	case d.Do == diagnosis.Recheck:
		return s.Say("headline.again", TestName(s, d.Test))
	case d.Do == diagnosis.MakeTest:
		return s.Say("headline.test", TestName(s, d.Test), Minutes(s, q.Minutes[d.Test]))
	}
	parts := []string{s.Say("headline.repair", s.Chance(f.RepairP))}
	switch f.Decision.Repair {
	case circuit.Nothing:
		parts[0] = s.Say("headline.nothing", s.Chance(f.RepairP))
	case circuit.Unexplained: // nothing is likely, and nothing rests on a reading that fits nothing
		return s.Say("headline.unexplained")
	}
	for _, d := range f.Doubts {
		switch d {
		case diagnosis.MayComeAndGo:
			parts[0] = s.Say("headline.comes_and_goes", s.Chance(f.ComesAndGoes))
		case diagnosis.AgainstCode:
			parts = append(parts, s.Say("headline.against_code"))
		case diagnosis.RestsOnOne:
			parts = append(parts, s.Say("headline.rests_on"))
		}
	}
	return strings.Join(parts, " · ")
}

// why gives the reason for the decision in a sentence or two.
func why(f *diagnosis.Diagnosis, l *tool.Layout) string {
	s, key := l.Speak, "why."+string(f.Why)
	name := func(c diagnosis.Chance[circuit.Fault]) string { return FaultName(s, c.Of) }
	switch one := f.Likeliest; f.Why {
	case diagnosis.TestPays:
		one, two := f.Faults[0], f.Faults[1]
		return s.Say(key, name(one), s.Chance(one.P), name(two), s.Chance(two.P), s.Whole(f.Next[0].Value))
	case diagnosis.NoTestLeft, diagnosis.NoTestPays:
		return s.Say(key, name(one), s.Chance(one.P), s.Whole(f.Cost))
	case diagnosis.Sure, diagnosis.TooDoubtful:
		return s.Say(key, name(one), s.Chance(one.P))
	case diagnosis.Contradiction:
		if !f.Surprising() && slices.Contains(f.Doubts, diagnosis.HeldOff) {
			return s.Say("why.held_off")
		}
	case diagnosis.LookFirst:
		return s.Say(lookedFor(f.Decision.Test))
	case diagnosis.LooksHealthy:
		if one.Of == circuit.OtherRow {
			return s.Say("why.other_row", s.Chance(one.P))
		}
	}
	return s.Say(key)
}

// lookedFor returns the key of the reason why a test is made before a repair.
func lookedFor(t circuit.Test) string {
	switch t {
	case circuit.RowApplies, circuit.Thermometer:
		return "why.look.row"
	case circuit.SupplyDriven:
		return "why.look.supply"
	case circuit.Wiggle, circuit.Heat:
		return "why.look.loose"
	}
	return "why.look"
}

// likelyChain draws the circuit, with each part shaded by its probability of being at fault.
func likelyChain(q question, f *diagnosis.Diagnosis, l *tool.Layout) *sheet.Element {
	likely, other := Likely(f.ByPart), 0.0
	for _, c := range f.Faults {
		if c.Of == circuit.Other {
			other = c.P
		}
	}
	likely[circuit.Nowhere] -= other
	drawn := Draw(l, q.Model, &likely, "readings", circuit.Tests, func(t circuit.Test) Point {
		expected := l.Speak.Say("next.expected", Expected(l.Speak, t, f.Healthy[t]))
		if t == circuit.VoltsLoad {
			expected += " " + loadText(q, l)
		}
		p := Point{Test: t, Minutes: q.Minutes[t], Expected: &expected}
		p.Now = f.Decision.Do != diagnosis.MakeRepair && f.Decision.Test == t
		if f.Made(t) {
			p.Taken = Shown(l.Speak, q.Readings[f.Latest[t]])
		}
		return p
	})
	return drawn.With(sheet.New("p class=no-fault").With(
		sheet.Text("span", "", l.Speak.Say("none", l.Speak.Chance(likely[circuit.Nowhere]))),
		sheet.Text("span", "", l.Speak.Say("other", l.Speak.Chance(other)))),
		sheet.New("figcaption").Say(l.Speak.Say("drawn.caption")))
}

// loadText says what the test load gives off on this supply.
func loadText(q question, l *tool.Layout) string {
	return l.Speak.Say("load.watts", l.Speak.Volts(q.Supply, 0), watts(l.Speak, q.Supply))
}

// nextCard lays out the next test: why, how many minutes, and what each outcome would mean.
func nextCard(q question, f *diagnosis.Diagnosis, l *tool.Layout) *sheet.Element {
	s, t := l.Speak, f.Decision.Test
	card := testCard(q, t, s.Say("next.title", TestName(s, t)), false, l)
	i := slices.IndexFunc(f.Next, func(n diagnosis.Next) bool { return n.Test == t })
	if i < 0 {
		return card
	}
	n := f.Next[i]
	list := sheet.New("ul class=outcomes data-value=?", n.Test.String())
	if l.Hasty {
		list.Late()
	}
	for _, o := range n.Outcomes {
		then := s.Say("outcome", mending(s, o.Repair), s.Chance(o.RepairP), FaultName(s, o.Fault), s.Chance(o.FaultP))
		if s.Chance(o.RepairP) == s.Chance(o.FaultP) {
			then = s.Say("outcome.one", mending(s, o.Repair), FaultName(s, o.Fault), s.Chance(o.FaultP))
		}
		list.With(sheet.New("li data-repair=?", o.Repair.String()).With(
			sheet.Text("strong", "", outcome(s, n.Test, o)),
			sheet.Text("span", "then", then),
			sheet.Text("span", "odds", s.Chance(o.P))))
	}
	if n.Rest > 0 {
		other := "outcome.rest"
		if len(n.Outcomes) == 0 {
			other = "outcome.any"
		}
		list.With(sheet.New("li class=rest").With(
			sheet.Text("strong", "", s.Say(other)),
			sheet.Text("span", "then", s.Say("outcome.open")),
			sheet.Text("span", "odds", s.Chance(n.Rest))))
	}
	numbers := s.Say("minutes.short", Minutes(s, n.Minutes))
	if n.Value > 0 {
		numbers = s.Say("next.numbers", Minutes(s, n.Minutes), s.Whole(n.Value))
	}
	card.With(sheet.Text("p", "numbers", numbers))
	if f.Why == diagnosis.TestPays {
		card.With(priceButton(q, f.Repairs[0].Of, l))
	}
	return card.With(
		sheet.Text("p", "expected", s.Say("next.expected", Expected(s, n.Test, f.Healthy[n.Test]))),
		sheet.Text("p", "how", s.Say("next.outcomes")), list)
}

// againCard asks for a reading to be repeated.
func againCard(q question, t circuit.Test, l *tool.Layout) *sheet.Element {
	return testCard(q, t, l.Speak.Say("again.title", TestName(l.Speak, t)), true, l)
}

// testCard lays out a test: how to make it, and a button that opens its entry. If again, the button opens a new entry.
func testCard(q question, t circuit.Test, title string, again bool, l *tool.Layout) *sheet.Element {
	take := "next.take"
	if t == circuit.RowApplies {
		take = "next.look"
	}
	button := sheet.New("button type=button class=wide data-pick=readings data-value=?", t.String()).Say(l.Speak.Say(take))
	if again {
		button.Attr("data-again", "yes")
	}
	card := sheet.New("section class=? data-test=? data-slot=readings-next", "part p-next", t.String()).With(
		sheet.New("h2").Say(title), button, sheet.Text("p", "how", l.Speak.Say(testKey(t)+".how")))
	if t == circuit.VoltsLoad {
		card.With(sheet.Text("p", "how", loadText(q, l)))
	}
	return card
}

// leastShown is the probability below which the list leaves a fault out. The drawing includes every fault.
const leastShown = 0.02

// chances lists the repairs, each followed by the faults that it puts right, with a bar for each probability.
func chances(q question, f *diagnosis.Diagnosis, l *tool.Layout) *sheet.Element {
	list := sheet.New("ul class=chances-list")
	line := func(class, name string, p float64) *sheet.Element {
		return sheet.New("li class=?", class).With(sheet.Text("span", "name", name), sheet.Text("span", "chance", l.Speak.Chance(p)), bar(p))
	}
	for _, r := range f.Repairs {
		if r.P < leastShown {
			continue
		}
		list.With(line("repair r-"+r.Of.String(), mending(l.Speak, r.Of), r.P))
		for _, c := range f.Faults {
			if q.Repair(c.Of) == r.Of && c.P >= leastShown && c.Of != circuit.None && c.Of != circuit.Other {
				list.With(line("fault", FaultName(l.Speak, c.Of), c.P))
			}
		}
	}
	section := l.Section("repairs", list)
	if f.Decision.Do == diagnosis.MakeRepair {
		section.With(priceButton(q, f.Decision.Repair, l))
	}
	return section
}

// priceButton says what the repair is counted as if it is made in vain, and leads to the field where that is typed; nil for what is no
// repair.
func priceButton(q question, r circuit.Repair, l *tool.Layout) *sheet.Element {
	if r == circuit.Nothing || r == circuit.Unexplained {
		return nil
	}
	path := tool.JoinPath(tool.JoinPath(costs.Name, wrong.Name), r.String())
	return sheet.New("button type=button class=? data-go=?", "wide price", path).Say(
		l.Speak.Say("price", RepairName(l.Speak, r), l.Speak.Typed(q.Wrong[r])))
}

// mending returns the name of a repair, as it stands beside its probability.
func mending(s *wording.Speaker, r circuit.Repair) string {
	if r == circuit.Nothing {
		return s.Say("mending.nothing")
	}
	return RepairName(s, r)
}

// bar draws a probability as a bar, to half a hundredth: no eye sees less, and a bar that stays need not be drawn again.
func bar(p float64) *sheet.Element {
	return sheet.New("svg viewBox=? class=odds-bar preserveAspectRatio=none aria-hidden=true focusable=false", "0 0 100 8").With(
		sheet.New("rect class=bar-ground width=100 height=8"), sheet.New("rect class=bar-part height=8 width=?", sheet.Num(math.Round(200*p)/2)))
}

func readingsList(q question, f *diagnosis.Diagnosis, l *tool.Layout) *sheet.Element {
	list, s := sheet.New("ol class=readings-list"), l.Speak
	for i, r := range q.Readings {
		name, shown := TestName(s, r.Test), shownAt(s, r)
		if q.settled && i == len(q.Readings)-1 {
			list.With(sheet.New("li data-test=?", r.Test.String()).Say(s.Say("reading.settled", name)))
			continue
		}
		if f.Latest[r.Test] == i {
			text := s.Say("reading.counted", name, shown, Expected(s, r.Test, f.Healthy[r.Test]))
			if r.Word != circuit.NoWord && r.Word == f.Healthy[r.Test].Word {
				text = s.Say("reading.well", name, shown)
			}
			list.With(sheet.New("li data-test=?", r.Test.String()).Say(text))
		} else {
			list.With(sheet.New("li class=superseded data-test=?", r.Test.String()).Say(s.Say("reading.superseded", name, shown)))
		}
	}
	return l.Section("readings", list)
}

// shownAt writes a reading as it was given, with its own supply and temperature if it has any.
func shownAt(s *wording.Speaker, r circuit.Reading) string {
	var own []string
	if r.Supply > 0 {
		own = append(own, s.Volts(r.Supply, 0))
	}
	if r.At != nil {
		own = append(own, s.Celsius(float64(*r.At), 0))
	}
	if own == nil {
		return Shown(s, r)
	}
	return s.Say("reading.own", Shown(s, r), s.List(own...))
}

// otherTests lists the tests that are not the next one, folded. A brief layout leaves the folded part empty.
func otherTests(f *diagnosis.Diagnosis, l *tool.Layout) *sheet.Element {
	s := l.Speak
	part := sheet.New("details class=? data-keep=others data-lazy=yes", "part p-others").With(sheet.New("summary").Say(s.Say("next.other")))
	if l.Brief {
		return part
	}
	list := sheet.New("ul class=others")
	for _, n := range f.Next {
		if f.Decision.Do == diagnosis.MakeTest && f.Decision.Test == n.Test {
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
