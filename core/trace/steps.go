package trace

import (
	"math"
	"slices"
)

const (
	sudden       = 0.05 // of the rise, beyond what the winding allows: a step
	stray        = 0.08 // of the rise, off the fit: a step
	strayFrom    = 3    // time constants
	quick        = 2    // rises within a time constant that motion and winding allow
	listed       = 24   // steps that are listed
	brief        = 0.5  // of the time on before it: a break that is no pulse of the drive
	smallestStep = 0.03 // of the level: a step of a current that has settled
	lastsFor     = 3    // time constants that a level must last to be one to which the current has fallen
	lastsWithin  = 0.25 // of the fall to it: so even must it be
	lostShare    = 0.1  // of the fall, or of the level: less is near
)

// add lists a step, or extends the last one if it goes on.
func (f *Finding) add(s Sudden, join float64) {
	if n := len(f.Steps); n > 0 && s.At <= f.Steps[n-1].Until+join {
		l := &f.Steps[n-1]
		if l.Until = max(l.Until, s.Until); math.Abs(s.Change) > math.Abs(l.Change) {
			l.Change = s.Change
		}
		l.Recovers = s.Recovers
		return
	}
	if len(f.Steps) < listed {
		f.Steps = append(f.Steps, s)
	}
}

// listed reports whether a step is part of one that is listed.
func (f *Finding) listed(s Sudden, join float64) bool {
	return slices.ContainsFunc(f.Steps, func(l Sudden) bool { return s.At <= l.Until+join && s.Until >= l.At-join })
}

// cut lists the changes that are quicker than winding and motion allow, and ends the ramp before the first.
func (f *Finding) cut(r samples, p *ramp) {
	n := len(p.t)
	tau := max(p.tau(), 2*r.Interval)
	wide := max(1, int(tau/40/r.Interval))
	limit := max(8*p.sigma+2*p.step, sudden*p.rise)
	end := n
	for k := wide + 1; k < n-1; k++ {
		change := p.y[k] - p.y[k-wide]
		allowed := limit + quick*p.rise*(p.t[k]-p.t[k-wide])/tau
		if change > 0 {
			allowed += p.rise * (p.t[k] - p.t[k-wide]) / tau
		}
		if math.Abs(change) < allowed || math.Abs(p.y[k+1]-p.y[k-wide]) < allowed { // a single sample is no step
			continue
		}
		before := p.y[k-wide]
		back := slices.ContainsFunc(p.y[k:], func(i float64) bool { return math.Abs(i-before) < limit })
		f.add(Sudden{p.zero + p.t[k-wide], p.zero + p.t[k], change, back}, 2*float64(wide)*r.Interval)
		end = min(end, k-wide-1)
	}
	p.shorten(end)
}

// strays lists where a ramp leaves its fit after the plunger has arrived.
func (f *Finding) strays(p *ramp, m *fitted) {
	q := &m.parts[len(m.parts)-1]
	noise, _ := p.noise()
	limit := max(certain*noise, stray*p.rise)
	all := p.part(0, len(p.t))
	for k, t := range all.t {
		if t < m.to || t < q.from+strayFrom*q.tau { // during the rise the fit is wrong, not the current
			continue
		}
		res := all.y[k] - m.final + q.missing(t)
		if math.Abs(res) > limit && k > 0 {
			f.add(Sudden{p.zero + all.t[k-1], p.zero + t, res, k+1 < len(all.t)}, 2*(t-all.t[k-1]))
		}
	}
}

// breaks lists where a single shot is interrupted for a short time.
func (f *Finding) breaks(r samples) {
	amplitude := f.Max - f.Min
	list := r.swings(leastRise * amplitude)
	for k := 1; k < len(list); k++ {
		before, after := list[k-1], list[k]
		low := r.I[after.low]
		off := before.high
		for level := (r.I[before.high] + low) / 2; off < after.low && r.I[off] > level; {
			off++
		}
		again := after.high
		for again > after.low && r.I[again] > low+0.03*amplitude+9*f.Noise {
			again--
		}
		if low < f.Min+leastRise*amplitude && r.T[again]-r.T[off] < brief*(r.T[off]-before.pass) {
			f.addBreak(r, off, again, Sudden{r.T[off], r.T[again], low - r.I[before.high], true})
		}
	}
}

// lost lists the fall to a level that lasts, and ends the ramp before it. A switch-off goes to nothing, a plunger lets the current come
// back; a slow droop is left to the fit, as is one before the rise has ended. It is sure of no level within a recorder's doubt.
func (f *Finding) lost(r samples, p *ramp) {
	tau, n, all := int(p.tau()/r.Interval), len(r.I), sumsOf(r.I)
	size := max(2, tau/2)             // of a mean
	quarter := max(2, lastsFor*tau/4) // of a stretch that must be level
	doubt := 4*f.Noise/math.Sqrt(float64(quarter)) + f.Step/2
	high, from := math.Inf(-1), p.start+1 // the level before, and where the current was last near it
	for at := from; at+4*quarter <= n; at++ {
		now, level := all.mean(at, size), all.mean(at, 4*quarter)
		fall := high - level
		switch {
		case high > p.alive(f, high) && now < p.alive(f, high): // switched off
			return
		case now > high:
			high = now
			fallthrough
		case now > high-lostShare*fall:
			from = at + size
			continue
		}
		most := min(lostShare*(level-p.base), lastsWithin*fall) - doubt
		even := fall > smallestStep*(high-p.base)+doubt
		for q := range 4 {
			even = even && math.Abs(all.mean(at+q*quarter, quarter)-level) < most
		}
		if !even {
			continue
		}
		if at-from <= lastsFor*tau && !f.listed(Sudden{At: r.T[from], Until: r.T[at]}, r.Interval) {
			for begin := from; from > begin-size && r.I[from-1] < high-lostShare*fall-3*f.Noise; {
				from--
			}
			f.add(Sudden{r.T[from], r.T[at], all.mean(at+3*quarter, quarter) - high, all.mean(n-size, size) > high-lostShare*fall}, 0)
			p.shorten(from - 2 - p.start)
		}
		return
	}
}

// addBreak lists a break that is above noise, unless it is listed already.
func (f *Finding) addBreak(r samples, from, to int, s Sudden) {
	if f.listed(s, r.Interval) {
		return
	}
	size := min(to-from, from)
	if size < 2 {
		return
	}
	around := sumsOf(r.I[from-size : from+size])
	before, inside := around.mean(0, size), around.mean(size, size)
	if fall := before - inside; fall > outstanding(len(r.I))*f.Noise*math.Sqrt(2/float64(size)) && fall > smallestStep*math.Abs(before) {
		f.add(s, 0)
	}
}
