package exercise

import "ohmwright/core/wording"

// Words returns the tool's words in each language.
func Words() []wording.Words {
	return []wording.Words{
		{Language: "en", Entries: english}, {Language: "de", Entries: de}, {Language: "es", Entries: es}, {Language: "fr", Entries: fr},
	}
}

// english are the words of this tool.
var english = []wording.Entry{
	{"title", "Exercise"},
	{"purpose", "A hidden fault in a circuit: ask for readings, pay their minutes, name the repair, and be marked beside the " +
		"best known way."},
	{"seed", "Name of the exercise"},
	{"seed.how", "Any text: the same text hides the same fault for everyone. Share the link to set it as homework."},
	{"asked", "Readings asked for"},
	{"asked.how", "Tap a point of the circuit: its reading appears, and its minutes are paid. What a healthy circuit would read " +
		"stands beside it."},
	{"answer", "Your decision"},
	{"answer.how", "What would you replace or mend? Once named, what was hidden is told."},
	{"answer=nothing", "nothing"},
	{"answer=component", "the component"},
	{"answer=harness", "the harness"},
	{"answer=return_path", "the return path"},
	{"answer=control_unit", "the control unit"},
	{"word.hidden", "What is wrong here?"},
	{"word.found", "Found"},
	{"word.missed", "Not that one"},
	{"headline.hidden", "%[1]s min paid · %[2]s"},
	{"headline.reading", "%[1]s · %[2]s · %[3]s"},
	{"answer.choose", "What would you replace or mend?"},
	{"lacks.repair", "Choose one, then decide. Once decided, what was hidden is told."},
	{"decide", "Decide: this is marked"},
	{"decide.once", "The first decision counts: it cannot be taken back."},
	{"headline.marked", "%[1]s of 100 · supported: %[2]s"},
	{"why.hidden", "The control unit has stored: %s. There may be no fault at all. Ask for as few readings as it takes."},
	{"code", "code %s"},
	{"no_code", "no code"},
	{"reading", "%[1]s: %[2]s (if all is well %[3]s), %[4]s min"},
	{"drawn.caption", "Tap a point below a part to ask for its reading."},
	{"found", "The hidden fault: %[1]s. The repair: %[2]s."},
	{"best", "The way that is best on average took %[1]s min here and cost %[2]s; yours cost %[3]s. From the code and its own " +
		"readings alone, it went:"},
	{"best.right", "Repair: %s. That was right."},
	{"best.wrong", "Repair: %s. That was wrong this time: what is best on average can miss."},
	{"step.cost", "What your way cost"},
	{"step.score", "Marks: right, supported, minutes beside the best known way and all there are"},
	{"step.supported", "How far your readings support the repair"},
	{"source.bayes_chain", "the circuit question, with the faults of the chain alone"},
	{"source.own_marks", "this project's own way to mark"},
	{"result.overall", "How it stands: hidden before an answer, then found or missed; or stop."},
	{"result.stop", "high_voltage where the supply is above 60 V: no exercise; left out where there is none."},
	{"result.code_kind", "The kind of code that the control unit stored; empty for none."},
	{"result.readings", "The readings asked for."},
	{"result.readings.test", "The test."},
	{"result.readings.value", "What it reads."},
	{"result.readings.over", "OL."},
	{"result.readings.minutes", "What it takes."},
	{"result.readings.expected", "Where 95 of 100 readings of a healthy circuit lie."},
	{"result.readings.expected.min", "From."},
	{"result.readings.expected.max", "To."},
	{"result.readings.expected.over", "OL."},
	{"result.readings.expected.word", "The word, of a test that is read in words; none is in an exercise."},
	{"result.minutes", "Minutes paid."},
	{"result.found", "What was hidden: told once an answer is given."},
	{"result.found.right", "Whether the repair named is the one."},
	{"result.found.fault", "The fault."},
	{"result.found.repair", "What mends it."},
	{"result.found.cost", "Minutes at the hourly rate, and a repair in vain."},
	{"result.found.best", "The way that the circuit question goes."},
	{"result.found.best.tests", "Its tests, in order."},
	{"result.found.best.repair", "Its repair."},
	{"result.found.best.right", "Whether that is the one."},
	{"result.found.best.minutes", "Its minutes."},
	{"result.found.best.cost", "Its cost."},
	{"result.found.score", "Marks of 100: the right repair, supported by the readings, in few minutes. Without a reading a third at most."},
	{"result.found.supported", "Probability of the repair named, given the readings asked for."},
	{"hand", "A hidden fault"},
	{"hand.why", "Practise alone: ask for readings, pay minutes, find it."},
	{"fine", "The circuit, minutes, costs, assumptions"},
}
