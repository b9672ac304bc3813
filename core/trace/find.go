package trace

import (
	"math"
	"sort"

	"ohmwright/core/recording"
)

const (
	spike      = 4   // standard deviations that a sample may stick out
	aboveNoise = 12  // standard deviations: less than that is no current
	calmed     = 0.1 // of the amplitude: a lone sample that sticks out more is no current
	drawn      = 240 // buckets of a drawing, two points each
)

// Find works out what a recording shows.
//
// Average and RMS take the current as straight lines between samples, over whole periods once the drive is steady, or over the
// whole recording of a single shot. A period is the time between rises. Rises must be higher than noise: half the amplitude is
// tried first, then half of that and so on, down to six standard deviations. Three or more at even times are a pulsed drive.
// A ripple below 8 % that only a current fully on has comes from the supply, not from a drive. Duty is the share of the mean
// period in which the current rises, over the periods that are alike; 0 if fewer than two thirds are. See also [Fit] and [Dip].
//
// A steady current before the switch-on of a single shot is the clamp's zero error if it is negative or up to half of the final
// current: it is taken off before anything else is read, see Finding.Offset.
//
// Units: s, A, V, ohm, H. It ignores the error of the recorder's scale: uncertainties are those of noise and steps alone.
// Checked in spice_test.go against ngspice, in find_test.go by properties, and in circuit_test.go with disturbed loops.
func Find(r recording.Samples, e Expect) Finding { return samples(r).find(e, true) }

// samples are the samples of a recording.
type samples recording.Samples

// find is [Find]. If zero, the clamp's zero error has yet to be subtracted.
func (r samples) find(e Expect, zero bool) Finding {
	f := Finding{}
	n := len(r.T)
	if n < recording.MinSamples || len(r.I) != n {
		f.Why, f.Dip.Why = NoRamp, NoRamp
		return f
	}
	f.Noise, f.Step = recording.Noise(r.I)
	f.Max, f.Min = recording.Extremes(r.I, spike*f.Noise)
	f.From, f.To = r.T[0], r.T[n-1]
	if -f.Min > 2*max(f.Max, 0) && -f.Min > aboveNoise*f.Noise {
		f = r.changed(func(i float64) float64 { return -i }).find(e, zero)
		f.Reversed = true
		return f
	}
	whole := r
	r.I = recording.Calm(r.I, max(spike*f.Noise, calmed*(f.Max-f.Min)))
	cycles, hum := r.cycles(&f)
	p, why := r.turnOn(&f, cycles)
	switch f.Why = why; {
	case zero && whole.coupled(&f, p):
		f.Why = ACCoupled
	case why == NoReason && recording.Clipped(r.I, f.Noise, f.Step):
		f.Why = Clipped
	}
	if off := p.offset(&f); zero && off != 0 && f.Why != ACCoupled {
		f = whole.changed(func(i float64) float64 { return i - off }).find(e, false)
		f.Offset = off
		return f
	}
	f.Average, f.RMS = whole.average(f.From, f.To)
	f.Points = whole.drawing()
	if f.Periods == 0 {
		if f.Why == NoReason {
			f.unsettled(r, &p, hum)
		}
		if f.Why != ACCoupled {
			f.breaks(r)
		}
	}
	if f.Why == NoReason {
		f.Why = f.readRamp(r, &p, cycles, e)
	}
	sort.SliceStable(f.Steps, func(i, j int) bool { return f.Steps[i].At < f.Steps[j].At })
	if f.Why != NoReason && f.Dip.Found == CannotShow && f.Dip.Why == NoReason {
		f.Dip.Why = f.Why
	}
	f.compare(e)
	return f
}

// changed returns a copy with a function applied to each current.
func (r samples) changed(by func(i float64) float64) samples {
	list := make([]float64, len(r.I))
	for k, i := range r.I {
		list[k] = by(i)
	}
	r.I = list
	return r
}

// average returns mean and root mean square between two times, with straight lines between samples.
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

// at returns the current at a time on the straight line between samples k-1 and k.
func (r samples) at(k int, t float64) float64 {
	u := (t - r.T[k-1]) / (r.T[k] - r.T[k-1])
	return r.I[k-1] + u*(r.I[k]-r.I[k-1])
}

// drawing returns the samples, or the lowest and highest of each bucket if there are too many to draw.
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

// compare lists what differs from what is expected by more than the tolerance plus twice the uncertainty.
func (f *Finding) compare(e Expect) {
	if f.Fit != nil {
		f.differs(f.Fit.Resistance, f.Fit.ResistanceU, e.Resistance, e.ResistanceWithin, ResistanceLow, ResistanceHigh)
		switch { // what is expected is for the plunger at rest
		case f.Fit.Seated:
		case e.Supply > 0:
			f.differs(f.Fit.Inductance, f.Fit.InductanceU, e.Inductance, e.InductanceWithin, InductanceLow, InductanceHigh)
		default:
			f.differs(f.Fit.TimeConstant, f.Fit.TimeConstantU, e.TimeConstant, e.TimeConstantWithin, TimeConstantShort, TimeConstantLong)
		}
	}
	if e.Moves && f.Dip.Found == No {
		f.Differences = append(f.Differences, Difference{Kind: DipMissing})
	}
	if len(f.Steps) > 0 {
		f.Differences = append(f.Differences, Difference{Kind: StepsSeen})
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
	f.Differences = append(f.Differences, Difference{more, got, u, want})
}
