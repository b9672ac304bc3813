package page

import (
	"slices"
	"strings"

	"ohmwright/core/job"
	"ohmwright/core/link"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// Journal returns the entries that a form adds to a job: readings that are new, changed or gone since the job's entries, and the answer
// if it is another one. Once they are in the job, the same form adds nothing. A form that is still being typed is not for it: what is
// wrong is no reading, but what stands half typed may be right by chance.
func Journal(j *job.Job, t *tool.Tool, given map[string]string, speak *wording.Speaker, when, who string) []job.Entry {
	if t.Jobless {
		return nil
	}
	given = link.Draft{Tool: t, Given: given}.Compact().Given // rows are then numbered as in the request
	reply, o := ask(t, given, speak, tool.Brief)
	if o.Record == nil || !job.IsTime(when) {
		return nil
	}
	n := &journal{job: j, tool: t, when: when, who: who, numbered: map[string]bool{}}
	n.read(o.Record.Taken(o.Faults))
	n.steps(o.Record, t.Speaker(speak))
	n.conclude(reply, speak)
	return n.entries
}

// A journal is what becomes of a form: the entries that it adds to a job.
type journal struct {
	job       *job.Job
	tool      *tool.Tool
	when, who string
	numbered  map[string]bool // of what is read in rows that are told apart by their numbers
	entries   []job.Entry
}

func (n *journal) subject(what, name string) subject {
	if n.numbered[what] && unnamed(name) {
		name = ""
	}
	return subject{what, name}
}

// add adds an entry if there is room for it and it is one that the document may hold.
func (n *journal) add(e job.Entry, corrects int) {
	e.When, e.Who, e.Corrects = n.when, n.who, corrects
	if e.Kind != job.Withdrawn {
		e.Tool = n.tool.Name
	}
	if e.Valid() && len(n.job.Entries)+len(n.entries) < job.MostEntries {
		n.entries = append(n.entries, e)
	}
}

func entryOf(t tool.Taken) job.Entry {
	e := job.Entry{Kind: job.Reading, What: t.What, Name: t.Name, Value: t.Value, Place: t.Place, At: t.At, Supply: t.Supply,
		Meter: job.WithLeads(t.Meter, t.Leads)}
	if e.Name == "" && t.Numbered {
		e.Name = wording.RowName(t.Row)
	}
	return e
}

// A subject is what readings are of: readings of the same subject may correct each other. Rows that are told apart by their numbers alone
// are one subject: they move up when one goes.
type subject struct{ what, name string }

// unnamed reports whether a Name is none that somebody gave.
func unnamed(name string) bool { return name == "" || wording.RowOf(name) > 0 }

// A noted is a reading that stands in the job, with its number.
type noted struct {
	n int
	job.Entry
}

// read adds what the readings of a form change. Supply or temperature that came from another tool are no readings of this one, as long as
// nothing else was read.
func (n *journal) read(list []tool.Taken) {
	own := slices.ContainsFunc(list, func(t tool.Taken) bool { return !t.Fact && t.Valid })
	var subjects []subject
	of := map[subject][]tool.Taken{}
	meet := func(s subject) {
		if _, met := of[s]; !met {
			subjects, of[s] = append(subjects, s), nil
		}
	}
	for _, t := range list {
		if t.Numbered {
			n.numbered[t.What] = true
		}
	}
	for _, t := range list {
		s := n.subject(t.What, t.Name)
		meet(s)
		if own || !t.Fact {
			of[s] = append(of[s], t)
		}
	}
	stand := n.standing(meet)
	n.named(subjects, of, stand)
	for _, s := range subjects {
		switch once := n.once(s); {
		case once && len(of[s]) > 0:
			n.one(of[s][0], stand[s])
		case once:
			n.gone(s, stand[s])
		default:
			n.rows(of[s], stand[s])
		}
	}
}

// named hands the readings that stand under no name over to the rows that have one now, and the other way round: a winding that is named
// later is the same winding.
func (n *journal) named(subjects []subject, of map[subject][]tool.Taken, stand map[subject][]noted) {
	for _, had := range subjects {
		for _, is := range subjects {
			if had == is || had.what != is.what || n.once(had) || had.name != "" && is.name != "" {
				continue
			}
			stand[had] = slices.DeleteFunc(stand[had], func(o noted) bool {
				here := func(t tool.Taken) bool { return t.Valid && t.Value == o.Value && t.Place == o.Place }
				there := func(other noted) bool { return other.Value == o.Value }
				if slices.ContainsFunc(of[had], here) || !slices.ContainsFunc(of[is], here) || slices.ContainsFunc(stand[is], there) {
					return false
				}
				stand[is] = append(stand[is], o)
				return true
			})
		}
	}
}

// once reports whether the tool has one field for a subject, rather than a list of readings.
func (n *journal) once(s subject) bool {
	return n.tool.Field(s.what) != nil && !isList(n.tool, top(s.what))
}

// steps adds the steps of the work that are new, or further than they were; one that was taken back is withdrawn.
func (n *journal) steps(r *tool.Record, own *wording.Speaker) {
	stand := map[string]noted{}
	stands := n.job.Standing()
	for i, e := range n.job.Entries {
		if stands[i] && e.Kind == job.Step && e.Tool == n.tool.Name {
			stand[top(e.What)] = noted{i + 1, e}
		}
	}
	told := map[string]bool{}
	r.Steps(func(name, choice string) {
		told[name] = true
		e := job.Entry{Kind: job.Step, What: name + "." + choice, Said: own.Say("job.step", own.Say(name), own.Say(name+"="+choice))}
		if had := stand[name]; had.What != e.What {
			n.add(e, had.n)
		}
	})
	for _, e := range n.job.Entries { // in the order of the entries, not of the map
		if name := top(e.What); e.Kind == job.Step && stand[name].n > 0 && stand[name].Entry == e && !told[name] {
			n.add(job.Entry{Kind: job.Withdrawn}, stand[name].n)
			delete(stand, name)
		}
	}
}

// standing returns the readings of the tool that stand in the job, by what they are of.
func (n *journal) standing(meet func(subject)) map[subject][]noted {
	stand := map[subject][]noted{}
	stands := n.job.Standing()
	for i, e := range n.job.Entries {
		if s := n.subject(e.What, e.Name); stands[i] && e.Kind == job.Reading && e.Tool == n.tool.Name {
			meet(s)
			stand[s] = append(stand[s], noted{i + 1, e})
		}
	}
	return stand
}

// one notes the reading of a field that is there once. What was read at another place before stays: it was read there.
func (n *journal) one(t tool.Taken, stand []noted) {
	if !t.Valid {
		return
	}
	e := entryOf(t)
	at := slices.IndexFunc(stand, func(o noted) bool { return o.Place == e.Place })
	if at < 0 && len(stand) > 0 && stand[len(stand)-1].Value == e.Value { // the place alone was corrected
		at = len(stand) - 1
	}
	switch {
	case at < 0:
		n.add(e, 0)
	case !same(stand[at].Entry, e):
		n.add(e, stand[at].n)
	}
}

// gone withdraws what a field held that was emptied: the last reading of its subject, unless that is withdrawn already. What was read at
// other places before stays.
func (n *journal) gone(s subject, stand []noted) {
	last := 0
	for i, e := range n.job.Entries {
		if e.Kind == job.Reading && e.Tool == n.tool.Name && (subject{e.What, e.Name}) == s {
			last = i + 1
		}
	}
	if len(stand) > 0 && stand[len(stand)-1].n == last {
		n.add(job.Entry{Kind: job.Withdrawn}, last)
	}
}

// rows notes the readings of one test, of which a list may have several. Those that are as they were noted are left alone; then those with
// the same value; the others correct what is left, in order. A row with a number is the row with that number, but where rows came or went
// it may have another now, which its value tells.
func (n *journal) rows(list []tool.Taken, stand []noted) {
	take := func(fits func(noted, tool.Taken) bool, do func(tool.Taken, int)) {
		list = slices.DeleteFunc(slices.Clone(list), func(t tool.Taken) bool {
			i := slices.IndexFunc(stand, func(o noted) bool { return fits(o, t) })
			if i < 0 {
				return false
			}
			do(t, stand[i].n)
			stand = slices.Delete(slices.Clone(stand), i, i+1)
			return true
		})
	}
	correct := func(t tool.Taken, of int) {
		if t.Valid {
			n.add(entryOf(t), of)
		}
	}
	take(func(o noted, t tool.Taken) bool { return t.Valid && same(o.Entry, entryOf(t)) }, func(tool.Taken, int) {})
	numbered := func(o noted, t tool.Taken) bool {
		row := wording.RowOf(o.Name)
		return row == 0 || !t.Numbered || row == t.Row
	}
	moved := len(list) != len(stand)
	take(func(o noted, t tool.Taken) bool { return t.Valid && o.Value == t.Value && numbered(o, t) }, correct)
	take(func(o noted, t tool.Taken) bool { return moved && t.Valid && o.Value == t.Value }, correct)
	take(numbered, correct)
	for _, t := range list {
		correct(t, 0)
	}
	for _, o := range stand {
		n.add(job.Entry{Kind: job.Withdrawn}, o.n)
	}
}

// same reports whether a reading is as it was noted, be it without the number of its row. One that looks at what was typed was taken at no
// temperature or supply but its own.
func same(had, e job.Entry) bool {
	name := had.Name == e.Name || had.Name == "" && wording.RowOf(e.Name) > 0
	taken := had.At == e.At && had.Supply == e.Supply || slices.Contains(looks[:], e.What)
	return name && had.Value == e.Value && had.Place == e.Place && taken && had.Meter == e.Meter
}

// looks are the circuit's tests that look at what was typed.
var looks = [...]string{"row_applies", "winding_temperature", "supply_driven"}

// conclude adds the answer, if its verdict is not that of the tool's last answer, or if it is told in other words after new readings or
// by a tool that says how far a work has come.
func (n *journal) conclude(reply Reply, speak *wording.Speaker) {
	verdict := reply.Head.Value("data-verdict")
	if !reply.Answered || verdict == "waiting" || verdict == "refused" {
		return
	}
	e := job.Entry{Kind: job.Answer, Verdict: verdict, Said: reply.Head.Inner("word"), Link: reply.Link}
	if number := reply.Head.Inner("number"); number != "" {
		e.Said = speak.Say("job.said", e.Said, number)
	}
	if len(e.Link) > job.MostLink {
		e.Link = ""
	}
	last, ok := n.job.Last(func(o job.Entry) bool { return o.Kind == job.Answer && o.Tool == n.tool.Name && about(o) == about(e) })
	if !ok || last.Verdict != e.Verdict || last.Said != e.Said && (len(n.entries) > 0 || n.tool.Works) {
		n.add(e, 0)
	}
}

// about returns which of several alike an answer is about, as its link says; "" for a tool that knows of no several.
func about(e job.Entry) string {
	d, _ := link.Read(e.Link, tools.English())
	if d.Tool == nil || d.Tool.About == "" {
		return ""
	}
	return d.Given[d.Tool.About]
}

// Line is what a job is called, and what is last known of it, for a list of jobs.
func Line(j *job.Job, speak *wording.Speaker) (name, said, when string) {
	var parts []string
	for _, fact := range []string{"vehicle", "tag"} {
		if text := strings.TrimSpace(j.Facts.Given[fact]); text != "" {
			parts = append(parts, text)
		}
	}
	name = strings.Join(parts, ", ")
	if name == "" {
		name = speak.Say("job.unnamed")
	}
	told := func(e job.Entry) bool { // a record that still has gaps says less of the job than what was found
		return e.Kind == job.Answer && (e.Tool != handover || e.Verdict != "not_recorded")
	}
	if last, ok := j.Last(told); ok {
		said = last.Said
	}
	return name, said, j.Changed
}
