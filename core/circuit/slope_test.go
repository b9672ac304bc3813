package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/testdata"
)

// knobNames are the knobs in words, for messages.
var knobNames = [Knobs]string{"driver", "harness", "lead", "path", "coil", "fault"}

// turnedBy returns the model's view of a fault where one knob is turned by d.
func turnedBy(m *Model, n Nominal, coil, x float64, f Fault, way, knob int, d float64) (v View) {
	switch knob {
	case DriverKnob:
		n.Driver += d
	case HarnessKnob:
		n.Harness += d
	case LeadKnob:
		n.Lead += d
	case PathKnob:
		n.Path += d
	case CoilKnob:
		coil += d
	case FaultKnob:
		x += d
	}
	c := m.Chain(&n, coil).With(f, x, way)
	c.Predict(electrical(m.Side, m.Return)|InsideToo, &v)
	return v
}

// TestSlopes compares how each prediction changes with each knob with central differences of the predictions, for every fault in
// each of its ways, every test, and the control unit's own view, over random models. The differences themselves are good to
// about 1e-6 of the largest term.
func TestSlopes(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(21, 26))
	n := slopes{t: t}
	for range testdata.Several(12) {
		for _, of := range [...]struct {
			side Side
			ret  Return
		}{{High, Wire}, {High, Case}, {Low, Wire}} {
			m := New(of.side, of.ret, wide(r, 6, 30), 5, 6)
			m.Nominal = Nominal{Driver: wide(r, 0.05, 1), Harness: wide(r, 0.02, 1), Lead: wide(r, 0.02, 0.5), Path: wide(r, 0.01, 0.5),
				Source: wide(r, 0.005, 0.1), Pull: wide(r, 5e3, 1e5)}
			coil := wide(r, 1, 500)
			for f := range Fault(Faults) {
				for way := range f.Ways() {
					n.ofFault(m, f, way, coil, m.Parameter(f, r.Float64()))
				}
			}
		}
	}
	require.Zero(t, n.wrong, "slopes that differ from the differences; the first are above")
	for f := range Fault(Faults) {
		if _, _, _, ok := f.Limits(); ok {
			require.Positive(t, n.moves[f], "%v moves no reading", f)
		}
	}
	t.Logf("%d slopes compared, %d of them not zero, off by at most %.1e", n.compared, n.sloping, n.worst)
}

// A slopes counts what came of the comparison.
type slopes struct {
	t                        *testing.T
	compared, sloping, wrong int
	worst                    float64
	moves                    [Faults]int // slopes with the fault's own parameter that are not zero
}

// ofFault compares the slopes of one fault.
func (n *slopes) ofFault(m *Model, f Fault, way int, coil, x float64) {
	at := [Knobs]float64{m.Nominal.Driver, m.Nominal.Harness, m.Nominal.Lead, m.Nominal.Path, coil, x}
	v := turnedBy(m, m.Nominal, coil, x, f, way, CoilKnob, 0)
	for knob := range Knobs {
		if at[knob] == 0 {
			continue
		}
		d := 1e-4 * at[knob]
		less, more := turnedBy(m, m.Nominal, coil, x, f, way, knob, -d), turnedBy(m, m.Nominal, coil, x, f, way, knob, d)
		for k := range Test(Tests) {
			if electrical(m.Side, m.Return).Has(k) {
				what := fmt.Sprintf("%v of %v %g, way %d, knob %s, side %v", k, f, x, way, knobNames[knob], m.Side)
				n.add(what, f, knob, at[knob], v.On[k], (more.On[k].Value-less.On[k].Value)/(2*d))
				n.add(what+", off", f, knob, at[knob], v.Off[k], (more.Off[k].Value-less.Off[k].Value)/(2*d))
			}
		}
		for on := range v.Inside {
			what := fmt.Sprintf("inside of %v %g, way %d, knob %s, side %v, on %d", f, x, way, knobNames[knob], m.Side, on)
			n.add(what, f, knob, at[knob], v.Inside[on], (more.Inside[on].Value-less.Inside[on].Value)/(2*d))
		}
	}
}

// add compares a slope with a difference. Where it is off by less than a hundredth of a digit over the whole range of a knob that does
// little, that is nothing: there the difference is only rounding.
func (n *slopes) add(what string, f Fault, knob int, at float64, s Sight, want float64) {
	if math.IsInf(s.Value, 0) || math.IsNaN(want) {
		return
	}
	n.compared++
	got := s.By[knob]
	off := math.Abs(got - want)
	if off*at <= 1e-4+1e-7*math.Abs(s.Value) && math.Abs(want)*at <= 1 {
		return
	}
	n.sloping++
	if knob == FaultKnob {
		n.moves[f]++
	}
	relative := off / math.Abs(want)
	n.worst = max(n.worst, relative)
	if !(relative <= 1e-4) {
		if n.wrong++; n.wrong <= 12 {
			n.t.Errorf("%s: slope %.8g, difference %.8g (value %g)", what, got, want, s.Value)
		}
	}
}
