package doubt

import "math"

// A Forecast is what one more reading should be, given those that there are: with all of them right, and with the one wrong that is wrong
// in the largest part of the rest.
type Forecast struct {
	Known, Over     bool // Over is OL: there is no mean
	Worst           int8 // the one that is wrong, or -1
	Mean, U         float64
	MeanRest, URest float64 // without that one
}

// A Parabola goes through three values, at 0, At and 1.
type Parabola struct {
	At      float64
	x, y, z float64 // what each of the three counts at a place
}

// To takes the parabola to t.
func (p *Parabola) To(t float64) {
	p.x, p.y, p.z = (t-p.At)*(t-1)/p.At, t*(t-1)/(p.At*(p.At-1)), t*(t-p.At)/(1-p.At)
}

// Between returns the value there.
func (p *Parabola) Between(a, b, c float64) float64 { return p.x*a + p.y*b + p.z*c }

// Width returns the standard deviation there.
func (p *Parabola) Width(a, b, c float64) float64 { return max(p.Between(a, b, c), min(a, b, c)/2) }

// Forecast returns the forecast there.
func (p *Parabola) Forecast(of [3]*Forecast) Forecast {
	a, b, c := of[0], of[1], of[2]
	f := Forecast{Known: true, Over: b.Over, Worst: b.Worst, Mean: p.Between(a.Mean, b.Mean, c.Mean), U: p.Width(a.U, b.U, c.U)}
	if f.Worst >= 0 {
		f.MeanRest, f.URest = p.Between(a.MeanRest, b.MeanRest, c.MeanRest), p.Width(a.URest, b.URest, c.URest)
	}
	return f
}

// Even reports whether a forecast between can be told from the three.
func (p *Parabola) Even(of [3]*Forecast) bool {
	a, b, c := of[0], of[1], of[2]
	switch {
	case a.Over != b.Over || b.Over != c.Over || a.Worst != b.Worst || b.Worst != c.Worst:
		return false
	case b.Over:
		return true
	case p.Bent(a.Mean, b.Mean, c.Mean, b.U) || p.Bent(a.U, b.U, c.U, b.U):
		return false
	}
	return b.Worst < 0 || !p.Bent(a.MeanRest, b.MeanRest, c.MeanRest, b.URest) && !p.Bent(a.URest, b.URest, c.URest, b.URest)
}

// Bent reports whether three values are far off a straight line, beside a standard deviation.
func (p *Parabola) Bent(a, b, c, u float64) bool {
	const much = 0.4
	return math.Abs(b-(a+(c-a)*p.At)) > much*u
}
