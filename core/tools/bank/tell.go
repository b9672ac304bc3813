package bank

import (
	"math"
	"slices"
	"strconv"

	"ohmwright/core/bank"
	"ohmwright/core/bench"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

type result struct {
	Overall  string          `json:"overall"`
	Count    int             `json:"count"`
	Windings []windingResult `json:"windings"`
	Pins     []pinResult     `json:"pins"`
	Shared   *sharedResult   `json:"shared,omitempty"`
}

type windingResult struct {
	Name        string            `json:"name"`
	Winding     *tool.Amount      `json:"winding,omitempty"`
	AtReference *tool.Amount      `json:"at_reference,omitempty"`
	Verdict     string            `json:"verdict"`
	Corrected   *tool.Amount      `json:"corrected,omitempty"`
	BandNow     *bandResult       `json:"band_now,omitempty"`
	PBelow      *float64          `json:"p_below,omitempty"`
	PWithin     *float64          `json:"p_within,omitempty"`
	PAbove      *float64          `json:"p_above,omitempty"`
	Comparison  *comparisonResult `json:"comparison,omitempty"`
	Other       *otherResult      `json:"other,omitempty"`
	Alike       *alikeResult      `json:"alike,omitempty"`
	ToCase      string            `json:"to_case,omitempty"`
	Explained   bool              `json:"explained,omitempty"`
}

type bandResult struct {
	Min *tool.Amount `json:"min,omitempty"`
	Max *tool.Amount `json:"max,omitempty"`
}

type comparisonResult struct {
	Ratio   *tool.Amount `json:"ratio,omitempty"`
	Verdict string       `json:"verdict"`
}

type otherResult struct {
	Winding *tool.Amount `json:"winding,omitempty"`
	Verdict string       `json:"verdict"`
}

type alikeResult struct {
	Ratio   *tool.Amount `json:"ratio"`
	Of      int          `json:"of"`
	P       float64      `json:"p"`
	Verdict string       `json:"verdict"`
}

type pinResult struct {
	From    string       `json:"from"`
	To      string       `json:"to"`
	Ratio   *tool.Amount `json:"ratio,omitempty"`
	Verdict string       `json:"verdict"`
}

type sharedResult struct {
	Factor *tool.Amount `json:"factor"`
	Side   string       `json:"side"`
	Of     int          `json:"of"`
	FitsAt *tool.Amount `json:"fits_at"`
	Second string       `json:"second"`
}

func tell(q question, f finding, a *tool.Answer) *result {
	res := &result{Overall: string(f.Overall), Count: f.Count, Windings: []windingResult{}, Pins: []pinResult{}}
	a.Caution("ohms_unpowered", "hot_body")
	for i, j := range f.Rows {
		res.Windings = append(res.Windings, tellWinding(q.names[i], j))
	}
	for i, p := range f.Pins {
		out := pinResult{From: q.pins[i][0], To: q.pins[i][1], Verdict: string(p.Verdict)}
		if p.Ratio != nil {
			out.Ratio = inRatio(*p.Ratio)
		}
		res.Pins = append(res.Pins, out)
	}
	if s := f.Shared; s != nil {
		res.Shared = &sharedResult{Factor: inRatio(s.Factor), Side: string(s.Side), Of: s.Rows,
			FitsAt: tool.Some(tool.Estimated(quantity.OfTemperature, s.FitsAt)), Second: string(s.Second)}
		warnShared(q, *s, a)
	}
	warnRows(q, f, a)
	if !a.Brief {
		steps(q, f, a)
	}
	a.Caution("plausible_only", "maker_first")
	return res
}

func inOhms(e measure.Estimate) *tool.Amount {
	return tool.Some(tool.Estimated(quantity.OfResistance, e))
}
func inRatio(e measure.Estimate) *tool.Amount { return tool.Some(tool.Estimated(quantity.OfRatio, e)) }

// verdictOf is the verdict on one winding: the winding tool's overall, or that it was not read.
func verdictOf(j bank.Judged) string {
	if !j.Read {
		return string(bank.NotRead)
	}
	return string(j.Winding.Overall)
}

func tellWinding(name string, j bank.Judged) windingResult {
	out := windingResult{Name: name, Verdict: verdictOf(j), ToCase: string(j.ToCase), Explained: j.Explained}
	if o := j.Other; o != nil {
		out.Other = &otherResult{Verdict: string(o.Overall)}
		if !o.Open {
			out.Other.Winding = inOhms(o.Winding)
		}
	}
	if !j.Read {
		return out
	}
	if !j.Winding.Open {
		out.Winding, out.AtReference = inOhms(j.Winding.Winding), inOhms(j.Winding.AtReference)
	}
	for _, r := range j.Winding.Rows {
		out.BandNow = bandOf(r.BandNow)
		if !j.Winding.Open {
			out.Corrected = inOhms(r.Corrected)
			out.PBelow, out.PWithin, out.PAbove = &r.Chance.Below, &r.Chance.Within, &r.Chance.Above
		}
	}
	if c := j.Comparison; c != nil {
		out.Comparison = &comparisonResult{Verdict: string(c.Verdict)}
		if c.HasRatio {
			out.Comparison.Ratio = inRatio(c.Ratio)
		}
	}
	if l := j.Alike; l != nil {
		out.Alike = &alikeResult{Ratio: inRatio(l.Ratio), Of: l.Of, P: l.P, Verdict: string(l.Verdict)}
	}
	return out
}

func bandOf(b measure.Band) *bandResult {
	out := &bandResult{}
	if b.HasMin() {
		out.Min = tool.Some(tool.Of(ohms(b.Min)))
	}
	if b.HasMax() {
		out.Max = tool.Some(tool.Of(ohms(b.Max)))
	}
	return out
}

// warnShared says plainly that the whole bank is off by one factor, and what is likelier than so many bad windings.
func warnShared(q question, s bank.Shared, a *tool.Answer) {
	speak := a.Speak
	a.WarnBy("off_together."+string(s.Side), "off_together", "at", strconv.Itoa(s.Rows), speak.Number(s.Factor.Value, 2),
		speak.Number(2*s.Factor.U, 2), speak.Celsius(float64(q.Base.At), 0), speak.Celsius(math.Round(s.FitsAt.Value), 0))
	if s.Second != bank.SecondSilent {
		a.WarnBy("off_together.second_"+string(s.Second), "second_unit", "windings")
	}
	if leadsExplain(q, s) {
		a.Warn("off_together_leads", "leads")
	}
}

// leadsExplain reports whether leads that were not taken off may be what all windings share: not where the second unit, read with the
// same ones, fits.
func leadsExplain(q question, s bank.Shared) bool {
	return !q.Base.LeadsGiven && s.Side == measure.Above && s.Second != bank.SecondFits
}

// warnRows warns of what readings have in common, once for all rows.
func warnRows(q question, f finding, a *tool.Answer) {
	var doubts []winding.Doubt
	for _, j := range f.Rows {
		for _, d := range j.Winding.Doubts {
			if !slices.Contains(doubts, d) {
				doubts = append(doubts, d)
			}
		}
	}
	if slices.Contains(doubts, winding.LeadsMissing) && (f.Shared == nil || !leadsExplain(q, *f.Shared)) {
		a.Warn("leads_missing", "leads")
	}
	if slices.Contains(doubts, winding.AnyTemperature) {
		s := a.Speak
		a.Warn("any_temperature", "at", s.Celsius(float64(winding.Anywhere.From), 0), s.Celsius(float64(winding.Anywhere.To), 0))
	}
	odd := namesWhere(q, f, a.Speak, func(j bank.Judged) bool { return isLike(bank.LikeOdd)(j) && j.Of() != bank.Out })
	if odd != "" { // of one that is out its row says it
		a.Warn("odd", "windings", odd, a.Speak.Percent(float64(q.AlikeWithin)), a.Speak.Percent(float64(q.FalseAlarm)))
	}
	if split := namesWhere(q, f, a.Speak, isLike(bank.LikeDisagree)); split != "" {
		a.Warn("unlike", "windings", split)
	}
	taken := namesWhere(q, f, a.Speak, func(j bank.Judged) bool {
		return len(j.Winding.Rows) == 0 && (isLike(bank.LikeOdd)(j) || isLike(bank.LikeDisagree)(j))
	})
	if taken != "" {
		a.Warn("taken_as_alike", "spec")
	}
	if open := namesWhere(q, f, a.Speak, func(j bank.Judged) bool { return j.Other != nil && j.Other.Open }); open != "" {
		a.Warn("other_open", "windings", open)
	}
	if leaks := namesWhere(q, f, a.Speak, func(j bank.Judged) bool { return j.ToCase == bank.InsulationLeaks }); leaks != "" {
		a.Warn("to_case", "windings", leaks, a.Speak.Three(quantity.OfResistance, float64(q.Insulation)))
	}
}

func isLike(l bank.Likeness) func(bank.Judged) bool {
	return func(j bank.Judged) bool { return j.Alike != nil && j.Alike.Verdict == l }
}

// namesWhere lists the windings of which something holds.
func namesWhere(q question, f finding, s *wording.Speaker, holds func(bank.Judged) bool) string {
	names := []string{}
	for i, j := range f.Rows {
		if holds(j) {
			names = append(names, q.names[i])
		}
	}
	return s.List(names...)
}

// steps writes the working: for each winding its correction and chance, and its ratio to the median of those alike.
func steps(q question, f finding, a *tool.Answer) {
	s := a.Speak
	for i, j := range f.Rows {
		if !j.Read || j.Winding.Open {
			continue
		}
		m, w := q.Base, j.Winding.Winding
		m.Reading = *q.Rows[i].Reading
		formula, with := "R = r", "R = "+s.Ohms(float64(m.Reading.Ohms), 0)
		if m.LeadsGiven {
			formula, with = "R = r − r_leads", with+" − "+s.Ohms(float64(m.Leads), 0)
		}
		a.Step("one", formula, with+" = "+s.Ohms(w.Value, w.U), *inOhms(w), "one_meter", q.names[i])
		for _, r := range j.Winding.Rows {
			a.Step("corrected", bench.CorrectionFormula, bench.Correction(s, w.Value, r.Corrected, m, r.At), *inOhms(r.Corrected),
				bench.SourceOf(m.Material), q.names[i])
		}
		if c := j.Comparison; c != nil && c.HasRatio {
			a.Step("beside", "q = R/R_second", "q = "+s.Number(c.Ratio.Value, 3), *inRatio(c.Ratio), "one_meter", q.names[i])
		}
		alikeStep(q.names[i], j.Alike, q, a)
	}
	accuracy, u := bench.Accuracy(s, quantity.OfResistance, q.Base.Meter, firstRead(q))
	a.Step("meter", bench.AccuracyFormula, accuracy, tool.Of(ohms(u)), "one_meter")
}

func alikeStep(name string, l *bank.Alike, q question, a *tool.Answer) {
	if l == nil {
		return
	}
	s := a.Speak
	with := pText(s, l.P) + "; q = " + s.Number(l.Ratio.Value, 3) + ", u = " + s.Number(l.Ratio.U, 4) + ", t = " +
		s.Percent(float64(q.AlikeWithin))
	a.Step("alike", "q = R/R_median;  p = min(1, 2 n Φ(−(|q − 1| − t)/u))", with, tool.Plain(quantity.OfRatio, l.P), "bonferroni", name)
}

func pText(s *wording.Speaker, p float64) string {
	if p < 0.0005 {
		return "p < " + s.Number(0.0005, 4)
	}
	return "p = " + s.Number(p, 3)
}

// firstRead is the first reading with a value, to show what the meter's accuracy is; 0 where there is none.
func firstRead(q question) float64 {
	for _, row := range q.Rows {
		if row.Reading != nil && !row.Reading.Over {
			return float64(row.Reading.Ohms)
		}
	}
	return 0
}
