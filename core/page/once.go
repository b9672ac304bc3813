package page

import (
	"slices"
	"strconv"

	"ohmwright/core/job"
	"ohmwright/core/quantity"
)

// testAt says which test of the circuit a resistance is that was read at a place.
var testAt = map[string]string{
	"winding": "resistance_winding", "component_connector": "resistance_component", "control_unit": "resistance_unit",
}

// takenOver pairs readings that one tool passed on to another, such as a winding's to the circuit: one measurement then stands in the job
// twice, and is told of once. It returns the index of the reading that was taken over for each one that took its place. The job's
// facts say which tests were passed on, and by which tool; somebody who changes such a reading by hand takes that mark away.
func takenOver(j *job.Job) map[int]int {
	stands, over, used := j.Standing(), map[int]int{}, map[int]bool{}
	for i, e := range j.Entries {
		by := j.Facts.From["readings."+e.What]
		if e.Kind != job.Reading || by == "" || by == e.Tool {
			continue
		}
		if at := origin(j, e, by, stands, stands[i], used); at >= 0 {
			over[at], used[at] = i, true
		}
	}
	return over
}

// told returns which readings are told of with the one that they were taken over from: those that took its place, and what these correct,
// as long as the value is the same.
func told(j *job.Job, over map[int]int) map[int]bool {
	with := map[int]bool{}
	for _, as := range over {
		with[as] = true
	}
	for i := len(j.Entries) - 1; i >= 0; i-- {
		e := j.Entries[i]
		if had := e.Corrects - 1; with[i] && had >= 0 && j.Entries[had].Kind == job.Reading && sameValue(j.Entries[had].Value, e.Value) {
			with[had] = true
		}
	}
	return with
}

// completed returns, for each reading that says more of how an earlier one was taken and nothing else, the index of the first of these: a
// temperature, supply, meter, leads or name that was typed after the reading corrects nothing, and the first was noted when it was taken.
func completed(j *job.Job) map[int]int {
	first := map[int]int{}
	for i, e := range j.Entries {
		had := e.Corrects - 1
		if e.Kind != job.Reading || had < 0 || j.Entries[had].Kind != job.Reading || !completes(j.Entries[had], e) {
			continue
		}
		first[i] = had
		if of, ok := first[had]; ok {
			first[i] = of
		}
	}
	return first
}

// completes reports whether a reading is another one with more told of how it was taken.
func completes(had, e job.Entry) bool {
	more := func(had, e string) bool { return had == "" || had == e }
	taken := more(had.At, e.At) && more(had.Supply, e.Supply) || slices.Contains(looks[:], e.What)
	hadMeter, hadLeads := job.Leads(had.Meter)
	meter, leads := job.Leads(e.Meter)
	return had.Value == e.Value && had.Place == e.Place && taken && more(hadMeter, meter) && more(hadLeads, leads) &&
		(unnamed(had.Name) || had.Name == e.Name)
}

// origin returns the index of the reading of a tool that was passed on as e; -1 if there is none. Where several may be meant, or where
// both were corrected since, the value tells; so it does for what has a name: that of the tool is the one that was passed on last.
func origin(j *job.Job, e job.Entry, by string, stands []bool, standing bool, used map[int]bool) int {
	var found []int
	for i, o := range j.Entries {
		named := e.Name != "" && o.Name == e.Name && o.Tool != e.Tool
		if o.Name != e.Name && o.Name != "" && e.Name != "" {
			continue
		}
		placed := (o.What == "reading" || o.What == "windings.reading") && testAt[o.Place] == e.What
		same := placed || by == "loop" && o.What == "current" && e.What == "current_on"
		if o.Kind == job.Reading && (o.Tool == by || named) && same && stands[i] == standing && !used[i] {
			found = append(found, i)
		}
	}
	if standing && len(found) == 1 && e.Name == "" {
		return found[0]
	}
	for _, i := range found {
		if o := j.Entries[i]; sameValue(o.Value, e.Value) || sameValue(lessLeads(o), e.Value) {
			return i
		}
	}
	return -1
}

// lessLeads returns a reading without the leads that are in it, as one tool hands it to another; "" where none were taken off.
func lessLeads(e job.Entry) string {
	_, leads := job.Leads(e.Meter)
	for _, mark := range []quantity.Mark{quantity.Point, quantity.Comma} {
		all, notAll := quantity.Parse(e.Value, mark, quantity.OfResistance)
		off, notOff := quantity.Parse(leads, mark, quantity.OfResistance)
		if notAll == nil && notOff == nil {
			return strconv.FormatFloat(all.In-off.In, 'g', 6, 64) + "ohm"
		}
	}
	return ""
}

// sameValue reports whether two texts say the same quantity, each with a decimal point or a decimal comma.
func sameValue(a, b string) bool {
	for _, k := range []quantity.Kind{quantity.OfResistance, quantity.OfCurrent} {
		for _, mark := range []quantity.Mark{quantity.Point, quantity.Comma} {
			x, notX := quantity.Parse(a, mark, k)
			y, notY := quantity.Parse(b, quantity.Point, k) // as one tool hands it to another
			if notX == nil && notY == nil && x.In == y.In {
				return true
			}
		}
	}
	return a == b
}
