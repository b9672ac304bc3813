// Package circuit is the tool that tells which part of a circuit is at fault, and what to measure next. It exports what
// the exercise shares, since that asks about the same circuit.
package circuit

import (
	"ohmwright/core/bench"
	"ohmwright/core/circuit"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

var (
	codeKind = tool.ChoiceOf(tool.Field{Name: "code_kind", Default: "none", Apart: "code_kind"}, []tool.Option[circuit.Code]{
		{Word: "none", Is: circuit.NoCode}, {Word: "low", Is: circuit.CodeLow}, {Word: "high", Is: circuit.CodeHigh},
		{Word: "open", Is: circuit.CodeOpen}, {Word: "range", Is: circuit.CodeRange}})
	test  = TestOf(tool.Field{Name: "test", Need: true})
	value = tool.ReadingOf(tool.Field{Name: "value", Need: true, Range: tool.Between(-1000, bench.MostOhms),
		Page: tool.Hints{Offer: []string{"ohm", "kohm", "Mohm", "V", "mV", "A", "mA"}}},
		quantity.OfResistance, quantity.OfVoltage, quantity.OfCurrent)
	readings = tool.ListOf(tool.Field{Name: "readings", Most: 1000, Apart: "readings", Page: tool.Hints{Pick: "test"}}, test, value)
)

// Tool tells which part of the circuit is at fault, and what to measure next.
var Tool = tool.New(tool.Tool{
	Name:    room,
	Words:   []wording.Words{{Language: "en", Entries: english}},
	Example: example,
	Slot:    "readings",
	Keeps:   []string{"side", "return", "spec", "minutes", "costs", "meter", "priors", "parameters", "nominal", "checks"},
	Fields:  tool.Declare(side, back, supply, spec, now, codeKind, readings, minutes, costs, meter, priors, parameters, nominal, checks),
}, tool.Way[question, circuit.Diagnosis, result]{Read: read, Find: find, Tell: tell, Lay: lay, Draft: draft})

// room is the name under which this tool's words are kept.
const room = "circuit"

const example = `{
  "side": "high", "return": "case", "supply": "13.8 V",
  "spec": {"min": "5.0 ohm", "max": "5.6 ohm", "at": "20 degC"}, "winding_temperature": "88 degC",
  "code_kind": "low",
  "readings": [
    {"test": "current_on", "value": "4.62 A"},
    {"test": "resistance_component", "value": "2.7 ohm"}
  ]
}`

// A question is what core/circuit is asked, and what else the answer tells or carries to other tools.
type question struct {
	circuit.Question
	spec       specified
	nowGiven   bool // the winding's temperature is given
	toExercise tool.Setting
	toDrive    tool.Setting
}

// A specified is the specification as printed, before it is moved to the winding's temperature.
type specified struct {
	min, max float64 // ohm
	at       quantity.Temperature
}

func find(q question) circuit.Diagnosis { return q.Diagnose() }

func read(r *tool.Record, f *tool.Faults) question {
	q := question{Question: circuit.Question{Model: Read(r, f)}, nowGiven: now.Given(r)}
	q.Code = codeKind.Of(r)
	q.Readings = readReadings(r, q.Model, f)
	s := spec.Of(r)
	q.spec = specified{float64(spec.Min.Of(s)), float64(spec.Max.Of(s)), spec.At.Of(s)}
	q.toExercise, q.toDrive = toExercise(r), toDrive(r)
	return q
}

// readReadings reads the readings. It checks that each test is possible on this circuit, and that the reading suits the test.
func readReadings(r *tool.Record, m *circuit.Model, f *tool.Faults) []circuit.Reading {
	rows := readings.Of(r)
	list := make([]circuit.Reading, len(rows))
	for i, row := range rows {
		t, v := test.Of(row), value.Of(row)
		list[i] = circuit.Reading{Test: t, Value: v.In, Over: v.Over}
		if !test.OK(row) {
			continue
		}
		if tool.OK(r, side, back) {
			CheckPossible(test, row, m, f)
		}
		checkReading(row, kindOf(t), f)
	}
	return list
}

const (
	leastReading = -1   // ohm, volt or ampere: meters may show a few counts below zero; anything lower is swapped leads
	mostReading  = 1000 // volt or ampere
)

// checkReading notes a fault if a reading is not of the quantity that its test measures, or is out of range.
func checkReading(row *tool.Record, want quantity.Kind, f *tool.Faults) {
	if !value.OK(row) {
		return
	}
	v, at, given := value.Of(row), value.Path(row), value.Raw(row)
	switch {
	case v.Over && want != quantity.OfResistance:
		wrong := tool.Fault{Field: at, Code: tool.WrongUnit, Given: given}
		f.Add(wrong, "over_limit_of", f.KindName(want), tool.SampleOf(want))
	case !v.Over && v.Kind != want:
		f.OtherKind(at, given, v.Kind, want)
	case v.In < leastReading:
		f.OutOf(at, given, "reversed", f.Speak.Of(want, v.In, 0))
	case want != quantity.OfResistance && v.In > mostReading:
		f.OutOf(at, given, "above", given, f.Speak.Of(want, mostReading, 0))
	default:
		return
	}
	value.Spoil(row)
}

// toExercise returns the circuit, as the exercise takes it over.
func toExercise(r *tool.Record) tool.Setting {
	given := tool.Setting{}
	if side.Given(r) {
		given = given.Set("side", side.Raw(r))
	}
	if back.Given(r) {
		given = given.Set("return", back.Raw(r))
	}
	given = given.Set("supply", supply.Plain(r)).Set("winding_temperature", now.Plain(r))
	return append(given, bench.CarrySpec(spec.Of(r), spec.Min, spec.Max, spec.At)...)
}

// toDrive returns what the drive tool takes over, except the winding's resistance.
func toDrive(r *tool.Record) tool.Setting {
	return tool.Setting{}.Set("at", spec.At.Plain(spec.Of(r))).Set("supply", supply.Plain(r)).Set("winding_temperature", now.Plain(r)).
		Set("side", side.Raw(r))
}
