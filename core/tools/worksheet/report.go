package worksheet

import "ohmwright/core/tool"

// A Report is what a teacher's table has of a student's work.
type Report struct {
	Name, Handed, Due string
	Questions         []Reported
	Undecided         int
	Marks             float64 // the mean over all questions; an undecided one earns nothing
}

// A Reported is one question of it.
type Reported struct {
	Decided, Right bool
	Marks          float64
	Fault          bool    // it hides a fault
	Supported      float64 // of a hidden fault
	Minutes, Best  float64 // of a hidden fault
	Slip           string
	Later          int // tries that are not marked
}

// ReportOf returns the report of a request that was answered; ok is false if it was refused, or is no student's.
func ReportOf(o tool.Outcome) (r Report, ok bool) {
	if o.Answer == nil {
		return r, false
	}
	res, ok := o.Answer.Result.(*result)
	if !ok || res.Overall == string(SetOut) || res.Overall == string(Unnamed) {
		return r, false
	}
	r = Report{Name: res.Name, Handed: res.Handed, Due: res.Due, Undecided: res.Undecided, Marks: res.Marks}
	for _, q := range res.Questions {
		one := Reported{Later: len(q.Later), Fault: q.CodeKind != nil}
		if d := q.Decision; d != nil {
			one.Decided, one.Right, one.Marks, one.Slip = true, d.Right, d.Marks, d.Slip
			if d.Supported != nil {
				one.Supported, one.Minutes, one.Best = *d.Supported, *d.Minutes, *d.Best
			}
		}
		r.Questions = append(r.Questions, one)
	}
	return r, true
}
