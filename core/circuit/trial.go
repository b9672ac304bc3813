package circuit

import (
	"math"
	"slices"
)

// A trial is a reading that is not taken yet, at many values at once: how likely each repair is after each of them.
type trial struct {
	test   Test
	values []float64
	after  [][Repairs]float64 // for each value, the mass of each repair
	over   [Repairs]float64   // the same for OL
	plain  []float64          // for each value, the density in a healthy circuit
	shut   float64            // how likely a healthy circuit shows OL
	// The masses of the repairs with which a value, and OL, may simply be wrong.
	wrong, wrongOver [Repairs]float64
	supply           float64 // at that reading, over that of the model
	scene            sceneOf // at the winding at hand
}

// try weighs the readings together with one more at each of the values. Likely are the nodes that the readings alone leave.
func (m *Model) try(readings []Reading, t Test, values []float64, likely []node) *trial {
	w := newWeigher(m, readings)
	if len(w.readings) > 0 {
		w.only(likely)
	}
	r := &trial{test: t, values: values, after: make([][Repairs]float64, len(values)), plain: make([]float64, len(values)), supply: 1}
	w.trial = r
	w.wanted = w.wanted.with(t)
	w.staged = w.staged || staged.has(t)
	if w.driven > 0 && staged.has(t) {
		r.supply = w.driven
	}
	w.all()
	r.finish(w)
	return r
}

// only leaves out other nodes. A node that stands for a fault as a whole stands for all of its nodes.
func (w *weigher) only(likely []node) {
	w.kept = map[node]bool{}
	for i := range likely {
		n := likely[i]
		w.kept[n] = true
		w.keptWhole[n.fault] = w.keptWhole[n.fault] || n.x.share == 1
	}
}

// leaves reports whether a node is left out.
func (w *weigher) leaves(n node) bool {
	return w.kept != nil && !w.kept[n] && !w.keptWhole[n.fault]
}

// note adds to the densities in a healthy circuit.
func (r *trial) note(w *weigher, d *drive, share float64) {
	var g guess
	w.guess(r.test, &r.scene, d, r.supply, &g)
	if math.IsInf(g.value, 0) {
		r.shut += share
		return
	}
	u := math.Sqrt(g.variance())
	for i, v := range r.values {
		r.plain[i] += share * density(v, g.value, u)
	}
}

// add adds a sample of the readings, with the joint distribution that the weigher holds; right is the part of its mass with which all
// of the readings are right, and worst the place of the one that is wrong in the largest part of the rest, whose mass is rest.
func (r *trial) add(w *weigher, s *sample, right, rest float64, worst int) {
	var g guess
	w.guess(r.test, &r.scene, &s.drive, r.supply, &g)
	repair := w.m.Repair(s.node.fault)
	if math.IsInf(g.value, 0) {
		r.over[repair] += (1-slip)*right + rest
		r.wrong[repair] += s.mass
		return
	}
	r.wrong[repair] += right
	r.wrongOver[repair] += s.mass
	mean, u := w.joint.given(&g)
	r.peak(repair, (1-slip)*right, mean, u)
	switch f := s.node.fault; {
	case f.ComesAndGoes():
		r.addComing(w, s, mean, u)
	case driven(r.test):
		off := r.scene.off * r.supply
		common, own := w.m.doubts(r.test, off)
		r.peak(repair, notOn*right, off, math.Sqrt(common*common+own))
	}
	if rest > 0.1*right && worst >= 0 {
		w.joint.without(worst)
		mean, u := w.joint.given(&g)
		r.peak(repair, rest, mean, u)
	}
}

// peak adds the density of one repair about a value.
func (r *trial) peak(of Repair, mass, mean, u float64) {
	const reach = 6
	top := mass / (u * math.Sqrt2 * math.SqrtPi)
	from, _ := slices.BinarySearch(r.values, mean-reach*u)
	for i, v := range r.values[from:] {
		z := (v - mean) / u
		if z > reach {
			break
		}
		r.after[from+i][of] += top * bell(z)
	}
}

// addComing adds what is read while a fault that comes and goes is there, where that is far from the rest.
func (r *trial) addComing(w *weigher, s *sample, mean, u float64) {
	f := s.node.fault
	bad := w.bad[f-ComesGoesHarness][r.test]
	while := whileThere
	if f == ComesGoesUnit {
		while = whileUnitThere
	}
	repair := w.m.Repair(f)
	if math.IsInf(bad, 0) {
		r.over[repair] += while * 0.9 * s.mass
		return
	}
	common, own := w.m.doubts(r.test, bad)
	for i, v := range r.values {
		if math.Abs(v-mean) > 4*u {
			r.after[i][repair] += while * 0.9 * s.mass * density(v, bad, math.Sqrt(common*common+own))
		}
	}
}

// finish adds what all faults have in common, and what is none of them.
func (r *trial) finish(w *weigher) {
	spill := func(into, wrong *[Repairs]float64, any, plain float64) {
		for repair, mass := range wrong {
			into[repair] += slip * any * mass
		}
		into[Unexplained] += w.mass[Other] * (plain + any) / 2
	}
	for i, v := range r.values {
		spill(&r.after[i], &r.wrong, w.m.anything(Reading{Test: r.test, Value: v}), r.plain[i])
	}
	spill(&r.over, &r.wrongOver, w.m.anything(Reading{Test: r.test, Over: true}), r.shut)
}

// density returns the density of the normal distribution.
func density(v, mean, u float64) float64 {
	z := (v - mean) / u
	if z > 7 || z < -7 {
		return 0
	}
	return math.Exp(-z*z/2) / (u * math.Sqrt2 * math.SqrtPi)
}

// driven reports whether a test may show that the driver was not on, although it was told to be.
func driven(t Test) bool {
	return told.has(t) && t != SupplyDriven && t != VoltsUnitFeed && t != VoltsUnitGround
}
