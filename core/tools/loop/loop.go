// Package loop is the tool for the loaded test: what supply voltage and current tell about the rest of the circuit.
package loop

import (
	"ohmwright/core/bench"
	"ohmwright/core/loop"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

type (
	ohms   = quantity.Resistance
	volts  = quantity.Voltage
	kelvin = quantity.TemperatureDifference
)

var (
	milli = []string{"V", "mV"}
	fine  = tool.Hints{Fine: true}
)

var (
	supply  = tool.QuantityOf[volts](tool.Field{Name: "supply", Need: true, Range: bench.Voltages, Page: tool.Hints{Offer: bench.Volts}})
	current = tool.QuantityOf[quantity.Current](tool.Field{Name: "current", Need: true, Range: bench.Currents,
		Page: tool.Hints{Offer: bench.Amperes}})
	coil = tool.QuantityOf[ohms](tool.Field{Name: "winding", Range: bench.SomeOhms, Page: tool.Hints{Offer: bench.Ohms}})
	at   = bench.Temperature(tool.Field{Name: "at", Default: "20 degC"})
	spec = bench.SpecOf(tool.Field{Name: "spec"},
		tool.QuantityOf[ohms](tool.Field{Name: "min", Need: true, Range: bench.Resistances, Page: tool.Hints{Offer: bench.Ohms}}),
		tool.QuantityOf[ohms](tool.Field{Name: "max", Need: true, Range: bench.SomeOhms, Page: tool.Hints{UnitFrom: "min"}}),
		bench.Temperature(tool.Field{Name: "at", Default: "20 degC"}))
	now    = bench.Temperature(tool.Field{Name: "winding_temperature"})
	driver = tool.MeasureOf(tool.Field{Name: "driver", Default: "0.15 ohm", Range: tool.Between(0, 1e6),
		Page: tool.Hints{Fine: true, Offer: []string{"ohm", "V"}}}, quantity.OfResistance, quantity.OfVoltage)
	limit = tool.QuantityOf[volts](tool.Field{Name: "limit", Default: "0.5 V", Range: bench.Voltages,
		Page: tool.Hints{Fine: true, Offer: milli}})
	meter        = bench.MeterOf(tool.Field{Name: "meter", Page: fine}, "2", "3", "0.01 A", quantity.OfCurrent)
	supplyWithin = tool.QuantityOf[volts](tool.Field{Name: "supply_within", Default: "0 V", Range: tool.Between(0, bench.MostVolts),
		Page: tool.Hints{Fine: true, Offer: milli}})
	coilWithin = tool.QuantityOf[ohms](tool.Field{Name: "winding_within", Default: "0 ohm", Range: bench.Resistances,
		Page: tool.Hints{Fine: true, Offer: bench.Ohms}})
	nowWithin = tool.QuantityOf[kelvin](tool.Field{Name: "winding_temperature_within", Default: "0 K", Range: bench.Differences,
		Page: tool.Hints{Fine: true, Offer: bench.Kelvins}})
)

// Tool tells what a loaded test says about the circuit.
var Tool = tool.New(tool.Tool{
	Name:    "loop",
	Words:   []wording.Words{{Language: "en", Entries: english}},
	Example: `{"supply": "13.2 V", "current": "1.65 A", "winding": "5.3 ohm", "at": "20 degC", "winding_temperature": "88 degC"}`,
	Before:  []string{"live_circuit"},
	Fields:  tool.Declare(supply, current, coil, at, spec, now, driver, limit, meter, supplyWithin, coilWithin, nowWithin),
}, tool.Way[question, loop.Finding, result]{Read: read, Find: find, Tell: tell, Lay: lay})

// A question is a loaded test, and what the circuit tool takes over.
type question struct {
	loop.Test
	nowGiven  bool // the request gives the winding's temperature during the test
	toCircuit tool.Setting
}

func find(q question) loop.Finding { return q.Test.Find() }

// check notes faults between fields that are correct by themselves.
func check(r *tool.Record, f *tool.Faults) {
	switch {
	case coil.Given(r) && spec.Given(r):
		f.Conflict("spec", coil.Raw(r), "winding_and_spec")
	case !coil.Given(r) && !spec.Given(r):
		f.Missing("winding", "winding_or_spec")
	}
	if spec.Given(r) && at.Given(r) {
		f.Conflict("at", at.Raw(r), "spec_at")
	}
	if spec.Given(r) && coilWithin.Given(r) {
		f.Conflict("winding_within", coilWithin.Raw(r), "spec_within")
	}
	spec.CheckOrder(r, f)
	bench.CheckAbove(winding.Copper, r, at, f)
	bench.CheckAbove(winding.Copper, spec.Of(r), spec.At, f)
	bench.CheckAbove(winding.Copper, r, now, f)
	if drop := driver.Of(r); tool.OK(r, supply, driver) && drop.Kind == quantity.OfVoltage && drop.In >= float64(supply.Of(r)) {
		f.Conflict("driver", driver.Raw(r), "driver_supply", f.Speak.Volts(drop.In, 0), f.Speak.Volts(float64(supply.Of(r)), 0))
	}
}

func read(r *tool.Record, f *tool.Faults) question {
	check(r, f)
	q := question{nowGiven: now.Given(r), Test: loop.Test{
		Supply: supply.Of(r), SupplyWithin: supplyWithin.Of(r),
		Current: current.Of(r), Meter: meter.Of(r),
		At: at.Of(r), WindingWithin: nowWithin.Of(r), Limit: limit.Of(r),
	}}
	if coil.Given(r) {
		q.Winding = measure.Estimate{Value: float64(coil.Of(r)), U: measure.Rectangular(float64(coilWithin.Of(r)))}
	} else {
		s := spec.Of(r)
		lo, hi := float64(spec.Min.Of(s)), float64(spec.Max.Of(s))
		q.Winding = measure.Estimate{Value: (lo + hi) / 2, U: measure.Rectangular((hi - lo) / 2)}
		q.At = spec.At.Of(s)
	}
	q.WindingAt = q.At
	if q.nowGiven {
		q.WindingAt = now.Of(r)
	}
	if drop := driver.Of(r); drop.Kind == quantity.OfVoltage {
		q.DriverVolts = volts(drop.In)
	} else {
		q.DriverOhms = ohms(drop.In)
	}
	q.toCircuit = toCircuit(r)
	return q
}

// toCircuit returns the current of a loaded test, as the circuit tool takes it over.
func toCircuit(r *tool.Record) tool.Setting {
	given := tool.Setting{"readings.0.test", "current_on"}.Set("readings.0.value", current.Plain(r)).Set("supply", supply.Plain(r))
	// Set even if empty, or a temperature left in the circuit form would be taken for this one.
	given = given.Set("winding_temperature", at.Plain(r))
	if spec.Given(r) {
		s := spec.Of(r)
		given = append(given, bench.CarrySpec(s, spec.Min, spec.Max, spec.At)...).Set("winding_temperature", spec.At.Plain(s))
	}
	return given.Set("winding_temperature", now.Plain(r))
}
