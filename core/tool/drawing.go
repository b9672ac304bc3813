package tool

import "ohmwright/core/sheet"

// The plotting area of a drawing with axes, in the drawing's units: a phone shows it 1:1 at 328 wide.
const (
	DrawnBox              = "0 0 328 216"
	DrawnLeft, DrawnRight = 40.0, 320.0
	DrawnTop, DrawnBottom = 12.0, 182.0
	LabelAbove, LabelSide = 4.0, 6.0
	LabelDown, unitDown   = 14.0, 30.0
	ticksAcross, ticksUp  = 5, 6
)

// Axes draws a grid with its numbers, and the unit at the end of each axis.
func (l *Layout) Axes(across, up sheet.Scale, unitAcross, unitUp string) *sheet.Element {
	g := sheet.New("g class=axes")
	top, bottom := sheet.Num(DrawnTop), sheet.Num(DrawnBottom)
	xs, d := across.Ticks(ticksAcross)
	for _, v := range xs {
		x := sheet.Num(across.At(v))
		g.With(sheet.New("path class=grid d=?", "M"+x+" "+top+"V"+bottom),
			sheet.New("text x=? y=? text-anchor=middle", x, sheet.Num(DrawnBottom+LabelDown)).Say(l.Speak.Number(v, d)))
	}
	ys, d := up.Ticks(ticksUp)
	for _, v := range ys {
		y := up.At(v)
		g.With(sheet.New("path class=grid d=?", "M"+sheet.Num(DrawnLeft)+" "+sheet.Num(y)+"H"+sheet.Num(DrawnRight)),
			sheet.New("text x=? y=? text-anchor=end", sheet.Num(DrawnLeft-LabelSide), sheet.Num(y+LabelAbove)).Say(l.Speak.Number(v, d)))
	}
	return g.With(
		sheet.New("text class=unit x=? y=? text-anchor=end", sheet.Num(DrawnRight), sheet.Num(DrawnBottom+unitDown)).Say(unitAcross),
		sheet.New("text class=unit x=2 y=?", sheet.Num(DrawnTop+LabelAbove)).Say(unitUp))
}
