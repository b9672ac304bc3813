package tool

import (
	"fmt"
	"math"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

// digits is a number of the working: to six figures.
func (a *Answer) digits(v float64) string { return a.figured(v, 6) }

// convertSteps show how a torque becomes newton metres, and those inch-pounds.
func (a *Answer) convertSteps(r *Record, res torqueResult) {
	if a.brief || !r.Given("torque") {
		return
	}
	v := r.valueOf("torque")
	factor := a.Speak.Exact(v.Unit.Num / v.Unit.Den * math.Pow10(v.Unit.Exp))
	a.step("newton_metres", "T = n × f", fmt.Sprintf("T = %s × %s = %s N·m", a.figured(in(v.Unit, v.In), 12), factor, a.digits(v.In)), *res.Torque, "sp811")
	a.step("inch_pounds", "n = T / f", fmt.Sprintf("n = %s / %s = %s in-lb", a.digits(v.In), a.Speak.Exact(0.1129848290276167), a.digits(res.Units.InchPound.Value)), res.Units.InchPound, "sp811")
}

func (a *Answer) adapterSteps(r *Record, res torqueResult) {
	if a.brief {
		return
	}
	ad := adapterOf(r.Group("adapter"))
	l, e := a.digits(float64(ad.Wrench)), a.digits(float64(ad.Extension))
	a.step("reach", "L′ = L + E cos θ", fmt.Sprintf("L′ = %s + %s × cos %s° = %s mm", l, e, a.digits(float64(ad.Angle)), a.digits(float64(ad.Reach()))), *res.Reach, "lever")
	a.step("setting", "T_set = T L / L′", fmt.Sprintf("T_set = %s × %s / %s = %s N·m", a.digits(res.Torque.Value), l, a.digits(float64(ad.Reach())), a.digits(res.Setting.Value)), *res.Setting, "lever")
}

func (a *Answer) wrenchSteps(r *Record, setting quantity.Torque, w fastener.Wrench) {
	least, most := w.Reached(setting)
	d := a.percent(float64(w.Deviation))
	source := "iso6789"
	if r.Group("wrench").Given("deviation") {
		source = "arithmetic"
	}
	a.step("reached_least", "T_min = T_set / (1 + d)", fmt.Sprintf("T_min = %s / (1 + %s) = %s N·m", a.digits(float64(setting)), d, a.digits(float64(least))), newtonMetres(least), source)
	a.step("reached_most", "T_max = T_set / (1 − d)", fmt.Sprintf("T_max = %s / (1 − %s) = %s N·m", a.digits(float64(setting)), d, a.digits(float64(most))), newtonMetres(most), source)
}

func (a *Answer) estimateSteps(r *Record, j fastener.Joint, res *torqueResult) {
	if a.brief {
		return
	}
	g, t, f := r.Group("fastener"), j.Thread, res.Fastener
	d2, d3 := a.digits(float64(t.PitchDiameter())), a.digits(float64(t.RootDiameter()))
	mu := a.Speak.Number(g.Value("friction"), 3)
	proof, yield := float64(j.Class.Proof(t.Diameter)), float64(j.Class.Yield(t.Diameter))
	pitch := a.digits(float64(t.Pitch))
	a.step("pitch_diameter", "d₂ = d − 0.75 H, H = P √3 / 2", fmt.Sprintf("d₂ = %s − 0.75 × 0.866 × %s = %s mm", a.digits(float64(t.Diameter)), pitch, d2), plain(quantity.OfLength, float64(t.PitchDiameter())), "iso724")
	a.step("stress_area", "A_s = π/4 ((d₂ + d₃)/2)²", fmt.Sprintf("A_s = π/4 ((%s + %s)/2)² = %s mm²", d2, d3, a.digits(f.StressArea.Value)), f.StressArea, "iso898")
	a.step("proof_load", "F_p = A_s S_p", fmt.Sprintf("F_p = %s × %s = %s N", a.digits(f.StressArea.Value), a.digits(proof), a.digits(f.ProofLoad.Value)), f.ProofLoad, "iso898")
	a.step("preload", "F = A_s ν R_p / √(1 + 3 (3/2 · d₂/d₀ (P/(π d₂) + 1.155 µ))²)", fmt.Sprintf("A_s = %s, ν = %s, R_p = %s, d₂ = %s, d₀ = (d₂ + d₃)/2, P = %s, µ = %s: F = %s N", a.digits(f.StressArea.Value), a.percent(g.Value("utilisation")), a.digits(yield), d2, pitch, mu, a.digits(f.Preload.Value)), f.Preload, "vdi2230")
	a.step("estimate", "T = F (0.16 P + 0.58 d₂ µ + µ D_Km / 2)", fmt.Sprintf("T = %s × (0.16 × %s + 0.58 × %s × %s + %s × D_Km / 2) = %s N·m", a.digits(f.Preload.Value), pitch, d2, mu, mu, a.digits(f.Torque.Value)), f.Torque, "vdi2230")
	if s := f.StripCheck; s != nil {
		a.step("strip", "F_strip = τ A_SG, A_SG = π d (m/P) (P/2 + (d − D₂) tan 30°), m = engagement − 0.8 P", fmt.Sprintf("F_strip = %s to %s", a.newtons(s.Load.Min.Value), a.newtons(s.Load.Max.Value)), s.Load.Min, "strip")
	}
}
