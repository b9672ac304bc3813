// Package selfcheck has what a control unit's own checks see of a circuit: which codes that sets, and how likely a code is that is stored.
package selfcheck

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
)

// inSpiteOfAll is how likely a code is that the checks would not set, relative to one that they would: common practice.
const inSpiteOfAll = 0.05

// Elsewhere is the same where nothing is wrong now, so that it was stored by something else, or earlier: common practice.
const Elsewhere = 0.3

// A View is what the control unit's checks can see: the pin's voltage with the driver off and on, and the driver's current.
type View struct{ Off, On, Amperes doubt.Estimate }

// sets returns, for each kind of code, how likely the control unit's checks would set it; expected is the current of a healthy
// circuit. An open circuit shows as the voltage to which the driver's own check current pulls the pin. A current off the
// expected shows as a range, and as the kind of its side.
func (c *View) sets(m *circuit.Model, expected float64) (set [circuit.Codes]float64) {
	open, short := c.Off.Above(m.Checks.Off), 1-c.On.Above(m.Checks.On)
	if m.Side == circuit.Low {
		open, short = 1-open, 1-short
	}
	open = max(open, 1-c.Amperes.Above(m.Checks.Open))
	less := 1 - c.Amperes.Above((1-m.Checks.Range)*expected)
	more := c.Amperes.Above((1 + m.Checks.Range) * expected)
	short = max(short, c.Amperes.Above(m.Checks.Over), more)
	set[circuit.CodeOpen], set[circuit.CodeRange] = open, max(less, more)
	set[circuit.CodeHigh], set[circuit.CodeLow] = max(open, less), short
	if m.Side == circuit.Low {
		set[circuit.CodeLow], set[circuit.CodeHigh] = set[circuit.CodeHigh], set[circuit.CodeLow]
	}
	return set
}

// Tests are what the checks use of predictions.
const Tests = circuit.InsideToo | circuit.Set(1)<<circuit.VoltsPinOff | 1<<circuit.VoltsPinOn | 1<<circuit.CurrentOn

// How far thresholds differ from one control unit to the next, as standard deviations: public data sheets of drivers.
const (
	offSpread   = 0.5  // V
	onSpread    = 0.3  // V
	shareSpread = 0.05 // of the expected current
)

// Counts reports whether the checks' view of a fault counts.
func Counts(m *circuit.Model, f circuit.Fault) bool {
	return m.Code != circuit.NoCode && f != circuit.None && f != circuit.Other && f != circuit.OtherRow && !f.ComesAndGoes()
}

// Chance returns how likely the stored code is under a fault, from what the checks would see, with the doubts of the readings that they
// stand for; expected is the current of a healthy circuit.
func (c View) Chance(m *circuit.Model, f circuit.Fault, expected float64) float64 {
	switch {
	case m.Code == circuit.NoCode, f == circuit.Other:
		return 1
	case f == circuit.None || f == circuit.OtherRow:
		return Elsewhere
	case f.ComesAndGoes():
		return 1
	}
	wider := func(d *doubt.Estimate, u float64) { d.U = math.Sqrt(d.U*d.U + u*u) }
	wider(&c.Off, offSpread)
	wider(&c.On, onSpread)
	wider(&c.Amperes, shareSpread*expected)
	floor := inSpiteOfAll
	if f.Part() == circuit.Power { // a control unit without supply stores what it saw while it lost it
		floor = Elsewhere
	}
	return floor + (1-floor)*c.sets(m, expected)[m.Code]
}

// Sets returns the kinds of code that a fault sets, with a parameter and a healthy winding of coil ohms.
func Sets(m *circuit.Model, f circuit.Fault, x, coil float64) []circuit.Code {
	return SetBy(m, m.Chain(&m.Nominal, coil).With(f, x, 0))
}

// SetBy returns the kinds of code that a chain sets.
func SetBy(m *circuit.Model, c circuit.Chain) (list []circuit.Code) {
	var v circuit.View
	c.Predict(Tests, &v)
	exactly := func(s *circuit.Sight) doubt.Estimate { return doubt.Estimate{Value: s.Value} }
	set := (&View{exactly(&v.Inside[0]), exactly(&v.Inside[1]), exactly(&v.On[circuit.CurrentOn])}).sets(m, m.HealthyAmperes())
	for k := circuit.CodeLow; int(k) < circuit.Codes; k++ {
		if set[k] > 0.5 {
			list = append(list, k)
		}
	}
	return list
}
