package recording

import (
	"math"
	"slices"
)

// This file tells what the recorder and its probe add to a current: noise, steps, lone samples, a range that is too small, a coupling
// that lets no direct current through.

// Noise returns the standard deviation of a sample, from second differences, and the recorder's step. The deviation is at least
// that of a rectangular distribution as wide as the step.
func Noise(y []float64) (sigma, step float64) {
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
	// The mean of those that are not far out: for a normal distribution it is √(2/π) of the deviation. The median alone would jump
	// from one step of the recorder to the next.
	most, sum, n := 5*second[len(second)/2]+2*step, 0.0, 0
	for ; n < len(second) && second[n] <= most; n++ {
		sum += second[n]
	}
	sigma = sum / float64(max(1, n)) * math.Sqrt(math.Pi/2/6)
	return max(sigma, step/math.Sqrt(12), 1e-7*top), step
}

// Extremes returns the highest and lowest sample; one that sticks out alone is cut to the nearer neighbour and what is allowed.
func Extremes(y []float64, allowed float64) (top, bottom float64) {
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

// Calm returns a copy in which a sample that sticks out alone by more than is allowed lies between its neighbours.
func Calm(y []float64, allowed float64) []float64 {
	y = slices.Clone(y)
	for k := 1; k+1 < len(y); k++ {
		if y[k] < min(y[k-1], y[k+1])-allowed || y[k] > max(y[k-1], y[k+1])+allowed {
			y[k] = (y[k-1] + y[k+1]) / 2
		}
	}
	return y
}

const (
	fewestClipped = 12   // samples in a row that noise would not leave alike
	headingOn     = 0.03 // of the amplitude, that a clipped current would have risen further
	wholeSteps    = 3.5  // of the recorder, that it rose shortly before: one that settles takes its last step alone
)

// Clipped reports whether the current is cut off at its highest: it rises, and from one sample to the next it is flat and quite without
// noise, where it should have risen on. A current that settles nears its level slowly; one that a driver limits keeps its noise. Noise
// and step are those of [Noise].
func Clipped(y []float64, sigma, step float64) bool {
	if len(y) < MinSamples {
		return false
	}
	top, bottom := slices.Max(y), slices.Min(y)
	from, most := 0, 0
	for k := 0; k < len(y); k++ {
		run := k
		for run < len(y) && y[run] == top {
			run++
		}
		if run-k > most {
			from, most = k, run-k
		}
		k = max(k, run)
	}
	rise := 0 // samples from a fifth of the height
	for rise < from && y[from-1-rise] > bottom+(top-bottom)/5 {
		rise++
	}
	before := max(2, rise/8)
	if most < max(fewestClipped, before) || rise == from || rise < 3 {
		return false
	}
	last := y[from-1] - y[from-1-before]
	return last > wholeSteps*step+sigma && last*float64(rise)/2/float64(before) > headingOn*(top-bottom)
}

const (
	tail       = 8     // parts of the time after the highest
	falling    = 0.985 // of what is left, after another part: more, and it no longer falls
	drooped    = 0.75  // of the highest, at the end
	littleLeft = 0.05  // of the highest: too little to tell whether it falls
	backwards  = 0.1   // of the amplitude: no winding's current flows backwards as far as that
	lasting    = 0.1   // of the time that the current was up: a ringing below nothing is over sooner
)

// Droops reports whether the current falls from its highest towards a base, and goes on falling to the end by a similar share all the
// time, as behind a coupling that lets no direct current through. A contact, a driver or a supply that gives way ends at another level;
// a current that is switched off was level before that, or still rose steeply, or falls about as quickly as it rose.
func Droops(y []float64, base float64) bool {
	high := 0
	for k, i := range y {
		if i > y[high] {
			high = k
		}
	}
	top := y[high] - base
	since := func(share float64) (k int) { // when the rise passed a share
		for k = high; k > 0 && y[k-1]-base > share*top; k-- {
		}
		return k
	}
	level, half := high, 0 // the last near the highest; how long it takes to fall by half
	for k := high; k < len(y); k++ {
		if y[k]-base > 0.9*top {
			level = k
		}
		if half == 0 && y[k]-base < top/2 {
			half = k - high
		}
	}
	rise := since(0.8) - since(0.1)
	steep, flat := 2*(high-since(0.8)) < rise, level-since(0.9) > (len(y)-high)*2/5
	return !steep && !flat && (half == 0 || half > 3*rise) && falls(y[high:], base)
}

// falls reports whether a current falls by a similar share in all parts of a stretch.
func falls(y []float64, base float64) bool {
	size := len(y) / tail
	if size < 2 {
		return false
	}
	top := y[0] - base
	before, parts := top, 0
	for k := 1; k+size <= len(y) && before > littleLeft*top; k += size {
		now := -base
		for _, i := range y[k : k+size] {
			now += i / float64(size)
		}
		if share := now / before; parts > 0 && (share > falling || share < backwards) {
			return false
		}
		before, parts = now, parts+1
	}
	return parts >= tail/2 && before < drooped*top
}

// Undershoots reports whether a current that was about nothing rises and then flows backwards for long, which a winding's does not:
// the recorder or its probe lets no direct current through. Top and bottom are those of [Extremes].
func Undershoots(s Samples, top, bottom float64) bool {
	amplitude := top - bottom
	if -bottom < backwards/2*amplitude {
		return false
	}
	high, begin := 0, 0
	for k, i := range s.I {
		if i > s.I[high] {
			high = k
		}
	}
	for k := high; k > 0 && begin == 0; k-- {
		if s.I[k] < 0.2*s.I[high] {
			begin = k
		}
	}
	if begin < MinSamples/4 {
		return false
	}
	before := 0.0
	for _, i := range s.I[:begin] {
		before += i / float64(begin)
	}
	below, most := 0.0, 0.0 // how long it stays
	for k := high; k < len(s.I); k++ {
		if s.I[k] > before-backwards/2*amplitude {
			below = 0
			continue
		}
		below += s.T[k] - s.T[k-1]
		most = max(most, below)
	}
	return math.Abs(before) < backwards/2*amplitude && most > lasting*(s.T[high]-s.T[begin])
}
