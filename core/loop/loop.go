// Package loop evaluates a loaded test: a supply voltage and its current give the resistance of the whole loop. What is left after
// subtracting the winding and the driver is unwanted.
package loop

import (
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// A Test is a loaded test at full drive.
type Test struct {
	Supply        quantity.Voltage // at the battery, under load; above 0
	SupplyWithin  quantity.Voltage // half-width of its uncertainty
	Current       quantity.Current // by clamp; above 0
	Meter         measure.Meter    // of the clamp
	Winding       measure.Estimate // in ohm, at At
	At            quantity.Temperature
	WindingAt     quantity.Temperature           // during the test
	WindingWithin quantity.TemperatureDifference // half-width of its uncertainty
	DriverOhms    quantity.Resistance            // the driver's resistance, if that is known
	DriverVolts   quantity.Voltage               // the driver's voltage drop, if that is known
	Driver        Driver
	Limit         quantity.Voltage // largest accepted unwanted drop
	Segments      []Segment
}

// A Driver is what a control unit's driver does with too much current.
type Driver string

// The drivers.
const (
	DriverUnknown   Driver = "unknown"
	DriverPlain     Driver = "plain"     // fully on, whatever flows
	DriverProtected Driver = "protected" // switches off above its limit, for good or trying again
	DriverRegulated Driver = "regulated" // holds a current by pulsing: supply over current is then no resistance
)

// A Segment is a part of the loop with the voltage that it may lose.
type Segment struct {
	Name    SegmentName
	Allowed quantity.Voltage
	Wire    *winding.Wire // sound wire of this gauge and length, if that is given
}

// A SegmentName names a segment.
type SegmentName string

// The segments.
const (
	Ground SegmentName = "ground"
	Wiring SegmentName = "wire"
	Switch SegmentName = "switch"
)

// An Allowance is what a segment may lose at the measured current.
type Allowance struct {
	Segment
	Ohms     quantity.Resistance // resistance that loses the voltage allowed
	OfWire   quantity.Resistance // of the sound wire; 0 where it is not given
	Expected quantity.Voltage    // lost in the sound wire
}

// A Finding is the result of a test.
type Finding struct {
	Total    measure.Estimate // of the loop, in ohm
	Winding  measure.Estimate // hot, in ohm
	Unwanted measure.Estimate // the rest: wiring, contacts, grounds, in ohm; negative if the loop draws more than the winding should
	Drop     measure.Estimate // the voltage lost in it
	Verdict  Verdict
	// TooMuch means that the current is too large, with 95 %: the loop has less resistance than the winding and the driver should
	// have. The winding is then not as given, nothing is known about the rest, and the verdict is Undecided.
	TooMuch bool
	// Regulated means that this is no loaded test: the driver holds the current. There is nothing but the hot winding then.
	Regulated bool
	// MayRegulate means that the loss is the wiring's only if the driver does not regulate its current, which is not known.
	MayRegulate bool
	// MayBeOff means that so little current flows that a driver which protects itself may have switched off, at least at times.
	MayBeOff bool
	Allowed  []Allowance
	Largest  Share // of the doubt about the drop: the one worth reducing
}

// A Share is a source of doubt about the drop.
type Share string

// The sources.
const (
	ShareSupply      Share = "supply"
	ShareClamp       Share = "clamp"
	ShareWinding     Share = "winding"
	ShareTemperature Share = "temperature" // of the winding
)

// largest returns the source of the largest contribution, in volts: from the supply, the clamp, the winding and its temperature.
func largest(supply, clamp, coil, temperature float64) Share {
	most, of := supply, ShareSupply
	for _, c := range []struct {
		u  float64
		of Share
	}{{clamp, ShareClamp}, {coil, ShareWinding}, {temperature, ShareTemperature}} {
		if c.u > most {
			most, of = c.u, c.of
		}
	}
	return of
}

// A Verdict is one on the loop without its winding.
type Verdict string

// The verdicts.
const (
	Clean     Verdict = "clean"
	Unwanted  Verdict = "unwanted"
	Undecided Verdict = "undecided"
)

// Find evaluates the test.
//
//	total = V/I
//	winding = R × (θ_hot − θ₀)/(θ − θ₀)
//	unwanted = total − winding − driver
//	drop = V − I × (winding + driver) = I × unwanted
//
// Units: ohm, V. Uncertainty to first order (JCGM 100:2008, 5.1.2) from the clamp, the supply, the winding and its temperature; the
// verdict on the drop needs 95 %. It ignores that wiring warms, and is only for a driver that is fully on, since a pulsed one has
// no single current. Checked in testdata/loaded-test.json.
func (t Test) Find() Finding {
	v, i := float64(t.Supply), float64(t.Current)
	uV, uI := measure.Rectangular(float64(t.SupplyWithin)), t.Meter.Read(i).Estimate().U
	f := winding.Copper.Factor(t.At, t.WindingAt)
	hot := t.Winding.Value * f
	perKelvin := hot / float64(t.WindingAt-winding.Copper.ZeroResistanceAt)
	uT := perKelvin * measure.Rectangular(float64(t.WindingWithin))
	w := measure.Estimate{Value: hot, U: measure.Combine(t.Winding.U*f, uT)}
	driver := float64(t.DriverOhms)
	drop := v - i*(hot+driver) - float64(t.DriverVolts)
	// The clamp's error changes the drop by its error times the known resistance.
	d := measure.Estimate{Value: drop, U: measure.Combine(uV, uI*(hot+driver), w.U*i)}
	r := measure.Estimate{Value: drop / i, U: measure.Combine(uV/i, uI*(v-float64(t.DriverVolts))/(i*i), w.U)}
	limit := measure.Everything()
	limit.Max = float64(t.Limit)
	out := Finding{
		Total:   measure.Estimate{Value: v / i, U: measure.Combine(uV/i, uI*v/(i*i))},
		Winding: w, Unwanted: r, Drop: d, Verdict: Undecided,
		Largest: largest(uV, uI*(hot+driver), t.Winding.U*f*i, uT*i),
	}
	for _, s := range t.Segments {
		out.Allowed = append(out.Allowed, t.allow(s))
	}
	if t.Driver == DriverRegulated {
		return Finding{Winding: w, Verdict: Undecided, Regulated: true, Allowed: out.Allowed}
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
	out.MayRegulate = t.Driver == DriverUnknown && out.Verdict == Unwanted
	share := i * (hot + driver) / (v - float64(t.DriverVolts))
	out.MayBeOff = (t.Driver == DriverUnknown || t.Driver == DriverProtected) && out.Verdict == Unwanted && share <= leastOn
	return out
}

// leastOn is the share of the current expected at which a driver that tries again and again shows on a clamp, at most. Source:
// contract, circuit.
const leastOn = 0.2

// allow works out what a segment may have at the measured current.
func (t Test) allow(s Segment) Allowance {
	a := Allowance{Segment: s, Ohms: quantity.Resistance(float64(s.Allowed) / float64(t.Current))}
	if s.Wire != nil {
		a.OfWire = s.Wire.Ohms()
		a.Expected = quantity.Voltage(float64(a.OfWire) * float64(t.Current))
	}
	return a
}

// What a reader is told beside the verdicts of a test.
const (
	DrawsTooMuch Verdict = "too_much"       // the loop has less resistance than winding and driver alone should have
	NoLoadedTest Verdict = "no_loaded_test" // the driver regulates its current
)

// Overall is the one verdict that a reader is told.
func (f Finding) Overall() Verdict {
	switch {
	case f.Regulated:
		return NoLoadedTest
	case f.TooMuch:
		return DrawsTooMuch
	}
	return f.Verdict
}
