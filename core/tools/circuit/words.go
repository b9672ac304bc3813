package circuit

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/diagnosis"
	"ohmwright/core/evidence"
	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// The exported functions below are called by other tools too, so their keys include the name of this tool.

// TestName returns the name of a test.
func TestName(s *wording.Speaker, t circuit.Test) string { return s.Say(testKey(t)) }

func testKey(t circuit.Test) string { return "circuit.readings.test=" + t.String() }

// FaultName returns the name of a fault.
func FaultName(s *wording.Speaker, f circuit.Fault) string {
	return s.Say("circuit.fault." + f.String())
}

// RepairName returns the name of a repair: what is replaced or put right.
func RepairName(s *wording.Speaker, r circuit.Repair) string {
	return s.Say("circuit.repair." + r.String())
}

// Minutes writes a duration in minutes: without decimals if it is whole, otherwise to two figures.
func Minutes(s *wording.Speaker, v float64) string {
	if v == math.Trunc(v) {
		return s.Number(v, 0)
	}
	return s.Figures(v, 2)
}

// Shown writes a reading as it was given.
func Shown(s *wording.Speaker, r circuit.Reading) string {
	switch {
	case r.Over:
		return s.Say("circuit.outcome.over")
	case r.Word != circuit.NoWord:
		return wordName(s, r.Word)
	}
	return s.Of(kindOf(r.Test), r.Value, 0)
}

// wordName writes a reading that is a word, as a reader says it.
func wordName(s *wording.Speaker, w circuit.Word) string {
	return s.Say("circuit.readings.value=" + w.String())
}

// Expected says what a test reads in a healthy circuit.
func Expected(s *wording.Speaker, t circuit.Test, e evidence.Expected) string {
	switch {
	case e.Over:
		return s.Say("circuit.range.over")
	case kindOf(t) == 0:
		return wordName(s, e.Word)
	case kindOf(t) == quantity.OfTemperature:
		return s.Say("circuit.range", rough(s, t, e.Low), rough(s, t, e.High))
	case e.Low <= 0:
		return s.Say("circuit.range.upto", rough(s, t, e.High))
	}
	return s.Say("circuit.range", rough(s, t, e.Low), rough(s, t, e.High))
}

// rough writes a value of a test as a meter would show it, with fewer digits if it is large.
func rough(s *wording.Speaker, t circuit.Test, v float64) string {
	k, size := kindOf(t), math.Abs(v)
	u := 1.0 // decimal digits
	switch {
	case k == quantity.OfCurrent, k == quantity.OfVoltage && size < 1:
		u = 0.1
	case k == quantity.OfResistance && size >= 40:
		u = size / 4
	case k == quantity.OfTemperature:
		u = 10
	}
	return s.Of(k, v, u)
}

// outcome says where a reading lies: below a value, above one, or between two.
func outcome(s *wording.Speaker, t circuit.Test, o diagnosis.Outcome) string {
	below, above := math.IsInf(o.From, 0), math.IsInf(o.To, 0)
	switch {
	case o.Over:
		return s.Say("outcome.over")
	case o.Word != circuit.NoWord:
		return wordName(s, o.Word)
	case below && above:
		return s.Say("outcome.any")
	case below:
		return s.Say("outcome.below", rough(s, t, o.To))
	case above:
		return s.Say("outcome.above", rough(s, t, o.From))
	}
	return s.Say("range", rough(s, t, o.From), rough(s, t, o.To))
}
