package trace

import (
	"cmp"
	"math"
	"slices"

	"ohmwright/core/recording"
)

const (
	spike     = 4    // standard deviations that a sample may stick out
	bins      = 200  // of a mean period
	drawn     = 240  // buckets of a drawing, two points each
	leastRise = 0.3  // share of the amplitude that a turn-on is
	steady    = 0.02 // share of the amplitude within which the mean of a period is the steady one

	chosen        = 0.005 // of a time constant: the standard uncertainty that the choice of the parts adds
	restWithin    = 0.03  // relative uncertainty up to which the time constant at rest is the one given
	finalWithin   = 0.1   // of what a fit may be uncertain at most
	tauWithin     = 0.2
	otherShape    = 0.02 // of the final current, rms that a fit may leave
	restless      = 0.01 // of the final current, rms that a fit may leave where the current has settled
	reachedEnough = 0.9
	dipReached    = 0.98 // of the final current, four time constants: a plunger that has not moved until then may move later
	givenWithin   = 0.3  // relative uncertainty of a time constant that is given at all
	deepestDip    = 0.4  // of the current before it: no plunger's motion takes more
	mostRipple    = 0.08 // of the level: a ripple that is smaller, and not there in the rise, is the supply's
	alikePeriods  = 2. / 3
	fewestZero    = 5    // samples before switch-on that tell the clamp's zero error
	mostOffset    = 0.5  // of the final current
	smallestDip   = 0.05 // of the final current: one that is smaller may go unseen in a recording that is said to show none
)

// Find says what a recording shows.
//
// Average and RMS are those of straight lines between samples, over whole periods once the drive is steady, or over the whole
// recording of a single shot. A period is that between rises; swings are told from noise by hysteresis, in steps from half the
// amplitude down to six standard deviations of the noise, and count as a pulsed drive where three or more come regularly. A
// ripple below 8 % that only a current fully on has is the supply's, and no drive. Duty is the rising share of the mean of those
// periods that are alike, and 0 where fewer than two thirds are. For the fit see [Fit], for the dip [Dip].
//
// A steady current before switch-on of a single shot, up to half of the final one, is the clamp's zero error, and always so
// where it is negative: it is taken off before anything else is read, see Finding.Offset.
//
// Units: s, A, V, ohm, H. It ignores the error of the recorder's scale: uncertainties are those of noise and steps alone.
// Checked in spice_test.go against ngspice, in find_test.go by properties, and in circuit_test.go with disturbed loops.
func Find(r recording.Samples, e Expect) Finding { return samples(r).find(e, true) }

// samples are a recording's.
type samples recording.Samples

// find is Find, with the clamp's zero error still to be taken off or taken off already.
func (r samples) find(e Expect, zero bool) Finding {
	f := Finding{}
	n := len(r.T)
	if n < recording.MinSamples || len(r.I) != n {
		f.Why = NoRamp
		f.Dip.Why = NoRamp
		return f
	}
	f.Noise, f.Step = noise(r.I)
	f.Max, f.Min = extremes(r.I, spike*f.Noise)
	f.From, f.To = r.T[0], r.T[n-1]
	if -f.Min > 2*max(f.Max, 0) && -f.Min > 12*f.Noise {
		turned := make([]float64, n)
		for k, i := range r.I {
			turned[k] = -i
		}
		r.I = turned
		f = r.find(e, zero)
		f.Reversed = true
		return f
	}
	cycles, hum := r.cycles(&f)
	var p ramp
	p, f.Why = r.turnOn(&f, cycles)
	if off := p.offset(&f); zero && off != 0 {
		level := make([]float64, n)
		for k, i := range r.I {
			level[k] = i - off
		}
		r.I = level
		f = r.find(e, false)
		f.Offset = off
		return f
	}
	f.Average, f.RMS = r.average(f.From, f.To)
	f.Points = r.drawing()
	if f.Periods == 0 {
		if f.Why == NoReason {
			f.unsettled(r, &p, hum)
		}
		f.breaks(r)
	}
	if f.Why == NoReason {
		switch {
		case f.rippled(&p, cycles):
			f.Why = TooShort
		case p.limited():
			f.Why = Limited
		default:
			f.ramp(r, &p, e)
		}
	}
	slices.SortFunc(f.Steps, func(a, b Sudden) int { return cmp.Compare(a.At, b.At) })
	if f.Why != NoReason && f.Fit == nil && f.Dip.Found == CannotShow && f.Dip.Why == NoReason {
		f.Dip.Why = f.Why
	}
	f.compare(e)
	return f
}

// ramp fits a turn-on ramp and judges its dip.
func (f *Finding) ramp(r samples, p *ramp, e Expect) {
	f.cut(r, p)
	if len(p.t) < fewest {
		f.Why = Interrupted
		return
	}
	d := p.look()
	if f.Periods == 0 && d.found && d.falls && d.depth > deepestDip*(d.value+d.depth-p.base) {
		f.add(Sudden{p.zero + p.t[d.top], p.zero + d.t, -d.depth, true}, r.Interval)
		p.t, p.y = p.t[:d.top], p.y[:d.top]
		if len(p.t) < fewest {
			f.Why = Interrupted
			return
		}
		d = p.look()
	}
	if d.sags && f.Periods == 0 { // its level is that of a supply, or a contact, that gave way
		f.Why = OtherShape
		return
	}
	m, from, to, ok := p.fitRamp(d)
	if !ok {
		f.Why = TooShort
		return
	}
	// The current before the start, now that the start is known.
	if p.before >= fewestBefore {
		start := p.zero + m.start(p.base)
		first := p.first
		last := p.start + 1
		for last > first && r.T[last-1] > start-r.Interval/2 {
			last--
		}
		if last-first >= fewestBefore {
			p.rest(r, first, last)
		}
	}
	final, rest := m.final, m.parts[0]
	fit := &Fit{Final: final, FinalU: m.u[0], Rest: math.Sqrt(m.rss / float64(m.n)), Start: p.zero + m.start(0)}
	if p.sigma < 0.5*p.step {
		fit.FinalU = math.Hypot(fit.FinalU, p.step/math.Sqrt(12))
	}
	if p.before >= fewestBefore {
		fit.Offset, fit.OffsetU = p.base, max(p.sigma/math.Sqrt(float64(p.before)), p.step/math.Sqrt(12))
		fit.Start = p.zero + m.start(p.base)
		if fit.OffsetKnown = math.Abs(p.base) < offsetShare*(final-p.base); fit.OffsetKnown {
			fit.Final -= p.base
			fit.FinalU = math.Hypot(fit.FinalU, fit.OffsetU)
		}
	}
	fit.From, fit.To = p.zero+p.t[0], p.zero+p.t[len(p.t)-1]
	last := m.parts[len(m.parts)-1]
	end := p.t[len(p.t)-1]
	drop := last.drop * math.Exp(-(end-last.from)/last.tau)
	fit.Reached = 1 - drop/fit.Final
	switch {
	case to == 0:
		fit.AtRest, fit.AtRestU = rest.tau, m.u[2]
	case len(m.parts) == 2:
		fit.AtRest, fit.AtRestU, fit.AtStop, fit.AtStopU = rest.tau, m.u[2], last.tau, m.u[4]
	default:
		fit.AtStop, fit.AtStopU = rest.tau, m.u[2]
	}
	if to > 0 && len(m.parts) == 1 { // the seated part says nothing of when the rise began
		fit.Start = p.begins(r)
	}
	if fit.AtRestU > givenWithin*fit.AtRest {
		fit.AtRest, fit.AtRestU = 0, 0
	}
	if fit.AtStopU > givenWithin*fit.AtStop {
		fit.AtStop, fit.AtStopU = 0, 0
	}
	// What the choice of the parts adds, beside noise.
	fit.AtRestU, fit.AtStopU = math.Hypot(fit.AtRestU, chosen*fit.AtRest), math.Hypot(fit.AtStopU, chosen*fit.AtStop)
	if fit.TimeConstant, fit.TimeConstantU = fit.AtRest, fit.AtRestU; to > 0 {
		fit.MotionFrom, fit.MotionTo = p.zero+from, p.zero+to
		if fit.AtRest == 0 || fit.AtStop > 0 && fit.AtRestU > restWithin*fit.AtRest && fit.AtStopU/fit.AtStop < fit.AtRestU/fit.AtRest {
			fit.Seated, fit.TimeConstant, fit.TimeConstantU = true, fit.AtStop, fit.AtStopU
		}
	}
	f.Dip = p.judge(d, fit, &m, to > 0)
	if f.Dip.Why == TooShort && len(f.Steps) > 0 {
		f.Dip.Why = Interrupted
	}
	if !(fit.Final > 0) || fit.FinalU > finalWithin*fit.Final || !(fit.TimeConstant > 0) || fit.TimeConstantU > tauWithin*fit.TimeConstant {
		switch f.Why = TooNoisy; {
		case fit.Reached < reachedEnough && len(f.Steps) > 0:
			f.Why = Interrupted
		case fit.Reached < reachedEnough:
			f.Why = TooShort
		case p.sigma < smallestDip/certain*p.rise:
			f.Why = OtherShape
		}
		f.Dip = Dip{Why: f.Why}
		return
	}
	if m.rss > float64(m.n)*(otherShape*otherShape*final*final+9*p.sigma*p.sigma) {
		f.Why = OtherShape
		f.Dip = Dip{Why: f.Why}
		return
	}
	if rise, flat := m.misfit(); to == 0 && rise > max(otherShape*final, 4*p.quiet) {
		if flat > max(restless*final, 3*p.quiet) { // a drive that holds the current by switching, too coarsely recorded to show it
			f.Why = OtherShape
			f.Dip = Dip{Why: f.Why}
			return
		}
		// Saturated iron, eddy currents: a residual of the rise counts as an error of its time constant, of which the current
		// changes by at most 1/e of the final one.
		fit.AtRestU = math.Hypot(fit.AtRestU, math.E*rise/final*fit.AtRest)
		fit.TimeConstantU = fit.AtRestU
	}
	if e.Supply > 0 {
		fit.Resistance = e.Supply / fit.Final
		fit.ResistanceU = fit.Resistance * fit.FinalU / fit.Final
		fit.Inductance = fit.Resistance * fit.TimeConstant
		fit.InductanceU = fit.Inductance * math.Hypot(fit.FinalU/fit.Final, fit.TimeConstantU/fit.TimeConstant)
	}
	f.Fit = fit
	f.strays(p, &m, to)
	for j := range m.parts {
		q := m.parts[j]
		a, b := q.from, end
		if j == 0 && (to == 0 || len(m.parts) == 2) {
			a = min(q.from, fit.Start-p.zero)
			if len(m.parts) == 2 {
				b = from
			}
		}
		for k := range drawn/2 + 1 {
			t := a + (b-a)*float64(k)/(drawn/2)
			f.Model = append(f.Model, Point{p.zero + t, final - q.drop*math.Exp(-(t-q.from)/q.tau)})
		}
	}
}

// rippled says whether the drive pulses within a ramp already: the current then rises and falls there as in the periods after.
func (f *Finding) rippled(p *ramp, cycles []swing) bool {
	if len(cycles) == 0 || p.t[len(p.t)-1] < 1.5*f.Period || !(f.Duty > 0 && f.Duty < 1) {
		return false
	}
	var on, off [2]float64 // of current and of time
	for k := 1; k < len(p.t); k++ {
		u := (p.zero + (p.t[k]+p.t[k-1])/2 - cycles[0].pass) / f.Period
		u -= math.Floor(u)
		to := &off
		if u < 0.6*f.Duty {
			to = &on
		} else if u < 0.75*f.Duty || u > 1-0.4*f.Duty { // about the corners
			continue
		}
		to[0] += p.y[k] - p.y[k-1]
		to[1] += p.t[k] - p.t[k-1]
	}
	return on[1] > 0 && off[1] > 0 && on[0]/on[1]-off[0]/off[1] > 0.4*f.Ripple/f.Period/(f.Duty*(1-f.Duty))
}

// judge words what a ramp shows of a moving plunger.
func (p *ramp) judge(d dip, fit *Fit, m *model, moves bool) Dip {
	// A fall over two fifths of the time constant, in three blocks.
	tau := m.parts[0].tau
	end := p.t[len(p.t)-1]
	interval := end / float64(len(p.t)-1)
	size := 0.27 * min(tau, end/2) / interval
	v := Dip{Smallest: max(certain*math.Sqrt(6)*p.sigma/math.Sqrt(max(1, size)), p.bend())}
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
	case moves || m.wander > 3*wander:
		v.Why = OtherShape
	default:
		v.Found = No
	}
	return v
}

// noise is the standard deviation of a sample, from the median of second differences, and the recorder's step. No less than
// a step allows: a rectangular distribution.
func noise(y []float64) (sigma, step float64) {
	stride := 1 + len(y)/4000
	second := make([]float64, 0, 4001)
	top := 0.0
	step = math.Inf(1)
	for k := range y {
		top = max(top, math.Abs(y[k]))
		if k > 0 {
			if d := math.Abs(y[k] - y[k-1]); d > 0 && d < step {
				step = d
			}
		}
	}
	for k := 1; k+1 < len(y); k += stride {
		second = append(second, math.Abs(y[k-1]-2*y[k]+y[k+1]))
	}
	slices.Sort(second)
	if step > top || step < 1e-6*top {
		step = 0
	}
	// The mean of those that are not far out: of a normal distribution it is √(2/π) of the deviation, and steps do not coarsen
	// it as they would the median alone.
	most, sum, n := 5*second[len(second)/2]+2*step, 0.0, 0
	for ; n < len(second) && second[n] <= most; n++ {
		sum += second[n]
	}
	sigma = sum / float64(max(1, n)) * math.Sqrt(math.Pi/2/6)
	return max(sigma, step/math.Sqrt(12), 1e-7*top), step
}

// extremes are the highest and lowest sample, one that sticks out alone cut to its higher, or lower, neighbour.
func extremes(y []float64, allowed float64) (top, bottom float64) {
	top, bottom = math.Inf(-1), math.Inf(1)
	n := len(y)
	for k := range y {
		a, b := y[max(k-1, 0)], y[min(k+1, n-1)]
		if k == 0 {
			a = b
		} else if k == n-1 {
			b = a
		}
		top = max(top, min(y[k], max(a, b)+allowed))
		bottom = min(bottom, max(y[k], min(a, b)-allowed))
	}
	return top, bottom
}

// average is mean and root mean square between two times, of straight lines between samples.
func (r samples) average(from, to float64) (mean, rms float64) {
	sum, square := 0.0, 0.0
	for k := 1; k < len(r.T); k++ {
		t0, t1 := max(r.T[k-1], from), min(r.T[k], to)
		if t1 <= t0 {
			continue
		}
		a, b := r.at(k, t0), r.at(k, t1)
		sum += (t1 - t0) * (a + b) / 2
		square += (t1 - t0) * (a*a + a*b + b*b) / 3
	}
	if to <= from {
		return 0, 0
	}
	return sum / (to - from), math.Sqrt(square / (to - from))
}

// at is the straight line between sample k-1 and k at a time.
func (r samples) at(k int, t float64) float64 {
	u := (t - r.T[k-1]) / (r.T[k] - r.T[k-1])
	return r.I[k-1] + u*(r.I[k]-r.I[k-1])
}

// A swing is a rise from a low to a high, by their samples, and the time at which it passes three tenths of it: the dip of a plunger
// seldom falls below.
type swing struct {
	low, high int
	pass      float64
}

// swings finds the rises of at least a height, each behind a fall of that height or the first.
func (r samples) swings(height float64) (list []swing) {
	y := r.I
	low, high, up := 0, 0, false
	for k := range y {
		if !up {
			if y[k] < y[low] {
				low = k
			}
			if y[k] > y[low]+height {
				up, high = true, k
			}
			continue
		}
		if y[k] > y[high] {
			high = k
		}
		if y[k] < y[high]-height {
			list = append(list, r.swing(low, high))
			up, low = false, k
		}
	}
	if up {
		list = append(list, r.swing(low, high))
	}
	return list
}

// swing finds when a rise passes its level last.
func (r samples) swing(low, high int) swing {
	level := 0.7*r.I[low] + 0.3*r.I[high]
	k := high
	for k > low+1 && r.I[k-1] > level {
		k--
	}
	u := 0.5
	if d := r.I[k] - r.I[k-1]; d != 0 {
		u = min(1, max(0, (level-r.I[k-1])/d))
	}
	return swing{low, high, r.T[k-1] + u*(r.T[k]-r.T[k-1])}
}

// cycles looks for a pulsed drive and fills in what is known of its period; nil is a single shot. Of one that the supply's
// ripple shakes, hum is how much from least to most.
func (r samples) cycles(f *Finding) (list []swing, hum float64) {
	amplitude := f.Max - f.Min
	if amplitude <= 12*f.Noise {
		return nil, 0
	}
	for share := 0.5; share > 0.01 && share*amplitude > 6*f.Noise+f.Step; share /= 2 {
		list := r.swings(share * amplitude)
		if len(list) > len(r.T)/4 {
			break
		}
		first, last, period := regular(list)
		if last-first < 2 {
			continue
		}
		list = list[first : last+1]
		if span := list[len(list)-1].pass - list[0].pass; span < 0.3*(r.T[len(r.T)-1]-r.T[0]) {
			continue
		}
		if hum := r.hums(f, list); hum > 0 {
			return nil, hum
		}
		r.periods(f, list, period)
		return list, 0
	}
	return nil, 0
}

// hums is the ripple of a supply, from least to most; 0 where swings are a drive's pulses: those shake the rise too, as the
// current falls in each off time by the loop's own time constant, or follow it at a level below the one that it reached.
func (r samples) hums(f *Finding, list []swing) float64 {
	from, to := list[0].high, list[len(list)-1].low
	if from >= to {
		return 0
	}
	sum := 0.0
	low, high := extremes(r.I[from:to+1], spike*f.Noise)
	low, high = high, low
	for _, i := range r.I[from : to+1] {
		sum += i
	}
	level := sum / float64(to-from+1)
	if high-low > mostRipple*(level-f.Min) || f.Max > high+3*f.Noise+0.02*level {
		return 0
	}
	// The rise: from a low to the level for the first time.
	end := 0
	for end < to && r.I[end] < f.Min+0.8*(level-f.Min) {
		end++
	}
	start := end
	for start > 0 && r.I[start] > f.Min+0.1*(level-f.Min) {
		start--
	}
	if r.I[start] > f.Min+0.2*(level-f.Min) || end-start < 3 {
		return 0
	}
	top := r.I[start]
	for _, i := range r.I[start:end] {
		if top = max(top, i); i < top-0.15*(high-low)-6*f.Noise-f.Step {
			return 0
		}
	}
	// Pulses that the rise has no room for cannot be told.
	if period := (list[len(list)-1].pass - list[0].pass) / float64(len(list)-1); r.T[to]-r.T[end] < 2*period {
		return 0
	}
	return high - low
}

// regular finds the stretch of swings that come at even times, and their period by a straight line.
func regular(list []swing) (first, last int, period float64) {
	if len(list) < 3 {
		return 0, 0, 0
	}
	steps := make([]float64, len(list)-1)
	for k := range steps {
		steps[k] = list[k+1].pass - list[k].pass
	}
	sorted := slices.Clone(steps)
	slices.Sort(sorted)
	usual := sorted[len(sorted)/2]
	even := func(step float64) bool { return math.Abs(step-usual) < 0.12*usual }
	good := 0
	for _, s := range steps {
		if even(s) {
			good++
		}
	}
	if 10*good < 7*len(steps) {
		return 0, 0, 0
	}
	last = len(list) - 1
	for first < last && !even(steps[first]) {
		first++
	}
	for last > first && !even(steps[last-1]) {
		last--
	}
	var n, sn, st, snn, snt float64
	count := 0.0
	for k := first; k <= last; k++ {
		if k > first {
			count += max(1, math.Round(steps[k-1]/usual))
		}
		t := list[k].pass - list[first].pass
		n, sn, st, snn, snt = n+1, sn+count, st+t, snn+count*count, snt+count*t
	}
	if d := n*snn - sn*sn; d > 0 {
		period = (n*snt - sn*st) / d
	}
	return first, last, period
}

// periods averages over whole steady periods, and folds them into a mean one for duty and ripple.
func (r samples) periods(f *Finding, list []swing, period float64) {
	integral := make([]float64, len(r.T))
	for k := 1; k < len(r.T); k++ {
		integral[k] = integral[k-1] + (r.T[k]-r.T[k-1])*(r.I[k-1]+r.I[k])/2
	}
	// to is the integral up to a time; times come in order.
	next := 1
	to := func(t float64) float64 {
		for next+1 < len(r.T) && r.T[next] < t {
			next++
		}
		return integral[next-1] + (t-r.T[next-1])*(r.I[next-1]+r.at(next, t))/2
	}
	means := make([]float64, len(list)-1)
	before := to(list[0].pass)
	for k := range means {
		v := to(list[k+1].pass)
		means[k] = (v - before) / (list[k+1].pass - list[k].pass)
		before = v
	}
	sorted := slices.Clone(means)
	slices.Sort(sorted)
	usual, first := sorted[len(sorted)/2], 0
	for first+1 < len(means) && math.Abs(means[first]-usual) > steady*(f.Max-f.Min) {
		first++
	}
	f.From, f.To = list[first].pass, list[len(list)-1].pass
	f.Period, f.Frequency = period, 1/period
	f.Periods = int(math.Round((list[len(list)-1].pass - list[0].pass) / period))
	// Duty and ripple are those of periods that are alike; where these are not two thirds of all, no one duty is that of the
	// recording.
	alike := make([]bool, len(means))
	for k := range alike {
		alike[k] = true
	}
	f.Duty, f.Ripple = duty(r.mean(list[first:], alike[first:], period))
	count := 0
	for k, m := range means {
		if alike[k] = f.alike(r, m, usual, list[k+1].pass-list[k].pass); alike[k] {
			count++
		}
	}
	f.Duty, f.Ripple = duty(r.mean(list[first:], alike[first:], period))
	if float64(count) < alikePeriods*float64(len(means)) && len(means)-count > 3 {
		f.Duty, first = 0, 0
	}
	f.pulses(r, list[first:], means[first:], usual)
}

// mean folds the stretch of swings into one period, from the rise on, in at most [bins] parts, without those not alike.
func (r samples) mean(list []swing, alike []bool, period float64) []float64 {
	from, _ := slices.BinarySearch(r.T, list[0].pass)
	to, _ := slices.BinarySearch(r.T, list[len(list)-1].pass)
	n := min(bins, max(12, (to-from)/8))
	sum, count := make([]float64, n), make([]float64, n)
	j := 0
	for k := from; k < to; k++ {
		for j+2 < len(list) && list[j+1].pass <= r.T[k] {
			j++
		}
		if !alike[j] {
			continue
		}
		length := list[j+1].pass - list[j].pass
		if whole := math.Round(length / period); whole != 1 || math.Abs(length-period) > 0.12*period {
			length = period
		}
		u := (r.T[k] - list[j].pass) / length
		b := min(n-1, max(0, int((u-math.Floor(u))*float64(n))))
		sum[b], count[b] = sum[b]+r.I[k], count[b]+1
	}
	for b := range sum {
		if count[b] > 0 {
			sum[b] /= count[b]
		}
	}
	for b := range sum { // a part without a sample: the straight line between its neighbours
		if count[b] > 0 {
			continue
		}
		l, h := 1, 1
		for l < n && count[(b-l+n)%n] == 0 {
			l++
		}
		for h < n && count[(b+h)%n] == 0 {
			h++
		}
		u := float64(l) / float64(l+h)
		sum[b] = sum[(b-l+n)%n]*(1-u) + sum[(b+h)%n]*u
	}
	return sum
}

// duty is the share of a mean period from where the current begins to rise to where it begins to fall, and the ripple. Both
// corners are where straight lines through a tenth and a quarter of the swing meet its ends.
func duty(m []float64) (share, ripple float64) {
	n := len(m)
	at := func(k int) float64 { return m[((k%n)+n)%n] }
	low, high := slices.Min(m), slices.Max(m)
	if ripple = high - low; ripple <= 0 {
		return 0, 0
	}
	// cross is where the line from part k-1 to part k passes a level.
	cross := func(k int, level float64) float64 {
		return float64(k-1) + min(1, max(0, (level-at(k-1))/(at(k)-at(k-1))))
	}
	corner := func(tenth, quarter float64) float64 { return tenth - (quarter-tenth)/1.5 }
	k := 0
	for k > -n && at(k-1) > low+0.1*ripple {
		k--
	}
	tenth := cross(k, low+0.1*ripple)
	for k < n && at(k) < low+0.25*ripple {
		k++
	}
	on := corner(tenth, cross(k, low+0.25*ripple))
	// From the middle of the rise on, the last fall through the middle; the top is the highest before it.
	k = n - 1
	for k > 0 && at(k) < low+0.5*ripple || k > n+int(on)-1 {
		k--
	}
	top := at(k)
	for j := k; j > 0 && at(j) > top-0.1*ripple; j-- {
		top = max(top, at(j))
	}
	fall := top - low
	for k > 0 && at(k) < top-0.25*fall {
		k--
	}
	quarter := cross(k+1, top-0.25*fall)
	for k > 0 && at(k) < top-0.1*fall {
		k--
	}
	off := corner(cross(k+1, top-0.1*fall), quarter)
	return min(1, max(0, (off-on)/float64(n))), ripple
}

func (r samples) drawing() []Point {
	n := len(r.T)
	if n <= 2*drawn {
		list := make([]Point, n)
		for k := range list {
			list[k] = Point{r.T[k], r.I[k]}
		}
		return list
	}
	list := make([]Point, 0, 2*drawn)
	for b := range drawn {
		from, to := b*n/drawn, (b+1)*n/drawn
		low, high := from, from
		for k := from; k < to; k++ {
			if r.I[k] < r.I[low] {
				low = k
			}
			if r.I[k] > r.I[high] {
				high = k
			}
		}
		for _, k := range [2]int{min(low, high), max(low, high)} {
			if len(list) == 0 || r.T[k] > list[len(list)-1].T {
				list = append(list, Point{r.T[k], r.I[k]})
			}
		}
	}
	return list
}

// compare lists what differs from what is expected: beyond the tolerance and twice the uncertainty.
func (f *Finding) compare(e Expect) {
	if f.Fit != nil {
		f.differs(f.Fit.Resistance, f.Fit.ResistanceU, e.Resistance, e.ResistanceWithin, ResistanceLow, ResistanceHigh)
		switch { // what is expected is of the plunger at rest
		case f.Fit.Seated:
		case e.Supply > 0:
			f.differs(f.Fit.Inductance, f.Fit.InductanceU, e.Inductance, e.InductanceWithin, InductanceLow, InductanceHigh)
		default:
			f.differs(f.Fit.TimeConstant, f.Fit.TimeConstantU, e.TimeConstant, e.TimeConstantWithin, TimeConstantShort, TimeConstantLong)
		}
	}
	if e.Moves && f.Dip.Found == No {
		f.Differences = append(f.Differences, Difference{Kind: DipMissing, Got: 0, Want: f.Dip.Smallest})
	}
	if len(f.Steps) > 0 {
		f.Differences = append(f.Differences, Difference{Kind: StepsSeen, Got: float64(len(f.Steps))})
	}
}

func (f *Finding) differs(got, u, want, within float64, less, more DifferenceKind) {
	off := got - want
	if !(got > 0 && want > 0) || math.Abs(off) <= within*want+2*u {
		return
	}
	if off < 0 {
		more = less
	}
	f.Differences = append(f.Differences, Difference{more, got, u, want, within})
}
