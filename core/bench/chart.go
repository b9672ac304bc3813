package bench

import (
	"math"
	"strconv"

	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// A Curve is a current over time, as findings of several rooms have it: n points, and the time in seconds and the current in
// ampere of the k-th.
type Curve struct {
	N  int
	At func(k int) (t, i float64)
}

// A Point is one of a curve in the contract's form.
type Point struct {
	T tool.Amount `json:"t"`
	I tool.Amount `json:"i"`
}

// Points is the curve in the contract's form.
func (c Curve) Points() []Point {
	out := make([]Point, c.N)
	for k := range out {
		t, i := c.At(k)
		out[k] = Point{tool.Plain(quantity.OfTime, t), tool.Plain(quantity.OfCurrent, i)}
	}
	return out
}

// Part is the curve from a point to before another.
func (c Curve) Part(from, to int) Curve {
	return Curve{to - from, func(k int) (t, i float64) { return c.At(from + k) }}
}

// A Chart is a drawing of a current over time: its scales, in units that make round numbers.
type Chart struct {
	t, i         sheet.Scale
	perT, perI   float64 // what a second and an ampere are in those units
	unitT, unitI string
	zero         float64 // the time that is drawn as 0
}

// ChartOf finds the scales for times and currents between two each. The time that is drawn as 0 is zero.
func ChartOf(from, to, zero, least, most float64) Chart {
	from, to = from-zero, to-zero
	c := Chart{perT: 1, unitT: "s", perI: 1, unitI: "A", zero: zero}
	switch span := to - from; {
	case span < 2e-3:
		c.perT, c.unitT = 1e6, "µs"
	case span < 2:
		c.perT, c.unitT = 1e3, "ms"
	}
	if math.Max(most, -least) < 0.1 && most > least {
		c.perI, c.unitI = 1e3, "mA"
	}
	if !(to > from) {
		to = from + 1
	}
	if !(most > least) {
		most = least + 1
	}
	c.t = sheet.Scale{From: from * c.perT, To: to * c.perT, A: tool.DrawnLeft, B: tool.DrawnRight}
	c.i = sheet.Scale{From: least * c.perI, To: (most + (most-least)*0.08) * c.perI, A: tool.DrawnBottom, B: tool.DrawnTop}
	return c
}

// X and Y are the coordinates of a time and a current, kept on the drawing.
func (c Chart) X(t float64) float64 { v, _ := c.t.Clamp((t - c.zero) * c.perT); return v }
func (c Chart) Y(i float64) float64 { v, _ := c.i.Clamp(i * c.perI); return v }

// Axes draws the grid.
func (c Chart) Axes(l *tool.Layout) *sheet.Element { return l.Axes(c.t, c.i, c.unitT, c.unitI) }

// Drawing is the empty drawing, with what it shows in words.
func (c Chart) Drawing(text string) *sheet.Element {
	return sheet.New("svg viewBox=? class=? role=img aria-label=?", tool.DrawnBox, "drawing wave", text)
}

// Line is the path of a curve.
func (c Chart) Line(curve Curve) string {
	b := make([]byte, 0, 12*curve.N)
	for k := range curve.N {
		t, i := curve.At(k)
		b = append(b, "ML"[min(k, 1)])
		b = appendTenths(b, c.X(t))
		b = appendTenths(append(b, ' '), c.Y(i))
	}
	return string(b)
}

// Upright is the path of a line across the drawing at a time.
func (c Chart) Upright(t float64) string {
	return "M" + sheet.Num(c.X(t)) + " " + sheet.Num(tool.DrawnTop) + "V" + sheet.Num(tool.DrawnBottom)
}

// appendTenths writes a coordinate, which is not below 0, to a tenth: a phone draws no finer.
func appendTenths(b []byte, v float64) []byte {
	n := int64(v*10 + 0.5)
	b = strconv.AppendInt(b, n/10, 10)
	return append(b, '.', byte('0'+n%10))
}
