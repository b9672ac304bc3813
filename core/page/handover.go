package page

import (
	"encoding/json"
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
// last answer of each tool, what was done, and the tests that the circuit tool last advised and nobody made.
func Record(j *job.Job) map[string]string {
	r := record{}
	stands, withdrawn := j.Standing(), map[int]bool{} // indices
	for _, e := range j.Entries {
		if e.Kind == job.Withdrawn {
			withdrawn[e.Corrects-1] = true
		}
	}
	answers := map[string]int{} // index of each tool's last answer
	for i, e := range j.Entries {
		if stands[i] && e.Kind == job.Answer && e.Tool != handover {
			answers[e.Tool] = i
		}
	}
	readings, answered, steps := 0, 0, 0
	for i, e := range j.Entries {
		last, isLast := answers[e.Tool]
		switch {
		case e.Kind == job.Reading && e.Tool != handover:
			became := ""
			switch {
			case withdrawn[i]:
				became = "withdrawn"
			case !stands[i]:
				became = "yes"
			}
			r.reading(&readings, e, became)
		case e.Kind == job.Step && stands[i]:
			r.row("steps", &steps, "what", e.What, "said", e.Said, "when", e.When, "who", e.Who)
		case e.Kind == job.Answer && isLast && last == i:
			r.row("answers", &answered, "tool", e.Tool, "verdict", e.Verdict, "said", e.Said, "when", e.When, "who", e.Who)
			r.notMade(e)
		}
	}
	return r
}

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

func (r record) reading(n *int, e job.Entry, corrected string) {
	r.row("readings", n, "tool", e.Tool, "what", e.What, "name", e.Name, "place", e.Place, "value", e.Value, "at", e.At, "supply", e.Supply,
		"meter", e.Meter, "when", e.When, "who", e.Who, "corrected", corrected)
}

// mostNotMade is how many tests not made are told of: the best ones.
const mostNotMade = 8

// notMade adds the tests that an answer advised. The answer is asked for again, by its link.
func (r record) notMade(e job.Entry) {
	d, faults := link.Read(e.Link, tools.English())
	if d.Tool == nil || len(faults) > 0 {
		return
	}
	o := d.Tool.Ask(d.Request(), quantity.Point, tools.English(), tool.Brief)
	if o.Answer == nil {
		return
	}
	var result struct {
		Next []struct {
			Test string `json:"test"`
		} `json:"next"`
	}
	text, err := json.Marshal(o.Answer.Result)
	if err != nil || json.Unmarshal(text, &result) != nil {
		return
	}
	for i, next := range result.Next {
		if i < mostNotMade {
			n := i
			r.row("not_made", &n, "tool", e.Tool, "test", next.Test)
		}
	}
}
