package fastener

import (
	"math"

	"ohmwright/core/quantity"
)

// A Question is what is asked of one torque: what to set for it, and whether wrench, bolt and thread suit it.
type Question struct {
	Torque   quantity.Torque    // wanted at the bolt; 0 where none is given
	Wanted   *Span              // what the torque may be; nil where it is one figure
	Printed  *[2]quantity.Value // the two figures that a manual prints for it; nil where it prints one
	Adapter  *Adapter           // nil for none
	Wrench   Wrench             // Deviation is given, or that which the standard permits
	Assembly *Assembly          // nil where no estimate is asked for
}

// An Assembly is a joint as far as it is known.
type Assembly struct {
	Joint
	FrictionWithin quantity.Ratio  // how far the friction may be off
	Into           Material        // what the thread goes into
	Engagement     quantity.Length // 0 where Into is not known
}

// A Finding is what was found of one torque.
type Finding struct {
	Pair     *Pair
	Coarse   int             // the figure of the pair that is printed more coarsely, with PairCoarse
	Reach    quantity.Length // of the lever with the adapter on; 0 without one
	Setting  quantity.Torque // of the wrench: the torque itself without an adapter; 0 where there is no torque
	Scale    *OnScale        // nil where there is no torque, or no end of the scale is known
	Estimate *Estimate
	Doubts   []Doubt
}

// A Doubt is something that the reader has to know of a torque before a wrench is set.
type Doubt string

// The doubts, in the order in which they are told.
const (
	PairDisagrees  Doubt = "pair"
	PairCoarse     Doubt = "pair_coarse"   // the figures agree, and are printed too coarsely for that to say much
	AdapterSmall   Doubt = "adapter_small" // the unit was probably mistaken
	AdapterShort   Doubt = "adapter_short" // the lever is so short that the place of the hand matters
	MarksCoarse    Doubt = "coarse_marks"  // the nearest mark is further off than the wrench's deviation
	MayCross       Doubt = "crosses"       // what may be reached leaves the range wanted
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

// Find answers the question.
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

// doubt notes a doubt where there is one.
func (f *Finding) doubt(is bool, d Doubt) {
	if is {
		f.Doubts = append(f.Doubts, d)
	}
}

// Lengths of an adapter and of a wrench, in mm, below which a unit was probably mistaken; common practice.
const (
	leastExtension = 10
	leastWrench    = 80
)

// HandOff is how far a hand is off the middle of the handle in the example of [Adapter.HandError].
const HandOff quantity.Length = 10

// HandError is the error at the bolt of a hand that pulls HandOff nearer to the wrench's head or further from it than it should.
//
//	HandOff × (1/reach − 1/L)
//
// Ratio, to first order. Reach and length have to be above 0. Source: geometry, as [Adapter.Setting].
func (a Adapter) HandError() quantity.Ratio {
	return quantity.Ratio(float64(HandOff) * (1/float64(a.Reach()) - 1/float64(a.Wrench)))
}

// coarsePair is the difference above which figures that agree are printed too coarsely to say so: no hand tool may deviate as far.
const coarsePair = 0.06

// compare sets two printed figures beside each other.
func (f *Finding) compare(figures [2]quantity.Value) {
	p := Compare(figures[0], figures[1])
	f.Pair = &p
	if p.Spans[1].Leeway() > p.Spans[0].Leeway() {
		f.Coarse = 1
	}
	f.doubt(p.Verdict == Disagree, PairDisagrees)
	f.doubt(p.Verdict != Disagree && math.Abs(float64(p.Difference)) > coarsePair, PairCoarse)
}

// An OnScale is what a wrench's scale means for a setting.
type OnScale struct {
	Use     Use
	Fifth   quantity.Torque // of the scale; 0 where its end is not known
	Reached *Span           // at the bolt, with the setting; nil where nothing is vouched for
	Marks   *Marks          // nil where nothing is vouched for, the graduation is not known, or the scale has no mark there
	InRange Certainty       // "" where no range is wanted
}

// Marks are the marks of a scale around a setting.
type Marks struct {
	Below, Above, Nearest quantity.Torque // Below and Above are 0 where the scale has none there
	Off                   quantity.Ratio  // how far the nearest is off the setting, as part of it
	Reached               Span            // at the bolt, with the nearest set
}

// A Certainty says whether what may be reached stays in the range wanted.
type Certainty string

// The certainties.
const (
	RangeKept    Certainty = "yes"
	RangeCrossed Certainty = "crosses"
	RangeUnknown Certainty = "unknown"
)

// May is what may be reached at the bolt: with the nearest mark set, where there are marks.
func (s OnScale) May() Span {
	if s.Marks != nil {
		return s.Marks.Reached
	}
	return *s.Reached
}

// scaled reports whether an end of the wrench's scale is known.
func (w Wrench) scaled() bool { return w.Max > 0 || w.Min > 0 }

// onScale holds the setting to the wrench's scale.
func (q Question) onScale(f *Finding) *OnScale {
	s := &OnScale{Use: q.Wrench.Check(f.Setting), Fifth: q.Wrench.Max / 5}
	if s.Use == Usable {
		reached := q.reached(f.Setting)
		s.Reached = &reached
		if s.Marks = q.marks(f.Setting); s.Marks != nil {
			f.doubt(s.Marks.Off > q.Wrench.Deviation, MarksCoarse)
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

// reached is what the torque at the bolt may be with a setting.
func (q Question) reached(set quantity.Torque) Span {
	least, most := q.Wrench.Reached(set)
	if q.Adapter != nil {
		least, most = q.Adapter.Reached(least), q.Adapter.Reached(most)
	}
	return Span{least, most}
}

// marks are the marks around a setting; nil where the graduation is not known, or the scale has none there.
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

// inRange holds what may be reached to the range wanted, whose own ends are in it.
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

// A Portion is a part of the torque wanted, as one pass of a tightening goes to it.
type Portion struct {
	Torque  quantity.Torque
	Setting quantity.Torque // of the wrench
	Mark    quantity.Torque // the nearest; 0 where there is none, or the wrench is not usable for the setting
	Use     *Use            // nil where no end of the scale is known
}

// Portion finds what to set for a part of the torque wanted; the zero Portion where there is no torque.
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
