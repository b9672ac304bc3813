package torque

import (
	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/manual"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

func tell(q question, f finding, a *tool.Answer) *result {
	s := speech.Speaker{Speaker: a.Speak, Said: q.said}
	res := &result{Table: []lineResult{}, Overall: f.overall}
	if q.Torque > 0 {
		tellTorque(q, f, res)
	}
	if f.Estimate != nil {
		res.Fastener = tellEstimate(*q.Assembly, f.Estimate)
	}
	for _, l := range f.table.Lines {
		res.Table = append(res.Table, tellLine(l))
	}
	if f.bolts != nil {
		res.Sequence = tellSequence(q, *f.bolts)
	}
	for _, d := range f.Doubts {
		warn(q, f, d, s, a)
	}
	for _, d := range f.table.Doubts {
		warnTable(d, a)
	}
	if f.bolts != nil {
		for _, d := range f.bolts.Doubts {
			warnBolts(*f.bolts, d, a)
		}
	}
	if !a.Brief {
		steps(q, f, s, a)
	}
	a.Caution("under_pressure", "threads_strip", "one_use_bolts", "maker_first")
	return res
}

// tellTorque fills in what was found about the torque itself.
func tellTorque(q question, f finding, res *result) {
	units := unitsOf(q.Torque)
	res.Torque, res.Units = tool.Some(tool.Of(q.Torque)), &units
	if w := q.Wanted; w != nil {
		res.Range = &rangeResult{tool.Of(w.Least), tool.Of(w.Most), unitsOf(w.Least), unitsOf(w.Most)}
	}
	if p := f.Pair; p != nil {
		res.Pair = &pairResult{Verdict: p.Verdict.String(), Difference: tool.Of(p.Difference), Spans: []spanResult{}, Slips: slipsOf(*p)}
		for _, s := range p.Spans {
			res.Pair.Spans = append(res.Pair.Spans, spanOf(s.Least, s.Most))
		}
	}
	if q.Adapter != nil {
		units := unitsOf(f.Setting)
		res.Reach, res.Setting, res.SettingUnits = tool.Some(tool.Of(f.Reach)), tool.Some(tool.Of(f.Setting)), &units
	}
	if f.Scale != nil {
		res.WrenchCheck = tellScale(q, f.Scale)
	}
}

// figures are the names of the fields that hold the two figures of a pair.
var figures = [2]string{"torque", "printed_as"}

func slipsOf(p fastener.Pair) []slipResult {
	out := []slipResult{}
	for _, s := range p.Slips {
		out = append(out, slipResult{s.String(), figures[s.Figure], tool.Amount{Value: s.Number(), Unit: s.Meant.Unit.Symbol}})
	}
	return out
}

func tellScale(q question, s *fastener.OnScale) *wrenchResult {
	out := &wrenchResult{Verdict: s.Use.String(), Fifth: unlessZero(s.Fifth), Deviation: tool.Of(q.Wrench.Allowed()), InRange: s.InRange}
	if s.Reached != nil {
		reached := spanOf(s.Reached.Least, s.Reached.Most)
		out.Reached = &reached
	}
	if m := s.Marks; m != nil {
		out.Marks = &marksResult{unlessZero(m.Below), unlessZero(m.Above), tool.Of(m.Nearest), spanOf(m.Reached.Least, m.Reached.Most)}
	}
	return out
}

func tellEstimate(j fastener.Assembly, e *fastener.Estimate) *fastenerResult {
	out := &fastenerResult{
		Verdict: e.Verdict, Thread: j.Thread.String(), StressArea: tool.Of(j.Thread.StressArea()), ProofLoad: tool.Of(j.ProofLoad()),
		Preload: tool.Of(j.Preload()), Torque: tool.Of(e.Torque), TorqueBand: spanOf(e.Band.Least, e.Band.Most),
		PreloadAt: tool.Of(e.PreloadAt), PreloadBand: spanOf(e.PreloadBand.Least, e.PreloadBand.Most),
		Stressed: tool.Of(e.Stressed), StressedMax: tool.Of(e.StressedMax),
	}
	if p := e.Practice; p != nil {
		out.Practice = &practiceResult{tool.Of(p.Torque), spanOf(p.Band.Least, p.Band.Most), spanOf(p.StressedLeast, p.StressedMost), p.Lies}
	}
	if s := e.Strip; s != nil {
		out.StripCheck = &stripResult{s.Verdict.String(), spanOf(s.Least, s.Most), tool.Of(s.Preload), unlessZero(s.Needed)}
	}
	return out
}

func tellLine(l manual.Judged) lineResult {
	out := lineResult{
		Line: l.Number, Text: l.Text, Size: l.Size, Angle: unlessZero(l.Angle), Stages: []tool.Amount{}, Verdict: l.Verdict,
		Slips: []slipResult{}, Reads: []string{}, Falls: l.Under != "", Under: l.Under, Differs: l.Differs,
	}
	if l.Torque != nil {
		out.Torque = tool.Some(tool.Of(*l.Torque))
	}
	if l.Other != nil {
		out.PrintedAs = tool.Some(tool.Of(*l.Other))
	}
	if l.Span != nil {
		span := spanOf(l.Span.Least, l.Span.Most)
		out.Range = &span
	}
	for _, stage := range l.Stages {
		out.Stages = append(out.Stages, tool.Of(quantity.Torque(stage.In)))
	}
	if l.Pair != nil {
		out.Slips = slipsOf(*l.Pair)
	}
	if l.Reads[0] != "" {
		out.Reads = append(out.Reads, l.Reads[:]...)
	}
	return out
}

func tellSequence(q question, f bolts.Finding) *sequenceResult {
	out := &sequenceResult{Bolts: []boltResult{}, Order: []int{}, Lengths: []lengthResult{}, Adjacent: f.Adjacent, Steps: f.Steps, Of: f.Of}
	for _, b := range f.Bolts {
		out.Bolts = append(out.Bolts, boltResult{b.Number, millimetres(b.X), millimetres(b.Y), unlessZero(b.Length), b.Kept})
	}
	for _, row := range f.Order {
		out.Order = append(out.Order, row+1)
	}
	for _, p := range f.Passes {
		pass := passResult{Kind: p.Kind, Share: unlessZero(p.Share), Torque: unlessZero(p.Torque), Mark: unlessZero(p.Mark)}
		if q.Adapter != nil {
			pass.Setting = unlessZero(p.Setting)
		}
		if p.Use != nil {
			pass.WrenchCheck = p.Use.String()
		}
		out.Passes = append(out.Passes, pass)
	}
	for _, l := range f.Lengths {
		out.Lengths = append(out.Lengths, lengthResult{unlessZero(l.Length), l.Count})
	}
	if p := f.Progress; p != nil {
		out.Progress = &progressResult{p.Done, p.Set, p.Changed}
	}
	return out
}
