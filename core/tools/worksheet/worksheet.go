// Package worksheet is the sheet for a class: a teacher sets it out and hands on one link, students open it, ask and decide, and hand in
// another. What it gives each of them, and how that is marked, is in core/worksheet.
package worksheet

import (
	"cmp"
	"strconv"
	"strings"

	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	setup "ohmwright/core/tools/circuit"
	"ohmwright/core/wording"
	"ohmwright/core/worksheet"
)

// A Role is who has the sheet open.
type Role string

// The roles. Whoever opens the tool by itself sets a sheet out; a link that was handed on has the other role in it.
const (
	Teacher Role = "teacher"
	Student Role = "student"
)

// What is held: some of it once and for all, such as a reading that was paid for and a decision.
var (
	held  = tool.Hints{Held: true}
	stays = tool.Hints{Held: true, Stays: true}
)

// The fields of the sheet: what a teacher sets out.
var (
	role = tool.ChoiceOf(tool.Field{Name: "role", Default: string(Teacher), Page: tool.Hints{Held: true, Slot: true}},
		tool.Words(Teacher, Student))
	kind      = tool.ChoiceOf(tool.Field{Name: "kind", Need: true}, tool.Named(setup.Each[worksheet.Kind](worksheet.Kinds)...))
	level     = tool.ChoiceOf(tool.Field{Name: "level", Default: "1"}, tool.Named[worksheet.Level](1, 2, 3))
	questions = tool.ListOf(tool.Field{Name: "questions", Need: true, Most: mostQuestions, Page: forTeacher}, kind, level)
	heading   = tool.TextOf(tool.Field{Name: "heading", Most: 120, Page: forTeacher})
	words     = tool.TextOf(tool.Field{Name: "words", Most: 1500, Page: tool.Hints{Lines: true, Role: string(Teacher), Slot: true}})
	due       = tool.TextOf(tool.Field{Name: "due", Most: 20, Page: tool.Hints{Time: true, Role: string(Teacher)}})
	series    = tool.TextOf(tool.Field{Name: "series", Most: 40, Page: fine})
	tolerance = tool.QuantityOf[quantity.Ratio](tool.Field{Name: "tolerance", Default: "1 %", Range: tool.Between(0.001, 0.1),
		Page: tool.Hints{Fine: true, Role: string(Teacher), Offer: []string{"%"}}})
	later    = tool.ChoiceOf(tool.Field{Name: "later_tries", Default: "no", Page: fine}, noOrYes)
	students = tool.TextOf(tool.Field{Name: "students", Most: 2000, Page: tool.Hints{Fine: true, Lines: true, Role: string(Teacher)}})
	// A new sheet is drawn in the latest way. Links without it were given out while there was one.
	drawing = tool.WholeOf(tool.Field{Name: Drawn, Default: strconv.Itoa(worksheet.Drawing), Before: first,
		Range: tool.Between(1, worksheet.Drawing), Page: held})

	forTeacher = tool.Hints{Role: string(Teacher)}
	fine       = tool.Hints{Fine: true, Role: string(Teacher)}
	noOrYes    = []tool.Option[bool]{{Word: "no", Is: false}, {Word: "yes", Is: true}}
)

// The fields of a student: the name, what is worked on now, and what was decided.
var (
	name   = tool.TextOf(tool.Field{Name: "name", Most: 120, Page: tool.Hints{Role: string(Student), Slot: true}})
	at     = tool.WholeOf(tool.Field{Name: "at", Range: tool.Between(1, mostQuestions), Page: held})
	test   = setup.TestOf(tool.Field{Name: "test", Need: true, From: "circuit.readings.test"}, lesson.Tests)
	asked  = tool.ListOf(tool.Field{Name: "asked", Most: 100, Page: tool.Hints{Pick: "test", Held: true, Stays: true}}, test)
	repair = tool.ChoiceOf(tool.Field{Name: "repair", Page: held}, repairs)
	// A figure that cannot be read is left out: the field for it is on the page while the question is.
	value = tool.NumberOf(tool.Field{Name: "value", Range: tool.Between(-1e9, 1e9), Apart: "value", Behind: measured,
		Page: tool.Hints{Role: string(Student), Slot: true}})
	unit = tool.ChoiceOf(tool.Field{Name: "unit", Page: held}, tool.Words(worksheet.Units()...))
	// The next three are of the kind of the question; each kind has its own.
	condition = tool.ChoiceOf(tool.Field{Name: "condition", Page: held}, tool.Words(worksheet.Conditions()...))
	decision  = tool.ChoiceOf(tool.Field{Name: "decision", Page: held}, tool.Words(worksheet.Decisions()...))
	reason    = tool.ChoiceOf(tool.Field{Name: "reason", Page: held}, tool.Words(worksheet.Reasons()...))

	ofQuestion = tool.WholeOf(tool.Field{Name: "question", Default: "1", Range: tool.Between(1, mostQuestions)})
	after      = tool.WholeOf(tool.Field{Name: "after", Range: tool.Between(0, 100)})
	decisions  = tool.ListOf(tool.Field{Name: "decisions", Most: 40, Page: stays}, decided(ofQuestion, after)...)
	// What is worked on where another question was opened: a row for each question, in the sheet's order.
	drafts = tool.ListOf(tool.Field{Name: "drafts", Most: mostQuestions, Page: held},
		decided(tool.WholeOf(tool.Field{Name: "question", Label: "decisions.question", Range: tool.Between(1, mostQuestions)}))...)
	solution = tool.ChoiceOf(tool.Field{Name: "solution", Default: "no", Page: stays}, noOrYes)
	handed   = tool.TextOf(tool.Field{Name: "handed", Most: 20, Page: stays})
	sum      = tool.TextOf(tool.Field{Name: "sum", Most: 8, Page: held})

	repairs  = tool.Named(setup.Each[circuit.Repair](lesson.Repairs)...)
	measured = []quantity.Kind{quantity.OfResistance, quantity.OfVoltage, quantity.OfCurrent, quantity.OfTorque} // with a unit
)

// decided declares the fields of a decision, after those that say when: they have the names and words of what is worked on.
func decided(when ...tool.Declared) []tool.Declared {
	return append(when, like(repair.Field, repairs),
		tool.NumberOf(tool.Field{Name: value.Name, Range: tool.Between(-1e9, 1e9), Label: value.Name}),
		like(unit.Field, tool.Words(worksheet.Units()...)), like(condition.Field, tool.Words(worksheet.Conditions()...)),
		like(decision.Field, tool.Words(worksheet.Decisions()...)), like(reason.Field, tool.Words(worksheet.Reasons()...)))
}

// like declares a field with the name and the words of another.
func like[T any](of *tool.Field, options []tool.Option[T]) tool.ChoiceField[T] {
	return tool.ChoiceOf(tool.Field{Name: of.Name, Label: of.Name}, options)
}

// Tool sets out, gives and marks a class's sheet.
var Tool = tool.New(tool.Tool{
	Name:    room,
	Example: example,
	Slot:    role.Name,
	Hand:    hand,
	Jobless: true,
	Marks:   true,
	Fields: tool.Declare(role, heading, words, questions, due, series, tolerance, later, students, drawing, name, at, asked, repair, value,
		unit, condition, decision, reason, drafts, decisions, solution, handed, sum),
}, tool.Way[question, finding, *result]{Read: read, Find: find, Tell: tell, Lay: lay, Draft: draft})

const room = "worksheet"

const example = `{
  "role": "student", "heading": "Tarn 24, gearbox QX-6: one code, one winding", "name": "bench 3",
  "questions": [{"kind": "fault_high", "level": "1"}, {"kind": "hot_winding", "level": "2"}],
  "asked": [{"test": "resistance_unit"}, {"test": "insulation_harness"}],
  "decisions": [{"question": 1, "after": 2, "repair": "component"}]
}`

// A question is a sheet as it is set out, and what a student has done on it.
type question struct {
	worksheet.Sheet
	worksheet.Work
	title, words, due string
	later, solution   bool
	role              Role
	name              string
	students          []string
	handed            string
	at                int  // index of the question that is worked on
	again             bool // it was opened, and not only come to
	draft             worksheet.Decision
	texts             draftTexts
	figure            string                    // as it was typed
	drafts            [mostQuestions]draftTexts // of the questions that are not worked on now
	link, handIn      string
	line              string // that stands before what is handed in
}

// mostQuestions is the most questions of a sheet.
const mostQuestions = 6

// draftTexts are what is worked on as it was typed, for the buttons that decide and that go to another question.
type draftTexts struct{ repair, value, unit, condition, decision, reason string }

// A finding is how the work of whoever has the sheet open stands, and what a few students would be given.
type finding struct {
	worksheet.Finding
	overall Overall
	samples []sample
}

// A sample is what a student of that name is given.
type sample struct {
	name string
	worksheet.Finding
}

// An Overall says how a sheet stands.
type Overall string

// The verdicts.
const (
	SetOut  Overall = "set_out" // by a teacher
	Open    Overall = "open"    // a question is not decided yet
	Decided Overall = "decided" // every question is
	Unnamed Overall = "no_name" // a student has not said who it is
)

func find(q question) finding {
	f := finding{overall: SetOut}
	if q.role == Teacher {
		for _, n := range q.students {
			f.samples = append(f.samples, sample{n, q.Sheet.Find(n, worksheet.Work{})})
		}
		return f
	}
	if worksheet.Plain(q.name) == "" {
		f.overall = Unnamed
		return f
	}
	f.Finding, f.overall = q.Sheet.Find(q.name, q.Work), Decided
	if f.Undecided > 0 {
		f.overall = Open
	}
	return f
}

// first returns the first way of drawing, of whatever was given.
func first(map[string]string) string { return theFirst }

const theFirst = "1"

// Drawn is the key of the way of drawing. A hand-in is marked by its own: a sheet that was kept from before says nothing of it.
const Drawn = "drawing"

// hand returns the link to hand on, with a line that says what it is: a student's work once something is decided, else the sheet, with
// nobody's. The address bar holds the sheet alone: for a teacher as a teacher sees it, and for a student without any work, which is kept on
// the device and which an old address could only put back as it was.
func hand(r *tool.Record, s *wording.Speaker) tool.Handed {
	h := tool.Handed{Line: trimmed(heading, r), Link: linkOf(r), Seen: tool.Link(room, only(r, ofSheet))}
	if role.Of(r) == Teacher {
		if list := questions.Of(r); len(list) > 0 {
			of := worksheet.Question{Kind: kind.Of(list[0]), Level: level.Of(list[0])}
			h.Kept = s.Say("kept.sheet", cmp.Or(h.Line, questionTitle(of, s)))
		}
		return h
	}
	h.Of, h.Seen, h.Begun = h.Link, h.Link, begun(r)
	if h.Whose = worksheet.Plain(name.Of(r)); h.Whose != "" {
		h.Kept = handLine(r, s)
	}
	if len(decisions.Of(r)) > 0 {
		h.Line, h.Link = handLine(r, s), handInOf(r)
	}
	return h
}

// begun reports whether a student has done anything but give a name.
func begun(r *tool.Record) bool {
	return len(asked.Of(r))+len(decisions.Of(r))+len(drafts.Of(r)) > 0 || textsOf(r) != (draftTexts{})
}

// handLine says what a student hands in: the sheet, the name, how many questions are decided.
func handLine(r *tool.Record, s *wording.Speaker) string {
	of := map[int]bool{}
	for _, row := range decisions.Of(r) {
		of[ofQuestion.Of(row)] = true
	}
	line := s.Say("hand_in.line", trimmed(name, r), strconv.Itoa(len(of)), strconv.Itoa(len(questions.Of(r))))
	if title := trimmed(heading, r); title != "" {
		line = s.Say("hand_in.line.of", title, line)
	}
	return line
}

// solved reports whether the solution of a question may be told.
func (q question) solved(w worksheet.Worked) bool { return w.First != nil && (!q.later || q.solution) }

func trimmed(field tool.TextField, r *tool.Record) string { return strings.TrimSpace(field.Of(r)) }
