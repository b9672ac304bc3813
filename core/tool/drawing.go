package tool

import "ohmwright/core/sheet"

// The room of a drawing with axes, in its own units: a phone shows it 1:1 at 328 wide.
const (
	drawnBox                         = "0 0 328 216"
	drawnLeft, drawnRight            = 40.0, 320.0
	drawnTop, drawnBottom            = 12.0, 182.0
	labelAbove, labelSide, labelDown = 4.0, 6.0, 14.0
	unitDown                         = 30.0
)

// axes draws a grid with its numbers, and the units at their ends.
func (a *Answer) axes(across, up sheet.Scale, unitAcross, unitUp string) *sheet.Element {
	g := sheet.New("g class=axes")
	xs, d := across.Ticks(5)
	for _, v := range xs {
		x := sheet.Num(across.At(v))
		g = g.With(sheet.New("path class=grid d=?", "M"+x+" "+sheet.Num(drawnTop)+"V"+sheet.Num(drawnBottom)),
			sheet.New("text x=? y=? text-anchor=middle", x, sheet.Num(drawnBottom+labelDown)).Say(a.Speak.Number(v, d)))
	}
	ys, d := up.Ticks(6)
	for _, v := range ys {
		y := up.At(v)
		g = g.With(sheet.New("path class=grid d=?", "M"+sheet.Num(drawnLeft)+" "+sheet.Num(y)+"H"+sheet.Num(drawnRight)),
			sheet.New("text x=? y=? text-anchor=end", sheet.Num(drawnLeft-labelSide), sheet.Num(y+labelAbove)).Say(a.Speak.Number(v, d)))
	}
	return g.With(
		sheet.New("text class=unit x=? y=? text-anchor=end", sheet.Num(drawnRight), sheet.Num(drawnBottom+unitDown)).Say(unitAcross),
		sheet.New("text class=unit x=2 y=?", sheet.Num(drawnTop+labelAbove)).Say(unitUp))
}
