// Package speech words torques, forces and lengths for a reader whose torque wrench shows a certain unit.
package speech

import (
	"math"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// Unit returns the unit of torque with a symbol. It panics if there is none.
func Unit(symbol string) quantity.Unit {
	u, ok := quantity.UnitNamed(quantity.OfTorque, symbol)
	if !ok {
		panic("speech: no unit " + symbol)
	}
	return u
}

// A Speaker words things for a reader. Torques are given in the unit Said.
type Speaker struct {
	*wording.Speaker
	Said quantity.Unit
}

// Torque writes a torque in the unit of the speaker.
func (s Speaker) Torque(t quantity.Torque) string { return s.In(s.Said, t) }

// In writes a torque in a unit.
func (s Speaker) In(u quantity.Unit, t quantity.Torque) string {
	return s.Figure(u, t) + "\u00a0" + Unbroken(u.Sign)
}

// Figure writes the number of a torque in a unit, without the unit.
func (s Speaker) Figure(u quantity.Unit, t quantity.Torque) string {
	return s.AtMost(u.To(float64(t)), 4)
}

// Unbroken returns a unit's sign with hyphens at which no line breaks.
func Unbroken(sign string) string { return strings.ReplaceAll(sign, "-", "\u2011") }

// Printed returns a quantity as it was given, in the reader's notation.
func (s Speaker) Printed(v quantity.Value) string {
	return s.Mark().In(v.Digits) + "\u00a0" + Unbroken(v.Unit.Sign)
}

// Newtons writes a force to three figures, in newton or kilonewton.
func (s Speaker) Newtons(f quantity.Force) string {
	if math.Abs(float64(f)) >= 1000 {
		return s.AtMost(float64(f)/1000, 3) + "\u00a0kN"
	}
	return s.AtMost(float64(f), 3) + "\u00a0N"
}

// Millimetres writes a calculated length.
func (s Speaker) Millimetres(l quantity.Length) string { return s.AtMost(float64(l), 3) + "\u00a0mm" }

// Length writes a length in the unit in which its field was given.
func (s Speaker) Length(u quantity.Unit, l quantity.Length) string {
	return s.AtMost(u.To(float64(l)), 3) + "\u00a0" + u.Sign
}

// PerCent writes a ratio as per cent.
func (s Speaker) PerCent(r quantity.Ratio) string { return s.Share(float64(r)) }

// Digits writes a number for the working, to six figures.
func (s Speaker) Digits(v float64) string { return s.AtMost(v, 6) }
