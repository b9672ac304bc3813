package drive

import (
	"math"

	"ohmwright/core/portable"
	"ohmwright/core/quantity"
)

// A Point is the current at a time.
type Point struct {
	T quantity.Time
	I quantity.Current
}

// Wave returns the current over one period of the steady state, from switch-on, with n steps while the driver is on and n while
// current flows after it is off.
func (c Circuit) Wave(n int) []Point {
	s, p := c.Steady(), c.Period()
	points := []Point{{0, s.Min}}
	if p.On > 0 {
		points = p.onward(points, p.On, n)
	}
	if s.Flow > 0 {
		points = p.offward(points, float64(s.Flow), n)
	}
	if !s.Continuous && p.Off > 0 {
		points = append(points, Point{points[len(points)-1].T, 0}, Point{quantity.Time(p.On + p.Off), 0})
	}
	return points
}

// onward continues a curve from its last point for a time, in n steps, with the driver on.
func (p Period) onward(points []Point, t float64, n int) []Point {
	return carryOn(points, t, n, p.TauOn, p.ToOn)
}

// offward does the same with the driver off.
func (p Period) offward(points []Point, t float64, n int) []Point {
	return carryOn(points, t, n, p.TauOff, -p.ToOff)
}

// carryOn continues a curve towards a current, with a time constant.
func carryOn(points []Point, t float64, n int, tau, to float64) []Point {
	last := points[len(points)-1]
	if tau == 0 { // without inductance the current jumps
		i := quantity.Current(max(0, to))
		return append(points, Point{last.T, i}, Point{last.T + quantity.Time(t), i})
	}
	for k := 1; k <= n; k++ {
		at := t * float64(k) / float64(n)
		points = append(points, Point{last.T + quantity.Time(at), quantity.Current(max(0, heading(float64(last.I), to, constants(at, tau))))})
	}
	return points
}

// heading returns the current after x time constants on the way from one current to another.
func heading(from, to, x float64) float64 { return from*portable.Exp(-x) - to*math.Expm1(-x) }

// settled is how close to the steady state a start counts as steady, as a share of the highest current.
const settled = 1e-3

// Start returns the current from switch-on until two periods after it is steady, and the time at which it is steady. The driver is
// first fully on for a time, which may be 0, as peak-and-hold drives do, then pulsed. If that takes more periods than steps, some
// are left out: every point is on the curve, and what is left out lies between its valleys and peaks.
//
// From each valley to the next, the distance to the steady valley shrinks by e^−(x+y). The current is steady at the first valley
// that is within a thousandth of the highest current.
func (c Circuit) Start(full quantity.Time, steps int) (points []Point, steady quantity.Time) {
	s, p := c.Steady(), c.Period()
	points = []Point{{0, 0}}
	if c.Duty == 1 { // one exponential, whatever the period
		rise := p.TauOn * -portable.Log(settled)
		return p.onward(points, max(rise*1.25, float64(full), p.On), 64), quantity.Time(rise)
	}
	if full > 0 {
		points = p.onward(points, float64(full), 24)
	}
	lo, near := p.valley(), settled*float64(s.Max)
	periods := 0
	if away := math.Abs(float64(points[len(points)-1].I) - lo); away > near+float64(s.Min)-lo {
		periods = int(math.Ceil(min(portable.Log(away/(near+float64(s.Min)-lo))/(p.X+p.Y), 1e9)))
	}
	steady = full + quantity.Time(float64(periods)*(p.On+p.Off))
	leap := max(1, periods/steps) // every so many periods, one is drawn
	fine := max(1, min(12, 96/(periods+2)))
	for k := 0; k < periods+2; k++ {
		if over := min(leap, periods-k) - 1; over > 0 && k > 0 {
			last := points[len(points)-1]
			points = append(points, Point{
				last.T + quantity.Time(float64(over)*(p.On+p.Off)),
				quantity.Current(max(0, lo+(float64(last.I)-lo)*portable.Exp(-(p.X+p.Y)*float64(over)))),
			})
			k += over
		}
		points = p.once(points, fine)
	}
	return points, steady
}

// once continues a curve by one period.
func (p Period) once(points []Point, n int) []Point {
	if p.On > 0 {
		points = p.onward(points, p.On, n)
	}
	if p.Off > 0 {
		last := points[len(points)-1]
		stops := p.Off
		if p.TauOff == 0 {
			stops = 0
		} else if p.ToOff > 0 {
			stops = min(stops, p.TauOff*math.Log1p(float64(last.I)/p.ToOff))
		}
		if stops > 0 {
			points = p.offward(points, stops, n)
		}
		if stops < p.Off {
			points = append(points, Point{points[len(points)-1].T, 0}, Point{last.T + quantity.Time(p.Off), 0})
		}
	}
	return points
}
