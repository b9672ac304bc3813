package exercise

import (
	"ohmwright/core/bench"
	"ohmwright/core/lesson"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	setup "ohmwright/core/tools/circuit"
	"ohmwright/core/wording"
)

type result struct {
	Overall  string        `json:"overall"`
	Stop     string        `json:"stop,omitempty"`
	CodeKind string        `json:"code_kind"`
	Readings []askedResult `json:"readings"`
	Minutes  float64       `json:"minutes"`
	Found    *foundResult  `json:"found,omitempty"`
}

type askedResult struct {
	Test     string               `json:"test"`
	Value    *tool.Amount         `json:"value,omitempty"`
	Over     bool                 `json:"over"`
	Minutes  float64              `json:"minutes"`
	Expected setup.ExpectedResult `json:"expected"`
}

type foundResult struct {
	Right  bool      `json:"right"`
	Fault  string    `json:"fault"`
	Repair string    `json:"repair"`
	Cost   float64   `json:"cost"`
	Best   wayResult `json:"best"`
	Score  float64   `json:"score"`
	// Supported is the probability of the repair named, given the readings asked for.
	Supported float64 `json:"supported"`
}

type wayResult struct {
	Tests   []string `json:"tests"`
	Repair  string   `json:"repair"`
	Right   bool     `json:"right"`
	Minutes float64  `json:"minutes"`
	Cost    float64  `json:"cost"`
}

func tell(q question, f finding, a *tool.Answer) *result {
	if f.stop != "" {
		a.Brief = false
		f.stop.Tell(a)
		return &result{Overall: bench.Stopped, Stop: string(f.stop), Readings: []askedResult{}}
	}
	res := &result{Overall: string(f.Overall), CodeKind: f.Code.String(), Readings: []askedResult{}, Minutes: f.Minutes}
	for _, p := range f.Readings {
		expected := setup.TellExpected(p.Test, p.Healthy)
		res.Readings = append(res.Readings, askedResult{p.Test.String(), setup.TellReading(p.Reading), p.Over, p.Minutes, expected})
	}
	if f.Marked == nil {
		a.Brief = false // before an answer there is no working to leave out
		return res
	}
	res.Found = found(f.Marked)
	if !a.Brief {
		steps(q, f.Finding, a)
	}
	return res
}

// found returns what was hidden, and the marks.
func found(m *lesson.Marked) *foundResult {
	best := wayResult{Tests: []string{}, Repair: m.Best.Repair.String(), Right: m.Best.Right, Minutes: m.Best.Minutes, Cost: m.Best.Cost}
	for _, t := range m.Best.Tests {
		best.Tests = append(best.Tests, t.String())
	}
	return &foundResult{
		Right: m.Own.Right, Fault: m.Fault.String(), Repair: m.Fault.Repair().String(), Cost: m.Own.Cost, Best: best, Score: m.Marks.Marks,
		Supported: m.Supported,
	}
}

// steps writes the working: what the learner's way cost, and how it is marked.
func steps(q question, f lesson.Finding, a *tool.Answer) {
	s, own, m, hour := a.Speak, f.Marked.Own, f.Marked.Marks, q.Model.Hour
	vain := s.Whole(own.Cost - f.Minutes/60*hour)
	cost := s.Number(f.Minutes, 0) + " × " + setup.Minutes(s, hour) + "/60 + " + vain + " = " + s.Number(own.Cost, 1)
	a.Step("cost", "C = t × c_hour/60 + c_wrong", cost, tool.Amount{Value: own.Cost, Unit: "1"}, "decision")
	a.Step("supported", "p(f|r)", s.Number(m.Supported, 3), tool.Plain(quantity.OfRatio, m.Supported), "bayes_chain")
	const score = "M_right = (1/3 + 2/3 s) F;  M_wrong = s/4 F;  F = 1 − 0.45 l;  l = (t − t_best)/(t_all − t_best);  s = (p − 0.5)/0.45;  " +
		"0 ≤ l, s ≤ 1"
	a.Step("score", score, marked(m, s), tool.Plain(quantity.OfRatio, m.Marks/100), "own_marks")
}

// marked is how the marks follow, with numbers put in.
func marked(m lesson.Marks, s *wording.Speaker) string {
	n := func(v float64) string { return s.AtMost(v, 4) }
	worth := "s/4"
	if m.Right {
		worth = "1/3 + 2/3 × " + n(m.Support)
	}
	return "p = " + n(m.Supported) + ";  s = " + n(m.Support) +
		";  l = (" + n(m.Minutes) + " − " + n(m.Best) + ")/(" + n(m.Most) + " − " + n(m.Best) + "), " + n(m.Late) +
		";  F = " + n(m.Kept) + ";  M = (" + worth + " = " + n(m.Worth) + ") × " + n(m.Kept) + " = " + n(m.Marks/100)
}
