package worksheet

import (
	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/quantity"
)

// A stock is faults of one kind: those with a parameter between two ends, under one stored code, that are found in the same number of
// tests wherever the parameter, the winding and the readings' errors lie. The way is one that always suffices. That it does, and that the
// circuit question never needs fewer tests, is held by the tests of this package.
type stock struct {
	fault    circuit.Fault
	from, to int32 // of the parameter, in thousandths of an ohm or of one; both 0 where there is none
	codes    codes
	way      way
}

// codes says which codes may be stored, as an index into stored.
type codes uint8

const (
	none codes = iota
	low
	high
	open
	ranged
	highOrRange
	lowOrOpen
)

var stored = [...][]circuit.Code{
	none: {circuit.NoCode}, low: {circuit.CodeLow}, high: {circuit.CodeHigh}, open: {circuit.CodeOpen}, ranged: {circuit.CodeRange},
	highOrRange: {circuit.CodeHigh, circuit.CodeRange}, lowOrOpen: {circuit.CodeLow, circuit.CodeOpen},
}

// A way is an index into ways.
type way uint8

const (
	leak way = iota
	weak
	returned
	driven
	cased
	pulled
	fed
	fedBack
	insulated
	idle
	leaking
	sunk
	joined
)

var ways = [...][]circuit.Test{
	leak:      {circuit.OhmsUnit, circuit.InsulationHarness},
	weak:      {circuit.OhmsUnit, circuit.CurrentOn},
	returned:  {circuit.OhmsComponent, circuit.VoltsPinOn, circuit.VoltsReturn},
	driven:    {circuit.OhmsComponent, circuit.VoltsPinOn, circuit.CurrentOn},
	cased:     {circuit.OhmsComponent, circuit.VoltsPinOn, circuit.InsulationComponent},
	pulled:    {circuit.OhmsComponent, circuit.VoltsPinOff, circuit.CurrentOn},
	fed:       {circuit.OhmsUnit, circuit.VoltsHarnessOpen},
	fedBack:   {circuit.OhmsComponent, circuit.VoltsReturn},
	insulated: {circuit.OhmsComponent, circuit.InsulationComponent},
	idle:      {circuit.OhmsUnit, circuit.VoltsPinOff, circuit.InsulationComponent},
	leaking:   {circuit.VoltsPinOff, circuit.InsulationComponent, circuit.VoltsFeed},
	sunk:      {circuit.OhmsUnit, circuit.VoltsPinOff, circuit.CurrentOn},
	joined:    {circuit.VoltsReturn, circuit.OhmsComponent, circuit.OhmsUnit},
}

// A setting is a circuit that faults are hidden in: what a question of a kind and a level is about. It is invented.
type setting struct {
	side     circuit.Side
	supply   Figure
	min, max Figure
	now      Figure    // of the winding
	stocks   [][]stock // by repair: each repair is alike likely, and then each of its stocks
}

// Level 1 needs two tests, levels 2 and 3 three; on level 3 the winding is hot on the high side, and what a sound circuit would read is not
// told.
var (
	temperatures = [2][Levels]int{{20, 20, 88}, {88, 20, 88}} // in °C, by side and level

	// stocks are those of the first drawing.
	stocks = [2][Levels][][]stock{{
		{
			{
				{circuit.WindingShorted, 280, 920, low, leak}, {circuit.LeadToGround, 300, 16000, low, leak},
				{circuit.WindingToCase, 180, 1500, low, leak},
			},
			{{circuit.HarnessToGround, 700, 16000, low, leak}},
			{{circuit.DriverWeak, 34000, 80000, low, weak}},
		}, {
			{
				{circuit.HarnessHigh, 20000, 700000, highOrRange, returned}, {circuit.HarnessOpen, 0, 0, highOrRange, returned},
				{circuit.HarnessToBattery, 130, 13000, open, pulled},
			},
			{{circuit.PathHigh, 20000, 700000, highOrRange, returned}, {circuit.PathOpen, 0, 0, highOrRange, returned}},
			{{circuit.DriverWeak, 4500, 10000, high, driven}},
			{{circuit.LeadToGround, 2600, 4700, ranged, cased}, {circuit.WindingToCase, 170, 320, ranged, cased}},
		}, {
			{{circuit.HarnessHigh, 45000, 700000, highOrRange, returned}, {circuit.HarnessOpen, 0, 0, highOrRange, returned}},
			{{circuit.PathHigh, 35000, 700000, highOrRange, returned}, {circuit.PathOpen, 0, 0, highOrRange, returned}},
			{{circuit.DriverWeak, 4500, 18000, high, driven}},
			{{circuit.LeadToGround, 2600, 8000, ranged, cased}, {circuit.WindingToCase, 170, 320, ranged, cased}},
		},
	}, {
		{
			{{circuit.WindingShorted, 280, 920, high, fed}},
			{{circuit.HarnessToBattery, 1100, 40000, high, fed}},
			{{circuit.PathHigh, 7000, 700000, ranged, fedBack}, {circuit.PathOpen, 0, 0, ranged, fedBack}},
		}, {
			{{circuit.LeadToGround, 6000, 60000, none, idle}},
			{{circuit.HarnessHigh, 44000, 100000, low, joined}},
			{{circuit.DriverWeak, 10000, 80000, high, sunk}},
		}, {
			{{circuit.LeadToGround, 6000, 60000, none, idle}},
			{{circuit.HarnessHigh, 120000, 700000, low, joined}, {circuit.HarnessOpen, 0, 0, lowOrOpen, joined}},
			{{circuit.DriverWeak, 10000, 80000, high, sunk}},
		},
	}}

	// redrawn are those that later drawings have in place of them: there each stored code, and none, leaves two repairs open or more.
	redrawn = [2][Levels][][]stock{{
		1: {
			{{circuit.HarnessHigh, 20000, 700000, highOrRange, returned}, {circuit.HarnessOpen, 0, 0, highOrRange, returned}},
			{{circuit.PathHigh, 20000, 700000, highOrRange, returned}, {circuit.PathOpen, 0, 0, highOrRange, returned}},
			{{circuit.DriverWeak, 4500, 10000, high, driven}},
			{{circuit.LeadToGround, 2600, 4700, ranged, cased}, {circuit.WindingToCase, 170, 320, ranged, cased}},
		},
	}, {
		{
			{{circuit.WindingShorted, 280, 920, high, fed}, {circuit.WindingToCase, 500, 6000, ranged, insulated}},
			{{circuit.HarnessToBattery, 1100, 40000, highOrRange, fed}},
			{{circuit.PathHigh, 7000, 700000, ranged, fedBack}, {circuit.PathOpen, 0, 0, ranged, fedBack}},
		}, {
			{{circuit.LeadToGround, 6000, 60000, none, leaking}, {circuit.WindingToCase, 2000, 6000, low, idle}},
			{{circuit.HarnessHigh, 44000, 100000, low, joined}, {circuit.HarnessToGround, 6000, 60000, none, leaking}},
			{{circuit.DriverWeak, 10000, 80000, low, sunk}},
		}, {
			{{circuit.LeadToGround, 6000, 60000, none, leaking}, {circuit.WindingToCase, 2000, 6000, low, idle}},
			{{circuit.HarnessHigh, 120000, 700000, low, joined}, {circuit.HarnessToGround, 6000, 60000, none, leaking}},
			{{circuit.DriverWeak, 10000, 80000, low, sunk}},
		},
	}}
)

// setting returns the circuit that a question hides a fault in, in a version of the draw.
func (q Question) setting(drawing int) setting {
	at := q.Level - 1
	s := setting{circuit.High, centivolts(1380), centiohm(500), centiohm(560), degrees(temperatures[q.Kind][at]), stocks[q.Kind][at]}
	if q.Kind == FaultLow {
		s.side, s.supply, s.min, s.max = circuit.Low, centivolts(1320), centiohm(1100), centiohm(1300)
	}
	if again := redrawn[q.Kind][at]; drawing > 1 && again != nil {
		s.stocks = again
	}
	return s
}

// model returns the circuit of a setting.
func (s setting) model() *circuit.Model {
	m := circuit.New(s.side, circuit.Wire, s.supply.Number(), s.min.Number(), s.max.Number())
	m.Warmth.At = quantity.Temperature(s.now.Number())
	return m
}

// A Hidden is what a student is given where a fault is hidden.
type Hidden struct {
	Question
	Model *circuit.Model
	Facts []Fact
	Told  bool // what a sound circuit would read is told beside each reading
	Way   []circuit.Test
	lesson.Hidden
}

// Hidden returns what question i hides from a student.
func (s Sheet) Hidden(i int, name string) Hidden {
	q := s.Questions[i]
	of := q.setting(s.Drawing)
	h := Hidden{Question: q, Model: of.model(), Told: q.Level < Levels}
	h.Facts = []Fact{{"supply", of.supply}, {"spec.min", of.min}, {"spec.max", of.max}, {"spec.at", degrees(20)},
		{"winding_temperature", of.now}}
	d := drawn(s.key(i, Plain(name)), "student")
	for range mostDraws {
		if h.draw(d, of); h.Clear() {
			return h
		}
	}
	panic("worksheet: nothing drawn can be hidden") // a test draws some thousands
}

// draw draws a fault with its parameter, the winding, the code, and how far each reading is from its prediction.
func (h *Hidden) draw(d draw, of setting) {
	stocks := of.stocks[d.below(len(of.stocks))]
	from := stocks[d.below(len(stocks))]
	x, codes := 0, stored[from.codes]
	if from.to > 0 {
		x = d.decade(int(from.from), int(from.to))
	}
	coil := d.between(of.min.N*102, of.max.N*98) // in 1e-4 ohm, at 20 degC
	var off [lesson.Tests]float64
	for t := range off {
		off[t] = float64(d.between(-400, 400)+d.between(-400, 400)) / 1000
	}
	h.Way = ways[from.way]
	h.Hidden = lesson.Put(h.Model, from.fault, float64(x)/1000, float64(rounded(coil*(10*of.now.N+2345), 2545))/1e4,
		codes[d.below(len(codes))], off)
}

// decade draws a whole number between two ends so that each doubling is about alike likely.
func (d draw) decade(least, most int) int {
	doublings := 0
	for n := least; 2*n <= most; n *= 2 {
		doublings++
	}
	lo := least << d.below(doublings+1)
	return d.between(lo, min(most, 2*lo))
}

// Best returns the minutes of the way that always suffices.
func (h Hidden) Best() (minutes float64) {
	for _, t := range h.Way {
		minutes += h.Model.Minutes[t]
	}
	return minutes
}

// Check reports whether the way suffices: with it the repair is supported as wholly as marks can be.
func (h Hidden) Check() bool {
	m := h.Mark(h.Way, h.Fault.Repair(), h.Best())
	return h.Clear() && m.Right && m.Supported >= sufficient
}

// sufficient is the probability with which the repair is supported after the way that always suffices.
const sufficient = 0.95

// A Stage is one test of the solution: what it reads, what a sound circuit would, and what is likeliest then.
type Stage struct {
	lesson.Paid
	Repair circuit.Repair
	P      float64 // of that repair, to a thousandth
}

// Solution returns the way that always suffices, test by test.
func (h Hidden) Solution() (stages []Stage) {
	for i, t := range h.Way {
		s := Stage{Paid: lesson.Paid{Reading: h.Reading(t), Minutes: h.Model.Minutes[t], Healthy: h.Expect(t)}}
		s.Repair, s.P = h.Likeliest(h.Way[:i+1])
		stages = append(stages, s)
	}
	return stages
}
