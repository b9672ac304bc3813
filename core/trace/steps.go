package trace

import "math"

const (
	sudden     = 0.05 // of the rise, beyond what the winding allows: a step
	stray      = 0.08 // of the rise, off the fit: a step
	strayFrom  = 3    // time constants
	quick      = 2    // rises within a time constant that motion and winding allow
	listed     = 24   // steps that are listed
	brief      = 0.5  // of the time on before it: a break that is no pulse of the drive
	otherPulse = 0.1  // of the amplitude, that the mean of a pulse may be off

	clearPulse    = 30   // standard deviations from least to most: noise does not shift such a pulse by much
	settledFor    = 4    // time constants that a current stays within settledWithin: it has settled
	settledWithin = 0.01 // of the level
	settledFrom   = 0.8  // of the highest: a current that has settled below may be no end of a rise
	smallestStep  = 0.03 // of the level: a step of a current that has settled
)

// add lists a step, or lengthens the last if it goes on.
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

// cut ends the ramp before the first change that is quicker than winding and motion allow, and lists those.
func (f *Finding) cut(r samples, p *ramp) {
	n := len(p.t)
	k := 0
	for k < n-1 && p.y[k] < p.base+0.63*p.rise {
		k++
	}
	tau := max(p.t[k], 2*r.Interval)
	wide := max(1, int(tau/40/r.Interval))
	limit := max(8*p.sigma+2*p.step, sudden*p.rise)
	end := n
	for k := wide + 1; k < n-1; k++ {
		change := p.y[k] - p.y[k-wide]
		allowed := limit + quick*p.rise*(p.t[k]-p.t[k-wide])/tau
		if change > 0 {
			allowed += p.rise * (p.t[k] - p.t[k-wide]) / tau
		}
		if math.Abs(change) < allowed || math.Abs(p.y[k+1]-p.y[k-wide]) < allowed { // a lone sample is none
			continue
		}
		before, back := p.y[k-wide], false
		for j := k; j < n; j++ {
			back = back || math.Abs(p.y[j]-before) < limit
		}
		f.add(Sudden{p.zero + p.t[k-wide], p.zero + p.t[k], change, back}, 2*float64(wide)*r.Interval)
		end = min(end, k-wide-1)
	}
	if end < n {
		p.t, p.y = p.t[:max(end, 0)], p.y[:max(end, 0)]
	}
}

// strays lists where a ramp leaves its fit after the plunger has arrived.
func (f *Finding) strays(p *ramp, m *model, after float64) {
	q := m.parts[len(m.parts)-1]
	noise, _ := p.noise()
	limit := max(certain*noise, stray*p.rise)
	all := p.blocksOf(0, len(p.t))
	for k, t := range all.t {
		if t < after || t < q.from+strayFrom*q.tau { // within the rise it is the fit that is wrong
			continue
		}
		res := all.y[k] - m.final + q.drop*math.Exp(-(t-q.from)/q.tau)
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
		off := list[k-1].high
		for level := (r.I[list[k-1].high] + r.I[list[k].low]) / 2; off < list[k].low && r.I[off] > level; {
			off++
		}
		again := list[k].high
		for again > list[k].low && r.I[again] > r.I[list[k].low]+0.03*amplitude+9*f.Noise {
			again--
		}
		if r.I[list[k].low] < f.Min+leastRise*amplitude && r.T[again]-r.T[off] < brief*(r.T[off]-list[k-1].pass) {
			f.lone(r, off, again, Sudden{r.T[off], r.T[again], r.I[list[k].low] - r.I[list[k-1].high], true})
		}
	}
}

// lone lists a break that stands out of noise, unless it is listed.
func (f *Finding) lone(r samples, from, to int, s Sudden) {
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

// outstanding is how many standard deviations of a mean are no noise, of so many samples looked at.
func outstanding(samples int) float64 { return 5 + math.Sqrt(2*math.Log(float64(max(2, samples)))) }

// unsettled lists what disturbs a current that has settled after its rise, until it is switched off, and ends the ramp before
// the first such fall or rise: a plunger's dip belongs to the rise.
func (f *Finding) unsettled(r samples, p *ramp, hum float64) {
	k := 0
	for k < len(p.t)-1 && p.y[k] < p.base+0.63*p.rise {
		k++
	}
	tau := max(p.t[k], r.Interval)
	n := len(r.I)
	width := max(3, int(tau/4/r.Interval))
	span := max(4*width, int(settledFor*tau/r.Interval))
	from := p.start + 1
	if n-from < span+width {
		return
	}
	sums := make([]float64, n-from+1)
	for j, i := range r.I[from:] {
		sums[j+1] = sums[j] + i
	}
	mean := func(at, size int) float64 { return (sums[at-from+size] - sums[at-from]) / float64(size) }
	s := f.Noise / math.Sqrt(float64(width))
	// rests says whether the current stays alike from a sample on.
	rests := func(at int) (level float64, ok bool) {
		if at+span > n {
			return 0, false
		}
		level = mean(at, span)
		most := settledWithin*math.Abs(level-p.base) + 5*s + 0.6*hum + 0.5*f.Step
		for j := at; j+width <= at+span; j += width {
			if math.Abs(mean(j, width)-level) > most {
				return 0, false
			}
		}
		return level, true
	}
	at, level, ok := from, 0.0, false
	for ; at+span <= n; at += width {
		if level, ok = rests(at); ok && level-p.base > settledFrom*(f.Max-p.base) {
			break
		}
		ok = false
	}
	if !ok {
		return
	}
	trim := func(at int) {
		if m := at - p.start - 1; m < len(p.t) {
			p.t, p.y = p.t[:max(m, 0)], p.y[:max(m, 0)]
		}
	}
	fallen, origin := -1, 0.0 // the step that the current has not come back from, and from where
	for j := at + span - width; j+width <= n; j++ {
		limit := max(smallestStep*(level-p.base), outstanding(n)*s) + 0.6*hum + f.Step
		off := mean(j, width) - level
		if math.Abs(off) < limit {
			level += off / float64(span)
			continue
		}
		sign := math.Copysign(1, off)
		begin := j + width - 1
		for begin > j-width && sign*(r.I[begin]-level) > min(limit, 3*f.Noise+f.Step+0.6*hum) {
			begin--
		}
		most, end, back, next := 0.0, j, false, 0.0
		other := false
		for ; end+width <= n; end++ {
			now := mean(end, width) - level
			if math.Abs(now) < 0.6*limit || now*sign < 0 {
				back = true
				break
			}
			if two := mean(end, 2) - level; two*sign > most {
				most = two * sign
			}
			if next, other = rests(end); other {
				if math.Abs(next-level) < 0.6*limit {
					back, other = true, false
				}
				break
			}
		}
		low := level-most < p.base+leastRise*(level-p.base) && sign < 0
		reached := end
		if other {
			for reached = begin; reached+1 < n && math.Abs(r.I[reached]-next) > min(limit, 4*f.Noise+f.Step+0.6*hum); reached++ {
			}
			end += width
			if most < sign*(next-level) {
				most = sign * (next - level)
			}
		}
		until := r.T[min(reached, n-1)]
		if sign < 0 || back || fallen >= 0 {
			trim(begin - 1)
		}
		switch {
		case !back && !other: // it may be the switch-off, cut off by the recording's end
			return
		case low && (!back || until-r.T[begin] >= brief*(r.T[begin]-p.zero)): // switched off
			return
		case other && sign > 0 && fallen < 0: // the end of a slow motion, or a supply that rises
			level, j = next, end
			continue
		case other && fallen >= 0 && math.Abs(next-origin) < limit: // back from a lower level
			f.Steps[fallen].Until, f.Steps[fallen].Recovers = until, true
			level, j, fallen = next, end, -1
			continue
		case other:
			level = next
		}
		if f.add(Sudden{r.T[begin], until, sign * most, back}, 0); other && fallen < 0 {
			origin, fallen = level+most, len(f.Steps)-1
		}
		j = end
	}
}

// alike says whether a pulse is like the usual one, by its mean and, where the pulses stand well out of noise, by its length.
func (f *Finding) alike(r samples, mean, usual, length float64) bool {
	samples := max(1, f.Period/r.Interval)
	most := max(otherPulse*(f.Max-f.Min), smallestStep*math.Abs(usual), outstanding(len(r.I))*f.Noise/math.Sqrt(samples))
	return math.Abs(mean-usual) <= most && (math.Abs(length-f.Period) <= 0.2*f.Period || f.Ripple < clearPulse*f.Noise)
}

// pulses lists the pulses of a steady drive that are not like the others.
func (f *Finding) pulses(r samples, list []swing, means []float64, usual float64) {
	for k, m := range means {
		length := list[k+1].pass - list[k].pass
		if !f.alike(r, m, usual, length) {
			f.add(Sudden{list[k].pass, list[k+1].pass, m - usual, k+1 < len(means)}, f.Period/10)
		}
	}
}
