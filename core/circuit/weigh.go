package circuit

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// slip is how likely a reading is simply wrong: taken at the wrong pin, with a probe that slipped, or a digit misread. Such a
// reading may be anything. From experience; common practice has no figure.
const slip = 1e-3

// mismatch is the distance, in standard deviations, that counts if one of guess and reading is OL and the other a number.
const mismatch = 12

// A node is a fault in one of its ways, with one piece of its parameter.
type node struct {
	fault Fault
	way   int
	x     piece
}

// A sample is a node with one piece of the winding and one thing that the driver may do; its mass is the weight of that after
// the readings, before normalising.
type sample struct {
	node  node
	wound *wound
	drive drive
	mass  float64
}

// A weigher works out how likely the readings are under each fault.
type weigher struct {
	m        *Model
	readings []Reading // numbers, the latest of each test, in the order of tests
	words    []Reading // the same of what is read in words
	made     set
	wanted   set
	staged   bool // one of the readings depends on what the driver does
	typical  Nominal
	doubts   [knobs]float64
	windings []wound
	narrow   bool       // one look is enough for every winding
	coil     [3]float64 // least, middle and largest healthy winding
	factor   []float64  // for each reading, of its winding over that of the model
	supply   []float64  // for each reading, of its supply over that of the model
	normal   float64    // the current of a healthy circuit
	driven   float64    // the supply while the driver is on, over that of the model; 0 if nobody has looked
	anyMost  float64    // at least what leaving a reading out can add: slip times the largest of any, and 1 for none
	any      []float64  // for each reading, the density of one that is simply wrong
	plain    []float64  // for each reading, the density in a healthy circuit

	alive   []node // those that one more reading could make likely
	samples []sample
	mass    [Faults]float64
	whole   float64
	idle    []float64         // for each reading, the mass of its being taken while the driver was not on
	less    [][Faults]float64 // for each reading, the mass of each fault without it
	// misfit is the least χ² of the readings under a single fault that stays; without holds, for each reading, the same for the others.
	misfit   float64
	without  []float64
	plainest float64         // the least χ² of the readings in a healthy circuit
	spare    [Faults]float64 // the least χ² of each fault if its worst reading is ignored

	views     [3]view
	fixed     []fixed
	scene     []sceneOf // for each reading, at the winding at hand
	joint     joint
	drives    []drive
	current   sight             // fully on, at the winding at hand
	kept      map[node]bool     // nil unless only these nodes are weighed
	keptWhole [Faults]bool      // faults of which all nodes are
	trial     *trial            // nil unless one more reading is tried
	bad       [4][Tests]float64 // what tests read while a fault that comes and goes is there, from ComesGoesHarness on
}

// A sceneOf is what a reading should be at one value of the winding.
type sceneOf struct {
	sight
	off float64
}

// latest returns the last reading of each possible test, in the order of tests, so that the order of the readings changes nothing
// else.
func (m *Model) latest(readings []Reading) (kept []Reading) {
	var by [Tests]*Reading
	for i := range readings {
		by[readings[i].Test] = &readings[i]
	}
	for _, r := range by {
		if r != nil && r.Test.Possible(m.Side, m.Return) {
			kept = append(kept, *r)
		}
	}
	return kept
}

func newWeigher(m *Model, readings []Reading) *weigher {
	known := *m
	w := &weigher{m: &known, misfit: math.Inf(1), plainest: math.Inf(1)}
	wide := false
	for _, r := range m.latest(readings) {
		w.made = w.made.with(r.Test)
		switch {
		case r.Test == SupplyDriven && r.Value > 0:
			w.driven = r.Value / m.Supply
		case r.Test == Thermometer:
			known.Warmth = Warmth{true, quantity.Temperature(r.Value), thermometerWithin}
		case r.Word != NoWord:
			w.words = append(w.words, r)
			wide = wide || r.Word == No
		default:
			w.readings = append(w.readings, r)
			w.wanted = w.wanted.with(r.Test)
			w.staged = w.staged || staged.has(r.Test)
			if r.At != nil && !known.Warmth.Known {
				known.Warmth = Warmth{true, *r.At, WarmthWithin}
			}
		}
	}
	if m.Code != NoCode {
		w.wanted |= codeTests
	}
	w.typical, w.doubts = m.typical()
	w.windings = known.windings(wide)
	lo, hi := w.windings[0], w.windings[len(w.windings)-1]
	w.coil = [3]float64{max(lo.mean-2*lo.u, lo.mean/2), 0, hi.mean + 2*hi.u}
	w.coil[1] = (w.coil[0] + w.coil[2]) / 2
	w.narrow = w.coil[2] < narrow*w.coil[0]
	w.normal = w.m.expectedCurrent()
	n := len(w.readings)
	w.fixed = make([]fixed, n)
	w.scene, w.any, w.plain = make([]sceneOf, n), make([]float64, n), make([]float64, n)
	w.factor, w.supply, w.idle = make([]float64, n), make([]float64, n), make([]float64, n)
	for k, r := range w.readings {
		w.any[k] = w.m.anything(r)
		w.anyMost = max(w.anyMost, w.any[k], notOn)
		w.factor[k], w.supply[k] = 1, 1
		if r.At != nil {
			w.factor[k] = winding.Copper.Factor(known.warmest(), *r.At)
		}
		switch {
		case r.Supply > 0:
			w.supply[k] = r.Supply / m.Supply
		case w.driven > 0 && staged.has(r.Test) && r.Test != SupplyDriven:
			w.supply[k] = w.driven
		}
	}
	w.less, w.without = make([][Faults]float64, n), make([]float64, n)
	for k := range w.without {
		w.without[k] = math.Inf(1)
	}
	for f := range w.spare {
		w.spare[f] = math.Inf(1)
	}
	return w
}

// thermometerWithin is the half-width of a thermometer's reading on a part, in kelvin: common practice.
const thermometerWithin = 3

// warmest returns the temperature that the winding is taken to have in the middle.
func (m *Model) warmest() quantity.Temperature {
	if !m.Warmth.Known {
		return winding.Anywhere.Middle()
	}
	return m.Warmth.At
}

// anything returns the density of a reading that is simply wrong.
func (m *Model) anything(r Reading) float64 {
	switch tests[r.Test].quantity {
	case Volts:
		return 1 / (m.Supply + 1)
	case Amperes:
		return 1 / ((math.Abs(r.Value) + 0.05) * 7.6) // uniform in the logarithm, 0.05 to 100 A
	}
	if r.Over {
		return 0.25
	}
	return 0.75 / ((math.Abs(r.Value) + 0.1) * 19.8) // uniform in the logarithm, 0.1 ohm to 40 Mohm
}

// A curve is a value as a function of the winding, t from 0 to 1. The response of a network of resistors to one of its
// resistances is a quotient of two straight lines. Where the winding counts as two resistances, the curve is still right at both
// ends and in the middle.
type curve struct{ a, b, d float64 }

// through returns the curve through the values at t = 0, 0.5 and 1.
func through(y0, y1, y2 float64) curve {
	if math.IsInf(y0, 0) || math.IsInf(y2, 0) || math.Abs(y2-y0) <= 1e-9*math.Abs(y1) {
		return curve{a: y1}
	}
	d := (y0 + y2 - 2*y1) / (y1 - y2)
	if !(d > -0.99 && d < 1e3) {
		return curve{y0, y2 - y0, 0}
	}
	return curve{y0, y2*(1+d) - y0, d}
}

func (c curve) at(t float64) float64 { return (c.a + c.b*t) / (1 + c.d*t) }

// narrow is the ratio of the largest to the least winding below which one look in the middle, with its slope, is good enough.
const narrow = 1.35

// look works out what the wanted tests should read under a node: at three values of the winding, or at the middle one.
func (w *weigher) look(n node, wanted set) {
	for i, coil := range w.coil {
		if w.narrow && i != 1 {
			continue
		}
		c := w.m.chain(&w.typical, coil).with(n.fault, n.x.mean, n.way)
		c.predict(wanted, &w.views[i])
	}
}

// along returns what is seen at one value of the winding, with slopes for one standard deviation of each knob, from the same at
// three values.
func (w *weigher) along(lo, middle, hi *sight, n *node, of *wound, factor float64) (s sight) {
	if w.narrow {
		s = *middle
		if !math.IsInf(s.value, 0) {
			s.value += s.by[coilKnob] * (of.mean*factor - w.coil[1])
		}
		for k := range s.by {
			switch k {
			case coilKnob:
				s.by[k] *= of.u * factor
			case faultKnob:
				s.by[k] *= n.x.u
			default:
				s.by[k] *= w.doubts[k]
			}
		}
		return s
	}
	at := w.place(of.mean * factor)
	s.value = middle.value
	if !math.IsInf(s.value, 0) {
		s.value = through(lo.value, s.value, hi.value).at(at)
	}
	a, b, share := &lo.by, &middle.by, 2*at
	if at > 0.5 {
		a, b, share = b, &hi.by, 2*at-1
	}
	share = min(1, max(0, share))
	for k := range s.by {
		u := w.doubts[k]
		switch k {
		case coilKnob:
			u = of.u * factor
		case faultKnob:
			u = n.x.u
		}
		s.by[k] = (a[k] + (b[k]-a[k])*share) * u
	}
	return s
}

// place returns where a winding is between the least and the largest, 0 to 1.
func (w *weigher) place(coil float64) float64 {
	if span := w.coil[2] - w.coil[0]; span > 0 {
		return (coil - w.coil[0]) / span
	}
	return 0.5
}

// seen returns what a test should read at one value of the winding, and what it would read if the driver stayed off.
func (w *weigher) seen(t Test, n *node, of *wound, factor float64) (s sceneOf) {
	v := &w.views
	s.sight = w.along(&v[0].on[t], &v[1].on[t], &v[2].on[t], n, of, factor)
	switch {
	case !staged.has(t):
	case w.narrow:
		s.off = v[1].off[t]
	default:
		s.off = through(v[0].off[t], v[1].off[t], v[2].off[t]).at(w.place(of.mean * factor))
	}
	return s
}

// guess works out what a test should read, with the driver doing one thing.
func (w *weigher) guess(t Test, s *sceneOf, d *drive, supply float64, g *guess) {
	g.shared = [columns]float64{}
	copy(g.shared[:], s.by[:])
	g.value = s.value
	if staged.has(t) {
		if share, u := d.of(t, w.current.value, w.m.loadAmperes()); share != 1 || u != 0 {
			g.value = s.off + share*(s.value-s.off)
			for k := range knobs {
				g.shared[k] *= share
				if d.holds && t != VoltsLoad { // what lets less current flow makes the driver stay on for longer
					g.shared[k] -= share * (s.value - s.off) * w.current.by[k] / w.current.value
				}
			}
			g.shared[driveColumn] = (s.value - s.off) * u
		}
	}
	q := t.Quantity()
	if q == Volts || q == Amperes {
		g.value *= supply
		g.shared[supplyColumn] = g.value * w.supplyDoubt(t)
	}
	g.shared[meterColumn+q], g.own = w.m.doubts(t, g.value)
}

// supplyDoubt returns the standard uncertainty of the supply of a test, over the supply. Where it was measured while driven, it is the
// meter's for whatever is measured then.
func (w *weigher) supplyDoubt(t Test) float64 {
	if w.driven > 0 && staged.has(t) {
		return w.m.Meters[Volts].U(w.driven*w.m.Supply) / (w.driven * w.m.Supply)
	}
	return measure.Rectangular(w.m.SupplyWithin) / w.m.Supply
}

// doubts returns what one meter's common error moves a reading by, as a standard deviation, and the variance of the rest.
func (m *Model) doubts(t Test, value float64) (common, own float64) {
	if math.IsInf(value, 0) {
		return 0, 0
	}
	q := tests[t].quantity
	s := spreadOhms
	switch {
	case q == Amperes:
		s = spreadOfCurrent*math.Abs(value) + spreadAmperes
	case t == VoltsUnitFeed || t == VoltsUnitGround:
		s = spreadOfPower
	case q == Volts:
		s = spreadVolts
	}
	both, single := m.Meters[q].at(value).Split(value)
	return measure.Rectangular(both), s*s + single*single/3
}

// spreadOfPower is the spread of the control unit's own feed and ground, which carry what it draws for everything, in volt.
const spreadOfPower = 0.1

// all weighs every fault.
func (w *weigher) all() {
	w.weighFault(None)
	for f := None + 1; int(f) < Faults; f++ {
		switch {
		case w.m.Weights[f] == 0:
		case f == Other:
			w.weighOther()
		case f.ComesAndGoes():
			w.weighComing(f)
		default:
			w.weighFault(f)
		}
	}
	w.settle()
}

// settle makes sure that there is something left: where nothing that has a weight could give such readings, it is none of that.
func (w *weigher) settle() {
	if !(w.whole > 0) || math.IsInf(w.whole, 0) {
		w.mass = [Faults]float64{Other: 1}
		w.whole = 1
		w.samples = []sample{{node{Other, 0, piece{share: 1}}, &w.windings[len(w.windings)/2], fully, 1}}
	}
	for k := range w.less {
		sum := 0.0
		for _, q := range w.less[k] {
			sum += q
		}
		if !(sum > 0) {
			w.less[k][Other] = 1
		}
	}
}

// prior returns the weight of a fault, with what is known beside numbers.
func (w *weigher) prior(f Fault) float64 {
	p := w.m.Weights[f] * w.m.shows(f)
	for _, r := range w.words {
		p *= said(f, r)
	}
	return p
}

// weighFault weighs a fault that is there all the time.
func (w *weigher) weighFault(f Fault) {
	prior := w.prior(f)
	pieces := w.m.spread(f).pieces(w.fineness())
	if w.m.untouched(f)&w.wanted == w.wanted { // all its parameters read alike
		w.look(node{fault: None}, w.wanted)
		w.weighNode(node{fault: f, x: whole(pieces)}, prior, nil)
		return
	}
	for way := range ways(f) {
		for _, x := range pieces {
			n := node{f, way, x}
			if w.leaves(n) {
				continue
			}
			w.look(n, w.wanted)
			w.weighNode(n, prior*x.share/float64(ways(f)), nil)
		}
	}
}

// fineness returns how finely parameters are divided, beside the finest: hardly, as long as there is little to compare them with.
func (w *weigher) fineness() float64 {
	switch {
	case len(w.readings) == 1:
		return 0.6
	case len(w.readings) > 1:
		return 1
	case w.trial != nil:
		return 0.5
	}
	return 0.25
}

// weighNode weighs a node with every piece of the winding. Readings in skip are left out.
func (w *weigher) weighNode(n node, weight float64, skip func(k int, g *guess) (factor float64, skip bool)) {
	for i := range w.windings {
		of := &w.windings[i]
		for k, r := range w.readings {
			w.scene[k] = w.seen(r.Test, &n, of, w.factor[k])
		}
		if w.trial != nil {
			w.trial.scene = w.seen(w.trial.test, &n, of, 1)
		}
		mass := weight * of.share * w.code(&n, of)
		w.drives = append(w.drives[:0], fully)
		if w.staged {
			w.current = w.along(&w.views[0].on[CurrentOn], &w.views[1].on[CurrentOn], &w.views[2].on[CurrentOn], &n, of, 1)
			w.drives = w.m.drives(n.fault, w.current.value, w.normal, w.views[1].volts, w.drives)
		}
		if !w.fix(skip) && n.fault != None {
			continue
		}
		for d := range w.drives {
			w.weigh(n, of, &w.drives[d], mass*w.drives[d].chance, skip)
		}
	}
}

// A fixed is what is known of a reading whatever the driver does.
type fixed struct {
	guess
	off  float64
	sure float64 // its factor if it is OL or should be, or is left out
	apart,
	alone bool // OL or number where it should be the other; not a number to be weighed
}

// fix works out the guesses that do not depend on what the driver does. It returns false if two of them are so far from their readings
// that the node cannot matter.
func (w *weigher) fix(skip func(int, *guess) (float64, bool)) bool {
	far := 0
	for k := range w.readings {
		if staged.has(w.readings[k].Test) {
			continue
		}
		f := &w.fixed[k]
		w.fit(k, &fully, skip, f)
		if f.apart || !f.alone && f.off*f.off > hopeless*f.variance() {
			far++
		}
	}
	return far < 2
}

// fit works out what a reading is beside its guess.
func (w *weigher) fit(k int, d *drive, skip func(int, *guess) (float64, bool), f *fixed) {
	r := &w.readings[k]
	w.guess(r.Test, &w.scene[k], d, w.supply[k], &f.guess)
	path := !math.IsInf(f.value, 0)
	f.sure, f.apart, f.alone = 1, false, false
	if skip != nil {
		if factor, is := skip(k, &f.guess); is {
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
		f.off = r.Value - f.value
	}
}

// code returns how likely the code is under a node, at one piece of the winding.
func (w *weigher) code(n *node, of *wound) float64 {
	if w.m.Code == NoCode {
		return 1
	}
	v := &w.views
	see := func(a, b, c *sight) doubtful {
		s := w.along(a, b, c, n, of, 1)
		u := 0.0
		for _, by := range s.by {
			u += by * by
		}
		return doubtful{s.value, math.Sqrt(u)}
	}
	c := checked{
		off:     see(&v[0].inside[0], &v[1].inside[0], &v[2].inside[0]),
		on:      see(&v[0].inside[1], &v[1].inside[1], &v[2].inside[1]),
		amperes: see(&v[0].on[CurrentOn], &v[1].on[CurrentOn], &v[2].on[CurrentOn]),
	}
	return w.m.codeChance(n.fault, c, w.normal)
}

// weigh weighs a node with one piece of the winding and one thing that the driver does.
func (w *weigher) weigh(n node, of *wound, d *drive, mass float64, skip func(int, *guess) (float64, bool)) {
	j := &w.joint
	j.n = 0
	sure, off := 1.0, 0.0 // of readings that are OL or should be
	var index [Tests]int
	for k := range w.readings {
		f := &w.fixed[k]
		if staged.has(w.readings[k].Test) {
			w.fit(k, d, skip, f)
		}
		sure *= f.sure
		if f.apart {
			off += mismatch * mismatch
		}
		if !f.alone {
			j.g[j.n], j.off[j.n], index[j.n] = &f.guess, f.off, k
			j.n++
		}
	}
	if n.fault == None {
		w.note(of.share*d.chance, index[:j.n])
		if w.trial != nil {
			w.trial.note(w, d, of.share*d.chance)
		}
	}
	if !j.factor() {
		return
	}
	s := sample{n, of, *d, mass}
	right, rest, worst := w.keep(&s, sure, off, index[:j.n])
	if w.trial != nil && s.mass > 1e-7*w.whole {
		w.trial.add(w, &s, right, rest, worst)
	}
}

// note adds to the densities of the readings in a healthy circuit.
func (w *weigher) note(share float64, index []int) {
	for a, k := range index {
		v := w.joint.g[a].variance()
		z2 := w.joint.off[a] * w.joint.off[a] / v
		w.plain[k] += share * math.Exp(-z2/2) / math.Sqrt(2*math.Pi*v)
	}
}

// negligible is the share of all mass below which a sample cannot matter, even with its worst reading left out.
const negligible = 1e-10

// absurd is a χ² from which nothing but rounding is left of a sample.
const absurd = 1e8

// keep adds a sample's mass: with all readings right, or one of them simply wrong. It returns the two parts, and which reading is wrong
// in most of the second; -1 if there is none.
func (w *weigher) keep(s *sample, sure, off float64, index []int) (right, rest float64, worst int) {
	j, f := &w.joint, s.node.fault
	var grows, falls [Tests]float64
	likely := math.Exp(j.log)
	total := (1 - slip) * likely
	right, worst = s.mass*sure*total, -1
	largest := 0.0
	most := 0.0
	if j.chi2 > absurd || f != None && s.mass*sure*(likely+w.anyMost*math.Exp(j.log+j.chi2/2)) < negligible*w.whole {
		s.mass = 0
		return 0, 0, -1
	}
	j.leaving(&grows, &falls)
	for a, k := range index {
		without := math.Exp(j.log + grows[a])
		undriven := w.undriven(k) * without
		w.idle[k] += s.mass * sure * undriven
		wrong := slip*w.any[k]*without + undriven
		total += wrong
		if wrong > largest {
			largest, worst = wrong, a
		}
		w.less[k][f] += s.mass * sure * without
		most = max(most, falls[a])
		if !f.ComesAndGoes() {
			w.without[k] = min(w.without[k], j.chi2+off-falls[a])
		}
	}
	for k := range w.readings {
		if !contains(index, k) { // OL, or should be
			x, gap := &w.fixed[k], off
			if x.apart {
				gap -= mismatch * mismatch
			}
			w.less[k][f] += s.mass * likely * sure / x.sure
			if !f.ComesAndGoes() {
				w.without[k] = min(w.without[k], j.chi2+gap)
			}
		}
	}
	if !f.ComesAndGoes() {
		w.misfit = min(w.misfit, j.chi2+off)
	}
	if f == None && (s.drive.holds || s.drive.share == 1 && s.drive.load == 1) {
		w.plainest = min(w.plainest, j.chi2+off)
	}
	w.spare[f] = min(w.spare[f], j.chi2+max(0, off-mismatch*mismatch)-most)
	s.mass *= sure * total
	w.mass[f] += s.mass
	w.whole += s.mass
	if n := len(w.alive); s.mass > 1e-12*w.whole && (n == 0 || w.alive[n-1] != s.node) {
		w.alive = append(w.alive, s.node)
	}
	if s.mass > 1e-7*w.whole {
		w.samples = append(w.samples, *s)
	}
	return right, s.mass - right, worst
}

// notOn is how likely a reading on a driver that is told to be on is taken while it is not: not commanded, or kept off by a
// stored code. Common practice.
const notOn = 0.03

// undriven returns the density of a reading that was taken while the driver was not on, as it should have been.
func (w *weigher) undriven(k int) float64 {
	r := w.readings[k]
	if !driven(r.Test) {
		return 0
	}
	off := w.scene[k].off * w.supply[k]
	common, own := w.m.doubts(r.Test, off)
	v := common*common + own
	z2 := (r.Value - off) * (r.Value - off) / v
	return notOn * math.Exp(-z2/2) / math.Sqrt(2*math.Pi*v)
}

func contains(list []int, k int) bool {
	for _, i := range list {
		if i == k {
			return true
		}
	}
	return false
}

// How a fault that comes and goes shows while it is measured: this share of the readings is taken while it is there.
const (
	whileThere     = 0.15
	whileUnitThere = 0.05 // of a control unit, which nobody moves or warms
)

// weighComing weighs a fault that comes and goes: the circuit reads healthy, but for readings that were taken while it was there.
func (w *weigher) weighComing(f Fault) {
	as := [...]Fault{HarnessOpen, LeadOpen, PathOpen, DriverNever}[f-ComesGoesHarness]
	bad := &w.bad[f-ComesGoesHarness]
	var v view
	c := w.m.chain(&w.typical, w.coil[1]).with(as, 0, 0)
	c.predict(w.wanted, &v)
	for t := range bad {
		bad[t] = v.on[t].value
	}
	w.look(node{fault: None}, w.wanted)
	w.weighNode(node{f, 0, piece{share: 1}}, w.prior(f), func(k int, g *guess) (float64, bool) {
		r, b := w.readings[k], bad[w.readings[k].Test]
		apart := math.Inf(1)
		if !r.Over && !math.IsInf(g.value, 0) {
			apart = (r.Value - g.value) * (r.Value - g.value) / g.variance()
		}
		if r.Over && math.IsInf(g.value, 0) || apart < 16 {
			return 1, false
		}
		there := 0.02 * w.any[k]
		switch {
		case math.IsInf(b, 0) && r.Over:
			there += 0.9
		case math.IsInf(b, 0) || r.Over:
		default:
			common, own := w.m.doubts(r.Test, b)
			z2 := (r.Value - b) * (r.Value - b) / (common*common + own)
			there += 0.9 * math.Exp(-z2/2) / math.Sqrt(2*math.Pi*(common*common+own))
		}
		if f == ComesGoesUnit {
			return whileUnitThere * there, true
		}
		return whileThere * there, true
	})
}

// weighOther weighs what is none of the faults: each reading is half what a healthy circuit gives, half anything.
func (w *weigher) weighOther() {
	mass := w.prior(Other)
	for k, r := range w.readings {
		plain := w.plain[k]
		if r.Over && math.IsInf(w.m.Predict(r.Test, None, 0, w.coil[1]), 0) {
			plain = 1
		}
		mass *= (plain + w.any[k]) / 2
	}
	for k := range w.readings {
		w.less[k][Other] += mass / max(1e-300, (w.plain[k]+w.any[k])/2)
	}
	w.mass[Other] += mass
	w.whole += mass
	w.samples = append(w.samples, sample{node{Other, 0, piece{share: 1}}, &w.windings[len(w.windings)/2], fully, mass})
}

// chances returns the faults' probabilities.
func (w *weigher) chances() (p [Faults]float64) {
	for f := range p {
		p[f] = w.mass[f] / w.whole
	}
	return p
}

// leaving returns how probable a repair would be without one reading.
func (w *weigher) leaving(k int, r Repair) float64 {
	sum, own := 0.0, 0.0
	for f, mass := range w.less[k] {
		sum += mass
		if w.m.Repair(Fault(f)) == r {
			own += mass
		}
	}
	return own / sum
}

// byRepair adds up the faults' probabilities by repair.
func (m *Model) byRepair(p [Faults]float64) (r [Repairs]float64) {
	for f, q := range p {
		r[m.Repair(Fault(f))] += q
	}
	return r
}
