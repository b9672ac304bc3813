// Package speech says torques, forces and lengths to a reader whose torque wrench shows a unit.
package speech

import (
	"math"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// Unit is the unit of torque that has a symbol of the table.
func Unit(symbol string) quantity.Unit {
	u, ok := quantity.UnitNamed(quantity.OfTorque, symbol)
	if !ok {
		panic("speech: no unit " + symbol)
	}
	return u
}

// A Speaker words things for a reader whose wrench shows a unit.
type Speaker struct {
	*wording.Speaker
	Said quantity.Unit
}

// Torque writes a torque in the unit that torques are said in.
func (s Speaker) Torque(t quantity.Torque) string { return s.In(s.Said, t) }

// In writes a torque in a unit.
func (s Speaker) In(u quantity.Unit, t quantity.Torque) string {
	return s.Figure(u, t) + "\u00a0" + Unbroken(u.Sign)
}

// Figure writes a torque in a unit, without the unit.
func (s Speaker) Figure(u quantity.Unit, t quantity.Torque) string {
	return s.AtMost(u.To(float64(t)), 4)
}

// Unbroken is a unit's sign that no line ends in.
func Unbroken(sign string) string { return strings.ReplaceAll(sign, "-", "\u2011") }

// Printed is a quantity as it was given, in the reader's notation.
func (s Speaker) Printed(v quantity.Value) string {
	digits := v.Digits
	if s.Mark() == quantity.Comma {
		digits = strings.Replace(digits, ".", ",", 1)
	}
	return digits + "\u00a0" + Unbroken(v.Unit.Sign)
}

// Newtons writes a force as it is read at a glance.
func (s Speaker) Newtons(f quantity.Force) string {
	if math.Abs(float64(f)) >= 1000 {
		return s.AtMost(float64(f)/1000, 3) + "\u00a0kN"
	}
	return s.AtMost(float64(f), 3) + "\u00a0N"
}

// Millimetres writes a length that was worked out.
func (s Speaker) Millimetres(l quantity.Length) string { return s.AtMost(float64(l), 3) + "\u00a0mm" }

// Length writes a length in the unit that its field was given in.
func (s Speaker) Length(u quantity.Unit, l quantity.Length) string {
	return s.AtMost(u.To(float64(l)), 3) + "\u00a0" + u.Sign
}

// PerCent writes a ratio as per cent.
func (s Speaker) PerCent(r quantity.Ratio) string { return s.Share(float64(r)) }

// Digits writes a number of the working.
func (s Speaker) Digits(v float64) string { return s.AtMost(v, 6) }
