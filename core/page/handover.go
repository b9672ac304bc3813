package page

import (
	"cmp"
	"slices"
	"strconv"

	"ohmwright/core/job"
	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// handover is the tool that a record is for. What was read there is in its own form, and so not in the record that it takes over; when a
// step was made is only in the record.
const handover = "handover"

// Record returns what the handover takes from a job's entries, under the flat keys of its form: every reading with what became of it, the
// last answer of each tool, or of each thing that it was asked about, and the rows of the specification that it rests on, the circuit's
// answer to be drawn, what was done, and the tests that the circuit tool has next and nobody made. A reading that one tool took over
// from another is one reading.
func Record(j *job.Job) map[string]string {
	r := record{}
	r.readings(j)
	stands, steps, answered := j.Standing(), 0, 0
	var answers []job.Entry
	for i, e := range j.Entries {
		switch {
		case !stands[i] || e.Tool == handover && e.Kind != job.Step:
		case e.Kind == job.Step:
			r.row("steps", &steps, "what", e.What, "said", e.Said, "when", e.When, "who", e.Who)
		case e.Kind == job.Answer:
			answers = slices.DeleteFunc(answers, func(o job.Entry) bool { return o.Tool == e.Tool && about(o) == about(e) })
			answers = append(answers, e)
		}
	}
	for i, e := range answers {
		r.row("answers", &answered, "tool", e.Tool, "verdict", e.Verdict, "said", e.Said, "when", e.When, "who", e.Who)
		if slices.ContainsFunc(answers[i+1:], func(o job.Entry) bool { return o.Tool == e.Tool }) {
			continue // of several circuits the last one is drawn, and its tests are those not made
		}
		r.notMade(e)
		if e.Tool == "circuit" && len(e.Link) <= mostDrawn {
			r["drawn"] = e.Link
		}
	}
	for n, row := range judges(answers) {
		for name, text := range row {
			r[rowKey("judged_by", n)+name] = text
		}
	}
	return r
}

// mostDrawn is how long a link may be whose answer is drawn in the record: as much as the handover's field holds.
const mostDrawn = 16 << 10

// A record is a form of the handover.
type record map[string]string

// row adds a row to a list: names and texts by turns. Empty texts are left out.
func (r record) row(list string, n *int, pairs ...string) {
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			r[list+"."+strconv.Itoa(*n)+"."+pairs[i]] = pairs[i+1]
		}
	}
	*n++
}

// readings adds every reading, in the order in which they were noted. What the handover reads is in its own form.
func (r record) readings(j *job.Job) {
	stands, withdrawn, over := j.Standing(), map[int]bool{}, takenOver(j) // indices
	for _, e := range j.Entries {
		if e.Kind == job.Withdrawn {
			withdrawn[e.Corrects-1] = true
		}
	}
	once, first, n := told(j, over), completed(j), 0
	for i := range first {
		once[j.Entries[i].Corrects-1] = true
	}
	for i, e := range j.Entries {
		if e.Kind != job.Reading || e.Tool == handover || once[i] {
			continue
		}
		corrected := ""
		switch {
		case withdrawn[i]:
			corrected = "withdrawn"
		case !stands[i]:
			corrected = "yes"
		}
		at := e // when it was taken, and by whom
		if of, ok := first[i]; ok {
			at = j.Entries[of]
		}
		var as job.Entry
		if by, ok := over[i]; ok {
			as = j.Entries[by]
		}
		had, leads := job.Leads(e.Meter)
		r.row("readings", &n, "tool", e.Tool, "what", e.What, "name", cmp.Or(e.Name, as.Name), "place", e.Place, "value", e.Value,
			"at", cmp.Or(e.At, as.At), "supply", cmp.Or(e.Supply, as.Supply), "meter", cmp.Or(had, as.Meter), "leads", leads,
			"when", at.When, "who", at.Who, "corrected", corrected, "as_tool", as.Tool, "as_what", as.What)
	}
}

// mostNotMade is how many tests not made are told of: the best ones.
const mostNotMade = 8

// notMade adds the tests that an answer has next. The answer is asked for again, by its link.
func (r record) notMade(e job.Entry) {
	d, faults := link.Read(e.Link, tools.English())
	if d.Tool == nil || len(faults) > 0 {
		return
	}
	o := d.Tool.Ask(d.Request(), quantity.Point, tools.English(), tool.Brief)
	if o.Answer == nil {
		return
	}
	for i, test := range o.Answer.Next {
		if i < mostNotMade {
			n := i
			r.row("not_made", &n, "tool", e.Tool, "test", test)
		}
	}
}
