// Package bank is the tool for the bench sheet: all windings of one body or connector at once, of this unit and of a second one.
package bank

import (
	"cmp"
	"strconv"
	"strings"

	"ohmwright/core/bank"
	"ohmwright/core/bench"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

type (
	ohms  = quantity.Resistance
	ratio = quantity.Ratio
)

var (
	fine        = tool.Hints{Fine: true}
	down        = tool.Hints{Down: true, Offer: bench.Ohms}
	ohmsAlone   = tool.Hints{Offer: bench.Ohms}
	fineOhms    = tool.Hints{Fine: true, Offer: bench.Ohms}
	finePerCent = tool.Hints{Fine: true, Offer: bench.PerCent}
	pathOhms    = tool.Hints{Fine: true, Offer: []string{"Mohm", "kohm", "ohm"}}
)

// The fields that all windings share.
var (
	at       = bench.Temperature(tool.Field{Name: "at", Fact: "winding_temperature", From: "winding.at"})
	atWithin = tool.QuantityOf[quantity.TemperatureDifference](tool.Field{Name: "at_within", Fact: "winding_temperature_within",
		From: "winding.at_within", Default: "2 K", Range: bench.Differences, Page: tool.Hints{Fine: true, Offer: bench.Kelvins}})
	leads = tool.QuantityOf[ohms](tool.Field{Name: "leads", From: "winding.leads", Sample: "0.3 ohm", Range: bench.Resistances,
		Page: ohmsAlone})
	spec = bench.SpecOf(tool.Field{Name: "spec", Fact: "spec", Page: tool.Hints{Open: true}},
		tool.QuantityOf[ohms](tool.Field{Name: "min", Range: bench.Resistances, Page: ohmsAlone}),
		tool.QuantityOf[ohms](tool.Field{Name: "max", Range: bench.Resistances, Page: tool.Hints{UnitFrom: "min"}}),
		bench.Temperature(tool.Field{Name: "at", Default: "20 degC"}))
	otherAt     = bench.Temperature(tool.Field{Name: "other_at", Page: fine})
	otherWithin = tool.QuantityOf[ratio](tool.Field{Name: "tolerance", Default: "10 %", Range: bench.Shares, Page: finePerCent})
	alikeWithin = tool.QuantityOf[ratio](tool.Field{Name: "alike_within", Default: "5 %", Range: bench.Shares, Page: finePerCent})
	falseAlarm  = tool.QuantityOf[ratio](tool.Field{Name: "false_alarm", Default: "5 %", Range: tool.Over(0, 0.5), Page: finePerCent})
	insulation  = tool.QuantityOf[ohms](tool.Field{Name: "insulation", Default: "1 Mohm", Range: bench.SomeOhms, Page: pathOhms})
	common      = tool.ChoiceOf(tool.Field{Name: "common", Default: "no", Page: fine},
		[]tool.Option[bool]{{Word: "no", Is: false}, {Word: "yes", Is: true}})
	meter = bench.MeterOf(tool.Field{Name: "meter", Fact: "meter", From: "winding.meter", Page: fine}, "1", "2", "0.1 ohm",
		quantity.OfResistance)
	place = tool.ChoiceOf(tool.Field{Name: "measured_at", Default: string(winding.AtComponentConnector), Page: fine},
		tool.Words(winding.AtComponentConnector, winding.AtWinding))
	material  = bench.Material()
	reference = bench.Temperature(tool.Field{Name: "reference", From: "winding.reference", Default: "20 degC", Apart: "reference",
		Page: fine})
)

// The fields of a winding. Its own limits are a whole specification: nothing of the bank's is mixed in.
var (
	reading = tool.ReadingOf(tool.Field{Name: "reading", Range: bench.Resistances, Page: down, Taken: takenLess}, quantity.OfResistance)
	other   = tool.ReadingOf(tool.Field{Name: "other", Range: bench.Resistances, Page: down, Taken: takenOther}, quantity.OfResistance)
	rowName = tool.TextOf(tool.Field{Name: "name", Most: 60, Page: fine})
	rowMin  = tool.QuantityOf[ohms](tool.Field{Name: "min", Range: bench.Resistances, Page: fineOhms})
	rowMax  = tool.QuantityOf[ohms](tool.Field{Name: "max", Range: bench.Resistances, Page: tool.Hints{Fine: true, UnitFrom: "min"}})
	specAt  = bench.Temperature(tool.Field{Name: "spec_at", Default: "20 degC", Page: fine})
	toCase  = tool.ReadingOf(tool.Field{Name: "to_case", Range: bench.Resistances, Page: pathOhms, Taken: taken}, quantity.OfResistance)

	windings = tool.ListOf(tool.Field{Name: "windings", Need: true, Most: 24, Apart: "windings", Grave: true},
		reading, other, rowName, rowMin, rowMax, specAt, toCase)
)

// The fields of a check from pin to pin.
var (
	from    = tool.TextOf(tool.Field{Name: "from", Need: true, Most: 60, Sample: "1"})
	to      = tool.TextOf(tool.Field{Name: "to", Need: true, Most: 60, Sample: "2"})
	between = tool.ReadingOf(tool.Field{Name: "reading", Need: true, Range: bench.Resistances, Taken: takenBetween,
		Page: tool.Hints{Offer: []string{"ohm", "kohm", "Mohm"}}}, quantity.OfResistance)
	pins = tool.ListOf(tool.Field{Name: "pins", Most: 60, Apart: "pins", Page: fine}, from, to, between)
)

// taken tells how a reading of this unit was taken.
func taken(request, own *tool.Record, _ quantity.Kind) tool.How {
	return tool.How{Name: wording.OwnName(rowName.Sound(own)), Place: place.Sound(request), At: at.Sound(request), Meter: meter.Told(request),
		Numbered: true}
}

// takenLess is taken where the leads are taken off: of a winding, not of a path to the case.
func takenLess(request, own *tool.Record, kind quantity.Kind) tool.How {
	h := taken(request, own, kind)
	h.Leads = leads.Sound(request)
	return h
}

// takenOther is taken for the second unit.
func takenOther(request, own *tool.Record, kind quantity.Kind) tool.How {
	h := takenLess(request, own, kind)
	if otherAt.Given(request) {
		h.At = otherAt.Sound(request)
	}
	return h
}

// takenBetween tells how a reading from pin to pin was taken.
func takenBetween(request, own *tool.Record, _ quantity.Kind) tool.How {
	return tool.How{Name: from.Sound(own) + "\u2013" + to.Sound(own), At: at.Sound(request), Meter: meter.Told(request)}
}

// Tool tells what all windings of one body say together.
var Tool = tool.New(tool.Tool{
	Name:    "bank",
	Example: example,
	Fields: tool.Declare(at, leads, spec, windings, common, pins, otherAt, atWithin, place, meter, otherWithin, alikeWithin,
		falseAlarm, insulation, material, reference),
}, tool.Way[question, finding, *result]{Read: read, Find: find, Tell: tell, Lay: lay})

const example = `{
  "at": "24 degC", "leads": "0.2 ohm", "spec": {"min": "5.0 ohm", "max": "5.6 ohm"},
  "meter": {"percent": 0.5, "counts": 2, "resolution": "0.01 ohm"},
  "windings": [
    {"name": "A", "reading": "5.61 ohm", "other": "5.58 ohm", "to_case": "OL"},
    {"name": "B", "reading": "5.57 ohm", "other": "5.60 ohm", "to_case": "OL"},
    {"name": "C", "reading": "3.98 ohm", "other": "5.55 ohm", "to_case": "OL"},
    {"name": "D", "reading": "5.63 ohm", "other": "5.62 ohm", "to_case": "OL"},
    {"name": "E", "reading": "13.10 ohm", "other": "13.00 ohm", "min": "12.2 ohm", "max": "13.4 ohm"}
  ],
  "pins": [{"from": "A", "to": "B", "reading": "OL"}]
}`

// A question is what core/bank is asked, and how the reader names the rows.
type question struct {
	bank.Question
	names   []string
	pins    [][2]string
	carry   []tool.Setting // of each row: what the circuit tool takes over; nil where it was not read
	ownSpec []bool         // of each row: whether its specification is its own
}

// A finding is what the sheet says.
type finding = bank.Finding

func find(q question) finding { return q.Question.Find() }

func read(r *tool.Record, f *tool.Faults) question {
	check(r, f)
	if f.Any() {
		return question{}
	}
	q := question{Question: bank.Question{
		Base: base(r, at), OtherBase: base(r, at), OtherAsThis: !otherAt.Given(r), Reference: reference.Of(r), Place: place.Of(r),
		Common: common.Of(r), OtherTolerance: otherWithin.Of(r), AlikeWithin: alikeWithin.Of(r), FalseAlarm: falseAlarm.Of(r),
		Insulation: insulation.Of(r),
	}}
	if otherAt.Given(r) {
		q.OtherBase = base(r, otherAt)
	}
	for i, w := range windings.Of(r) {
		q.Rows = append(q.Rows, bank.Row{Reading: readingOf(reading, w), Other: readingOf(other, w), ToCase: readingOf(toCase, w),
			Spec: specFor(r, w)})
		q.names = append(q.names, nameOf(w, i, f.Speak))
		q.carry = append(q.carry, toCircuit(r, w, i, q.Base))
		q.ownSpec = append(q.ownSpec, ownSpec(w))
	}
	for _, p := range pins.Of(r) {
		ends := [2]string{strings.TrimSpace(from.Of(p)), strings.TrimSpace(to.Of(p))}
		q.pins = append(q.pins, ends)
		q.Pins = append(q.Pins, bank.Pin{From: rowNamed(r, ends[0], f.Speak), To: rowNamed(r, ends[1], f.Speak),
			Reading: *readingOf(between, p)})
	}
	return q
}

// base is what all readings of a unit share; at is the field that gives its temperature.
func base(r *tool.Record, at bench.TemperatureField) winding.Measurement {
	m := winding.Measurement{
		Leads: leads.Of(r), LeadsGiven: leads.Given(r), At: at.Of(r), AtWithin: atWithin.Of(r), Meter: meter.Of(r), Material: material.Of(r),
	}
	if !at.Given(r) {
		m.AtUnknown, m.At, m.AtWithin = true, winding.Anywhere.Middle(), winding.Anywhere.HalfWidth()
	}
	return m
}

// readingOf is what a field's display showed; nil where it was not read.
func readingOf(field tool.MeasureField, r *tool.Record) *measure.Reading {
	if !field.Given(r) {
		return nil
	}
	v := field.Of(r)
	return &measure.Reading{Ohms: ohms(v.In), Over: v.Over}
}

// ownSpec reports whether a winding has limits of its own.
func ownSpec(w *tool.Record) bool { return rowMin.Given(w) || rowMax.Given(w) }

// specFor is the specification of a winding: its own, or the bank's; nil where there is none.
func specFor(r, w *tool.Record) *winding.Row {
	if ownSpec(w) {
		return limits(w, rowMin, rowMax, specAt)
	}
	if spec.Given(r) {
		return limits(spec.Of(r), spec.Min, spec.Max, spec.At)
	}
	return nil
}

func limits(g *tool.Record, min, max bench.OhmsField, at bench.TemperatureField) *winding.Row {
	row := &winding.Row{Band: measure.Everything(), At: at.Of(g)}
	if min.Given(g) {
		row.Band.Min = float64(min.Of(g))
	}
	if max.Given(g) {
		row.Band.Max = float64(max.Of(g))
	}
	if middle, ok := winding.Middle(row.Band); ok {
		row.Nominal = ohms(middle)
	}
	return row
}

// nameOf is a winding's name, or its number on the sheet.
func nameOf(w *tool.Record, i int, s *wording.Speaker) string {
	if n := strings.TrimSpace(rowName.Of(w)); n != "" {
		return n
	}
	return s.Say("sheet.row", strconv.Itoa(i+1))
}

// rowNamed returns the index of the winding that a pin is named after: by its name, or by its number; −1 for none.
func rowNamed(r *tool.Record, pin string, s *wording.Speaker) int {
	for i, w := range windings.Of(r) {
		if nameOf(w, i, s) == pin {
			return i
		}
	}
	for i, w := range windings.Of(r) {
		if n := nameOf(w, i, s); n == s.Say("sheet.row", pin) {
			return i
		}
	}
	return -1
}

// toCircuit returns a reading as the circuit tool takes it over, with its specification, temperature and place, and which winding it is.
func toCircuit(r, w *tool.Record, i int, base winding.Measurement) tool.Setting {
	read := readingOf(reading, w)
	if read == nil {
		return nil
	}
	test, value := "resistance_component", "OL"
	if place.Of(r) == winding.AtWinding {
		test = "resistance_winding"
	}
	if !read.Over {
		value = strconv.FormatFloat(float64(read.Ohms-base.Leads), 'g', 6, 64) + "ohm"
	}
	given := tool.Setting{"winding", cmp.Or(wording.OwnName(rowName.Of(w)), wording.RowName(i+1)), "readings.0.test", test,
		"readings.0.value", value}
	given = given.Set("readings.0.at", at.Plain(r)).Set("winding_temperature", at.Plain(r))
	switch {
	case rowMin.Given(w) && rowMax.Given(w):
		return append(given, bench.CarrySpec(w, rowMin, rowMax, specAt)...)
	case !ownSpec(w) && spec.Given(r) && spec.Min.Given(spec.Of(r)) && spec.Max.Given(spec.Of(r)):
		return append(given, bench.CarrySpec(spec.Of(r), spec.Min, spec.Max, spec.At)...)
	}
	return given
}
