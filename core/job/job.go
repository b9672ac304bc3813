// Package job is the document of one job: one vehicle or machine, from the complaint to the handover. It holds what a user typed, as
// typed, and what was measured, answered and done, entry by entry. An entry is never changed or removed: a later one corrects or
// withdraws it. The package words nothing and has no clock: when and who are given to it.
package job

import "slices"

// Version is the version of the document that Write writes, and the highest that Read accepts. A document of an earlier version
// opens for ever.
const Version = 1

// The limits of a document. Anything beyond is refused as a whole.
const (
	MostBytes      = 1 << 20 // without the data of photographs
	MostWithPhotos = 8 << 20
	MostEntries    = 2000
	MostPhotos     = 12
	MostKeys       = 8000 // of each map; a handover with all its lists full has 6,368
	MostRows       = 200  // of each list of a form
	MostOpen       = 200  // folded parts of a form that are open
)

// A Job is the document. Its zero value is not a valid one: it needs an ID and the two times.
type Job struct {
	ID       string // 10 to 40 characters a to z and 0 to 9
	Made     string // times are RFC 3339 in UTC
	Changed  string
	Archived bool
	Facts    Facts
	Forms    map[string]Form // by tool
	Entries  []Entry
	Photos   []Photo
}

// Facts are what every tool shares, under flat keys, as typed. From says for each in which tool it was entered last.
type Facts struct {
	Given, Units map[string]string
	Rows         map[string]int
	From         map[string]string
}

// A Form is what was typed into one tool, under flat keys, without the facts.
type Form struct {
	Given, Units, Names map[string]string
	Rows                map[string]int
	Open                []string
}

// A Kind says what an entry is.
type Kind string

// The kinds of entries.
const (
	Reading   Kind = "reading"   // what a meter showed
	Answer    Kind = "answer"    // what a tool concluded
	Step      Kind = "step"      // what was done
	Withdrawn Kind = "withdrawn" // an earlier entry does not hold any more
)

// An Entry is one line of the job's record. Its number is its place in the list, from 1. Texts that do not apply are empty.
type Entry struct {
	Kind Kind
	Tool string // where it comes from; a step may have none
	What string // Reading: what was read, such as the circuit tool's test; Step: what was done
	Name string // Reading: what the user calls it, where there are several of the same

	// Of a Reading: what was read as typed, where, and what applied while it was taken.
	Value, Place, At, Supply, Meter string

	// Of an Answer: the key of the verdict, and a link that holds every assumption. Said is what the reader was told.
	Verdict, Said, Link string

	When     string
	Who      string
	Corrects int // number of the entry that this one corrects or withdraws; 0 for none
}

// A Photo is a photograph, shrunk by the device that took it.
type Photo struct {
	ID   string
	When string
	Note string
	Type string // image/jpeg, image/png or image/webp
	Data string // base64
}

// New returns an empty job.
func New(id, when string) *Job {
	j := &Job{ID: id, Made: when, Changed: when}
	j.fill()
	return j
}

// fill makes the maps and lists that are nil.
func (j *Job) fill() {
	j.Facts.Given, j.Facts.Units, j.Facts.From = filled(j.Facts.Given), filled(j.Facts.Units), filled(j.Facts.From)
	j.Facts.Rows, j.Forms = filled(j.Facts.Rows), filled(j.Forms)
	for name, f := range j.Forms {
		f.Given, f.Units, f.Names, f.Rows = filled(f.Given), filled(f.Units), filled(f.Names), filled(f.Rows)
		if f.Open == nil {
			f.Open = []string{}
		}
		j.Forms[name] = f
	}
	if j.Entries == nil {
		j.Entries = []Entry{}
	}
	if j.Photos == nil {
		j.Photos = []Photo{}
	}
}

func filled[V any](m map[string]V) map[string]V {
	if m == nil {
		return map[string]V{}
	}
	return m
}

// Append adds an entry that corrects none, and returns its number.
func (j *Job) Append(e Entry) int {
	e.Corrects = 0
	j.Entries = append(j.Entries, e)
	return len(j.Entries)
}

// Correct adds an entry that corrects entry n, and returns its number. It returns 0 and changes nothing if there is no such entry, or
// one of another kind.
func (j *Job) Correct(n int, e Entry) int {
	e.Corrects = n
	if n < 1 || n > len(j.Entries) || !j.mayCorrect(len(j.Entries), e) {
		return 0
	}
	j.Entries = append(j.Entries, e)
	return len(j.Entries)
}

// Withdraw adds an entry that says that entry n does not hold any more, and returns its number; 0 as [Job.Correct].
func (j *Job) Withdraw(n int, when, who string) int {
	return j.Correct(n, Entry{Kind: Withdrawn, When: when, Who: who})
}

// mayCorrect reports whether what the entry at an index corrects is an earlier one, of its own kind or to be withdrawn.
func (j *Job) mayCorrect(i int, e Entry) bool {
	if e.Corrects == 0 {
		return e.Kind != Withdrawn
	}
	if e.Corrects < 0 || e.Corrects > i {
		return false
	}
	of := j.Entries[e.Corrects-1].Kind
	return of != Withdrawn && (e.Kind == Withdrawn || e.Kind == of)
}

// Standing reports for each entry whether it still holds: no later one corrects or withdraws it. What withdraws another never stands.
func (j *Job) Standing() []bool {
	stands := make([]bool, len(j.Entries))
	for i, e := range j.Entries {
		stands[i] = e.Kind != Withdrawn
		if e.Corrects > 0 {
			stands[e.Corrects-1] = false
		}
	}
	return stands
}

// Last returns the last standing entry that is wanted, and whether there is one.
func (j *Job) Last(wanted func(Entry) bool) (Entry, bool) {
	stands := j.Standing()
	for i, e := range slices.Backward(j.Entries) {
		if stands[i] && wanted(e) {
			return e, true
		}
	}
	return Entry{}, false
}
