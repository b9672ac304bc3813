package tool

import (
	"encoding/json"
	"strconv"

	"ohmwright/core/sheet"
)

// carry is a button that takes what was found over to another tool: flat keys of its request and their plain texts. A row is
// added to those that are there.
func (a *Answer) carry(to, words string, given map[string]string) *sheet.Element {
	b, err := json.Marshal(given)
	if err != nil {
		panic(err) // texts always marshal
	}
	return sheet.New("p class=carry").With(sheet.New("button type=button class=wide data-carry=? data-given=?", to, string(b)).Say(a.Speak.Say(words)))
}

// plainOf adds a field to what is carried, under another key, as it was given or is by default; nothing where there is neither.
func (r *Record) plainOf(name string, given map[string]string, key string) {
	if s := r.at(name); s.ok && s.plain != "" {
		given[key] = s.plain
	}
}

// carrySpec adds the limits of a specification and the temperature that they hold at.
func (r *Record) carrySpec(given map[string]string) {
	for _, name := range []string{"min", "max", "at"} {
		r.plainOf(name, given, "spec."+name)
	}
}

// carryWinding is a resistance reading for the circuit question, with the first row that has both limits; nil where several
// windings were read at once, which is no reading of one circuit.
func (a *Answer) carryWinding(r *Record) *sheet.Element {
	if r.Group("arrangement") != nil {
		return nil
	}
	given := map[string]string{"readings.0.test": map[string]string{
		"winding": "resistance_winding", "component_connector": "resistance_component", "control_unit": "resistance_unit",
	}[r.Text("measured_at")]}
	given["readings.0.value"] = "OL"
	if !r.Over("reading") {
		given["readings.0.value"] = strconv.FormatFloat(r.Value("reading")-r.Value("leads"), 'g', 6, 64) + "ohm"
	}
	for _, row := range r.Rows("specs") {
		if row.Given("min") && row.Given("max") && !row.Given("valid_from") && !row.Given("valid_to") {
			row.carrySpec(given)
			break
		}
	}
	r.plainOf("at", given, "winding_temperature")
	r.plainOf("supply", given, "supply")
	return a.carry("circuit", "sheet.carry", given)
}

// carryLoop is the current of a loaded test for the circuit question.
func (a *Answer) carryLoop(r *Record) *sheet.Element {
	given := map[string]string{"readings.0.test": "current_on"}
	r.plainOf("current", given, "readings.0.value")
	r.plainOf("supply", given, "supply")
	// What is not given is not left to what stands in the other form.
	r.plainOf("at", given, "winding_temperature")
	if r.Given("spec") {
		spec := r.Group("spec")
		spec.carrySpec(given)
		spec.plainOf("at", given, "winding_temperature")
	}
	r.plainOf("winding_temperature", given, "winding_temperature")
	return a.carry("circuit", "sheet.carry", given)
}

// carryPulsed is the winding for the question what a pulsed drive gives: its resistance, the field that it holds at, and what else
// both questions ask. Nil where there is no resistance.
func (a *Answer) carryPulsed(r *Record, resistance float64, at *Record) *sheet.Element {
	if resistance <= 0 {
		return nil
	}
	given := map[string]string{"resistance": strconv.FormatFloat(resistance, 'g', 4, 64) + "ohm"}
	at.plainOf("at", given, "at")
	for _, name := range []string{"supply", "driver_limit", "winding_temperature"} {
		if indexOf(r.fields, name) >= 0 {
			r.plainOf(name, given, name)
		}
	}
	if r == at {
		r.plainOf("at", given, "winding_temperature")
	}
	if indexOf(r.fields, "side") >= 0 {
		given["side"] = r.Text("side")
	}
	return a.carry("drive", "sheet.carry.drive", given)
}
