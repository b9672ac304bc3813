package trace

import (
	"math"
	"slices"
)

const (
	spike     = 4    // standard deviations that a sample may stick out
	bins      = 200  // of a mean period
	drawn     = 240  // buckets of a drawing, two points each
	leastRise = 0.3  // share of the amplitude that a turn-on is
	steady    = 0.02 // share of the amplitude within which the mean of a period is the steady one
)

// Find says what a recording shows.
//
// Average and RMS are those of straight lines between samples, over whole periods once the drive is steady, or over the whole
// recording of a single shot. A period is that between rises through the middle of a swing; swings are told from noise by
// hysteresis, in steps from half the amplitude down to six standard deviations of the noise, and count as a pulsed drive where
// three or more come regularly. Duty is the rising share of the mean period. For the fit see [Fit], for the dip [Dip].
//
// Units: s, A, V, ohm, H. It ignores the error of the recorder's scale: uncertainties are those of noise and steps alone.
// Checked in spice_test.go against ngspice, and in find_test.go by properties.
func (r Recording) Find(e Expect) Finding {
	f := Finding{}
	n := len(r.T)
	if n < MinSamples || len(r.I) != n {
		f.Why = NoRamp
		f.Dip.Why = NoRamp
		return f
	}
	f.Noise, f.Step = noise(r.I)
	f.Max, f.Min = extremes(r.I, spike*f.Noise)
	f.From, f.To = r.T[0], r.T[n-1]
	c := r.cycles(&f)
	f.Average, f.RMS = r.average(f.From, f.To)
	f.Points = r.drawing()
	_ = c
	f.compare(e)
	return f
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
	sigma = second[len(second)/2] / (0.6745 * math.Sqrt(6))
	if step > top || step < 1e-6*top {
		step = 0
	}
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
func (r Recording) average(from, to float64) (mean, rms float64) {
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
func (r Recording) at(k int, t float64) float64 {
	u := (t - r.T[k-1]) / (r.T[k] - r.T[k-1])
	return r.I[k-1] + u*(r.I[k]-r.I[k-1])
}

// A swing is a rise from a low to a high, by their samples, and the time at which it passes its middle.
type swing struct {
	low, high int
	middle    float64
}

// swings finds the rises of at least a height, each behind a fall of that height or the first.
func (r Recording) swings(height float64) (list []swing) {
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

// swing finds the middle of a rise: where it passes it last.
func (r Recording) swing(low, high int) swing {
	level := (r.I[low] + r.I[high]) / 2
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

// cycles looks for a pulsed drive and fills in what is known of its period; nil is a single shot.
func (r Recording) cycles(f *Finding) []swing {
	amplitude := f.Max - f.Min
	if amplitude <= 12*f.Noise {
		return nil
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
		if span := list[len(list)-1].middle - list[0].middle; span < 0.3*(r.T[len(r.T)-1]-r.T[0]) {
			continue
		}
		r.periods(f, list, period)
		return list
	}
	return nil
}

// regular finds the stretch of swings that come at even times, and their period by a straight line.
func regular(list []swing) (first, last int, period float64) {
	if len(list) < 3 {
		return 0, 0, 0
	}
	steps := make([]float64, len(list)-1)
	for k := range steps {
		steps[k] = list[k+1].middle - list[k].middle
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
		t := list[k].middle - list[first].middle
		n, sn, st, snn, snt = n+1, sn+count, st+t, snn+count*count, snt+count*t
	}
	if d := n*snn - sn*sn; d > 0 {
		period = (n*snt - sn*st) / d
	}
	return first, last, period
}

// periods averages over whole steady periods, and folds them into a mean one for duty and ripple.
func (r Recording) periods(f *Finding, list []swing, period float64) {
	if !(period > 0) {
		return
	}
	f.Period, f.Frequency = period, 1/period
	f.Periods = len(list) - 1
	means := make([]float64, f.Periods)
	for k := range means {
		means[k], _ = r.average(list[k].middle, list[k+1].middle) // TODO quadratic
	}
	_ = means
	f.From, f.To = list[0].middle, list[len(list)-1].middle
}

func (r Recording) drawing() []Point {
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

func (f *Finding) compare(e Expect) {
	if f.Fit == nil {
		return
	}
	if d := f.Fit.Resistance - e.Resistance; f.Fit.Resistance > 0 && e.Resistance > 0 && math.Abs(d) > e.ResistanceWithin*e.Resistance+2*f.Fit.ResistanceU {
		kind := ResistanceHigh
		if d < 0 {
			kind = ResistanceLow
		}
		f.Differences = append(f.Differences, Difference{kind, f.Fit.Resistance, f.Fit.ResistanceU, e.Resistance, e.ResistanceWithin})
	}
}
