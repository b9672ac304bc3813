package fastener

import (
	"math"

	"ohmwright/core/quantity"
)

// A WrenchKind is how a wrench tells its torque. The zero WrenchKind is a click wrench.
type WrenchKind uint8

// The kinds, and what ISO 6789 calls them (class names from memory).
const (
	Click      WrenchKind = iota // set beforehand, and clicks: type II, class A
	Beam                         // a bar that bends beside a scale: type I, class A
	Electronic                   // shows figures: type I, class C
)

// String is the kind's word in a request: click, beam, electronic.
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

// A Wrench is a torque wrench as its scale and its certificate describe it. What is 0 is not known.
type Wrench struct {
	Kind       WrenchKind
	Min, Max   quantity.Torque // the ends of the scale
	Graduation quantity.Torque // from one mark to the next
	Deviation  quantity.Ratio  // its own, of its certificate; 0: that which the standard permits
}

// small is the largest maximum, in N.m, of a wrench that may deviate by 6 % instead of 4 %.
const small = 10

// Permitted is how far the torque that a wrench shows or is set to may lie from the one it reaches, as part of the latter.
//
//	click:      4 %; 6 % up to a maximum of 10 N·m
//	beam:       6 %
//	electronic: 4 %; 6 % up to a maximum of 10 N·m
//
// A wrench whose maximum is not known is taken for a small one. It has no errors. It ignores a certificate of the wrench's own, and
// wear. Source: ISO 6789, click wrenches as a maker's manual restates it (facts 5.2); the rows of beam and electronic are FROM
// MEMORY. Checked in wrench_test.go.
func (w Wrench) Permitted() quantity.Ratio {
	if w.Kind != Beam && w.Max > small*(1+within) {
		return 0.04
	}
	return 0.06
}

func (w Wrench) deviation() float64 {
	if w.Deviation > 0 {
		return float64(w.Deviation)
	}
	return float64(w.Permitted())
}

// A Use is what a wrench is for one setting.
type Use uint8

// What a wrench can be for a setting.
const (
	Usable     Use = iota
	BelowFifth     // on the scale, and below a fifth of its maximum: what it reaches there is not vouched for
	BelowScale
	AboveScale
)

// String is the use's word in an answer: usable, below_20_percent, below_scale, above_scale.
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

// within is the part by which two torques may differ and be the same: a limit in ft-lb is no exact float64 in N.m.
const within = 1e-9

// Least is the lowest setting at which a wrench is usable.
//
//	least = the larger of the scale's lowest mark and max/5; of an electronic wrench whose range begins at a mark of its own, that mark
//
// Torque in N.m; 0 where neither is known. It has no errors. Source: ISO 6789:2003 tests at 20, 60 and 100 % of the maximum;
// ISO 6789-1:2017 from the lowest value marked (facts 5.2). That a click or beam wrench is not used below a fifth is common
// practice. Checked in wrench_test.go.
func (w Wrench) Least() quantity.Torque {
	if w.Kind == Electronic && w.Min > 0 {
		return w.Min
	}
	return max(w.Min, w.Max/5)
}

// Check says whether a wrench is usable for a setting: on its scale, and not below [Wrench.Least]. An end of the scale itself is on it,
// and an end that is not known is no limit. Torque in N.m. It has no errors. It ignores the graduation. Checked in wrench_test.go.
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

// Marks are the marks of the scale on either side of a setting; both are the same where it falls on one, and only there.
//
//	marks: n·g between the ends of the scale; min + n·g where min is no multiple of g (28, 33, 38 N·m …)
//	below, above: the nearest on either side; 0 where the scale has none
//
// Torque in N.m. A setting within 1e-9 of a graduation from a mark is on it. The end of the scale is no mark unless it falls on one:
// for 148 on a scale to 150 in steps of 20 below is 140 and above 0. For a setting below a first mark, and for one of less than a
// graduation on a scale from 0, below is 0. Without a graduation, or with one too fine to count by, both are the setting itself. It
// has no errors. It ignores that a scale may have finer marks in one part of it. Checked in wrench_test.go.
func (w Wrench) Marks(setting quantity.Torque) (below, above quantity.Torque) {
	g := float64(w.Graduation)
	steps := func(t, from quantity.Torque) (n float64, on bool) { // from one torque to the other
		n = float64(t-from) / g
		return n, math.Abs(n-math.Round(n)) <= within
	}
	if n, _ := steps(max(setting, w.Max, w.Min), 0); !(g > 0) || !(n < 1<<52) {
		return setting, setting
	}
	from, first := quantity.Torque(0), 0.0 // the marks are from + n g, n at least first
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
	if on { // off the scale, or 0
		return mark(min(math.Round(n)-1, last)), mark(max(math.Round(n)+1, first))
	}
	return mark(min(math.Floor(n), last)), mark(max(math.Floor(n)+1, first))
}

// Reached is what a wrench of this deviation may reach when it is set to, or shows, a torque.
//
//	deviation = (set − reached)/reached, so least = set/(1 + d), most = set/(1 − d)
//
// Torque in N.m; the deviation is the wrench's own, else [Wrench.Permitted], and has to be below 1: at 1 and above there is no most, and
// it is the largest torque that can be held. It has no errors. It ignores the hand, the adapter, and a wrench out of its check. Source:
// ISO 6789, the definition of the deviation FROM MEMORY (facts 5.2). Checked in wrench_test.go.
func (w Wrench) Reached(setting quantity.Torque) (least, most quantity.Torque) {
	d := min(w.deviation(), 1)
	least, most = quantity.Torque(float64(setting)/(1+d)), quantity.Torque(math.MaxFloat64)
	if hi := float64(setting) / (1 - d); hi < math.MaxFloat64 {
		most = quantity.Torque(hi)
	}
	return least, most
}
