package trace

import (
	"math"

	"ohmwright/core/squares"
)

const (
	certain     = 6    // standard deviations from which a bend is not noise
	dipReached  = 0.98 // of the final current, four time constants: a plunger that has not moved until then may move later
	smallestDip = 0.05 // of the final current: if smaller dips can hide, the recording cannot show that there is none

	// A bend of a few steps of the recorder may come from the steps alone. It may be larger if there is no noise to average them: a
	// current between two steps is then recorded as one of them for a long time.
	stepsBend  = 1.25
	stuckBends = 1 // more

	// A plunger moves while the current rises; what bends the current before and after that is hum: from the mains, a generator, other
	// drives. A bend of the rise that hum of this many times its size could make is no plunger's.
	humBends  = 1.6
	lateBends = 3     // the same, once the current has come near its level: hum is all that bends it there as a rule
	near      = 0.97  // of the level
	humDepth  = 2     // of its size: so far below the level the current still rises
	risen     = 0.985 // of the level: the current no longer rises, hum or not
	toe       = 0.1   // of the level: less is the beginning of the rise
)

// A dip is the bend of a ramp at the end of a motion. Its fields count samples of the ramp.
type dip struct {
	found, falls bool
	sags         bool    // not found, as the current falls and stays low
	rippled      bool    // not found, as hum before or after the rise bends the current as much
	at, top      int     // the arrival, and the highest before it, or where the motion can have begun at the latest
	t, value     float64 // of the arrival
	depth        float64
	z            float64 // the bend in standard deviations
	scale        int     // samples of each of the three stretches that show the bend best
}

// means are running sums of the times and currents of a ramp, for means over stretches.
type means []struct{ t, y float64 }

func meansOf(t, y []float64) means {
	m := make(means, len(t)+1)
	for k := range t {
		m[k+1].t, m[k+1].y = m[k].t+t[k], m[k].y+y[k]
	}
	return m
}

// current returns the mean current of a stretch.
func (m means) current(from, size int) float64 { return (m[from+size].y - m[from].y) / float64(size) }

// bend returns how far the middle of three stretches is below the line between the others, and the standard deviation of that, as
// a multiple of the standard deviation of a stretch's mean.
func (m means) bend(from, size int) (bend, spread float64) {
	a, b, c, d, n := m[from], m[from+size], m[from+2*size], m[from+3*size], float64(size)
	t0, y0 := (b.t-a.t)/n, (b.y-a.y)/n
	t1, y1 := (c.t-b.t)/n, (c.y-b.y)/n
	t2, y2 := (d.t-c.t)/n, (d.y-c.y)/n
	u := (t1 - t0) / (t2 - t0)
	return y0*(1-u) + y2*u - y1, math.Sqrt((1-u)*(1-u) + u*u + 1)
}

// dip finds the sharpest upward bend of a ramp. An exponential has none; the end of a motion is one, as the current then rises
// again at once.
func (p *ramp) dip() (d dip) {
	m := meansOf(p.t, p.y)
	w := p.rising(m)
	if d = p.sharpest(m, w, false); !d.found {
		if late := p.sharpest(m, w, true); late.found || late.z > d.z && !d.rippled {
			d = late
		}
	}
	if !d.found {
		d.sags = p.sags(m)
		return d
	}
	p.refine(&d)
	p.depth(&d, m)
	if !d.falls {
		p.deepest(&d, m, w.near)
	}
	if d.falls && !p.again(&d, m) {
		d.found, d.sags = false, true
	}
	return d
}

// sharpest finds the sharpest bend of a stretch of the rise: by so many standard deviations it is larger than what a hum of so many
// times the one before and after the rise makes.
func (p *ramp) sharpest(m means, w rising, late bool) (d dip) {
	n := len(p.t)
	from, until, bends := w.from, w.near, humBends
	if late {
		from, until, bends = w.near, w.until, lateBends
	}
	least, hum := p.feigned(), 0.0
	for size := max(2, n/1500); 3*size <= n; size += max(1, size/3) {
		s := p.sigma / math.Sqrt(float64(size))
		if h, ok := p.hum(m[w.until:], size); ok {
			hum = h
		} else if late {
			break
		}
		for k := from; k+3*size <= n && k+size+size/2 < until; k += max(1, size/5) {
			b, spread := m.bend(k, size)
			if z := (b - bends*hum) / (s * spread); z > d.z && 2*b > least && m.current(k+size+size/4, size-size/2) < w.below-4*s {
				d.z, d.at, d.scale = z, k+size+size/2, size
			}
			d.rippled = d.rippled || b > certain*s*spread
		}
	}
	d.found = d.z > certain
	d.rippled = d.rippled && !d.found
	return d
}

// A rising is where a ramp still rises: from its toe, which may be mistaken for a bend, until it is at its level but for what hum takes
// from that.
type rising struct {
	from, near, until int     // samples; near: it has come near its level for the first time
	below             float64 // the current
}

func (p *ramp) rising(m means) (w rising) {
	n := len(p.t)
	size, tau := 1, p.tau()
	for size < n/8 && p.t[size] < tau/8 {
		size++
	}
	level := m.current(n-n/4, n/4)
	hum := math.Sqrt2 * max(p.rests.deviation(), m[n-n/4:].deviation())
	w.below = level - max((1-risen)*(level-p.base), humDepth*hum)
	w.until = n
	for k := n - size; k > 0 && m.current(k, size) >= w.below; k-- {
		w.until = k
	}
	for w.near+size < n && m.current(w.near, size) < p.base+near*(level-p.base) {
		if w.near++; m.current(w.near, size) < p.base+toe*(level-p.base) {
			w.from = w.near + size/2
		}
	}
	return w
}

// deviation returns the standard deviation of the samples, in sixteenths of the stretch: what is left of noise hardly counts.
func (m means) deviation() float64 {
	n := len(m) - 1
	size := max(1, n/16)
	if n < 4 {
		return 0
	}
	sum, parts, mean := 0.0, 0.0, m.current(0, n)
	for k := 0; k+size <= n; k += size {
		d := m.current(k, size) - mean
		sum, parts = sum+d*d, parts+1
	}
	return math.Sqrt(sum / parts)
}

// hum returns the bend, over three stretches of a size, that a hum makes as it is before the rise and after it: √2 of the root mean
// square, so that one event there, a rebound or a second motion, is not taken for a hum. It returns false if both are too short.
func (p *ramp) hum(after means, size int) (most float64, ok bool) {
	noise := 1.5 * p.sigma * p.sigma / float64(size)
	for _, quiet := range [2]means{p.rests, after} {
		sum, n := 0.0, 0.0
		for k := 0; k+3*size < len(quiet); k += max(1, size/3) {
			b, _ := quiet.bend(k, size)
			sum, n = sum+b*b-noise, n+1
		}
		if n > 0 { // noise makes fewer bends that are independent
			chance := noise * math.Sqrt(8*float64(size)/float64(len(quiet)))
			most, ok = max(most, math.Sqrt(2*max(0, sum/n-chance))), true
		}
	}
	return most, ok
}

// feigned returns the size of the largest bend that the recorder's steps alone can cause.
func (p *ramp) feigned() float64 {
	if p.step == 0 {
		return 0
	}
	return (stepsBend + stuckBends*max(0, min(1, 2-4*p.sigma/p.step))) * p.step
}

// again reports whether the current rises after a fall: it does once the plunger is at its stop, but not if the supply sags.
func (p *ramp) again(d *dip, m means) bool {
	size := max(2, d.scale/2)
	for k := d.at; k+size <= len(p.t); k += size {
		if y := m.current(k, size); y-d.value > max(d.depth/4, 4*p.sigma/math.Sqrt(float64(size))) {
			return true
		}
	}
	return false
}

// sags reports whether the current falls after its rise, by more than hum takes from it, and stays low: the supply, or a contact, gives
// way.
func (p *ramp) sags(m means) bool {
	n := len(p.t)
	size := max(1, n/50)
	highest, top, end := math.Inf(-1), math.Inf(-1), m[n-n/4:]
	for k := 0; k+size <= n; k += size { // the highest may be that of a lone sample that sticks out
		y := m.current(k, size)
		highest, top = max(highest, y), max(top, min(highest, y))
	}
	hum := 2*humDepth*max(end.deviation(), p.rests.deviation()) + outstanding(n)*p.sigma/math.Sqrt(float64(size))
	return top-end.current(0, n/4) > max((1-risen)*p.rise, hum)
}

// deepest replaces a bend without a fall by the deepest fall of the rise, to a sample: the sharpest bend may be that of a rebound.
func (p *ramp) deepest(d *dip, m means, until int) {
	n, size := len(p.t), max(2, d.scale/2)
	top, most := math.Inf(-1), 0.0
	peak, from, at := 0, 0, 0
	for k := 0; k+size <= n && k < until; k++ {
		y := m.current(k, size)
		if y > top {
			top, peak = y, k+size/2
		}
		if fall := top - y; fall > most {
			most, from, at = fall, peak, k+size/2
		}
	}
	if most < max(smallestStep*p.rise, outstanding(n)*p.sigma*math.Sqrt(2/float64(size))+2*p.step) || n-at < 4*size {
		return
	}
	fall := *d
	fall.at, fall.scale = at, max(4, min(d.scale, (at-from)*3/5)) // so that the parabolas stay behind the highest
	p.refine(&fall)
	p.depth(&fall, m)
	if fall.falls {
		*d = fall
	}
}

// A meeting is where two parabolas meet, and the sum of squares that they leave.
type meeting struct{ t, value, rss float64 }

// refine finds the bend between samples: where two parabolas through the samples around it meet, by least squares. The stretch of
// samples is shortened until the parabolas fit it.
func (p *ramp) refine(d *dip) {
	d.t, d.value = p.t[d.at], p.y[d.at]
	widest := max(6, d.scale*5/4)
	narrowest := max(6, int(float64(widest)*math.Cbrt(4*certain*certain/(d.z*d.z))))
	for half := widest; ; half = half * 7 / 10 {
		last := half*7/10 < narrowest
		from, to := max(0, d.at-half), min(len(p.t), d.at+half+1)
		if to-from < 9 {
			return
		}
		best := p.bestMeeting(from, to, max(1, half/12), meeting{d.t, d.value, math.Inf(1)}, p.y[d.at])
		d.t, d.value = best.t, best.value
		for d.at > from && p.t[d.at] > d.t {
			d.at--
		}
		for d.at+1 < to && p.t[d.at+1] <= d.t {
			d.at++
		}
		n := float64(to - from - 6)
		if last || best.rss < n*p.sigma*p.sigma*(1+0.7*math.Sqrt(2/n)) {
			return
		}
	}
}

// bestMeeting tries samples, then times between them, and returns the best. zero is a current close to the others.
func (p *ramp) bestMeeting(from, to, stride int, best meeting, zero float64) meeting {
	try := func(t float64) {
		if m, ok := p.meet(from, to, t, zero); ok && m.rss < best.rss {
			best = m
		}
	}
	for k := from + 3; k <= to-4; k += stride {
		try(p.t[k])
	}
	step := float64(stride) * (p.t[to-1] - p.t[from]) / float64(to-1-from)
	for range 4 {
		t := best.t
		step /= 2
		try(t - step)
		try(t + step)
	}
	return best
}

// meet fits two parabolas that meet at time t to a stretch.
func (p *ramp) meet(from, to int, t, zero float64) (meeting, bool) {
	var e squares.Normal
	scale := p.t[to-1] - p.t[from]
	rss := 0.0
	for k := from; k < to; k++ {
		x, y := (p.t[k]-t)/scale, p.y[k]-zero
		a, b := min(x, 0), max(x, 0)
		row := [5]float64{1, a, a * a, b, b * b}
		for i := range row {
			for j := range i + 1 {
				e.H[i][j] += row[i] * row[j]
			}
			e.G[i] += row[i] * y
		}
		rss += y * y
	}
	e.Mirror()
	b, ok := e.Solve(0, 5, 1e-12)
	for i := range b {
		rss -= b[i] * e.G[i]
	}
	return meeting{t, zero + b[0], rss}, ok
}

// depth finds how far the current falls to the bend.
func (p *ramp) depth(d *dip, m means) {
	size := max(1, min(d.scale/2, d.at/4))
	top := math.Inf(-1)
	for k := 0; k+size <= d.at; k++ {
		if y := m.current(k, size); y > top {
			top, d.top = y, k+size/2
		}
	}
	d.depth = top - d.value
	d.falls = d.depth > 4*p.sigma*math.Sqrt(2/float64(size))
	if !d.falls {
		d.top, d.depth = d.at, 0
	}
}

// judge says what a ramp shows about a moving plunger.
func (p *ramp) judge(d dip, fit *Fit, m *fitted) Dip {
	// The smallest dip that would be seen: a fall that lasts two fifths of the time constant, in three stretches.
	tau := m.parts[0].tau
	interval := p.last() / float64(len(p.t)-1)
	size := 0.27 * min(tau, p.last()/2) / interval
	means := meansOf(p.t, p.y)
	hum, _ := p.hum(means[p.rising(means).until:], max(1, int(size)))
	v := Dip{Smallest: max(certain*math.Sqrt(6)*p.sigma/math.Sqrt(max(1, size))+2*humBends*hum, p.feigned())}
	gap := 0.0
	for k := 1; k < len(p.t) && p.t[k] < 4*tau; k++ {
		gap = max(gap, p.t[k]-p.t[k-1])
	}
	switch {
	case d.found:
		v.Found = Kink
		if d.falls {
			v.Found = Yes
		}
		v.At, v.Current, v.Depth = p.zero+d.t, d.value, d.depth
		v.Since = v.At - fit.Start
	case d.rippled:
		v.Why = TooNoisy
	case size < 2 || gap > 0.3*tau:
		v.Why = TooCoarse
	case fit.Reached < dipReached:
		v.Why = TooShort
	case v.Smallest > smallestDip*fit.Final:
		v.Why = TooNoisy
	case m.moves() || m.wander > 3*wander:
		v.Why = OtherShape
	default:
		v.Found = No
	}
	return v
}
