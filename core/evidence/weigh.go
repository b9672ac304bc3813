// Package evidence weighs how likely readings on a circuit are under each of its faults.
//
// Bayes' rule gives the probability of each fault from the readings, integrated over the fault's parameter and over everything that
// nobody knows exactly. Parameter and winding are divided into pieces (core/doubt), of which those that tell nothing new are passed over
// (tally.go, spot.go), and what the driver may do into cases, joined where no reading tells them apart (bundle.go). Within each, what every
// reading should be is a guess (guess.go), and the readings have a joint normal distribution, whose covariance holds the doubts that they
// share. Words and codes are weighed beside them (core/selfcheck). A [Weigher] holds what came of it: the probabilities, what the readings
// tell beside them (tell.go), what tests to come would read (group.go, foresee.go), and what that would mean (trial.go, forecast.go).
//
// It ignores two faults at once, but for [Weigher.Pair]. What to do follows in core/diagnosis.
package evidence

import (
	"math"
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/quantity"
	"ohmwright/core/selfcheck"
	"ohmwright/core/winding"
)

// slip is how likely a reading is simply wrong: taken at the wrong pin, with a probe that slipped, or a digit misread. Such a
// reading may be anything. From experience; common practice has no figure.
const slip = 1e-3

// A node is a fault in one of its ways, with one piece of its parameter.
type node struct {
	fault circuit.Fault
	way   int
	x     doubt.Piece
}

// A Weigher works out how likely the readings are under each fault.
type Weigher struct {
	m        *circuit.Model    // with what readings tell beforehand: a temperature that was measured takes the place of the one typed
	readings []circuit.Reading // numbers, the latest of each test, in the order of tests
	words    []circuit.Reading // the same of what is read in words
	made     circuit.Set
	wanted   circuit.Set
	staged   bool // one of the readings depends on what the driver does
	typical  circuit.Nominal
	doubts   [circuit.Knobs]float64
	windings []doubt.Winding
	narrow   bool       // one look is enough for every winding
	brief    bool       // only the masses, and what is left, are asked for
	last     bool       // of that only the masses: nobody looks ahead from here
	ahead    bool       // divided as finely as with one reading more
	thorough bool       // nothing is passed over
	coil     [3]float64 // least, middle and largest healthy winding
	factor   []float64  // for each reading, of its winding over that of the model
	supply   []float64  // for each reading, of its supply over that of the model
	normal   float64    // the current of a healthy circuit
	driven   float64    // the supply while the driver is on, over that of the model; 0 if nobody has looked
	anyMost  float64    // at least what leaving a reading out can add: slip times the largest of any, and 1 for none
	any      []float64  // for each reading, the density of one that is simply wrong
	plain    []float64  // for each reading, the density in a healthy circuit

	alive    []living // those that one more reading could make likely
	groups   []group  // what is left of each fault, to look ahead from
	heaviest [circuit.Faults]sample
	mass     [circuit.Faults]float64
	whole    float64
	// The mass of drivers that stay off, of windings of one piece, and of those times their resistance.
	held, wholes, ohms float64
	idle               []float64                 // for each reading, the mass of its being taken while the driver was not on
	less               [][circuit.Faults]float64 // for each reading, the mass of each fault without it
	// misfit is the least χ² of the readings under a single fault that stays; without holds, for each reading, the same for the others.
	misfit   float64
	without  []float64
	plainest float64                 // the least χ² of the readings in a healthy circuit
	spare    [circuit.Faults]float64 // the least χ² of each fault if its worst reading is ignored

	swept         circuit.Sweep
	wounds        [3]circuit.Wound
	views         [3]circuit.View
	sound         [3]circuit.View // of a healthy circuit
	fixed         []fixed
	spots         []tally                // of the node at hand, for each piece of the winding
	tallies       []tally                // of the fault at hand, for each piece of its parameter
	stretches     []stretch              // of these
	parts         []part                 // of the stretches
	open          []group                // being filled
	acts          []circuit.Drive        // all that the driver may do
	spot          *tally                 // the one at hand
	fits          [circuit.Tests]*fixed  // of the bundle at hand
	idles         [circuit.Tests]float64 // for each reading, the density if the driver was not on; below 0 as long as nobody has asked
	steady        []int                  // the readings that do not depend on the driver
	told          staged                 // those with everything plugged in and the driver told to be on
	load          staged                 // that on the test load
	scene         []sceneOf              // for each reading, at the winding at hand
	toCome        [circuit.Tests]sceneOf // for each test to come, the same
	joint         doubt.Joint
	rest          doubt.Joint // the same without the worst reading
	bents         []bent      // of the readings, at the node at hand
	flow          bend        // of the current
	checks        [2]bend
	supplyU       [circuit.Tests]float64 // the supply's standard uncertainty, over the supply, in each test
	doubters      [circuit.Tests]circuit.Doubter
	output        circuit.Output
	drives        []circuit.Drive
	bundles       []bundle
	bundled       []uint8                   // for each drive, its bundle
	index         [circuit.Tests]int        // of the joint distribution's readings
	others, falls [circuit.Tests]float64    // what leaving each of them out changes
	current       circuit.Sight             // fully on, at the winding at hand
	before        *Weigher                  // nil unless only nodes about those of which it has left something are weighed
	trial         *Trial                    // nil unless one more reading is tried
	bad           [4][circuit.Tests]float64 // what tests read while a fault that comes and goes is there, from ComesGoesHarness on
}

// Weigh weighs every fault by readings.
func Weigh(m *circuit.Model, readings []circuit.Reading) *Weigher {
	w := newWeigher(m, readings)
	w.groups, w.open = make([]group, 0, 256), make([]group, 0, 16)
	w.all()
	return w
}

// newWeigher readies the weighing of readings.
func newWeigher(m *circuit.Model, readings []circuit.Reading) *Weigher {
	known := *m
	w := &Weigher{m: &known, misfit: math.Inf(1), plainest: math.Inf(1)}
	wide := false
	for _, r := range m.Latest(readings) {
		w.made = w.made.With(r.Test)
		switch {
		case r.Test == circuit.SupplyDriven && r.Value > 0:
			w.driven = r.Value / m.Supply
		case r.Test == circuit.Thermometer:
			known.Warmth = circuit.Warmth{Known: true, At: quantity.Temperature(r.Value), Within: thermometerWithin}
		case r.Word != circuit.NoWord:
			w.words = append(w.words, r)
			wide = wide || r.Word == circuit.No
		default:
			w.readings = append(w.readings, r)
			w.wanted = w.wanted.With(r.Test)
			w.stages(r.Test, len(w.readings)-1)
			if r.At != nil && !known.Warmth.Known {
				known.Warmth = circuit.Warmth{Known: true, At: *r.At, Within: circuit.WarmthWithin}
			}
		}
	}
	if m.Code != circuit.NoCode {
		w.wanted |= selfcheck.Tests
	}
	if w.load.some { // whether a driver has tripped by then, and what the control unit works with, hang on the current in the circuit
		w.wanted = w.wanted.With(circuit.CurrentOn)
	}
	w.typical, w.doubts = doubt.Typical(m)
	w.windings = doubt.Windings(&known, wide)
	lo, hi := w.windings[0], w.windings[len(w.windings)-1]
	w.coil = [3]float64{max(lo.Mean-2*lo.U, lo.Mean/2), 0, hi.Mean + 2*hi.U}
	w.coil[1] = (w.coil[0] + w.coil[2]) / 2
	w.narrow = w.coil[2] < narrow*w.coil[0]
	w.normal = w.m.HealthyAmperes()
	w.output = w.m.Output()
	for t := range w.supplyU {
		w.supplyU[t], w.doubters[t] = w.supplyDoubt(circuit.Test(t)), m.Doubter(circuit.Test(t))
	}
	w.spots = make([]tally, len(w.windings))
	w.arrange()
	return w
}

// arrange readies what is kept for each reading.
func (w *Weigher) arrange() {
	n := len(w.readings)
	w.fixed = make([]fixed, n)
	w.scene, w.any, w.plain = make([]sceneOf, n), make([]float64, n), make([]float64, n)
	w.factor, w.supply, w.idle = make([]float64, n), make([]float64, n), make([]float64, n)
	for k, r := range w.readings {
		w.any[k] = doubt.Anything(w.m, r)
		w.anyMost = max(w.anyMost, w.any[k], notOn)
		w.factor[k], w.supply[k] = 1, 1
		if r.At != nil {
			w.factor[k] = winding.Copper.Factor(w.m.Warmth.Middle(), *r.At)
		}
		switch {
		case r.Supply > 0:
			w.supply[k] = r.Supply / w.m.Supply
		case w.driven > 0 && circuit.Staged.Has(r.Test) && r.Test != circuit.SupplyDriven:
			w.supply[k] = w.driven
		}
	}
	w.less, w.without = make([][circuit.Faults]float64, n), make([]float64, n)
	for k := range w.without {
		w.without[k] = math.Inf(1)
	}
	for f := range w.spare {
		w.spare[f] = math.Inf(1)
	}
}

// stages notes how a reading of a test depends on what the driver does; k is -1 for one that is tried.
func (w *Weigher) stages(t circuit.Test, k int) {
	s := &w.load
	switch {
	case circuit.Told.Has(t):
		s = &w.told
	case t != circuit.VoltsLoad:
		if k >= 0 {
			w.steady = append(w.steady, k)
		}
		return
	}
	w.staged, s.some = true, true
	if k >= 0 {
		s.of = append(s.of, k)
	}
}

// thermometerWithin is the half-width of a thermometer's reading on a part, in kelvin: common practice.
const thermometerWithin = 3

// all weighs every fault.
func (w *Weigher) all() {
	if !w.last {
		w.room()
	}
	w.tallies = make([]tally, 72) // as many as most faults need
	w.sweep(node{fault: circuit.None}, w.wanted)
	w.look(0)
	w.sound = w.views
	w.weighFault(circuit.None)
	for f := circuit.None + 1; int(f) < circuit.Faults; f++ {
		switch {
		case w.m.Weights[f] == 0:
		case f == circuit.Other:
			w.weighOther()
		case f.ComesAndGoes():
			w.weighComing(f)
		default:
			w.weighFault(f)
		}
	}
	w.settle()
}

// room makes room for what is left: about as much as comes.
func (w *Weigher) room() {
	nodes := 160
	if w.fineness() == 1 {
		nodes = 640
	}
	spots := min(4096, nodes*len(w.windings))
	w.alive, w.stretches, w.parts = make([]living, 0, nodes), make([]stretch, 0, spots), make([]part, 0, 2*spots)
}

// settle makes sure that there is something left: where nothing that has a weight could give such readings, it is none of that.
func (w *Weigher) settle() {
	if !(w.whole > 0) || math.IsInf(w.whole, 0) {
		w.mass = [circuit.Faults]float64{circuit.Other: 1}
		w.whole = 1
		w.groups = nil
		w.joinOther(1)
	}
	for k := range w.less {
		sum := 0.0
		for _, q := range w.less[k] {
			sum += q
		}
		if !(sum > 0) {
			w.less[k][circuit.Other] = 1
		}
	}
}

// prior returns the weight of a fault, with what is known beside numbers.
func (w *Weigher) prior(f circuit.Fault) float64 {
	p := w.m.Weights[f] * w.m.ShowsNow(f)
	for _, r := range w.words {
		p *= circuit.Said(f, r)
	}
	return p
}

// weighFault weighs a fault that is there all the time.
func (w *Weigher) weighFault(f circuit.Fault) {
	prior := w.prior(f)
	parts := doubt.Pieces(w.m.Spread(f), w.fineness())
	same := w.m.Untouched(f) & w.wanted
	w.asSound(same)
	if same == w.wanted { // all its parameters read alike
		w.weighOne(node{fault: f, x: doubt.Whole(parts)}, prior, nil)
		return
	}
	if n := f.Ways() * len(parts); len(w.tallies) < n {
		w.tallies = make([]tally, n)
	}
	for way := range f.Ways() {
		w.weighWay(f, way, parts, prior/float64(f.Ways()), w.wanted&^same)
	}
	w.join(w.tallies[:f.Ways()*len(parts)])
}

// weighOne weighs a fault that is one node.
func (w *Weigher) weighOne(n node, weight float64, skip skipper) {
	w.tallies[0].begin(n, 0, 1, len(w.readings))
	w.weighNode(&w.tallies[0], weight, skip)
	w.addNode(0)
	w.join(w.tallies[:1])
}

// fineness returns how finely parameters are divided, beside the finest: hardly, as long as there is little to compare them with. A
// reading that is tried counts as taken, so that what is foreseen of it holds once it is.
func (w *Weigher) fineness() float64 {
	n := len(w.readings)
	if w.ahead {
		n++
	}
	switch n {
	case 0:
		return 0.25
	case 1:
		return 0.6
	}
	return 1
}

// A skipper leaves a reading out where it is as it should be for another reason; factor is then how likely that is.
type skipper func(k int, g *doubt.Guess) (factor float64, skip bool)

// draw draws the curves of a node along the winding.
func (w *Weigher) draw(n *node) {
	if w.bents == nil {
		w.bents = make([]bent, len(w.readings))
		for k := range w.readings {
			t := w.readings[k].Test
			w.bents[k] = bent{w.on(t), w.off(t)}
		}
		w.flow, w.checks = w.on(circuit.CurrentOn), [2]bend{w.inside(0), w.inside(1)}
	}
	for k := range w.bents {
		w.bents[k].draw(w.narrow)
	}
	w.flow.draw(w.narrow)
	if selfcheck.Counts(w.m, n.fault) {
		w.checks[0].draw(w.narrow)
		w.checks[1].draw(w.narrow)
	}
}

// A fixed is what is known of a reading whatever the driver does.
type fixed struct {
	doubt.Guess
	off, v, z2 float64 // the reading's distance from the guess, its variance, and the square of one over the other
	sure       float64 // its factor if it is OL or should be, or is left out
	// OL or number where it should be the other; not a number to be weighed.
	apart, alone bool
	side         int8 // on which side of the guess it is: 1 or -1 near it, 2 or -2 else; 0 if it is no number, or should be none
}

// fix works out the guesses that do not depend on what the driver does, and what the others rest on. It returns false if two of them are
// so far from their readings that the node cannot matter.
func (w *Weigher) fix(n *node, of *doubt.Winding, skip skipper) bool {
	far := 0
	for k := range w.readings {
		w.idles[k] = -1
	}
	for _, k := range w.steady {
		f := &w.fixed[k]
		w.view(w.readings[k].Test, &w.bents[k], n, of, w.factor[k], &w.scene[k])
		w.fit(k, &circuit.Wholly, skip, f)
		if f.apart || !f.alone && f.z2 > doubt.Hopeless {
			far++
		}
	}
	if far > 1 && n.fault != circuit.None {
		return false
	}
	for _, g := range [...]*staged{&w.told, &w.load} {
		for _, k := range g.of {
			w.view(w.readings[k].Test, &w.bents[k], n, of, w.factor[k], &w.scene[k])
		}
	}
	return true
}

// fit works out what a reading is beside its guess.
func (w *Weigher) fit(k int, l *circuit.Left, skip skipper, f *fixed) {
	r := &w.readings[k]
	w.guess(r.Test, &w.scene[k], l, w.supply[k], &f.Guess)
	path := !math.IsInf(f.Value, 0)
	f.sure, f.apart, f.alone, f.side = 1, false, false, 0
	if skip != nil {
		if factor, is := skip(k, &f.Guess); is {
			f.sure, f.alone = factor, true
			return
		}
	}
	switch {
	case r.Over && !path:
		f.alone = true
	case r.Over || !path:
		f.sure, f.alone, f.apart = slip*w.any[k], true, true
	default:
		f.off, f.v = r.Value-f.Value, f.Variance()
		f.z2, f.side = f.off*f.off/f.v, 1
		if f.z2 > unseen {
			f.side = 2
		}
		if f.off < 0 {
			f.side = -f.side
		}
	}
}

// code returns how likely the code is under a node, at one piece of the winding.
func (w *Weigher) code(n *node, of *doubt.Winding) float64 {
	if !selfcheck.Counts(w.m, n.fault) {
		return selfcheck.View{}.Chance(w.m, n.fault, w.normal)
	}
	var s circuit.Sight
	see := func(b *bend) doubt.Estimate {
		w.along(b, n, of, 1, &s)
		u := 0.0
		for _, by := range s.By {
			u += by * by
		}
		return doubt.Estimate{Value: s.Value, U: math.Sqrt(u)}
	}
	return selfcheck.View{Off: see(&w.checks[0]), On: see(&w.checks[1]), Amperes: see(&w.flow)}.Chance(w.m, n.fault, w.normal)
}

// Chances returns the faults' probabilities.
func (w *Weigher) Chances() (p [circuit.Faults]float64) {
	for f := range p {
		p[f] = w.mass[f] / w.whole
	}
	return p
}

// leaving returns how probable a repair would be without one reading.
func (w *Weigher) leaving(k int, r circuit.Repair) float64 {
	sum, own := 0.0, 0.0
	for f, mass := range w.less[k] {
		sum += mass
		if w.m.Repair(circuit.Fault(f)) == r {
			own += mass
		}
	}
	return own / sum
}

// Model returns the circuit, with the temperature that readings tell.
func (w *Weigher) Model() *circuit.Model { return w.m }

// Repairs returns the same by repair.
func (w *Weigher) Repairs() [circuit.Repairs]float64 {
	p := w.Chances()
	return w.m.ByRepair(&p)
}

// Looks are the tests that look at what was typed once for all readings: they change what the others mean.
const Looks = circuit.Set(1)<<circuit.Thermometer | 1<<circuit.SupplyDriven | 1<<circuit.RowApplies

// After returns the probabilities of the repairs after one more look at what was typed: the temperature, the supply or the row. It
// changes what the readings mean, so they are weighed again.
func (w *Weigher) After(readings []circuit.Reading, more circuit.Reading) [circuit.Repairs]float64 {
	before := w
	w = newWeigher(w.m, append(slices.Clone(readings), more))
	w.brief, w.last = true, true
	if len(w.readings) > 0 && more.Word != circuit.No { // the winding of another row may be anything
		w.before = before
	}
	w.all()
	return w.Repairs()
}

// Said returns the probabilities of the repairs after one more reading in words, of a test not made yet.
func (w *Weigher) Said(readings []circuit.Reading, more circuit.Reading) (r [circuit.Repairs]float64) {
	if more.Word == circuit.No { // the winding is another one
		return w.After(readings, more)
	}
	sum := 0.0
	for f, mass := range w.mass {
		mass *= circuit.Said(circuit.Fault(f), more)
		r[w.m.Repair(circuit.Fault(f))] += mass
		sum += mass
	}
	for i := range r {
		r[i] /= sum
	}
	return r
}

// Numbers returns how many of the readings are numbers or OL.
func (w *Weigher) Numbers() int { return len(w.readings) }

// Made reports whether there is a reading of a test.
func (w *Weigher) Made(t circuit.Test) bool { return w.made.Has(t) }
