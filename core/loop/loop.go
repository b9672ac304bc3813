// Package loop answers what a loaded test says: a supply voltage and the current it drives give the resistance of the
// whole loop; less the winding and the driver, what is left over is unwanted.
package loop

import (
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// A Test is a loaded test at full drive.
type Test struct {
	Supply        quantity.Voltage // at the battery, under load; more than 0
	SupplyWithin  quantity.Voltage // half-width of the doubt about it
	Current       quantity.Current // clamp reading; more than 0
	Meter         measure.Meter    // of the clamp
	Winding       measure.Estimate // in ohm, at At
	At            quantity.Temperature
	WindingAt     quantity.Temperature           // during the test
	WindingWithin quantity.TemperatureDifference // half-width of the doubt about it
	DriverOhms    quantity.Resistance            // of the driver, where it is known as a resistance
	DriverVolts   quantity.Voltage               // where it is known as a drop
	Limit         quantity.Voltage               // the unwanted drop that is still accepted
}

// A Finding is what the test says.
type Finding struct {
	Total    measure.Estimate // of the loop, in ohm
	Winding  measure.Estimate // hot, in ohm
	Unwanted measure.Estimate // left over: wiring, contacts, grounds, in ohm; negative where the loop draws more than the winding should
	Drop     measure.Estimate // the volts lost in it
	Verdict  Verdict
	// TooMuch says that with 95 % the loop has less resistance than the winding and driver alone should have. Then the
	// winding is not what it is taken for, and nothing can be said of the rest: the verdict is Undecided.
	TooMuch bool
}

// A Verdict on the loop without its winding.
type Verdict string

// The verdicts.
const (
	Clean     Verdict = "clean"
	Unwanted  Verdict = "unwanted"
	Undecided Verdict = "undecided"
)

// Find works the test out.
//
//	total = V/I
//	winding = R × (θ_hot − θ₀)/(θ − θ₀)
//	unwanted = total − winding − driver
//	drop = V − I × (winding + driver) = I × unwanted
//
// Units: ohm, V. Uncertainty to first order (JCGM 100:2008, 5.1.2) from the clamp, the supply, the winding and its
// temperature; the drop is decided at 95 %. It ignores that wiring warms and that a pulsed drive has no single current:
// the driver is fully on. Checked in testdata/loaded-test.json.
func (t Test) Find() Finding {
	v, i := float64(t.Supply), float64(t.Current)
	uV, uI := measure.Rectangular(float64(t.SupplyWithin)), t.Meter.U(i)
	f := winding.Copper.Factor(t.At, t.WindingAt)
	hot := t.Winding.Value * f
	perKelvin := hot / float64(t.WindingAt-winding.Copper.ZeroResistanceAt)
	w := measure.Estimate{Value: hot, U: measure.Combine(t.Winding.U*f, perKelvin*measure.Rectangular(float64(t.WindingWithin)))}
	driver := float64(t.DriverOhms)
	drop := v - i*(hot+driver) - float64(t.DriverVolts)
	// The voltage that the clamp's error stands for is the current's error times what is known to be in the loop.
	d := measure.Estimate{Value: drop, U: measure.Combine(uV, uI*(hot+driver), w.U*i)}
	r := measure.Estimate{Value: drop / i, U: measure.Combine(uV/i, uI*(v-float64(t.DriverVolts))/(i*i), w.U)}
	limit := measure.Everything()
	limit.Max = float64(t.Limit)
	out := Finding{
		Total:   measure.Estimate{Value: v / i, U: measure.Combine(uV/i, uI*v/(i*i))},
		Winding: w, Unwanted: r, Drop: d, Verdict: Undecided,
	}
	switch measure.Conform(d, limit).Verdict() {
	case measure.Within:
		out.Verdict = Clean
	case measure.Above:
		out.Verdict = Unwanted
	}
	none := measure.Everything()
	none.Min = 0
	if measure.Conform(d, none).Verdict() == measure.Below {
		out.TooMuch, out.Verdict = true, Undecided
	}
	return out
}

// DrawsTooMuch is the verdict where the loop has less resistance than winding and driver alone should have.
const DrawsTooMuch Verdict = "too_much"

// Overall is the one verdict that a reader is told.
func (f Finding) Overall() Verdict {
	if f.TooMuch {
		return DrawsTooMuch
	}
	return f.Verdict
}
