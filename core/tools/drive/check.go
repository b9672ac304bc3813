package drive

import (
	"ohmwright/core/bench"
	"ohmwright/core/drive"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
)

// check notes faults between fields that are correct by themselves.
func check(r *tool.Record, f *tool.Faults) {
	if material.OK(r) {
		m := material.Of(r)
		bench.CheckAbove(m, r, at, f)
		bench.CheckAbove(m, r, now, f)
		bench.CheckAbove(m, thermal.Of(r), ambient, f)
	}
	switch {
	case duty.Given(r) && target.Given(r):
		f.Conflict("target_current", target.Raw(r), "duty_and_target")
	case onTime.Given(r) && target.Given(r):
		f.Conflict("target_current", target.Raw(r), "on_time_and_target")
	case duty.Given(r) && onTime.Given(r):
		f.Conflict("on_time", onTime.Raw(r), "duty_and_on_time")
	case !duty.Given(r) && !onTime.Given(r) && !target.Given(r):
		f.Missing("duty", "duty_or_target")
	}
	checkOnTime(r, f)
	if target.Given(r) && dutySense.Of(r) != driverOn {
		f.Conflict("duty_sense", dutySense.Raw(r), "sense_and_target")
	}
	if thermal.Given(r) && now.Given(r) {
		f.Conflict("thermal", now.Raw(r), "thermal_and_temperature", quantity.Clip(now.Raw(r)))
	}
	if p := offPath.Of(r); tool.OK(p, kind, across) {
		if kind.Of(p) == diode {
			checkDiode(p, f)
		} else {
			checkClamp(p, r, f)
		}
	}
}

// checkOnTime notes an on-time that is longer than the period. One of the period's own length may be a last digit above it.
func checkOnTime(r *tool.Record, f *tool.Faults) {
	if !onTime.Given(r) || !tool.OK(r, onTime, frequency) || drive.DutyOf(onTime.Of(r), frequency.Of(r)) <= 1+1e-9 {
		return
	}
	s, period := f.Speak, 1/float64(frequency.Of(r))
	f.OutOf("on_time", onTime.Raw(r), "on_time_long", s.Of(quantity.OfTime, float64(onTime.Of(r)), 0), s.Of(quantity.OfTime, period, 0),
		s.Of(quantity.OfFrequency, float64(frequency.Of(r)), 0))
}

// checkDiode notes settings that a diode does not have.
func checkDiode(p *tool.Record, f *tool.Faults) {
	if voltage.Given(p) {
		f.Conflict(voltage.Path(p), voltage.Raw(p), "diode_voltage")
	}
	if across.Of(p) == acrossSwitch {
		f.Conflict(across.Path(p), across.Raw(p), "diode_across")
	}
}

// checkClamp notes a missing or impossible setting of a clamp.
func checkClamp(p, r *tool.Record, f *tool.Faults) {
	if drop.Given(p) {
		f.Conflict(drop.Path(p), drop.Raw(p), "clamp_drop")
	}
	s := f.Speak
	switch v := voltage.Of(p); {
	case !voltage.Given(p):
		f.Missing(voltage.Path(p), "clamp_voltage")
	case !voltage.OK(p):
	case v < drive.DiodeDrop:
		f.OutOf(voltage.Path(p), voltage.Raw(p), "clamp_low", s.Volts(float64(v), 0), s.Volts(drive.DiodeDrop, 0))
	case across.Of(p) == acrossSwitch && supply.OK(r) && v < supply.Of(r)+drive.DiodeDrop:
		f.Conflict(voltage.Path(p), voltage.Raw(p), "clamp_supply", s.Volts(float64(v), 0), s.Volts(float64(supply.Of(r)), 0))
	}
}
