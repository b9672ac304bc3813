// Package exercise is the circuit tool turned round: a fault is hidden, and the learner asks for readings, each of which
// costs its minutes. The learner's way is then marked against the way that the circuit tool would have gone.
package exercise

import (
	"ohmwright/core/bench"
	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/quantity"
	"ohmwright/core/spelling"
	"ohmwright/core/tool"
	setup "ohmwright/core/tools/circuit"
)

var (
	seed = tool.TextOf(tool.Field{Name: "seed", Need: true, Most: 64, Sample: "bench 4",
		Page: tool.Hints{Fresh: []string{"asked", "answer", "repair"}}})
	// From 2 on the seed counts in its plain spelling. Links without it were given out before.
	drawing = tool.WholeOf(tool.Field{Name: "drawing", Default: "2", Before: letters, Range: tool.Between(1, 2), Page: tool.Hints{Held: true}})
	level   = tool.ChoiceOf(tool.Field{Name: "level", Default: "2"}, tool.Named(lesson.Broken, lesson.Any, lesson.Partly))
	test    = setup.TestOf(tool.Field{Name: "test", Need: true, From: "circuit.readings.test"}, lesson.Tests)
	asked   = tool.ListOf(tool.Field{Name: "asked", Most: 100, Apart: "asked", Page: tool.Hints{Pick: "test", Stays: true}}, test)
	answer  = tool.ChoiceOf(tool.Field{Name: "answer", Page: tool.Hints{Slot: true, Held: true, Stays: true}}, repairs)
	// What is chosen, and not decided yet.
	repair  = tool.ChoiceOf(tool.Field{Name: "repair", Label: "answer", Page: tool.Hints{Held: true}}, repairs)
	repairs = tool.Named(setup.Each[circuit.Repair](lesson.Repairs)...)
)

// scenario is the circuit if the request does not give one. It is invented.
var scenario = map[string]string{
	"side": "high", "supply": "13.8 V", "winding_temperature": "20 degC",
	"spec.min": "5.0 ohm", "spec.max": "5.6 ohm", "spec.at": "20 degC",
}

// Tool hides a fault, gives the readings asked for, and marks the answer.
var Tool = tool.New(tool.Tool{
	Name:    "exercise",
	Example: example,
	Slot:    "asked",
	Jobless: true,
	Fields: append(tool.Declare(seed, level, drawing, asked, answer, repair),
		setup.Setup(lesson.Faults, lesson.Tests, lesson.Repairs, scenario)...),
}, tool.Way[question, finding, *result]{Read: read, Find: find, Tell: tell, Lay: lay, Draft: draft})

const example = `{"seed": "bench 4", "side": "high", "return": "case", ` +
	`"asked": [{"test": "current_on"}, {"test": "insulation_harness"}], "answer": "harness"}`

// A question is an exercise, and what is chosen in it without being decided.
type question struct {
	lesson.Question
	chosen string
}

// A finding is what the learner sees; nothing but the stop where there is one.
type finding struct {
	lesson.Finding
	stop bench.Stop
}

func find(q question) finding {
	if stop := stopOf(q); stop != "" {
		return finding{stop: stop}
	}
	return finding{Finding: q.Find()}
}

// stopOf returns the stop of the supply, also of an exercise: nobody should practise there what must not be done.
func stopOf(q question) bench.Stop { return bench.HighVoltage(quantity.Voltage(q.Model.Supply)) }

// letters returns the first way of drawing for a name that is not in plain spelling: it was taken letter by letter. A plain name hides the
// same in both.
func letters(given map[string]string) string {
	if name := given["seed"]; spelling.Plain(name) != name {
		return "1"
	}
	return ""
}

// seedOf returns what the fault is drawn by: the text that was given, in whatever spelling.
func seedOf(r *tool.Record, f *tool.Faults) string {
	text := seed.Of(r)
	if !seed.OK(r) || !drawing.OK(r) || drawing.Of(r) == 1 {
		return text
	}
	plain := spelling.Plain(text)
	if plain == "" {
		f.Add(tool.Fault{Field: "seed", Code: tool.Missing, Given: seed.Raw(r)}, "missing", f.Label("seed"), seed.Sample)
		seed.Spoil(r)
	}
	return plain
}

func read(r *tool.Record, f *tool.Faults) question {
	q := question{lesson.Question{Model: setup.Read(r, f), Seed: seedOf(r, f), Level: level.Of(r)}, repair.Raw(r)}
	var seen [circuit.Tests]bool
	for _, row := range asked.Of(r) {
		setup.CheckPossible(test, r, row, q.Model, f)
		if t := test.Of(row); test.OK(row) && !seen[t] {
			seen[t] = true
			q.Asked = append(q.Asked, t)
		}
	}
	if answer.Given(r) {
		decided := answer.Of(r)
		q.Answer = &decided
	}
	return q
}
