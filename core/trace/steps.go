package trace

import "math"

const (
	sudden       = 0.05 // of the rise, beyond what the winding allows: a step
	stray        = 0.08 // of the rise, off the fit: a step
	strayFrom    = 3    // time constants
	quick        = 2    // rises within a time constant that motion and winding allow
	listed       = 24   // steps that are listed
	brief        = 0.5  // of the time on before it: a break that is no pulse of the drive
	smallestStep = 0.03 // of the level: a step of a current that has settled
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
		before, back := p.y[k-wide], false
		for j := k; j < n; j++ {
			back = back || math.Abs(p.y[j]-before) < limit
		}
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

// addBreak lists a break that is above noise, unless it is listed already.
func (f *Finding) addBreak(r samples, from, to int, s Sudden) {
	for _, l := range f.Steps {
		if s.At <= l.Until+r.Interval && s.Until >= l.At-r.Interval {
			return
		}
	}
	size := min(to-from, from)
	if size < 2 {
		return
	}
	var inside, before float64
	for k := range size {
		inside += r.I[from+k] / float64(size)
		before += r.I[from-1-k] / float64(size)
	}
	if fall := before - inside; fall > outstanding(len(r.I))*f.Noise*math.Sqrt(2/float64(size)) && fall > smallestStep*math.Abs(before) {
		f.add(s, 0)
	}
}
