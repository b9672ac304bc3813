package fastener

import "ohmwright/core/quantity"

// An Estimate is what a thread of a size and class could take. It is no specification.
type Estimate struct {
	Verdict     Loading
	Torque      quantity.Torque // for the joint's preload, at the friction given
	Band        Span            // the same at the lowest and the highest friction
	At          quantity.Torque // the torque wanted, or if none is, Band.Least
	Most        quantity.Torque // the highest torque wanted, to which Verdict applies
	PreloadAt   quantity.Force  // at At
	PreloadBand Pull            // over the range of the wanted torque and of the friction
	Stressed    quantity.Ratio  // share of the yield strength at Most
	StressedMax quantity.Ratio  // the same at the lowest friction
	Practice    *Practice       // nil unless the thread is M6 coarse
	Strip       *Stripping      // nil if it is not known what the thread goes into
}

// A Pull is a range of forces along a bolt.
type Pull struct{ Least, Most quantity.Force }

// A Loading says what a torque does to a bolt.
type Loading string

// The loadings.
const (
	Plausible  Loading = "plausible"
	MayStretch Loading = "may_stretch" // only at the lowest friction
	Stretches  Loading = "stretches"   // at the friction given, as is Breaks
	Breaks     Loading = "breaks"
)

// estimate works out what the thread could take. If a range of torque is wanted, its upper end stresses the bolt most, and
// its lower end holds least. If no torque is wanted, it takes the one that the bolt withstands even at the lowest
// friction.
func (q Question) estimate(f *Finding) *Estimate {
	j := q.Assembly.Joint
	low, high := j, j
	low.Friction, high.Friction = j.Friction-q.Assembly.FrictionWithin, j.Friction+q.Assembly.FrictionWithin
	at := q.Torque
	if at == 0 {
		at = low.Torque()
	}
	over := Span{at, at}
	if q.Wanted != nil {
		over = *q.Wanted
	}
	e := &Estimate{
		Torque: j.Torque(), Band: Span{low.Torque(), high.Torque()}, At: at, Most: over.Most,
		PreloadAt:   j.PreloadAt(at, j.Friction),
		PreloadBand: Pull{j.PreloadAt(over.Least, high.Friction), j.PreloadAt(over.Most, low.Friction)},
		Stressed:    j.Stressed(over.Most, j.Friction), StressedMax: j.Stressed(over.Most, low.Friction),
	}
	f.doubt(true, SizeAlone)
	switch {
	case j.Breaking(over.Most, j.Friction) > 1:
		e.Verdict = Breaks
	case e.Stressed > 1:
		e.Verdict = Stretches
	case e.StressedMax > 1:
		e.Verdict = MayStretch
	default:
		e.Verdict = Plausible
	}
	f.doubt(e.Verdict != Plausible, Doubt(e.Verdict)) // doubts and loadings share their names
	if j.Thread.Diameter == practiceSize && j.Thread.Coarse() {
		e.Practice = practised(j)
	}
	if q.Assembly.Engagement > 0 {
		e.Strip = q.Assembly.stripping(e.PreloadBand.Most, f)
	}
	return e
}

// A figure of common practice for small bolts in a control body, and the frictions at which it is compared.
const (
	practiceInchPounds = 90
	practiceSize       = 6 // M6
	practiceLow        = 0.10
	practiceHigh       = 0.14
	practiceUse        = 0.90 // of the yield strength, as in tables
)

// A Practice compares a figure of common practice with what the thread could take. It is no specification.
type Practice struct {
	Torque        quantity.Torque
	Band          Span           // for 90 % of the yield strength, at the lower and the higher friction
	StressedLeast quantity.Ratio // share of the yield strength, at the higher friction
	StressedMost  quantity.Ratio // the same at the lower friction
	Lies          Side           // where the figure lies, relative to Band
}

// A Side says where the figure lies, relative to the band.
type Side string

// The sides.
const (
	LiesBelow  Side = "below"
	LiesWithin Side = "within"
	LiesAbove  Side = "above"
)

// practised compares the figure of common practice with what tables of VDI 2230 would give for this bolt.
func practised(j Joint) *Practice {
	low, high := j, j
	low.Friction, low.Utilisation, high.Friction, high.Utilisation = practiceLow, practiceUse, practiceHigh, practiceUse
	u, _ := quantity.UnitNamed(quantity.OfTorque, "lbf.in")
	t := quantity.Torque(u.From(practiceInchPounds))
	p := &Practice{t, Span{low.Torque(), high.Torque()}, j.Stressed(t, practiceHigh), j.Stressed(t, practiceLow), LiesWithin}
	switch {
	case t < p.Band.Least:
		p.Lies = LiesBelow
	case t > p.Band.Most:
		p.Lies = LiesAbove
	}
	return p
}

// A Stripping compares the highest preload with the load that strips the threads.
type Stripping struct {
	Strip
	Verdict Holding
	Preload quantity.Force  // the highest preload; at most the load at which the bolt breaks
	Needed  quantity.Length // engagement at which weak metal holds that preload; 0 if no engagement does
}

func (a Assembly) stripping(preload quantity.Force, f *Finding) *Stripping {
	preload = min(preload, a.UltimateLoad())
	s := &Stripping{Strip: a.Strip(a.Into, a.Engagement), Preload: preload}
	s.Verdict = s.Under(preload)
	needed, helps := a.EngagementFor(a.Into, preload)
	if helps {
		s.Needed = needed
	}
	switch {
	case s.Verdict == Holds:
	case s.Most == 0:
		f.doubt(true, NothingHolds)
	case !helps:
		f.doubt(true, NoLengthHelps)
	case s.Verdict == Strips:
		f.doubt(true, ThreadsStrip)
	default:
		f.doubt(true, StripUndecided)
	}
	return s
}
