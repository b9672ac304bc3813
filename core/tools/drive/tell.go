package drive

import (
	"slices"

	"ohmwright/core/bench"
	"ohmwright/core/drive"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
)

type result struct {
	CurrentAverage    tool.Amount      `json:"current_average"`
	CurrentRMS        tool.Amount      `json:"current_rms"`
	CurrentMax        tool.Amount      `json:"current_max"`
	CurrentMin        tool.Amount      `json:"current_min"`
	Ripple            tool.Amount      `json:"ripple"`
	CurrentAC         tool.Amount      `json:"current_ac"`
	CurrentAveraging  tool.Amount      `json:"current_ac_averaging"`
	Mode              string           `json:"mode"`
	TimeConstant      tool.Amount      `json:"time_constant"`
	PowerWinding      tool.Amount      `json:"power_winding"`
	PowerWiring       tool.Amount      `json:"power_wiring"`
	PowerDriver       tool.Amount      `json:"power_driver"`
	PowerSupply       tool.Amount      `json:"power_supply"`
	PowerOffPath      tool.Amount      `json:"power_off_path"`
	EnergyOffPath     tool.Amount      `json:"energy_off_path"`
	PinVoltageAverage tool.Amount      `json:"pin_voltage_average"`
	PinVoltageRMS     tool.Amount      `json:"pin_voltage_rms"`
	PinVoltageAC      tool.Amount      `json:"pin_voltage_ac"`
	PinAveraging      tool.Amount      `json:"pin_voltage_ac_averaging"`
	PinHigh           tool.Amount      `json:"pin_high"`
	PinVoltageMax     tool.Amount      `json:"pin_voltage_max"`
	PinVoltageMin     tool.Amount      `json:"pin_voltage_min"`
	WindingTemp       tool.Amount      `json:"winding_temperature"`
	WindingResistance tool.Amount      `json:"winding_resistance"`
	Duty              tool.Amount      `json:"duty"`
	Inductance        tool.Amount      `json:"inductance"`
	InductanceSwing   []swingResult    `json:"inductance_swing"`
	InsulationClass   string           `json:"insulation_class"`
	Peak              *tool.Amount     `json:"peak,omitempty"`
	Limits            []limitResult    `json:"limits"`
	Supplies          []suppliedResult `json:"supplies"`
	SteadyAfter       tool.Amount      `json:"steady_after"`
	Waveform          []bench.Point    `json:"waveform"`
	Start             []bench.Point    `json:"start"`
	Overall           string           `json:"overall"`
	Stop              string           `json:"stop,omitempty"`
}

type limitResult struct {
	Case        string      `json:"case"`
	Temperature tool.Amount `json:"temperature"`
	Current     tool.Amount `json:"current"`
	Margin      tool.Amount `json:"margin"`
	WithinLimit string      `json:"within_limit"`
}

// A swingResult is what another inductance would give, where a usual one stands in.
type swingResult struct {
	Inductance     tool.Amount `json:"inductance"`
	CurrentAverage tool.Amount `json:"current_average"`
	CurrentMax     tool.Amount `json:"current_max"`
	Ripple         tool.Amount `json:"ripple"`
	Duty           tool.Amount `json:"duty"`
}

type suppliedResult struct {
	Supply         tool.Amount `json:"supply"`
	Codes          []string    `json:"codes"`
	CurrentAverage tool.Amount `json:"current_average"`
	CurrentMax     tool.Amount `json:"current_max"`
	Duty           tool.Amount `json:"duty"`
	Reached        bool        `json:"reached"`
	WindingTemp    tool.Amount `json:"winding_temperature"`
}

func tell(q question, f finding, a *tool.Answer) *result {
	c, s := f.Circuit, f.State
	res := &result{
		CurrentAverage: tool.Of(s.Average), CurrentRMS: tool.Of(s.RMS), CurrentMax: tool.Of(s.Max), CurrentMin: tool.Of(f.Least),
		Ripple: tool.Of(s.Ripple), CurrentAC: tool.Of(f.AC), CurrentAveraging: tool.Of(f.Averaging),
		Mode: "discontinuous", TimeConstant: tool.Of(s.TimeConstant),
		PowerWinding: tool.Of(s.Winding), PowerWiring: tool.Of(s.Wiring), PowerDriver: tool.Of(s.Driver),
		PowerSupply: tool.Of(s.Supply), PowerOffPath: tool.Of(s.OffPath), EnergyOffPath: tool.Of(f.PerPulse),
		PinVoltageAverage: tool.Of(f.Pin.Average), PinVoltageRMS: tool.Of(f.Pin.RMS), PinVoltageAC: tool.Of(f.Pin.AC),
		PinAveraging: tool.Of(f.Pin.Averaging),
		PinHigh:      tool.Of(f.Pin.High), PinVoltageMax: tool.Of(f.Pin.Max), PinVoltageMin: tool.Of(f.Pin.Min),
		WindingTemp: tool.Of(f.Temperature), WindingResistance: tool.Of(c.Winding), Duty: tool.Of(c.Duty),
		Inductance: tool.Of(c.Inductance), InductanceSwing: tellSwing(f.Swing),
		Limits: tellLimits(f.Limits), Supplies: tellSupplies(f.Supplies), SteadyAfter: tool.Of(f.Steady),
		Waveform: curve(f.Wave).Points(), Start: curve(f.Start).Points(), Overall: f.overall(), Stop: string(f.stop),
	}
	if s.Continuous {
		res.Mode = "continuous"
	}
	if f.Bears < len(drive.Classes) {
		res.InsulationClass = className(f.Bears)
	}
	if q.FullFor > 0 {
		res.Peak = tool.Some(tool.Of(f.Peak))
	}
	if !a.Brief {
		steps(q, f, a)
	}
	for _, d := range f.Doubts {
		warn(q, f, d, a)
	}
	if f.stop != "" {
		f.stop.Tell(a)
		return res
	}
	a.Caution("live_circuit", "opened_winding", "hot_winding", "driver_limit", "maker_first")
	return res
}

// curve returns points as a curve that the charts of core/bench can draw.
func curve(points []drive.Point) bench.Curve {
	return bench.Curve{N: len(points), At: func(k int) (t, i float64) { return float64(points[k].T), float64(points[k].I) }}
}

func tellLimits(limits []drive.Limit) []limitResult {
	out := make([]limitResult, len(limits))
	for i, l := range limits {
		out[i] = limitResult{string(l.Case), tool.Of(l.Temperature), tool.Of(l.Current), tool.Of(l.Margin), within(l)}
	}
	return out
}

func tellSwing(swing []drive.Found) []swingResult {
	out := make([]swingResult, len(swing))
	for i, at := range swing {
		out[i] = swingResult{tool.Of(at.Circuit.Inductance), tool.Of(at.State.Average), tool.Of(at.State.Max), tool.Of(at.State.Ripple),
			tool.Of(at.Circuit.Duty)}
	}
	return out
}

// within returns the contract's word for whether the limit is kept.
func within(l drive.Limit) string {
	if l.Over != "" {
		return "no"
	}
	return "yes"
}

func tellSupplies(supplies []drive.Supplied) []suppliedResult {
	out := make([]suppliedResult, len(supplies))
	for i, at := range supplies {
		out[i] = suppliedResult{
			tool.Of(at.Supply), append([]string{}, at.Codes...), tool.Of(at.State.Average), tool.Of(at.State.Max), tool.Of(at.Circuit.Duty),
			at.Reached, tool.Of(at.Temperature),
		}
	}
	return out
}

// warn adds the warning for a doubt.
func warn(q question, f finding, d drive.Doubt, a *tool.Answer) {
	s, code := a.Speak, string(d)
	hot := s.Degrees(float64(f.Temperature))
	switch d {
	case drive.TemperatureAssumed:
		a.Warn(code, "winding_temperature", s.Celsius(float64(q.Temperature), 0))
	case drive.InductanceAssumed:
		half, twice := f.Swing[0].State, f.Swing[1].State
		a.Warn(code, "inductance", bench.Three(s, q.Circuit.Inductance), bench.Three(s, min(half.Average, twice.Average)),
			bench.Three(s, max(half.Average, twice.Average)), bench.Three(s, max(half.Max, twice.Max)))
	case drive.OverEveryClass, drive.OverClass:
		a.Warn(code, "insulation_class", hot, className(f.TooHot))
	case drive.ClassNeeded:
		a.Warn(code, "insulation_class", hot, className(f.TooHot), className(f.Bears))
	case drive.LowSupply:
		a.Warn(code, "target_current", s.Volts(float64(f.Short.Supply), 0), bench.Three(s, f.Short.State.Average))
	case drive.ClampConducts:
		a.Warn(code, "off_path.voltage", s.Volts(float64(q.Circuit.Off.Clamp), 0), s.Volts(float64(f.Conducts), 0))
	case drive.TinyDuty:
		given := float64(q.DutyGiven)
		a.Warn(code, "duty", s.Of(quantity.OfRatio, given, 0), s.Of(quantity.OfRatio, given*100, 0))
	case drive.IdealDiode:
		a.Warn(code, "off_path.drop")
	default: // over the driver's limit
		l := f.Limits[slices.IndexFunc(f.Limits, func(l drive.Limit) bool { return l.Over == d })]
		a.Warn(code, "driver_limit", bench.Three(s, l.Current), s.Amperes(float64(q.Limit), 0), s.Degrees(float64(l.Temperature)))
	}
}
