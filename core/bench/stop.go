package bench

import (
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// MostWorked is the supply, in volt, above which no tool gives advice: what is called high voltage in vehicles begins there (UN R100:
// above 60 V of direct current, from memory; the figure is the contract's).
const MostWorked = 60

// A Stop says why a tool gives no advice. The zero Stop is none.
//
// It is decided where the tool finds its answer, from the supply that the request gives. Its result then says overall "stop" and
// stop "high_voltage", and nothing else that could be taken for advice. Figures that are worked out, and not measured, may stay.
type Stop string

// StopHighVoltage is the stop of a supply above [MostWorked].
const StopHighVoltage Stop = "high_voltage"

// Stopped is what a result says overall where there is a stop.
const Stopped = "stop"

// HighVoltage returns the stop of the supplies of a request; "" where there is none.
func HighVoltage(supplies ...quantity.Voltage) Stop {
	for _, v := range supplies {
		if v > MostWorked {
			return StopHighVoltage
		}
	}
	return ""
}

// Tell tells of the stop in place of what the tool would have told.
func (s Stop) Tell(a *tool.Answer) { a.Caution(string(s), "maker_first") }

// Lay lays the stop out in place of an answer.
func (s Stop) Lay(l *tool.Layout) {
	l.Verdict(sheet.MarkStop, Stopped, l.Speak.Say("bench.stop"), "")
	l.Reason(l.Speak.Say("bench.stop." + string(s)))
}

// Draft lays the stop out before there is an answer, so that nobody goes on measuring to get one. Nothing where there is none.
func (s Stop) Draft(l *tool.Layout) {
	if s != "" {
		l.Verdict(sheet.MarkStop, Stopped, l.Speak.Say("bench.stop"), "")
		l.Add(sheet.Text("p", "why", l.Speak.Say("bench.stop."+string(s))))
	}
}
