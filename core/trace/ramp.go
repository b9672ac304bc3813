package trace

import (
	"math"
	"slices"

	"ohmwright/core/portable"
	"ohmwright/core/recording"
	"ohmwright/core/squares"
)

const (
	leastRise    = 0.3  // of the amplitude: a smaller rise is not a turn-on
	fewest       = 8    // fewest samples of a ramp
	fewestBefore = 3    // fewest samples that give the current before a ramp
	fewestZero   = 5    // fewest samples before switch-on that give the clamp's zero error
	mostOffset   = 0.5  // of the final current: more than this before switch-on is a current, not an error
	leftOver     = 5e-3 // of the rise: more may be left of an earlier current
	blocks       = 400  // number of blocks to which a ramp is averaged before the fit
	leastNoise   = 2e-4 // of the rise
	balanced     = 0.03 // of the amplitude: so close to nothing is the mean of pulses behind a coupling
)

// A ramp is the part of a recording from turn-on until something ends it.
type ramp struct {
	t, y       []float64 // from the first sample of the rise on; t counts from there
	zero       float64   // the time at which t is 0
	base       float64   // the current before
	idle       float64   // for so long there has been no more than that, s; infinite: no driver was on before
	before     int       // number of samples of which base is the mean
	first      int       // the first of them, in the recording
	quiet      float64   // standard deviation of these if ten or more, else sigma
	rests      means     // of the samples before
	sigma      float64   // standard deviation of a sample
	step       float64   // of the recorder
	rise       float64   // roughly, from base to the maximum
	start, end int       // in the recording: the last sample before the rise, the last of the ramp
}

// last returns the last time of the ramp.
func (p *ramp) last() float64 { return p.t[len(p.t)-1] }

// shorten cuts the ramp to its first n samples.
func (p *ramp) shorten(n int) {
	if n < len(p.t) {
		p.t, p.y = p.t[:max(n, 0)], p.y[:max(n, 0)]
	}
}

// tau returns a rough time constant: the time to 63 % of the rise; 0 if there is no sample.
func (p *ramp) tau() float64 {
	if len(p.t) == 0 {
		return 0
	}
	k := 0
	for k < len(p.t)-1 && p.y[k] < p.base+0.63*p.rise {
		k++
	}
	return p.t[k]
}

// turnOn finds the first ramp after a turn-on.
func (r samples) turnOn(f *Finding, cycles []swing) (p ramp, why Reason) {
	amplitude := f.Max - f.Min
	if amplitude <= aboveNoise*f.Noise {
		return p, NoRamp
	}
	list := r.swings(0.5 * amplitude)
	if len(cycles) > 0 && (len(list) == 0 || len(list) >= len(cycles)) {
		list = cycles
	}
	if len(list) == 0 {
		list = r.swings(leastRise * amplitude)
	}
	if len(list) == 0 {
		return p, NoRamp
	}
	if p = r.rampOf(f, list[0], cycles); p.before < fewestBefore && len(list) > 1 { // it may have begun before the recording
		if q := r.rampOf(f, list[1], cycles); q.before >= fewestBefore {
			p = q
		}
	}
	if len(p.t) < fewest {
		return p, TooCoarse
	}
	return p, NoReason
}

// rampOf returns the ramp that begins with a swing.
func (r samples) rampOf(f *Finding, s swing, cycles []swing) ramp {
	y := r.I
	rise := y[s.high] - y[s.low]
	cut := y[s.low] + max(9*f.Noise+f.Step, 0.03*rise)
	start := s.high
	for start > s.low && y[start] > min(cut, y[s.low]+rise/2) {
		start--
	}
	end := r.endOf(f, s, start, cycles)
	first := start
	for first > 0 && y[first-1] <= cut+3*f.Noise+0.05*rise {
		first--
	}
	p := ramp{sigma: f.Noise, step: f.Step, rise: rise, start: start, end: end}
	p.rest(r, first, start-(start-first)/5)
	p.t, p.y, p.zero = make([]float64, 0, end-start), y[start+1:max(end+1, start+1)], r.T[min(start+1, len(y)-1)]
	p.idle = r.idle(start, y[s.low]+rise/2, cycles, cut)
	for _, t := range r.T[start+1 : max(end+1, start+1)] {
		p.t = append(p.t, t-p.zero)
	}
	return p
}

// endOf returns the last sample of a ramp that is surely before a fall: by half, or to the first pulse of a drive that then pulses. The
// first twelfth of a fall takes no longer than the second, which tells when it begins at the earliest; two samples more are for chance.
func (r samples) endOf(f *Finding, s swing, start int, cycles []swing) int {
	y, low, top := r.I, len(r.I), r.I[s.high]
	for k := s.high; k < low; k++ {
		if top = max(top, y[k]); y[k] < top-0.5*(y[s.high]-y[s.low]) {
			low = k
		}
	}
	for _, c := range cycles {
		if c.low > start && r.T[c.low] > s.pass {
			low = min(low, c.low)
		}
	}
	if low == len(y) {
		return low - 1
	}
	top = slices.Max(y[start : low+1])
	share := max(6*f.Noise+f.Step, (top-y[low])/12)
	for low > start && y[low] < top-2*share {
		low--
	}
	end := low
	for end > start && y[end] < top-share {
		end--
	}
	return max(start, end-(low-end)-2)
}

// coupled reports whether the recorder or its probe lets no direct current through: pulses lie as much below nothing as above; after a
// single shot the current flows backwards; or while it is on it falls towards what it was before, and goes on falling.
func (r samples) coupled(f *Finding, p ramp) bool {
	amplitude := f.Max - f.Min
	if amplitude <= aboveNoise*f.Noise {
		return false
	}
	if f.Periods > 0 {
		mean, _ := recording.Samples(r).Average(f.From, f.To)
		return -f.Min > toe*amplitude && math.Abs(mean) < balanced*amplitude
	}
	return recording.Undershoots(recording.Samples(r), f.Max, f.Min) || recording.Droops(r.I, p.base)
}

// rest takes the current before the ramp from a stretch of samples, without the tail of an earlier pulse.
func (p *ramp) rest(r samples, first, last int) {
	all, zero := sumsOf(r.I[first:max(first, last)]), first
	mean := func(from, to int) float64 { return all.mean(from-zero, to-from) }
	for n := last - first; n >= 4*fewestBefore; n = last - first {
		half := (first + last) / 2
		if mean(first, half)-mean(half, last) < 3*p.sigma*math.Sqrt(4/float64(n)) {
			break
		}
		first = half
	}
	if p.first, p.before = first, max(0, last-first); p.before > 0 {
		p.base = mean(first, last)
		p.rests = meansOf(r.T[first:last], r.I[first:last])
	}
	if p.quiet = p.sigma; p.before >= 2*fewestZero {
		square := 0.0
		for _, i := range r.I[first:last] {
			square += (i - p.base) * (i - p.base)
		}
		p.quiet = math.Sqrt(square / float64(p.before-1))
	}
}

// restUntil sets the current before the ramp again, now that the start of the ramp is known.
func (p *ramp) restUntil(r samples, start float64) {
	last := p.start + 1
	for last > p.first && r.T[last-1] > start-r.Interval/2 {
		last--
	}
	if last-p.first >= fewestBefore {
		p.rest(r, p.first, last)
	}
}

// offset returns the clamp's zero error, which is the current before switch-on; 0 if it is within noise or may be a current.
func (p *ramp) offset(f *Finding) float64 {
	n := p.before
	if n < fewestZero || math.Abs(p.base) < 4*max(p.sigma/math.Sqrt(float64(n)), p.step/math.Sqrt(12)) {
		return 0
	}
	if p.base > 0 && (f.Periods > 0 || p.base > mostOffset*(f.Max-p.base) || !p.spent(p.tau())) {
		return 0
	}
	if p.before >= 2*fewestZero && p.quiet > 1.5*p.sigma { // it is not steady
		return 0
	}
	return p.base
}

// idle returns for how long before a ramp the current has not been at a level. It is infinite if the recording shows that no driver was
// on before: it never was at that level, and the pulses of a drive, if it is one, do not go down as far afterwards. If they do, what is
// before the first may be a pause between pulses, so it is as long as the last of these.
func (r samples) idle(start int, level float64, cycles []swing, foot float64) float64 {
	since := func(k int, until float64) float64 {
		for k >= 0 && r.I[k] <= level {
			k--
		}
		if k < 0 {
			return math.Inf(1)
		}
		return until - r.T[k]
	}
	idle := since(start, r.T[start])
	if n := len(cycles); math.IsInf(idle, 1) && n > 0 && r.I[cycles[n-1].low] <= foot {
		return since(cycles[n-1].low, cycles[n-1].pass)
	}
	return idle
}

// spent reports whether nothing is left before the ramp of an earlier current, which dies away with the winding's time constant or, as
// a seated plunger makes it longer, with half as much again. The current there is then nothing, and what is seen is the clamp's zero error.
func (p *ramp) spent(tau float64) bool { return 0.5*portable.Exp(-p.idle/(1.5*tau)) < leftOver }

// alive returns the least current that is not switched off, where it was so high before: clearly more than before the ramp.
func (p *ramp) alive(f *Finding, high float64) float64 {
	if p.before < fewestBefore {
		return leastRise * high
	}
	return p.base + max(aboveNoise*f.Noise+f.Step, smallestStep*(high-p.base))
}

// begins returns the time at which the rise begins: where the line through its first samples crosses the current before it.
func (p *ramp) begins(r samples) float64 {
	var l squares.Line
	for k, t := range p.t {
		if l.N >= 3 && p.y[k] > p.base+0.3*p.rise {
			break
		}
		l.Add(t, p.y[k]-p.base)
	}
	t := 0.0
	if slope, ok := l.Slope(); ok && slope > 0 {
		t = (l.SX - l.SY/slope) / l.N
	}
	return p.zero + min(0, max(t, -3*r.Interval))
}

// size returns the number of samples in a block.
func (p *ramp) size() int { return 1 + len(p.t)/blocks }

// part returns a stretch of the ramp averaged by blocks.
func (p *ramp) part(from, to int) part {
	size := p.size()
	q := part{}
	n := max(0, to-from) / size
	if n == 0 {
		return q
	}
	q.t, q.y = make([]float64, n), make([]float64, n)
	for b := range n {
		for k := from + b*size; k < from+(b+1)*size; k++ {
			q.t[b] += p.t[k]
			q.y[b] += p.y[k]
		}
		q.t[b] /= float64(size)
		q.y[b] /= float64(size)
	}
	q.from = q.t[0]
	return q
}

// noise returns the standard deviation of a block's mean, if samples are independent. stuck is the error that the
// recorder's steps leave in the mean of many blocks when there is too little noise to average it out.
func (p *ramp) noise() (deviation, stuck float64) {
	if p.step > 0 {
		stuck = 0.35 * p.step * max(0, 1-2*p.sigma/p.step)
	}
	return max(p.sigma/math.Sqrt(float64(p.size())), leastNoise*p.rise), stuck
}
