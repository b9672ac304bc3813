// Package trace is the tool that tells what a recording of a winding's current shows.
package trace

import (
	"errors"

	"ohmwright/core/bench"
	"ohmwright/core/quantity"
	"ohmwright/core/recording"
	"ohmwright/core/tool"
	"ohmwright/core/trace"
)

type (
	ohms  = quantity.Resistance
	ratio = quantity.Ratio
)

// mostBytes is large enough to take in recordings that are too long, so that the fault can name their field.
const mostBytes = 8 << 20

var (
	fine        = tool.Hints{Fine: true}
	finePerCent = tool.Hints{Fine: true, Offer: bench.PerCent}
	exactly     = tool.Between(0, 1)
)

// The recording and the instruments.
var (
	text = tool.TextOf(tool.Field{Name: "recording", File: true, Need: true, Most: mostBytes, Sample: "a file's text"})

	millivolts = tool.NumberOf(tool.Field{Name: "mv_per_a", Range: tool.Over(0, 1e6)})
	probe      = tool.ChoiceOf(tool.Field{Name: "probe", Default: "none"},
		[]tool.Option[float64]{{Word: "none"}, {Word: "10mV/A", Is: 0.01}, {Word: "100mV/A", Is: 0.1}}, millivolts)
	clampWithin   = tool.QuantityOf[ratio](tool.Field{Name: "clamp_within", Default: "2 %", Range: exactly, Page: finePerCent})
	supplyWithin  = tool.QuantityOf[ratio](tool.Field{Name: "supply_within", Default: "0.5 %", Range: exactly, Page: finePerCent})
	timeUnit      = tool.ChoiceOf(tool.Field{Name: "time_unit", Default: "header", Page: fine}, units("s", "ms", "us"))
	currentUnit   = tool.ChoiceOf(tool.Field{Name: "current_unit", Default: "header", Page: fine}, units("A", "mA", "V", "mV"))
	timeColumn    = tool.WholeOf(tool.Field{Name: "time_column", Range: tool.Between(1, 1000), Page: fine})
	currentColumn = tool.WholeOf(tool.Field{Name: "current_column", Range: tool.Between(1, 1000), Page: fine})
)

// units returns the units to choose from. The first stands for the unit in the header; its value is "".
func units(symbols ...string) []tool.Option[string] {
	return append([]tool.Option[string]{{Word: "header"}}, tool.Words(symbols...)...)
}

// The circuit.
var (
	supply = tool.QuantityOf[quantity.Voltage](tool.Field{Name: "supply", Fact: "supply", Range: bench.Voltages,
		Page: tool.Hints{Offer: bench.Volts}})
	resistance = tool.QuantityOf[ohms](tool.Field{Name: "resistance", Sample: "5.3 ohm", Range: bench.SomeOhms,
		Page: tool.Hints{Offer: bench.Ohms}})
	at         = bench.ReadAt()
	then       = bench.Temperature(tool.Field{Name: "winding_temperature", Fact: "winding_temperature", Sample: "88 degC"})
	inductance = tool.QuantityOf[quantity.Inductance](tool.Field{Name: "inductance", Range: tool.Over(0, bench.MostHenries),
		Page: tool.Hints{Offer: bench.Henries}})
	plunger = tool.ChoiceOf(tool.Field{Name: "plunger", Default: "unknown"},
		[]tool.Option[bool]{{Word: "unknown"}, {Word: "moves", Is: true}})
	wiring           = bench.Wiring()
	driver           = bench.Driver()
	resistanceWithin = tool.QuantityOf[ratio](tool.Field{Name: "resistance_within", Default: "10 %", Range: bench.Shares, Page: finePerCent})
	inductanceWithin = tool.QuantityOf[ratio](tool.Field{Name: "inductance_within", Default: "30 %", Range: bench.Shares, Page: finePerCent})
	material         = bench.Material()
)

// Tool tells what a recording of a winding's current shows.
var Tool = tool.New(tool.Tool{
	Name:    "trace",
	Example: example,
	Before:  []string{"recorder_ground"},
	Most:    mostBytes,
	Fields: tool.Declare(text, probe, supply, resistance, at, then, inductance, plunger, wiring, driver, resistanceWithin,
		inductanceWithin, clampWithin, supplyWithin, timeUnit, currentUnit, timeColumn, currentColumn, material),
}, tool.Way[question, finding, *result]{Read: read, Find: find, Tell: tell, Lay: lay, Draft: draft})

// A question is what core/trace is asked, and what other tools take over.
type question struct {
	trace.Question
	toCircuit, toDrive tool.Setting // without what was found, which is added when the answer is laid out
	windingAt          tool.Setting // for the drive tool: the winding's temperature that the recording gives
}

// A finding is what the recording shows; nothing but the stop where there is one.
type finding struct {
	trace.Judged
	stop bench.Stop
}

func find(q question) finding {
	if stop := bench.HighVoltage(q.Supply); stop != "" {
		return finding{stop: stop}
	}
	return finding{Judged: q.Question.Find()}
}

func read(r *tool.Record, f *tool.Faults) question {
	if material.OK(r) {
		bench.CheckAbove(material.Of(r), r, at, f)
		bench.CheckAbove(material.Of(r), r, then, f)
	}
	if inductance.Given(r) && !resistance.Given(r) {
		f.Missing("resistance", "trace_resistance")
	}
	q := question{Question: trace.Question{
		Recording: readText(r, f),
		Supply:    supply.Of(r), Winding: resistance.Of(r), At: at.Of(r), Now: at.Of(r), NowGiven: then.Given(r), Material: material.Of(r),
		Wiring: wiring.Of(r), Driver: driver.Of(r), Inductance: inductance.Of(r), Moves: plunger.Of(r),
		ResistanceWithin: resistanceWithin.Of(r), InductanceWithin: inductanceWithin.Of(r),
		ClampWithin: clampWithin.Of(r), SupplyWithin: supplyWithin.Of(r),
	}}
	if q.NowGiven {
		q.Now = then.Of(r)
	}
	q.toCircuit = tool.Setting{"readings.0.test", "current_on"}.Set("supply", supply.Plain(r)).Set("winding_temperature", then.Plain(r)).
		Set("readings.0.supply", supply.Plain(r)).Set("readings.0.at", then.Plain(r))
	q.toDrive = tool.Setting{}.Set("supply", supply.Plain(r)).Set("winding_temperature", then.Plain(r))
	for _, beside := range []bench.OhmsField{wiring, driver} {
		if beside.Given(r) {
			q.toDrive = q.toDrive.Set(beside.Name, beside.Plain(r))
		}
	}
	q.windingAt = tool.Setting{}.Set("at", at.Plain(r)).Set("at", then.Plain(r))
	return q
}

// readText reads the recording, unless there is a fault in how its text is to be read.
func readText(r *tool.Record, f *tool.Faults) recording.Recording {
	columns := (!timeColumn.Given(r) || timeColumn.OK(r)) && (!currentColumn.Given(r) || currentColumn.OK(r))
	if !columns || !tool.OK(r, text, timeUnit, currentUnit, probe) {
		return recording.Recording{}
	}
	l := recording.Layout{
		TimeColumn: timeColumn.Of(r), CurrentColumn: currentColumn.Of(r), TimeUnit: timeUnit.Of(r), CurrentUnit: currentUnit.Of(r),
		Probe: probe.Of(r),
	}
	if g := probe.Instead(r); g != nil {
		l.Probe = millivolts.Of(g) / 1000
	}
	read, err := recording.Read(text.Of(r), l)
	var wrong *recording.Fault
	if errors.As(err, &wrong) {
		addFault(wrong, f)
	}
	return read
}
