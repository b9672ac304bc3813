package loop

import (
	"fmt"

	"ohmwright/core/bench"
	"ohmwright/core/loop"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

type result struct {
	Total        tool.Amount `json:"total"`
	Winding      tool.Amount `json:"winding"`
	Unwanted     tool.Amount `json:"unwanted"`
	UnwantedDrop tool.Amount `json:"unwanted_drop"`
	Verdict      string      `json:"verdict"`
	Overall      string      `json:"overall"`
}

func tell(q question, f loop.Finding, a *tool.Answer) result {
	if !q.nowGiven {
		a.Warn("temperature_assumed", "winding_temperature", a.Speak.Celsius(float64(q.At), 0))
	}
	switch {
	case f.TooMuch:
		a.Warn("too_much", "current")
	case f.Verdict == loop.Undecided:
		a.Warn("undecided", "limit", a.Speak.Volts(2*f.Drop.U, f.Drop.U))
	}
	if !a.Brief {
		steps(q.Test, f, a)
	}
	a.Caution("live_circuit", "driver_limit", "maker_first")
	return result{
		Total: inOhms(f.Total), Winding: inOhms(f.Winding), Unwanted: inOhms(f.Unwanted), UnwantedDrop: inVolts(f.Drop),
		Verdict: string(f.Verdict), Overall: string(f.Overall()),
	}
}

func inOhms(e measure.Estimate) tool.Amount {
	return tool.Uncertain(quantity.OfResistance, e.Value, e.U)
}
func inVolts(e measure.Estimate) tool.Amount { return tool.Uncertain(quantity.OfVoltage, e.Value, e.U) }

// steps writes the working.
func steps(t loop.Test, f loop.Finding, a *tool.Answer) {
	s := a.Speak
	v, i := s.Volts(float64(t.Supply), 0), s.Amperes(float64(t.Current), 0)
	a.Step("total", "R = V/I", fmt.Sprintf("R = %s/%s = %s", v, i, s.Ohms(f.Total.Value, f.Total.U)), inOhms(f.Total), "ohm")
	if t.At != t.WindingAt {
		m := winding.Measurement{At: t.At, Material: winding.Copper}
		a.Step("winding", bench.CorrectionFormula, bench.Correction(s, t.Winding.Value, f.Winding, m, t.WindingAt), inOhms(f.Winding), "copper")
	}
	w, drop := s.Ohms(f.Winding.Value, f.Winding.U), s.Volts(f.Drop.Value, f.Drop.U)
	if t.DriverVolts > 0 {
		with := fmt.Sprintf("V_lost = %s − %s × %s − %s = %s", v, i, w, s.Volts(float64(t.DriverVolts), 0), drop)
		a.Step("drop", "V_lost = V − I × R_winding − V_driver", with, inVolts(f.Drop), "ohm")
	} else {
		with := fmt.Sprintf("V_lost = %s − %s × (%s + %s) = %s", v, i, w, s.Ohms(float64(t.DriverOhms), 0), drop)
		a.Step("drop", "V_lost = V − I × (R_winding + R_driver)", with, inVolts(f.Drop), "ohm")
	}
	unwanted := fmt.Sprintf("R_unwanted = %s/%s = %s", drop, i, s.Ohms(f.Unwanted.Value, f.Unwanted.U))
	a.Step("unwanted", "R_unwanted = V_lost/I", unwanted, inOhms(f.Unwanted), "ohm")
	half, u := t.Meter.HalfWidth(float64(t.Current)), t.Meter.U(float64(t.Current))
	clamp := fmt.Sprintf("a = %s × %s %% + %s × %s = %s;  u = %s", i, s.Typed(t.Meter.Percent), s.Typed(t.Meter.Counts),
		s.Amperes(t.Meter.Resolution, 0), s.Amperes(half, 0), s.Amperes(u, u))
	a.Step("clamp", "a = I × p + n × d;  u = a/√3", clamp, tool.Of(quantity.Current(u)), "gum437")
}
