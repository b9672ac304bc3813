package trace

import (
	"fmt"

	"ohmwright/core/bench"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/trace"
)

// steps writes the working.
func steps(q question, f trace.Judged, a *tool.Answer) {
	s := a.Speak
	span := s.Three(quantity.OfTime, f.From) + " … " + s.Three(quantity.OfTime, f.To)
	a.Step("average", "I_average = ∫ i dt/(t₂ − t₁)", span+": I_average = "+s.Amperes(f.Average, 0), amperes(f.Average), "trapezia")
	a.Step("rms", "I_rms = √(∫ i² dt/(t₂ − t₁))", "I_rms = "+s.Amperes(f.RMS, 0), amperes(f.RMS), "trapezia")
	if f.Periods > 0 {
		duty := "—"
		if f.Duty != 0 {
			duty = s.Share(f.Duty)
		}
		with := fmt.Sprintf("n = %d;  T = %s;  f = %s;  D = %s", f.Periods, s.Of(quantity.OfTime, f.Period, 0),
			s.Of(quantity.OfFrequency, f.Frequency, 0), duty)
		a.Step("period", "T = (t_n − t_0)/n;  f = 1/T;  D = t_on/T", with, seconds(f.Period), "crossings")
	}
	if loop := f.Expected.Resistance; loop > 0 {
		with := fmt.Sprintf("R_loop = %s × %s + %s + %s = %s", s.Ohms(float64(q.Winding), 0),
			s.Number(q.Material.Factor(q.At, q.Now), 4), s.Ohms(float64(q.Wiring), 0), s.Ohms(float64(q.Driver), 0), s.Ohms(loop, 0))
		a.Step("expected", "R_loop = R₁ (θ₂ − θ₀)/(θ₁ − θ₀) + R_wiring + R_driver", with, tool.Plain(quantity.OfResistance, loop),
			bench.SourceOf(q.Material))
	}
	if f.Fit != nil {
		fitSteps(q, f.Fit, a)
	}
}

// fitSteps writes how the ramp gives resistance and inductance.
func fitSteps(q question, fit *trace.Fit, a *tool.Answer) {
	s := a.Speak
	value := tool.Uncertain(quantity.OfTime, fit.TimeConstant, fit.TimeConstantU)
	with := fmt.Sprintf("I_end = %s;  τ = %s", s.PlusMinus(quantity.OfCurrent, fit.Final, fit.FinalU),
		s.PlusMinus(quantity.OfTime, fit.TimeConstant, fit.TimeConstantU))
	a.Step("fit", "i = I_end (1 − e^(−(t − t_0)/τ))", with, value, "squares")
	if fit.Resistance <= 0 {
		return
	}
	value = tool.Uncertain(quantity.OfResistance, fit.Resistance, fit.ResistanceU)
	with = fmt.Sprintf("R = %s/%s = %s", s.Volts(float64(q.Supply), 0), s.Amperes(fit.Final, fit.FinalU),
		s.PlusMinus(quantity.OfResistance, fit.Resistance, fit.ResistanceU))
	a.Step("resistance", "R = V/I_end", with, value, "ohm")
	value = tool.Uncertain(quantity.OfInductance, fit.Inductance, fit.InductanceU)
	with = fmt.Sprintf("L = %s × %s = %s", s.Ohms(fit.Resistance, fit.ResistanceU),
		s.Of(quantity.OfTime, fit.TimeConstant, fit.TimeConstantU), s.PlusMinus(quantity.OfInductance, fit.Inductance, fit.InductanceU))
	a.Step("inductance", "L = R × τ", with, value, "exponential")
}
