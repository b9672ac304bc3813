package worksheet

import (
	"strconv"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	setup "ohmwright/core/tools/circuit"
	"ohmwright/core/wording"
	"ohmwright/core/worksheet"
)

type result struct {
	Overall   string           `json:"overall"`
	Title     string           `json:"heading"`
	Name      string           `json:"name"`
	Questions []questionResult `json:"questions"`
	Undecided int              `json:"undecided"`
	Marks     float64          `json:"marks"`
	Link      string           `json:"link"`
	HandIn    string           `json:"hand_in,omitempty"`
	Handed    string           `json:"handed"`
	Due       string           `json:"due"`
	Samples   []sampleResult   `json:"samples"`
}

type sampleResult struct {
	Name      string           `json:"name"`
	Questions []questionResult `json:"questions"`
}

type questionResult struct {
	Kind     string          `json:"kind"`
	Level    string          `json:"level"`
	Facts    []factResult    `json:"facts"`
	CodeKind *string         `json:"code_kind,omitempty"`
	Readings []readingResult `json:"readings"`
	Minutes  float64         `json:"minutes"`
	Steps    int             `json:"steps"`
	Decision *decidedResult  `json:"decision,omitempty"`
	Later    []decidedResult `json:"later"`
	Solution *solutionResult `json:"solution,omitempty"`
}

type factResult struct {
	Name  string      `json:"name"`
	Given string      `json:"given"`
	Value tool.Amount `json:"value"`
}

type readingResult struct {
	Test    string       `json:"test"`
	Value   *tool.Amount `json:"value,omitempty"`
	Over    bool         `json:"over"`
	Minutes float64      `json:"minutes"`
}

type decidedResult struct {
	Right     bool         `json:"right"`
	Marks     float64      `json:"marks"`
	Supported *float64     `json:"supported,omitempty"`
	Minutes   *float64     `json:"minutes,omitempty"`
	Best      *float64     `json:"best_minutes,omitempty"`
	Parts     []partResult `json:"parts"`
	Slip      string       `json:"slip"`
}

type partResult struct {
	Part   string  `json:"part"`
	Right  bool    `json:"right"`
	Earned float64 `json:"earned"`
	Of     float64 `json:"of"`
}

type solutionResult struct {
	Fault     string       `json:"fault,omitempty"`
	Repair    string       `json:"repair,omitempty"`
	Tests     []string     `json:"tests"`
	Value     *tool.Amount `json:"value,omitempty"`
	Condition string       `json:"condition,omitempty"`
	Decision  string       `json:"decision,omitempty"`
	Reason    string       `json:"reason,omitempty"`
}

func tell(q question, f finding, a *tool.Answer) *result {
	res := &result{Overall: string(f.overall), Title: q.title, Name: q.name, Questions: []questionResult{}, Undecided: f.Undecided,
		Marks: f.Marks,
		Link:  q.link, Handed: q.handed, Due: q.due, Samples: []sampleResult{}}
	for _, s := range f.samples {
		one := sampleResult{Name: s.name, Questions: []questionResult{}}
		for _, w := range s.Questions {
			of := tellQuestion(w)
			of.Solution = solutionOf(w)
			one.Questions = append(one.Questions, of)
		}
		res.Samples = append(res.Samples, one)
	}
	told := false
	for _, w := range f.Questions {
		one := tellQuestion(w)
		if q.solved(w) {
			one.Solution, told = solutionOf(w), true
			if !a.Brief {
				steps(w, a)
			}
		}
		res.Questions = append(res.Questions, one)
	}
	if !told {
		a.Brief = false // there is no working to leave out
	}
	if len(q.Decisions) > 0 && f.overall != Unnamed && q.role == Student {
		res.HandIn = q.handIn
	}
	return res
}

func tellQuestion(w worksheet.Worked) questionResult {
	r := questionResult{Kind: w.Kind.String(), Level: w.Level.String(), Facts: []factResult{}, Readings: []readingResult{}, Minutes: w.Minutes,
		Later: []decidedResult{}}
	if w.Hidden != nil {
		r.Steps = len(w.Hidden.Way)
		code := w.Hidden.Code.String()
		r.CodeKind = &code
	} else {
		r.Steps = len(w.Task.Lines)
	}
	for _, fact := range factsOf(w) {
		r.Facts = append(r.Facts, factResult{fact.Name, plain(fact.Figure), tool.Plain(fact.Kind, fact.In())})
	}
	for _, p := range w.Readings {
		r.Readings = append(r.Readings, readingResult{p.Test.String(), setup.TellReading(p.Reading), p.Over, p.Minutes})
	}
	if w.First != nil {
		first := tellDecided(*w.First)
		r.Decision = &first
	}
	for _, d := range w.Later {
		r.Later = append(r.Later, tellDecided(d))
	}
	return r
}

func factsOf(w worksheet.Worked) []worksheet.Fact {
	if w.Hidden != nil {
		return w.Hidden.Facts
	}
	return w.Task.Facts
}

// plain writes a figure as a request would have it.
func plain(f worksheet.Figure) string {
	return strings.TrimSuffix(strconv.FormatFloat(f.Number(), 'f', f.Decimals, 64)+" "+f.Unit, " 1")
}

func tellDecided(d worksheet.Decided) decidedResult {
	r := decidedResult{Right: d.Right(), Marks: d.Marks, Parts: []partResult{}}
	if d.Fault != nil {
		r.Supported, r.Minutes, r.Best = &d.Fault.Supported, &d.Fault.Minutes, &d.Fault.Best
		return r
	}
	r.Slip = string(d.Task.Slip)
	for _, p := range parts(d.Task) {
		r.Parts = append(r.Parts, partResult{p.name, p.Right, p.Earned, p.Of})
	}
	return r
}

// A namedPart is a part of an answer with its name in a result.
type namedPart struct {
	name string
	worksheet.Part
}

func parts(m *worksheet.Marked) []namedPart {
	return []namedPart{{"value", m.Value}, {"unit", m.Unit}, {"condition", m.Condition}, {"decision", m.Decision}, {"reason", m.Reason}}
}

func solutionOf(w worksheet.Worked) *solutionResult {
	r := &solutionResult{Tests: []string{}}
	if h := w.Hidden; h != nil {
		r.Fault, r.Repair = h.Fault.String(), h.Fault.Repair().String()
		for _, t := range h.Way {
			r.Tests = append(r.Tests, t.String())
		}
		return r
	}
	r.Value = tool.Some(tool.Plain(w.Task.Kind, w.Task.Value))
	r.Condition, r.Decision, r.Reason = w.Task.Condition, w.Task.Decision, w.Task.Reason
	return r
}

// steps writes the working of a question, line by line.
func steps(w worksheet.Worked, a *tool.Answer) {
	if w.Hidden != nil {
		for _, s := range w.Hidden.Solution() {
			what := a.Speak.Say("named", setup.TestName(a.Speak, s.Test), setup.Shown(a.Speak, s.Reading))
			a.Step("reading", "p(repair | readings)", what, tool.Plain(quantity.OfRatio, s.P), "circuit",
				setup.RepairName(a.Speak, s.Repair))
		}
		return
	}
	for _, l := range w.Task.Lines {
		a.Step(l.What, l.Formula, with(l, a.Speak), tool.Plain(l.Kind, l.Value), l.Source)
	}
}

// with puts the numbers into a line of the solution.
func with(l worksheet.Line, s *wording.Speaker) string {
	text := l.With
	for _, f := range l.Figures {
		text = strings.Replace(text, "?", s.Number(f.Number(), f.Decimals), 1)
	}
	return text
}
