package bench

import (
	"math"
	"strconv"

	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// A Curve is a current over time, in the form that the findings of several rooms have: n points, and a function that
// returns the time in seconds and the current in ampere of point k.
type Curve struct {
	N  int
	At func(k int) (t, i float64)
}

// A Point is one point of a curve, in the form of the contract.
type Point struct {
	T tool.Amount `json:"t"`
	I tool.Amount `json:"i"`
}

// Points returns the curve's points in the form of the contract.
func (c Curve) Points() []Point {
	out := make([]Point, c.N)
	for k := range out {
		t, i := c.At(k)
		out[k] = Point{tool.Plain(quantity.OfTime, t), tool.Plain(quantity.OfCurrent, i)}
	}
	return out
}

// Part returns the curve from point from to point to, which is not included.
func (c Curve) Part(from, to int) Curve {
	return Curve{to - from, func(k int) (t, i float64) { return c.At(from + k) }}
}

// A Chart is a drawing of a current over time. Its scales are in units that give round numbers.
type Chart struct {
	t, i         sheet.Scale
	perT, perI   float64 // how many of those units a second and an ampere are
	unitT, unitI string
	zero         float64 // the time drawn as 0, in seconds
}

// ChartOf returns a chart that holds times between from and to, and currents between least and most. The time zero is drawn as 0.
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

// X and Y return the coordinates of a time and a current, moved to the drawing's edge if they lie outside.
func (c Chart) X(t float64) float64 { v, _ := c.t.Clamp((t - c.zero) * c.perT); return v }
func (c Chart) Y(i float64) float64 { v, _ := c.i.Clamp(i * c.perI); return v }

// Axes draws the grid.
func (c Chart) Axes(l *tool.Layout) *sheet.Element { return l.Axes(c.t, c.i, c.unitT, c.unitI) }

// Drawing returns the empty drawing. text says in words what it shows.
func (c Chart) Drawing(text string) *sheet.Element {
	return sheet.New("svg viewBox=? class=? role=img aria-label=?", tool.DrawnBox, "drawing wave", text)
}

// Line returns the SVG path of a curve.
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

// Upright returns the SVG path of a vertical line at a time.
func (c Chart) Upright(t float64) string {
	return "M" + sheet.Num(c.X(t)) + " " + sheet.Num(tool.DrawnTop) + "V" + sheet.Num(tool.DrawnBottom)
}

// appendTenths writes a coordinate of at least 0 to one decimal, which is as fine as a phone draws.
func appendTenths(b []byte, v float64) []byte {
	n := int64(v*10 + 0.5)
	b = strconv.AppendInt(b, n/10, 10)
	return append(b, '.', byte('0'+n%10))
}
