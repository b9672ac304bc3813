package bolts

import (
	"hash/fnv"
	"slices"
	"strconv"
	"sync/atomic"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// A Question asks for the order in which bolts are tightened, and for what to set in each pass.
type Question struct {
	Bolts   []Bolt
	Passes  []Pass            // at least one
	Torque  fastener.Question // the full torque; passes go to parts of it
	Counted *Count            // nil if no steps were counted
}

// A Bolt is a bolt on a plate. Its place is in mm.
type Bolt struct {
	Point
	Length quantity.Length // 0 if it is not given
	Kept   bool            // it stays in place
}

// A Pass is one round of a tightening.
type Pass struct {
	Kind  PassKind
	Share quantity.Ratio // of the full torque; only for ToShare
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

// A Count says how far a tightening had come when its steps were counted.
type Count struct {
	Done int    // steps
	Set  int    // the pass that the wrench was set for, counted from 1
	Of   string // identifies the order and passes in which they were counted: see [Finding]
}

// A Finding is the order in which bolts are tightened, and how far the tightening has come.
type Finding struct {
	Bolts      []Placed
	Order      []int // indices of Bolts, in the order of tightening
	Passes     []PassFound
	Lengths    []LengthCount // in the order of the first bolt of each length
	Adjacent   int           // steps between neighbours that no order avoids
	Coincident int           // bolts in the same place as an earlier one
	Steps      int
	Of         string    // identifies places, order, torques and settings: it changes if any of them does
	Progress   *Progress // nil if no steps were counted
	Falls      []int     // passes, from 1, that go to less than an earlier one
	Most       quantity.Ratio
	Low        int // the last pass, from 1, for which the wrench cannot be set; 0 for none
	Doubts     []Doubt
}

// A Placed is a bolt and its number in the order, from 1; 0 if it stays in place.
type Placed struct {
	Bolt
	Number int
}

// A PassFound is a pass and what to set for it.
type PassFound struct {
	Pass
	fastener.Portion
}

// A LengthCount says how many bolts have a length. Length 0 stands for bolts whose length is not given.
type LengthCount struct {
	Length quantity.Length
	Count  int
}

// A Progress says how far a tightening has come.
type Progress struct {
	Done    int  // steps
	Set     int  // the pass that the wrench was set for, counted from 1
	Changed bool // the order or the passes have changed since the steps were counted
}

// A Doubt is something that the reader must know about a tightening.
type Doubt string

// The doubts, in the order in which they are told.
const (
	PassesFall  Doubt = "passes_fall"
	PassesShort Doubt = "passes_short" // no pass reaches the full torque
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
	order, adjacent := orderedAgain(points)
	for k, i := range order {
		f.Bolts[rows[i]].Number = k + 1
		f.Order = append(f.Order, rows[i])
	}
	f.Adjacent, f.Coincident = adjacent, coinciding(points)
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

// last is the order that was found last.
var last atomic.Pointer[found]

// A found is an order of bolts with what it was found for.
type found struct {
	at       []Point
	order    []int
	adjacent int
}

// orderedAgain does what ordered does, but works out an order once where the same one is asked for again: who types a torque beside forty
// bolts does not wait for their order at each keystroke. The order must not be changed.
func orderedAgain(at []Point) (order []int, adjacent int) {
	f := last.Load()
	if f == nil || !slices.Equal(f.at, at) {
		f = &found{at: at}
		f.order, f.adjacent = ordered(at)
		last.Store(f)
	}
	return f.order, f.adjacent
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

// judgePasses finds passes for which the wrench cannot be set, and passes that go to less than an earlier one. Most
// becomes the largest part that a pass goes to.
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

// UnderWay reports whether steps were counted and the count is still valid.
func (f Finding) UnderWay() bool { return f.Progress != nil && !f.Progress.Changed }

// At returns the pass and the bolt's place in the order, both from 0, that follow after done steps. There must be a bolt.
func (f Finding) At(done int) (pass, place int) { return done / len(f.Order), done % len(f.Order) }

// coinciding returns how many bolts are in the same place as an earlier one.
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

// fingerprint returns [Finding.Of]. Without an adapter it leaves the settings out, as they equal the torques.
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
