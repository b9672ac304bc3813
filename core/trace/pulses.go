package trace

import (
	"math"
	"slices"

	"ohmwright/core/recording"
	"ohmwright/core/squares"
)

const (
	bins         = 200  // of a mean period
	steady       = 0.02 // of the amplitude: a period with a mean this close to the usual one is in the steady state
	mostRipple   = 0.08 // of the level: if the rise has no ripple, a ripple smaller than this comes from the supply
	alikePeriods = 2. / 3
	otherPulse   = 0.1 // of the amplitude: how far the mean of a pulse may be from the usual one
	fewestSteady = 4   // periods after a drive has begun from which it has a duty
	clearPulse   = 30  // standard deviations from least to most: noise hardly shifts the edges of such a pulse
)

// A swing is a rise, given by its lowest and highest sample. Its time is that at which it passes three tenths of its
// height, since the dip of a plunger seldom falls below that.
type swing struct {
	low, high int
	pass      float64
	cut       bool // the recording begins after that or ends before
}

// swings returns the rises of at least a height. Before each but the first the current falls by that height. A recording may begin or
// end within a rise: that is as high as the one beside it, and more of it is not seen.
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
			list = append(list, swing{low: low, high: high})
			up, low = false, k
		}
	}
	if up {
		list = append(list, swing{low: low, high: high})
	}
	for k := range list {
		bottom, top := y[list[k].low], y[list[k].high]
		if k == 0 {
			bottom = min(bottom, y[list[min(1, len(list)-1)].low])
		}
		if up && k == len(list)-1 {
			top = max(top, y[list[max(0, k-1)].high])
		}
		r.passes(&list[k], 0.7*bottom+0.3*top)
	}
	return list
}

// passes sets when a rise passes a level for the last time.
func (r samples) passes(s *swing, level float64) {
	k := s.high
	for k > s.low && r.I[k] > level {
		k--
	}
	s.pass, s.cut = r.T[k], k == s.high || r.I[k] > level
	if !s.cut {
		s.pass += (level - r.I[k]) / (r.I[k+1] - r.I[k]) * (r.T[k+1] - r.T[k])
	}
}

// cycles looks for a pulsed drive, and sets its period, duty and averages. It returns nil for a single shot; hum is then
// the supply's ripple in it, peak to peak.
func (r samples) cycles(f *Finding) (list []swing, hum float64) {
	amplitude := f.Max - f.Min
	if amplitude <= aboveNoise*f.Noise {
		return nil, 0
	}
	for share := 0.5; share > 0.01 && share*amplitude > 6*f.Noise+f.Step; share /= 2 {
		list := r.swings(share * amplitude)
		if len(list) > len(r.T)/4 {
			break
		}
		list, period := regular(list)
		if len(list) < 2 || span(list) < 0.3*(r.T[len(r.T)-1]-r.T[0]) {
			continue
		}
		if hum := r.hum(f, list); hum > 0 {
			return nil, hum
		}
		r.periods(f, list, period)
		return list, 0
	}
	return nil, 0
}

// span returns the time from the first rise to the last.
func span(list []swing) float64 { return list[len(list)-1].pass - list[0].pass }

// hum returns the supply's ripple, peak to peak; 0 if the swings are the pulses of a drive. A drive also shakes the rise,
// because the current falls whenever the driver is off, or it holds a level below an earlier one.
func (r samples) hum(f *Finding, list []swing) float64 {
	from, to := list[0].high, list[len(list)-1].low
	if from >= to {
		return 0
	}
	high, low := recording.Extremes(r.I[from:to+1], spike*f.Noise)
	level := sumsOf(r.I[from:to+1]).mean(0, to-from+1)
	if high-low > mostRipple*(level-f.Min) || f.Max > high+3*f.Noise+0.02*level {
		return 0
	}
	// The rise: from a minimum until the level is first reached.
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
	if period := span(list) / float64(len(list)-1); r.T[to]-r.T[end] < 2*period { // the rise may be too short to show pulses
		return 0
	}
	return high - low
}

// regular returns the stretch of three or more swings that come at even times, and their period, from a straight line through the times.
// One that is cut is left out then, since it passed its level at an unknown time.
func regular(list []swing) (even []swing, period float64) {
	if len(list) < 3 {
		return nil, 0
	}
	steps := make([]float64, len(list)-1)
	for k := range steps {
		steps[k] = list[k+1].pass - list[k].pass
	}
	usual := median(steps)
	odd := func(step float64) bool { return math.Abs(step-usual) >= 0.12*usual }
	good := len(slices.DeleteFunc(slices.Clone(steps), odd))
	first, last := 0, len(list)-1
	for first < last && odd(steps[first]) {
		first++
	}
	for last > first && odd(steps[last-1]) {
		last--
	}
	if 10*good < 7*len(steps) || last-first < 2 {
		return nil, 0
	}
	if list[first].cut {
		first++
	}
	if list[last].cut {
		last--
	}
	var l squares.Line
	count := 0.0
	for k := first; k <= last; k++ {
		if k > first {
			count += max(1, math.Round(steps[k-1]/usual))
		}
		l.Add(count, list[k].pass-list[first].pass)
	}
	period, _ = l.Slope()
	return list[first : last+1], period
}

func median(list []float64) float64 {
	sorted := slices.Clone(list)
	slices.Sort(sorted)
	return sorted[len(sorted)/2]
}

// periods sets the averages over whole steady periods, and folds the periods into a mean one for duty and ripple.
func (r samples) periods(f *Finding, list []swing, period float64) {
	means := r.means(list)
	built := f.built(r, list, means)
	usual, first := median(means[built:]), 0
	for first+1 < len(means) && math.Abs(means[first]-usual) > steady*(f.Max-f.Min) {
		first++
	}
	f.From, f.To = list[first].pass, list[len(list)-1].pass
	f.Period, f.Frequency = period, 1/period
	f.Periods = int(math.Round(span(list) / period))
	// First the mean of all periods, which alike needs, then of those that are alike.
	alike := slices.Repeat([]bool{true}, len(means))
	f.Duty, f.Ripple = duty(r.fold(list[first:], alike[first:], period))
	count := 0
	for k, m := range means {
		if alike[k] = f.alike(r, m, usual, list[k+1].pass-list[k].pass); alike[k] && k >= built {
			count++
		}
	}
	f.Duty, f.Ripple = duty(r.fold(list[first:], alike[first:], period))
	n := len(means) - built
	if f.building = built > 0 && n < fewestSteady; f.building || float64(count) < alikePeriods*float64(n) && n-count > 3 { // the duty changes
		f.Duty, first = 0, built
	}
	f.otherPulses(r, list[first:], means[first:], usual)
}

// built returns how many periods it takes until the current has risen from nothing, by less in each: a drive that has just begun.
func (f *Finding) built(r samples, list []swing, means []float64) (k int) {
	if r.I[list[0].low] > f.Min+toe*(f.Max-f.Min) {
		return 0
	}
	for least, rose := steady*(f.Max-f.Min), math.Inf(1); k+1 < len(means) && means[k+1]-means[k] > least && means[k+1]-means[k] < rose; k++ {
		rose = means[k+1] - means[k]
	}
	return k
}

// means returns the mean current from each swing to the next.
func (r samples) means(list []swing) []float64 {
	integral := make([]float64, len(r.T))
	for k := 1; k < len(r.T); k++ {
		integral[k] = integral[k-1] + (r.T[k]-r.T[k-1])*(r.I[k-1]+r.I[k])/2
	}
	next := 1
	until := func(t float64) float64 { // called with rising times
		for next+1 < len(r.T) && r.T[next] < t {
			next++
		}
		return integral[next-1] + (t-r.T[next-1])*(r.I[next-1]+recording.Samples(r).At(next, t))/2
	}
	means := make([]float64, len(list)-1)
	before := until(list[0].pass)
	for k := range means {
		v := until(list[k+1].pass)
		means[k] = (v - before) / (list[k+1].pass - list[k].pass)
		before = v
	}
	return means
}

// fold superposes the periods that are alike, in at most [bins] parts beginning at the rise, and returns the mean of each part.
func (r samples) fold(list []swing, alike []bool, period float64) []float64 {
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
	for b := range sum { // a part without a sample: on the straight line between its neighbours
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

// duty returns the ripple of a mean period, and the share of the period from where the current begins to rise to where it
// begins to fall. It finds these corners by straight lines through a tenth and a quarter of the swing.
func duty(m []float64) (share, ripple float64) {
	n := len(m)
	at := func(k int) float64 { return m[((k%n)+n)%n] }
	low, high := slices.Min(m), slices.Max(m)
	if ripple = high - low; ripple <= 0 {
		return 0, 0
	}
	cross := func(k int, level float64) float64 { // where the line from part k-1 to part k passes a level
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
	// The last fall through the middle, searching back from the end. The top is the maximum before it.
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

// alike reports whether a pulse has the usual mean and, if the pulses are well above noise, the usual length.
func (f *Finding) alike(r samples, mean, usual, length float64) bool {
	perPeriod := max(1, f.Period/r.Interval)
	most := max(otherPulse*(f.Max-f.Min), smallestStep*math.Abs(usual), outstanding(len(r.I))*f.Noise/math.Sqrt(perPeriod))
	return math.Abs(mean-usual) <= most && (math.Abs(length-f.Period) <= 0.2*f.Period || f.Ripple < clearPulse*f.Noise)
}

// otherPulses lists the pulses of a steady drive that differ from the others.
func (f *Finding) otherPulses(r samples, list []swing, means []float64, usual float64) {
	for k, m := range means {
		length := list[k+1].pass - list[k].pass
		if !f.alike(r, m, usual, length) {
			f.add(Sudden{list[k].pass, list[k+1].pass, m - usual, k+1 < len(means)}, f.Period/10)
		}
	}
}

// rippled reports whether the drive is already pulsing during the ramp: the current rises and falls there as in later periods.
func (f *Finding) rippled(p *ramp, cycles []swing) bool {
	if len(cycles) == 0 || p.last() < 1.5*f.Period || !(f.Duty > 0 && f.Duty < 1) {
		return f.building && p.last() >= 1.5*f.Period
	}
	var on, off struct{ current, time float64 }
	for k := 1; k < len(p.t); k++ {
		u := (p.zero + (p.t[k]+p.t[k-1])/2 - cycles[0].pass) / f.Period
		u -= math.Floor(u)
		to := &off
		if u < 0.6*f.Duty {
			to = &on
		} else if u < 0.75*f.Duty || u > 1-0.4*f.Duty { // near the corners
			continue
		}
		to.current += p.y[k] - p.y[k-1]
		to.time += p.t[k] - p.t[k-1]
	}
	return on.time > 0 && off.time > 0 && on.current/on.time-off.current/off.time > 0.4*f.Ripple/f.Period/(f.Duty*(1-f.Duty))
}
