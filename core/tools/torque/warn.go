package torque

import (
	"strconv"

	"ohmwright/core/fastener"
	"ohmwright/core/tool"
)

// warn tells a doubt about the torque itself.
func warn(q question, f finding, d fastener.Doubt, s speaker, a *tool.Answer) {
	switch d {
	case fastener.PairDisagrees, fastener.PairCoarse:
		warnPair(*f.Pair, f.Coarse, d, s, a)
	case fastener.AdapterSmall:
		a.Warn(string(d), "adapter", s.length(q.handleIn, q.Adapter.Wrench), s.length(q.extensionIn, q.Adapter.Extension))
	case fastener.AdapterShort:
		a.Warn(string(d), "adapter", s.millimetres(f.Reach), s.millimetres(q.Adapter.Wrench), s.millimetres(fastener.HandOff),
			s.share(q.Adapter.HandError()))
	case fastener.MarksCoarse, fastener.MayCross, fastener.TooLow, fastener.OffBelow, fastener.OffAbove:
		warnScale(q, f, d, s, a)
	case fastener.SizeAlone:
		a.Warn(string(d), "fastener.thread")
	case fastener.BoltBreaks, fastener.BoltStretches, fastener.BoltMayStretch:
		warnBolt(*q.Assembly, *f.Estimate, d, s, a)
	default:
		warnStrip(*f.Estimate.Strip, d, s, a)
	}
}

func warnPair(p fastener.Pair, coarse int, d fastener.Doubt, s speaker, a *tool.Answer) {
	if d == fastener.PairDisagrees {
		a.Warn(string(d), "printed_as", s.printed(p.Figures[0]), s.printed(p.Figures[1]))
		return
	}
	figure, span := p.Figures[coarse], p.Spans[coarse]
	a.Warn(string(d), "printed_as", s.printed(figure), s.in(figure.Unit, span.Least), s.in(figure.Unit, span.Most), s.printed(p.Figures[1-coarse]))
}

func warnScale(q question, f finding, d fastener.Doubt, s speaker, a *tool.Answer) {
	set := s.torque(f.Setting)
	switch d {
	case fastener.MarksCoarse:
		a.Warn(string(d), "wrench.graduation", s.torque(f.Scale.Marks.Nearest), s.share(f.Scale.Marks.Off), set)
	case fastener.MayCross:
		may := f.Scale.May()
		a.Warn(string(d), "wrench", s.torque(may.Least), s.torque(may.Most), s.torque(q.Wanted.Least), s.torque(q.Wanted.Most))
	case fastener.TooLow:
		a.Warn(string(d), "wrench.max", set, s.torque(f.Scale.Fifth), s.torque(q.Wrench.Max))
	case fastener.OffBelow:
		a.Warn(string(d), "wrench.min", set, s.torque(q.Wrench.Min))
	default:
		a.Warn(string(d), "wrench.max", set, s.torque(q.Wrench.Max))
	}
}

func warnBolt(j fastener.Assembly, e fastener.Estimate, d fastener.Doubt, s speaker, a *tool.Answer) {
	most, mu := s.torque(e.Most), float64(j.Friction)
	switch d {
	case fastener.BoltBreaks:
		a.Warn(string(d), "fastener", most, j.Thread.String(), j.Class.String(), s.Number(mu, 2))
	case fastener.BoltStretches:
		a.Warn(string(d), "fastener", most, s.Number(mu, 2), s.share(e.Stressed))
	default:
		a.Warn(string(d), "fastener", most, s.Number(float64(j.Friction-j.FrictionWithin), 2), s.share(e.StressedMax))
	}
}

func warnStrip(t fastener.Stripping, d fastener.Doubt, s speaker, a *tool.Answer) {
	const field = "fastener.engagement"
	preload := s.newtons(t.Preload)
	switch d {
	case fastener.NothingHolds:
		a.Warn(string(d), field)
	case fastener.NoLengthHelps:
		a.Warn(string(d), field, preload, s.newtons(t.Least))
	case fastener.ThreadsStrip:
		a.Warn(string(d), field, preload, s.newtons(t.Most), s.millimetres(t.Needed))
	default:
		a.Warn(string(d), field, preload, s.newtons(t.Least), s.newtons(t.Most), s.millimetres(t.Needed))
	}
}

// warnOther tells a doubt about the table or the sequence.
func warnOther(f finding, d doubt, a *tool.Answer) {
	s, say := f.sequence, a.Speak
	switch d {
	case tableAngle:
		a.Warn(string(d), "table")
	case tableLong:
		a.Warn(string(d), "table", strconv.Itoa(fastener.MaxLines))
	case passesFall:
		for _, number := range s.falls {
			a.Warn(string(d), "passes", strconv.Itoa(number))
		}
	case passesShort:
		a.Warn(string(d), "passes", say.Share(float64(s.most)))
	case passLow:
		a.Warn(string(d), "passes", strconv.Itoa(s.low))
	case coincident:
		a.Warn(string(d), "bolts", strconv.Itoa(s.twice))
	case neighbours:
		a.Warn(string(d), "bolts", strconv.Itoa(s.adjacent))
	case changed:
		a.Warn(string(d), "progress", strconv.Itoa(s.progress.done))
	}
}
