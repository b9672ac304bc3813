package tool

import (
	"fmt"
	"math"

	"ohmwright/core/drive"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

var (
	inductanceOnly = []quantity.Kind{quantity.OfInductance}
	frequencyOnly  = []quantity.Kind{quantity.OfFrequency}
	timeOnly       = []quantity.Kind{quantity.OfTime}
	thermalOnly    = []quantity.Kind{quantity.OfThermalResistance}
)

// Limits of what a drive can be: beyond them a text is a slip of the keys.
const (
	mostHenries = 1e4
	mostHertz   = 1e7
	mostSeconds = 1e6
	mostThermal = 1e6
	diodeDrop   = 0.7 // volts, common practice: what a diode is taken to drop, and what no clamp can lie below
)

// Drive declares the question what current and power a pulsed supply gives.
var Drive = &Tool{
	Name: "drive",
	Example: `{"supply": "13.8 V", "resistance": "5.3 ohm", "winding_temperature": "88 degC", "inductance": "12 mH", "frequency": "300 Hz",
  "duty": "45 %", "wiring": "0.2 ohm", "driver": "0.15 ohm", "off_path": {"kind": "diode", "drop": "0.7 V"}, "driver_limit": "3 A"}`,
	Result: driveResult{},
	Before: []string{"opened_winding"},
	Fields: []Field{
		{Name: "supply", Shape: Quantity, Kinds: voltageOnly, Need: true, Range: voltages, Offer: []string{"V"}, Slide: &Slide{From: 6, To: 32, Step: 0.1}},
		{Name: "resistance", Sample: "5.3 ohm", Shape: Quantity, Kinds: resistanceOnly, Need: true, Range: over(0, mostOhms), Offer: []string{"ohm"}},
		{Name: "at", Shape: Quantity, Kinds: temperatureOnly, Default: "20 degC", Range: temperatures, Offer: []string{"degC", "degF"}},
		{Name: "winding_temperature", Sample: "88 degC", Shape: Quantity, Kinds: temperatureOnly, Range: temperatures, Offer: []string{"degC", "degF"}, Slide: &Slide{From: coldest, To: 180, Step: 1}},
		{Name: "inductance", Shape: Quantity, Kinds: inductanceOnly, Need: true, Range: between(0, mostHenries), Offer: []string{"mH", "H"}},
		{Name: "frequency", Shape: Quantity, Kinds: frequencyOnly, Need: true, Range: over(0, mostHertz), Offer: []string{"Hz", "kHz"}, Slide: &Slide{From: 5, To: 20000, Ratio: true}},
		{Name: "duty", Sample: "45 %", Shape: Quantity, Kinds: ratioOnly, Range: between(0, 1), Offer: []string{"%"}, Slide: &Slide{From: 0, To: 1, Step: 0.01}},
		{Name: "target_current", Sample: "0.8 A", Shape: Quantity, Kinds: currentOnly, Range: currents, Offer: []string{"A", "mA"}},
		{Name: "side", From: "circuit.side", Shape: Choice, Default: "high", Choices: []string{"high", "low"}},
		{Name: "off_path", Shape: Group, Fields: []Field{
			{Name: "kind", Shape: Choice, Default: "diode", Choices: []string{"diode", "clamp"}},
			{Name: "drop", Shape: Quantity, Kinds: voltageOnly, Default: "0.7 V", Range: between(0, mostVolts), Offer: []string{"V"}},
			{Name: "voltage", Sample: "40 V", Shape: Quantity, Kinds: voltageOnly, Range: voltages, Offer: []string{"V"}},
			{Name: "across", Shape: Choice, Default: "winding", Choices: []string{"winding", "switch"}},
		}},
		{Name: "thermal", Shape: Group, Fields: []Field{
			{Name: "ambient", Sample: "90 degC", Shape: Quantity, Kinds: temperatureOnly, Need: true, Range: temperatures, Offer: []string{"degC", "degF"}, Slide: &Slide{From: coldest, To: 150, Step: 1}},
			{Name: "resistance", Shape: Quantity, Kinds: thermalOnly, Need: true, Range: over(0, mostThermal)},
		}},
		{Name: "peak", Shape: Group, Fields: []Field{
			{Name: "time", Shape: Quantity, Kinds: timeOnly, Need: true, Range: over(0, mostSeconds), Offer: []string{"ms", "s"}},
		}},
		{Name: "wiring", Shape: Quantity, Kinds: resistanceOnly, Fine: true, Default: "0 ohm", Range: resistances, Offer: []string{"ohm"}},
		{Name: "driver", Shape: Quantity, Kinds: resistanceOnly, Fine: true, Default: "0 ohm", Range: resistances, Offer: []string{"ohm"}},
		{Name: "driver_limit", From: "winding.driver_limit", Sample: "3 A", Shape: Quantity, Kinds: currentOnly, Fine: true, Range: currents},
		{Name: "duty_sense", Shape: Choice, Fine: true, Default: "on", Choices: []string{"on", "pin_high", "pin_low"}},
		{Name: "insulation_class", Shape: Choice, Fine: true, Default: "unknown", Choices: []string{"unknown", "90", "105", "120", "130", "155", "180", "200", "220", "250"}},
		materialField,
	},
	check: checkDrive,
	run:   runDrive,
	lay:   layDrive,
}

type driveResult struct {
	CurrentAverage    Amount         `json:"current_average"`
	CurrentRMS        Amount         `json:"current_rms"`
	CurrentMax        Amount         `json:"current_max"`
	CurrentMin        Amount         `json:"current_min"`
	Ripple            Amount         `json:"ripple"`
	CurrentAC         Amount         `json:"current_ac"`
	Mode              string         `json:"mode"`
	TimeConstant      Amount         `json:"time_constant"`
	PowerWinding      Amount         `json:"power_winding"`
	PowerWiring       Amount         `json:"power_wiring"`
	PowerDriver       Amount         `json:"power_driver"`
	PowerSupply       Amount         `json:"power_supply"`
	PowerOffPath      Amount         `json:"power_off_path"`
	EnergyOffPath     Amount         `json:"energy_off_path"`
	PinVoltageAverage Amount         `json:"pin_voltage_average"`
	PinVoltageRMS     Amount         `json:"pin_voltage_rms"`
	PinVoltageAC      Amount         `json:"pin_voltage_ac"`
	PinHigh           Amount         `json:"pin_high"`
	PinVoltageMax     Amount         `json:"pin_voltage_max"`
	PinVoltageMin     Amount         `json:"pin_voltage_min"`
	WindingTemp       Amount         `json:"winding_temperature"`
	WindingResistance Amount         `json:"winding_resistance"`
	Duty              Amount         `json:"duty"`
	InsulationClass   string         `json:"insulation_class"`
	Peak              *Amount        `json:"peak,omitempty"`
	Limits            []limitResult  `json:"limits"`
	Supplies          []supplyResult `json:"supplies"`
	SteadyAfter       Amount         `json:"steady_after"`
	Waveform          []pointResult  `json:"waveform"`
	Start             []pointResult  `json:"start"`
}

// A limitResult is the highest current in one case beside the driver's limit.
type limitResult struct {
	Case        string `json:"case"`
	Temperature Amount `json:"temperature"`
	Current     Amount `json:"current"`
	Margin      Amount `json:"margin"`
	WithinLimit string `json:"within_limit"`
}

// A supplyResult is what another supply voltage would give.
type supplyResult struct {
	Supply         Amount   `json:"supply"`
	Codes          []string `json:"codes"`
	CurrentAverage Amount   `json:"current_average"`
	CurrentMax     Amount   `json:"current_max"`
	Duty           Amount   `json:"duty"`
	Reached        bool     `json:"reached"`
	WindingTemp    Amount   `json:"winding_temperature"`
}

type pointResult struct {
	T Amount `json:"t"`
	I Amount `json:"i"`
}

func checkDrive(r *Record, f *faults) {
	material := materialOf(r)
	if r.OK("material") {
		checkAbove(material, r, "at", f)
		checkAbove(material, r, "winding_temperature", f)
		checkAbove(material, r.Group("thermal"), "ambient", f)
	}
	switch {
	case r.Given("duty") && r.Given("target_current"):
		f.conflict("target_current", r.Text("target_current"), "duty_and_target")
	case !r.Given("duty") && !r.Given("target_current"):
		f.add(Fault{Field: "duty", Code: Missing}, "duty_or_target")
	}
	if r.Given("target_current") && r.Text("duty_sense") != "on" {
		f.conflict("duty_sense", r.Text("duty_sense"), "sense_and_target")
	}
	if r.Given("thermal") && r.Given("winding_temperature") {
		f.conflict("thermal", r.Text("winding_temperature"), "thermal_and_temperature", quantity.Clip(r.Text("winding_temperature")))
	}
	checkOffPath(r, f)
	if len(f.list) > 0 {
		return
	}
	found := questionOf(r).Find()
	r.found = found
	if !found.Reached {
		f.outOf("target_current", r.Text("target_current"), "target_beyond", f.speak.Amperes(r.Value("target_current"), 0), f.speak.Amperes(float64(found.State.Average), 0), f.speak.Celsius(math.Round(float64(found.Temperature)*10)/10, 0))
	}
}

// checkOffPath holds a diode to what a diode has, and a clamp to what a clamp can do.
func checkOffPath(r *Record, f *faults) {
	p := r.Group("off_path")
	if !p.OK("kind", "across") {
		return
	}
	if p.Text("kind") == "diode" {
		if p.Given("voltage") {
			f.conflict("off_path.voltage", p.Text("voltage"), "diode_voltage")
		}
		if p.Text("across") == "switch" {
			f.conflict("off_path.across", p.Text("across"), "diode_across")
		}
		return
	}
	if p.Given("drop") {
		f.conflict("off_path.drop", p.Text("drop"), "clamp_drop")
	}
	across := p.Text("across") == "switch"
	switch v := p.Value("voltage"); {
	case !p.Given("voltage"):
		f.add(Fault{Field: "off_path.voltage", Code: Missing}, "clamp_voltage")
	case !p.OK("voltage"):
	case v < diodeDrop:
		f.outOf("off_path.voltage", p.Text("voltage"), "clamp_low", f.speak.Volts(v, 0), f.speak.Volts(diodeDrop, 0))
	case across && r.OK("supply") && v < r.Value("supply")+diodeDrop:
		f.conflict("off_path.voltage", p.Text("voltage"), "clamp_supply", f.speak.Volts(v, 0), f.speak.Volts(r.Value("supply"), 0))
	}
}

// questionOf reads the question.
func questionOf(r *Record) drive.Question {
	q := drive.Question{
		Circuit: drive.Circuit{
			Supply: quantity.Voltage(r.Value("supply")), Wiring: quantity.Resistance(r.Value("wiring")), Driver: quantity.Resistance(r.Value("driver")),
			Inductance: quantity.Inductance(r.Value("inductance")), Frequency: quantity.Frequency(r.Value("frequency")),
			Duty: quantity.Ratio(r.Value("duty")), Off: offPathOf(r, r.Value("supply")),
		},
		Coil:        drive.Coil{Resistance: quantity.Resistance(r.Value("resistance")), At: quantity.Temperature(r.Value("at")), Material: materialOf(r)},
		Temperature: windingNow(r),
		Wanted:      quantity.Current(r.Value("target_current")),
	}
	low := r.Text("side") == "low"
	if sense := r.Text("duty_sense"); sense == "pin_high" && low || sense == "pin_low" && !low {
		q.Circuit.Duty = 1 - q.Circuit.Duty
	}
	if r.Given("thermal") {
		t := r.Group("thermal")
		q.Heating = &drive.Heating{Ambient: quantity.Temperature(t.Value("ambient")), Thermal: quantity.ThermalResistance(t.Value("resistance"))}
	}
	return q
}

// windingNow is the winding's temperature: as given, else the one that its resistance holds for.
func windingNow(r *Record) quantity.Temperature {
	if r.Given("winding_temperature") {
		return quantity.Temperature(r.Value("winding_temperature"))
	}
	return quantity.Temperature(r.Value("at"))
}

// offPathOf is where the current goes while the driver is off, at a supply.
func offPathOf(r *Record, supply float64) drive.OffPath {
	p := r.Group("off_path")
	switch {
	case p.Text("kind") == "diode":
		return drive.OffPath{Reverse: quantity.Voltage(p.Value("drop"))}
	case p.Text("across") == "switch":
		return drive.OffPath{Reverse: quantity.Voltage(p.Value("voltage") - supply), Clamp: quantity.Voltage(p.Value("voltage"))}
	}
	return drive.OffPath{Reverse: quantity.Voltage(p.Value("voltage"))}
}

// A grain rounds differences of larger numbers to what is certain of them, as part of their size: machines differ in the last
// digits of an exponential.
type grain float64 // ten to the number of decimals; 0 rounds nothing

func grainOf(size float64) grain {
	if size == 0 || math.Abs(math.Log10(size)) > 250 {
		return 0
	}
	return grain(math.Pow(10, 13-math.Floor(math.Log10(size))))
}

func (g grain) of(v float64) float64 {
	if g == 0 {
		return v
	}
	return math.Round(v*float64(g)) / float64(g)
}

// How a start and a period are drawn: points in each half, periods of a start.
const (
	wavePoints   = 20
	startPeriods = 24
)

func runDrive(r *Record, a *Answer) {
	q, found := questionOf(r), r.found.(drive.Found)
	c, s := found.Circuit, found.State
	pin := c.Pin(r.Text("side") == "low", s)
	currents, voltages := grainOf(float64(s.Max)), grainOf(float64(c.Supply+c.Off.Reverse))
	amperes := func(i quantity.Current) Amount { return plain(quantity.OfCurrent, currents.of(float64(i))) }
	volts := func(v quantity.Voltage) Amount { return plain(quantity.OfVoltage, voltages.of(float64(v))) }
	watts := func(p quantity.Power) Amount { return plain(quantity.OfPower, float64(p)) }
	full := quantity.Time(0)
	if r.Given("peak") {
		full = quantity.Time(r.Group("peak").Value("time"))
	}
	start, steady := c.Start(full, startPeriods)
	res := driveResult{
		CurrentAverage: plain(quantity.OfCurrent, float64(s.Average)), CurrentRMS: plain(quantity.OfCurrent, float64(s.RMS)),
		CurrentMax: plain(quantity.OfCurrent, float64(s.Max)), CurrentMin: amperes(s.Min),
		Ripple: plain(quantity.OfCurrent, float64(s.Ripple)), CurrentAC: amperes(s.AC),
		Mode: "discontinuous", TimeConstant: plain(quantity.OfTime, float64(s.TimeConstant)),
		PowerWinding: watts(s.Winding), PowerWiring: watts(s.Wiring), PowerDriver: watts(s.Driver), PowerSupply: watts(s.Supply), PowerOffPath: watts(s.OffPath),
		EnergyOffPath:     plain(quantity.OfEnergy, float64(s.OffPath)/float64(c.Frequency)),
		PinVoltageAverage: volts(pin.Average), PinVoltageRMS: volts(pin.RMS), PinVoltageAC: volts(pin.AC), PinHigh: plain(quantity.OfRatio, float64(pin.High)),
		PinVoltageMax: volts(pin.Max), PinVoltageMin: volts(pin.Min),
		WindingTemp: plain(quantity.OfTemperature, float64(found.Temperature)), WindingResistance: plain(quantity.OfResistance, float64(c.Winding)),
		Duty: plain(quantity.OfRatio, float64(c.Duty)), Limits: []limitResult{}, Supplies: suppliesOf(r, q),
		SteadyAfter: plain(quantity.OfTime, float64(steady)),
		Waveform:    pointsOf(c.Wave(wavePoints), currents), Start: pointsOf(start, currents),
	}
	if s.Continuous {
		res.Mode = "continuous"
	}
	if i := drive.Bears(found.Temperature); i < len(drive.Classes) {
		res.InsulationClass = className(i)
	}
	if full > 0 {
		p := plain(quantity.OfCurrent, currents.of(highest(start)))
		res.Peak = &p
	}
	if r.Given("driver_limit") {
		res.Limits = limitsOf(r, q, found, full)
	}
	a.Result = res
	if !a.brief {
		a.driveSteps(r, q, found, res)
	}
	a.driveWarnings(r, q, found, res)
	a.caution("live_circuit", "opened_winding", "hot_winding", "driver_limit", "maker_first")
}

func pointsOf(points []drive.Point, g grain) []pointResult {
	out := make([]pointResult, 0, len(points))
	for i, p := range points {
		if i > 0 && p == points[i-1] {
			continue
		}
		out = append(out, pointResult{plain(quantity.OfTime, float64(p.T)), plain(quantity.OfCurrent, g.of(float64(p.I)))})
	}
	return out
}

// className is a thermal class as IEC 60085 names it, with the letter of its older editions.
func className(i int) string {
	c := drive.Classes[i]
	name := fmt.Sprintf("%d", int(c.Temperature))
	if c.Letter != "" {
		name += " (" + c.Letter + ")"
	}
	return name
}

// highest is the highest current of a curve.
func highest(points []drive.Point) (most float64) {
	for _, p := range points {
		most = math.Max(most, float64(p.I))
	}
	return most
}

// limitsOf sets the highest currents beside the driver's limit: now; while it pulls in, before the winding has warmed itself; at
// the coldest start at the same duty or for the same current, pulling in included; and with the driver fully on then.
func limitsOf(r *Record, q drive.Question, found drive.Found, full quantity.Time) (out []limitResult) {
	limit := r.Value("driver_limit")
	add := func(name string, t quantity.Temperature, i float64) {
		within := "yes"
		if i > limit {
			within = "no"
		}
		out = append(out, limitResult{name, plain(quantity.OfTemperature, float64(t)), plain(quantity.OfCurrent, i), plain(quantity.OfCurrent, grainOf(limit).of(limit-i)), within})
	}
	top := func(f drive.Found) float64 {
		if full == 0 {
			return float64(f.State.Max)
		}
		start, _ := f.Circuit.Start(full, startPeriods)
		return math.Max(float64(f.State.Max), highest(start))
	}
	add("now", found.Temperature, float64(found.State.Max))
	if full > 0 {
		first := found
		if q.Heating != nil {
			first = q.At(q.Heating.Ambient)
		}
		add("pull_in", first.Temperature, top(first))
	}
	if q.Coil.Material.ZeroResistanceAt+leastAbove < coldest {
		cold := q.At(coldest)
		add("cold", coldest, top(cold))
		on := cold.Circuit
		on.Duty = 1
		add("full_on_cold", coldest, float64(on.Steady().Max))
	}
	return out
}

// suppliesAsked are the supplies at which the answer is given again. The codes are those of ISO 16750-2: the lowest supply of
// codes A to D in a 12 V system and of code E in a 24 V one, and the highest of each.
var suppliesAsked = map[bool][]struct {
	volts float64
	codes []string
}{
	false: {{9, []string{"C"}}, {10.5, []string{"D"}}, {12, nil}, {14, nil}, {16, []string{"A", "B", "C", "D"}}},
	true:  {{10, []string{"E"}}, {24, nil}, {28, nil}, {32, []string{"E"}}},
}

// highest12 is the supply in volts above which a vehicle's is a 24 V system; above highest24 it is neither.
const (
	highest12 = 18
	highest24 = 36
)

func suppliesOf(r *Record, q drive.Question) []supplyResult {
	out := []supplyResult{}
	v := r.Value("supply")
	if v > highest24 {
		return out
	}
	for _, at := range suppliesAsked[v > highest12] {
		q.Circuit.Supply = quantity.Voltage(at.volts)
		q.Circuit.Off = offPathOf(r, at.volts)
		if q.Circuit.Off.Reverse < diodeDrop && q.Circuit.Off.Clamp > 0 {
			continue // the supply itself would drive the clamp, which is warned of
		}
		found := q.Find()
		codes := at.codes
		if codes == nil {
			codes = []string{}
		}
		out = append(out, supplyResult{
			plain(quantity.OfVoltage, at.volts), codes, plain(quantity.OfCurrent, float64(found.State.Average)), plain(quantity.OfCurrent, float64(found.State.Max)),
			plain(quantity.OfRatio, float64(found.Circuit.Duty)), found.Reached, plain(quantity.OfTemperature, float64(found.Temperature)),
		})
	}
	return out
}

// driveWarnings says what the reader has to mind.
func (a *Answer) driveWarnings(r *Record, q drive.Question, found drive.Found, res driveResult) {
	s := a.Speak
	if q.Heating == nil && !r.Given("winding_temperature") {
		a.warn("temperature_assumed", "winding_temperature", s.Celsius(float64(q.Temperature), 0))
	}
	for _, l := range res.Limits {
		if l.WithinLimit == "yes" {
			continue
		}
		current, limit, at := a.three(l.Current), s.Amperes(r.Value("driver_limit"), 0), a.degrees(l.Temperature.Value)
		switch l.Case {
		case "now":
			a.warn("over_limit", "driver_limit", current, limit, at)
		case "pull_in":
			a.warn("over_limit_pull_in", "driver_limit", current, limit, at)
		case "cold":
			a.warn("over_limit_cold", "driver_limit", current, limit, at)
		case "full_on_cold":
			a.warn("over_limit_full_on", "driver_limit", current, limit, at)
		}
	}
	a.insulationWarning(r, found.Temperature)
	for _, at := range res.Supplies {
		if !at.Reached {
			a.warn("low_supply", "target_current", s.Volts(at.Supply.Value, 0), a.three(at.CurrentAverage))
			break
		}
	}
	if last := suppliesAsked[r.Value("supply") > highest12]; len(res.Supplies) > 0 && len(res.Supplies) < len(last) {
		a.warn("clamp_conducts", "off_path.voltage", s.Volts(r.Group("off_path").Value("voltage"), 0), s.Volts(last[len(last)-1].volts, 0))
	}
	if d := r.Value("duty"); r.Given("duty") && d > 0 && d < 0.01 {
		a.warn("duty_tiny", "duty", s.Of(quantity.OfRatio, d, 0), s.Of(quantity.OfRatio, d*100, 0))
	}
	if c := found.Circuit; c.Off.Reverse == 0 && c.Duty > 0 && c.Duty < 1 {
		a.warn("ideal_diode", "off_path.drop")
	}
}

// insulationWarning names the thermal class that the winding is too hot for: any; else its own where it is known; else the
// highest that it exceeds of those from 130 on, as windings of lower classes are rare (common practice).
func (a *Answer) insulationWarning(r *Record, t quantity.Temperature) {
	const rare = 3 // classes below 130
	bears := drive.Bears(t)
	at, own := a.degrees(float64(t)), r.Text("insulation_class")
	switch {
	case bears == len(drive.Classes):
		a.warn("over_every_class", "insulation_class", at, className(bears-1))
	case own != "unknown":
		for i, c := range drive.Classes {
			if fmt.Sprintf("%d", int(c.Temperature)) == own && i < bears {
				a.warn("over_class", "insulation_class", at, className(i))
			}
		}
	case bears > rare:
		a.warn("class_needed", "insulation_class", at, className(bears-1), className(bears))
	}
}

// driveSteps writes the working.
func (a *Answer) driveSteps(r *Record, q drive.Question, found drive.Found, res driveResult) {
	s, c, st := a.Speak, found.Circuit, found.State
	ohm := func(v quantity.Resistance) string { return s.Ohms(float64(v), 0) }
	amp := func(v quantity.Current) string { return s.Amperes(float64(v), 0) }
	sec := func(v float64) string { return s.Of(quantity.OfTime, v, 0) }
	watt := func(v quantity.Power) string { return s.Of(quantity.OfPower, float64(v), 0) }
	volt := func(v quantity.Voltage) string { return s.Volts(float64(v), 0) }
	henry := func(v quantity.Inductance) string { return s.Of(quantity.OfInductance, float64(v), 0) }
	if q.Heating != nil {
		a.step("balance", "θ = θ_ambient + R_thermal × P", fmt.Sprintf("θ = %s + %s × %s = %s", s.Celsius(float64(q.Heating.Ambient), 0),
			s.Of(quantity.OfThermalResistance, float64(q.Heating.Thermal), 0), watt(st.Winding), s.Celsius(float64(found.Temperature), 0)), res.WindingTemp, "balance")
	}
	if found.Temperature != q.Coil.At {
		m := winding.Measurement{At: q.Coil.At, Material: q.Coil.Material}
		a.step("hot", "R₂ = R₁ × (θ₂ − θ₀)/(θ₁ − θ₀)", correction(s, float64(q.Coil.Resistance), measure.Estimate{Value: float64(c.Winding)}, m, found.Temperature), res.WindingResistance, sourceOf(q.Coil.Material))
	}
	on, off := c.Winding+c.Wiring+c.Driver, c.Winding+c.Wiring
	a.step("loop", "R_on = R + R_wiring + R_driver;  R_off = R + R_wiring", fmt.Sprintf("R_on = %s + %s + %s = %s;  R_off = %s", ohm(c.Winding), ohm(c.Wiring), ohm(c.Driver), ohm(on), ohm(off)), plain(quantity.OfResistance, float64(on)), "ohm")
	tauOff := float64(c.Inductance) / float64(off)
	a.step("tau", "τ_on = L/R_on;  τ_off = L/R_off", fmt.Sprintf("τ_on = %s/%s = %s;  τ_off = %s/%s = %s", henry(c.Inductance), ohm(on), sec(float64(st.TimeConstant)), henry(c.Inductance), ohm(off), sec(tauOff)), res.TimeConstant, "exponential")
	tOn, tOff := float64(c.Duty)/float64(c.Frequency), (1-float64(c.Duty))/float64(c.Frequency)
	duty, hertz := s.Of(quantity.OfRatio, float64(c.Duty), 0), s.Of(quantity.OfFrequency, float64(c.Frequency), 0)
	if q.Wanted > 0 {
		a.step("duty", "D: I_average(D) = I_wanted", fmt.Sprintf("I_average(%s) = %s", duty, amp(st.Average)), res.Duty, "sought")
	}
	a.step("times", "t_on = D/f;  t_off = (1 − D)/f", fmt.Sprintf("t_on = %s/%s = %s;  t_off = %s", duty, hertz, sec(tOn), sec(tOff)), plain(quantity.OfTime, tOn), "arithmetic")
	toOn, toOff := quantity.Current(float64(c.Supply)/float64(on)), quantity.Current(float64(c.Off.Reverse)/float64(off))
	a.step("ends", "I_f = V/R_on;  I_r = V_r/R_off", fmt.Sprintf("I_f = %s/%s = %s;  I_r = %s/%s = %s", volt(c.Supply), ohm(on), amp(toOn), volt(c.Off.Reverse), ohm(off), amp(toOff)), plain(quantity.OfCurrent, float64(toOn)), "ohm")
	x, y := s.Figures(tOn/max(float64(st.TimeConstant), 1e-300), 4), s.Figures(tOff/max(tauOff, 1e-300), 4)
	switch {
	case c.Inductance == 0:
		a.step("top", "L = 0: I_max = I_f", "I_max = "+amp(st.Max), res.CurrentMax, "ohm")
	case st.Continuous:
		a.step("valley", "I_min = (I_f (1 − e^−x) e^−y − I_r (1 − e^−y))/(1 − e^−(x+y)),  x = t_on/τ_on,  y = t_off/τ_off",
			fmt.Sprintf("x = %s;  y = %s;  I_min = (%s × (1 − e^−%s) × e^−%s − %s × (1 − e^−%s))/(1 − e^−(%s + %s)) = %s", x, y, amp(toOn), x, y, amp(toOff), y, x, y, s.Amperes(res.CurrentMin.Value, 0)), res.CurrentMin, "exponential")
		a.step("top", "I_max = I_min + (I_f − I_min)(1 − e^−x)", fmt.Sprintf("I_max = %s + (%s − %s)(1 − e^−%s) = %s", amp(st.Min), amp(toOn), amp(st.Min), x, amp(st.Max)), res.CurrentMax, "exponential")
	default:
		a.step("top", "I_max = I_f (1 − e^−x),  x = t_on/τ_on", fmt.Sprintf("I_max = %s × (1 − e^−%s) = %s", amp(toOn), x, amp(st.Max)), res.CurrentMax, "exponential")
		if toOff > 0 {
			a.step("stops", "t_flow = τ_off ln(1 + I_max/I_r)", fmt.Sprintf("t_flow = %s × ln(1 + %s/%s) = %s", sec(tauOff), amp(st.Max), amp(toOff), sec(float64(st.Flow))), plain(quantity.OfTime, float64(st.Flow)), "exponential")
		}
	}
	// Charges and squares from the two equations of the circuit, each integrated over its half.
	flow, swing := float64(st.Flow), float64(st.Ripple)
	qOn, qOff := float64(toOn)*tOn-float64(st.TimeConstant)*swing, tauOff*swing-float64(toOff)*flow
	coulomb := func(v float64) string { return s.Figures(v*1e3, 4) + "\u00a0mC" }
	a.step("average", "Q_on = I_f t_on − τ_on (I_max − I_min);  Q_off = τ_off (I_max − I_min) − I_r t_flow;  I_average = f (Q_on + Q_off)",
		fmt.Sprintf("Q_on = %s × %s − %s × %s = %s;  Q_off = %s × %s − %s × %s = %s;  I_average = %s × (%s + %s) = %s", amp(toOn), sec(tOn), sec(float64(st.TimeConstant)), amp(st.Ripple), coulomb(qOn),
			sec(tauOff), amp(st.Ripple), amp(toOff), sec(flow), coulomb(qOff), hertz, coulomb(qOn), coulomb(qOff), amp(st.Average)), res.CurrentAverage, "charge")
	stored := float64(c.Inductance) / 2 * (float64(st.Max)*float64(st.Max) - float64(st.Min)*float64(st.Min))
	joule := func(v float64) string { return s.Of(quantity.OfEnergy, v, 0) }
	a.step("rms", "ΔW = L/2 (I_max² − I_min²);  I_rms = √(f ((V Q_on − ΔW)/R_on + (ΔW − V_r Q_off)/R_off))",
		fmt.Sprintf("ΔW = %s;  I_rms = √(%s × ((%s × %s − %s)/%s + (%s − %s × %s)/%s)) = %s", joule(stored), hertz, volt(c.Supply), coulomb(qOn), joule(stored), ohm(on), joule(stored), volt(c.Off.Reverse), coulomb(qOff), ohm(off), amp(st.RMS)), res.CurrentRMS, "charge")
	a.step("power", "P = I_rms² × R", fmt.Sprintf("P = (%s)² × %s = %s", amp(st.RMS), ohm(c.Winding), watt(st.Winding)), res.PowerWinding, "joule")
	a.step("supply", "P_supply = P + P_wiring + P_driver + P_off", fmt.Sprintf("P_supply = %s + %s + %s + %s = %s", watt(st.Winding), watt(st.Wiring), watt(st.Driver), watt(st.OffPath), watt(st.Supply)), res.PowerSupply, "balance_power")
	if r.Text("side") == "low" {
		rest := max(0, tOff-flow)
		a.step("pin", "V_pin = f (R_driver Q_on + (V + V_r) t_flow + V t_rest)", fmt.Sprintf("V_pin = %s × (%s × %s + %s × %s + %s × %s) = %s", hertz, ohm(c.Driver), coulomb(qOn), volt(c.Supply+c.Off.Reverse), sec(flow), volt(c.Supply), sec(rest), s.Volts(res.PinVoltageAverage.Value, 0)), res.PinVoltageAverage, "mean")
	} else {
		a.step("pin", "V_pin = f (V t_on − R_driver Q_on − V_r t_flow)", fmt.Sprintf("V_pin = %s × (%s × %s − %s × %s − %s × %s) = %s", hertz, volt(c.Supply), sec(tOn), ohm(c.Driver), coulomb(qOn), volt(c.Off.Reverse), sec(flow), s.Volts(res.PinVoltageAverage.Value, 0)), res.PinVoltageAverage, "mean")
	}
}
