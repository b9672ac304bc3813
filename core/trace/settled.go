package trace

import "math"

const (
	settledFor    = 4    // time constants for which a current must stay within settledWithin to have settled
	settledWithin = 0.01 // of the level
	settledFrom   = 0.8  // of the maximum: a current that has settled at less may still be rising
)

// sums are running sums, for means over stretches.
type sums []float64

func sumsOf(list []float64) sums {
	s := make(sums, len(list)+1)
	for k, v := range list {
		s[k+1] = s[k] + v
	}
	return s
}

func (s sums) mean(from, size int) float64 { return (s[from+size] - s[from]) / float64(size) }

// A watch looks for disturbances of a current after its rise.
type watch struct {
	r           samples
	f           *Finding
	p           *ramp
	sums        sums
	from        int     // sample at which sums begins
	width, span int     // samples: of a mean that is compared, and for how long a settled current must not change
	deviation   float64 // standard deviation of a mean
	hum         float64 // ripple of the supply, including how much it may shift a mean
	level       float64
	fallen      int     // index in Finding.Steps of the step from which the current has not come back; -1: none
	origin      float64 // the level before that step
}

// A disturbance is a stretch in which the current leaves its level.
type disturbance struct {
	sign       float64 // 1 up, -1 down
	begin, end int     // samples
	most       float64 // how far it goes, in the direction of sign
	back       bool    // the current comes back to the level
	other      bool    // the current settles at another level
	next       float64 // that other level
	until      float64 // the time at which the current is back, or at the other level
	off        bool    // the current falls so low that it must have been switched off or interrupted
}

// unsettled lists disturbances of a current that has settled after its rise, until it is switched off. It ends the ramp
// before the first of them, because the dip of a plunger belongs to the rise.
func (f *Finding) unsettled(r samples, p *ramp, hum float64) {
	tau := max(p.tau(), r.Interval)
	w := watch{r: r, f: f, p: p, from: p.start + 1, hum: 0.6 * hum, fallen: -1}
	w.width = max(3, int(tau/4/r.Interval))
	w.span = max(4*w.width, int(settledFor*tau/r.Interval))
	w.deviation = f.Noise / math.Sqrt(float64(w.width))
	n := len(r.I)
	if n-w.from < w.span+w.width {
		return
	}
	w.sums = sumsOf(r.I[w.from:])
	at, ok := w.settle()
	if !ok {
		return
	}
	for j := at + w.span - w.width; j+w.width <= n; j++ {
		off, limit := w.mean(j, w.width)-w.level, w.limit()
		if math.Abs(off) < limit {
			w.level += off / float64(w.span)
			continue
		}
		d := w.follow(j, math.Copysign(1, off), limit)
		if d.sign < 0 || d.back || w.fallen >= 0 {
			p.shorten(d.begin - 2 - p.start)
		}
		if !w.list(d, limit) {
			return
		}
		j = d.end
	}
}

// mean returns the mean of so many samples.
func (w *watch) mean(at, size int) float64 { return w.sums.mean(at-w.from, size) }

// limit returns how far from the level a mean must be to count as a disturbance.
func (w *watch) limit() float64 {
	return max(smallestStep*(w.level-w.p.base), outstanding(len(w.r.I))*w.deviation) + w.hum + w.f.Step
}

// rests reports whether the current stays the same from a sample on, and returns its level.
func (w *watch) rests(at int) (level float64, ok bool) {
	if at+w.span > len(w.r.I) {
		return 0, false
	}
	level = w.mean(at, w.span)
	most := settledWithin*math.Abs(level-w.p.base) + 5*w.deviation + w.hum + 0.5*w.f.Step
	for j := at; j+w.width <= at+w.span; j += w.width {
		if math.Abs(w.mean(j, w.width)-level) > most {
			return 0, false
		}
	}
	return level, true
}

// settle returns the sample from which the current has settled.
func (w *watch) settle() (at int, ok bool) {
	for at = w.from; at+w.span <= len(w.r.I); at += w.width {
		if w.level, ok = w.rests(at); ok && w.level-w.p.base > settledFrom*(w.f.Max-w.p.base) {
			return at, true
		}
	}
	return at, false
}

// follow follows a disturbance to its end: the current is back, has settled at another level, or the recording ends.
func (w *watch) follow(at int, sign, limit float64) disturbance {
	r, n := w.r, len(w.r.I)
	d := disturbance{sign: sign, begin: at + w.width - 1, end: at}
	for d.begin > at-w.width && sign*(r.I[d.begin]-w.level) > min(limit, 3*w.f.Noise+w.f.Step+w.hum) {
		d.begin--
	}
	for ; d.end+w.width <= n; d.end++ {
		now := w.mean(d.end, w.width) - w.level
		if math.Abs(now) < 0.6*limit || now*sign < 0 {
			d.back = true
			break
		}
		if two := w.mean(d.end, 2) - w.level; two*sign > d.most {
			d.most = two * sign
		}
		if d.next, d.other = w.rests(d.end); d.other {
			if math.Abs(d.next-w.level) < 0.6*limit {
				d.back, d.other = true, false
			}
			break
		}
	}
	d.off = w.level-d.most < w.p.base+leastRise*(w.level-w.p.base) && sign < 0
	reached := d.end
	if d.other {
		for reached = d.begin; reached+1 < n && math.Abs(r.I[reached]-d.next) > min(limit, 4*w.f.Noise+w.f.Step+w.hum); {
			reached++
		}
		d.end += w.width
		d.most = max(d.most, sign*(d.next-w.level))
	}
	d.until = r.T[min(reached, n-1)]
	return d
}

// list lists a disturbance. It returns false if the current is switched off, so that there is nothing more to look at.
func (w *watch) list(d disturbance, limit float64) bool {
	r := w.r
	switch {
	case !d.back && !d.other: // the recording ends: it may be the switch-off
		return false
	case d.off && (!d.back || d.until-r.T[d.begin] >= brief*(r.T[d.begin]-w.p.zero)): // switched off
		return false
	case d.other && d.sign > 0 && w.fallen < 0: // the end of a slow motion, or a supply that rises
		w.level = d.next
		return true
	case d.other && w.fallen >= 0 && math.Abs(d.next-w.origin) < limit: // back from a lower level
		s := &w.f.Steps[w.fallen]
		s.Until, s.Recovers = d.until, true
		w.level, w.fallen = d.next, -1
		return true
	case d.other:
		w.level = d.next
	}
	w.f.add(Sudden{r.T[d.begin], d.until, d.sign * d.most, d.back}, 0)
	if d.other && w.fallen < 0 {
		w.origin, w.fallen = w.level+d.most, len(w.f.Steps)-1
	}
	return true
}
