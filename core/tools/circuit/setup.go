package circuit

import (
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/circuit"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
)

type (
	ohms    = quantity.Resistance
	volts   = quantity.Voltage
	amperes = quantity.Current
	kelvins = quantity.TemperatureDifference
)

// The limits within which the network is solved: wider than any solenoid needs, yet narrow enough that rounding never shows.
var (
	coils            = tool.Between(0.05, 1e6)
	coilTemperatures = tool.Between(-100, 400)
	wireOhms         = tool.Between(0.001, 1e7)
	shares           = tool.Between(0.001, 0.999)
)

// The fields of the circuit.
var (
	side = tool.ChoiceOf(tool.Field{Name: "side", Fact: "side", From: "bench.side", Need: true},
		[]tool.Option[circuit.Side]{{Word: "high", Is: circuit.High}, {Word: "low", Is: circuit.Low}})
	back = tool.ChoiceOf(tool.Field{Name: "return", Fact: "return", Default: "wire"},
		[]tool.Option[circuit.Return]{{Word: "wire", Is: circuit.Wire}, {Word: "case", Is: circuit.Case}})
	supply = tool.QuantityOf[volts](tool.Field{Name: "supply", Fact: "supply", Need: true, Range: tool.Over(0, 1000),
		Page: tool.Hints{Offer: bench.Volts}})
	spec = bench.SpecOf(tool.Field{Name: "spec", Fact: "spec", Need: true},
		tool.QuantityOf[ohms](tool.Field{Name: "min", Need: true, Range: coils, Sample: "5.0 ohm", Page: tool.Hints{Offer: bench.Ohms}}),
		tool.QuantityOf[ohms](tool.Field{Name: "max", Need: true, Range: coils, Sample: "5.6 ohm", Page: tool.Hints{UnitFrom: "min"}}),
		temperature(tool.Field{Name: "at", Default: "20 degC"}))
	now = temperature(tool.Field{Name: "winding_temperature", Fact: "winding_temperature"})
)

// What the tool assumes about the circuit.
var (
	fine    = tool.Hints{Fine: true}
	held    = tool.Hints{Held: true}
	minutes = tool.NumbersOf(tool.Field{Name: "minutes", Fact: "minutes", Apart: "minutes", Page: fine},
		numbers(circuit.Tests, tool.Between(0, 10000), "readings.test=", circuit.Test.Minutes))
	hour  = tool.NumberOf(tool.Field{Name: "hour", Default: "60", Range: tool.Between(0, 1e6)})
	wrong = tool.NumbersOf(tool.Field{Name: "wrong", Same: true},
		numbers(circuit.Repairs, tool.Between(0, 1e9), "repair.", func(circuit.Repair) float64 { return 300 }))
	costs  = tool.GroupOf(tool.Field{Name: "costs", Fact: "costs", Apart: "costs", Page: fine}, hour, wrong)
	meters = [circuit.Meters]bench.Meter{
		circuit.Ohms:    bench.MeterOf(tool.Field{Name: "resistance", Fact: "meter"}, "1", "2", "", quantity.OfResistance),
		circuit.Volts:   bench.MeterOf(tool.Field{Name: "voltage"}, "0.5", "2", "0.01 V", quantity.OfVoltage),
		circuit.Amperes: bench.MeterOf(tool.Field{Name: "current", Fact: "clamp"}, "2", "3", "0.01 A", quantity.OfCurrent),
	}
	meter  = tool.GroupOf(tool.Field{Name: "meter", Apart: "meter", Page: fine}, meters[0], meters[1], meters[2])
	priors = tool.NumbersOf(tool.Field{Name: "priors", Apart: "priors", Page: fine},
		numbers(circuit.Faults, tool.Between(0, 1e6), "fault.", circuit.Fault.Weight))
	limits     = limitFields()
	parameters = tool.GroupOf(tool.Field{Name: "parameters", Apart: "parameters", Page: fine}, declared(limits)...)
)

// The healthy values of the rest of the circuit, and the thresholds at which the control unit sets a code.
var (
	driverOhms   = wire("driver")
	harness      = wire("harness")
	lead         = wire("inner_lead")
	path         = wire("return_path")
	source       = wire("source")
	checkCurrent = wire("check_current")
	nominal      = tool.GroupOf(tool.Field{Name: "nominal", Apart: "nominal", Page: fine}, driverOhms, harness, lead, path, source,
		checkCurrent)

	offVolts   = tool.QuantityOf[volts](tool.Field{Name: "off", Range: bench.Voltages})
	onVolts    = tool.QuantityOf[volts](tool.Field{Name: "on", Range: bench.Voltages})
	overAmps   = tool.QuantityOf[amperes](tool.Field{Name: "over", Range: bench.Currents})
	openAmps   = tool.QuantityOf[amperes](tool.Field{Name: "open", Range: bench.Currents, Page: tool.Hints{Offer: bench.Amperes}})
	rangeShare = tool.QuantityOf[quantity.Ratio](tool.Field{Name: "range", Range: tool.Over(0, 10), Page: tool.Hints{Offer: bench.PerCent}})
	checks     = tool.GroupOf(tool.Field{Name: "checks", Apart: "checks", Page: fine}, offVolts, onVolts, overAmps, openAmps, rangeShare)
)

func temperature(d tool.Field) bench.TemperatureField {
	d.Range, d.Page.Offer = coilTemperatures, bench.Degrees
	return tool.QuantityOf[quantity.Temperature](d)
}

func wire(name string) tool.QuantityField[ohms] {
	return tool.QuantityOf[ohms](tool.Field{Name: name, Range: wireOhms})
}

// named covers the types of the circuit's faults, tests and repairs.
type named interface {
	~uint8
	String() string
}

// Each returns the first n values of a type: all its tests, faults or repairs if n is their count.
func Each[T named](n int) []T {
	list := make([]T, n)
	for i := range list {
		list[i] = T(i)
	}
	return list
}

// numbers declares a number for each of the first n values, with its default. The key of its label is words and the value's name.
func numbers[T named](n int, r tool.Range, words string, value func(T) float64) []tool.Field {
	list := make([]tool.Field, n)
	for i, of := range Each[T](n) {
		list[i] = tool.Field{Name: of.String(), Default: plain(value(of)), Range: r, Label: words + of.String()}
	}
	return list
}

// plain writes a number as a request would.
func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// A limit is the group of fields that limits a fault's parameter.
type limit struct {
	tool.GroupField
	of       circuit.Fault
	min, max tool.MeasureField
}

// limitFields declares the limits of every fault's parameter.
func limitFields() (list []limit) {
	for _, f := range Each[circuit.Fault](circuit.Faults) {
		lo, hi, _, ok := f.Limits()
		if !ok {
			continue
		}
		kind, unit, r, times := quantity.OfResistance, " ohm", wireOhms, 1.0
		if f.IsRatio() {
			kind, unit, r, times = quantity.OfRatio, " %", shares, 100
		}
		if f == circuit.OtherRow {
			r = tool.Between(0.01, 100)
		}
		offer := []string{strings.TrimSpace(unit)}
		end := func(name string, v float64) tool.MeasureField {
			return tool.MeasureOf(tool.Field{Name: name, Default: plain(v*times) + unit, Range: r, Label: "parameters." + name,
				Page: tool.Hints{Offer: offer}}, kind)
		}
		l := limit{of: f, min: end("min", lo), max: end("max", hi)}
		l.GroupField = tool.GroupOf(tool.Field{Name: f.String(), Label: "fault." + f.String()}, l.min, l.max)
		list = append(list, l)
	}
	return list
}

func declared(limits []limit) []tool.Declared {
	list := make([]tool.Declared, len(limits))
	for i := range limits {
		list[i] = limits[i]
	}
	return list
}

// forget makes a copied field one that takes part in no job: an exercise is about nobody's vehicle.
func forget(d *tool.Field) {
	d.Fact = ""
	for _, in := range d.Fields {
		forget(in)
	}
}

// Setup returns the circuit's fields, and those of what is assumed about it, as copies for another tool. In the copy no
// field has to be given, and defaults maps keys of fields to other defaults. Of the numbers for each fault, test and repair
// the copy has those of the first so many faults, tests and repairs; all others have no weight there.
func Setup(faults, tests, repairs int, defaults map[string]string) []*tool.Field {
	fields := tool.Declare(side, back, supply, spec, now, minutes, costs, meter, priors, parameters, nominal, checks)
	for i, d := range fields {
		fields[i] = d.Clone(room)
		fields[i].Need, fields[i].Page.Fine = false, true
		forget(fields[i])
		setDefaults(fields[i], d.Name, defaults)
		switch d {
		case minutes.Field:
			keep(fields[i], Each[circuit.Test](tests))
		case costs.Field:
			keep(fields[i].Fields[slices.IndexFunc(fields[i].Fields, func(in *tool.Field) bool { return in.Name == wrong.Name })],
				Each[circuit.Repair](repairs))
		case priors.Field, parameters.Field:
			keep(fields[i], Each[circuit.Fault](faults))
		}
	}
	return fields
}

// keep leaves in a group only the fields that are named after one of the values.
func keep[T named](group *tool.Field, values []T) {
	group.Fields = slices.DeleteFunc(group.Fields, func(d *tool.Field) bool {
		return !slices.ContainsFunc(values, func(v T) bool { return v.String() == d.Name })
	})
}

// setDefaults sets the defaults of a field, and of the fields inside it, that are found under their keys.
func setDefaults(d *tool.Field, key string, defaults map[string]string) {
	if text, ok := defaults[key]; ok {
		d.Default, d.Need = text, false
	}
	for _, in := range d.Fields {
		setDefaults(in, key+"."+in.Name, defaults)
	}
}

// TestOf declares a choice of one of the first so many tests.
func TestOf(d tool.Field, tests int) tool.ChoiceField[circuit.Test] {
	d.Page.Units, d.Page.Spoken = map[string]string{}, map[string][]string{}
	for _, t := range Each[circuit.Test](tests) {
		if said := spoken(t); said != nil {
			d.Page.Spoken[t.String()] = said
		} else {
			d.Page.Units[t.String()] = quantity.Units(kindOf(t))[0].Symbol
		}
	}
	return tool.ChoiceOf(d, tool.Named(Each[circuit.Test](tests)...))
}

// kindOf returns the kind of quantity that a test measures; 0 if it is read in words.
func kindOf(t circuit.Test) quantity.Kind {
	return [circuit.Quantities]quantity.Kind{circuit.Ohms: quantity.OfResistance, circuit.Volts: quantity.OfVoltage,
		circuit.Amperes: quantity.OfCurrent, circuit.Degrees: quantity.OfTemperature}[t.Quantity()]
}

// spoken returns the words in which a test is read; none for a number.
func spoken(t circuit.Test) (list []string) {
	for _, w := range t.Quantity().Words() {
		list = append(list, w.String())
	}
	return list
}

// CheckPossible notes a fault if the test of a row cannot be made on the circuit that r gives.
func CheckPossible(test tool.ChoiceField[circuit.Test], r, row *tool.Record, m *circuit.Model, f *tool.Faults) {
	switch t := test.Of(row); {
	case !tool.OK(r, side, back) || !test.OK(row) || t.Possible(m.Side, m.Return):
	case t == circuit.InsulationComponent:
		f.Conflict(test.Path(row), test.Raw(row), "no_insulation")
	default:
		f.Conflict(test.Path(row), test.Raw(row), "no_feed")
	}
}

// Read reads the circuit and everything assumed about it, and notes what is impossible. It does not read the code, nor what only
// the circuit tool asks. A winding whose temperature is left out is at that of its specification, and not known to be.
func Read(r *tool.Record, f *tool.Faults) *circuit.Model {
	s := spec.Of(r)
	m := circuit.New(side.Of(r), back.Of(r), float64(supply.Of(r)), float64(spec.Min.Of(s)), float64(spec.Max.Of(s)))
	m.Row.At = spec.At.Of(s)
	m.Warmth.Known, m.Warmth.At = now.Given(r), m.Row.At
	if now.Given(r) {
		m.Warmth.At = now.Of(r)
	}
	if m.Side == circuit.Low && m.Return == circuit.Case && tool.OK(r, side, back) {
		f.Conflict("return", back.Raw(r), "low_case")
		back.Spoil(r)
	}
	spec.CheckOrder(r, f)
	readAssumed(r, m, f)
	g := meter.Of(r)
	for i, field := range meters {
		m.Meters[i] = circuit.Meter{Meter: field.Of(g), Auto: circuit.Quantity(i) == circuit.Ohms && !field.HasResolution(g)}
	}
	readRest(r, m)
	return m
}

// readAssumed reads weights, parameters, minutes and costs.
func readAssumed(r *tool.Record, m *circuit.Model, f *tool.Faults) {
	clear(m.Weights[:])
	copy(m.Weights[:], priors.Of(r))
	if priors.OK(r) && m.WeightSum() <= 0 {
		f.Conflict("priors", "0", "no_priors")
	}
	p := parameters.Of(r)
	for _, l := range limits {
		if !l.In(p) {
			continue
		}
		g := l.Of(p)
		lo, hi := l.min.Of(g), l.max.Of(g)
		m.Limits[l.of] = [2]float64{lo.In, hi.In}
		if tool.OK(g, l.min, l.max) && lo.In > hi.In {
			f.Conflict(l.min.Path(g), l.min.Raw(g), "min_max", f.Speak.Of(lo.Kind, lo.In, 0), f.Speak.Of(lo.Kind, hi.In, 0))
		}
	}
	copy(m.Minutes[:], minutes.Of(r))
	c := costs.Of(r)
	m.Hour = hour.Of(c)
	copy(m.Wrong[:], wrong.Of(c))
}

// readRest replaces values of common practice by those that are given. A resistance that is given is exact: it has no span.
func readRest(r *tool.Record, m *circuit.Model) {
	g := nominal.Of(r)
	exact := func(field tool.QuantityField[ohms], value *float64, span *circuit.Span) {
		override(g, field, value)
		if field.Given(g) {
			*span = circuit.Span{}
		}
	}
	exact(driverOhms, &m.Nominal.Driver, &m.Spans.Driver)
	exact(harness, &m.Nominal.Harness, &m.Spans.Harness)
	exact(lead, &m.Nominal.Lead, &m.Spans.Lead)
	exact(path, &m.Nominal.Path, &m.Spans.Path)
	override(g, source, &m.Nominal.Source)
	override(g, checkCurrent, &m.Nominal.Pull)
	g = checks.Of(r)
	override(g, offVolts, &m.Checks.Off)
	override(g, onVolts, &m.Checks.On)
	override(g, overAmps, &m.Checks.Over)
	override(g, openAmps, &m.Checks.Open)
	override(g, rangeShare, &m.Checks.Range)
}

func override[Q ~float64](r *tool.Record, field tool.QuantityField[Q], value *float64) {
	if field.Given(r) {
		*value = float64(field.Of(r))
	}
}
