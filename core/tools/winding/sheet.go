package winding

import (
	"math"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

// draft shows a stop before the reading is there.
func draft(q question, l *tool.Layout) { bench.HighVoltage(q.Supply).Draft(l) }

// lay lays out what a reading says about a winding.
func lay(q question, f finding, l *tool.Layout) {
	if f.stop != "" {
		f.stop.Lay(l)
		return
	}
	word := string(f.Overall)
	l.Verdict(marks[f.Overall], word, l.Speak.Say("word."+word), headline(q, f, l.Speak))
	if text := why(q, f, l.Speak); text != "" {
		l.Reason(text)
	}
	if !f.Open {
		l.Add(bandDrawing(q, f, l))
	}
	if len(f.Rows) > 0 {
		l.Add(rowCards(q, f, l))
	}
	if q.toCircuit != nil {
		l.Add(l.Carry("circuit", "sheet.carry", q.carried(f.Settled)))
	}
	if f.Comparison != nil {
		l.Add(comparisonSheet(f.Comparison, l))
	}
	if f.Warmed != nil && !f.Warmed.Open {
		l.Add(coldSheet(f.Warmed, l))
	}
	if f.Driver != nil {
		l.Add(driverSheet(q, f.Driver, l))
	}
	if !f.Open && q.toDrive != nil {
		l.Add(bench.CarryPulsed(l, f.Winding.Value, q.toDrive))
	}
}

// marks are the shapes of the verdicts.
var marks = map[winding.Overall]sheet.Mark{
	winding.OverallOpen: sheet.MarkOpen, winding.NoSpecification: sheet.MarkWaiting, winding.RowsDisagree: sheet.MarkDisagree,
	winding.Shorted: sheet.MarkBelow, winding.Overall(measure.Below): sheet.MarkBelow, winding.Overall(measure.Within): sheet.MarkWithin,
	winding.Overall(measure.Above): sheet.MarkAbove, winding.Overall(measure.Undecided): sheet.MarkUndecided,
}

// headline is the number under the word: the winding at the temperature of the row that is told of, or at the reference.
func headline(q question, f finding, s *wording.Speaker) string {
	if f.Open {
		return s.Say("headline.open")
	}
	value, at := f.AtReference, s.Celsius(float64(q.Reference), 0)
	if len(f.Rows) > 0 {
		r := f.Rows[f.Telling()]
		value, at = r.Corrected, s.Celsius(float64(r.At), 0)
		if r.Span != nil {
			at = atText(s, q.Measurement)
		}
	}
	return s.Say("headline", s.PlusMinus(quantity.OfResistance, value.Value, value.U), at)
}

// bandText writes a band in words: "5 to 5.6 Ω", "at least 13 Ω", "at most 4 Ω".
func bandText(s *wording.Speaker, b measure.Band, u float64) string {
	lo, hi := s.Ohms(b.Min, u), s.Ohms(b.Max, u)
	switch {
	case !b.HasMax():
		return s.Say("band.least", lo)
	case !b.HasMin():
		return s.Say("band.most", hi)
	}
	return s.Say("band", lo, hi)
}

// movedText writes a band moved to another temperature, with no more figures than a typed band has.
func movedText(s *wording.Speaker, b measure.Band) string {
	least := 0.0
	if b.HasMin() {
		least = b.Min
	}
	return bandText(s, b, 0.02*math.Max(least, 0.05))
}

func spanText(s *wording.Speaker, span *winding.Span) string {
	end := func(t quantity.Temperature) string {
		if math.IsInf(float64(t), 0) {
			return "…"
		}
		return s.Celsius(float64(t), 0)
	}
	return end(span.From) + " – " + end(span.To)
}

// why is the reason in a sentence or two; "" where the word says it all.
func why(q question, f finding, s *wording.Speaker) string {
	switch {
	case f.Open:
		return ""
	case len(f.Rows) == 0:
		return s.Say("why.no_specification")
	case f.Overall == winding.RowsDisagree:
		return s.Say("why.rows_disagree")
	}
	r := f.Rows[f.Telling()]
	parts := []string{}
	if f.Settled != nil {
		parts = append(parts, s.Say("why.settled", q.rows[f.Settled.Row].name))
	}
	if r.Outside {
		return strings.Join(append(parts, s.Say("why.outside")), " ")
	}
	chance := map[measure.Verdict]float64{measure.Below: r.Chance.Below, measure.Within: r.Chance.Within, measure.Above: r.Chance.Above,
		measure.Undecided: r.Chance.Within}[r.Verdict]
	parts = append(parts, s.Say("why."+string(r.Verdict), bandText(s, r.Band, 0), s.Chance(chance)))
	if r.Misleads {
		parts = append(parts, s.Say("why.temperature_explains", s.Ohms(f.Winding.Value, f.Winding.U), s.Celsius(float64(q.At), 0)))
	}
	if r.HealthyAt != nil && r.Verdict != measure.Within {
		parts = append(parts, s.Say("why.healthy_at", s.Celsius(math.Round(r.HealthyAt.Value), 0)))
	}
	if lost := r.Lost; lost != nil && r.Verdict == measure.Below {
		if lost.Max != nil {
			parts = append(parts, s.Say("why.shorted", s.Percent(float64(lost.Min)), s.Percent(float64(*lost.Max))))
		} else {
			parts = append(parts, s.Say("why.shorted_least", s.Percent(float64(lost.Min))))
		}
	}
	return strings.Join(parts, " ")
}

// rowCards lays the rows out as cards.
func rowCards(q question, f finding, l *tool.Layout) *sheet.Element {
	list := sheet.New("ul class=rows")
	for i, r := range f.Rows {
		list.With(rowCard(q, f, r, q.rows[i], l))
	}
	return l.Section("rows", list)
}

func rowCard(q question, f finding, r winding.Judged, named row, l *tool.Layout) *sheet.Element {
	s, word := l.Speak, string(r.Verdict)
	head := sheet.New("div class=row-head").With(sheet.Glyph(sheet.Mark(word)), sheet.Text("strong", "", named.name),
		sheet.Text("span", "row-word", s.Say("word."+word)))
	band := s.Say("at_temperature", bandText(s, r.Band, 0), s.Celsius(float64(r.At), 0))
	if r.Span != nil {
		band = s.Say("at_span", bandText(s, r.Band, 0), spanText(s, r.Span))
	}
	card := sheet.New("li class=? data-verdict=?", "row v-"+word, word).With(head, sheet.Text("p", "row-band", band))
	switch {
	case r.Span == nil && q.AtUnknown:
		card.With(sheet.Text("p", "row-now", s.Say("now_unknown", movedText(s, r.BandNow), anywhere(s))))
	case r.Span == nil && r.At != q.At:
		card.With(sheet.Text("p", "row-now", s.Say("now", movedText(s, r.BandNow), s.Celsius(float64(q.At), 0))))
	}
	if !f.Open && !r.Outside {
		label := s.Say("chances", s.Chance(r.Chance.Below), s.Chance(r.Chance.Within), s.Chance(r.Chance.Above))
		card.With(sheet.Chances(r.Chance.Below, r.Chance.Within, r.Chance.Above, label), sheet.Text("p", "row-chances", label))
	}
	if named.appliesTo != "" || named.source != "" {
		card.With(sheet.Text("p", "row-source", strings.Trim(named.appliesTo+" · "+named.source, " ·")))
	}
	return card
}

func comparisonSheet(c *winding.Compared, l *tool.Layout) *sheet.Element {
	text := l.Speak.Say("comparison." + string(c.Verdict))
	if c.HasRatio {
		text += " " + l.Speak.Say("comparison.ratio", l.Speak.Number(c.Ratio.Value, 2), l.Speak.Number(2*c.Ratio.U, 2))
	}
	return l.Section("comparison", sheet.New("p data-verdict=?", string(c.Verdict)).Say(text))
}

// coldSheet says what the two readings of one winding say together.
func coldSheet(w *winding.Warmed, l *tool.Layout) *sheet.Element {
	s := l.Speak
	at := s.PlusMinus(quantity.OfTemperature, w.Temperature.Value, w.Temperature.U)
	text := s.Say("cold.temperature", at, s.PlusMinus(quantity.OfTemperatureDifference, w.Rise.Value, w.Rise.U))
	if w.Beyond != "" {
		text = s.Say("cold.impossible", at)
	}
	if w.Verdict != "" {
		text = s.Say("cold."+string(w.Verdict)) + " " + s.Say("cold.ratio", s.Number(w.Ratio.Value, 2), s.Number(2*w.Ratio.U, 2)) + " " + text
	}
	return l.Section("cold", sheet.New("p data-verdict=?", string(w.Verdict)).Say(text))
}

func driverSheet(q question, d *winding.Driver, l *tool.Layout) *sheet.Element {
	s, text := l.Speak, ""
	if d.Current != nil {
		text = s.Say("driver.current", s.PlusMinus(quantity.OfCurrent, d.Current.Value, d.Current.U), atText(s, q.Measurement))
	}
	if d.Within != "" {
		text = strings.TrimSpace(text + " " + s.Say("driver."+string(d.Within)))
	}
	return l.Section("driver", sheet.New("p data-verdict=?", string(d.Within)).Say(text))
}
