package torque

import (
	"math"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// in is a value of the contract's unit in another one.
func in(u quantity.Unit, v float64) float64 { return v * u.Den / u.Num * math.Pow10(-u.Exp) }

// unit is the unit of torque that has a symbol of the table.
func unit(symbol string) quantity.Unit {
	u, ok := quantity.UnitNamed(quantity.OfTorque, symbol)
	if !ok {
		panic("torque: no unit " + symbol)
	}
	return u
}

// A speaker words things for a reader whose wrench shows a unit.
type speaker struct {
	*wording.Speaker
	said quantity.Unit
}

// torque writes a torque in the unit that torques are said in.
func (s speaker) torque(t quantity.Torque) string { return s.in(s.said, t) }

// in writes a torque in a unit.
func (s speaker) in(u quantity.Unit, t quantity.Torque) string {
	return s.figure(u, t) + "\u00a0" + unbroken(u.Sign)
}

// figure writes a torque in a unit, without the unit.
func (s speaker) figure(u quantity.Unit, t quantity.Torque) string {
	return s.AtMost(in(u, float64(t)), 4)
}

// unbroken is a unit's sign that no line ends in.
func unbroken(sign string) string { return strings.ReplaceAll(sign, "-", "\u2011") }

// printed is a quantity as it was given, in the reader's notation.
func (s speaker) printed(v quantity.Value) string {
	digits := v.Digits
	if s.Mark() == quantity.Comma {
		digits = strings.Replace(digits, ".", ",", 1)
	}
	return digits + "\u00a0" + unbroken(v.Unit.Sign)
}

// newtons writes a force as it is read at a glance.
func (s speaker) newtons(f quantity.Force) string {
	if math.Abs(float64(f)) >= 1000 {
		return s.AtMost(float64(f)/1000, 3) + "\u00a0kN"
	}
	return s.AtMost(float64(f), 3) + "\u00a0N"
}

// millimetres writes a length that was worked out.
func (s speaker) millimetres(l quantity.Length) string { return s.AtMost(float64(l), 3) + "\u00a0mm" }

// length writes a length in the unit that its field was given in.
func (s speaker) length(u quantity.Unit, l quantity.Length) string {
	return s.AtMost(in(u, float64(l)), 3) + "\u00a0" + u.Sign
}

// share writes a ratio as per cent.
func (s speaker) share(r quantity.Ratio) string { return s.Share(float64(r)) }

// digits writes a number of the working.
func (s speaker) digits(v float64) string { return s.AtMost(v, 6) }
