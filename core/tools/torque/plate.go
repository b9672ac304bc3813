package torque

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// The plate on which bolts are placed: its drawing, and the places that it shows at least.
const (
	plateBox               = "0 0 328 328"
	plateNear, plateFar    = 16.0, 312.0
	plateSide              = 100.0
	plateStep              = 5
	boltRadius, boltTarget = 13.0, 22.0
)

// A plate maps places to a drawing.
type plate struct{ x, y sheet.Scale }

// plateOf shows the whole plate, and more where a bolt lies beside it.
func plateOf(bolts []placed) plate {
	low, high := 0.0, plateSide
	for _, b := range bolts {
		low, high = math.Min(low, math.Min(b.at.X, b.at.Y)), math.Max(high, math.Max(b.at.X, b.at.Y))
	}
	return plate{sheet.Scale{From: low, To: high, A: plateNear, B: plateFar}, sheet.Scale{From: low, To: high, A: plateFar, B: plateNear}}
}

// board draws the plate's edge and its grid.
func (d plate) board() *sheet.Element {
	g := sheet.New("g class=board").With(sheet.New("rect class=edge x=2 y=2 width=324 height=324 rx=10"))
	grid, near, far := "", sheet.Num(plateNear), sheet.Num(plateFar)
	for k := range 11 {
		v := d.x.From + float64(k)/10*(d.x.To-d.x.From)
		grid += "M" + sheet.Num(d.x.At(v)) + " " + near + "V" + far + "M" + near + " " + sheet.Num(d.y.At(v)) + "H" + far
	}
	return g.With(sheet.New("path class=grid d=?", grid))
}

// numbers joins coordinates.
func numbers(v ...float64) string {
	texts := make([]string, len(v))
	for i, n := range v {
		texts[i] = sheet.Num(n)
	}
	return strings.Join(texts, " ")
}

// millimetreText is a length as a link writes it, to a thousandth.
func millimetreText[Q ~float64](v Q) string {
	return strconv.FormatFloat(math.Round(float64(v)*1000)/1000, 'f', -1, 64) + "mm"
}

// fill are the keys that make single rows of a generated pattern; "" where there is none.
func (p page) fill(s *sequence) string {
	if !p.q.patterned {
		return ""
	}
	set := tool.Setting{"pattern", ""}
	for i, b := range s.bolts {
		at := "bolts." + strconv.Itoa(i) + "."
		length, kept := "", ""
		if b.length > 0 {
			length = millimetreText(b.length)
		}
		if b.kept {
			kept = "yes"
		}
		set = append(set, at+"x", millimetreText(b.at.X), at+"y", millimetreText(b.at.Y), at+"length", length, at+"kept", kept)
	}
	return set.String()
}

// bolt draws one bolt with its number.
func (p page) bolt(d plate, b placed, class string) *sheet.Element {
	x, y := d.x.At(b.at.X), d.y.At(b.at.Y)
	g := sheet.New("g class=?", class).With(
		sheet.New("circle class=hit cx=? cy=? r=?", sheet.Num(x), sheet.Num(y), sheet.Num(boltTarget)),
		sheet.New("circle class=head-of cx=? cy=? r=?", sheet.Num(x), sheet.Num(y), sheet.Num(boltRadius)))
	if b.kept {
		return g.With(sheet.New("path class=cross d=?", "M"+sheet.Num(x-7)+" "+sheet.Num(y-7)+"l14 14m0 -14l-14 14"))
	}
	g.With(sheet.New("text x=? y=? text-anchor=middle", sheet.Num(x), sheet.Num(y+4.5)).Say(strconv.Itoa(b.number)))
	if b.length > 0 {
		text := sheet.New("text class=len x=? y=? text-anchor=middle", sheet.Num(x), sheet.Num(y+boltRadius+10))
		g.With(text.Say(p.s.AtMost(float64(b.length), 3)))
	}
	return g
}

// boltClass says how far a bolt's tightening has come in the pass at hand.
func (s *sequence) boltClass(b placed) string {
	class := "bolt"
	if b.kept {
		return class + " kept"
	}
	if b.number == 1 {
		class += " first"
	}
	if !s.underWay() || len(s.order) == 0 {
		return class
	}
	switch _, place := s.at(s.progress.done); {
	case s.progress.done == s.steps, b.number <= place:
		return class + " done"
	case b.number == place+1:
		return class + " now"
	}
	return class
}

// plate draws the plate, to be tapped.
func (p page) plate(s *sequence, fill string) *sheet.Element {
	d := plateOf(s.bolts)
	locked := s.underWay() && s.progress.done < s.steps
	window, inner := numbers(d.x.From, d.y.From, d.x.To, d.y.To), numbers(d.x.A, d.y.A, d.x.B, d.y.B)
	svg := sheet.New("svg viewBox=? class=? data-plate=bolts data-window=? data-inner=? data-step=? data-fill=? tabindex=0 role=group aria-label=?",
		plateBox, "drawing plate", window, inner, strconv.Itoa(plateStep), fill, p.say("plate.text", strconv.Itoa(len(s.bolts))))
	if locked {
		svg.Attr("data-locked", "yes")
	}
	svg.With(d.board())
	for i, b := range s.bolts {
		row := strconv.Itoa(i)
		svg.With(p.bolt(d, b, s.boltClass(b)).Attr("data-bolt", row).Attr("data-value", row).Attr("data-at", numbers(b.at.X, b.at.Y)).
			Attr("role", "button").Attr("tabindex", "0").Attr("aria-label", p.boltLabel(b)))
	}
	caption := p.say("plate.empty")
	switch {
	case locked:
		caption = p.say("plate.locked")
	case len(s.bolts) > 0:
		caption = p.say("plate.caption")
	}
	f := sheet.New("figure class=? data-slot=bolts", "plate-figure").With(svg, sheet.New("figcaption").Say(caption))
	if len(s.bolts) > 0 && !locked {
		f.With(p.pens(s), tool.SetButton("wide", p.say("plate.clear"), tool.Setting{"bolts", "", "pattern", "", "progress", ""}))
	}
	return f
}

// boltLabel is what a screen reader says of a bolt.
func (p page) boltLabel(b placed) string {
	x, y, number := p.s.AtMost(b.at.X, 4), p.s.AtMost(b.at.Y, 4), strconv.Itoa(b.number)
	switch {
	case b.kept:
		return p.say("plate.kept", x, y)
	case b.length > 0:
		return p.say("plate.bolt_of", number, p.s.millimetres(b.length), x, y)
	}
	return p.say("plate.bolt", number, x, y)
}

// pens are what a tap can put onto a bolt: a length that another one has, or that it is not to be undone.
func (p page) pens(s *sequence) *sheet.Element {
	group := sheet.New("div class=pens role=group aria-label=?", p.say("pens"))
	pen := func(text, key, value string) {
		group.With(sheet.New("button type=button aria-pressed=false data-pen=?", tool.Setting{key, value}.String()).Say(text))
	}
	for _, l := range s.lengths {
		if l.length > 0 {
			pen(p.s.millimetres(l.length), "length", millimetreText(l.length))
		}
	}
	pen(p.say("bolts.kept=yes"), "kept", "yes")
	return group
}

// smallPlate draws the bolts alone, as large as they fit.
func (p page) smallPlate(s *sequence) *sheet.Element {
	d := plateOf(s.bolts)
	left, right, top, bottom := plateFar, plateNear, plateFar, plateNear
	for _, b := range s.bolts {
		x, y := d.x.At(b.at.X), d.y.At(b.at.Y)
		left, right, top, bottom = math.Min(left, x), math.Max(right, x), math.Min(top, y), math.Max(bottom, y)
	}
	const room = boltRadius + 14
	box := numbers(left-room, top-room, right-left+2*room, bottom-top+2*room)
	svg := sheet.New("svg viewBox=? class=? aria-hidden=true focusable=false", box, "drawing plate small")
	// What is drawn last lies over its neighbours: the bolt at hand.
	rank := func(b placed) int {
		switch {
		case b.kept:
			return 0
		case strings.HasSuffix(s.boltClass(b), " now"):
			return 2
		}
		return 1
	}
	bolts := slices.Clone(s.bolts)
	slices.SortStableFunc(bolts, func(x, y placed) int { return rank(x) - rank(y) })
	for _, b := range bolts {
		svg.With(p.bolt(d, b, s.boltClass(b)))
	}
	return svg
}

// lengthRows counts the bolts by length, so that none is left over.
func (p page) lengthRows(s *sequence) *sheet.Element {
	var rows [][2]string
	for _, l := range s.lengths {
		name := p.say("length.unknown")
		if l.length > 0 {
			name = p.say("length", p.s.millimetres(l.length))
		}
		rows = append(rows, [2]string{name, strconv.Itoa(l.count)})
	}
	if kept := len(s.bolts) - len(s.order); kept > 0 {
		rows = append(rows, [2]string{p.say("length.kept"), strconv.Itoa(kept)})
	}
	return tool.Figures(rows)
}
