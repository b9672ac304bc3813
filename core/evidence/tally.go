package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
)

// A tally is what is left of a node, or of a node with one piece of the winding: then it is called a spot.
type tally struct {
	node
	total, held  float64
	ohms, wholes float64                // see [Weigher.Coil]
	idle, less   [circuit.Tests]float64 // for each reading
	sides        sides                  // of a spot
	from, to     int                    // of the stretches, on which looking ahead rests; of a spot, of its parts
	// How many times it counts, with what is passed over beside it, and the one whose parts are its own if it is passed over itself.
	times float64
	as    int
	share float64 // of the winding, or of the parameter
	dead  bool    // the control unit has too little voltage
}

// A part is what is left of a node with one piece of the winding and one thing that the driver may do. Right is the share of it that has
// all readings right; in the largest part of the rest it is the worst that is wrong, or none if that is below 0.
type part struct {
	mass  float64
	right float32
	act   uint8
	worst int8
}

// A stretch is what is left of a node with one piece of the winding: parts, which count by so much.
type stretch struct {
	wound, from, to int
	by              float64
}

// begin empties a tally.
func (t *tally) begin(n node, at int, share float64, readings int) {
	t.node, t.from, t.to, t.times, t.as, t.share = n, 0, 0, 1, at, share
	t.total, t.held, t.ohms, t.wholes = 0, 0, 0, 0
	for k := range readings {
		t.idle[k], t.less[k] = 0, 0
	}
}

// leastBend is the share of all mass that may be off where pieces of the winding or of a parameter are passed over; leastBendTried is the
// same where only masses are asked for.
const (
	leastBend      = 5e-7
	leastBendTried = 1e-4
)

// bendable returns how much may be off.
func (w *Weigher) bendable() float64 {
	switch {
	case w.thorough:
		return -1
	case w.brief:
		return leastBendTried * w.whole
	}
	return leastBend * w.whole
}

// density returns what is left over the share of the distribution.
func (t *tally) density() float64 { return t.total / t.share }

// pass sets a tally to lie between two, near the second by so much, of 0 to 1, with a density. They count for it.
func (t *tally) pass(near, density float64, a, b *tally) {
	t.total = density * t.share
	if t.as = a.as; near > 0.5 {
		t.as = b.as
	}
	if straight := (1-near)*a.density() + near*b.density(); straight > 0 {
		a.times += (1 - near) * density / straight * t.share / a.share
		b.times += near * density / straight * t.share / b.share
	}
}

// weighWay weighs a fault in one of its ways: with every other part of its parameter, and with the others where what is left is no straight
// line, or the control unit stops working between.
func (w *Weigher) weighWay(f circuit.Fault, way int, parts []doubt.Piece, weight float64, wanted circuit.Set) {
	first := way * len(parts)
	swept := false
	weigh := func(j int) {
		t := &w.tallies[first+j]
		t.begin(node{f, way, parts[j]}, first+j, parts[j].Share, len(w.readings))
		if !w.near(&t.node) {
			return
		}
		if !swept {
			w.sweep(node{f, way, parts[len(parts)/2]}, wanted)
			swept = true
		}
		w.look(parts[j].Mean)
		t.dead = w.views[1].Volts < circuit.DeadVolts
		w.weighNode(t, weight*parts[j].Share, nil)
	}
	if len(parts) < 5 {
		for j := range parts {
			weigh(j)
		}
	} else {
		w.everyOther(first, parts, weigh)
	}
	for j := range parts {
		w.addNode(first + j)
	}
}

// everyOther weighs every other part of a parameter, and those between where they are needed.
func (w *Weigher) everyOther(first int, parts []doubt.Piece, weigh func(int)) {
	last, tallies := len(parts)-1, w.tallies[first:first+len(parts)]
	for j := 0; j < last; j += 2 {
		weigh(j)
	}
	weigh(last)
	for j := 1; j < last; j += 2 {
		a, t, b := &tallies[j-1], &tallies[j], &tallies[j+1]
		t.begin(node{a.fault, a.way, parts[j]}, first+j, parts[j].Share, 0)
		if density, off := interpolated(tallies, j); a.dead == b.dead && off*t.share < w.bendable() {
			t.pass(0.5, density, a, b)
		} else {
			t.as = -1
		}
	}
	for j := 1; j < last; j += 2 {
		if tallies[j].as < 0 {
			weigh(j)
		}
	}
}

// interpolated returns the density at a part between two, by the curve through the four about it, at an end three, and how far off a
// straight line may be.
func interpolated(t []tally, j int) (density, off float64) {
	x, y := t[j-1].density(), t[j+1].density()
	a := math.NaN() // how far the next one before is off the straight line
	if j >= 3 {
		a = y - 2*x + t[j-3].density()
	}
	b := a // and the next one after
	if j+3 < len(t) {
		b = x - 2*y + t[j+3].density()
	}
	if j < 3 {
		a = b
	}
	return max((x+y)/2-(a+b)/16, min(x, y)/2), (math.Abs(a) + math.Abs(b)) / 16
}

// addNode adds what is left of a node.
func (w *Weigher) addNode(j int) {
	t := &w.tallies[j]
	f := t.fault
	if t.as == j {
		sum := t.total * t.times
		if sum == 0 {
			return
		}
		w.whole += sum - t.total
		w.mass[f] += sum
		if !w.brief {
			w.held += t.held * t.times
			w.ohms, w.wholes = w.ohms+t.ohms*t.times, w.wholes+t.wholes*t.times
			for k := range w.readings {
				w.idle[k] += t.idle[k] * t.times
				w.less[k][f] += t.less[k] * t.times
			}
		}
	}
	if as := &w.tallies[t.as]; t.total > 0 && !w.last {
		w.alive = append(w.alive, living{t.node, t.total, t.total / as.total, as.from, as.to})
	}
}

// A living is a node, its mass, and its stretches, which count by so much.
type living struct {
	node
	mass, by float64
	from, to int
}
