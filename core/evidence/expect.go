package evidence

import (
	"math"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/winding"
)

// An Expected is the range of at least 95 of 100 readings in a healthy circuit.
type Expected struct {
	Low, High float64
	Over      bool         // reads OL, so there is no range
	Word      circuit.Word // reads this, so there is no range
}

// Expectations returns what each possible test reads in a healthy circuit, at the temperature and supply that readings tell.
func Expectations(m *circuit.Model, readings []circuit.Reading) (all [circuit.Tests]Expected) {
	w := newWeigher(m, readings)
	cold, hot := w.m.Warmth.Span()
	w.coil = [3]float64{m.Row.Min * winding.Copper.Factor(m.Row.At, cold), 0, m.Row.Max * winding.Copper.Factor(m.Row.At, hot)}
	w.coil[1] = (w.coil[0] + w.coil[2]) / 2
	w.narrow = false
	n := node{fault: circuit.None}
	w.sweep(n, 1<<circuit.Tests-1)
	w.look(0)
	for t := range circuit.Test(circuit.Tests) {
		if t.Possible(m.Side, m.Return) {
			all[t] = w.expected(t, &n)
		}
	}
	return all
}

// Expect returns what a test reads in a healthy circuit.
func Expect(m *circuit.Model, t circuit.Test) Expected { return Expectations(m, nil)[t] }

// expected returns what a test reads in a healthy circuit, as seen.
func (w *Weigher) expected(t circuit.Test, n *node) Expected {
	switch t.Quantity() {
	case circuit.Behaviour, circuit.Answer:
		return Expected{Word: t.Quantity().Words()[0]}
	case circuit.Degrees:
		cold, hot := w.m.Warmth.Span()
		return Expected{Low: float64(cold), High: float64(hot)}
	}
	e := Expected{Low: math.Inf(1), High: math.Inf(-1)}
	for _, coil := range [2]float64{w.coil[0], w.coil[2]} {
		var s sceneOf
		w.see(t, n, &doubt.Winding{Piece: doubt.Piece{Mean: coil}}, 1, &s)
		if math.IsInf(s.Value, 0) {
			return Expected{Over: true}
		}
		var g doubt.Guess
		w.guess(t, &s, &circuit.Wholly, w.supplyOf(t), &g)
		u := 1.96 * math.Sqrt(g.Variance())
		e.Low, e.High = min(e.Low, g.Value-u), max(e.High, g.Value+u)
	}
	e.Low = max(e.Low, 0)
	return e
}
