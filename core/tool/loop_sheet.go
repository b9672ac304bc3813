package tool

import (
	"ohmwright/core/loop"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
)

// layLoop lays out what a loaded test says.
func layLoop(r *Record, a *Answer) (head, why *sheet.Element, body []*sheet.Element) {
	res := a.Result.(loopResult)
	mark, word := sheet.MarkUndecided, res.Verdict
	switch {
	case a.warned("too_much"):
		mark, word = sheet.MarkBelow, "too_much"
	case res.Verdict == string(loop.Clean):
		mark = sheet.MarkClean
	case res.Verdict == string(loop.Unwanted):
		mark = sheet.MarkUnwanted
	}
	drop := a.Speak.PlusMinus(quantity.OfVoltage, res.UnwantedDrop.Value, res.UnwantedDrop.u())
	headline := a.Speak.Say("loop.headline", drop)
	if word == "too_much" {
		headline = a.Speak.Say("loop.headline.too_much", a.Speak.Ohms(res.Total.Value, res.Total.u()), a.Speak.Ohms(res.Winding.Value, max(res.Winding.u(), 0.5)))
	}
	head = sheet.Verdict(mark, word, a.Speak.Say("loop.word."+word), headline)
	limit := a.Speak.Volts(r.Value("limit"), 0)
	why = sheet.Text("p", "why", a.Speak.Say("loop.why."+word, drop, limit, a.Speak.PlusMinus(quantity.OfResistance, res.Unwanted.Value, res.Unwanted.u())))
	return head, why, []*sheet.Element{a.supplySplit(r, res), a.carryLoop(r)}
}

// warned says whether a warning of that code was given.
func (a *Answer) warned(code string) bool {
	for _, w := range a.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

// supplySplit draws where the supply's volts go: winding, driver, and what is left over.
func (a *Answer) supplySplit(r *Record, res loopResult) *sheet.Element {
	v, i := r.Value("supply"), r.Value("current")
	winding := i * res.Winding.Value
	lost := res.UnwantedDrop.Value
	driver := v - winding - lost
	say := a.Speak.Say
	const left, right, wide = 4.0, 324.0, 320.0
	whole := max(v, winding+driver)
	svg := sheet.New("svg viewBox=? class=? role=img aria-label=?", "0 0 328 64", "drawing split", say("loop.drawn.text", a.Speak.Volts(v, 0.5), a.Speak.Volts(winding, 0.5), a.Speak.Volts(driver, 0.5), a.Speak.Volts(lost, 0.5)))
	x := left
	for _, part := range []struct {
		class string
		volts float64
	}{{"s-winding", winding}, {"s-driver", driver}, {"s-lost", lost}} {
		w := min(max(0, part.volts)/whole*wide, right-x)
		if w > 0.5 {
			svg = svg.With(sheet.New("rect class=? x=? y=8 width=? height=28", part.class, sheet.Num(x), sheet.Num(w)))
		}
		x += w
	}
	key := sheet.New("ul class=parts")
	for _, part := range []struct {
		class, name string
		volts       float64
	}{{"s-winding", "winding", winding}, {"s-driver", "driver", driver}, {"s-lost", "lost", lost}} {
		key = key.With(sheet.New("li").With(sheet.New("span class=?", "swatch "+part.class)).Say(say("loop.drawn."+part.name, a.Speak.Volts(part.volts, 0.5))))
	}
	tick := left + min(v/whole, 1)*wide
	svg = svg.With(sheet.New("path class=supply d=?", "M"+sheet.Num(tick)+" 2V44"),
		sheet.New("text x=? y=58 text-anchor=end", sheet.Num(tick)).Say(say("loop.drawn.supply", a.Speak.Volts(v, 0))))
	return sheet.New("figure").With(svg, key, sheet.New("figcaption").Say(say("loop.drawn.caption")))
}
