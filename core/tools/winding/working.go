package winding

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

// readingSteps writes the steps from the reading to the resistance at the reference temperature.
func readingSteps(q question, f winding.Finding, a *tool.Answer) {
	s, w := a.Speak, f.Winding
	formula, with := undone(q, a)
	a.Step("winding", formula, with+" = "+s.Ohms(w.Value, w.U), *uncertain(w), "arithmetic")
	read := float64(q.Reading.Ohms)
	half, u := q.Meter.HalfWidth(read), q.Meter.U(read)
	accuracy := fmt.Sprintf("a = %s × %s %% + %s × %s = %s;  u = %s", s.Ohms(read, 0), s.Typed(q.Meter.Percent), s.Typed(q.Meter.Counts),
		s.Ohms(q.Meter.Resolution, 0), s.Ohms(half, half/10), s.Ohms(u, u))
	a.Step("meter", "a = r × p + n × d;  u = a/√3", accuracy, tool.Of(ohms(u)), "gum437")
	budgetStep(q, a)
	shown := slices.ContainsFunc(q.Rows, func(row winding.Row) bool { return row.Span == nil && row.At == q.Reference })
	if q.Reference != q.At && !shown {
		correction := bench.Correction(s, w.Value, f.AtReference, q.Measurement, q.Reference)
		a.Step("reference", bench.CorrectionFormula, correction, *uncertain(f.AtReference), bench.SourceOf(q.Material))
	}
}

// undone says how leads, wiring and arrangement are removed from the reading: as a formula, and with the numbers put in.
func undone(q question, a *tool.Answer) (formula, with string) {
	formula, with = "r", a.Speak.Ohms(float64(q.Reading.Ohms), 0)
	if q.LeadsGiven {
		formula, with = formula+" − r_leads", with+" − "+a.Speak.Ohms(float64(q.Leads), 0)
	}
	if q.Loom != 0 {
		formula, with = formula+" − r_loom", with+" − "+a.Speak.Ohms(float64(q.Loom), 0)
	}
	switch {
	case q.Arrangement.Series > 1:
		formula, with = "("+formula+") / n", "("+with+") / "+strconv.Itoa(q.Arrangement.Series)
	case q.Arrangement.Parallel > 1:
		formula, with = "("+formula+") × n", "("+with+") × "+strconv.Itoa(q.Arrangement.Parallel)
	}
	return "R = " + formula, "R = " + with
}

// budgetStep writes how the uncertainties add up to that of the winding at the reference temperature.
func budgetStep(q question, a *tool.Answer) {
	total := q.Corrected(q.Reference)
	formula, with := []string{}, []string{}
	for _, c := range q.Budget(q.Reference) {
		formula = append(formula, "u("+string(c.Of)+")²")
		with = append(with, a.Speak.Ohms(c.U, total.U/10)+"²")
	}
	sum := "u = √(" + strings.Join(with, " + ") + ") = " + a.Speak.Ohms(total.U, total.U/10)
	a.Step("budget", "u = √("+strings.Join(formula, " + ")+")", sum, tool.Of(ohms(total.U)), "gum512",
		a.Speak.Celsius(float64(q.Reference), 0))
}

// rowSteps writes the correction to a row's temperature, and the chance of being within the row.
func rowSteps(q question, f winding.Finding, i int, a *tool.Answer) {
	r, name, s := f.Rows[i], q.rows[i].name, a.Speak
	if r.Span != nil {
		a.Step("row_span", "R = R", "R = "+s.Ohms(f.Winding.Value, f.Winding.U), *uncertain(f.Winding), "row_span", name)
	} else {
		correction := bench.Correction(s, f.Winding.Value, r.Corrected, q.Measurement, r.At)
		a.Step("row", bench.CorrectionFormula, correction, *uncertain(r.Corrected), bench.SourceOf(q.Material), name)
	}
	if r.Outside || r.Corrected.U == 0 {
		return
	}
	formula, with := chance(r.Corrected, r.Band, a)
	sum := "p = 1 − " + strings.Join(with, " − ") + " = " + s.Number(r.Chance.Within, 3)
	a.Step("chance", "p = 1 − "+strings.Join(formula, " − "), sum, tool.Plain(quantity.OfRatio, r.Chance.Within), "jcgm106", name)
}

// chance returns what is subtracted from 1 for each end of a band. Its numbers have one figure more than is meaningful, so
// that the chance can be recalculated from what is printed.
func chance(e measure.Estimate, b measure.Band, a *tool.Answer) (formula, with []string) {
	value, u := a.Speak.Ohms(e.Value, e.U/10), a.Speak.Ohms(e.U, e.U/10)
	if b.HasMin() {
		formula = append(formula, "Φ((min − R)/u)")
		with = append(with, "Φ(("+a.Speak.Ohms(b.Min, 0)+" − "+value+")/"+u+")")
	}
	if b.HasMax() {
		formula = append(formula, "Φ((R − max)/u)")
		with = append(with, "Φ(("+value+" − "+a.Speak.Ohms(b.Max, 0)+")/"+u+")")
	}
	return formula, with
}
