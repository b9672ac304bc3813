package circuit

import (
	"cmp"
	"math"
	"slices"
)

// slip is how likely a reading is simply wrong: taken at the wrong pin, with a probe that slipped, or a digit misread. Such a
// reading may be anything. From experience; common practice has no figure.
const slip = 1e-3

// mismatch is the distance, in standard deviations, that counts if one of prediction and reading is OL and the other a number.
const mismatch = 12

// A node is a fault with one value of its parameter, and how well the readings fit it.
type node struct {
	u, x float64 // the place on the scale on which the parameter is uniform, 0 to 1, and the parameter
	// likely is the likelihood of all readings, averaged over the healthy winding; by holds it for each value of the winding.
	likely float64
	by     []float64
	less   []float64 // for each reading, the likelihood of the others
	share  float64   // of the fault's prior that the node stands for
	at     [][3]guess
	code   float64 // how well the code fits, averaged over the healthy winding
}

// A guess is what a reading should be, and its standard uncertainty; infinite if there is no path.
type guess struct{ value, u float64 }

// A weigher works out how likely the readings are under each fault.
type weigher struct {
	m        *Model
	readings []Reading // the latest of each test, in the order of tests
	wanted   uint32
	coils    [3]float64        // least, middle and largest healthy winding
	healthy  [3][Tests]float64 // predictions for them with nothing wrong
	t        []float64         // values of the winding, 0 for the least to 1 for the largest
	expected float64           // current, for the code's checks
	nodes    [Faults][]node
	// misfit is the least sum of squared distances, in standard deviations, of the readings from a single fault; without holds,
	// for each reading, the same for the others.
	misfit  float64
	without []float64
	spare   [Faults]float64 // the least misfit of each fault if its worst reading is ignored

	floats  slab[float64]
	guesses slab[[3]guess]
	scratch struct { // for one node, by reading
		curves          []curve
		off, z2, factor []float64
	}
}

// A slab hands out pieces of a large slice, since there are many nodes and each needs a few small slices.
type slab[T any] []T

func (s *slab[T]) take(n int) []T {
	if len(*s) < n {
		*s = make([]T, max(n, 1024))
	}
	piece := (*s)[:n:n]
	*s = (*s)[n:]
	return piece
}

// latest returns the last reading of each possible test, in the order of tests, so that the order of the readings changes nothing
// else.
func (m *Model) latest(readings []Reading) (kept []Reading) {
	var by [Tests]*Reading
	for i := range readings {
		by[readings[i].Test] = &readings[i]
	}
	for _, r := range by {
		if r != nil && r.Test.Possible(m.Side, m.Return) && r.Test <= VoltsLoad {
			kept = append(kept, *r)
		}
	}
	return kept
}

func newWeigher(m *Model, readings []Reading) *weigher {
	w := &weigher{m: m, readings: m.latest(readings), misfit: math.Inf(1)}
	for _, r := range w.readings {
		w.wanted |= 1 << r.Test
	}
	if m.Code != NoCode {
		w.wanted |= codeTests
		w.expected = m.expectedCurrent()
	}
	lo, hi := m.coils()
	w.coils = [3]float64{lo, (lo + hi) / 2, hi}
	for i, coil := range w.coils {
		c := m.healthy(coil)
		c.predict(1<<VoltsUnitFeed-1, &w.healthy[i])
	}
	w.without = make([]float64, len(w.readings))
	for i := range w.without {
		w.without[i] = math.Inf(1)
	}
	for f := range w.spare {
		w.spare[f] = math.Inf(1)
	}
	w.t = w.spacing()
	n := len(w.readings)
	w.scratch.curves, w.scratch.off, w.scratch.z2, w.scratch.factor = make([]curve, n), w.floats.take(n), w.floats.take(n), w.floats.take(n)
	return w
}

// spacing returns the values of the winding to look at, as close to each other as the readings together can tell apart.
func (w *weigher) spacing() []float64 {
	sum := 0.0
	for _, r := range w.readings {
		a, b := w.healthy[0][r.Test], w.healthy[2][r.Test]
		if d := b - a; !math.IsNaN(d) && !math.IsInf(d, 0) {
			d /= w.m.U(r.Test, a)
			sum += d * d
		}
	}
	least, most := 4, 96
	if w.m.Code != NoCode {
		least = 20 // a code may fit only a narrow range
	}
	n := min(max(least, int(math.Ceil(math.Sqrt(sum)*1.1))), most)
	t := make([]float64, n)
	for i := range t {
		t[i] = (float64(i) + 0.5) / float64(n)
	}
	return t
}

// predictions returns what the wanted tests should read, for the three windings.
func (w *weigher) predictions(f Fault, x float64, wanted uint32) (p [3][Tests]float64) {
	p = w.healthy
	wanted &= touched(f)
	for i, coil := range w.coils {
		c := w.m.healthy(coil).with(f, x)
		c.predict(wanted, &p[i])
	}
	return p
}

// touched returns the tests whose readings a fault can change, a bit each.
func touched(f Fault) (set uint32) {
	for t := range VoltsUnitFeed {
		if f != None {
			set |= 1 << t
		}
	}
	return set
}

// A curve is a prediction as a function of the winding, t from 0 to 1. The response of a network of resistors to one of its
// resistances is a quotient of two straight lines. Where the winding counts as two resistances, the curve is still right at both
// ends and in the middle.
type curve struct{ a, b, d float64 }

// through returns the curve through the predictions at t = 0, 0.5 and 1.
func through(y0, y1, y2 float64) curve {
	if math.IsInf(y0, 0) || math.Abs(y2-y0) <= 1e-9*math.Abs(y1) {
		return curve{a: y1}
	}
	d := (y0 + y2 - 2*y1) / (y1 - y2)
	if !(d > -0.99 && d < 1e3) {
		return curve{y0, y2 - y0, 0}
	}
	return curve{y0, y2*(1+d) - y0, d}
}

func (c curve) at(t float64) float64 { return (c.a + c.b*t) / (1 + c.d*t) }

// chance returns the likelihood of a reading under a prediction, as a density, and how many standard deviations they are apart.
func (m *Model) chance(r Reading, value, u float64) (p, z float64) {
	path := !math.IsInf(value, 0)
	switch {
	case r.Over && !path:
		return 1, 0
	case r.Over != !path:
		return 0, mismatch
	}
	z = (r.Value - value) / u
	if r.Value == 0 && tests[r.Test].quantity == Ohms {
		// A meter shows no resistance below zero, so 0 stands for all of those.
		count := max(m.Step(r.Test, 0), 1e-3)
		return math.Erfc(-(count/2-value)/(u*math.Sqrt2)) / 2 / count, max(0, -z)
	}
	if z > 8 || z < -8 {
		return 0, min(math.Abs(z), mismatch)
	}
	return math.Exp(-z*z/2) / (u * math.Sqrt2 * math.SqrtPi), math.Abs(z)
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

// fits returns how well the code fits each value of the winding: the share of the interval around the value in which the control
// unit's checks would set the code, and a little for the rest. Without a code it returns nil. The checks set a code above some
// resistance or below some, so halving finds where in an interval that is.
func (w *weigher) fits(p *[3][Tests]float64) []float64 {
	if w.m.Code == NoCode {
		return nil
	}
	var checks [3]curve
	for i, t := range [3]Test{VoltsPinOff, VoltsPinOn, CurrentOn} {
		checks[i] = through(p[0][t], p[1][t], p[2][t])
	}
	set := func(t float64) bool {
		return w.m.sees(checks[0].at(t), checks[1].at(t), checks[2].at(t), w.expected).has(w.m.Code)
	}
	fits := w.floats.take(len(w.t))
	half := 0.5 / float64(len(w.t))
	before := set(0)
	for i, t := range w.t {
		after, share := set(t+half), 0.0
		switch {
		case before && after:
			share = 1
		case before != after:
			lo, hi := t-half, t+half
			for range 7 {
				if middle := (lo + hi) / 2; set(middle) == before {
					lo = middle
				} else {
					hi = middle
				}
			}
			if share = (lo - t + half) / (2 * half); after {
				share = 1 - share
			}
		}
		fits[i] = codeInSpiteOfAll + (1-codeInSpiteOfAll)*share
		before = after
	}
	return fits
}

// weigh returns the node of a fault with a parameter.
func (w *weigher) weigh(f Fault, u, x float64) node {
	n := node{u: u, x: x, by: w.floats.take(len(w.t)), less: w.floats.take(len(w.readings)), at: w.guesses.take(len(w.readings))}
	p := w.predictions(f, x, w.wanted)
	curves, off, z2, factor := w.scratch.curves, w.scratch.off, w.scratch.z2, w.scratch.factor
	for k, r := range w.readings {
		for i := range p {
			v := p[i][r.Test]
			n.at[k][i] = guess{v, w.m.U(r.Test, v)}
		}
		curves[k] = through(p[0][r.Test], p[1][r.Test], p[2][r.Test])
		off[k] = slip * w.m.anything(r)
	}
	fits := w.fits(&p)
	for i, t := range w.t {
		l, sum, worst := 1.0, 0.0, 0.0
		if fits != nil {
			l = fits[i]
			n.code += l / float64(len(w.t))
		}
		for k, r := range w.readings {
			u0, u1 := n.at[k][0].u, n.at[k][2].u
			c, z := w.m.chance(r, curves[k].at(t), u0+(u1-u0)*t)
			factor[k] = (1-slip)*c + off[k]
			l *= factor[k]
			z2[k] = z * z
			sum += z2[k]
			worst = max(worst, z2[k])
		}
		n.by[i] = l
		n.likely += l
		w.misfit = min(w.misfit, sum)
		w.spare[f] = min(w.spare[f], sum-worst)
		for k := range z2 {
			w.without[k] = min(w.without[k], sum-z2[k])
			n.less[k] += l / factor[k]
		}
	}
	n.likely /= float64(len(w.t))
	return n
}

// all makes the nodes of every fault, for integrating over its parameter by the trapezoid rule. An interval is halved if the
// readings can tell its ends apart and it can still matter.
func (w *weigher) all() {
	for f := range Fault(Faults) {
		if w.m.Weights[f] == 0 {
			continue
		}
		s := w.m.spread(f)
		if s == (spread{}) {
			n := w.weigh(f, 0, 0)
			n.share = 1
			w.nodes[f] = []node{n}
			continue
		}
		n := s.steps()
		w.nodes[f] = make([]node, 0, 2*n)
		for i := range n + 1 {
			u := float64(i) / float64(n)
			w.nodes[f] = append(w.nodes[f], w.weigh(f, u, s.at(u)))
		}
		shares(w.nodes[f])
	}
	const deepest, most = 14, 3000
	count := 0
	for range deepest {
		whole := w.evidence()
		halved := false
		for f := range Fault(Faults) {
			old := w.nodes[f]
			if len(old) < 2 {
				continue
			}
			var out []node
			for i := range len(old) - 1 {
				if out != nil {
					out = append(out, old[i])
				}
				if count > most || !w.coarse(f, &old[i], &old[i+1], whole) {
					continue
				}
				if out == nil {
					out = append(make([]node, 0, 2*len(old)), old[:i+1]...)
				}
				u := (old[i].u + old[i+1].u) / 2
				out = append(out, w.weigh(f, u, w.m.spread(f).at(u)))
				count++
			}
			if out != nil {
				w.nodes[f] = append(out, old[len(old)-1])
				shares(w.nodes[f])
				halved = true
			}
		}
		if !halved {
			break
		}
	}
}

// steps returns the number of intervals to begin with: three per decade of a logarithmic parameter.
func (s spread) steps() int {
	if !s.log {
		return 8
	}
	return max(1, int(math.Ceil(3*math.Log10(s.max/s.min))))
}

// at returns the parameter at u, 0 to 1, on its scale.
func (s spread) at(u float64) float64 {
	if s.log {
		return s.min * math.Pow(s.max/s.min, u)
	}
	return s.min + (s.max-s.min)*u
}

// shares sets each node's share of the range: half of the interval on each side.
func shares(nodes []node) {
	for i := range nodes {
		lo, hi := i, i
		if i > 0 {
			lo = i - 1
		}
		if i < len(nodes)-1 {
			hi = i + 1
		}
		nodes[i].share = (nodes[hi].u - nodes[lo].u) / 2
	}
}

// evidence returns the likelihood of the readings, added up over all faults by their weights.
func (w *weigher) evidence() (sum float64) {
	for f := range w.nodes {
		sum += w.mass(Fault(f))
	}
	return sum
}

// mass returns a fault's weight after the readings, before normalising.
func (w *weigher) mass(f Fault) (sum float64) {
	for i := range w.nodes[f] {
		sum += w.nodes[f][i].likely * w.nodes[f][i].share
	}
	return sum * w.m.Weights[f]
}

// coarse reports whether an interval has to be halved: its ends are further apart than half a reading's uncertainty, or the code is
// set at only one end, and the most that the interval could add still matters.
func (w *weigher) coarse(f Fault, a, b *node, whole float64) bool {
	const matters, reach, step, finestCode = 1e-4, 5.0, 0.5, 1.0 / 256
	bound := w.m.Weights[f] * (b.u - a.u)
	wide := math.Abs(a.code-b.code) > 0.02 && b.u-a.u > finestCode
	for k, r := range w.readings {
		off := slip * w.m.anything(r)
		if over := math.IsInf(a.at[k][1].value, 0); over || r.Over {
			if over == r.Over {
				off += 1 - slip
			}
			bound *= off
			continue
		}
		lo, hi, u := math.Inf(1), math.Inf(-1), 0.0
		least := math.Inf(1)
		for i := range 3 {
			lo, hi = min(lo, a.at[k][i].value, b.at[k][i].value), max(hi, a.at[k][i].value, b.at[k][i].value)
			u, least = max(u, a.at[k][i].u, b.at[k][i].u), min(least, a.at[k][i].u, b.at[k][i].u)
		}
		z := max(0, lo-r.Value, r.Value-hi) / u
		bound *= (1-slip)*math.Exp(-z*z/2)/(least*2.5) + off
		if z < reach && math.Abs(b.at[k][1].value-a.at[k][1].value) > step*least {
			wide = true
		}
	}
	return wide && bound > matters*whole
}

// chances returns the faults' probabilities.
func (w *weigher) chances() (p [Faults]float64) {
	sum := 0.0
	for f := range p {
		p[f] = w.mass(Fault(f))
		sum += p[f]
	}
	for f := range p {
		p[f] /= sum
	}
	return p
}

// leaving returns how probable a repair would be without one reading. It uses the grid made for all readings, which is good enough
// to tell whether the repair depends on this one.
func (w *weigher) leaving(k int, r Repair) float64 {
	sum, own := 0.0, 0.0
	for f := range w.nodes {
		mass := 0.0
		for i := range w.nodes[f] {
			mass += w.nodes[f][i].less[k] * w.nodes[f][i].share
		}
		mass *= w.m.Weights[f]
		sum += mass
		if faults[f].repair == r {
			own += mass
		}
	}
	return own / sum
}

// byRepair adds up the faults' probabilities by repair.
func byRepair(p [Faults]float64) (r [Repairs]float64) {
	for f, q := range p {
		r[faults[f].repair] += q
	}
	return r
}

// ranked returns faults or repairs with their probabilities, likeliest first, ties in the order of names.
func ranked[T interface {
	~uint8
	String() string
}](p []float64) []Chance[T] {
	list := make([]Chance[T], len(p))
	for i, q := range p {
		list[i] = Chance[T]{T(i), q}
	}
	// Rounded, since math.Exp rounds differently on other machines: what differs only by that has to be a tie.
	slices.SortFunc(list, func(a, b Chance[T]) int {
		return cmp.Or(cmp.Compare(math.Round(b.P*1e12), math.Round(a.P*1e12)), cmp.Compare(a.Of.String(), b.Of.String()))
	})
	return list
}

// A Chance is a fault or a repair and its probability.
type Chance[T any] struct {
	Of T
	P  float64
}
