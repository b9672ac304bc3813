package diagnosis

import (
	"math"
	"math/rand/v2"

	"ohmwright/core/circuit"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// A world is what is really there: a fault, and everything that nobody knows exactly, each drawn as the model has it.
type world struct {
	m      *circuit.Model // as the user has typed it
	f      circuit.Fault
	way    int
	x      float64
	true   circuit.Model // with the real supply
	n      circuit.Nominal
	coil   float64 // healthy, at its temperature
	at     float64 // degC
	common [circuit.Meters]float64
	drive  circuit.Drive
	held   float64 // what the driver makes of the circuit: its share, or its current
	again  float64 // the same on the test load
	there  bool    // a fault that comes and goes is there
	v      circuit.View
	// stretch is by how much contacts and digits are worse than they are.
	stretch float64
}

// What the model takes contacts, a thermometer and drivers to be like, written down a second time.
const (
	contactOhms    = 0.12
	contactVolts   = 0.06
	powerVolts     = 0.1
	ofCurrent      = 0.03
	contactAmperes = 0.02
	thermometerOff = 3 // degC
	testLoad       = 12
	tryingAgain    = 0.08
	tryingAgainU   = 0.06
	thereShare     = 0.15
)

// doesAsTold is a driver that does as it is told.
var doesAsTold = circuit.Drive{Chance: 1, Share: 1, Load: 1}

// meterAt returns the model's meter in the range that it uses for a reading.
func meterAt(m *circuit.Model, t circuit.Test, value float64) measure.Meter {
	meter := m.Meters[t.Quantity()].Meter
	meter.Resolution = m.Step(t, value)
	return meter
}

// spanned draws a nominal resistance.
func spanned(s circuit.Span, nominal float64, u func() float64) float64 {
	if s.Max <= s.Min {
		return nominal
	}
	return between(s.Min, s.Max, true, u())
}

// gauss turns two uniform numbers into a normal one (Box and Muller).
func gauss(u func() float64) float64 {
	return math.Sqrt(-2*math.Log(1-u())) * math.Cos(2*math.Pi*u())
}

// worldOf draws everything but the fault, its way, its parameter and, 0 to 1, where the winding is in its row; wideRow: the winding may
// be of any row.
func worldOf(m *circuit.Model, f circuit.Fault, way int, x, row float64, wideRow bool, u func() float64) *world {
	w := &world{stretch: 1, m: m, f: f, way: way, x: x, true: *m, n: m.Nominal}
	w.true.Supply = m.Supply + m.SupplyWithin*(2*u()-1)
	w.n.Driver = spanned(m.Spans.Driver, m.Nominal.Driver, u)
	w.n.Harness = spanned(m.Spans.Harness, m.Nominal.Harness, u)
	w.n.Lead = spanned(m.Spans.Lead, m.Nominal.Lead, u)
	w.n.Path = spanned(m.Spans.Path, m.Nominal.Path, u)
	lo, hi := winding.Anywhere.From, winding.Anywhere.To
	if m.Warmth.Known {
		lo, hi = m.Warmth.At-quantity.Temperature(m.Warmth.Within), m.Warmth.At+quantity.Temperature(m.Warmth.Within)
	}
	w.at = between(float64(lo), float64(hi), false, u())
	w.coil = between(m.Row.Min, m.Row.Max, false, row) * (w.at + 234.5) / (float64(m.Row.At) + 234.5)
	if wideRow {
		w.coil *= between(0.5, 2, true, u())
	}
	for q := range w.common {
		w.common[q] = 2*u() - 1
	}
	return w
}

// look works out what the wanted tests read with the driver fully on and off, and returns what the driver may do.
func (w *world) look(wanted circuit.Set) []circuit.Drive {
	f := w.f
	if f.ComesAndGoes() || f == circuit.Other {
		f = circuit.None
	}
	c := w.true.Chain(&w.n, w.coil).With(f, w.x, w.way)
	w.v = circuit.View{}
	if w.m.Code != circuit.NoCode {
		wanted = wanted.With(circuit.VoltsPinOff).With(circuit.VoltsPinOn).With(circuit.CurrentOn)
	}
	c.Predict(wanted|circuit.InsideToo, &w.v)
	if wanted&circuit.Staged == 0 {
		return []circuit.Drive{doesAsTold}
	}
	o := w.m.Output()
	return o.May(f, w.v.On[circuit.CurrentOn].Value, w.v.Volts, nil)
}

// settle sets what the driver does, and draws how far.
func (w *world) settle(d circuit.Drive, u func() float64) {
	w.drive = d
	w.held = d.Share
	if d.U > 0 {
		w.held += d.U * gauss(u)
	}
	w.again = d.Load
	switch {
	case d.Load == tryingAgain:
		w.again = tryingAgain + tryingAgainU*gauss(u)
	case d.Load < 0:
		w.again = w.held
	}
}

// choose draws one of the things that the driver may do.
func choose(drives []circuit.Drive, u float64) (d circuit.Drive) {
	for _, d = range drives {
		if u -= d.Chance; u < 0 {
			break
		}
	}
	return d
}

// share returns how much of what a fully driven circuit would show a test shows.
func (w *world) share(t circuit.Test) float64 {
	current := func(set, amperes float64) float64 {
		if amperes <= set {
			return 1
		}
		return set / amperes
	}
	switch {
	case !circuit.Staged.Has(t):
		return 1
	case t == circuit.VoltsLoad && w.drive.Load < 0:
		return current(w.again, w.true.Supply/(testLoad+w.n.Driver))
	case t == circuit.VoltsLoad:
		return w.again
	case w.drive.Holds:
		return current(w.held, w.v.On[circuit.CurrentOn].Value)
	}
	return w.held
}

// value returns what a perfect meter with perfect contacts would show, +Inf for no path.
func (w *world) value(t circuit.Test) float64 {
	on := w.v.On[t].Value
	if share := w.share(t); share != 1 {
		return w.v.Off[t].Value + share*(on-w.v.Off[t].Value)
	}
	return on
}

// errors returns a reading's error that all readings by the meter share, the standard deviation of its contacts, and the half-width of
// its last digit.
func (w *world) errors(t circuit.Test, value float64) (common, contacts, digit float64) {
	q := t.Quantity()
	both, digit := meterAt(w.m, t, value).Split(value)
	switch {
	case q == circuit.Amperes:
		contacts = ofCurrent*math.Abs(value) + contactAmperes
	case t == circuit.VoltsUnitFeed || t == circuit.VoltsUnitGround:
		contacts = powerVolts
	case q == circuit.Volts:
		contacts = contactVolts
	default:
		contacts = contactOhms
	}
	return both * w.common[q], contacts, digit
}

// anyWorld draws a world with a fault, as somebody finds it in the workshop, ready for every test.
func anyWorld(r *rand.Rand, m *circuit.Model, f circuit.Fault) *world {
	w := worldOf(m, f, r.IntN(f.Ways()), m.Parameter(f, r.Float64()), r.Float64(), f == circuit.OtherRow, r.Float64)
	w.settle(choose(w.look(electrical(m.Side, m.Return)), r.Float64()), r.Float64)
	w.there = r.Float64() < thereShare
	return w
}

// reads returns what a test shows in the world, with a meter's and its contacts' errors, as the display rounds it.
func (w *world) reads(r *rand.Rand, t circuit.Test) circuit.Reading {
	if t.Quantity() > circuit.Degrees {
		words := t.Quantity().Words()
		if r.Float64() < circuit.Wordly(w.f, t) {
			return circuit.Reading{Test: t, Word: words[1]}
		}
		return circuit.Reading{Test: t, Word: words[0]}
	}
	if t == circuit.Thermometer {
		return circuit.Reading{Test: t, Value: math.Round(w.at + thermometerOff*(2*r.Float64()-1))}
	}
	value := w.value(t)
	if math.IsInf(value, 1) {
		return circuit.Reading{Test: t, Over: true}
	}
	common, contacts, digit := w.errors(t, value)
	value += common + contacts*r.NormFloat64() + digit*(2*r.Float64()-1)
	if t.Quantity() == circuit.Ohms {
		value = max(0, value)
	}
	if step := w.m.Step(t, value); step > 0 {
		value = math.Round(value/step) * step
	}
	return circuit.Reading{Test: t, Value: value}
}

// drawn draws a fault by its weight.
func drawn(r *rand.Rand, m *circuit.Model) (f circuit.Fault) {
	for at := r.Float64() * m.WeightSum(); int(f) < circuit.Faults-1; f++ {
		if at -= m.Weights[f]; at < 0 {
			break
		}
	}
	return f
}
