package tool

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ohmwright/core/circuit"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
)

// layCircuit lays out what the readings say, and what to measure next.
func layCircuit(r *Record, a *Answer) (head, why *sheet.Element, body []*sheet.Element) {
	res := a.Result.(circuitResult)
	mark, kind, number := a.circuitHead(res)
	head = sheet.Verdict(mark, kind, a.Speak.Say("circuit.do."+kind), number)
	why = sheet.Text("p", "why", a.circuitWhy(res))
	body = append(body, a.likelyChain(r, res))
	switch {
	case res.Worst != "":
		body = append(body, a.againSheet(res.Worst))
	case res.Decision.Do == "test":
		body = append(body, a.nextSheet(res.Next[0]))
	}
	body = append(body, a.chancesSheet(res))
	if len(res.Readings) > 0 {
		body = append(body, a.readingsSheet(res))
	}
	if rest := a.otherTests(res); rest != nil {
		body = append(body, rest)
	}
	spec := r.Group("spec")
	return head, why, append(body, a.practise(r), a.carryPulsed(r, (spec.Value("min")+spec.Value("max"))/2, spec))
}

// draftCircuit draws the chain before there is an answer, so that a reading can be entered at once.
func draftCircuit(r *Record, a *Answer) []*sheet.Element {
	side, ret := sideOf(r)
	return []*sheet.Element{a.chainDrawing(side, ret, nil, "readings", func(t circuit.Test) *sheet.Element {
		return a.point(t, circuitResult{Next: []nextTest{{Test: t.String(), Minutes: r.Group("minutes").slots[t].value}}})
	})}
}

// circuitHead is the decision as a shape, a word's key and a number.
func (a *Answer) circuitHead(res circuitResult) (mark sheet.Mark, kind, number string) {
	say, d := a.Speak.Say, res.Decision
	switch {
	case res.Worst != "":
		return sheet.MarkDisagree, "again", say("circuit.headline.again", say(testWords+res.Worst))
	case d.Do == "test":
		return sheet.MarkProbe, "test", say("circuit.headline.test", say(testWords+d.Test), a.minutes(res.Next[0].Minutes))
	case d.Repair == "nothing":
		return sheet.MarkClean, "nothing", say("circuit.headline.nothing", a.Speak.Chance(*d.Probability))
	}
	return sheet.MarkMend, d.Repair, say("circuit.headline.repair", a.Speak.Chance(*d.Probability))
}

// circuitWhy is the reason in a sentence or two.
func (a *Answer) circuitWhy(res circuitResult) string {
	say, d := a.Speak.Say, res.Decision
	fault := func(i int) string { return say("circuit.fault." + res.Faults[i].Fault) }
	chance := func(i int) string { return a.Speak.Chance(res.Faults[i].Probability) }
	if res.Worst != "" {
		return say("circuit.why.again")
	}
	if d.Do == "test" {
		return say("circuit.why.test", fault(0), chance(0), fault(1), chance(1), a.money(res.Next[0].Value))
	}
	likeliest := 0 // of the faults that this repair mends
	for i := range res.Faults {
		if f, _ := find[circuit.Fault](circuit.Faults, res.Faults[i].Fault); f.Repair().String() == d.Repair {
			likeliest = i
			break
		}
	}
	switch {
	case d.Repair == "nothing":
		return say("circuit.why.nothing")
	case len(res.Next) == 0:
		return say("circuit.why.none_left", fault(likeliest), chance(likeliest), a.money(*d.Cost))
	case *d.Cost < 1:
		return say("circuit.why.sure", fault(likeliest), chance(likeliest))
	}
	return say("circuit.why.repair", fault(likeliest), chance(likeliest), a.money(*d.Cost))
}

// money writes an amount in the user's currency: whole, as it is an estimate.
func (a *Answer) money(v float64) string { return a.Speak.Number(math.Round(v), 0) }

// value writes a quantity of a test as a display would, coarse where it is large.
func (a *Answer) value(v Amount, test string) string {
	t, _ := find[circuit.Test](circuit.Tests, test)
	size := math.Abs(v.Value)
	u := 1.0 // one decimal
	switch k := kindOf(t); {
	case k == quantity.OfCurrent, k == quantity.OfVoltage && size < 1:
		u = 0.1
	case k == quantity.OfResistance && size >= 40:
		u = size / 4
	}
	return a.Speak.Of(kindOf(t), v.Value, u)
}

// minutes writes a duration: whole where it is, to two figures else.
func (a *Answer) minutes(v float64) string {
	if v == math.Trunc(v) {
		return a.Speak.Number(v, 0)
	}
	return a.Speak.Figures(v, 2)
}

// span writes where a reading lies: below, above, or from to.
func (a *Answer) span(from, to *Amount, over bool, test string) string {
	say := a.Speak.Say
	switch {
	case over:
		return say("circuit.outcome.over")
	case from == nil && to == nil:
		return say("circuit.outcome.any")
	case from == nil:
		return say("circuit.outcome.below", a.value(*to, test))
	case to == nil:
		return say("circuit.outcome.above", a.value(*from, test))
	}
	return say("circuit.range", a.value(*from, test), a.value(*to, test))
}

// expected writes what a healthy circuit reads.
func (a *Answer) expected(e expectedReading, test string) string {
	switch {
	case e.Over:
		return a.Speak.Say("circuit.range.over")
	case e.Min.Value <= 0:
		return a.Speak.Say("circuit.range.upto", a.value(*e.Max, test))
	}
	return a.span(e.Min, e.Max, false, test)
}

// nextSheet is the next test as a card: why, minutes, what each outcome would mean.
func (a *Answer) nextSheet(n nextTest) *sheet.Element {
	say := a.Speak.Say
	return a.testCard(n.Test, say("circuit.next.title", say(testWords+n.Test)), false).With(
		sheet.Text("p", "numbers", say("circuit.next.numbers", a.minutes(n.Minutes), a.money(n.Value))),
		sheet.Text("p", "expected", say("circuit.next.expected", a.expected(n.Expected, n.Test))),
		a.outcomeList(n))
}

// againSheet asks for the reading that sits worst once more.
func (a *Answer) againSheet(test string) *sheet.Element {
	return a.testCard(test, a.Speak.Say("circuit.again.title", a.Speak.Say(testWords+test)), true)
}

// testCard is a test to make: how, and a button that opens its entry, a new one where it was made before.
func (a *Answer) testCard(test, title string, again bool) *sheet.Element {
	say := a.Speak.Say
	button := sheet.New("button type=button class=wide data-pick=readings data-value=?", test).Say(say("circuit.next.take"))
	if again {
		button.Attr("data-again", "yes")
	}
	return sheet.New("section class=? data-test=? data-slot=readings-next", "part p-next", test).With(
		sheet.New("h2").Say(title), button, sheet.Text("p", "how", say(testWords+test+".how")))
}

func (a *Answer) outcomeList(n nextTest) *sheet.Element {
	say := a.Speak.Say
	list := sheet.New("ul class=outcomes")
	for _, o := range n.Outcomes {
		list.With(sheet.New("li data-repair=?", o.Repair).With(
			sheet.Text("strong", "", a.span(o.From, o.To, o.Over, n.Test)),
			sheet.Text("span", "then", say("circuit.outcome", say("circuit.repair."+o.Repair), a.Speak.Chance(o.RepairP), say("circuit.fault."+o.Fault), a.Speak.Chance(o.FaultP))),
			sheet.Text("span", "odds", a.Speak.Chance(o.Probability))))
	}
	return list
}

// leastShown is the probability below which a fault is left out of the list; the drawing has them all.
const leastShown = 0.02

// chancesSheet lists the repairs and below each the faults that it mends, each with a bar.
func (a *Answer) chancesSheet(res circuitResult) *sheet.Element {
	say := a.Speak.Say
	list := sheet.New("ul class=chances-list")
	line := func(class, name string, p float64) *sheet.Element {
		return sheet.New("li class=?", class).With(sheet.Text("span", "name", name), sheet.Text("span", "chance", a.Speak.Chance(p)), bar(p))
	}
	for _, c := range res.Repairs {
		if c.Probability < leastShown {
			continue
		}
		list.With(line("repair r-"+c.Repair, say("circuit.repair."+c.Repair), c.Probability))
		for _, f := range res.Faults {
			fault, _ := find[circuit.Fault](circuit.Faults, f.Fault)
			if fault.Repair().String() == c.Repair && f.Probability >= leastShown && fault != circuit.None {
				list.With(line("fault", say("circuit.fault."+f.Fault), f.Probability))
			}
		}
	}
	return a.section("repairs", list)
}

// bar is a probability as a length.
func bar(p float64) *sheet.Element {
	return sheet.New("svg viewBox=? class=odds-bar preserveAspectRatio=none aria-hidden=true focusable=false", "0 0 100 8").With(
		sheet.New("rect class=bar-ground width=100 height=8"), sheet.New("rect class=bar-part height=8 width=?", sheet.Num(100*p)))
}

func (a *Answer) readingsSheet(res circuitResult) *sheet.Element {
	list := sheet.New("ol class=readings-list")
	for _, k := range res.Readings {
		name, value := a.Speak.Say(testWords+k.Test), a.shown(k.Test, k.Value)
		if k.Counted {
			list.With(sheet.New("li data-test=?", k.Test).Say(a.Speak.Say("circuit.reading.counted", name, value, a.expected(k.Expected, k.Test))))
		} else {
			list.With(sheet.New("li class=superseded data-test=?", k.Test).Say(a.Speak.Say("circuit.reading.superseded", name, value)))
		}
	}
	return a.section("readings", list)
}

// shown is a reading as it was given; without a value it is OL.
func (a *Answer) shown(test string, value *Amount) string {
	if value == nil {
		return a.Speak.Say("circuit.outcome.over")
	}
	t, _ := find[circuit.Test](circuit.Tests, test)
	return a.Speak.Of(kindOf(t), value.Value, 0)
}

// otherTests lists the tests after the first, folded; at a glance what is folded is left out.
func (a *Answer) otherTests(res circuitResult) *sheet.Element {
	say := a.Speak.Say
	if len(res.Next) == 0 {
		return nil
	}
	list := sheet.New("ul class=others")
	part := sheet.New("details class=? data-keep=others data-lazy=yes", "part p-others").With(sheet.New("summary").Say(say("circuit.next.other")))
	if a.brief {
		return part
	}
	for i, t := range res.Next {
		if i == 0 && res.Decision.Do == "test" && res.Worst == "" {
			continue
		}
		pays := say("circuit.next.not")
		if t.Value > 0 {
			pays = say("circuit.next.pays", a.money(t.Value))
		}
		list.With(sheet.New("li data-test=?", t.Test).With(
			sheet.New("button type=button class=wide data-pick=readings data-value=?", t.Test).Say(say(testWords+t.Test)),
			sheet.Text("span", "numbers", fmt.Sprintf("%s · %s · %s", say("circuit.minutes.short", a.minutes(t.Minutes)), pays, say("circuit.next.expected", a.expected(t.Expected, t.Test))))))
	}
	return part.With(list)
}

// points are the tests below each part of the drawing, from the control unit on.
var points = [5][]circuit.Test{
	{circuit.VoltsPinOn, circuit.CurrentOn, circuit.VoltsPinOff, circuit.VoltsLoad},
	{circuit.OhmsUnit, circuit.OhmsHarness, circuit.InsulationHarness, circuit.VoltsHarnessOpen},
	{circuit.OhmsComponent, circuit.InsulationComponent},
	{circuit.OhmsWinding},
	{circuit.VoltsReturn, circuit.VoltsFeed},
}

// chainDrawing draws the circuit, each part shaded by the probability that it is at fault, where that is told, and below it
// the points at which to measure, which open a row of a list.
func (a *Answer) chainDrawing(side circuit.Side, ret circuit.Return, likely *[circuit.Parts]float64, list string, point func(circuit.Test) *sheet.Element) *sheet.Element {
	say := a.Speak.Say
	var names, texts [5]string
	for i := range names {
		p := circuit.Driver + circuit.Part(i)
		key := "circuit.part." + p.String()
		if p == circuit.Path {
			key += map[circuit.Side]string{circuit.High: ".high", circuit.Low: ".low"}[side]
		}
		names[i] = say(key)
		texts[i] = names[i]
		if likely != nil {
			texts[i] = say("circuit.drawn.part", names[i], a.Speak.Chance(likely[p]))
		}
	}
	label := say("circuit.drawn.chain", strings.Join(texts[:], ", "))
	if likely != nil {
		label = say("circuit.drawn.text", strings.Join(texts[:], ", "), a.Speak.Chance(likely[circuit.Nowhere]))
	}
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", "0 0 340 132", "drawing chain", label)
	svg.With(chainWires(side, ret)...)
	for i := range names {
		x, p := sheet.Num(34+68*float64(i)), 0.0
		if likely != nil {
			p = likely[circuit.Driver+circuit.Part(i)]
			svg.With(sheet.New("text class=part-chance x=? y=128 text-anchor=middle", x).Say(a.Speak.Chance(p)))
		}
		svg.With(partDrawing(i, p)...)
		svg.With(sheet.New("text class=part-name x=? y=112 text-anchor=middle", x).Say(names[i]))
	}
	svg.With(sheet.New("text class=rail x=48 y=20").Say(say(railNames(side)[0])), sheet.New("text class=rail x=292 y=20 text-anchor=end").Say(say(railNames(side)[1])))
	grid := sheet.New("div class=points role=group aria-label=?", say("circuit.drawn.points"))
	for _, column := range points {
		col := sheet.New("div class=column")
		for _, t := range column {
			if t.Possible(side, ret) {
				col.With(point(t))
			}
		}
		grid.With(col)
	}
	return sheet.New("figure class=circuit data-slot=?", list).With(svg, grid)
}

// likelyChain is the drawing with what the readings say.
func (a *Answer) likelyChain(r *Record, res circuitResult) *sheet.Element {
	side, ret := sideOf(r)
	var byPart [circuit.Parts]float64
	for _, c := range res.Faults {
		f, _ := find[circuit.Fault](circuit.Faults, c.Fault)
		byPart[f.Part()] += c.Probability
	}
	return a.chainDrawing(side, ret, &byPart, "readings", func(t circuit.Test) *sheet.Element { return a.point(t, res) }).With(
		sheet.Text("p", "no-fault", a.Speak.Say("circuit.none", a.Speak.Chance(byPart[circuit.Nowhere]))),
		sheet.New("figcaption").Say(a.Speak.Say("circuit.drawn.caption")))
}

// railNames are the keys of what the two ends of the chain hang on: the driver's end and the far end.
func railNames(s circuit.Side) [2]string {
	if s == circuit.Low {
		return [2]string{"circuit.drawn.ground", "circuit.drawn.supply"}
	}
	return [2]string{"circuit.drawn.supply", "circuit.drawn.ground"}
}

// chainWires draws what joins the parts: the line through all of them, the rails at both ends, and the two connectors.
func chainWires(s circuit.Side, ret circuit.Return) (list []*sheet.Element) {
	line := func(class, d string) { list = append(list, sheet.New("path class=? d=?", class, d)) }
	line("wire", "M34 20V60H306V20")
	rail := func(x string, ground bool) {
		if ground {
			line("wire", "M"+x+" 20m-9 0h18m-14 -4h10m-7 -4h4")
		} else {
			list = append(list, sheet.New("circle class=rail-end cx=? cy=19 r=5", x))
		}
	}
	rail("34", s == circuit.Low)
	rail("306", s == circuit.High)
	line("plug", "M68 46v28M74 46v28")
	line("plug", "M136 46v28M142 46v28")
	if ret == circuit.Case {
		line("case", "M148 40H268V92H148z")
	} else {
		line("case", "M148 40H262V92H148z")
		line("plug", "M269 46v28M275 46v28")
	}
	return list
}

// partDrawing draws a part in its column; how dark it is says how likely its fault is.
func partDrawing(i int, p float64) (list []*sheet.Element) {
	left := 68 * float64(i)
	x := func(d float64) string { return sheet.Num(left + d) }
	shade := sheet.Num(math.Sqrt(p)) // so that a tenth is seen
	box := func(from, width float64) {
		list = append(list, sheet.New("rect class=part-ground x=? y=44 width=? height=32 rx=4", x(from), sheet.Num(width)),
			sheet.New("rect class=part-shade x=? y=44 width=? height=32 rx=4 fill-opacity=?", x(from), sheet.Num(width), shade))
	}
	line := func(d string) { list = append(list, sheet.New("path class=part-line d=?", d)) }
	switch i {
	case 0: // a switch
		box(10, 46)
		line("M" + x(10) + " 60h12l20 -11M" + x(44) + " 60h12")
	case 3: // a winding
		box(10, 48)
		line("M" + x(10) + " 60h6c0 -12 9 -12 9 0c0 -12 9 -12 9 0c0 -12 9 -12 9 0c0 -12 9 -12 9 0h6")
	default:
		box(14, 40)
		line("M" + x(14) + " 60h40")
	}
	return list
}

// point is one of the points at which to measure: what it is called, or what was read there.
func (a *Answer) point(t circuit.Test, res circuitResult) *sheet.Element {
	say, name := a.Speak.Say, t.String()
	full := say(testWords + name)
	class, state, text := "point", "", say("circuit.point."+name)
	expected := "" // shown in the card that the point opens
	for _, k := range res.Readings {
		if k.Test == name && k.Counted {
			text, expected = a.shown(name, k.Value), say("circuit.next.expected", a.expected(k.Expected, name))
			class, state = "point taken", say("circuit.point.state.taken", full, text)
			if name == res.Worst {
				class = "point taken next"
			}
		}
	}
	if i := slices.IndexFunc(res.Next, func(n nextTest) bool { return n.Test == name }); i >= 0 {
		minutes := a.minutes(res.Next[i].Minutes)
		if e := res.Next[i].Expected; e.Over || e.Max != nil {
			expected = say("circuit.next.expected", a.expected(e, name))
		}
		state = say("circuit.point.state.open", full, minutes, text)
		if i == 0 && res.Decision.Do == "test" && res.Worst == "" {
			class, state = "point next", say("circuit.point.state.next", full, minutes, text)
		}
	}
	return sheet.New("button type=button class=? data-pick=readings data-value=? data-expected=? aria-label=?", class, name, expected, state).Say(text)
}

// circuitSteps writes the working.
func (a *Answer) circuitSteps(r *Record, m *circuit.Model, found circuit.Finding) {
	s := a.Speak
	spec := r.Group("spec")
	a.step("coil", "R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)", fmt.Sprintf("%s → %s", s.Ohms(spec.Value("min"), 0), s.Ohms(m.Min, 0.005*m.Min)), plain(quantity.OfResistance, m.Min), "copper")
	i := m.Predict(circuit.CurrentOn, circuit.None, 0, (m.Min+m.Max)/2)
	n := m.Nominal
	a.step("current", "I = V/(R_source + R_driver + R_harness + R_lead + R_winding + R_return)",
		fmt.Sprintf("I = %s/(%s + %s + %s + %s + %s + %s) = %s", s.Volts(m.Supply, 0), s.Ohms(n.Source, 0), s.Ohms(n.Driver, 0), s.Ohms(n.Harness, 0), s.Ohms(n.Lead, 0), s.Ohms((m.Min+m.Max)/2, 0.005*m.Min), s.Ohms(n.Path, 0), s.Amperes(i, 0.005*i)),
		plain(quantity.OfCurrent, i), "network")
	top := found.Faults[0]
	sum := 0.0
	for _, w := range m.Weights {
		sum += w
	}
	name := s.Say("circuit.fault." + top.Of.String())
	w := m.Weights[top.Of]
	a.step("prior", "p = w/Σw", fmt.Sprintf("p = %s/%s = %s", s.Number(w, decimalsOf(w)), s.Figures(sum, 4), s.Percent(w/sum)), plain(quantity.OfRatio, w/sum), "bayes", name)
	a.step("posterior", "p(f|r) ∝ w_f ∬ Π p(r_k|f, x, R) dx dR", s.Chance(top.P), plain(quantity.OfRatio, top.P), "bayes")
	a.step("stop", "C = c_wrong × (1 − p)", fmt.Sprintf("C = %s × (1 − %s) = %s", s.Number(m.Wrong[found.Repair], decimalsOf(m.Wrong[found.Repair])), s.Number(found.RepairP, 4), s.Number(found.Cost, 1)), Amount{Value: found.Cost, Unit: "1"}, "decision")
	if len(found.Next) > 0 {
		best := found.Next[0]
		a.step("value", "C_now − (t × c_hour/60 + E[C_after])", fmt.Sprintf("%s − (%s × %s/60 + %s) = %s", s.Number(found.Cost, 1), a.minutes(best.Minutes), a.minutes(m.Hour), s.Number(found.Cost-best.Value-best.Minutes*m.Hour/60, 1), s.Number(best.Value, 1)),
			Amount{Value: best.Value, Unit: "1"}, "decision", s.Say(testWords+best.Test.String()))
	}
}

// practise is a button that hides a fault in this circuit, as an exercise.
func (a *Answer) practise(r *Record) *sheet.Element {
	given := map[string]string{}
	for _, name := range []string{"side", "return"} {
		if s := r.at(name); s.given {
			given[name] = s.text
		}
	}
	r.plainOf("supply", given, "supply")
	r.plainOf("winding_temperature", given, "winding_temperature")
	r.Group("spec").carrySpec(given)
	return a.carry("exercise", "sheet.practise", given)
}
