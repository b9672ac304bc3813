package tool

import (
	"math"
	"strings"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/winding"
)

// layWinding lays out what a reading says about a winding.
func layWinding(r *Record, a *Answer) (head, why *sheet.Element, body []*sheet.Element) {
	res := a.Result.(windingResult)
	m := measurementOf(r, r)
	mark, word := overall(res, m.Reading.Over)
	if a.warned("near_zero") && word != "below" && word != "disagree" {
		mark, word = sheet.MarkBelow, "near_zero"
	}
	head = sheet.Verdict(mark, word, a.Speak.Say("winding.word."+word), a.headline(r, m, res))
	if text := a.why(r, m, res); text != "" {
		why = sheet.Text("p", "why", text)
	}
	if !m.Reading.Over {
		body = append(body, a.bandDrawing(r, m, res))
	}
	if len(res.Specs) > 0 {
		body = append(body, a.rowSheets(r, m, res))
	}
	if button := a.carryWinding(r); button != nil {
		body = append(body, button)
	}
	if c := res.Comparison; c != nil {
		text := a.Speak.Say("winding.comparison." + c.Verdict)
		if c.Ratio != nil {
			text += " " + a.Speak.Say("winding.comparison.ratio", a.Speak.Number(c.Ratio.Value, 2), a.Speak.Number(2*c.Ratio.u(), 2))
		}
		body = append(body, a.section("comparison", sheet.New("p data-verdict=?", c.Verdict).Say(text)))
	}
	if d := res.Driver; d != nil {
		text := ""
		if d.Current != nil {
			text = a.Speak.Say("winding.driver.current", a.Speak.PlusMinus(quantity.OfCurrent, d.Current.Value, d.Current.u()), a.Speak.Celsius(float64(m.At), 0))
		}
		if d.WithinLimit != "" {
			text = strings.TrimSpace(text + " " + a.Speak.Say("winding.driver."+d.WithinLimit))
		}
		body = append(body, a.section("driver", sheet.New("p data-verdict=?", d.WithinLimit).Say(text)))
	}
	if !m.Reading.Over {
		body = append(body, a.carryPulsed(r, res.Winding.Value, r))
	}
	return head, why, body
}

// overall is the one word for all rows together. Rows that do not cover the temperature have no say.
func overall(res windingResult, open bool) (sheet.Mark, string) {
	switch {
	case open:
		return sheet.MarkOpen, "open"
	case len(res.Specs) == 0:
		return sheet.MarkWaiting, "no_spec"
	case disagree(res.Specs):
		return sheet.MarkDisagree, "disagree"
	}
	word := ""
	for _, s := range res.Specs {
		if outside := s.PWithin == nil; !outside && word != string(measure.Undecided) {
			word = s.Verdict
		}
	}
	if word == "" {
		word = string(measure.Undecided)
	}
	return sheet.Mark(word), word
}

// headline is the number under the word: the winding at the row's temperature, or at the reference.
func (a *Answer) headline(r *Record, m winding.Measurement, res windingResult) string {
	if m.Reading.Over {
		return a.Speak.Say("winding.headline.open")
	}
	value, at := *res.AtReference, r.Value("reference")
	if rows := r.Rows("specs"); len(rows) > 0 {
		row := rowOf(rows[0])
		value, at = *res.Specs[0].Corrected, float64(row.At)
		if row.Span != nil {
			at = float64(m.At)
		}
	}
	return a.Speak.Say("winding.headline", a.Speak.PlusMinus(quantity.OfResistance, value.Value, value.u()), a.Speak.Celsius(at, 0))
}

// bandText is a band in words: "5 to 5.6 Ω", "at least 13 Ω", "at most 4 Ω".
func (a *Answer) bandText(b measure.Band, u float64) string {
	lo, hi := a.Speak.Ohms(b.Min, u), a.Speak.Ohms(b.Max, u)
	switch {
	case !b.HasMax():
		return a.Speak.Say("winding.band.least", lo)
	case !b.HasMin():
		return a.Speak.Say("winding.band.most", hi)
	}
	return a.Speak.Say("winding.band", lo, hi)
}

// why is the reason in a sentence or two.
func (a *Answer) why(r *Record, m winding.Measurement, res windingResult) string {
	say := a.Speak.Say
	if m.Reading.Over {
		return ""
	}
	if len(res.Specs) == 0 {
		return say("winding.why.no_spec")
	}
	rows := r.Rows("specs")
	_, word := overall(res, false)
	if word == "disagree" {
		return say("winding.why.disagree")
	}
	row, s := rowOf(rows[0]), res.Specs[0]
	var parts []string
	if s.PWithin == nil {
		return say("winding.why.outside")
	}
	p := map[string]*float64{"below": s.PBelow, "within": s.PWithin, "above": s.PAbove, "undecided": s.PWithin}[s.Verdict]
	parts = append(parts, say("winding.why."+s.Verdict, a.bandText(row.Band, 0), a.Speak.Chance(*p)))
	raw := measure.Conform(m.Winding(), row.Band).Verdict()
	if row.Span == nil && s.Verdict == "within" && raw != measure.Within && math.Abs(float64(m.At-row.At)) > 5 {
		parts = append(parts, say("winding.why.temperature_explains", a.Speak.Ohms(res.Winding.Value, res.Winding.u()), a.Speak.Celsius(float64(m.At), 0)))
	}
	if s.HealthyAt != nil && s.Verdict != "within" {
		parts = append(parts, say("winding.why.healthy_at", a.Speak.Celsius(math.Round(s.HealthyAt.Value), 0)))
	}
	if f := s.ShortedFraction; f != nil && s.Verdict == "below" {
		if f.Max != nil {
			parts = append(parts, say("winding.why.shorted", a.Speak.Percent(f.Min), a.Speak.Percent(*f.Max)))
		} else {
			parts = append(parts, say("winding.why.shorted_least", a.Speak.Percent(f.Min)))
		}
	}
	return strings.Join(parts, " ")
}

// rowSheets lays the rows out as cards.
func (a *Answer) rowSheets(r *Record, m winding.Measurement, res windingResult) *sheet.Element {
	say := a.Speak.Say
	list := sheet.New("ul class=rows")
	for i, s := range res.Specs {
		row := rowOf(r.Rows("specs")[i])
		word := s.Verdict
		card := sheet.New("li class=? data-verdict=?", "row v-"+s.Verdict, s.Verdict).With(
			sheet.New("div class=row-head").With(sheet.Glyph(sheet.Mark(s.Verdict)), sheet.Text("strong", "", s.Name), sheet.Text("span", "row-word", say("winding.word."+word))))
		at := say("winding.at_temperature", a.bandText(row.Band, 0), a.Speak.Celsius(float64(row.At), 0))
		if row.Span != nil {
			at = say("winding.at_span", a.bandText(row.Band, 0), spanText(a.Speak, row.Span))
		}
		card = card.With(sheet.Text("p", "row-band", at))
		if row.Span == nil && row.At != m.At {
			now := m.BandNow(row)
			u := 0.02 * math.Max(finiteOr(now.Min, 0), 0.05)
			card = card.With(sheet.Text("p", "row-now", say("winding.now", a.bandText(now, u), a.Speak.Celsius(float64(m.At), 0))))
		}
		if s.PWithin != nil {
			label := say("winding.chances", a.Speak.Chance(*s.PBelow), a.Speak.Chance(*s.PWithin), a.Speak.Chance(*s.PAbove))
			card = card.With(sheet.Chances(*s.PBelow, *s.PWithin, *s.PAbove, label), sheet.Text("p", "row-chances", label))
		}
		if owner := r.Rows("specs")[i]; owner.Given("applies_to") || owner.Given("source") {
			card = card.With(sheet.Text("p", "row-source", strings.Trim(strings.Join([]string{owner.Text("applies_to"), owner.Text("source")}, " · "), " ·")))
		}
		list = list.With(card)
	}
	return a.section("rows", list)
}

func finiteOr(v, otherwise float64) float64 {
	if finite(v) {
		return v
	}
	return otherwise
}
