package doubt

import "math"

// A Curve is a value as a function of the winding, t from 0 to 1. The response of a network of resistors to one of its
// resistances is a quotient of two straight lines. Where the winding counts as two resistances, the curve is still right at both
// ends and in the middle.
type Curve struct{ a, b, d float64 }

// Through returns the curve through the values at t = 0, 0.5 and 1.
func Through(y0, y1, y2 float64) Curve {
	if math.IsInf(y0, 0) || math.IsInf(y2, 0) || math.Abs(y2-y0) <= 1e-9*math.Abs(y1) {
		return Curve{a: y1}
	}
	d := (y0 + y2 - 2*y1) / (y1 - y2)
	if !(d > -0.99 && d < 1e3) {
		return Curve{y0, y2 - y0, 0}
	}
	return Curve{y0, y2*(1+d) - y0, d}
}

// At returns the value at t.
func (c Curve) At(t float64) float64 { return (c.a + c.b*t) / (1 + c.d*t) }
