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

// readingSteps writes the way from the reading to the reference as working.
func readingSteps(q question, f finding, a *tool.Answer) {
	s, w := a.Speak, f.Winding
	formula, with := undone(q, a)
	a.Step("winding", formula, with+" = "+s.Ohms(w.Value, w.U), *uncertain(w), "arithmetic")
	accuracy, u := bench.Accuracy(s, quantity.OfResistance, q.Meter, float64(q.Reading.Ohms))
	a.Step("meter", bench.AccuracyFormula, accuracy, tool.Of(ohms(u)), "one_meter")
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
	at := a.Speak.Celsius(float64(q.Reference), 0)
	a.Step("budget", "u = √("+strings.Join(formula, " + ")+")", sum, tool.Of(ohms(total.U)), "gum512", at)
}

// rowSteps writes the correction to a row's temperature, and the chance of lying within it.
func rowSteps(q question, f finding, i int, a *tool.Answer) {
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
	moves, e, band := q.AtUnknown && r.Span == nil, r.Corrected, r.Band
	if moves {
		e, band = f.Winding, r.BandNow
	}
	ends, with := chance(e, band, moves, a)
	formula := "p = 1 − " + strings.Join(ends, " − ")
	sum := "p = 1 − " + strings.Join(with, " − ") + " = " + s.Number(r.Chance.Within, 3)
	p := tool.Plain(quantity.OfRatio, r.Chance.Within)
	if moves {
		a.Step("mean_chance", formula, sum, p, "jcgm106", name, anywhere(s))
	} else {
		a.Step("chance", formula, sum, p, "jcgm106", name)
	}
}

// chance returns what is subtracted from 1 for each end of a band. Its numbers have one figure more than is meaningful, so
// that the chance can be recalculated from what is printed. A band that moves with an unknown temperature has no figures: a mean is
// taken over where it may be.
func chance(e measure.Estimate, b measure.Band, moves bool, a *tool.Answer) (formula, with []string) {
	value, u := a.Speak.Ohms(e.Value, e.U/10), a.Speak.Ohms(e.U, e.U/10)
	mean, low, high := "", "min", "max"
	if moves {
		mean, low, high = "mean ", "min(θ)", "max(θ)"
	}
	end := func(name string, v float64) string {
		if moves {
			return name
		}
		return a.Speak.Ohms(v, 0)
	}
	if b.HasMin() {
		formula = append(formula, mean+"Φ(("+low+" − R)/u)")
		with = append(with, mean+"Φ(("+end(low, b.Min)+" − "+value+")/"+u+")")
	}
	if b.HasMax() {
		formula = append(formula, mean+"Φ((R − "+high+")/u)")
		with = append(with, mean+"Φ(("+value+" − "+end(high, b.Max)+")/"+u+")")
	}
	return formula, with
}

// quotient writes the ratio of the reading to another one, both corrected to 20 °C.
func quotient(q question, other winding.Measurement, ratio measure.Estimate, a *tool.Answer) string {
	s, x, y := a.Speak, q.Corrected(20), other.Corrected(20)
	return fmt.Sprintf("q = %s/%s = %s", s.Ohms(x.Value, x.U), s.Ohms(y.Value, y.U), s.Number(ratio.Value, 3))
}

// coldSteps writes the resistance method: the temperature by two readings of one winding, and whether they follow its material.
func coldSteps(q question, w *winding.Warmed, at tool.Amount, a *tool.Answer) {
	s, warm, c := a.Speak, q.Winding(), q.Cold.Winding()
	zero := s.Number(float64(q.Material.ZeroResistanceAt), 1)
	was := s.Celsius(float64(q.Cold.At), 0)
	with := fmt.Sprintf("θ = %s + %s/%s × (%s − (%s)) = %s", zero, s.Ohms(warm.Value, warm.U), s.Ohms(c.Value, c.U), was, zero,
		s.Celsius(w.Temperature.Value, w.Temperature.U))
	a.Step("by_resistance", "θ = θ₀ + R/R_cold × (θ_cold − θ₀)", with, at, "resistance_method")
	if w.Verdict != "" {
		ratio := quotient(q, q.Cold.Measurement, w.Ratio, a)
		a.Step("follows", "q = R(20 °C)/R_cold(20 °C)", ratio, tool.Estimated(quantity.OfRatio, w.Ratio), "comparison")
	}
}
