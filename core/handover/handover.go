// Package handover looks through what was recorded of a job before the vehicle is given back: whether what was taken off went back on,
// what is still to do, and what a record usually has and this one does not. It judges no repair.
package handover

import "ohmwright/core/job"

// A Part says what was counted.
type Part string

// What is counted when it is taken off, and again when it is put back.
const (
	Bolts Part = "bolts" // of one length
	Tubes Part = "tubes"
	Seals Part = "seals"
	Plugs Part = "plugs" // clicked home
)

// A Count is how many were taken off and how many went back on. A count that was not made is nil.
type Count struct {
	Part    Part
	Row     int // of Bolts: the row of the list
	Off, On *int
}

// State says how far something is that may be needed after a repair.
type State string

// The states. NotRecorded is the zero of each.
const (
	NotRecorded State = "not_recorded"
	Done        State = "done"
	NotDone     State = "not_done"
	NotNeeded   State = "not_needed"
	Open        State = "open"      // is still to be done
	Clear       State = "clear"     // codes were read again, and none came back
	CameBack    State = "came_back" // a code did
	Gone        State = "gone"      // on the road test the complaint did not show
	Shows       State = "shows"     // it did
)

// A Question is what was recorded.
type Question struct {
	Recorded map[job.Need]bool
	Counts   []Count
	Cleared  State // Done, NotDone, NotNeeded
	Reread   State // Clear, CameBack
	Relearn  State // Done, NotNeeded, Open
	Road     State // Gone, Shows, NotDone
	ToDo     bool  // something else is still to do
}

// An Item is something that is still open.
type Item string

// The open items.
const (
	CountAgain Item = "count"     // counted when taken off, and not when put back
	ClearCodes Item = "clear"     // codes are not cleared
	CodeBack   Item = "code_back" // a code came back
	ToRelearn  Item = "relearn"
	ToTest     Item = "road_test"
	StillShows Item = "still_shows"
	Else       Item = "to_do" // what the user wrote down
)

// Verdict is the one verdict on a record.
type Verdict string

// The verdicts, the gravest first.
const (
	CountsDiffer Verdict = "counts_differ"
	OpenItems    Verdict = "open_items"
	Gaps         Verdict = "not_recorded" // nothing is open, but the record has gaps
	Complete     Verdict = "complete"
)

// A Finding is what was found.
type Finding struct {
	Differ  []Count // what went back on is not what came off
	Open    []Item
	Missing []job.Need
	Verdict Verdict
}

// Find looks through the record.
func (q Question) Find() Finding {
	f := Finding{Differ: []Count{}, Open: []Item{}, Missing: job.Missing(func(n job.Need) bool { return q.Recorded[n] }), Verdict: Complete}
	uncounted := false
	for _, c := range q.Counts {
		switch {
		case c.Off != nil && c.On != nil && *c.Off != *c.On:
			f.Differ = append(f.Differ, c)
		case (c.Off == nil) != (c.On == nil):
			uncounted = true
		}
	}
	for _, o := range []struct {
		open bool
		item Item
	}{
		{uncounted, CountAgain}, {q.Cleared == NotDone, ClearCodes}, {q.Reread == CameBack, CodeBack}, {q.Relearn == Open, ToRelearn},
		{q.Road == NotDone, ToTest}, {q.Road == Shows, StillShows}, {q.ToDo, Else},
	} {
		if o.open {
			f.Open = append(f.Open, o.item)
		}
	}
	switch {
	case len(f.Differ) > 0:
		f.Verdict = CountsDiffer
	case len(f.Open) > 0:
		f.Verdict = OpenItems
	case len(f.Missing) > 0:
		f.Verdict = Gaps
	}
	return f
}
