package loop

import (
	"ohmwright/core/loop"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// marks are the shapes of the verdicts.
var marks = map[loop.Verdict]sheet.Mark{
	loop.Clean: sheet.MarkClean, loop.Unwanted: sheet.MarkUnwanted, loop.Undecided: sheet.MarkUndecided, loop.DrawsTooMuch: sheet.MarkBelow,
}

// lay lays out what a loaded test says.
func lay(q question, f loop.Finding, l *tool.Layout) {
	s, verdict := l.Speak, f.Overall()
	word := string(verdict)
	drop := s.PlusMinus(quantity.OfVoltage, f.Drop.Value, f.Drop.U)
	headline := s.Say("headline", drop)
	if verdict == loop.DrawsTooMuch {
		headline = s.Say("headline.too_much", s.Ohms(f.Total.Value, f.Total.U), s.Ohms(f.Winding.Value, max(f.Winding.U, 0.5)))
	}
	l.Verdict(marks[verdict], word, s.Say("word."+word), headline)
	limit := s.Volts(float64(q.Limit), 0)
	l.Reason(s.Say("why."+word, drop, limit, s.PlusMinus(quantity.OfResistance, f.Unwanted.Value, f.Unwanted.U)))
	l.Add(supplySplit(q, f, l), l.Carry("circuit", "sheet.carry", q.toCircuit))
}

// supplySplit draws how the supply voltage divides: winding, driver, and the rest.
func supplySplit(q question, f loop.Finding, l *tool.Layout) *sheet.Element {
	say, s := l.Speak.Say, l.Speak
	v := float64(q.Supply)
	coil, lost := float64(q.Current)*f.Winding.Value, f.Drop.Value
	driver := v - coil - lost
	parts := []struct {
		name  string
		volts float64
	}{{"winding", coil}, {"driver", driver}, {"lost", lost}}
	const left, right, wide = 4.0, 324.0, 320.0
	whole := max(v, coil+driver)
	label := say("drawn.text", s.Volts(v, 0.5), s.Volts(coil, 0.5), s.Volts(driver, 0.5), s.Volts(lost, 0.5))
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", "0 0 328 64", "drawing split", label)
	key := sheet.New("ul class=parts")
	x := left
	for _, part := range parts {
		w := min(max(0, part.volts)/whole*wide, right-x)
		if w > 0.5 {
			svg.With(sheet.New("rect class=? x=? y=8 width=? height=28", "s-"+part.name, sheet.Num(x), sheet.Num(w)))
		}
		x += w
		name := say("drawn."+part.name, s.Volts(part.volts, 0.5))
		key.With(sheet.New("li").With(sheet.New("span class=?", "swatch s-"+part.name)).Say(name))
	}
	tick := left + min(v/whole, 1)*wide
	svg.With(sheet.New("path class=supply d=?", "M"+sheet.Num(tick)+" 2V44"),
		sheet.New("text x=? y=58 text-anchor=end", sheet.Num(tick)).Say(say("drawn.supply", s.Volts(v, 0))))
	return sheet.New("figure").With(svg, key, sheet.New("figcaption").Say(say("drawn.caption")))
}
