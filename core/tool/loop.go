package tool

import (
	"fmt"

	"ohmwright/core/loop"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

var voltageOnly = []quantity.Kind{quantity.OfVoltage}

// Loop declares the loaded test.
var Loop = &Tool{
	Name:    "loop",
	Example: `{"supply": "13.2 V", "current": "1.65 A", "winding": "5.3 ohm", "at": "20 degC", "winding_temperature": "88 degC"}`,
	Result:  loopResult{},
	Before:  []string{"live_circuit"},
	Fields: []Field{
		{Name: "supply", Shape: Quantity, Kinds: voltageOnly, Need: true, Range: voltages, Offer: []string{"V"}},
		{Name: "current", Shape: Quantity, Kinds: currentOnly, Need: true, Range: currents, Offer: []string{"A", "mA"}},
		{Name: "winding", Shape: Quantity, Kinds: resistanceOnly, Range: over(0, mostOhms), Offer: []string{"ohm"}},
		{Name: "at", Shape: Quantity, Kinds: temperatureOnly, Default: "20 degC", Range: temperatures, Offer: []string{"degC", "degF"}},
		{Name: "spec", Shape: Group, Fields: []Field{
			{Name: "min", Shape: Quantity, Kinds: resistanceOnly, Need: true, Range: resistances, Offer: []string{"ohm"}},
			{Name: "max", Shape: Quantity, Kinds: resistanceOnly, Need: true, Range: over(0, mostOhms), UnitFrom: "min"},
			{Name: "at", Shape: Quantity, Kinds: temperatureOnly, Default: "20 degC", Range: temperatures, Offer: []string{"degC", "degF"}},
		}},
		{Name: "winding_temperature", Shape: Quantity, Kinds: temperatureOnly, Range: temperatures, Offer: []string{"degC", "degF"}},
		{Name: "driver", Shape: Quantity, Kinds: []quantity.Kind{quantity.OfResistance, quantity.OfVoltage}, Fine: true, Default: "0.15 ohm", Range: between(0, 1e6), Offer: []string{"ohm", "V"}},
		{Name: "limit", Shape: Quantity, Kinds: voltageOnly, Fine: true, Default: "0.5 V", Range: voltages, Offer: []string{"V", "mV"}},
		{Name: "meter", Shape: Group, Fine: true, Fields: meterFields("2", "3", "0.01 A", quantity.OfCurrent)},
		{Name: "supply_within", Shape: Quantity, Kinds: voltageOnly, Fine: true, Default: "0 V", Range: between(0, mostVolts), Offer: []string{"V", "mV"}},
		{Name: "winding_within", Shape: Quantity, Kinds: resistanceOnly, Fine: true, Default: "0 ohm", Range: resistances, Offer: []string{"ohm"}},
		{Name: "winding_temperature_within", Shape: Quantity, Kinds: differenceOnly, Fine: true, Default: "0 K", Range: differences, Offer: []string{"K", "degF"}},
	},
	check: checkLoop,
	run:   runLoop,
	lay:   layLoop,
}

type loopResult struct {
	Total        Amount `json:"total"`
	Winding      Amount `json:"winding"`
	Unwanted     Amount `json:"unwanted"`
	UnwantedDrop Amount `json:"unwanted_drop"`
	Verdict      string `json:"verdict"`
}

func checkLoop(r *Record, f *faults) {
	spec := r.Group("spec")
	switch {
	case r.Given("winding") && r.Given("spec"):
		f.conflict("spec", r.Text("winding"), "winding_and_spec")
	case !r.Given("winding") && !r.Given("spec"):
		f.add(Fault{Field: "winding", Code: Missing}, "winding_or_spec")
	}
	if r.Given("spec") && r.Given("at") {
		f.conflict("at", r.Text("at"), "spec_at")
	}
	if r.Given("spec") && r.Given("winding_within") {
		f.conflict("winding_within", r.Text("winding_within"), "spec_within")
	}
	if spec.Given("min") && spec.Given("max") && spec.OK("min", "max") && spec.Value("min") > spec.Value("max") {
		f.conflict("spec.min", spec.Text("min"), "min_max", f.speak.Ohms(spec.Value("min"), 0), f.speak.Ohms(spec.Value("max"), 0))
	}
	checkAbove(winding.Copper, r, "at", f)
	checkAbove(winding.Copper, spec, "at", f)
	checkAbove(winding.Copper, r, "winding_temperature", f)
	if r.OK("supply", "driver") && r.Kind("driver") == quantity.OfVoltage && r.Value("driver") >= r.Value("supply") {
		f.conflict("driver", r.Text("driver"), "driver_supply", f.speak.Volts(r.Value("driver"), 0), f.speak.Volts(r.Value("supply"), 0))
	}
}

func runLoop(r *Record, a *Answer) {
	t := loop.Test{
		Supply:        quantity.Voltage(r.Value("supply")),
		SupplyWithin:  quantity.Voltage(r.Value("supply_within")),
		Current:       quantity.Current(r.Value("current")),
		Meter:         meterOf(r.Group("meter")),
		At:            quantity.Temperature(r.Value("at")),
		WindingWithin: quantity.TemperatureDifference(r.Value("winding_temperature_within")),
		Limit:         quantity.Voltage(r.Value("limit")),
	}
	if r.Given("winding") {
		t.Winding = measure.Estimate{Value: r.Value("winding"), U: measure.Rectangular(r.Value("winding_within"))}
	} else {
		s := r.Group("spec")
		lo, hi := s.Value("min"), s.Value("max")
		t.Winding = measure.Estimate{Value: (lo + hi) / 2, U: measure.Rectangular((hi - lo) / 2)}
		t.At = quantity.Temperature(s.Value("at"))
	}
	t.WindingAt = t.At
	if r.Given("winding_temperature") {
		t.WindingAt = quantity.Temperature(r.Value("winding_temperature"))
	} else {
		a.warn("temperature_assumed", "winding_temperature", a.Speak.Celsius(float64(t.At), 0))
	}
	if r.Kind("driver") == quantity.OfVoltage {
		t.DriverVolts = quantity.Voltage(r.Value("driver"))
	} else {
		t.DriverOhms = quantity.Resistance(r.Value("driver"))
	}
	found := t.Find()
	a.Result = loopResult{
		Total: ohms(found.Total.Value, found.Total.U), Winding: ohms(found.Winding.Value, found.Winding.U),
		Unwanted:     ohms(found.Unwanted.Value, found.Unwanted.U),
		UnwantedDrop: amount(quantity.OfVoltage, found.Drop.Value, found.Drop.U), Verdict: string(found.Verdict),
	}
	if !a.brief {
		a.loopSteps(t, found)
	}
	switch {
	case found.TooMuch:
		a.warn("too_much", "current")
	case found.Verdict == loop.Undecided:
		a.warn("undecided", "limit", a.Speak.Volts(2*found.Drop.U, found.Drop.U))
	}
	a.caution("live_circuit", "driver_limit", "maker_first")
}

// loopSteps writes the working.
func (a *Answer) loopSteps(t loop.Test, f loop.Finding) {
	s := a.Speak
	v, i := s.Volts(float64(t.Supply), 0), s.Amperes(float64(t.Current), 0)
	a.step("total", "R = V/I", fmt.Sprintf("R = %s/%s = %s", v, i, s.Ohms(f.Total.Value, f.Total.U)), ohms(f.Total.Value, f.Total.U), "ohm")
	if t.At != t.WindingAt {
		m := winding.Measurement{At: t.At, Material: winding.Copper}
		a.step("winding", "R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)", correction(s, t.Winding.Value, f.Winding, m, t.WindingAt), ohms(f.Winding.Value, f.Winding.U), "copper")
	}
	w := s.Ohms(f.Winding.Value, f.Winding.U)
	if t.DriverVolts > 0 {
		a.step("drop", "V_lost = V − I × R_winding − V_driver", fmt.Sprintf("V_lost = %s − %s × %s − %s = %s", v, i, w, s.Volts(float64(t.DriverVolts), 0), s.Volts(f.Drop.Value, f.Drop.U)),
			amount(quantity.OfVoltage, f.Drop.Value, f.Drop.U), "ohm")
	} else {
		a.step("drop", "V_lost = V − I × (R_winding + R_driver)", fmt.Sprintf("V_lost = %s − %s × (%s + %s) = %s", v, i, w, s.Ohms(float64(t.DriverOhms), 0), s.Volts(f.Drop.Value, f.Drop.U)),
			amount(quantity.OfVoltage, f.Drop.Value, f.Drop.U), "ohm")
	}
	a.step("unwanted", "R_unwanted = V_lost/I", fmt.Sprintf("R_unwanted = %s/%s = %s", s.Volts(f.Drop.Value, f.Drop.U), i, s.Ohms(f.Unwanted.Value, f.Unwanted.U)),
		ohms(f.Unwanted.Value, f.Unwanted.U), "ohm")
	a.step("clamp", "a = I × p + n × d;  u = a/√3", fmt.Sprintf("a = %s × %s %% + %s × %s = %s;  u = %s", i, s.Number(t.Meter.Percent, decimalsOf(t.Meter.Percent)), s.Number(t.Meter.Counts, decimalsOf(t.Meter.Counts)),
		s.Amperes(t.Meter.Resolution, 0), s.Amperes(t.Meter.HalfWidth(float64(t.Current)), 0), s.Amperes(t.Meter.U(float64(t.Current)), t.Meter.U(float64(t.Current)))),
		plain(quantity.OfCurrent, t.Meter.U(float64(t.Current))), "gum437")
}
