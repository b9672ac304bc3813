// Package doubt has what nobody knows exactly about a circuit: divided into pieces, about each of which a normal distribution is close
// enough, and the joint distribution of readings that share it, with what one more reading should be then.
package doubt

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/portable"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// A Piece is a part of the distribution of something that nobody knows exactly: about it, a normal distribution is close enough.
type Piece struct {
	Mean, U float64 // u is the standard deviation
	Share   float64 // of the whole distribution
}

// Near reports whether another piece is within twice the widths of both.
func (p *Piece) Near(q *Piece) bool { return math.Abs(p.Mean-q.Mean) <= 2*(p.U+q.U) }

// overlap is the standard deviation of a piece over its width: with it the pieces of a uniform distribution add up to one that is
// even within a sixth, and hardly wider.
const overlap = 0.4

// perDecade is the number of pieces of a logarithmic parameter to a factor of ten. Above finely the meters and contacts are so
// much more exact than any difference that it makes that few do.
const (
	perDecade  = 7
	perCoarse  = 4
	finely     = 300
	mostPieces = 200 // of a parameter without sensible limits
)

// Pieces divides the distribution of a fault's parameter; fineness is 1 for as finely as readings may need it.
func Pieces(s circuit.Spread, fineness float64) (list []Piece) {
	if s == (circuit.Spread{}) {
		return []Piece{{Share: 1}}
	}
	if s.Max <= s.Min {
		return []Piece{{Mean: s.Min, Share: 1}}
	}
	if !s.Log { // a share lost: what is left of it counts, in its logarithm
		left := circuit.Spread{Min: 1 - s.Max, Max: 1 - s.Min, Log: true}
		for _, p := range cut(left, left.Min, left.Max, perDecade*fineness) {
			width := p.U / overlap
			list = append(list, Piece{1 - p.Mean, p.U, width / (s.Max - s.Min)})
		}
		return list
	}
	if s.Max > finely && s.Min < finely {
		return append(cut(s, s.Min, finely, perDecade*fineness), cut(s, finely, s.Max, perCoarse*fineness)...)
	}
	return cut(s, s.Min, s.Max, perDecade*fineness)
}

// cut divides a stretch of a logarithmic distribution.
func cut(s circuit.Spread, from, to, per float64) (list []Piece) {
	n := min(max(1, math.Ceil(per*portable.Log10(to/from)-1e-9)), mostPieces)
	step := portable.Pow(to/from, 1/n)
	share := portable.Log(step) / portable.Log(s.Max/s.Min)
	for i := range int(n) {
		a := from * portable.Pow(step, float64(i))
		b := a * step
		list = append(list, Piece{(b - a) / portable.Log(step), overlap * (b - a), share})
	}
	return list
}

// A Winding is a part of what is possible of the healthy winding: its resistance while it is measured, and its temperature then.
type Winding struct {
	Piece
	At, Within float64 // mean and standard deviation of the temperature, degC
}

// otherRows is how far the winding of another row of the specification may be from the row given: half to twice.
const otherRows = 2

// windingStep is how wide a piece of the winding is at most, in the logarithm.
const windingStep = 0.16

// Windings divides what is possible of the healthy winding; wide: by any row of the specification.
func Windings(m *circuit.Model, wide bool) (list []Winding) {
	type point struct{ r, t, share float64 }
	var points []point
	lo, hi := math.Inf(1), 0.0
	rows, ratios := 16, 1
	if wide {
		rows, ratios = 4, 24
	}
	ts := temperatures(m)
	points = make([]point, 0, len(ts)*rows*ratios)
	for _, t := range ts {
		k := winding.Copper.Factor(m.Row.At, quantity.Temperature(t.Mean))
		for i := range rows {
			row := m.Row.Min + (m.Row.Max-m.Row.Min)*(float64(i)+0.5)/float64(rows)
			for j := range ratios {
				r := row * k
				if wide {
					r *= portable.Pow(otherRows, 2*(float64(j)+0.5)/float64(ratios)-1)
				}
				points = append(points, point{r, t.Mean, t.Share})
				lo, hi = min(lo, r), max(hi, r)
			}
		}
	}
	if hi <= lo {
		return []Winding{{Piece{lo, 0, 1}, points[0].t, 0}}
	}
	whole, span := 0.0, portable.Log(hi/lo)
	n := int(max(2, math.Ceil(span/windingStep)))
	bin := make([]struct{ w, r, rr, t, tt float64 }, n)
	for _, p := range points {
		b := &bin[min(n-1, int(float64(n)*portable.Log(p.r/lo)/span))]
		b.w, b.r, b.rr, b.t, b.tt = b.w+p.share, b.r+p.share*p.r, b.rr+p.share*p.r*p.r, b.t+p.share*p.t, b.tt+p.share*p.t*p.t
		whole += p.share
	}
	for _, b := range bin {
		if b.w == 0 {
			continue
		}
		r, t := b.r/b.w, b.t/b.w
		u, ut := math.Sqrt(max(0, b.rr/b.w-r*r)), math.Sqrt(max(0, b.tt/b.w-t*t))
		if n > 2 {
			u *= overlap * math.Sqrt(12)
		}
		list = append(list, Winding{Piece{r, u, b.w / whole}, t, ut})
	}
	return list
}

// temperatures divides what is possible of the winding's temperature, so finely that each part counts as a point.
func temperatures(m *circuit.Model) (list []Piece) {
	lo, hi, n := float64(m.Warmth.At-quantity.Temperature(m.Warmth.Within)), float64(m.Warmth.At+quantity.Temperature(m.Warmth.Within)), 12
	if !m.Warmth.Known {
		lo, hi, n = float64(winding.Anywhere.From), float64(winding.Anywhere.To), 48
	}
	if hi <= lo {
		return []Piece{{lo, 0, 1}}
	}
	for i := range n {
		list = append(list, Piece{lo + (hi-lo)*(float64(i)+0.5)/float64(n), 0, 1 / float64(n)})
	}
	return list
}

// moments returns the mean and the standard deviation of a resistance within a span, uniform in its logarithm; the nominal one
// without doubt for the zero span.
func moments(s circuit.Span, nominal float64) (mean, u float64) {
	if s.Max <= s.Min {
		return nominal, 0
	}
	l := portable.Log(s.Max / s.Min)
	mean = (s.Max - s.Min) / l
	return mean, math.Sqrt(max(0, (s.Max*s.Max-s.Min*s.Min)/(2*l)-mean*mean))
}

// Typical returns the mean healthy resistances, and their standard deviations by knob.
func Typical(m *circuit.Model) (n circuit.Nominal, u [circuit.Knobs]float64) {
	n = m.Nominal
	n.Driver, u[circuit.DriverKnob] = moments(m.Spans.Driver, n.Driver)
	n.Harness, u[circuit.HarnessKnob] = moments(m.Spans.Harness, n.Harness)
	n.Lead, u[circuit.LeadKnob] = moments(m.Spans.Lead, n.Lead)
	n.Path, u[circuit.PathKnob] = moments(m.Spans.Path, n.Path)
	return n, u
}

// Whole joins pieces into one.
func Whole(pieces []Piece) Piece {
	if len(pieces) == 1 {
		return pieces[0]
	}
	lo, hi := pieces[0], pieces[len(pieces)-1]
	middle := math.Sqrt(max(lo.Mean*hi.Mean, 0))
	return Piece{middle, (hi.Mean - lo.Mean) / math.Sqrt(12), 1}
}
