package torque

import (
	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
)

func tell(q question, f finding, a *tool.Answer) result {
	s := speaker{a.Speak, q.said}
	res := result{Table: []lineResult{}, Overall: f.overall}
	if q.Torque > 0 {
		tellTorque(q, f, &res)
	}
	if f.Estimate != nil {
		res.Fastener = tellEstimate(*q.Assembly, f.Estimate)
	}
	for _, l := range f.lines {
		res.Table = append(res.Table, tellLine(l))
	}
	if f.sequence != nil {
		res.Sequence = tellSequence(q, f.sequence)
	}
	for _, d := range f.Doubts {
		warn(q, f, d, s, a)
	}
	for _, d := range f.doubts {
		warnOther(f, d, a)
	}
	if !a.Brief {
		steps(q, f, s, a)
	}
	a.Caution("under_pressure", "threads_strip", "one_use_bolts", "maker_first")
	return res
}

// tellTorque fills in what was found of the torque itself.
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

// figures are the fields of a pair's figures.
var figures = [2]string{"torque", "printed_as"}

func slipsOf(p fastener.Pair) []slipResult {
	out := []slipResult{}
	for _, s := range p.Slips {
		out = append(out, slipResult{s.String(), figures[s.Figure], tool.Amount{Value: s.Number(), Unit: s.Meant.Unit.Symbol}})
	}
	return out
}

func tellScale(q question, s *fastener.OnScale) *wrenchResult {
	out := &wrenchResult{Verdict: s.Use.String(), Fifth: unlessZero(s.Fifth), Deviation: tool.Of(q.Wrench.Deviation), InRange: s.InRange}
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

func tellLine(l line) lineResult {
	out := lineResult{
		Line: l.Number, Text: l.Text, Size: l.Size, Angle: unlessZero(l.Angle), Stages: []tool.Amount{}, Verdict: l.verdict,
		Slips: []slipResult{}, Reads: []string{}, Falls: l.under != "", Under: l.under, Differs: l.differs,
	}
	if l.torque != nil {
		out.Torque = tool.Some(tool.Of(*l.torque))
	}
	if l.other != nil {
		out.PrintedAs = tool.Some(tool.Of(*l.other))
	}
	if l.span != nil {
		span := spanOf(l.span.Least, l.span.Most)
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

func tellSequence(q question, s *sequence) *sequenceResult {
	out := &sequenceResult{Bolts: []boltResult{}, Order: []int{}, Lengths: []lengthResult{}, Adjacent: s.adjacent, Steps: s.steps, Of: s.of}
	for _, b := range s.bolts {
		out.Bolts = append(out.Bolts, boltResult{b.number, millimetres(b.at.X), millimetres(b.at.Y), unlessZero(b.length), b.kept})
	}
	for _, row := range s.order {
		out.Order = append(out.Order, row+1)
	}
	for _, p := range s.passes {
		pass := passResult{Kind: p.kind, Share: unlessZero(p.share), Torque: unlessZero(p.Torque), Mark: unlessZero(p.Mark)}
		if q.Adapter != nil {
			pass.Setting = unlessZero(p.Setting)
		}
		if p.Use != nil {
			pass.WrenchCheck = p.Use.String()
		}
		out.Passes = append(out.Passes, pass)
	}
	for _, l := range s.lengths {
		out.Lengths = append(out.Lengths, lengthResult{unlessZero(l.length), l.count})
	}
	if p := s.progress; p != nil {
		out.Progress = &progressResult{p.done, p.set, p.changed}
	}
	return out
}
