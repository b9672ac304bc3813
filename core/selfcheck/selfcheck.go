package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/measure"
)

// How likely a code is that the checks would not set, relative to one that they would; and one where nothing is wrong now, so that
// it was stored by something else, or earlier: common practice.
const (
	codeInSpiteOfAll = 0.05
	codeOfElsewhere  = 0.3
)

// A Doubtful is a value and its standard uncertainty.
type Doubtful struct{ Value, U float64 }

// above returns the probability that it is above a limit.
func (d Doubtful) above(limit float64) float64 {
	switch {
	case d.U > 0:
		return measure.Normal((d.Value - limit) / d.U)
	case d.Value > limit:
		return 1
	}
	return 0
}

// checked is what the control unit's checks can see: the pin's voltage with the driver off and on, and the driver's current.
type checked struct{ off, on, amperes Doubtful }

// sees returns, for each kind of code, how likely the control unit's checks would set it; expected is the current of a healthy
// circuit. An open circuit shows as the voltage to which the driver's own check current pulls the pin. A current off the
// expected shows as a range, and as the kind of its side.
func (m *model) sees(c checked, expected float64) (set [circuit.Codes]float64) {
	open, short := c.off.above(m.Checks.Off), 1-c.on.above(m.Checks.On)
	if m.Side == circuit.Low {
		open, short = 1-open, 1-short
	}
	open = max(open, 1-c.amperes.above(m.Checks.Open))
	less := 1 - c.amperes.above((1-m.Checks.Range)*expected)
	more := c.amperes.above((1 + m.Checks.Range) * expected)
	short = max(short, c.amperes.above(m.Checks.Over), more)
	set[circuit.CodeOpen], set[circuit.CodeRange] = open, max(less, more)
	set[circuit.CodeHigh], set[circuit.CodeLow] = max(open, less), short
	if m.Side == circuit.Low {
		set[circuit.CodeLow], set[circuit.CodeHigh] = set[circuit.CodeHigh], set[circuit.CodeLow]
	}
	return set
}

// codeTests are what the checks use of predictions.
const codeTests = circuit.InsideToo | circuit.Set(1)<<circuit.VoltsPinOff | 1<<circuit.VoltsPinOn | 1<<circuit.CurrentOn

// How far thresholds differ from one control unit to the next, as standard deviations: public data sheets of drivers.
const (
	offSpread   = 0.5  // V
	onSpread    = 0.3  // V
	shareSpread = 0.05 // of the expected current
)

// coded reports whether the checks' view of a fault counts.
func (m *model) coded(f circuit.Fault) bool {
	return m.Code != circuit.NoCode && f != circuit.None && f != circuit.Other && f != circuit.OtherRow && !f.ComesAndGoes()
}

// codeChance returns how likely the stored code is, from what the checks would see, with the doubts of the readings that they stand
// for.
func (m *model) codeChance(f circuit.Fault, c checked, expected float64) float64 {
	switch {
	case m.Code == circuit.NoCode, f == circuit.Other:
		return 1
	case f == circuit.None || f == circuit.OtherRow:
		return codeOfElsewhere
	case f.ComesAndGoes():
		return 1
	}
	wider := func(d *Doubtful, u float64) { d.U = math.Sqrt(d.U*d.U + u*u) }
	wider(&c.off, offSpread)
	wider(&c.on, onSpread)
	wider(&c.amperes, shareSpread*expected)
	floor := codeInSpiteOfAll
	if f.Part() == circuit.Power { // a control unit without supply stores what it saw while it lost it
		floor = codeOfElsewhere
	}
	return floor + (1-floor)*m.sees(c, expected)[m.Code]
}

// Sets returns the kinds of code that a fault sets, with a parameter and a healthy winding of coil ohms.
func Sets(m *circuit.Model, f circuit.Fault, x, coil float64) (list []circuit.Code) {
	return (&model{*m}).set(m.Chain(&m.Nominal, coil).With(f, x, 0))
}

// set returns the kinds of code that the chain sets.
func (m *model) set(c circuit.Chain) (list []circuit.Code) {
	var v circuit.View
	c.Predict(codeTests, &v)
	set := m.sees(checked{Doubtful{v.Inside[0].Value, 0}, Doubtful{v.Inside[1].Value, 0},
		Doubtful{v.On[circuit.CurrentOn].Value, 0}}, m.HealthyAmperes())
	for k := circuit.CodeLow; int(k) < circuit.Codes; k++ {
		if set[k] > 0.5 {
			list = append(list, k)
		}
	}
	return list
}
