package circuit

import "math"

// codeInSpiteOfAll is how likely a code is that the checks would not set, relative to one that they would: common practice.
const codeInSpiteOfAll = 0.05

// kinds is a set of kinds of code, a bit each.
type kinds uint8

// has reports whether the set holds a kind.
func (k kinds) has(c Code) bool { return k>>c&1 == 1 }

// sees returns the kinds of code that the control unit's checks would set, from what they can see: the pin's voltage with the
// driver off and on, and the driver's current; expected is the current of a healthy circuit. An open circuit shows as the
// voltage to which the driver's own check current pulls the pin. Source: data sheets of drivers, testdata/bibliography.md; the
// thresholds are common practice.
func (m *Model) sees(pinOff, pinOn, current, expected float64) kinds {
	const low, high, open, off = 1 << CodeLow, 1 << CodeHigh, 1 << CodeOpen, 1 << CodeRange
	var k kinds
	// more is the kind that too much current sets, less the kind that too little or none sets.
	more, less := kinds(low), kinds(high)
	short, idle := pinOn < m.Checks.On, pinOff > m.Checks.Off
	if m.Side == Low {
		more, less = high, low
		short, idle = pinOn > m.Checks.On, pinOff < m.Checks.Off
	}
	if idle || current < m.Checks.Open {
		k |= open | less
	}
	if short || current > m.Checks.Over {
		k |= more
	}
	switch {
	case current > (1+m.Checks.Range)*expected:
		k |= off | more
	case current < (1-m.Checks.Range)*expected:
		k |= off | less
	}
	return k
}

// codeTests are the tests whose predictions the checks use.
const codeTests = 1<<VoltsPinOff | 1<<VoltsPinOn | 1<<CurrentOn

// Sets returns the kinds of code that a fault sets, with a parameter and a healthy winding of coil ohms.
func (m *Model) Sets(f Fault, x, coil float64) (list []Code) {
	k := m.sets(m.healthy(coil).with(f, x))
	for c := CodeLow; int(c) < Codes; c++ {
		if k.has(c) {
			list = append(list, c)
		}
	}
	return list
}

func (m *Model) sets(c chain) kinds {
	var p [Tests]float64
	c.predict(codeTests, &p)
	return m.sees(p[VoltsPinOff], p[VoltsPinOn], p[CurrentOn], m.expectedCurrent())
}

// expectedCurrent returns the current of a healthy circuit with a winding in the middle of its specification.
func (m *Model) expectedCurrent() float64 {
	var p [Tests]float64
	lo, hi := m.coils()
	c := m.healthy((lo + hi) / 2)
	c.predict(1<<CurrentOn, &p)
	return p[CurrentOn]
}

// Predict returns what a test reads without error under a fault, with a parameter and a healthy winding of coil ohms; +Inf for a
// resistance without a path.
func (m *Model) Predict(t Test, f Fault, x, coil float64) float64 {
	var p [Tests]float64
	c := m.healthy(coil).with(f, x)
	c.predict(1<<t, &p)
	return p[t]
}

// Expect returns the range of 95 of 100 readings of a healthy circuit.
func (m *Model) Expect(t Test) Expected {
	if t > VoltsLoad {
		return Expected{}
	}
	lo, hi := m.coils()
	a, b := m.Predict(t, None, 0, lo), m.Predict(t, None, 0, hi)
	if math.IsInf(a, 0) {
		return Expected{Over: true}
	}
	a, b = min(a, b), max(a, b)
	return Expected{Low: max(a-1.96*m.U(t, a), 0), High: b + 1.96*m.U(t, b)}
}
