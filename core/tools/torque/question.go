package torque

import (
	"math"
	"slices"

	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/manual"
	"ohmwright/core/portable"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/plate"
	"ohmwright/core/tools/torque/speech"
)

// A question is what the reader asks about a torque, a pasted table and the bolts on a plate.
type question struct {
	fastener.Question
	given       quantity.Value  // the torque as given; the zero Value if a range or nothing was given
	own         []quantity.Unit // units that the reader's wrench shows, as far as known
	said        quantity.Unit   // unit for torques in the answer: the wrench's, or else the one given
	handleIn    quantity.Unit   // unit in which the wrench's length was given
	extensionIn quantity.Unit   // unit in which the adapter's length was given
	table       *manual.Table   // nil if none was pasted
	plate       bool            // the order of bolts is asked for
	patterned   bool            // some of the bolts belong to a pattern
	bolts       []bolts.Bolt    // the pattern's bolts come first
	passes      []bolts.Pass    // at least one
	counted     *bolts.Count    // nil if no steps were counted
}

func read(r *tool.Record, f *tool.Faults) question {
	table := checkAll(r, f)
	if f.Any() {
		return question{}
	}
	own := ownUnits(r)
	q := question{
		Question: asked(r), own: own, said: saidUnit(r, own), table: table,
		plate: single.Given(r) || pattern.Given(r), patterned: pattern.Given(r), bolts: boltsOf(r), passes: passesOf(r),
	}
	if wanted.Given(r) {
		q.given = wanted.Value(r)
	}
	if g := adapter.Of(r); adapter.Given(r) {
		q.handleIn, q.extensionIn = handle.Value(g).Unit, extension.Value(g).Unit
	}
	if g := progressOf.Of(r); progressOf.Given(r) {
		q.counted = &bolts.Count{Done: done.Of(g), Set: wrenchSet.Of(g), Of: countedIn.Of(g)}
	}
	return q
}

// asked reads the fields about the torque itself.
func asked(r *tool.Record) fastener.Question {
	q := fastener.Question{Torque: wanted.Of(r), Wrench: wrenchOf(wrench.Of(r))}
	if from.Given(r) {
		q.Torque = (from.Of(r) + to.Of(r)) / 2
		q.Wanted = &fastener.Span{Least: from.Of(r), Most: to.Of(r)}
	}
	if tolerance.Given(r) {
		t := toleranceOf(r)
		q.Wanted = &fastener.Span{Least: q.Torque - t, Most: q.Torque + t}
	}
	if second.Given(r) {
		q.Printed = &[2]quantity.Value{wanted.Value(r), second.Value(r)}
	}
	if adapter.Given(r) {
		a := adapterOf(adapter.Of(r))
		q.Adapter = &a
	}
	if screw.Given(r) {
		q.Assembly = assemblyOf(screw.Of(r))
	}
	return q
}

// toleranceOf returns the tolerance as a torque, whether it was given in per cent or as a torque.
func toleranceOf(r *tool.Record) quantity.Torque {
	t := tolerance.Of(r)
	if t.Kind == quantity.OfRatio {
		return quantity.Torque(t.In * float64(wanted.Of(r)))
	}
	return quantity.Torque(t.In)
}

func adapterOf(g *tool.Record) fastener.Adapter {
	return fastener.Adapter{Wrench: handle.Of(g), Extension: extension.Of(g), Angle: angle.Of(g)}
}

func wrenchOf(g *tool.Record) fastener.Wrench {
	return fastener.Wrench{Kind: kind.Of(g), Min: scaleFrom.Of(g), Max: scaleTo.Of(g), Graduation: graduation.Of(g),
		Deviation: deviation.Of(g)}
}

func assemblyOf(g *tool.Record) *fastener.Assembly {
	t, err := fastener.ParseThread(thread.Of(g))
	if err != nil {
		panic(err) // it was parsed when it was checked
	}
	a := &fastener.Assembly{
		Joint:          fastener.Joint{Thread: t, Class: class.Of(g), Friction: quantity.Ratio(friction.Of(g)), Utilisation: utilisation.Of(g)},
		FrictionWithin: quantity.Ratio(frictionWithin.Of(g)),
	}
	if m := into.Of(g); m != nil {
		a.Into, a.Engagement = *m, engagement.Of(g)
	}
	return a
}

// ownUnits returns the units that the reader's wrench shows, as far as they are known.
func ownUnits(r *tool.Record) (own []quantity.Unit) {
	g := wrench.Of(r)
	if u := shows.Of(g); u != nil {
		return []quantity.Unit{*u}
	}
	for _, h := range []torqueField{scaleTo, scaleFrom, graduation} {
		if h.Given(g) && h.OK(g) && !among(own, h.Value(g).Unit) {
			own = append(own, h.Value(g).Unit)
		}
	}
	return own
}

func among(units []quantity.Unit, u quantity.Unit) bool {
	return slices.ContainsFunc(units, func(other quantity.Unit) bool { return other.Symbol == u.Symbol })
}

// saidUnit returns the unit in which the answer gives torques.
func saidUnit(r *tool.Record, own []quantity.Unit) quantity.Unit {
	if len(own) > 0 {
		return own[0]
	}
	for _, h := range []torqueField{wanted, from, to} {
		if h.Given(r) && h.OK(r) {
			return h.Value(r).Unit
		}
	}
	return speech.Unit("N.m")
}

// plateMiddle is the centre of a generated pattern on the page's plate.
const plateMiddle = plate.Side / 2

// boltsOf returns the pattern's bolts, followed by the single ones.
func boltsOf(r *tool.Record) (all []bolts.Bolt) {
	if g := pattern.Of(r); pattern.Given(r) {
		w, h := width.Of(g), height.Of(g)
		for _, p := range form.Of(g)(count.Of(g), w, h) {
			all = append(all, bolts.Bolt{Point: bolts.Point{X: tidy(plateMiddle+p.X, w+h), Y: tidy(plateMiddle+p.Y, w+h)}})
		}
	}
	for _, row := range single.Of(r) {
		all = append(all, bolts.Bolt{Point: bolts.Point{X: across.Of(row), Y: up.Of(row)}, Length: length.Of(row), Kept: kept.Of(row)})
	}
	return all
}

// tidy rounds a coordinate of a pattern to 14 significant digits of the pattern's size; further digits are rounding errors of the sine.
func tidy(v, size float64) float64 {
	grain := portable.Pow(10, 13-math.Floor(portable.Log10(size)))
	return math.Round(v*grain) / grain
}

// passesOf returns the passes given, or those of common practice.
func passesOf(r *tool.Record) (passes []bolts.Pass) {
	for _, row := range passList.Of(r) {
		passes = append(passes, bolts.Pass{Kind: passIs.Of(row), Share: passShare.Of(row)})
	}
	if len(passes) == 0 {
		return []bolts.Pass{{Kind: bolts.Snug}, {Kind: bolts.ToShare, Share: 0.5}, {Kind: bolts.ToShare, Share: 1}, {Kind: bolts.Check}}
	}
	return passes
}
