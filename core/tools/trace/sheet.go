package trace

import (
	"math"
	"strconv"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/trace"
	"ohmwright/core/wording"
)

// marks are the shapes of the verdicts.
var marks = map[trace.Overall]sheet.Mark{
	trace.AsExpected: sheet.MarkWithin, trace.CannotCompare: sheet.MarkUndecided, trace.Undecided: sheet.MarkUndecided,
	trace.OnlyRead:           sheet.MarkPulse,
	of(trace.ResistanceHigh): sheet.MarkAbove, of(trace.ResistanceLow): sheet.MarkBelow, of(trace.TimeConstantLong): sheet.MarkAbove,
	of(trace.TimeConstantShort): sheet.MarkBelow, of(trace.InductanceHigh): sheet.MarkAbove, of(trace.InductanceLow): sheet.MarkBelow,
	of(trace.DipMissing): sheet.MarkUnwanted, of(trace.StepsSeen): sheet.MarkOpen,
}

// of returns the verdict for a result whose main difference is of kind k.
func of(k trace.DifferenceKind) trace.Overall { return trace.Overall(k.Code()) }

// draft shows a stop before there is an answer.
func draft(q question, l *tool.Layout) { bench.HighVoltage(q.Supply).Draft(l) }

// lay lays out what a recording shows.
func lay(q question, found finding, l *tool.Layout) {
	if found.stop != "" {
		found.stop.Lay(l)
		return
	}
	f := found.Judged
	s, word := l.Speak, string(f.Overall)
	l.Verdict(marks[f.Overall], word, s.Say("word."+word), headline(f, s))
	list := sheet.New("ul class=findings")
	for _, d := range f.Differences {
		list.With(sheet.New("li data-code=?", d.Kind.Code()).Say(differenceText(d, f, s)))
	}
	for _, d := range f.Unsure {
		k, code := measured(d.Kind), d.Kind.Code()
		text := s.Say("unsure."+code[:strings.LastIndexByte(code, '_')], s.PlusMinus(k, d.Got, d.GotU), s.Three(k, d.Want))
		list.With(sheet.New("li data-code=undecided").Say(text))
	}
	list.With(sheet.New("li data-code=?", "dip_"+f.Dip.Found.Code()).Say(dipText(f, s)))
	l.Why = sheet.New("div class=why").With(list)
	l.Add(drawing(f, l), figures(q, f, l))
	if f.Fit != nil && q.Supply > 0 {
		l.Add(carries(q, f, l))
	}
}

// headline returns the number below the verdict's word.
func headline(f trace.Judged, s *wording.Speaker) string {
	if f.Fit == nil {
		return s.Say("headline.average", s.Three(quantity.OfCurrent, f.Average))
	}
	tau := s.PlusMinus(quantity.OfTime, f.Fit.TimeConstant, f.Fit.TimeConstantU)
	if f.Fit.Resistance == 0 {
		return s.Say("headline.tau", tau)
	}
	return s.Say("headline.fit", s.PlusMinus(quantity.OfResistance, f.Fit.Resistance, f.Fit.ResistanceU), tau)
}

// dipText says whether the plunger's dip was found.
func dipText(f trace.Judged, s *wording.Speaker) string {
	d := f.Dip
	args := []any{}
	current := func(i float64) string { return s.Three(quantity.OfCurrent, i) }
	switch f.DipSaid {
	case trace.DipCannotShow:
		args = append(args, s.Say("reason."+d.Why.Code()))
	case trace.DipNo:
		args = append(args, current(d.Smallest))
	case trace.DipKink:
		args = append(args, s.Three(quantity.OfTime, d.Since), current(d.Current))
	case trace.DipYes:
		args = append(args, s.Three(quantity.OfTime, d.Since), current(d.Current), current(d.Depth))
	}
	return s.Say("dip."+string(f.DipSaid), args...)
}

func figures(q question, f trace.Judged, l *tool.Layout) *sheet.Element {
	s, say := l.Speak, l.Speak.Say
	var rows [][2]string
	add := func(name, value string) { rows = append(rows, [2]string{say("figure." + name), value}) }
	if f.Fit != nil {
		fitFigures(f, s, add)
	} else {
		add("no_fit", say("reason."+f.Why.Code()))
	}
	if f.Periods > 0 {
		add("frequency", s.Three(quantity.OfFrequency, f.Frequency))
		if f.Duty != 0 {
			add("duty", s.Share(f.Duty))
		}
		add("ripple", s.Three(quantity.OfCurrent, f.Ripple))
	}
	// Currents are given to a tenth of their noise, but no finer than a hundredth of the highest current.
	doubt := max(10*f.Noise, math.Abs(f.Max)/100)
	current := func(i float64) string { return s.Amperes(i, doubt) }
	add("average", current(f.Average))
	add("rms", current(f.RMS))
	add("span", say("figure.from_to", current(f.Min), current(f.Max)))
	add("samples", say("figure.every", strconv.Itoa(len(q.Recording.T)), s.Three(quantity.OfTime, q.Recording.Interval)))
	section := l.Section("recording", tool.Figures(rows))
	if f.Fit != nil {
		section.With(sheet.Text("p", "small", say("doubt", s.Share(float64(q.ClampWithin)), s.Share(float64(q.SupplyWithin)))))
	}
	return section
}

// fitFigures adds what the ramp gives, with what was expected.
func fitFigures(f trace.Judged, s *wording.Speaker, add func(name, value string)) {
	fit := f.Fit
	if fit.Resistance != 0 {
		add("resistance", s.PlusMinus(quantity.OfResistance, fit.Resistance, fit.ResistanceU))
	}
	if f.Expected.Resistance != 0 {
		add("expected", s.Three(quantity.OfResistance, f.Expected.Resistance))
	}
	add("tau_"+plungerAt(fit), s.PlusMinus(quantity.OfTime, fit.TimeConstant, fit.TimeConstantU))
	if f.Expected.TimeConstant != 0 {
		add("tau_expected", s.Three(quantity.OfTime, f.Expected.TimeConstant))
	}
	if fit.AtStop != 0 && !fit.Seated {
		add("tau_stop", s.PlusMinus(quantity.OfTime, fit.AtStop, fit.AtStopU))
	}
	if fit.Inductance != 0 {
		add("inductance", s.PlusMinus(quantity.OfInductance, fit.Inductance, fit.InductanceU))
	}
}

// plainly writes a value to four figures, as a link does.
func plainly(v float64, k quantity.Kind, unit string) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	if err != nil {
		panic(err) // cannot happen: it was formatted above
	}
	return quantity.Format(rounded, unit, k, quantity.Point)
}

// carries returns buttons that take what was found to the circuit tool and to the drive tool.
func carries(q question, f trace.Judged, l *tool.Layout) *sheet.Element {
	circuit := q.toCircuit.Set("readings.0.value", plainly(f.Fit.Final, quantity.OfCurrent, "A"))
	drive := q.toDrive.Set("inductance", plainly(f.Fit.Inductance, quantity.OfInductance, "mH"))
	if f.Winding > 0 {
		drive = append(drive, q.windingAt...).Set("resistance", plainly(float64(f.Winding), quantity.OfResistance, "ohm"))
	}
	if f.Periods > 0 {
		drive = drive.Set("frequency", plainly(f.Frequency, quantity.OfFrequency, "Hz"))
		if f.Duty != 0 {
			drive = drive.Set("duty", plainly(f.Duty, quantity.OfRatio, "%"))
		}
	}
	return sheet.New("div class=carries").With(l.Carry("circuit", "carry.circuit", circuit), l.Carry("drive", "carry.drive", drive))
}
