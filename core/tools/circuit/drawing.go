package circuit

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// points lists the tests below each part of the drawing, from the control unit on.
var points = [5][]circuit.Test{
	{circuit.VoltsPinOn, circuit.CurrentOn, circuit.VoltsPinOff, circuit.VoltsLoad, circuit.VoltsUnitFeed, circuit.VoltsUnitGround},
	{circuit.OhmsUnit, circuit.OhmsHarness, circuit.InsulationHarness, circuit.VoltsHarnessOpen, circuit.Wiggle},
	{circuit.OhmsComponent, circuit.InsulationComponent, circuit.Heat},
	{circuit.OhmsWinding},
	{circuit.VoltsReturn, circuit.VoltsFeed},
}

// looks are the tests that look at what was typed once for all readings.
var looks = []circuit.Test{circuit.RowApplies, circuit.Thermometer, circuit.SupplyDriven}

// Likely holds, for each part, the probability that it is at fault; for circuit.Nowhere, that there is no fault.
type Likely [circuit.Parts]float64

// DrawToAsk draws the circuit of a learner, with the points of the first so many tests, at which a reading can be asked for: each adds a
// row to "asked", while it may be asked. read returns what was asked for already. The caption is the tool's own.
func DrawToAsk(l *tool.Layout, m *circuit.Model, tests int, may bool, read func(circuit.Test) (circuit.Reading, bool)) *sheet.Element {
	drawn := Draw(l, m, nil, "asked", tests, func(t circuit.Test) Point {
		p := Point{Test: t, Minutes: m.Minutes[t], Closed: !may}
		if r, ok := read(t); ok {
			p.Taken = Shown(l.Speak, r)
		}
		return p
	})
	if !may {
		return drawn
	}
	return drawn.With(sheet.New("figcaption").Say(l.Speak.Say("drawn.caption")))
}

// Draw draws the circuit. If likely is not nil, each part is shaded by its probability of being at fault. Below are
// buttons for the points of the first so many tests, each of which opens a row of the list named.
func Draw(l *tool.Layout, m *circuit.Model, likely *Likely, list string, tests int, point func(circuit.Test) Point) *sheet.Element {
	say := l.Speak.Say
	names := partNames(l, m.Side)
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", "0 0 340 132", "drawing chain", drawingText(l, names, likely))
	svg.With(wires(m.Side, m.Return)...)
	for i := range names {
		x, p := sheet.Num(34+68*float64(i)), 0.0
		if likely != nil {
			p = likely[partAt(i)]
			svg.With(sheet.New("text class=part-chance x=? y=128 text-anchor=middle", x).Say(l.Speak.Chance(p)))
		}
		svg.With(part(i, p)...)
		svg.With(sheet.New("text class=part-name x=? y=112 text-anchor=middle", x).Say(names[i]))
	}
	if likely != nil {
		svg.With(power(l, likely[circuit.Power])...)
	}
	ends := rails(m.Side)
	svg.With(sheet.New("text class=rail x=48 y=20").Say(say(ends[0])),
		sheet.New("text class=rail x=292 y=20 text-anchor=end").Say(say(ends[1])))
	buttons := func(class string, of []circuit.Test) *sheet.Element {
		e := sheet.New("div class=?", class)
		for _, t := range of {
			if int(t) < tests && t.Possible(m.Side, m.Return) {
				e.With(point(t).draw(l, list))
			}
		}
		return e
	}
	grid := sheet.New("div class=points role=group aria-label=?", say("circuit.drawn.points"))
	for _, column := range points {
		grid.With(buttons("column", column))
	}
	if tests > int(looks[0]) { // in the room that the short columns leave
		text := say("circuit.drawn.looks")
		grid.With(buttons("looks", looks).Attr("role", "group").Attr("aria-label", text).Attr("data-title", text))
	}
	return sheet.New("figure class=circuit data-slot=?", list).With(svg, grid)
}

// power draws the control unit's own supply as a small box above its driver. The more likely it is at fault, the darker it is.
func power(l *tool.Layout, p float64) []*sheet.Element {
	text := l.Speak.Say("circuit.drawn.part", l.Speak.Say("circuit.part.unit_power"), l.Speak.Chance(p))
	return []*sheet.Element{
		sheet.New("rect class=part-ground x=27 y=25 width=14 height=14 rx=3"),
		sheet.New("rect class=part-shade x=27 y=25 width=14 height=14 rx=3 fill-opacity=?", sheet.Num(math.Sqrt(p))),
		sheet.New("text class=power-chance x=47 y=36").Say(text),
	}
}

// partAt returns the part in a column of the drawing.
func partAt(i int) circuit.Part { return circuit.Driver + circuit.Part(i) }

// partNames returns the names of the parts, from the control unit on.
func partNames(l *tool.Layout, s circuit.Side) (names [len(points)]string) {
	for i := range names {
		key := "circuit.part." + partAt(i).String()
		if partAt(i) == circuit.Path {
			key += [...]string{circuit.High: ".high", circuit.Low: ".low"}[s]
		}
		names[i] = l.Speak.Say(key)
	}
	return names
}

// drawingText describes the drawing in words.
func drawingText(l *tool.Layout, names [len(points)]string, likely *Likely) string {
	say := l.Speak.Say
	if likely == nil {
		return say("circuit.drawn.chain", l.Speak.List(names[:]...))
	}
	for i := range names {
		names[i] = say("circuit.drawn.part", names[i], l.Speak.Chance(likely[partAt(i)]))
	}
	supply := say("circuit.drawn.part", say("circuit.part.unit_power"), l.Speak.Chance(likely[circuit.Power]))
	return say("circuit.drawn.text", l.Speak.List(append([]string{supply}, names[:]...)...), l.Speak.Chance(likely[circuit.Nowhere]))
}

// rails returns the keys of the names of the chain's ends: the driver's end, then the far end.
func rails(s circuit.Side) [2]string {
	if s == circuit.Low {
		return [2]string{"circuit.drawn.ground", "circuit.drawn.supply"}
	}
	return [2]string{"circuit.drawn.supply", "circuit.drawn.ground"}
}

// wires draws what joins the parts: the wire through all of them, supply and ground at its ends, and the connectors.
func wires(s circuit.Side, ret circuit.Return) (list []*sheet.Element) {
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

// part draws the part in column i. The more likely it is at fault, the darker it is.
func part(i int, p float64) (list []*sheet.Element) {
	left := 68 * float64(i)
	x := func(d float64) string { return sheet.Num(left + d) }
	shade := sheet.Num(math.Sqrt(p)) // the root makes a probability of a tenth visible
	box := func(from, width float64) {
		list = append(list, sheet.New("rect class=part-ground x=? y=44 width=? height=32 rx=4", x(from), sheet.Num(width)),
			sheet.New("rect class=part-shade x=? y=44 width=? height=32 rx=4 fill-opacity=?", x(from), sheet.Num(width), shade))
	}
	line := func(d string) { list = append(list, sheet.New("path class=part-line d=?", d)) }
	switch partAt(i) {
	case circuit.Driver: // a switch
		box(10, 46)
		line("M" + x(10) + " 60h12l20 -11M" + x(44) + " 60h12")
	case circuit.Winding:
		box(10, 48)
		line("M" + x(10) + " 60h6c0 -12 9 -12 9 0c0 -12 9 -12 9 0c0 -12 9 -12 9 0c0 -12 9 -12 9 0h6")
	default:
		box(14, 40)
		line("M" + x(14) + " 60h40")
	}
	return list
}

// A Point is a button below the drawing, for a test that can be made there.
type Point struct {
	Test     circuit.Test
	Minutes  float64
	Taken    string  // what was read; "" if the test was not made
	Now      bool    // this is the test to make now
	Closed   bool    // it can be asked for no more
	Expected *string // what a healthy circuit reads, shown on the card that the point opens; nil if it opens none
}

// draw draws the button, which opens a row of the list named.
func (p Point) draw(l *tool.Layout, list string) *sheet.Element {
	say, full, text := l.Speak.Say, TestName(l.Speak, p.Test), l.Speak.Say("circuit.point."+p.Test.String())
	class, state := "point", ""
	switch {
	case p.Taken != "":
		state = say("circuit.point.state.taken", full, p.Taken, text) // both that are seen, and what they stand for
		class, text = "point taken", p.Taken
	case p.Now:
		state = say("circuit.point.state.next", full, Minutes(l.Speak, p.Minutes), text)
	default:
		state = say("circuit.point.state.open", full, Minutes(l.Speak, p.Minutes), text)
	}
	if p.Now {
		class += " next"
	}
	button := sheet.New("button type=button class=? data-value=?", class, p.Test.String())
	if p.Closed {
		button.Attr("disabled", "yes")
	} else {
		button.Attr("data-pick", list)
	}
	if p.Taken != "" { // shown above what was read
		button.Attr("data-name", say("circuit.point."+p.Test.String()))
	}
	if p.Expected != nil {
		button.Attr("data-expected", *p.Expected)
	}
	return button.Attr("aria-label", state).Say(text)
}
