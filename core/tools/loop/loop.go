// Package loop is the tool for the loaded test: what supply voltage and current tell about the rest of the circuit.
package loop

import (
	"ohmwright/core/bench"
	"ohmwright/core/loop"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
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
	supply = tool.QuantityOf[volts](tool.Field{Name: "supply", Fact: "supply", Need: true, Range: bench.Voltages,
		Page: tool.Hints{Offer: bench.Volts}, Taken: supplyTaken})
	current = tool.QuantityOf[quantity.Current](tool.Field{Name: "current", Need: true, Range: bench.Currents,
		Page: tool.Hints{Offer: bench.Amperes}, Taken: currentTaken})
	coil = tool.QuantityOf[ohms](tool.Field{Name: "winding", Range: bench.SomeOhms, Page: tool.Hints{Offer: bench.Ohms},
		Taken: coilTaken})
	at   = bench.Temperature(tool.Field{Name: "at", Default: "20 degC"})
	spec = bench.SpecOf(tool.Field{Name: "spec", Fact: "spec", Yields: "winding"},
		tool.QuantityOf[ohms](tool.Field{Name: "min", Need: true, Range: bench.Resistances, Page: tool.Hints{Offer: bench.Ohms}}),
		tool.QuantityOf[ohms](tool.Field{Name: "max", Need: true, Range: bench.SomeOhms, Page: tool.Hints{UnitFrom: "min"}}),
		bench.Temperature(tool.Field{Name: "at", Default: "20 degC"}))
	now    = bench.Temperature(tool.Field{Name: "winding_temperature", Fact: "winding_temperature"})
	driver = tool.MeasureOf(tool.Field{Name: "driver", Default: "0.15 ohm", Range: tool.Between(0, 1e6),
		Page: tool.Hints{Fine: true, Offer: []string{"ohm", "V"}}}, quantity.OfResistance, quantity.OfVoltage)
	limit = tool.QuantityOf[volts](tool.Field{Name: "limit", Default: "0.5 V", Range: bench.Voltages,
		Page: tool.Hints{Fine: true, Offer: milli}})
	meter        = bench.MeterOf(tool.Field{Name: "meter", Fact: "clamp", Page: fine}, "2", "3", "0.01 A", quantity.OfCurrent)
	supplyWithin = tool.QuantityOf[volts](tool.Field{Name: "supply_within", Fact: "supply_within", Default: "0.2 V",
		Range: tool.Between(0, bench.MostVolts),
		Page:  tool.Hints{Fine: true, Offer: milli}})
	coilWithin = tool.MeasureOf(tool.Field{Name: "winding_within", Default: "3 %", Range: bench.Resistances,
		Page: tool.Hints{Fine: true, Offer: []string{"%", "ohm"}}}, quantity.OfResistance, quantity.OfRatio)
	nowWithin = tool.QuantityOf[kelvin](tool.Field{Name: "winding_temperature_within", Fact: "winding_temperature_within", Default: "10 K",
		Range: bench.Differences, Page: tool.Hints{Fine: true, Offer: bench.Kelvins}})
	driverKind = bench.DriverKind("driver_kind", "driver.kind",
		tool.Words(loop.DriverUnknown, loop.DriverPlain, loop.DriverProtected, loop.DriverRegulated))
	wire = bench.WireOf(tool.Field{Name: "wire", Apart: "wire", Page: fine})
)

// The segments of the loop, with the voltage that each may lose: common practice (service literature of several makers).
var (
	ground   = segmentOf(loop.Ground, "0.1 V")
	wiring   = segmentOf(loop.Wiring, "0.2 V")
	switched = segmentOf(loop.Switch, "0.3 V")
	segments = tool.GroupOf(tool.Field{Name: "segments", Apart: "segments", Page: fine}, ground, wiring, switched)
)

func segmentOf(name loop.SegmentName, allowed string) tool.QuantityField[volts] {
	return tool.QuantityOf[volts](tool.Field{Name: string(name), Default: allowed, Range: bench.Voltages,
		Page: tool.Hints{Fine: true, Offer: milli}})
}

// Tool answers what a loaded test says.
var Tool = tool.New(tool.Tool{
	Name:    "loop",
	Example: `{"supply": "13.2 V", "current": "1.65 A", "winding": "5.3 ohm", "at": "20 degC", "winding_temperature": "88 degC"}`,
	Before:  []string{"live_circuit"},
	Fields: tool.Declare(supply, current, coil, at, spec, now, driverKind, driver, limit, segments, wire, meter, supplyWithin, coilWithin,
		nowWithin),
}, tool.Way[question, finding, *result]{Read: read, Find: find, Tell: tell, Lay: lay, Draft: draft})

// supplyTaken, currentTaken and coilTaken tell how the readings were taken.
func supplyTaken(r, _ *tool.Record, _ quantity.Kind) tool.How { return tool.How{At: now.Sound(r)} }

func currentTaken(r, _ *tool.Record, _ quantity.Kind) tool.How {
	return tool.How{At: now.Sound(r), Supply: supply.Sound(r), Meter: meter.Told(r)}
}

func coilTaken(r, _ *tool.Record, _ quantity.Kind) tool.How {
	how := tool.How{Beside: true}
	if at.Given(r) {
		how.At = at.Sound(r)
	}
	return how
}

// A question is a loaded test, and what the circuit tool takes over.
type question struct {
	loop.Test
	nowGiven  bool // the request gives the winding's temperature during the test
	toCircuit tool.Setting
}

// A finding is what the test says; nothing but the stop where there is one.
type finding struct {
	loop.Finding
	stop bench.Stop
}

func find(q question) finding {
	if stop := bench.HighVoltage(q.Supply); stop != "" {
		return finding{stop: stop}
	}
	return finding{Finding: q.Test.Find()}
}

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
	if w := coilWithin.Of(r); coilWithin.OK(r) && w.Kind == quantity.OfRatio && w.In > 1 {
		f.OutOf("winding_within", coilWithin.Raw(r), "above", quantity.Clip(coilWithin.Raw(r)), f.Speak.Percent(1))
	}
	wire.Check(r, f)
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
		At: at.Of(r), WindingAt: now.Of(r), WindingWithin: nowWithin.Of(r), Limit: limit.Of(r), Driver: driverKind.Of(r),
	}}
	q.Segments = segmentsOf(r)
	if coil.Given(r) {
		within := coilWithin.Of(r)
		half := within.In
		if within.Kind == quantity.OfRatio {
			half *= float64(coil.Of(r))
		}
		q.Winding = measure.Estimate{Value: float64(coil.Of(r)), U: measure.Rectangular(half)}
	} else {
		s := spec.Of(r)
		lo, hi := float64(spec.Min.Of(s)), float64(spec.Max.Of(s))
		q.Winding = measure.Estimate{Value: (lo + hi) / 2, U: measure.Rectangular((hi - lo) / 2)}
		q.At = spec.At.Of(s)
	}
	if !q.nowGiven {
		q.WindingAt, q.WindingWithin = winding.Anywhere.Middle(), winding.Anywhere.HalfWidth()
	}
	if drop := driver.Of(r); drop.Kind == quantity.OfVoltage {
		q.DriverVolts = volts(drop.In)
	} else {
		q.DriverOhms = ohms(drop.In)
	}
	q.toCircuit = toCircuit(r)
	return q
}

// segmentsOf are the segments of the loop.
func segmentsOf(r *tool.Record) []loop.Segment {
	g := segments.Of(r)
	return []loop.Segment{
		{Name: loop.Ground, Allowed: ground.Of(g)},
		{Name: loop.Wiring, Allowed: wiring.Of(g), Wire: wire.Of(r)},
		{Name: loop.Switch, Allowed: switched.Of(g)},
	}
}

// toCircuit is the current of a loaded test for the question of the circuit, with the supply and the temperature that it was read at: those
// of the other readings may be others.
func toCircuit(r *tool.Record) tool.Setting {
	given := tool.Setting{"readings.0.test", "current_on"}.Set("readings.0.value", current.Plain(r)).Set("supply", supply.Plain(r)).
		Set("readings.0.supply", supply.Plain(r)).Set("readings.0.at", now.Plain(r))
	if spec.Given(r) {
		s := spec.Of(r)
		given = append(given, bench.CarrySpec(s, spec.Min, spec.Max, spec.At)...)
	}
	if driverKind.Given(r) {
		given = given.Set("driver.kind", driverKind.Raw(r))
	}
	return given.Set("winding_temperature", now.Plain(r))
}
