package worksheet

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/circuit"
	"ohmwright/core/tool"
	"ohmwright/core/worksheet"
)

// someone are the names of the students whose figures a teacher sees where none are given.
var someone = []string{"1", "2", "3"}

func read(r *tool.Record, f *tool.Faults) question {
	q := question{Sheet: worksheet.Sheet{Series: series.Of(r), Tolerance: float64(tolerance.Of(r)), Drawing: drawing.Of(r)},
		title: trimmed(heading, r), words: trimmed(words, r), due: trimmed(due, r), later: later.Of(r), solution: solution.Of(r),
		role: role.Of(r), name: trimmed(name, r), handed: trimmed(handed, r), students: someone}
	for _, row := range questions.Of(r) {
		q.Questions = append(q.Questions, worksheet.Question{Kind: kind.Of(row), Level: max(1, level.Of(row))})
	}
	checkTime(due, r, f)
	checkTime(handed, r, f)
	if list := named(students.Of(r)); len(list) > 0 {
		q.students = list
	}
	if len(q.students) > mostStudents {
		many := strconv.Itoa(len(q.students))
		f.OutOf("students", many, f.Speak.Form("many_students", len(q.students)), many, strconv.Itoa(mostStudents))
	}
	q.readWork(r, f)
	q.link, q.handIn, q.line = linkOf(r), handInOf(r), handLine(r, f.Speak)
	return q
}

// linkOf returns the link of a sheet, handInOf that of a student's work on it.
func linkOf(r *tool.Record) string { return tool.Link(room, append(forStudents, only(r, ofSheet)...)) }
func handInOf(r *tool.Record) string {
	return Summed(tool.Link(room, slices.Concat(forStudents, only(r, ofHandIn), only(r, ofStudent))))
}

var forStudents = []tool.Pair{{Key: "role", Value: string(Student)}}

// mostStudents is the most students whose sheets and key are written at once.
const mostStudents = 40

// named returns the names of a text, one on a line.
func named(text string) (list []string) {
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); worksheet.Plain(line) != "" {
			list = append(list, line)
		}
	}
	return list
}

// Summed returns a link that is handed in with its sum behind it, which says where it ends in a text that was wrapped, and whether anything
// of it was cut or changed by hand: FNV-1a, 32 bits, as eight hex digits. It keeps nobody from changing it who means to.
func Summed(link string) string { return link + SumKey + SumOf(link) }

// SumKey stands before the sum.
const SumKey = "&sum="

// SumOf returns the sum of a link.
func SumOf(link string) string {
	f := fnv.New32a()
	f.Write([]byte(link))
	return fmt.Sprintf("%08x", f.Sum32())
}

// Setting reports whether a field, given by its flat key, is one that decides what a sheet gives and how it is marked.
func Setting(key string) bool {
	top, _, _ := strings.Cut(key, ".")
	return slices.Contains(ofSheet, top) && top != heading.Name && top != words.Name
}

// Own reports whether a field, given by its flat key, is a student's own.
func Own(key string) bool {
	top, _, _ := strings.Cut(key, ".")
	return slices.Contains(ofStudent, top)
}

// The fields that a link to a sheet takes along; those of them that a student hands in, and after them, as a link may lose its end, the
// student's own.
var (
	ofSheet   = []string{"heading", "words", "questions", "due", "series", "tolerance", "later_tries", "drawing"}
	ofHandIn  = []string{"heading", "questions", "due", "series", "tolerance", "later_tries", "drawing"}
	ofStudent = []string{"name", "asked", "decisions", "handed"}
)

// only returns what the request gives of some fields, as a link writes it. A sheet in the first way of drawing keeps its link as it was
// given out: without saying so.
func only(r *tool.Record, fields []string) []tool.Pair {
	return slices.DeleteFunc(r.Pairs(), func(p tool.Pair) bool {
		top, _, _ := strings.Cut(p.Key, ".")
		return !slices.Contains(fields, top) || top == drawing.Name && p.Value == theFirst
	})
}

// checkTime notes a fault if a time is not written as the sheet has it. Texts of this form are in the order of time.
func checkTime(field tool.TextField, r *tool.Record, f *tool.Faults) {
	if text := trimmed(field, r); text != "" && !isTime(text) {
		f.Add(tool.Fault{Field: field.Path(r), Code: tool.Syntax, Given: text}, "time", text)
	}
}

// isTime reports whether a text is a time such as 2026-11-30T08:00Z, in UTC (ISO 8601).
func isTime(text string) bool {
	const like = "0000-00-00T00:00Z"
	if len(text) != len(like) {
		return false
	}
	for i := range len(like) {
		digit := text[i] >= '0' && text[i] <= '9'
		if like[i] == '0' && !digit || like[i] != '0' && text[i] != like[i] {
			return false
		}
	}
	return true
}

// readWork reads what a student has done.
func (q *question) readWork(r *tool.Record, f *tool.Faults) {
	hides, one := q.HidesOne()
	if !one {
		f.Conflict("questions", "", "two_faults")
		return
	}
	q.readAsked(hides, r, f)
	for _, row := range decisions.Of(r) {
		d := q.decisionOf(row, ofQuestion.Of(row)-1)
		d.After = len(q.Asked)
		if after.Given(row) {
			d.After = after.Of(row)
		}
		switch {
		case !questions.OK(r) || !ofQuestion.OK(row):
		case d.Question >= len(q.Questions):
			f.OutOf(ofQuestion.Path(row), ofQuestion.Raw(row), "no_such_question", strconv.Itoa(d.Question+1), strconv.Itoa(len(q.Questions)))
		case after.OK(row) && d.After > len(q.Asked):
			f.OutOf(after.Path(row), after.Raw(row), f.Speak.Form("after_more", d.After), strconv.Itoa(d.After), strconv.Itoa(len(q.Asked)))
		}
		q.Decisions = append(q.Decisions, d)
	}
	q.again = at.Given(r) && at.OK(r)
	q.at = q.working(q.again, at.Of(r)-1)
	q.draft = q.decisionOf(r, q.at)
	q.draft.After = len(q.Asked)
	figure := value.Value(r)
	q.texts, q.figure = textsOf(r), value.Raw(r)
	q.texts.value = figure.Digits
	for _, row := range drafts.Of(r) {
		if i := ofQuestion.Of(row) - 1; ofQuestion.OK(row) && i >= 0 {
			q.drafts[i] = textsOf(row)
		}
	}
	f.Rehint(value.Path(r), tool.Syntax, "figure")
	if behind := figure.Unit.Symbol; figure.Digits != "" && behind != "1" {
		q.readUnit(behind, r, f)
	}
}

// readUnit takes the unit that was typed behind the figure as chosen, if the question that is worked on offers it.
func (q *question) readUnit(behind string, r *tool.Record, f *tool.Faults) {
	if q.at >= len(q.Questions) || q.Questions[q.at].Kind.Hides() {
		return
	}
	task, path, given := q.Task(q.at, q.name), value.Path(r), value.Raw(r)
	switch chosen := q.texts.unit; {
	case !slices.Contains(task.Offered(), behind):
		var signs []string
		for _, symbol := range task.Offered() {
			signs = append(signs, f.Speak.Say("unit="+symbol))
		}
		typed, _ := unitNamed(behind)
		f.Add(tool.Fault{Field: path, Code: tool.WrongUnit, Given: given}, "unit", given, typed.Sign, f.Speak.List(signs...))
	case chosen != "" && chosen != behind:
		f.Conflict(path, given, "two_units", given, f.Speak.Say("unit="+chosen))
	default:
		q.texts.unit = behind
	}
}

// readAsked reads the readings that were asked for.
func (q *question) readAsked(hides int, r *tool.Record, f *tool.Faults) {
	rows := asked.Of(r)
	if len(rows) > 0 && hides < 0 && questions.OK(r) && len(q.Questions) > 0 {
		f.Conflict("asked", "", "nothing_hidden")
		return
	}
	if hides < 0 {
		return
	}
	m := q.Questions[hides].Circuit()
	var seen [circuit.Tests]bool
	for _, row := range rows {
		t := test.Of(row)
		switch {
		case !test.OK(row) || seen[t]:
		case !t.Possible(m.Side, m.Return):
			f.Conflict(test.Path(row), test.Raw(row), "not_here", f.Speak.Say("circuit.readings.test="+t.String()))
		default:
			seen[t] = true
			q.Asked = append(q.Asked, t)
		}
	}
}

// decisionOf reads what is decided, or worked on, on a question. The fields of both have the same names.
func (q *question) decisionOf(r *tool.Record, of int) worksheet.Decision {
	d := worksheet.Decision{Question: of}
	if repair.Given(r) && repair.OK(r) {
		which := repair.Of(r)
		d.Repair = &which
	}
	d.Answer = worksheet.Answer{Number: value.Of(r), Given: value.Given(r) && value.OK(r), Unit: chosen(unit, r),
		Condition: chosen(condition, r), Decision: chosen(decision, r), Reason: chosen(reason, r)}
	return d
}

// textsOf returns what is worked on as it was typed, or a row of what is put aside.
func textsOf(r *tool.Record) draftTexts {
	return draftTexts{repair.Raw(r), value.Raw(r), unit.Raw(r), condition.Raw(r), decision.Raw(r), reason.Raw(r)}
}

func chosen(field tool.ChoiceField[string], r *tool.Record) string { return field.Of(r) }

// working returns the question that is worked on: the one that was opened, or the first without a decision.
func (q *question) working(opened bool, at int) int {
	if opened && at < len(q.Questions) {
		return at
	}
	for i := range q.Questions {
		if !slices.ContainsFunc(q.Decisions, func(d worksheet.Decision) bool { return d.Question == i }) {
			return i
		}
	}
	return 0
}
