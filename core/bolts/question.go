package bolts

import (
	"hash/fnv"
	"strconv"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A Question asks for the order in which bolts are tightened, and for what to set in each pass.
type Question struct {
	Bolts   []Bolt
	Passes  []Pass            // at least one
	Torque  fastener.Question // of which the passes are parts
	Counted *Count            // nil if no steps were counted
}

// A Bolt is a bolt on a plate, its place in mm.
type Bolt struct {
	Point
	Length quantity.Length // 0 if it is not given
	Kept   bool            // it is not to be undone
}

// A Pass is one round of a tightening.
type Pass struct {
	Kind  PassKind
	Share quantity.Ratio // of the torque, of a pass to a share
}

// A PassKind is what a pass does.
type PassKind string

// The kinds of passes.
const (
	ToShare PassKind = "share"
	Snug    PassKind = "snug"  // by hand
	Check   PassKind = "check" // with the full torque
)

// Part returns the part of the torque that a pass goes to; 0 if it is by hand.
func (p Pass) Part() quantity.Ratio {
	switch p.Kind {
	case ToShare:
		return p.Share
	case Check:
		return 1
	}
	return 0
}

// A Count is how far a tightening had come when its steps were counted.
type Count struct {
	Done int    // steps
	Set  int    // the pass that the wrench was set for, counted from 1
	Of   string // what they were counted in: see [Finding]
}

// A Finding is in which order bolts are tightened, and how far that has come.
type Finding struct {
	Bolts      []Placed
	Order      []int // indices of Bolts, in the order of tightening
	Passes     []PassFound
	Lengths    []LengthCount // by their first bolt
	Adjacent   int           // steps from a bolt to its neighbour that no order avoids
	Coincident int           // bolts that lie where another one does
	Steps      int
	Of         string    // the same for the same places in the same order, tightened to the same torques with the same settings
	Progress   *Progress // nil if no steps were counted
	Falls      []int     // passes that go to less than one before them, counted from 1
	Most       quantity.Ratio
	Low        int // the last pass whose setting the wrench does not reach, counted from 1; 0 for none
	Doubts     []Doubt
}

// A Placed bolt has its place in the order, counted from 1; 0 if it is not to be undone.
type Placed struct {
	Bolt
	Number int
}

// A PassFound is a pass and what to set for it.
type PassFound struct {
	Pass
	fastener.Portion
}

// A LengthCount is how many bolts have a length; 0 is the length of those whose is not given.
type LengthCount struct {
	Length quantity.Length
	Count  int
}

// A Progress is how far a tightening has come.
type Progress struct {
	Done    int  // steps
	Set     int  // the pass that the wrench was set for, counted from 1
	Changed bool // the order or the passes were others when the steps were counted
}

// A Doubt is something that the reader has to know of a tightening.
type Doubt string

// The doubts, in the order in which they are told.
const (
	PassesFall  Doubt = "passes_fall"
	PassesShort Doubt = "passes_short" // no pass goes to the whole torque
	PassLow     Doubt = "pass_low"
	Coincide    Doubt = "coincident"
	Neighbour   Doubt = "neighbours"
	Changed     Doubt = "changed"
)

// Find puts the bolts in order and judges the passes.
func (q Question) Find() Finding {
	f := Finding{}
	var points []Point
	var rows []int
	for i, b := range q.Bolts {
		f.Bolts = append(f.Bolts, Placed{Bolt: b})
		if b.Kept {
			continue
		}
		points, rows = append(points, b.Point), append(rows, i)
		f.countLength(b.Length)
	}
	order := Order(points)
	for k, i := range order {
		f.Bolts[rows[i]].Number = k + 1
		f.Order = append(f.Order, rows[i])
	}
	f.Adjacent, f.Coincident = AdjacentSteps(order, points), coinciding(points)
	for _, p := range q.Passes {
		f.Passes = append(f.Passes, PassFound{p, q.Torque.Portion(p.Part())})
	}
	f.judgePasses()
	f.Steps, f.Of = len(f.Order)*len(f.Passes), f.fingerprint(q.Torque.Adapter != nil)
	if c := q.Counted; c != nil {
		f.Progress = &Progress{c.Done, c.Set, c.Of != f.Of || c.Done > f.Steps}
	}
	f.judge()
	return f
}

// countLength counts one more bolt of a length.
func (f *Finding) countLength(length quantity.Length) {
	for i, l := range f.Lengths {
		if l.Length == length {
			f.Lengths[i].Count++
			return
		}
	}
	f.Lengths = append(f.Lengths, LengthCount{length, 1})
}

// judgePasses finds passes that the wrench does not reach, that end below the torque, or that fall.
func (f *Finding) judgePasses() {
	for i, p := range f.Passes {
		part := p.Part()
		if part > 0 && part < f.Most {
			f.Falls = append(f.Falls, i+1)
		}
		f.Most = max(f.Most, part)
		if p.Use != nil && *p.Use != fastener.Usable && part < 1 {
			f.Low = i + 1
		}
	}
}

// judge collects the doubts.
func (f *Finding) judge() {
	note := func(is bool, d Doubt) {
		if is {
			f.Doubts = append(f.Doubts, d)
		}
	}
	note(len(f.Falls) > 0, PassesFall)
	note(f.Most < 1, PassesShort)
	note(f.Low > 0, PassLow)
	note(f.Coincident > 0, Coincide)
	note(f.Adjacent > 0 && len(f.Order) > 4, Neighbour)
	note(f.Progress != nil && f.Progress.Changed, Changed)
}

// UnderWay reports whether steps were counted that still hold.
func (f Finding) UnderWay() bool { return f.Progress != nil && !f.Progress.Changed }

// At returns what comes after a count of steps: the pass and the bolt's place in the order, both from 0. There has to be a bolt.
func (f Finding) At(done int) (pass, place int) { return done / len(f.Order), done % len(f.Order) }

// coinciding counts the bolts that lie where another one does.
func coinciding(points []Point) (n int) {
	seen := map[Point]bool{}
	for _, p := range points {
		if seen[p] {
			n++
		}
		seen[p] = true
	}
	return n
}

// fingerprint makes [Finding.Of]. Without an adapter the settings are the torques.
func (f Finding) fingerprint(adapter bool) string {
	h := fnv.New32a()
	number := func(v float64, format byte, digits int) {
		h.Write(append(strconv.AppendFloat(nil, v, format, digits, 64), ' '))
	}
	for _, i := range f.Order {
		number(f.Bolts[i].X, 'f', 2)
		number(f.Bolts[i].Y, 'f', 2)
	}
	for _, p := range f.Passes {
		h.Write([]byte(p.Kind))
		if p.Kind == ToShare {
			number(float64(p.Share), 'g', 6)
		}
		if p.Torque > 0 {
			number(float64(p.Torque), 'g', 6)
			if adapter {
				number(float64(p.Setting), 'g', 6)
			}
		}
	}
	return strconv.FormatUint(uint64(h.Sum32()), 16)
}
