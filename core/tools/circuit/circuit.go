// Package circuit is the tool that tells which part of a circuit is at fault, and what to measure next. It exports what
// the exercise shares, since that asks about the same circuit.
package circuit

import (
	"cmp"
	"slices"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/circuit"
	"ohmwright/core/diagnosis"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// The fields that only this tool has: what was found out of the circuit, and the readings.
var (
	codeKinds = []tool.Option[circuit.Code]{
		{Word: "none", Is: circuit.NoCode}, {Word: "low", Is: circuit.CodeLow}, {Word: "high", Is: circuit.CodeHigh},
		{Word: "open", Is: circuit.CodeOpen}, {Word: "range", Is: circuit.CodeRange}}
	codeKind = tool.ChoiceOf(tool.Field{Name: "code_kind", Fact: "code_kind", Default: "none", Apart: "code_kind"}, codeKinds)
	present  = tool.ChoiceOf(tool.Field{Name: "fault_present", Fact: "fault_present", Default: "unknown", Apart: "fault_present"},
		tool.Named(circuit.Shows, circuit.ShowsNot, circuit.MayShow))
	stage   = bench.DriverKind("kind", "", tool.Named(Each[circuit.Stage](circuit.Stages)...))
	setAmps = tool.QuantityOf[amperes](tool.Field{Name: "at", Range: bench.Currents, Page: tool.Hints{Offer: bench.Amperes}})
	driver  = tool.GroupOf(tool.Field{Name: "driver", Fact: "driver", Apart: "driver"}, stage, setAmps)

	test  = TestOf(tool.Field{Name: "test", Need: true}, circuit.Tests)
	value = tool.ReadingOf(tool.Field{Name: "value", Need: true, Range: tool.Between(-1000, bench.MostOhms),
		Spoken: []string{circuit.Steady.String(), circuit.Jumps.String(), circuit.Yes.String(), circuit.No.String()},
		Page:   tool.Hints{Offer: []string{"ohm", "kohm", "Mohm", "V", "mV", "A", "mA", "degC", "degF"}},
		Taken:  taken},
		quantity.OfResistance, quantity.OfVoltage, quantity.OfCurrent, quantity.OfTemperature)
	ownSupply = tool.QuantityOf[volts](tool.Field{Name: "supply", Range: tool.Over(0, 1000),
		Page: tool.Hints{Fine: true, Offer: bench.Volts}})
	ownAt    = temperature(tool.Field{Name: "at", Page: fine})
	aside    = tool.TextOf(tool.Field{Name: "aside", Most: 60, Page: held})
	readings = tool.ListOf(tool.Field{Name: "readings", Most: 1000, Apart: "readings", Page: tool.Hints{Pick: "test"}},
		test, value, ownSupply, ownAt, aside)

	// Which of several windings the circuit is of, where one was taken from a bench sheet; "" for a circuit that has no name. A reading with
	// "aside" was taken on the winding named there: it is kept, and does not count. What else was put aside with those is in "others".
	about  = tool.TextOf(tool.Field{Name: "winding", Most: 60, Page: held})
	others = tool.ListOf(tool.Field{Name: "others", Most: 60, Apart: "others", Page: held},
		tool.TextOf(tool.Field{Name: "name", Most: 60, Label: "winding"}),
		tool.QuantityOf[ohms](tool.Field{Name: "min", Range: coils, Label: "spec.min", Page: tool.Hints{Offer: bench.Ohms}}),
		tool.QuantityOf[ohms](tool.Field{Name: "max", Range: coils, Label: "spec.max", Page: tool.Hints{UnitFrom: "min"}}),
		temperature(tool.Field{Name: "at", Label: "spec.at"}),
		tool.ChoiceOf(tool.Field{Name: "code_kind", Label: "code_kind", Default: "none"}, codeKinds))

	supplyWithin = tool.QuantityOf[volts](tool.Field{Name: "supply_within", Fact: "supply_within", Default: plain(circuit.SupplyWithin) + " V",
		Range: tool.Between(0, 1000), Page: tool.Hints{Fine: true, Offer: []string{"V", "mV"}}})
	// At most so wide that copper still has a resistance at the cold end.
	nowWithin = tool.QuantityOf[kelvins](tool.Field{Name: "winding_temperature_within", Fact: "winding_temperature_within",
		Default: plain(circuit.WarmthWithin) + " K",
		Range:   tool.Between(0, 130), Page: tool.Hints{Fine: true, Offer: bench.Kelvins}})
	// The row that a known good part settled, as the winding tool hands it on. It counts as long as it is the row in "spec".
	settled = bench.SpecOf(tool.Field{Name: "settled", Fact: "settled", Apart: "settled", Page: tool.Hints{Held: true}},
		tool.QuantityOf[ohms](tool.Field{Name: "min", Range: coils}), tool.QuantityOf[ohms](tool.Field{Name: "max", Range: coils}),
		temperature(tool.Field{Name: "at", Default: "20 degC"}))
	innerHarness = tool.ChoiceOf(tool.Field{Name: "inner_harness", Fact: "inner_harness", Default: "part", Page: fine},
		[]tool.Option[bool]{{Word: "part", Is: false}, {Word: "apart", Is: true}})
)

// Tool tells which part of the circuit is at fault, and what to measure next.
var Tool = tool.New(tool.Tool{
	Name:    room,
	Example: example,
	Slot:    "readings",
	Keeps: []string{"side", "return", "spec", "driver", "inner_harness", "minutes", "costs", "meter", "priors", "parameters", "nominal",
		"checks"},
	About: about.Name,
	Fields: tool.Declare(side, back, supply, spec, now, codeKind, present, driver, about, readings, others, settled, supplyWithin, nowWithin,
		innerHarness, minutes, costs, meter, priors, parameters, nominal, checks),
}, tool.Way[question, finding, *result]{Read: read, Haste: haste, Find: find, Tell: tell, Lay: lay, Draft: draft})

// room is the name under which this tool's words are kept.
const room = "circuit"

const example = `{
  "side": "high", "return": "case", "supply": "13.8 V",
  "spec": {"min": "5.0 ohm", "max": "5.6 ohm", "at": "20 degC"}, "winding_temperature": "88 degC",
  "code_kind": "low",
  "readings": [
    {"test": "current_on", "value": "4.62 A"},
    {"test": "resistance_component", "value": "2.7 ohm"},
    {"test": "row_applies", "value": "yes"},
    {"test": "winding_temperature", "value": "86 degC"}
  ]
}`

// taken tells how a reading was taken: its row's own supply and temperature come before those of the circuit. Where it was taken is what
// its test says.
func taken(request, row *tool.Record, kind quantity.Kind) tool.How {
	h := tool.How{What: test.Sound(row), Name: ofWinding(request, row), At: cmp.Or(ownAt.Sound(row), now.Sound(request)),
		Supply: cmp.Or(ownSupply.Sound(row), supply.Sound(request))}
	g := meter.Of(request)
	switch kind {
	case quantity.OfResistance:
		h.Meter = meters[circuit.Ohms].Told(g)
	case quantity.OfVoltage:
		h.Meter = meters[circuit.Volts].Told(g)
	case quantity.OfCurrent:
		h.Meter = meters[circuit.Amperes].Told(g)
	}
	return h
}

// ofWinding returns the name of the winding whose circuit a reading is of. The row of the specification is no winding's own.
func ofWinding(request, row *tool.Record) string {
	name := cmp.Or(aside.Sound(row), about.Sound(request))
	if name == wording.Nameless || test.Sound(row) == circuit.RowApplies.String() {
		return ""
	}
	return name
}

// A question is what core/circuit is asked, and what else the answer carries to other tools.
type question struct {
	diagnosis.Question
	winding    string   // which it is, if it has a name
	aside      []string // the windings whose readings are put aside
	settled    bool     // the last reading, that the row applies, was none: a known good part settled it
	toExercise tool.Setting
	toDrive    tool.Setting
	hasty      bool // what the outcomes of the next test would mean is left out, and two faults at once
}

// A finding is what the readings say; nothing but the stop where there is one.
type finding struct {
	diagnosis.Diagnosis
	stop bench.Stop
}

// haste leaves out what the outcomes of the next test would mean, and two faults that together explain the readings.
func haste(q question) question {
	q.hasty = true
	return q
}

func find(q question) finding {
	if stop := q.stop(); stop != "" {
		return finding{stop: stop}
	}
	if q.hasty {
		return finding{Diagnosis: q.Judge()}
	}
	return finding{Diagnosis: q.Diagnose()}
}

// stop returns the stop of the supplies that are given or were measured.
func (q question) stop() bench.Stop {
	supplies := []volts{volts(q.Supply)}
	for _, r := range q.Readings {
		supplies = append(supplies, volts(r.Supply))
		if r.Test == circuit.SupplyDriven {
			supplies = append(supplies, volts(r.Value))
		}
	}
	return bench.HighVoltage(supplies...)
}

func read(r *tool.Record, f *tool.Faults) question {
	q := question{Question: diagnosis.Question{Model: Read(r, f)}}
	q.SupplyWithin, q.Warmth.Within = float64(supplyWithin.Of(r)), nowWithin.Of(r)
	q.Code, q.Present, q.InnerApart = codeKind.Of(r), present.Of(r), innerHarness.Of(r)
	readDriver(r, q.Model, f)
	q.Readings = readReadings(r, q.Model, f)
	q.winding, q.aside = about.Sound(r), putAside(r)
	if q.settled = rowSettled(r, q.Readings); q.settled {
		q.Readings = append(q.Readings, circuit.Reading{Test: circuit.RowApplies, Word: circuit.Yes})
	}
	q.toExercise, q.toDrive = toExercise(r), toDrive(r)
	return q
}

// rowSettled reports whether a known good part settled that the row in "spec" applies, and nobody looked it up.
func rowSettled(r *tool.Record, list []circuit.Reading) bool {
	if slices.ContainsFunc(list, func(one circuit.Reading) bool { return one.Test == circuit.RowApplies }) {
		return false
	}
	own, of := settled.Of(r), spec.Of(r)
	return settled.Min.Given(own) && settled.Max.Given(own) && tool.OK(own, settled.Min, settled.Max, settled.At) &&
		settled.Min.Of(own) == spec.Min.Of(of) && settled.Max.Of(own) == spec.Max.Of(of) && settled.At.Of(own) == spec.At.Of(of)
}

// readDriver reads what the driver does when its current grows. Only one that holds a current, or may, has a current to hold.
func readDriver(r *tool.Record, m *circuit.Model, f *tool.Faults) {
	g := driver.Of(r)
	m.Stage, m.Set = stage.Of(g), float64(setAmps.Of(g))
	if setAmps.Given(g) && (m.Stage == circuit.Plain || m.Stage == circuit.Protected) {
		f.Conflict(setAmps.Path(g), setAmps.Raw(g), "set_current")
	}
}

// readReadings reads the readings. It checks that each test is possible on this circuit, and that the reading suits the test.
func readReadings(r *tool.Record, m *circuit.Model, f *tool.Faults) []circuit.Reading {
	list := []circuit.Reading{}
	for _, row := range readings.Of(r) {
		if aside.Sound(row) != "" {
			continue
		}
		v := value.Of(row)
		one := circuit.Reading{Test: test.Of(row), Value: v.In, Over: v.Over, Supply: float64(ownSupply.Of(row))}
		if ownAt.Given(row) {
			at := ownAt.Of(row)
			one.At = &at
		}
		if test.OK(row) {
			CheckPossible(test, r, row, m, f)
			one.Word = checkReading(row, one.Test, f)
		}
		list = append(list, one)
	}
	return list
}

// putAside returns the windings whose readings are put aside, each once, in their order.
func putAside(r *tool.Record) (names []string) {
	for _, row := range readings.Of(r) {
		if name := aside.Sound(row); name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

const (
	leastReading = -1   // ohm, volt or ampere: meters may show a few counts below zero; anything lower is swapped leads
	mostReading  = 1000 // volt or ampere
)

// checkReading notes a fault if a reading is not of the quantity that its test measures, or is out of range. It returns the
// reading of a test that is read in words.
func checkReading(row *tool.Record, t circuit.Test, f *tool.Faults) circuit.Word {
	v, given := value.Of(row), value.Raw(row)
	wrong := tool.Fault{Field: value.Path(row), Code: tool.Missing, Given: given}
	if words := t.Quantity().Words(); words != nil {
		return checkWord(row, words, wrong, f)
	}
	want := kindOf(t)
	switch {
	case !value.Given(row):
		f.Instead(wrong, "missing", f.Label(wrong.Field), f.Sample(want))
	case !value.OK(row):
		return circuit.NoWord
	case v.Word != "":
		wrong.Code = tool.Syntax
		f.Add(wrong, "syntax", given, f.KindName(want), f.Sample(want))
	case v.Over && want != quantity.OfResistance:
		wrong.Code = tool.WrongUnit
		f.Add(wrong, "over_limit_of", f.KindName(want), f.Sample(want))
	case !v.Over && v.Kind != want:
		f.OtherKind(wrong.Field, given, v.Kind, want)
	default:
		checkSize(row, want, f)
		return circuit.NoWord
	}
	value.Spoil(row)
	return circuit.NoWord
}

// checkWord notes a fault if a reading is none of the words in which its test is read.
func checkWord(row *tool.Record, words []circuit.Word, wrong tool.Fault, f *tool.Faults) circuit.Word {
	said := value.Of(row).Word
	list := make([]string, len(words))
	for i, w := range words {
		if list[i] = w.String(); value.OK(row) && list[i] == said {
			return w
		}
	}
	if strings.TrimSpace(wrong.Given) == "" {
		f.Instead(wrong, "missing", f.Label(wrong.Field), list[0])
	} else {
		wrong.Code = tool.Unknown
		f.Instead(wrong, "no_word", quantity.Clip(wrong.Given), strings.Join(list, ", "))
	}
	value.Spoil(row)
	return circuit.NoWord
}

// checkSize notes a fault if a reading of the right kind is out of range.
func checkSize(row *tool.Record, k quantity.Kind, f *tool.Faults) {
	least, most, low := float64(leastReading), float64(mostReading), "reversed"
	if test.Of(row) == circuit.VoltsUnitGround { // a freewheeling current drawn through a bad ground pulls it below battery negative
		least = -mostReading
	}
	switch k {
	case quantity.OfResistance:
		most = bench.MostOhms
	case quantity.OfTemperature:
		least, most, low = coilTemperatures.Min, coilTemperatures.Max, "below"
	}
	v, at, given := value.Of(row), value.Path(row), value.Raw(row)
	switch {
	case v.Over:
		return
	case v.In < least && low == "reversed":
		f.OutOf(at, given, low, f.Speak.Of(k, v.In, 0))
	case v.In < least:
		f.OutOf(at, given, low, given, f.Speak.Of(k, least, 0))
	case v.In > most:
		f.OutOf(at, given, "above", given, f.Speak.Of(k, most, 0))
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
