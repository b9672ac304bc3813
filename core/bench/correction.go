package bench

import (
	"fmt"
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

// CorrectionFormula is the formula that moves a resistance to another temperature.
const CorrectionFormula = "R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)"

// Correction returns [CorrectionFormula] with the numbers put in, for a winding of so many ohm, measured as m says and moved to ref.
func Correction(s *wording.Speaker, ohms float64, moved measure.Estimate, m winding.Measurement, ref quantity.Temperature) string {
	zero := s.Number(math.Abs(float64(m.Material.ZeroResistanceAt)), 1)
	sign := " + "
	if m.Material.ZeroResistanceAt > 0 {
		sign = " − "
	}
	to, from := s.Typed(float64(ref)), s.Typed(float64(m.At))
	return fmt.Sprintf("R₂ = %s × (%s%s%s)/(%s%s%s) = %s", s.Ohms(ohms, moved.U), to, sign, zero, from, sign, zero,
		s.Ohms(moved.Value, moved.U))
}

// SourceOf returns the key source.KEY of the source of a material's zero-resistance temperature.
func SourceOf(m winding.Material) string {
	switch m {
	case winding.Copper:
		return "copper"
	case winding.Aluminium:
		return "aluminium"
	}
	return "given_material"
}
