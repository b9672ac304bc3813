package fastener

import (
	"math"

	"ohmwright/core/quantity"
)

// A WrenchKind is how a wrench shows its torque. The zero WrenchKind is a click wrench.
type WrenchKind uint8

// The kinds, and what ISO 6789 calls them (class names from memory).
const (
	Click      WrenchKind = iota // clicks at the torque it is set to: type II, class A
	Beam                         // a bar that bends along a scale: type I, class A
	Electronic                   // a display: type I, class C
)

// String returns the kind's word in a request: click, beam, electronic.
func (k WrenchKind) String() string {
	switch k {
	case Click:
		return "click"
	case Beam:
		return "beam"
	case Electronic:
		return "electronic"
	}
	return "unknown"
}

// A Wrench is a torque wrench as its scale and its certificate describe it. A field that is 0 is not known.
type Wrench struct {
	Kind       WrenchKind
	Min, Max   quantity.Torque // the ends of the scale
	Graduation quantity.Torque // from one mark to the next
	Deviation  quantity.Ratio  // on its certificate; if 0, what the standard permits is used
}

// small is the largest maximum, in N.m, at which a wrench may deviate by 6 % instead of 4 %.
const small = 10

// Permitted returns how far the torque that a wrench shows or is set to may be from the one it reaches, as a share of the latter.
//
//	click:      4 %; 6 % up to a maximum of 10 N·m
//	beam:       6 %
//	electronic: 4 %; 6 % up to a maximum of 10 N·m
//
// A wrench whose maximum is not known counts as small. There are no errors. It ignores the wrench's certificate, and wear. Source:
// ISO 6789, click wrenches as a maker's manual restates it (facts 5.2); the rows of beam and electronic are FROM MEMORY. Checked in
// wrench_test.go.
func (w Wrench) Permitted() quantity.Ratio {
	if w.Kind != Beam && w.Max > small*(1+within) {
		return 0.04
	}
	return 0.06
}

// Allowed returns the wrench's own deviation, or the permitted one if that is not known.
func (w Wrench) Allowed() quantity.Ratio {
	if w.Deviation > 0 {
		return w.Deviation
	}
	return w.Permitted()
}

// A Use says whether a wrench can be used for a setting.
type Use uint8

// The uses.
const (
	Usable     Use = iota
	BelowFifth     // on the scale, but below a fifth of its maximum: nobody vouches for what it reaches there
	BelowScale
	AboveScale
)

// String returns the use's word in an answer: usable, below_20_percent, below_scale, above_scale.
func (u Use) String() string {
	switch u {
	case Usable:
		return "usable"
	case BelowFifth:
		return "below_20_percent"
	case BelowScale:
		return "below_scale"
	case AboveScale:
		return "above_scale"
	}
	return "unknown"
}

// within is the relative difference up to which two torques count as equal: one in ft-lb has no exact float64 in N.m.
const within = 1e-9

// Least returns the lowest setting at which a wrench is usable.
//
//	least = the larger of the scale's lowest mark and max/5; of an electronic wrench with a lowest mark, that mark
//
// Torque in N.m; 0 if neither is known. There are no errors. Source: ISO 6789:2003 tests at 20, 60 and 100 % of the maximum;
// ISO 6789-1:2017 from the lowest value marked (facts 5.2). That a click or beam wrench is not used below a fifth is common
// practice. Checked in wrench_test.go.
func (w Wrench) Least() quantity.Torque {
	if w.Kind == Electronic && w.Min > 0 {
		return w.Min
	}
	return max(w.Min, w.Max/5)
}

// Check returns whether a wrench is usable for a setting: on its scale, ends included, and not below [Wrench.Least]. An end that is not
// known is no limit. Torque in N.m. There are no errors. It ignores the graduation. Checked in wrench_test.go.
func (w Wrench) Check(setting quantity.Torque) Use {
	switch {
	case w.Max > 0 && setting > w.Max*(1+within):
		return AboveScale
	case setting < w.Min*(1-within):
		return BelowScale
	case setting < w.Least()*(1-within):
		return BelowFifth
	}
	return Usable
}

// Marks returns the marks of the scale on either side of a setting. If the setting is on a mark, both are that mark, and only then.
//
//	marks: n·g between the ends of the scale; min + n·g if min is no multiple of g (28, 33, 38 N·m …)
//	below, above: the nearest on either side; 0 if the scale has none
//
// Torque in N.m. A setting is on a mark if it is within 1e-9 of a graduation. The end of the scale need not be a mark: for 148 on a scale
// to 150 in steps of 20, below is 140 and above is 0. For a setting below the first mark, and for one of less than a graduation on a scale
// from 0, below is 0. Without a graduation, or with one too fine to count by, both are the setting itself. There are no errors. It ignores
// that a scale may have finer marks in one part. Checked in wrench_test.go.
func (w Wrench) Marks(setting quantity.Torque) (below, above quantity.Torque) {
	g := float64(w.Graduation)
	steps := func(t, from quantity.Torque) (n float64, on bool) { // graduations between two torques, and whether they are whole
		n = float64(t-from) / g
		return n, math.Abs(n-math.Round(n)) <= within
	}
	if n, _ := steps(max(setting, w.Max, w.Min), 0); !(g > 0) || !(n < 1<<52) {
		return setting, setting
	}
	from, first := quantity.Torque(0), 0.0 // the marks are from + n·g for n ≥ first
	if n, on := steps(w.Min, 0); on {
		first = math.Round(n)
	} else {
		from = w.Min
	}
	last := math.Inf(1)
	if w.Max > 0 {
		n, _ := steps(w.Max, from)
		last = math.Floor(n + within)
	}
	mark := func(n float64) quantity.Torque {
		if n < first || n > last {
			return 0
		}
		return from + quantity.Torque(n)*w.Graduation
	}
	n, on := steps(setting, from)
	if on && mark(math.Round(n)) > 0 {
		return mark(math.Round(n)), mark(math.Round(n))
	}
	if on { // a multiple of g, but off the scale, or 0
		return mark(min(math.Round(n)-1, last)), mark(max(math.Round(n)+1, first))
	}
	return mark(min(math.Floor(n), last)), mark(max(math.Floor(n)+1, first))
}

// Reached returns the least and the most that a wrench of this deviation may reach when it is set to, or shows, a torque.
//
//	deviation = (set − reached)/reached, so least = set/(1 + d), most = set/(1 − d)
//
// Torque in N.m. The deviation is [Wrench.Allowed]; from 1 on there is no upper limit, and most is the largest
// float64. There are no errors. It ignores the hand, the adapter, and a wrench that is overdue for its check. Source: ISO 6789, the
// definition of the deviation FROM MEMORY (facts 5.2). Checked in wrench_test.go.
func (w Wrench) Reached(setting quantity.Torque) (least, most quantity.Torque) {
	d := min(float64(w.Allowed()), 1)
	least, most = quantity.Torque(float64(setting)/(1+d)), quantity.Torque(math.MaxFloat64)
	if hi := float64(setting) / (1 - d); hi < math.MaxFloat64 {
		most = quantity.Torque(hi)
	}
	return least, most
}
