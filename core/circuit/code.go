package circuit

import "math"

// How likely a code is that the checks would not set, relative to one that they would; and one where nothing is wrong now, so that
// it was stored by something else, or earlier: common practice.
const (
	codeInSpiteOfAll = 0.05
	codeOfElsewhere  = 0.3
)

// A doubtful is a value and its standard uncertainty.
type doubtful struct{ value, u float64 }

// above returns the probability that it is above a limit.
func (d doubtful) above(limit float64) float64 {
	switch {
	case d.u > 0:
		return normal((d.value - limit) / d.u)
	case d.value > limit:
		return 1
	}
	return 0
}

// checked is what the control unit's checks can see: the pin's voltage with the driver off and on, and the driver's current.
type checked struct{ off, on, amperes doubtful }

// sees returns, for each kind of code, how likely the control unit's checks would set it; expected is the current of a healthy
// circuit. An open circuit shows as the voltage to which the driver's own check current pulls the pin. A current off the
// expected shows as a range, and as the kind of its side.
func (m *Model) sees(c checked, expected float64) (set [Codes]float64) {
	open, short := c.off.above(m.Checks.Off), 1-c.on.above(m.Checks.On)
	if m.Side == Low {
		open, short = 1-open, 1-short
	}
	open = max(open, 1-c.amperes.above(m.Checks.Open))
	less := 1 - c.amperes.above((1-m.Checks.Range)*expected)
	more := c.amperes.above((1 + m.Checks.Range) * expected)
	short = max(short, c.amperes.above(m.Checks.Over), more)
	set[CodeOpen], set[CodeRange] = open, max(less, more)
	set[CodeHigh], set[CodeLow] = max(open, less), short
	if m.Side == Low {
		set[CodeLow], set[CodeHigh] = set[CodeHigh], set[CodeLow]
	}
	return set
}

// codeTests are the tests whose predictions the checks use.
const codeTests = set(1)<<VoltsPinOff | 1<<VoltsPinOn | 1<<CurrentOn

// How far thresholds differ from one control unit to the next, as standard deviations: public data sheets of drivers.
const (
	offSpread   = 0.5  // V
	onSpread    = 0.3  // V
	shareSpread = 0.05 // of the expected current
)

// codeChance returns how likely the stored code is, from what the checks would see, with the doubts of the readings that they stand
// for.
func (m *Model) codeChance(f Fault, c checked, expected float64) float64 {
	switch {
	case m.Code == NoCode, f == Other:
		return 1
	case f == None || f == OtherRow:
		return codeOfElsewhere
	case f.ComesAndGoes():
		return 1
	}
	c.off.u, c.on.u = math.Hypot(c.off.u, offSpread), math.Hypot(c.on.u, onSpread)
	c.amperes.u = math.Hypot(c.amperes.u, shareSpread*expected)
	floor := codeInSpiteOfAll
	if faults[f].part == Power { // a control unit without supply stores what it saw while it lost it
		floor = codeOfElsewhere
	}
	return floor + (1-floor)*m.sees(c, expected)[m.Code]
}

// Sets returns the kinds of code that a fault sets, with a parameter and a healthy winding of coil ohms.
func (m *Model) Sets(f Fault, x, coil float64) (list []Code) {
	return m.set(m.chain(&m.Nominal, coil).with(f, x, 0))
}

func (m *Model) set(c chain) (list []Code) {
	var v view
	c.predict(codeTests, &v)
	set := m.sees(checked{doubtful{v.inside[0].value, 0}, doubtful{v.inside[1].value, 0},
		doubtful{v.on[CurrentOn].value, 0}}, m.expectedCurrent())
	for k := CodeLow; int(k) < Codes; k++ {
		if set[k] > 0.5 {
			list = append(list, k)
		}
	}
	return list
}

// expectedCurrent returns the current of a healthy circuit with a winding in the middle of its specification.
func (m *Model) expectedCurrent() float64 {
	lo, hi := m.coils()
	return m.Predict(CurrentOn, None, 0, (lo+hi)/2)
}
