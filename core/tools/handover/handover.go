// Package handover is the tool for the end of a job: what was complained of, found and done, what was measured, what is still to do, on
// one page to print.
package handover

import (
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/handover"
	"ohmwright/core/job"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
)

var (
	held = tool.Hints{Held: true}
	fine = tool.Hints{Fine: true}
)

// The parts of the form, in the order of the work. Each is folded until it is tapped; its line says what is in it.
var (
	ofVehicle = tool.Hints{Part: "vehicle"}
	ofFound   = tool.Hints{Part: "found"}
	ofBack    = tool.Hints{Part: "back"}
	ofChecks  = tool.Hints{Part: "checks"}
	ofHanding = tool.Hints{Part: "handing"}
)

// The fields that say which vehicle, what was complained of, found and done.
var (
	vehicle     = fact("vehicle")
	tag         = fact("tag")
	odometer    = fact("odometer")
	complaint   = lines("complaint", "complaint", ofVehicle)
	code        = fact("code")
	failureType = fact("failure_type")
	moreCode    = text("code", 40)
	moreType    = text("failure_type", 20)
	codes       = tool.ListOf(tool.Field{Name: "codes", Most: 20, Page: fine}, moreCode, moreType)
	supply      = tool.QuantityOf[quantity.Voltage](tool.Field{Name: "supply", Range: bench.Voltages, Fact: "supply",
		Page: tool.Hints{Offer: bench.Volts, Fine: true}})
	cause      = lines("cause", "", ofFound)
	repair     = lines("repair", "", ofFound)
	partName   = text("name", 120)
	partNumber = text("number", 60)
	parts      = tool.ListOf(tool.Field{Name: "parts", Most: 40, Page: ofFound}, partName, partNumber)
	who        = fact("who")
	date       = tool.TextOf(tool.Field{Name: "date", Most: 40, Page: ofHanding})
)

// The fields of what comes from the job's entries. The page keeps them; nobody types them.
var (
	from      = kept("tool", 40)
	what      = kept("what", 200)
	name      = kept("name", mostText)
	place     = kept("place", 200)
	value     = kept("value", mostText)
	at        = kept("at", mostText)
	ownSupply = kept("supply", mostText)
	meter     = kept("meter", mostText)
	offLeads  = kept("leads", mostText) // taken off what the meter showed
	when      = kept("when", 30)
	by        = kept("who", mostText)
	corrected = tool.ChoiceOf(tool.Field{Name: "corrected", Default: "no", Label: "kept.corrected"},
		tool.Words("no", "yes", "withdrawn"))
	asTool   = kept("as_tool", 40)  // another tool took the reading over
	asWhat   = kept("as_what", 200) // and has it under this name
	verdict  = kept("verdict", 200)
	said     = kept("said", mostText)
	test     = kept("test", 200)
	readings = tool.ListOf(tool.Field{Name: "readings", Most: job.MostEntries, Page: held},
		from, what, name, place, value, at, ownSupply, meter, offLeads, when, by, corrected, asTool, asWhat)
	answers = tool.ListOf(tool.Field{Name: "answers", Most: 40, Page: held}, from, verdict, said, when, by)
	steps   = tool.ListOf(tool.Field{Name: "steps", Most: job.MostEntries, Page: held}, what, said, when, by)
	notMade = tool.ListOf(tool.Field{Name: "not_made", Most: 40, Page: held}, from, test)

	// The link of the circuit's answer, which is drawn in the record.
	drawn = tool.TextOf(tool.Field{Name: "drawn", Most: 16 << 10, Page: tool.Hints{Held: true, Lines: true}})

	// The rows of the specification by which the readings were judged, as typed.
	rowMin    = kept("min", mostText)
	rowMax    = kept("max", mostText)
	nominal   = kept("nominal", mostText)
	tolerance = kept("tolerance", mostText)
	validFrom = kept("valid_from", mostText)
	validTo   = kept("valid_to", mostText)
	appliesTo = kept("applies_to", mostText)
	source    = kept("source", mostText)
	applies   = tool.ChoiceOf(tool.Field{Name: "applies", Default: "no", Label: "kept.applies"}, tool.Words("no", "yes"))
	settled   = tool.ChoiceOf(tool.Field{Name: "settled", Default: "no", Label: "kept.settled"}, tool.Words("no", "yes"))
	judgedBy  = tool.ListOf(tool.Field{Name: "judged_by", Most: 200, Page: held},
		name, rowMin, rowMax, nominal, tolerance, at, validFrom, validTo, appliesTo, source, applies, settled)
)

// mostText is the most bytes of a text of an entry: as much as the job's document holds.
const mostText = 4 << 10

// The fields of the work: what came off and went back, torque, the new part, codes, fluid, relearn, road test.
var (
	off     = counted("off", "count.off")
	on      = counted("on", "count.on")
	clicked = counted("on", "count.clicked")
	length  = tool.QuantityOf[quantity.Length](tool.Field{Name: "length", Range: tool.Over(0, 5000),
		Page: tool.Hints{Offer: []string{"mm", "in"}}})
	bolts = tool.ListOf(tool.Field{Name: "bolts", Most: 20, Page: ofBack}, length, off, on)
	tubes = tool.GroupOf(tool.Field{Name: "tubes", Page: ofBack}, off, on)
	seals = tool.GroupOf(tool.Field{Name: "seals", Page: ofBack}, off, on)
	plugs = tool.GroupOf(tool.Field{Name: "plugs", Page: ofBack}, off, clicked)

	torqueOf = text("of", 120)
	torque   = tool.QuantityOf[quantity.Torque](tool.Field{Name: "set", Range: tool.Over(0, 1e5),
		Page: tool.Hints{Offer: []string{"N.m", "lbf.ft", "lbf.in"}}})
	wrench  = text("wrench", 120)
	torquer = text("who", 120)
	torques = tool.ListOf(tool.Field{Name: "torques", Most: 20, Page: ofBack}, torqueOf, torque, wrench, torquer)

	newReading = tool.ReadingOf(tool.Field{Name: "reading", Range: bench.Resistances, Taken: newTaken,
		Page: tool.Hints{Offer: []string{"ohm", "kohm"}}}, quantity.OfResistance)
	newAt   = bench.Temperature(tool.Field{Name: "at"})
	newPart = tool.GroupOf(tool.Field{Name: "new_part", Page: ofFound}, newReading, newAt)

	cleared  = state("cleared", handover.Done, handover.NotDone, handover.NotNeeded)
	reread   = state("reread", handover.Clear, handover.CameBack)
	fluid    = tool.TextOf(tool.Field{Name: "fluid", Most: 200, Page: ofChecks})
	relearn  = state("relearn", handover.Done, handover.NotNeeded, handover.Open)
	learnt   = tool.TextOf(tool.Field{Name: "relearn_by", Most: 120, Page: ofChecks})
	road     = state("road_test", handover.Gone, handover.Shows, handover.NotDone)
	customer = lines("customer", "", ofHanding)
	toDo     = lines("to_do", "", ofHanding)
)

func newTaken(_, own *tool.Record, _ quantity.Kind) tool.How { return tool.How{At: newAt.Sound(own)} }

// fact declares a text that is a fact of the job.
func fact(name string) tool.TextField {
	return tool.TextOf(tool.Field{Name: name, Most: 200, Fact: name, Page: ofVehicle})
}

func text(name string, most int) tool.TextField {
	return tool.TextOf(tool.Field{Name: name, Most: most})
}

// kept declares a text of an entry; all of its name share one label.
func kept(name string, most int) tool.TextField {
	return tool.TextOf(tool.Field{Name: name, Most: most, Label: "kept." + name})
}

func counted(name, label string) tool.WholeField {
	return tool.WholeOf(tool.Field{Name: name, Range: tool.Between(0, 999), Label: label})
}

// lines declares a text of several lines in a part of the form.
func lines(name, fact string, of tool.Hints) tool.TextField {
	of.Lines = true
	return tool.TextOf(tool.Field{Name: name, Most: 2000, Fact: fact, Page: of})
}

// state declares a choice of how far something is; left out, it is not recorded.
func state(name string, states ...handover.State) tool.ChoiceField[handover.State] {
	return tool.ChoiceOf(tool.Field{Name: name, Default: string(handover.NotRecorded), Step: true, Page: ofChecks},
		tool.Words(append([]handover.State{handover.NotRecorded}, states...)...))
}

// Tool is the record of a job, for the handover.
var Tool = tool.New(tool.Tool{
	Name:    "handover",
	Example: example,
	Mind:    "before",
	Most:    1 << 20, // the readings of a long job
	Record:  true,
	Fields: tool.Declare(vehicle, tag, odometer, complaint, code, failureType, who, cause, repair, parts, newPart, bolts, tubes, seals, plugs,
		torques, fluid, cleared, relearn, learnt, road, reread, customer, toDo, date, codes, supply, readings, answers, steps, notMade, drawn,
		judgedBy),
}, tool.Way[question, handover.Finding, *result]{Read: read, Find: find, Tell: tell, Lay: lay})

// A question is what the record is looked through for, and what it says.
type question struct {
	handover.Question
	r record
}

func find(q question) handover.Finding { return q.Question.Find() }

func read(r *tool.Record, f *tool.Faults) question {
	q := question{r: recordOf(r, f)}
	q.Cleared, q.Reread, q.Relearn, q.Road = cleared.Of(r), reread.Of(r), relearn.Of(r), road.Of(r)
	q.ToDo = q.r.toDo != ""
	for i, row := range bolts.Of(r) {
		q.Counts = append(q.Counts, handover.Count{Part: handover.Bolts, Row: i, Off: count(off, row), On: count(on, row)})
	}
	for _, g := range []struct {
		part handover.Part
		tool.GroupField
	}{{handover.Tubes, tubes}, {handover.Seals, seals}, {handover.Plugs, plugs}} {
		if g.Given(r) {
			q.Counts = append(q.Counts, handover.Count{Part: g.part, Off: count(off, g.Of(r)), On: count(on, g.Of(r))})
		}
	}
	q.Recorded = q.r.recorded(q.Question)
	return q
}

// count returns a count that was made; nil otherwise.
func count(field tool.WholeField, r *tool.Record) *int {
	if !field.Given(r) || !field.OK(r) {
		return nil
	}
	n := field.Of(r)
	return &n
}

func trimmed(field tool.TextField, r *tool.Record) string { return strings.TrimSpace(field.Of(r)) }
