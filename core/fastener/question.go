package fastener

import (
	"math"

	"ohmwright/core/quantity"
)

// A Question is about one torque: what to set for it, and whether wrench, bolt and thread suit it.
type Question struct {
	Torque   quantity.Torque    // wanted at the bolt; 0 if none is given
	Wanted   *Span              // range or tolerance of the torque; nil if a single figure is wanted
	Printed  *[2]quantity.Value // the two figures that a manual prints for it; nil if it prints one
	Adapter  *Adapter           // nil for none
	Wrench   Wrench
	Assembly *Assembly // nil if no estimate is asked for
}

// An Assembly is what is known of a joint.
type Assembly struct {
	Joint
	FrictionWithin quantity.Ratio  // the friction may be higher or lower by this much
	Into           Material        // what the thread goes into
	Engagement     quantity.Length // 0 if Into is not known
}

// A Finding is what was found about one torque.
type Finding struct {
	Pair     *Pair
	Coarse   int             // index of the figure of the pair that is printed more coarsely; used with PairCoarse
	Reach    quantity.Length // of the lever with the adapter on; 0 without an adapter
	Setting  quantity.Torque // of the wrench; equals the torque if there is no adapter, and 0 if there is no torque
	Scale    *OnScale        // nil if there is no torque, or neither end of the scale is known
	Estimate *Estimate
	Doubts   []Doubt
}

// A Doubt is something that the reader must know before setting a wrench.
type Doubt string

// The doubts, in the order in which they are told.
const (
	PairDisagrees  Doubt = "pair"
	PairCoarse     Doubt = "pair_coarse"   // the figures agree, but are printed so coarsely that this says little
	AdapterSmall   Doubt = "adapter_small" // the unit of a length was probably mistaken
	AdapterShort   Doubt = "adapter_short" // the lever is so short that it matters where the hand is
	MarksCoarse    Doubt = "coarse_marks"  // the nearest mark is off by more than the wrench's deviation
	MayCross       Doubt = "crosses"       // the torque reached may be outside the wanted range
	TooLow         Doubt = "below_fifth"
	OffBelow       Doubt = "below_scale"
	OffAbove       Doubt = "above_scale"
	SizeAlone      Doubt = "size_no_torque" // a thread's size does not give its torque
	BoltBreaks     Doubt = "breaks"
	BoltStretches  Doubt = "stretches"
	BoltMayStretch Doubt = "may_stretch"
	NothingHolds   Doubt = "strip_none" // the engagement is too short to hold anything
	NoLengthHelps  Doubt = "strip_no_help"
	ThreadsStrip   Doubt = "strips"
	StripUndecided Doubt = "strip_undecided"
)

// Find works out what to set, and what is doubtful about it.
func (q Question) Find() Finding {
	f := Finding{Setting: q.Torque}
	if q.Torque > 0 {
		if q.Printed != nil {
			f.compare(*q.Printed)
		}
		if q.Adapter != nil {
			f.Reach, f.Setting = q.Adapter.Reach(), q.Adapter.Setting(q.Torque)
			f.doubt(q.Adapter.Extension < leastExtension || q.Adapter.Wrench < leastWrench, AdapterSmall)
			f.doubt(f.Reach < q.Adapter.Wrench/2, AdapterShort)
		}
		if q.Wrench.scaled() {
			f.Scale = q.onScale(&f)
		}
	}
	if q.Assembly != nil {
		f.Estimate = q.estimate(&f)
	}
	return f
}

// doubt adds a doubt if it applies.
func (f *Finding) doubt(is bool, d Doubt) {
	if is {
		f.Doubts = append(f.Doubts, d)
	}
}

// The lengths of an adapter and of a wrench, in mm, below which the unit was probably mistaken; common practice.
const (
	leastExtension = 10
	leastWrench    = 80
)

// HandOff is how far, in mm, the hand is from the middle of the handle in [Adapter.HandError].
const HandOff quantity.Length = 10

// HandError returns the error of the torque at the bolt if the hand pulls HandOff nearer to the wrench's head, or further
// from it, than it should.
//
//	HandOff × (1/reach − 1/L)
//
// Ratio, to first order. Reach and length must be above 0. Source: geometry, as [Adapter.Setting].
func (a Adapter) HandError() quantity.Ratio {
	return quantity.Ratio(float64(HandOff) * (1/float64(a.Reach()) - 1/float64(a.Wrench)))
}

// coarsePair is the difference above which two figures that agree say little, because they are printed too coarsely: no
// hand tool is permitted to deviate as much.
const coarsePair = 0.06

// compare compares two printed figures.
func (f *Finding) compare(figures [2]quantity.Value) {
	p := Compare(figures[0], figures[1])
	f.Pair = &p
	if p.Spans[1].Leeway() > p.Spans[0].Leeway() {
		f.Coarse = 1
	}
	f.doubt(p.Verdict == Disagree, PairDisagrees)
	f.doubt(p.Verdict != Disagree && math.Abs(float64(p.Difference)) > coarsePair, PairCoarse)
}

// An OnScale says what a wrench's scale means for a setting.
type OnScale struct {
	Use     Use
	Fifth   quantity.Torque // a fifth of the scale; 0 if its end is not known
	Reached *Span           // torque at the bolt with the setting; nil if no deviation is guaranteed
	Marks   *Marks          // nil if no deviation is guaranteed, the graduation is not known, or there is no mark here
	InRange Certainty       // "" if no range is wanted
}

// Marks are the marks of the scale nearest to a setting.
type Marks struct {
	Below, Above, Nearest quantity.Torque // Below and Above are 0 if the scale has no such mark
	Off                   quantity.Ratio  // (Nearest − setting)/setting, without its sign
	Reached               Span            // torque at the bolt with the nearest mark set
}

// A Certainty says whether the torque reached is sure to be within the wanted range.
type Certainty string

// The certainties.
const (
	RangeKept    Certainty = "yes"
	RangeCrossed Certainty = "crosses"
	RangeUnknown Certainty = "unknown"
)

// May returns the torque that the bolt may get: with the nearest mark set, if there are marks.
func (s OnScale) May() Span {
	if s.Marks != nil {
		return s.Marks.Reached
	}
	return *s.Reached
}

// scaled reports whether at least one end of the wrench's scale is known.
func (w Wrench) scaled() bool { return w.Max > 0 || w.Min > 0 }

// onScale compares the setting with the wrench's scale.
func (q Question) onScale(f *Finding) *OnScale {
	s := &OnScale{Use: q.Wrench.Check(f.Setting), Fifth: q.Wrench.Max / 5}
	if s.Use == Usable {
		reached := q.reached(f.Setting)
		s.Reached = &reached
		if s.Marks = q.marks(f.Setting); s.Marks != nil {
			f.doubt(s.Marks.Off > q.Wrench.Allowed(), MarksCoarse)
		}
	}
	if q.Wanted != nil {
		s.InRange = q.inRange(s)
		f.doubt(s.InRange == RangeCrossed, MayCross)
	}
	f.doubt(s.Use == BelowFifth, TooLow)
	f.doubt(s.Use == BelowScale, OffBelow)
	f.doubt(s.Use == AboveScale, OffAbove)
	return s
}

// reached returns the torque that the bolt may get with a setting.
func (q Question) reached(set quantity.Torque) Span {
	least, most := q.Wrench.Reached(set)
	if q.Adapter != nil {
		least, most = q.Adapter.Reached(least), q.Adapter.Reached(most)
	}
	return Span{least, most}
}

// marks returns the marks around a setting; nil if the graduation is not known or the scale has no mark there.
func (q Question) marks(setting quantity.Torque) *Marks {
	if q.Wrench.Graduation == 0 {
		return nil
	}
	m := &Marks{}
	m.Below, m.Above = q.Wrench.Marks(setting)
	m.Nearest = m.Below
	if m.Below == 0 || m.Above > 0 && m.Above-setting < setting-m.Below {
		m.Nearest = m.Above
	}
	if m.Nearest == 0 {
		return nil
	}
	m.Off = quantity.Ratio(math.Abs(float64(m.Nearest)/float64(setting) - 1))
	m.Reached = q.reached(m.Nearest)
	return m
}

// inRange compares the torque that the bolt may get with the wanted range, which includes its ends.
func (q Question) inRange(s *OnScale) Certainty {
	const slack = 1e-12
	if s.Use != Usable {
		return RangeUnknown
	}
	if may := s.May(); may.Least < q.Wanted.Least*(1-slack) || may.Most > q.Wanted.Most*(1+slack) {
		return RangeCrossed
	}
	return RangeKept
}

// A Portion is what to set for a part of the wanted torque, as one pass of a tightening needs it.
type Portion struct {
	Torque  quantity.Torque
	Setting quantity.Torque // of the wrench
	Mark    quantity.Torque // the nearest; 0 if there is none, or the wrench cannot be used for the setting
	Use     *Use            // nil if neither end of the scale is known
}

// Portion returns what to set for a part of the wanted torque. It is the zero Portion if there is no torque.
func (q Question) Portion(of quantity.Ratio) Portion {
	p := Portion{Torque: quantity.Torque(float64(of) * float64(q.Torque))}
	if p.Torque <= 0 {
		return Portion{}
	}
	p.Setting = p.Torque
	if q.Adapter != nil {
		p.Setting = q.Adapter.Setting(p.Torque)
	}
	if q.Wrench.scaled() {
		use := q.Wrench.Check(p.Setting)
		p.Use = &use
		if m := q.marks(p.Setting); m != nil && use == Usable {
			p.Mark = m.Nearest
		}
	}
	return p
}
