// Package plate lays out a plate with bolts that can be tapped, and the tightening of the bolts, one by one.
package plate

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ohmwright/core/bolts"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

// A Tightening is what to lay out.
type Tightening struct {
	Bolts     *bolts.Finding // nil if the order of bolts is not asked for
	Patterned bool           // some of the bolts belong to a pattern
	Adapter   bool           // an adapter is on, so the setting differs from the torque
	Stop      string         // a sentence about what must be cleared up first; "" for nothing
}

// A page lays out one tightening.
type page struct {
	Tightening
	found  bolts.Finding // has no bolts if the order is not asked for
	layout *tool.Layout
	s      speech.Speaker
}

// Parts returns the plate with its bolts, the step to do now, and the passes.
func Parts(t Tightening, l *tool.Layout, s speech.Speaker) []*sheet.Element {
	p := page{Tightening: t, layout: l, s: s}
	if t.Bolts != nil {
		p.found = *t.Bolts
	}
	parts := []*sheet.Element{p.plate()}
	if len(p.found.Order) == 0 {
		return parts
	}
	if p.found.UnderWay() {
		parts = append(parts, p.step())
	}
	return append(parts, p.order())
}

// Side is the side of the square that the plate shows at least, in the unit of the bolts' places.
const Side = 100

// The drawing of the plate on which bolts are placed.
const (
	plateBox               = "0 0 328 328"
	plateNear, plateFar    = 16.0, 312.0
	plateStep              = 5
	boltRadius, boltTarget = 13.0, 22.0
)

// A plate maps places to coordinates of the drawing.
type plate struct{ x, y sheet.Scale }

// plateOf returns a mapping that shows the whole plate, and more if bolts lie outside it.
func plateOf(all []bolts.Placed) plate {
	low, high := 0.0, float64(Side)
	for _, b := range all {
		low, high = math.Min(low, math.Min(b.X, b.Y)), math.Max(high, math.Max(b.X, b.Y))
	}
	return plate{sheet.Scale{From: low, To: high, A: plateNear, B: plateFar}, sheet.Scale{From: low, To: high, A: plateFar, B: plateNear}}
}

// board draws the plate's edge and grid.
func (d plate) board() *sheet.Element {
	g := sheet.New("g class=board").With(sheet.New("rect class=edge x=2 y=2 width=324 height=324 rx=10"))
	grid, near, far := "", sheet.Num(plateNear), sheet.Num(plateFar)
	for k := range 11 {
		v := d.x.From + float64(k)/10*(d.x.To-d.x.From)
		grid += "M" + sheet.Num(d.x.At(v)) + " " + near + "V" + far + "M" + near + " " + sheet.Num(d.y.At(v)) + "H" + far
	}
	return g.With(sheet.New("path class=grid d=?", grid))
}

// numbers joins coordinates with spaces.
func numbers(v ...float64) string {
	texts := make([]string, len(v))
	for i, n := range v {
		texts[i] = sheet.Num(n)
	}
	return strings.Join(texts, " ")
}

// millimetreText writes a length as a link does, in millimetres to a thousandth.
func millimetreText[Q ~float64](v Q) string {
	return strconv.FormatFloat(math.Round(float64(v)*1000)/1000, 'f', -1, 64) + "mm"
}

// fill returns a setting that turns a generated pattern into single rows; "" if there is no pattern.
func (p page) fill() string {
	if !p.Patterned {
		return ""
	}
	set := tool.Setting{"pattern", ""}
	for i, b := range p.found.Bolts {
		at := "bolts." + strconv.Itoa(i) + "."
		length, kept := "", ""
		if b.Length > 0 {
			length = millimetreText(b.Length)
		}
		if b.Kept {
			kept = "yes"
		}
		set = append(set, at+"x", millimetreText(b.X), at+"y", millimetreText(b.Y), at+"length", length, at+"kept", kept)
	}
	return set.String()
}

// bolt draws one bolt with its number.
func (p page) bolt(d plate, b bolts.Placed, class string) *sheet.Element {
	x, y := d.x.At(b.X), d.y.At(b.Y)
	g := sheet.New("g class=?", class).With(
		sheet.New("circle class=hit cx=? cy=? r=?", sheet.Num(x), sheet.Num(y), sheet.Num(boltTarget)),
		sheet.New("circle class=head-of cx=? cy=? r=?", sheet.Num(x), sheet.Num(y), sheet.Num(boltRadius)))
	if b.Kept {
		return g.With(sheet.New("path class=cross d=?", "M"+sheet.Num(x-7)+" "+sheet.Num(y-7)+"l14 14m0 -14l-14 14"))
	}
	g.With(sheet.New("text x=? y=? text-anchor=middle", sheet.Num(x), sheet.Num(y+4.5)).Say(strconv.Itoa(b.Number)))
	if b.Length > 0 {
		text := sheet.New("text class=len x=? y=? text-anchor=middle", sheet.Num(x), sheet.Num(y+boltRadius+10))
		g.With(text.Say(p.s.AtMost(float64(b.Length), 3)))
	}
	return g
}

// boltClass returns the style class of a bolt, which says how far its tightening has come in the current pass.
func (p page) boltClass(b bolts.Placed) string {
	class := "bolt"
	if b.Kept {
		return class + " kept"
	}
	if b.Number == 1 {
		class += " first"
	}
	if !p.found.UnderWay() || len(p.found.Order) == 0 {
		return class
	}
	switch _, place := p.found.At(p.found.Progress.Done); {
	case p.found.Progress.Done == p.found.Steps, b.Number <= place:
		return class + " done"
	case b.Number == place+1:
		return class + " now"
	}
	return class
}

// plate draws the plate so that it can be tapped.
func (p page) plate() *sheet.Element {
	d := plateOf(p.found.Bolts)
	locked := p.found.UnderWay() && p.found.Progress.Done < p.found.Steps
	window, inner := numbers(d.x.From, d.y.From, d.x.To, d.y.To), numbers(d.x.A, d.y.A, d.x.B, d.y.B)
	svg := sheet.New("svg viewBox=? class=? data-plate=bolts data-window=? data-inner=? data-step=? data-fill=? tabindex=0 "+
		"role=group aria-label=?",
		plateBox, "drawing plate", window, inner, strconv.Itoa(plateStep), p.fill(), p.s.Say("plate.text", strconv.Itoa(len(p.found.Bolts))))
	if locked {
		svg.Attr("data-locked", "yes")
	}
	svg.With(d.board())
	for i, b := range p.found.Bolts {
		row := strconv.Itoa(i)
		svg.With(p.bolt(d, b, p.boltClass(b)).Attr("data-bolt", row).Attr("data-value", row).Attr("data-at", numbers(b.X, b.Y)).
			Attr("role", "button").Attr("tabindex", "0").Attr("aria-label", p.boltLabel(b)))
	}
	caption := p.s.Say("plate.empty")
	switch {
	case locked:
		caption = p.s.Say("plate.locked")
	case len(p.found.Bolts) > 0:
		caption = p.s.Say("plate.caption")
	}
	f := sheet.New("figure class=? data-slot=bolts", "plate-figure").With(svg, sheet.New("figcaption").Say(caption))
	if len(p.found.Bolts) > 0 && !locked {
		f.With(p.pens(), tool.SetButton("wide", p.s.Say("plate.clear"), tool.Setting{"bolts", "", "pattern", "", "progress", ""}))
	}
	return f
}

// boltLabel returns a bolt's label for a screen reader.
func (p page) boltLabel(b bolts.Placed) string {
	x, y, number := p.s.AtMost(b.X, 4), p.s.AtMost(b.Y, 4), strconv.Itoa(b.Number)
	switch {
	case b.Kept:
		return p.s.Say("plate.kept", x, y)
	case b.Length > 0:
		return p.s.Say("plate.bolt_of", number, p.s.Millimetres(b.Length), x, y)
	}
	return p.s.Say("plate.bolt", number, x, y)
}

// pens returns the buttons that choose what a tap gives a bolt: the length of another bolt, or the mark that it stays in place.
func (p page) pens() *sheet.Element {
	group := sheet.New("div class=pens role=group aria-label=?", p.s.Say("pens"))
	pen := func(text, key, value string) {
		group.With(sheet.New("button type=button aria-pressed=false data-pen=?", tool.Setting{key, value}.String()).Say(text))
	}
	for _, l := range p.found.Lengths {
		if l.Length > 0 {
			pen(p.s.Millimetres(l.Length), "length", millimetreText(l.Length))
		}
	}
	pen(p.s.Say("bolts.kept=yes"), "kept", "yes")
	return group
}

// smallPlate draws only the bolts, as large as possible. now is the number of the one at hand.
func (p page) smallPlate(now int) *sheet.Element {
	d := plateOf(p.found.Bolts)
	left, right, top, bottom := plateFar, plateNear, plateFar, plateNear
	for _, b := range p.found.Bolts {
		x, y := d.x.At(b.X), d.y.At(b.Y)
		left, right, top, bottom = math.Min(left, x), math.Max(right, x), math.Min(top, y), math.Max(bottom, y)
	}
	const room = boltRadius + 14
	box := numbers(left-room, top-room, right-left+2*room, bottom-top+2*room)
	svg := sheet.New("svg viewBox=? class=? aria-hidden=true focusable=false", box, "drawing plate small")
	// The bolt at hand is drawn last, so that it covers its neighbours.
	rank := func(b bolts.Placed) int {
		switch {
		case b.Kept:
			return 0
		case b.Number == now:
			return 2
		}
		return 1
	}
	all := slices.Clone(p.found.Bolts)
	sort.SliceStable(all, func(i, j int) bool { return rank(all[i]) < rank(all[j]) })
	for _, b := range all {
		svg.With(p.bolt(d, b, p.boltClass(b)))
	}
	return svg
}

// lengthRows lays out how many bolts of each length there are, so that the reader notices if one is left over.
func (p page) lengthRows() *sheet.Element {
	var rows [][2]string
	for _, l := range p.found.Lengths {
		name := p.s.Say("length.unknown")
		if l.Length > 0 {
			name = p.s.Say("length", p.s.Millimetres(l.Length))
		}
		rows = append(rows, [2]string{name, strconv.Itoa(l.Count)})
	}
	if kept := len(p.found.Bolts) - len(p.found.Order); kept > 0 {
		rows = append(rows, [2]string{p.s.Say("length.kept"), strconv.Itoa(kept)})
	}
	return tool.Figures(rows)
}
