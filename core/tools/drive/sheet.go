package drive

import (
	"math"
	"strings"

	"ohmwright/core/bench"
	"ohmwright/core/drive"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// marks are the shapes of the verdicts.
var marks = map[drive.Verdict]sheet.Mark{
	drive.VerdictPlain: sheet.MarkPulse, drive.VerdictOverLimit: sheet.MarkAbove, drive.VerdictOverCold: sheet.MarkAbove,
	drive.VerdictTooHot: sheet.MarkAbove,
}

// draft shows a stop before there is an answer.
func draft(q question, l *tool.Layout) { bench.HighVoltage(q.Circuit.Supply).Draft(l) }

// lay lays out what a pulsed drive gives. At a stop that is the figures alone: nothing to be read off a meter, and no way on.
func lay(q question, f finding, l *tool.Layout) {
	if f.stop != "" {
		f.stop.Lay(l)
		l.Add(sheet.Text("p", "small", l.Speak.Say("figures.stop")),
			waveDrawing(q, f, l), figures(f, l), startDrawing(q, f, l))
		return
	}
	s, word := l.Speak, string(f.Verdict)
	l.Verdict(marks[f.Verdict], word, s.Say("word."+word, bench.Three(s, f.State.Average)), headline(q, f, s))
	l.Reason(why(f, s))
	l.Add(waveDrawing(q, f, l), metersDrawing(q, f, l), figures(f, l), startDrawing(q, f, l), limitRows(q, f, l), supplyRows(q, f, l),
		carries(q, f, l))
}

// headline returns the number below the verdict's word.
func headline(q question, f finding, s *wording.Speaker) string {
	duty := s.Share(float64(f.Circuit.Duty))
	if f.Verdict != drive.VerdictPlain {
		return s.Say("headline.average", bench.Three(s, f.State.Average), duty)
	}
	text := s.Say("headline.duty", duty)
	if f.State.Ripple > 0 {
		text = s.Say("headline", bench.Three(s, f.Least), bench.Three(s, f.State.Max), duty)
	}
	if q.Heating != nil {
		text = s.Say("headline.warm", s.Degrees(float64(f.Temperature)), text)
	}
	return text
}

// why tells in a sentence what the current does.
func why(f finding, s *wording.Speaker) string {
	most, heat := bench.Three(s, f.State.Max), bench.Three(s, f.State.Winding)
	switch key := "why." + string(f.Course); f.Course {
	case drive.NeverOn:
		return s.Say(key)
	case drive.Flows:
		return s.Say(key, most, bench.Three(s, f.Least), heat)
	default:
		return s.Say(key, most, heat)
	}
}

func figures(f finding, l *tool.Layout) *sheet.Element {
	say, s := l.Speak.Say, l.Speak
	rows := [][2]string{
		{say("figure.winding"), bench.Three(s, f.State.Winding)},
		{say("figure.supply"), bench.Three(s, f.State.Supply)},
		{say("figure.off_path"), bench.Three(s, f.State.OffPath)},
		{say("figure.energy"), bench.Three(s, f.PerPulse)},
		{say("figure.ripple"), bench.Three(s, f.State.Ripple)},
		{say("figure.rms"), bench.Three(s, f.State.RMS)},
		{say("figure.tau"), bench.Three(s, f.State.TimeConstant)},
		{say("figure.hot", s.Degrees(float64(f.Temperature))), bench.Three(s, f.Circuit.Winding)},
	}
	return l.Section("figures", tool.Figures(rows))
}

// limitRows compares the highest currents with the driver's limit. It returns nil if the limit is not known.
func limitRows(q question, f finding, l *tool.Layout) *sheet.Element {
	if len(f.Limits) == 0 {
		return nil
	}
	s := l.Speak
	rows := make([][2]string, len(f.Limits))
	for i, of := range f.Limits {
		margin := quantity.Current(math.Abs(float64(of.Margin)))
		word := s.Say("limit."+within(of), bench.Three(s, of.Current), bench.Three(s, margin))
		rows[i] = [2]string{s.Say("limit."+string(of.Case), s.Degrees(float64(of.Temperature))), word}
	}
	return l.Section("limits", sheet.Text("p", "small", s.Say("limits", s.Amperes(float64(q.Limit), 0))), tool.Figures(rows))
}

// supplyRows lays out what other supply voltages would give; nil if there are none.
func supplyRows(q question, f finding, l *tool.Layout) *sheet.Element {
	if len(f.Supplies) == 0 {
		return nil
	}
	s := l.Speak
	rows := make([][2]string, len(f.Supplies))
	for i, at := range f.Supplies {
		name := s.Volts(float64(at.Supply), 0)
		if len(at.Codes) > 0 {
			name = s.Say("supply.code", name, strings.Join(at.Codes, ", "))
		}
		average, most := bench.Three(s, at.State.Average), bench.Three(s, at.State.Max)
		text := s.Say("supply.row", average, most)
		switch {
		case !at.Reached:
			text = s.Say("supply.short", average)
		case q.Wanted > 0:
			text = s.Say("supply.duty", s.Share(float64(at.Circuit.Duty)), most)
		}
		rows[i] = [2]string{name, text}
	}
	return l.Section("supplies", tool.Figures(rows), sheet.Text("p", "small", s.Say("supplies")))
}

// carries returns buttons that take the circuit to other tools.
func carries(q question, f finding, l *tool.Layout) *sheet.Element {
	now := quantity.Format(math.Round(float64(f.Temperature)*10)/10, "degC", quantity.OfTemperature, quantity.Point)
	return sheet.New("div class=carries").With(
		l.Carry("circuit", "carry.circuit", q.toCircuit.Set("winding_temperature", now)),
		l.Carry("winding", "carry.winding", q.toWinding.Set("at", now)),
		l.Carry("trace", "carry.trace", q.toTrace.Set("winding_temperature", now)))
}
