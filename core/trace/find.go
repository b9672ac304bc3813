package trace

import (
	"sort"

	"ohmwright/core/measure"
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
// whole recording of a single shot. A period is the time between rises, from where they pass three tenths. Rises must be higher than
// noise: half the amplitude is tried first, then half of that and so on, down to six standard deviations. Three or more at even times are
// a pulsed drive. A ripple below 8 % that only a current fully on has comes from the supply, not a drive. Duty is the share of the mean
// period in which the current rises, over the periods that are alike; 0 if fewer than two thirds are. See also [Fit] and [Dip].
//
// A steady current before the switch-on of a single shot is the clamp's zero error if it is negative or up to half of the final
// current: it is taken off before anything else is read, see Finding.Offset.
//
// Units: s, A, V, ohm, H. What differs, does so with 95 % or more: see [Fit] for what the uncertainties hold.
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
	f.Average, f.RMS = recording.Samples(whole).Average(f.From, f.To)
	for _, k := range recording.Samples(whole).Outline(drawn) {
		f.Points = append(f.Points, Point{whole.T[k], whole.I[k]})
	}
	if f.Periods == 0 {
		if f.Why == NoReason {
			f.unsettled(r, &p, hum)
		}
		if f.Why != ACCoupled {
			f.breaks(r)
		}
		if f.Why == NoReason {
			f.lost(r, &p)
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

// compare lists what surely differs from what is expected by more than the tolerance, and what may: see [measure.Conform].
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
	if !(got > 0 && want > 0) {
		return
	}
	d := Difference{more, got, u, want}
	if got < want {
		d.Kind = less
	}
	switch measure.Conform(measure.Estimate{Value: got, U: u}, measure.Band{Min: want - within*want, Max: want + within*want}).Verdict() {
	case measure.Undecided:
		f.Unsure = append(f.Unsure, d)
	case measure.Below, measure.Above:
		f.Differences = append(f.Differences, d)
	}
}
