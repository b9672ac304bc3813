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
	Total        *tool.Amount    `json:"total,omitempty"`
	Winding      *tool.Amount    `json:"winding,omitempty"`
	Unwanted     *tool.Amount    `json:"unwanted,omitempty"`
	UnwantedDrop *tool.Amount    `json:"unwanted_drop,omitempty"`
	Verdict      string          `json:"verdict"`
	Overall      string          `json:"overall"`
	Stop         string          `json:"stop,omitempty"`
	Segments     []segmentResult `json:"segments"`
}

type segmentResult struct {
	Segment  string       `json:"segment"`
	Allowed  tool.Amount  `json:"allowed"`
	Ohms     tool.Amount  `json:"resistance"`
	Expected *tool.Amount `json:"expected,omitempty"`
}

func tell(q question, f finding, a *tool.Answer) *result {
	if f.stop != "" {
		f.stop.Tell(a)
		return &result{Verdict: string(loop.Undecided), Overall: bench.Stopped, Stop: string(f.stop), Segments: []segmentResult{}}
	}
	warn(q, f, a)
	if !a.Brief {
		steps(q.Test, f, a)
	}
	a.Caution("live_circuit", "driver_limit", "maker_first")
	res := &result{Winding: tool.Some(inOhms(f.Winding)), Verdict: string(f.Verdict), Overall: string(f.Overall()),
		Segments: []segmentResult{}}
	if !f.Regulated {
		res.Total, res.Unwanted, res.UnwantedDrop = tool.Some(inOhms(f.Total)), tool.Some(inOhms(f.Unwanted)), tool.Some(inVolts(f.Drop))
	}
	for _, s := range f.Allowed {
		out := segmentResult{Segment: string(s.Name), Allowed: tool.Of(s.Allowed), Ohms: tool.Of(s.Ohms)}
		if s.Wire != nil {
			out.Expected = tool.Some(tool.Of(s.Expected))
		}
		res.Segments = append(res.Segments, out)
	}
	return res
}

// warn tells what makes the result doubtful.
func warn(q question, f finding, a *tool.Answer) {
	if !q.nowGiven {
		lo, hi := a.Speak.Celsius(float64(winding.Anywhere.From), 0), a.Speak.Celsius(float64(winding.Anywhere.To), 0)
		a.Warn("temperature_unknown", "winding_temperature", lo, hi)
	}
	switch {
	case f.Regulated:
		a.Warn("regulated", "driver_kind")
	case f.TooMuch:
		a.Warn("too_much", "current")
	case f.Verdict == loop.Undecided:
		a.WarnBy("undecided."+string(f.Largest), "undecided", "limit", a.Speak.Volts(2*f.Drop.U, f.Drop.U))
	}
	if f.MayRegulate {
		a.Warn("may_regulate", "driver_kind")
	}
	if f.MayBeOff {
		a.Warn("may_be_off", "driver_kind")
	}
	for _, s := range f.Allowed {
		if s.Wire != nil && s.Expected > s.Allowed {
			a.Warn("wire_alone", "wire", a.Speak.Volts(float64(s.Expected), float64(s.Expected)/20), a.Speak.Volts(float64(s.Allowed), 0))
		}
	}
}

func inOhms(e measure.Estimate) tool.Amount {
	return tool.Estimated(quantity.OfResistance, e)
}
func inVolts(e measure.Estimate) tool.Amount { return tool.Estimated(quantity.OfVoltage, e) }

// steps writes the working.
func steps(t loop.Test, f finding, a *tool.Answer) {
	s := a.Speak
	if t.At != t.WindingAt {
		m := winding.Measurement{At: t.At, Material: winding.Copper}
		a.Step("winding", bench.CorrectionFormula, bench.Correction(s, t.Winding.Value, f.Winding, m, t.WindingAt), inOhms(f.Winding), "copper")
	}
	if !f.Regulated {
		lossSteps(t, f, a)
	}
	accuracy, u := bench.Accuracy(s, quantity.OfCurrent, t.Meter, float64(t.Current))
	a.Step("clamp", bench.AccuracyFormula, accuracy, tool.Of(quantity.Current(u)), "one_meter")
	segmentSteps(t, f, a)
}

// lossSteps writes what is lost outside winding and driver.
func lossSteps(t loop.Test, f finding, a *tool.Answer) {
	s := a.Speak
	v, i := s.Volts(float64(t.Supply), 0), s.Amperes(float64(t.Current), 0)
	a.Step("total", "R = V/I", fmt.Sprintf("R = %s/%s = %s", v, i, s.Ohms(f.Total.Value, f.Total.U)), inOhms(f.Total), "ohm")
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
}

// segmentSteps writes what a segment may have, and what a sound wire has.
func segmentSteps(t loop.Test, f finding, a *tool.Answer) {
	s, i := a.Speak, a.Speak.Amperes(float64(t.Current), 0)
	for _, part := range f.Allowed {
		with := fmt.Sprintf("R = %s/%s = %s", s.Volts(float64(part.Allowed), 0), i, s.Three(quantity.OfResistance, float64(part.Ohms)))
		a.Step("segment", "R = V_allowed/I", with, tool.Of(part.Ohms), "ohm", s.Say("segment."+string(part.Name)))
		if part.Wire == nil {
			continue
		}
		formula, with, source := bench.WireWorking(s, *part.Wire)
		a.Step("wire", formula, with, tool.Of(part.OfWire), source)
	}
}
