// Package winding is the tool that tells what a resistance reading says about a winding.
package winding

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

type (
	ohms    = quantity.Resistance
	ratio   = quantity.Ratio
	within  = quantity.TemperatureDifference
	celsius = quantity.Temperature
)

var (
	fine      = tool.Hints{Fine: true}
	fineOhms  = tool.Hints{Fine: true, Offer: bench.Ohms}
	anyOhms   = tool.Hints{Offer: []string{"ohm", "kohm"}}
	ohmsAlone = tool.Hints{Offer: bench.Ohms}
)

// The fields of a reading: of this part, and of the known good one.
var (
	reading = tool.ReadingOf(tool.Field{Name: "reading", Need: true, Range: bench.Resistances, Page: anyOhms, Taken: taken},
		quantity.OfResistance)
	at        = bench.Temperature(tool.Field{Name: "at", Fact: "winding_temperature"})
	atKnown   = bench.Temperature(tool.Field{Name: "at", Need: true}) // of a part beside this one
	atWithin  = tool.QuantityOf[within](tool.Field{Name: "at_within", Default: "2 K", Range: bench.Differences, Page: fineKelvins})
	ownWithin = tool.QuantityOf[within](tool.Field{Name: "at_within", Fact: "winding_temperature_within", Default: "2 K",
		Range: bench.Differences, Page: fineKelvins}) // of the part itself; read as atWithin is
	leads     = tool.QuantityOf[ohms](tool.Field{Name: "leads", Sample: "0.3 ohm", Range: bench.Resistances, Page: ohmsAlone})
	alike     = tool.QuantityOf[ratio](tool.Field{Name: "tolerance", Default: "10 %", Range: bench.Shares, Page: finePerCent})
	knownGood = tool.GroupOf(tool.Field{Name: "known_good", Apart: "known_good"}, reading, atKnown, atWithin, leads, alike)
	follow    = tool.QuantityOf[ratio](tool.Field{Name: "tolerance", Default: "5 %", Range: bench.Shares, Page: finePerCent})
	cold      = tool.GroupOf(tool.Field{Name: "cold", Apart: "cold", Page: fine}, reading, atKnown, atWithin, leads, follow)

	fineKelvins = tool.Hints{Fine: true, Offer: bench.Kelvins}
	finePerCent = tool.Hints{Fine: true, Offer: bench.PerCent}
)

// The fields of a row of the specification.
var (
	rowName   = tool.TextOf(tool.Field{Name: "name", Most: 120})
	rowMin    = tool.QuantityOf[ohms](tool.Field{Name: "min", Range: bench.Resistances, Page: ohmsAlone})
	rowMax    = tool.QuantityOf[ohms](tool.Field{Name: "max", Range: bench.Resistances, Page: tool.Hints{UnitFrom: "min"}})
	nominal   = tool.QuantityOf[ohms](tool.Field{Name: "nominal", Range: bench.SomeOhms, Page: fineOhms})
	tolerance = tool.QuantityOf[ratio](tool.Field{Name: "tolerance", Range: bench.Shares, Page: finePerCent})
	rowAt     = bench.Temperature(tool.Field{Name: "at", Default: "20 degC"})
	validFrom = bench.Temperature(tool.Field{Name: "valid_from", Page: fine})
	validTo   = tool.QuantityOf[celsius](tool.Field{Name: "valid_to", Range: bench.Temperatures,
		Page: tool.Hints{Fine: true, UnitFrom: "valid_from"}})
	appliesTo = tool.TextOf(tool.Field{Name: "applies_to", Most: 400, Page: fine})
	source    = tool.TextOf(tool.Field{Name: "source", Most: 400, Page: fine})
	specs     = tool.ListOf(tool.Field{Name: "specs", Fact: "specs", Most: 60, Apart: "specs"},
		rowName, rowMin, rowMax, nominal, tolerance, rowAt, validFrom, validTo, appliesTo, source)
)

var (
	meter = bench.MeterOf(tool.Field{Name: "meter", Fact: "meter", Page: fine}, "1", "2", "0.1 ohm", quantity.OfResistance)
	place = tool.ChoiceOf(tool.Field{Name: "measured_at", Default: "winding", Page: fine},
		tool.Words(winding.AtWinding, winding.AtComponentConnector, winding.AtControlUnit))
	loom        = tool.QuantityOf[ohms](tool.Field{Name: "loom", Sample: "0.9 ohm", Range: bench.Resistances, Page: fineOhms})
	loomWithin  = tool.QuantityOf[ohms](tool.Field{Name: "loom_within", Sample: "0.2 ohm", Range: bench.Resistances, Page: fineOhms})
	loomWire    = bench.WireOf(tool.Field{Name: "loom_wire", Page: fine})
	series      = tool.WholeOf(tool.Field{Name: "series", Range: tool.Between(1, 100)})
	parallel    = tool.WholeOf(tool.Field{Name: "parallel", Range: tool.Between(1, 100)})
	arrangement = tool.ChoiceOf(tool.Field{Name: "arrangement", Default: "single", Page: fine}, tool.Words("single"), series, parallel)
	material    = bench.Material()
	reference   = bench.Temperature(tool.Field{Name: "reference", Default: "20 degC", Apart: "reference", Page: fine})
	supply      = tool.QuantityOf[quantity.Voltage](tool.Field{Name: "supply", Fact: "supply",
		Range: bench.Voltages, Apart: "driver", Page: fine})
	driverLimit = bench.DriverLimit("driver")
)

// Tool tells what a resistance reading says about a winding.
var Tool = tool.New(tool.Tool{
	Name:    "winding",
	Example: example,
	Fields: tool.Declare(reading, at, ownWithin, leads, specs, knownGood, cold, meter, place, loom, loomWithin, loomWire, arrangement,
		material, reference, supply, driverLimit),
}, tool.Way[question, finding, *result]{Read: read, Find: find, Tell: tell, Lay: lay, Draft: draft})

const example = `{
  "reading": "6.90 ohm", "leads": "0.30 ohm", "at": "88 degC", "at_within": "3 K",
  "meter": {"percent": 0.5, "counts": 2, "resolution": "0.01 ohm"},
  "specs": [
    {"name": "2031 on", "min": "5.0 ohm", "max": "5.6 ohm", "at": "20 degC",
     "applies_to": "Tarn 24, gearbox QX-6 built from July 2030", "source": "Tarn bulletin QX-6/07"},
    {"name": "2028 to 2030", "min": "4.0 ohm", "max": "4.6 ohm", "at": "20 degC",
     "applies_to": "Tarn 24, gearbox QX-6 built to June 2030", "source": "Tarn manual 31-4, page 112"}
  ],
  "known_good": {"reading": "5.61 ohm", "leads": "0.30 ohm", "at": "21 degC"},
  "supply": "13.8 V", "driver_limit": "3 A"
}`

// taken tells how a reading was taken. A second part's has its own temperature beside it, and is not taken through this vehicle's wiring.
func taken(request, own *tool.Record, _ quantity.Kind) tool.How {
	h := tool.How{At: at.Sound(own), Meter: meter.Told(request), Leads: leads.Sound(own)}
	if own == request {
		h.Place = place.Sound(request)
	}
	return h
}

// A question is what core/winding is asked, and how the reader names the rows.
type question struct {
	winding.Question
	rows      []row
	toCircuit tool.Setting // what the circuit tool takes over, but for the row; nil if there is nothing it can use
	toDrive   tool.Setting
}

// A row holds the reader's names for a row of the specification, and its limits as the circuit tool takes them over; nil if it
// lacks one of them or holds over a range of temperatures.
type row struct {
	name, appliesTo, source string
	limits                  tool.Setting
}

// A finding is what the reading says; nothing but the stop where there is one.
type finding struct {
	winding.Finding
	stop bench.Stop
}

func find(q question) finding {
	if stop := bench.HighVoltage(q.Supply); stop != "" {
		return finding{stop: stop}
	}
	return finding{Finding: q.Question.Find()}
}

func read(r *tool.Record, f *tool.Faults) question {
	check(r, f)
	if f.Any() {
		return question{Question: winding.Question{Supply: supply.Of(r)}} // what a draft needs
	}
	q := question{Question: winding.Question{
		Measurement: measurement(r, r, at),
		Place:       place.Of(r), LoomGiven: loom.Given(r), WithinGiven: loomWithin.Given(r),
		Reference: reference.Of(r), Supply: supply.Of(r), Limit: driverLimit.Of(r),
	}}
	if !at.Given(r) {
		q.AtUnknown, q.At, q.AtWithin = true, winding.Anywhere.Middle(), winding.Anywhere.HalfWidth()
	}
	q.LoomWire = loomWire.Of(r)
	q.Loom, q.LoomWithin = loomOf(r)
	for i, s := range specs.Of(r) {
		q.Rows = append(q.Rows, rowOf(s))
		name := strings.TrimSpace(rowName.Of(s))
		if name == "" {
			name = f.Speak.Say("sheet.row", strconv.Itoa(i+1))
		}
		q.rows = append(q.rows, row{name, appliesTo.Of(s), source.Of(s), limitsOf(s)})
	}
	if knownGood.Given(r) {
		g := knownGood.Of(r)
		q.Good = &winding.Good{Measurement: measurement(r, g, atKnown), Tolerance: alike.Of(g)}
	}
	if cold.Given(r) {
		c := cold.Of(r)
		q.Cold = &winding.Cold{Measurement: measurement(r, c, atKnown), Tolerance: follow.Of(c)}
		q.Cold.Loom = q.Loom
	}
	q.toCircuit = toCircuit(r, q.Question)
	if at.Given(r) { // a resistance at no known temperature is no figure for a drive
		q.toDrive = tool.Setting{}.Set("at", at.Plain(r)).Set("supply", supply.Plain(r)).Set("driver_limit", driverLimit.Plain(r)).
			Set("winding_temperature", at.Plain(r))
	}
	return q
}

// loomOf is the wiring in between and how well it is known: as it was read, or worked out from its wire.
func loomOf(r *tool.Record) (is, within ohms) {
	is, within = loom.Of(r), loomWithin.Of(r)
	if wire := loomWire.Of(r); wire != nil {
		is = wire.Ohms()
		if !loomWithin.Given(r) {
			within = is * winding.WireWithin
		}
	}
	return is, within
}

// measurement reads one measurement; g is the object that holds reading, leads and temperature.
func measurement(r, g *tool.Record, at bench.TemperatureField) winding.Measurement {
	m := winding.Measurement{
		Reading:    readingOf(g),
		Leads:      leads.Of(g),
		LeadsGiven: leads.Given(g),
		At:         at.Of(g),
		AtWithin:   atWithin.Of(g),
		Meter:      meter.Of(r),
		Material:   material.Of(r),
	}
	if a := arrangement.Instead(r); a != nil {
		m.Arrangement = winding.Arrangement{Series: series.Of(a), Parallel: parallel.Of(a)}
	}
	return m
}

func readingOf(g *tool.Record) measure.Reading {
	v := reading.Of(g)
	return measure.Reading{Ohms: ohms(v.In), Over: v.Over}
}

// rowOf reads a row of the specification.
func rowOf(s *tool.Record) winding.Row {
	row := winding.Row{Band: measure.Everything(), At: rowAt.Of(s)}
	if nominal.Given(s) {
		n, t := float64(nominal.Of(s)), float64(tolerance.Of(s))
		row.Band = measure.Band{Min: n * (1 - t), Max: n * (1 + t)}
		row.Nominal = nominal.Of(s)
	}
	if rowMin.Given(s) {
		row.Band.Min = float64(rowMin.Of(s))
	}
	if rowMax.Given(s) {
		row.Band.Max = float64(rowMax.Of(s))
	}
	if middle, ok := winding.Middle(row.Band); ok && row.Nominal == 0 {
		row.Nominal = ohms(middle)
	}
	if validFrom.Given(s) || validTo.Given(s) {
		row.Span = &winding.Span{From: celsius(math.Inf(-1)), To: celsius(math.Inf(1))}
		if validFrom.Given(s) {
			row.Span.From = validFrom.Of(s)
		}
		if validTo.Given(s) {
			row.Span.To = validTo.Of(s)
		}
	}
	return row
}

// limitsOf returns a row's limits as the circuit tool takes them over; nil where it cannot.
func limitsOf(s *tool.Record) tool.Setting {
	if !rowMin.Given(s) || !rowMax.Given(s) || validFrom.Given(s) || validTo.Given(s) {
		return nil
	}
	return bench.CarrySpec(s, rowMin, rowMax, rowAt)
}

// carried returns what the circuit tool takes over, with the row that applies where that is settled, else with the first that
// has both limits, and that none is settled.
func (q question) carried(settled *winding.Settled) tool.Setting {
	given := slices.Clone(q.toCircuit)
	if settled != nil && q.rows[settled.Row].limits != nil {
		limits := q.rows[settled.Row].limits
		given = append(given, limits...)
		for i := 0; i+1 < len(limits); i += 2 {
			given = append(given, strings.Replace(limits[i], "spec.", "settled.", 1), limits[i+1])
		}
		return given
	}
	if i := slices.IndexFunc(q.rows, func(r row) bool { return r.limits != nil }); i >= 0 {
		given = append(given, q.rows[i].limits...)
		given = append(given, "settled.min", "", "settled.max", "", "settled.at", "")
	}
	return given
}

// toCircuit returns a resistance reading as the circuit tool takes it over, without the row of the specification. It
// returns nil if several windings were read at once, since that is not a reading of one circuit.
func toCircuit(r *tool.Record, q winding.Question) tool.Setting {
	if arrangement.Instead(r) != nil {
		return nil
	}
	tests := map[winding.Place]string{
		winding.AtWinding: "resistance_winding", winding.AtComponentConnector: "resistance_component", winding.AtControlUnit: "resistance_unit",
	}
	value := "OL"
	if !q.Reading.Over {
		value = strconv.FormatFloat(float64(q.Reading.Ohms-q.Leads), 'g', 6, 64) + "ohm"
	}
	given := tool.Setting{"readings.0.test", tests[q.Place], "readings.0.value", value}.Set("readings.0.at", at.Plain(r))
	return given.Set("winding_temperature", at.Plain(r)).Set("supply", supply.Plain(r))
}
