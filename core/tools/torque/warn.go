package torque

import (
	"strconv"

	"ohmwright/core/bolts"
	"ohmwright/core/fastener"
	"ohmwright/core/manual"
	"ohmwright/core/tool"
	"ohmwright/core/tools/torque/speech"
)

// warn adds the warning for a doubt about the torque itself.
func warn(q question, f finding, d fastener.Doubt, s speech.Speaker, a *tool.Answer) {
	switch d {
	case fastener.PairDisagrees, fastener.PairCoarse:
		warnPair(*f.Pair, f.Coarse, d, s, a)
	case fastener.AdapterSmall:
		a.Warn(string(d), "adapter", s.Length(q.handleIn, q.Adapter.Wrench), s.Length(q.extensionIn, q.Adapter.Extension))
	case fastener.AdapterShort:
		a.Warn(string(d), "adapter", s.Millimetres(f.Reach), s.Millimetres(q.Adapter.Wrench), s.Millimetres(fastener.HandOff),
			s.PerCent(q.Adapter.HandError()))
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

func warnPair(p fastener.Pair, coarse int, d fastener.Doubt, s speech.Speaker, a *tool.Answer) {
	if d == fastener.PairDisagrees {
		a.Warn(string(d), "printed_as", s.Printed(p.Figures[0]), s.Printed(p.Figures[1]))
		return
	}
	figure, span := p.Figures[coarse], p.Spans[coarse]
	least, most := s.In(figure.Unit, span.Least), s.In(figure.Unit, span.Most)
	a.Warn(string(d), "printed_as", s.Printed(figure), least, most, s.Printed(p.Figures[1-coarse]))
}

func warnScale(q question, f finding, d fastener.Doubt, s speech.Speaker, a *tool.Answer) {
	set := s.Torque(f.Setting)
	switch d {
	case fastener.MarksCoarse:
		a.Warn(string(d), "wrench.graduation", s.Torque(f.Scale.Marks.Nearest), s.PerCent(f.Scale.Marks.Off), set)
	case fastener.MayCross:
		may := f.Scale.May()
		a.Warn(string(d), "wrench", s.Torque(may.Least), s.Torque(may.Most), s.Torque(q.Wanted.Least), s.Torque(q.Wanted.Most))
	case fastener.TooLow:
		a.Warn(string(d), "wrench.max", set, s.Torque(f.Scale.Fifth), s.Torque(q.Wrench.Max))
	case fastener.OffBelow:
		a.Warn(string(d), "wrench.min", set, s.Torque(q.Wrench.Min))
	default:
		a.Warn(string(d), "wrench.max", set, s.Torque(q.Wrench.Max))
	}
}

func warnBolt(j fastener.Assembly, e fastener.Estimate, d fastener.Doubt, s speech.Speaker, a *tool.Answer) {
	most, mu := s.Torque(e.Most), float64(j.Friction)
	switch d {
	case fastener.BoltBreaks:
		a.Warn(string(d), "fastener", most, j.Thread.String(), j.Class.String(), s.Number(mu, 2))
	case fastener.BoltStretches:
		a.Warn(string(d), "fastener", most, s.Number(mu, 2), s.PerCent(e.Stressed))
	default:
		a.Warn(string(d), "fastener", most, s.Number(float64(j.Friction-j.FrictionWithin), 2), s.PerCent(e.StressedMax))
	}
}

func warnStrip(t fastener.Stripping, d fastener.Doubt, s speech.Speaker, a *tool.Answer) {
	const field = "fastener.engagement"
	preload := s.Newtons(t.Preload)
	switch d {
	case fastener.NothingHolds:
		a.Warn(string(d), field)
	case fastener.NoLengthHelps:
		a.Warn(string(d), field, preload, s.Newtons(t.Least))
	case fastener.ThreadsStrip:
		a.Warn(string(d), field, preload, s.Newtons(t.Most), s.Millimetres(t.Needed))
	default:
		a.Warn(string(d), field, preload, s.Newtons(t.Least), s.Newtons(t.Most), s.Millimetres(t.Needed))
	}
}

// warnTable adds the warning for a doubt about the table.
func warnTable(d manual.Doubt, a *tool.Answer) {
	if d == manual.TooLong {
		a.Warn(string(d), "table", strconv.Itoa(manual.MaxLines))
		return
	}
	a.Warn(string(d), "table")
}

// warnBolts adds the warning for a doubt about the order of the bolts or the passes.
func warnBolts(f bolts.Finding, d bolts.Doubt, a *tool.Answer) {
	switch d {
	case bolts.PassesFall:
		for _, number := range f.Falls {
			a.Warn(string(d), "passes", strconv.Itoa(number))
		}
	case bolts.PassesShort:
		a.Warn(string(d), "passes", a.Speak.Share(float64(f.Most)))
	case bolts.PassLow:
		a.Warn(string(d), "passes", strconv.Itoa(f.Low))
	case bolts.Coincide:
		a.Warn(string(d), "bolts", strconv.Itoa(f.Coincident))
	case bolts.Neighbour:
		a.Warn(string(d), "bolts", strconv.Itoa(f.Adjacent))
	case bolts.Changed:
		a.Warn(string(d), "progress", strconv.Itoa(f.Progress.Done))
	}
}
