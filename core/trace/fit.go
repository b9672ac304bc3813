package trace

import "math"

const (
	blocks       = 400   // of a ramp that is fitted
	suspect      = 4     // standard deviations of a bend that a fit leaves out, if one exponential does not do
	fewest       = 8     // samples of a ramp
	wander       = 1.3   // of the residuals' running sum, over that of noise: more is another shape
	fewestBefore = 3     // samples that tell the current before a ramp
	fewestEarly  = 5     // samples below a limit that show where the ramp heads for
	roundCorner  = 0.008 // of the level: more noise hides whether a limit's corner is round, as saturated iron makes it
	offsetShare  = 0.15  // of the final current: less before the ramp is the clamp's offset, more is current
)

// A ramp is the part of a recording between turn-on and what ends it.
type ramp struct {
	t, y       []float64 // from the first sample of the rise on; t from the ramp's first sample
	zero       float64   // the time that t counts from
	base       float64   // the current before
	before     int       // samples that base rests on
	first      int       // of them, in the recording
	quiet      float64   // standard deviation of these, of ten or more; else sigma
	sigma      float64   // of a sample
	step       float64
	rise       float64 // roughly, from base to the highest
	start, end int     // samples of the recording: the last before the rise, the last of the ramp
}

// turnOn finds the first turn-on ramp.
func (r samples) turnOn(f *Finding, cycles []swing) (p ramp, why Reason) {
	amplitude := f.Max - f.Min
	if amplitude <= 12*f.Noise {
		return p, NoRamp
	}
	list := r.swings(0.5 * amplitude)
	if len(cycles) > 0 && (len(list) == 0 || len(list) >= len(cycles)) {
		list = cycles
	}
	if len(list) == 0 {
		list = r.swings(leastRise * amplitude)
	}
	if len(list) == 0 {
		return p, NoRamp
	}
	if p = r.rampOf(f, list[0], cycles); p.before < fewestBefore && len(list) > 1 { // it may have begun before the recording
		if q := r.rampOf(f, list[1], cycles); q.before >= fewestBefore {
			p = q
		}
	}
	if len(p.t) < fewest {
		return p, TooCoarse
	}
	return p, NoReason
}

// rampOf cuts the ramp of a swing out of the recording.
func (r samples) rampOf(f *Finding, s swing, cycles []swing) ramp {
	y := r.I
	rise := y[s.high] - y[s.low]
	cut := y[s.low] + max(9*f.Noise+f.Step, 0.03*rise)
	start := s.high
	for start > s.low && y[start] > y[s.low]+rise/2 {
		start--
	}
	for start > s.low && y[start] > cut {
		start--
	}
	// The end: before the fall by half, or before the first pulse of a drive that goes on in pulses.
	end, top := len(y)-1, y[s.high]
	for k := s.high; k < len(y); k++ {
		if top = max(top, y[k]); y[k] < top-0.5*rise {
			for end = k; end > s.high && y[end] < top-max(6*f.Noise+f.Step, 0.04*rise); end-- {
			}
			end = max(start, end-2)
			break
		}
	}
	for _, c := range cycles {
		if c.low > start && r.T[c.low] > s.pass && c.low < end {
			for end = c.low; end > start+1 && y[end-1] > y[end]-2*f.Noise; end-- {
			}
			break
		}
	}
	first := start
	for first > 0 && y[first-1] <= cut+3*f.Noise+0.05*rise {
		first--
	}
	p := ramp{sigma: f.Noise, step: f.Step, rise: rise, start: start, end: end}
	p.rest(r, first, start-(start-first)/5)
	p.t, p.y, p.zero = make([]float64, 0, end-start), y[start+1:max(end+1, start+1)], r.T[min(start+1, len(y)-1)]
	for _, t := range r.T[start+1 : max(end+1, start+1)] {
		p.t = append(p.t, t-p.zero)
	}
	return p
}

// rest takes the current before the ramp from a stretch of samples, without the tail of a pulse before.
func (p *ramp) rest(r samples, first, last int) {
	mean := func(from, to int) float64 {
		sum := 0.0
		for k := from; k < to; k++ {
			sum += r.I[k]
		}
		return sum / float64(to-from)
	}
	for n := last - first; n >= 4*fewestBefore; n = last - first {
		half := (first + last) / 2
		if mean(first, half)-mean(half, last) < 3*p.sigma*math.Sqrt(4/float64(n)) {
			break
		}
		first = half
	}
	if p.first, p.before = first, max(0, last-first); p.before > 0 {
		p.base = mean(first, last)
	}
	if p.quiet = p.sigma; p.before >= 2*fewestZero {
		square := 0.0
		for _, i := range r.I[first:last] {
			square += (i - p.base) * (i - p.base)
		}
		p.quiet = math.Sqrt(square / float64(p.before-1))
	}
}

// offset is the clamp's zero error, as the current before a switch-on shows it; 0: none above noise, or it may be current.
func (p *ramp) offset(f *Finding) float64 {
	n := p.before
	if n < fewestZero || math.Abs(p.base) < 4*max(p.sigma/math.Sqrt(float64(n)), p.step/math.Sqrt(12)) {
		return 0
	}
	if p.base > 0 && (f.Periods > 0 || p.base > mostOffset*(f.Max-p.base)) {
		return 0
	}
	if p.before >= 2*fewestZero && p.quiet > 1.5*p.sigma {
		return 0 // not steady
	}
	return p.base
}

// begins is where the line through the first samples of the rise leaves the current before it.
func (p *ramp) begins(r samples) float64 {
	var n, st, sy, stt, sty float64
	for k, t := range p.t {
		if n >= 3 && p.y[k] > p.base+0.3*p.rise {
			break
		}
		y := p.y[k] - p.base
		n, st, sy, stt, sty = n+1, st+t, sy+y, stt+t*t, sty+t*y
	}
	t := 0.0
	if d := n*stt - st*st; d > 0 {
		if slope := (n*sty - st*sy) / d; slope > 0 {
			t = (st - sy/slope) / n
		}
	}
	return p.zero + min(0, max(t, -3*r.Interval))
}

// limited says whether a driver that limits its current ends a ramp: an exponential that heads for more than 5/4 of the level
// and then, at a corner, the level. Saturated iron rounds the corner and is told so, where noise allows.
func (p *ramp) limited() bool {
	n := len(p.t)
	if n < 4*fewest {
		return false
	}
	mean := func(from, to int) (m float64) {
		for _, y := range p.y[from:to] {
			m += y / float64(to-from)
		}
		return m
	}
	level := mean(n/2, n)
	if math.Abs(mean(n/2, 3*n/4)-mean(3*n/4, n)) > 0.01*(level-p.base)+5*p.sigma/math.Sqrt(float64(n)/4) {
		return false
	}
	sigma := min(p.sigma, max(p.quiet, p.step/math.Sqrt(12))) // a drive that keeps switching is no noise
	early := 0
	for early < n/2 && p.y[early] < p.base+0.95*(level-p.base)-2*sigma {
		early++
	}
	if early < fewestEarly {
		return false
	}
	sub := *p
	sub.t, sub.y = p.t[:early], p.y[:early]
	// left is what a fit of the early part and the level leave about the corner, of a final current that is given or free.
	if sigma > roundCorner*(level-p.base) {
		return false
	}
	variance := sigma*sigma + math.Pow(0.002*(level-p.base), 2)
	corner := min(n, early+max(3, early/2))
	ripple := 0.0
	for _, y := range p.y[n/2:] {
		ripple += (y - level) * (y - level) / float64(n-n/2)
	}
	left := func(share float64) (rss, final float64, ok bool) {
		m := model{parts: []part{sub.blocksOf(0, early)}}
		if share > 0 {
			m.fixed, m.final = true, p.base+share*(level-p.base)
			q := &m.parts[0]
			q.drop, q.tau = m.final-q.y[0], (q.t[len(q.t)-1]-q.t[0])*share
		} else if !m.guess() {
			return 0, 0, false
		}
		if !m.fit() {
			return 0, 0, false
		}
		q := m.parts[0]
		for k, t := range p.t[:corner] {
			i := m.final - q.drop*math.Exp(-(t-q.from)/q.tau)
			d := p.y[k] - min(level, i)
			if k < early {
				rss += d * d / variance
			} else {
				rss += d * d / max(variance, 3*ripple)
			}
		}
		return rss, m.final, true
	}
	best, final, ok := left(0)
	if high, f, good := left(20); good && (!ok || high < best) {
		best, final, ok = high, f, true
	}
	near, _, good := left(1.25)
	plain, _, whole := left(1.001)
	return ok && good && whole && final-p.base > 1.25*(level-p.base) && best < float64(corner)+3*math.Sqrt(2*float64(corner)) && near-best > 9 && plain-best > 40
}

// A part is a stretch of a ramp in blocks of samples, with an exponential of its own: i = final − drop·exp(−(t−from)/tau).
type part struct {
	t, y      []float64
	from      float64
	drop, tau float64
}

// blocksOf averages samples by blocks, so that about so many are left of the whole ramp.
func (p *ramp) blocksOf(from, to int) part {
	size := p.size()
	q := part{}
	n := max(0, to-from) / size
	if n == 0 {
		return q
	}
	q.t, q.y = make([]float64, n), make([]float64, n)
	for b := range n {
		for k := from + b*size; k < from+(b+1)*size; k++ {
			q.t[b] += p.t[k]
			q.y[b] += p.y[k]
		}
		q.t[b] /= float64(size)
		q.y[b] /= float64(size)
	}
	q.from = q.t[0]
	return q
}

func (p *ramp) size() int { return 1 + len(p.t)/blocks }

// noise is the standard deviation of a block's mean, as of independent samples; and what the recorder's step may leave in the
// mean of many alike, where noise is too small to average it.
func (p *ramp) noise() (deviation, stuck float64) {
	if p.step > 0 {
		stuck = 0.35 * p.step * max(0, 1-2*p.sigma/p.step)
	}
	return max(p.sigma/math.Sqrt(float64(p.size())), 2e-4*p.rise), stuck
}

// A model is one or two parts that aim at the same final current, with the uncertainty of each figure.
type model struct {
	final  float64
	parts  []part
	fixed  bool // final is given
	rss    float64
	n      int
	u      [5]float64 // of final, drop and tau of each part
	wander float64    // of the running sum of residuals, in those of noise
}

// guess starts the parts: for each of some time constants final and drop by straight least squares.
func (m *model) guess() bool {
	q := &m.parts[len(m.parts)-1]
	span := q.t[len(q.t)-1] - q.from
	best := math.Inf(1)
	for k := range 14 {
		tau := span * math.Pow(2, 1.5-0.5*float64(k))
		var n, sx, sy, sxx, sxy, syy float64
		for j, t := range q.t {
			x, y := math.Exp(-(t-q.from)/tau), q.y[j]
			n, sx, sy, sxx, sxy, syy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y, syy+y*y
		}
		d := n*sxx - sx*sx
		if d <= 0 {
			continue
		}
		slope := (n*sxy - sx*sy) / d
		rss := syy - slope*sxy - (sy-slope*sx)/n*sy
		if slope < 0 && rss < best {
			best = rss
			m.final, q.drop, q.tau = (sy-slope*sx)/n, -slope, tau
		}
	}
	return !math.IsInf(best, 1)
}

// fit takes the model to the least sum of squares by Gauss and Newton with Levenberg's damping, time constants as logarithms.
func (m *model) fit() bool {
	k := 1 + 2*len(m.parts)
	m.n = 0
	for _, q := range m.parts {
		m.n += len(q.t)
	}
	if m.n <= k {
		return false
	}
	damping := 1e-3
	var h [5][5]float64
	var g [5]float64
	m.rss = m.sum(&h, &g)
	for range 40 {
		d, ok := solve(h, g, k, damping, m.fixed)
		if !ok {
			return false
		}
		next := *m
		next.parts = make([]part, len(m.parts))
		next.final += d[0]
		for j, q := range m.parts {
			q.drop += d[1+2*j]
			q.tau *= math.Exp(max(-1, min(1, d[2+2*j])))
			next.parts[j] = q
		}
		var nh [5][5]float64
		var ng [5]float64
		next.rss = next.sum(&nh, &ng)
		if !(next.rss < m.rss) {
			if damping *= 8; damping > 1e9 {
				break
			}
			continue
		}
		done := m.rss-next.rss < 1e-9*m.rss
		m.final, m.parts, m.rss, h, g = next.final, next.parts, next.rss, nh, ng
		if damping = max(damping/8, 1e-9); done {
			break
		}
	}
	for _, q := range m.parts {
		if !(q.drop > 0) || !(q.tau > 0) || math.IsInf(q.tau, 0) {
			return false
		}
	}
	return m.uncertain(h, k)
}

// sum is the sum of squares, and the normal equations.
func (m *model) sum(h *[5][5]float64, g *[5]float64) (rss float64) {
	for j, q := range m.parts {
		a, b := 1+2*j, 2+2*j
		for k, t := range q.t {
			x := math.Exp(-(t - q.from) / q.tau)
			res := q.y[k] - m.final + q.drop*x
			rss += res * res
			da, db := -x, -q.drop*x*(t-q.from)/q.tau
			h[0][0]++
			h[0][a] += da
			h[0][b] += db
			h[a][a] += da * da
			h[a][b] += da * db
			h[b][b] += db * db
			g[0] += res
			g[a] += da * res
			g[b] += db * res
		}
	}
	for i := range h {
		for j := range i {
			h[i][j] = h[j][i]
		}
	}
	return rss
}

// solve solves the damped normal equations by elimination.
func solve(h [5][5]float64, g [5]float64, k int, damping float64, fixed bool) (d [5]float64, ok bool) {
	first := 0
	if fixed {
		first = 1
	}
	for i := first; i < k; i++ {
		h[i][i] *= 1 + damping
	}
	for i := first; i < k; i++ {
		if !(h[i][i] > 1e-300) {
			return d, false
		}
		for j := i + 1; j < k; j++ {
			u := h[j][i] / h[i][i]
			for c := i; c < k; c++ {
				h[j][c] -= u * h[i][c]
			}
			g[j] -= u * g[i]
		}
	}
	for i := k - 1; i >= first; i-- {
		v := g[i]
		for c := i + 1; c < k; c++ {
			v -= h[i][c] * d[c]
		}
		d[i] = v / h[i][i]
		if math.IsNaN(d[i]) || math.IsInf(d[i], 0) {
			return d, false
		}
	}
	return d, true
}

// uncertain takes the standard uncertainties from the curvature and the residuals, enlarged by how long residuals stay alike.
func (m *model) uncertain(h [5][5]float64, k int) bool {
	variance := m.rss / float64(m.n-k) * m.alike()
	first := 0
	if m.fixed {
		first = 1
	}
	for i := first; i < k; i++ {
		var e [5]float64
		e[i] = 1
		d, ok := solve(h, e, k, 0, m.fixed)
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

func (m *model) residuals(j int, do func(res float64)) {
	q := m.parts[j]
	for k, t := range q.t {
		do(q.y[k] - m.final + q.drop*math.Exp(-(t-q.from)/q.tau))
	}
}

// misfit is the rms of what a single part leaves within three time constants, and after.
func (m *model) misfit() (rise, flat float64) {
	q, k := m.parts[0], 0
	var squares, counts [2]float64
	m.residuals(0, func(res float64) {
		late := 0
		if q.t[k]-q.from > strayFrom*q.tau {
			late = 1
		}
		squares[late], counts[late] = squares[late]+res*res, counts[late]+1
		k++
	})
	return math.Sqrt(squares[0] / max(1, counts[0])), math.Sqrt(squares[1] / max(1, counts[1]))
}

// alike is the sum of autocorrelations, 1 for independent residuals.
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

// check is the largest running sum of residuals of the parts, beyond what steps explain, in standard deviations of that of noise.
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

// fitRamp fits a ramp, around a motion that ends at a sample if there is one; from and to are then what is left out.
func (p *ramp) fitRamp(d dip) (m model, from, to float64, ok bool) {
	if d.found {
		return p.fitAround(d)
	}
	m = model{parts: []part{p.blocksOf(0, len(p.t))}}
	if len(m.parts[0].t) < fewest || !m.guess() || !m.fit() {
		return m, 0, 0, false
	}
	// One exponential does not do, and there is a bend that may be noise: a motion that cannot be told from it.
	if m.check(p.noise()) > 1.4*wander && d.z > suspect {
		d.top = d.at
		if two, from, to, ok := p.fitAround(d); ok && len(two.parts) == 2 && two.wander < 0.6*m.wander {
			return two, from, to, true
		}
	}
	return m, 0, 0, true
}

func (p *ramp) fitAround(d dip) (m model, from, to float64, ok bool) {
	// Seated: from as soon after the arrival as it is an exponential, behind any rebound.
	var seated model
	n, settled, least := len(p.t), 0, math.Inf(1)
	for _, share := range [...]float64{0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5} {
		from := d.at + 1 + int(share*float64(n-d.at))
		q := model{parts: []part{p.blocksOf(from, n)}}
		if len(q.parts[0].t) < fewest {
			break
		}
		if least < math.Inf(1) {
			q.final, q.parts[0].tau = seated.final, seated.parts[0].tau
			q.parts[0].drop = max(q.final-q.parts[0].y[0], 1e-3*p.rise)
		} else if !q.guess() {
			continue
		}
		if !q.fit() {
			continue
		}
		if w := q.check(p.noise()); w < least {
			seated, settled, least = q, from, w
		}
		if least < wander {
			break
		}
	}
	if settled == 0 {
		return m, 0, 0, false
	}
	// At rest: until the motion is noticed, and a little less.
	var rest model
	last := 0
	for _, share := range [...]float64{1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2} {
		until := int(share * float64(d.top))
		q := model{final: seated.final, fixed: true, parts: []part{p.blocksOf(0, until)}}
		if len(q.parts[0].t) < 4 {
			break
		}
		b := &q.parts[0]
		b.drop = q.final - b.y[0]
		b.tau = b.t[len(b.t)-1] - b.t[0]
		if end := q.final - b.y[len(b.y)-1]; end > 0 && b.drop > end {
			b.tau /= math.Log(b.drop / end)
		}
		if b.drop > 0 && q.fit() && q.check(p.noise()) < 0.8*wander {
			rest, last = q, int(0.9*float64(until))
			break
		}
	}
	seated.check(p.noise())
	if last > 0 {
		m = model{final: seated.final, parts: []part{p.blocksOf(0, last), seated.parts[0]}}
		m.parts[0].drop, m.parts[0].tau = rest.parts[0].drop, rest.parts[0].tau
		if len(m.parts[0].t) >= 4 && m.fit() {
			m.check(p.noise())
			return m, p.t[last], p.t[settled], true
		}
	}
	return seated, p.t[d.top], p.t[settled], true
}

// start is when the first part was at a current.
func (m *model) start(current float64) float64 {
	q := m.parts[0]
	if u := (m.final - current) / q.drop; u > 0 {
		return q.from - q.tau*math.Log(u)
	}
	return q.from
}
