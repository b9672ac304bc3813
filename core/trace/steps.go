package trace

import "math"

const (
	sudden     = 0.05 // of the rise, beyond what the winding allows: a step
	stray      = 0.08 // of the rise, off the fit: a step
	quick      = 2    // rises within a time constant that motion and winding allow
	listed     = 24   // steps that are listed
	brief      = 0.5  // of the time on before it: a break that is no pulse of the drive
	otherPulse = 0.1  // of the amplitude, that the mean of a pulse may be off
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
func (f *Finding) cut(r Recording, p *ramp) {
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
		if t < after {
			continue
		}
		res := all.y[k] - m.final + q.drop*math.Exp(-(t-q.from)/q.tau)
		if math.Abs(res) > limit && k > 0 {
			f.add(Sudden{p.zero + all.t[k-1], p.zero + t, res, k+1 < len(all.t)}, 2*(t-all.t[k-1]))
		}
	}
}

// breaks lists where a single shot is interrupted for a short time.
func (f *Finding) breaks(r Recording) {
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
			f.add(Sudden{r.T[off], r.T[again], r.I[list[k].low] - r.I[list[k-1].high], true}, 0)
		}
	}
}

// pulses lists the pulses of a steady drive that are not like the others.
func (f *Finding) pulses(list []swing, means []float64, usual float64) {
	for k, m := range means {
		length := list[k+1].pass - list[k].pass
		if math.Abs(m-usual) > otherPulse*(f.Max-f.Min) || math.Abs(length-f.Period) > 0.2*f.Period {
			f.add(Sudden{list[k].pass, list[k+1].pass, m - usual, k+1 < len(means)}, f.Period/10)
		}
	}
}
