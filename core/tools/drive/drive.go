// Package drive is the tool that tells what current and power a pulsed supply drives through a winding.
package drive

import (
	"strconv"

	"ohmwright/core/bench"
	"ohmwright/core/drive"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

type (
	volts   = quantity.Voltage
	celsius = quantity.Temperature
)

// The widest values that are accepted. Anything beyond is a typing error.
const (
	mostHertz   = 1e7
	mostSeconds = 1e6
	mostThermal = 1e6
)

// The circuit.
var (
	supply = tool.QuantityOf[volts](tool.Field{Name: "supply", Fact: "supply", Takes: true, Need: true, Range: bench.Voltages,
		Page: tool.Hints{Offer: bench.Volts, Slide: &tool.Slide{From: 6, To: 32, Step: 0.1}}})
	resistance = tool.QuantityOf[quantity.Resistance](tool.Field{Name: "resistance", Sample: "5.3 ohm", Need: true, Range: bench.SomeOhms,
		Page: tool.Hints{Offer: bench.Ohms}})
	at  = bench.ReadAt()
	now = bench.Temperature(tool.Field{Name: "winding_temperature", Fact: "winding_temperature", Takes: true, Sample: "88 degC",
		Page: tool.Hints{Slide: &tool.Slide{From: winding.Coldest, To: 180, Step: 1}}})
	inductance = tool.QuantityOf[quantity.Inductance](tool.Field{Name: "inductance", Sample: "12 mH",
		Range: tool.Between(0, bench.MostHenries), Page: tool.Hints{Offer: bench.Henries}})
	wiring      = bench.Wiring()
	driver      = bench.Driver()
	driverLimit = bench.DriverLimit("")
	material    = bench.Material()

	fine = tool.Hints{Fine: true}
)

// The pulses.
var (
	frequency = tool.QuantityOf[quantity.Frequency](tool.Field{Name: "frequency", Need: true, Range: tool.Over(0, mostHertz),
		Page: tool.Hints{Offer: []string{"Hz", "kHz"}, Slide: &tool.Slide{From: 5, To: 20000, Ratio: true}}})
	duty = tool.QuantityOf[quantity.Ratio](tool.Field{Name: "duty", Sample: "45 %", Range: tool.Between(0, 1),
		Page: tool.Hints{Offer: bench.PerCent, Slide: &tool.Slide{From: 0, To: 1, Step: 0.01}}})
	onTime = tool.QuantityOf[quantity.Time](tool.Field{Name: "on_time", Sample: "1.5 ms", Range: tool.Between(0, mostSeconds),
		Page: tool.Hints{Offer: []string{"ms", "us", "s"}}})
	target = tool.QuantityOf[quantity.Current](tool.Field{Name: "target_current", Sample: "0.8 A", Range: bench.Currents,
		Page: tool.Hints{Offer: bench.Amperes}})
	side      = tool.ChoiceOf(tool.Field{Name: "side", Fact: "side", Takes: true, From: "bench.side", Default: "high"}, tool.Words(high, low))
	dutySense = tool.ChoiceOf(tool.Field{Name: "duty_sense", Default: "on", Page: fine}, tool.Words(driverOn, pinHigh, pinLow))
)

// A sideOf is the side that the driver switches: supply (high) or ground (low).
type sideOf string

const high, low sideOf = "high", "low"

// A sense says what the duty is a share of: the time with the driver on, or with the pin high or low.
type sense string

const driverOn, pinHigh, pinLow sense = "on", "pin_high", "pin_low"

// Where the current goes while the driver is off.
var (
	kind    = tool.ChoiceOf(tool.Field{Name: "kind", Default: "diode"}, tool.Words(diode, clamp))
	drop    = tool.QuantityOf[volts](tool.Field{Name: "drop", Default: "0.7 V", Range: tool.Between(0, bench.MostVolts), Page: inVolts})
	voltage = tool.QuantityOf[volts](tool.Field{Name: "voltage", Sample: "40 V", Range: bench.Voltages, Page: inVolts})
	across  = tool.ChoiceOf(tool.Field{Name: "across", Default: "winding"}, tool.Words(acrossWinding, acrossSwitch))
	offPath = tool.GroupOf(tool.Field{Name: "off_path"}, kind, drop, voltage, across)

	inVolts = tool.Hints{Offer: bench.Volts}
)

// A path is what carries the current while the driver is off.
type path string

const diode, clamp path = "diode", "clamp"

// A place is what a clamp is connected across.
type place string

const acrossWinding, acrossSwitch place = "winding", "switch"

// How the winding heats up, how hot its insulation may get, and how the drive starts.
var (
	ambient = bench.Temperature(tool.Field{Name: "ambient", Sample: "90 degC", Need: true,
		Page: tool.Hints{Slide: &tool.Slide{From: winding.Coldest, To: 150, Step: 1}}})
	thermalOhms = tool.QuantityOf[quantity.ThermalResistance](tool.Field{Name: "resistance", Need: true, Range: tool.Over(0, mostThermal)})
	thermal     = tool.GroupOf(tool.Field{Name: "thermal"}, ambient, thermalOhms)
	peakTime    = tool.QuantityOf[quantity.Time](tool.Field{Name: "time", Need: true, Range: tool.Over(0, mostSeconds),
		Page: tool.Hints{Offer: []string{"ms", "s"}}})
	peak       = tool.GroupOf(tool.Field{Name: "peak"}, peakTime)
	insulation = tool.ChoiceOf(tool.Field{Name: "insulation_class", Default: "unknown", Page: fine}, classes())
)

// classes returns the thermal classes to choose from. The value for "not known" is 0.
func classes() []tool.Option[celsius] {
	options := []tool.Option[celsius]{{Word: "unknown"}}
	for i, c := range drive.Classes {
		options = append(options, tool.Option[celsius]{Word: classNumber(i), Is: c.Temperature})
	}
	return options
}

// classNumber returns the name that IEC 60085 gives a thermal class. i is its index in drive.Classes.
func classNumber(i int) string { return strconv.Itoa(int(drive.Classes[i].Temperature)) }

// className returns the class's name with the letter of older editions of the standard, if it has one.
func className(i int) string {
	if letter := drive.Classes[i].Letter; letter != "" {
		return classNumber(i) + " (" + letter + ")"
	}
	return classNumber(i)
}

// Tool tells what current and power a pulsed supply gives.
var Tool = tool.New(tool.Tool{
	Name:    "drive",
	Example: example,
	Before:  []string{"opened_winding"},
	Fields: tool.Declare(supply, resistance, at, now, inductance, frequency, duty, onTime, target, side, offPath, thermal, peak, wiring,
		driver, driverLimit, dutySense, insulation, material),
}, tool.Way[question, finding, *result]{Read: read, Find: find, Refuse: refuse, Tell: tell, Lay: lay, Draft: draft})

const example = `{"supply": "13.8 V", "resistance": "5.3 ohm", "winding_temperature": "88 degC", ` +
	`"inductance": "12 mH", "frequency": "300 Hz",
  "duty": "45 %", "wiring": "0.2 ohm", "driver": "0.15 ohm", "off_path": {"kind": "diode", "drop": "0.7 V"}, "driver_limit": "3 A"}`

// A question is what core/drive is asked, and what other tools take over.
type question struct {
	drive.Inquiry
	side   sideOf
	clamps bool          // while the driver is off, the current goes through a clamp, not a diode
	target string        // the current wanted, as it was given
	onTime quantity.Time // given instead of the duty; 0 for none
	rest   bool          // duty or on-time is that of the time that the driver is off

	toCircuit, toWinding, toTrace tool.Setting // without the temperature, which is added once it is found
}

// A finding is what the drive gives. The figures stand beside a stop too, since they are worked out and nothing is measured for them.
type finding struct {
	drive.Finding
	stop bench.Stop
}

func find(q question) finding {
	stop := bench.HighVoltage(q.Circuit.Supply)
	if stop != "" {
		q.Limit = 0 // no word on whether the winding may be connected to a driver
	}
	return finding{q.Inquiry.Find(), stop}
}

// overall returns what a reader is told first.
func (f finding) overall() string {
	if f.stop != "" {
		return bench.Stopped
	}
	return string(f.Verdict)
}

// refuse notes a fault if even full duty does not reach the wanted current.
func refuse(q question, found finding, f *tool.Faults) {
	if !found.Reached {
		s := f.Speak
		f.OutOf("target_current", q.target, "target_beyond", s.Amperes(float64(q.Wanted), 0),
			s.Amperes(float64(found.State.Average), 0), s.Degrees(float64(found.Temperature)))
	}
}

func read(r *tool.Record, f *tool.Faults) question {
	check(r, f)
	q := question{side: side.Of(r), clamps: kind.Of(offPath.Of(r)) == clamp, target: target.Raw(r)}
	q.Circuit = drive.Circuit{
		Supply: supply.Of(r), Wiring: wiring.Of(r), Driver: driver.Of(r), Inductance: inductance.Of(r), Frequency: frequency.Of(r),
		Duty: duty.Of(r), Off: offPathOf(offPath.Of(r), supply.Of(r)),
	}
	q.Coil = drive.Coil{Resistance: resistance.Of(r), At: at.Of(r), Material: material.Of(r)}
	if q.Usual = !inductance.Given(r); q.Usual && tool.OK(r, resistance, material) {
		q.Circuit.Inductance = drive.UsualInductance(q.Coil.Hot(20))
	}
	q.Wanted, q.DutyGiven, q.FullFor = target.Of(r), duty.Of(r), peakTime.Of(peak.Of(r))
	if onTime.Given(r) && tool.OK(r, onTime, frequency) {
		q.onTime = onTime.Of(r)
		q.Circuit.Duty = min(1, drive.DutyOf(q.onTime, q.Circuit.Frequency))
	}
	q.Limit, q.Insulation, q.Low = driverLimit.Of(r), insulation.Of(r), q.side == low
	means := dutySense.Of(r)
	if q.rest = means == pinHigh && q.Low || means == pinLow && !q.Low; q.rest {
		q.Circuit.Duty = 1 - q.Circuit.Duty
	}
	q.Temperature, q.NowGiven = q.Coil.At, now.Given(r)
	if q.NowGiven {
		q.Temperature = now.Of(r)
	}
	if g := thermal.Of(r); thermal.Given(r) {
		q.Heating = &drive.Heating{Ambient: ambient.Of(g), Thermal: thermalOhms.Of(g)}
	}
	q.toCircuit = tool.Setting{}.Set("supply", supply.Plain(r))
	if q.Low { // the circuit tool assumes the high side if it is not told
		q.toCircuit = q.toCircuit.Set("side", string(low))
	}
	q.toWinding = tool.Setting{}.Set("supply", supply.Plain(r)).Set("driver_limit", driverLimit.Plain(r))
	q.toTrace = tool.Setting{}.Set("supply", supply.Plain(r)).Set("resistance", resistance.Plain(r)).Set("at", at.Plain(r)).
		Set("inductance", inductance.Plain(r)).Set("wiring", wiring.Plain(r)).Set("driver", driver.Plain(r))
	return q
}

// offPathOf returns what carries the current while the driver is off, for a supply voltage.
func offPathOf(p *tool.Record, at volts) drive.OffPath {
	switch {
	case kind.Of(p) == diode:
		return drive.OffPath{Reverse: drop.Of(p)}
	case across.Of(p) == acrossSwitch:
		return drive.OffPath{Reverse: voltage.Of(p) - at, Clamp: voltage.Of(p)}
	}
	return drive.OffPath{Reverse: voltage.Of(p)}
}
