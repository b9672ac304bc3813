package torque

import (
	"fmt"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

// steps writes the working.
func steps(q question, f finding, s speech.Speaker, a *tool.Answer) {
	if q.given.Digits != "" {
		convertSteps(q, s, a)
	}
	if q.Torque > 0 && q.Adapter != nil {
		adapterSteps(q, f, s, a)
	}
	if f.Scale != nil && f.Scale.Use == fastener.Usable {
		wrenchSteps(q, f.Setting, s, a)
	}
	if f.Estimate != nil {
		boltSteps(q.Assembly.Joint, s, a)
		torqueSteps(q.Assembly.Joint, f.Estimate, s, a)
	}
}

// convertSteps shows how a torque becomes newton metres, and how newton metres become inch-pounds.
func convertSteps(q question, s speech.Speaker, a *tool.Answer) {
	v, inchPound := q.given, speech.Unit("lbf.in")
	factor := s.Exact(v.Unit.From(1))
	with := fmt.Sprintf("T = %s × %s = %s N·m", s.AtMost(v.Unit.To(v.In), 12), factor, s.Digits(v.In))
	a.Step("newton_metres", "T = n × f", with, tool.Of(q.Torque), "sp811")
	pounds := inchPound.To(float64(q.Torque))
	with = fmt.Sprintf("n = %s / %s = %s in-lb", s.Digits(v.In), s.Exact(inchPound.Num/inchPound.Den), s.Digits(pounds))
	a.Step("inch_pounds", "n = T / f", with, tool.Amount{Value: pounds, Unit: inchPound.Symbol}, "sp811")
}

func adapterSteps(q question, f finding, s speech.Speaker, a *tool.Answer) {
	ad := q.Adapter
	l, e, reach := s.Digits(float64(ad.Wrench)), s.Digits(float64(ad.Extension)), s.Digits(float64(f.Reach))
	with := fmt.Sprintf("L′ = %s + %s × cos %s° = %s mm", l, e, s.Digits(float64(ad.Angle)), reach)
	a.Step("reach", "L′ = L + E cos θ", with, tool.Of(f.Reach), "lever")
	with = fmt.Sprintf("T_set = %s × %s / %s = %s N·m", s.Digits(float64(q.Torque)), l, reach, s.Digits(float64(f.Setting)))
	a.Step("setting", "T_set = T L / L′", with, tool.Of(f.Setting), "lever")
}

func wrenchSteps(q question, setting quantity.Torque, s speech.Speaker, a *tool.Answer) {
	least, most := q.Wrench.Reached(setting)
	d, set := s.PerCent(q.Wrench.Allowed()), s.Digits(float64(setting))
	source := "iso6789"
	if q.Wrench.Deviation > 0 {
		source = "arithmetic"
	}
	with := fmt.Sprintf("T_min = %s / (1 + %s) = %s N·m", set, d, s.Digits(float64(least)))
	a.Step("reached_least", "T_min = T_set / (1 + d)", with, tool.Of(least), source)
	with = fmt.Sprintf("T_max = %s / (1 − %s) = %s N·m", set, d, s.Digits(float64(most)))
	a.Step("reached_most", "T_max = T_set / (1 − d)", with, tool.Of(most), source)
}

// boltSteps writes how much the bolt itself bears.
func boltSteps(j fastener.Joint, s speech.Speaker, a *tool.Answer) {
	t := j.Thread
	d2, d3, area := s.Digits(float64(t.PitchDiameter())), s.Digits(float64(t.RootDiameter())), s.Digits(float64(t.StressArea()))
	with := fmt.Sprintf("d₂ = %s − 0.75 × 0.866 × %s = %s mm", s.Digits(float64(t.Diameter)), s.Digits(float64(t.Pitch)), d2)
	a.Step("pitch_diameter", "d₂ = d − 0.75 H, H = P √3 / 2", with, tool.Of(t.PitchDiameter()), "iso724")
	with = fmt.Sprintf("A_s = π/4 ((%s + %s)/2)² = %s mm²", d2, d3, area)
	a.Step("stress_area", "A_s = π/4 ((d₂ + d₃)/2)²", with, tool.Of(t.StressArea()), "iso898")
	with = fmt.Sprintf("F_p = %s × %s = %s N", area, s.Digits(float64(j.Class.Proof(t.Diameter))), s.Digits(float64(j.ProofLoad())))
	a.Step("proof_load", "F_p = A_s S_p", with, tool.Of(j.ProofLoad()), "iso898")
}

// torqueSteps writes preload, torque, and the load that strips the threads.
func torqueSteps(j fastener.Joint, e *fastener.Estimate, s speech.Speaker, a *tool.Answer) {
	t, preload := j.Thread, s.Digits(float64(j.Preload()))
	d2, pitch, mu := s.Digits(float64(t.PitchDiameter())), s.Digits(float64(t.Pitch)), s.Number(float64(j.Friction), 3)
	with := fmt.Sprintf("A_s = %s, ν = %s, R_p = %s, d₂ = %s, d₀ = (d₂ + d₃)/2, P = %s, µ = %s: F = %s N",
		s.Digits(float64(t.StressArea())), s.PerCent(j.Utilisation), s.Digits(float64(j.Class.Yield(t.Diameter))), d2, pitch, mu, preload)
	a.Step("preload", "F = A_s ν R_p / √(1 + 3 (3/2 · d₂/d₀ (P/(π d₂) + 1.155 µ))²)", with, tool.Of(j.Preload()), "vdi2230")
	with = fmt.Sprintf("T = %s × (0.16 × %s + 0.58 × %s × %s + %s × D_Km / 2) = %s N·m",
		preload, pitch, d2, mu, mu, s.Digits(float64(e.Torque)))
	a.Step("estimate", "T = F (0.16 P + 0.58 d₂ µ + µ D_Km / 2)", with, tool.Of(e.Torque), "vdi2230")
	if strip := e.Strip; strip != nil {
		with = fmt.Sprintf("F_strip = %s … %s", s.Newtons(strip.Least), s.Newtons(strip.Most))
		a.Step("strip", "F_strip = τ A_SG, A_SG = π d (m/P) (P/2 + (d − D₂) tan 30°), m = engagement − 0.8 P", with,
			tool.Of(strip.Least), "strip")
	}
}
