package circuit

import (
	"fmt"

	"ohmwright/core/bench"
	"ohmwright/core/circuit"
	"ohmwright/core/diagnosis"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

// steps writes the working.
func steps(q question, f *diagnosis.Diagnosis, a *tool.Answer) {
	s := a.Speak
	least, most := coilOf(q)
	moved := fmt.Sprintf("%s → %s", s.Ohms(q.Row.Min, 0), s.Ohms(least, 0.005*least))
	a.Step("coil", bench.CorrectionFormula, moved, tool.Of(ohms(least)), "copper")
	currentStep(q, (least+most)/2, a)
	top, sum := f.Faults[0], q.WeightSum()
	w := q.Weights[top.Of]
	prior := fmt.Sprintf("p = %s/%s = %s", s.Typed(w), s.Figures(sum, 4), s.Percent(w/sum))
	a.Step("prior", "p = w/Σw", prior, tool.Plain(quantity.OfRatio, w/sum), "bayes", FaultName(s, top.Of))
	a.Step("posterior", "p(f|r) ∝ w_f ∬ Π p(r_k|f, x, R) dx dR", s.Chance(top.P), tool.Plain(quantity.OfRatio, top.P), "bayes")
	stop := fmt.Sprintf("C = %s × (1 − %s) = %s", s.Typed(q.Wrong[f.Repair]), s.Number(f.RepairP, 4), s.Number(f.Cost, 1))
	a.Step("stop", "C = c_wrong × (1 − p)", stop, tool.Amount{Value: f.Cost, Unit: "1"}, "decision")
	if len(f.Next) > 0 {
		best := f.Next[0]
		saved := fmt.Sprintf("%s − (%s × %s/60 + %s) = %s", s.Number(f.Cost, 1), Minutes(s, best.Minutes), Minutes(s, q.Hour),
			s.Number(f.Cost-best.Value-best.Minutes*q.Hour/60, 1), s.Number(best.Value, 1))
		a.Step("value", "C_now − (t × c_hour/60 + E[C_after])", saved, tool.Amount{Value: best.Value, Unit: "1"}, "decision",
			TestName(s, best.Test))
	}
}

// coilOf returns the row of the specification at the winding's temperature, or at the middle of what it may be.
func coilOf(q question) (least, most float64) {
	at := winding.Anywhere.Middle()
	if q.Warmth.Known {
		at = q.Warmth.At
	}
	warmer := winding.Copper.Factor(q.Row.At, at)
	return q.Row.Min * warmer, q.Row.Max * warmer
}

// currentStep writes how the current of a healthy circuit is worked out, with a winding of so many ohm.
func currentStep(q question, coil float64, a *tool.Answer) {
	s, n := a.Speak, q.Nominal
	i := q.Predict(circuit.CurrentOn, circuit.None, 0, coil)
	with := fmt.Sprintf("I = %s/(%s + %s + %s + %s + %s + %s) = %s", s.Volts(q.Supply, 0), s.Ohms(n.Source, 0), s.Ohms(n.Driver, 0),
		s.Ohms(n.Harness, 0), s.Ohms(n.Lead, 0), s.Ohms(coil, 0.005*coil), s.Ohms(n.Path, 0), s.Amperes(i, 0.005*i))
	a.Step("current", "I = V/(R_source + R_driver + R_harness + R_lead + R_winding + R_return)", with, tool.Of(amperes(i)), "network")
}
