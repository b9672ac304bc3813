package trace

import (
	"math"

	"ohmwright/core/portable"
	"ohmwright/core/squares"
)

// A part is a stretch of a ramp in blocks of samples, with an exponential of its own: i = final − drop·exp(−(t−from)/tau).
type part struct {
	t, y      []float64
	from      float64
	drop, tau float64
}

// last returns the last time of a part.
func (q *part) last() float64 { return q.t[len(q.t)-1] }

// missing returns how far the current is below final at a time.
func (q part) missing(t float64) float64 { return q.drop * portable.Exp(-(t-q.from)/q.tau) }

// A model is one part, or two that go towards the same final current.
type model struct {
	final  float64
	parts  []part
	fixed  bool // final is given
	rss    float64
	n      int        // blocks
	u      [5]float64 // standard uncertainties: of final, then drop and tau of each part
	wander float64    // see check
}

// unknowns returns the range of the unknowns that are fitted.
func (m *model) unknowns() (first, k int) {
	if m.fixed {
		first = 1
	}
	return first, 1 + 2*len(m.parts)
}

// guess sets first values of the last part: it tries time constants of up to eleven times its length, and finds final and drop by a
// straight line.
func (m *model) guess() bool {
	q := &m.parts[len(m.parts)-1]
	span := q.last() - q.from
	best := math.Inf(1)
	for k := range 18 {
		tau := span * portable.Pow(2, 3.5-0.5*float64(k))
		var l squares.Line
		syy := 0.0
		for j, t := range q.t {
			x, y := portable.Exp(-(t-q.from)/tau), q.y[j]
			l.Add(x, y)
			syy += y * y
		}
		slope, ok := l.Slope()
		if !ok {
			continue
		}
		final := (l.SY - slope*l.SX) / l.N
		rss := syy - slope*l.SXY - final*l.SY
		if slope < 0 && rss < best {
			best = rss
			m.final, q.drop, q.tau = final, -slope, tau
		}
	}
	return !math.IsInf(best, 1)
}

// fit minimises the sum of squares by Gauss and Newton with Levenberg's damping, with time constants as logarithms.
func (m *model) fit() bool {
	first, k := m.unknowns()
	m.n = 0
	for _, q := range m.parts {
		m.n += len(q.t)
	}
	if m.n <= k {
		return false
	}
	damping := 1e-3
	var equations squares.Normal
	equations, m.rss = m.equations()
	for range 200 {
		d, ok := equations.Solve(first, k, damping)
		if !ok {
			return false
		}
		next := m.moved(d)
		var there squares.Normal
		there, next.rss = next.equations()
		if !(next.rss < m.rss) {
			if damping *= 8; damping > 1e9 {
				break
			}
			continue
		}
		done := m.rss-next.rss < 1e-9*m.rss
		m.final, m.parts, m.rss, equations = next.final, next.parts, next.rss, there
		if damping = max(damping/8, 1e-9); done {
			break
		}
	}
	for _, q := range m.parts {
		if !(q.drop > 0) || !(q.tau > 0) || math.IsInf(q.tau, 0) {
			return false
		}
	}
	return m.uncertain(equations)
}

// moved returns the model with its unknowns changed.
func (m *model) moved(by [5]float64) model {
	next := *m
	next.parts = make([]part, len(m.parts))
	next.final += by[0]
	for j, q := range m.parts {
		q.drop += by[1+2*j]
		q.tau *= portable.Exp(max(-1, min(1, by[2+2*j])))
		next.parts[j] = q
	}
	return next
}

// equations returns the normal equations and the sum of squares.
func (m *model) equations() (e squares.Normal, rss float64) {
	h, g := &e.H, &e.G
	for j, q := range m.parts {
		a, b := 1+2*j, 2+2*j
		for k, t := range q.t {
			x := portable.Exp(-(t - q.from) / q.tau)
			res := q.y[k] - m.final + q.drop*x
			rss += res * res
			da, db := -x, -q.drop*x*(t-q.from)/q.tau
			h[0][0]++
			h[a][0] += da
			h[b][0] += db
			h[a][a] += da * da
			h[b][a] += da * db
			h[b][b] += db * db
			g[0] += res
			g[a] += da * res
			g[b] += db * res
		}
	}
	e.Mirror()
	return e, rss
}

// uncertain sets the standard uncertainties from the curvature and the residuals, enlarged if neighbouring residuals are alike.
func (m *model) uncertain(equations squares.Normal) bool {
	first, k := m.unknowns()
	variance := m.rss / float64(m.n-k) * m.alike()
	for i := first; i < k; i++ {
		equations.G = [5]float64{}
		equations.G[i] = 1
		d, ok := equations.Solve(first, k, 0)
		if !ok || !(d[i] >= 0) {
			return false
		}
		m.u[i] = math.Sqrt(d[i] * variance)
	}
	for j, q := range m.parts {
		m.u[2+2*j] *= q.tau
	}
	return true
}

// residuals calls do with each residual of part j.
func (m *model) residuals(j int, do func(res float64)) {
	q := m.parts[j]
	for k, t := range q.t {
		do(q.y[k] - m.final + q.missing(t))
	}
}

// alike returns the sum of the residuals' autocorrelations, which is 1 if the residuals are independent.
func (m *model) alike() float64 {
	const lags = 24
	var before [lags]float64
	var product [lags]float64
	square := 0.0
	for j := range m.parts {
		k := 0
		m.residuals(j, func(res float64) {
			square += res * res
			for l := 1; l <= min(k, lags); l++ {
				product[l-1] += res * before[(k-l)%lags]
			}
			before[k%lags] = res
			k++
		})
	}
	sum := 1.0
	for _, p := range product {
		if !(p > 0.05*square) {
			break
		}
		sum += 2 * p / square
	}
	return sum
}

// check sets and returns wander: the largest running sum of residuals, beyond what the recorder's steps explain, in standard
// deviations of a sum of noise. A large one means that the ramp has another shape.
func (m *model) check(noise, stuck float64) float64 {
	m.wander = 0
	for j := range m.parts {
		sum, allowed, most := 0.0, 0.0, 0.0
		m.residuals(j, func(res float64) {
			sum, allowed = sum+res, allowed+stuck
			most = max(most, math.Abs(sum)-allowed)
		})
		m.wander = max(m.wander, most/(noise*math.Sqrt(float64(len(m.parts[j].t)))))
	}
	return m.wander
}

// A misfit is the rms of the residuals of a single part: within three time constants, and after.
type misfit struct{ rise, flat float64 }

func (m *model) misfit() misfit {
	q, k := &m.parts[0], 0
	var squares, counts [2]float64
	m.residuals(0, func(res float64) {
		late := 0
		if q.t[k]-q.from > strayFrom*q.tau {
			late = 1
		}
		squares[late], counts[late] = squares[late]+res*res, counts[late]+1
		k++
	})
	return misfit{math.Sqrt(squares[0] / max(1, counts[0])), math.Sqrt(squares[1] / max(1, counts[1]))}
}

// change returns by how much the time constant changes from the first half of a part to the second, until a tenth is missing: by iron
// that saturates, eddy currents, a plunger that creeps.
func (m *model) change(j int) float64 {
	q, n := &m.parts[j], 0
	for n < len(q.t) && m.final-q.y[n] > 0.1*q.drop {
		n++
	}
	size := n / 4
	var at, missing [4]float64
	for k := range 4 * size {
		at[k/size] += q.t[k] / float64(size)
		missing[k/size] += (m.final - q.y[k]) / float64(size)
	}
	if size == 0 || !(missing[0] > missing[1] && missing[2] > missing[3] && missing[3] > 0) {
		return 0
	}
	return math.Abs((at[1]-at[0])/portable.Log(missing[0]/missing[1]) - (at[3]-at[2])/portable.Log(missing[2]/missing[3]))
}

// start returns when the first part was at a current.
func (m *model) start(current float64) float64 {
	q := m.parts[0]
	if u := (m.final - current) / q.drop; u > 0 {
		return q.from - q.tau*portable.Log(u)
	}
	return q.from
}
