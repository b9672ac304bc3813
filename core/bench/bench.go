// Package bench holds what several tools ask for and read alike, as it lies on a bench: a meter, a conductor, temperatures, a supply,
// a specification, a wire; and the stop that a tool answers with where it gives no advice. Their words are the shared ones of
// core/wording, bench.NAME.
package bench

import (
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
)

// The widest values that are accepted at all. Anything beyond is a typing error, and within them no result can overflow.
const (
	MostOhms    = 1e12
	MostVolts   = 1e5
	MostAmperes = 1e6
	MostDegrees = 2000
	MostHenries = 1e4
)

// The ranges of those values.
var (
	Resistances  = tool.Between(0, MostOhms)
	SomeOhms     = tool.Over(0, MostOhms)
	Voltages     = tool.Over(0, MostVolts)
	Currents     = tool.Over(0, MostAmperes)
	Temperatures = tool.Between(-273.15, MostDegrees)
	Differences  = tool.Between(0, MostDegrees)
	Shares       = tool.Over(0, 1)
)

// The units that the page offers.
var (
	Ohms    = []string{"ohm"}
	Volts   = []string{"V"}
	Amperes = []string{"A", "mA"}
	Degrees = []string{"degC", "degF"}
	Kelvins = []string{"K", "degF"}
	PerCent = []string{"%"}
)

// A Meter is the group of fields that gives a meter's accuracy.
type Meter struct {
	tool.GroupField
	percent, counts tool.NumberField
	resolution      tool.MeasureField
}

// MeterOf declares a meter for readings of a kind, with the defaults that a tool assumes. If resolution is "", it depends on the range.
func MeterOf(d tool.Field, percent, counts, resolution string, kind quantity.Kind) Meter {
	m := Meter{
		percent:    tool.NumberOf(tool.Field{Name: "percent", Default: percent, Range: tool.Between(0, 100), Percent: true}),
		counts:     tool.NumberOf(tool.Field{Name: "counts", Default: counts, Range: tool.Between(0, 10000)}),
		resolution: tool.MeasureOf(tool.Field{Name: "resolution", Default: resolution, Range: tool.Between(0, 1e6)}, kind),
	}
	m.GroupField = tool.GroupOf(d, m.percent, m.counts, m.resolution)
	return m
}

// Of returns the meter that a record gives.
func (m Meter) Of(r *tool.Record) measure.Meter {
	g := m.GroupField.Of(r)
	return measure.Meter{Percent: m.percent.Of(g), Counts: m.counts.Of(g), Resolution: m.resolution.Of(g).In}
}

// Told returns the accuracy as meters' manuals write it, such as ±(0.5 % + 2 × 0.01 V); "" if the request does not give it.
func (m Meter) Told(r *tool.Record) string {
	g := m.GroupField.Of(r)
	if !m.Given(r) || !tool.OK(g, m.percent, m.counts) {
		return ""
	}
	text := "±(" + m.percent.Sound(g) + " % + " + m.counts.Sound(g)
	if step := m.resolution.Sound(g); step != "" {
		text += " × " + step
	}
	return text + ")"
}

// HasResolution reports whether the request gives the resolution.
func (m Meter) HasResolution(r *tool.Record) bool { return m.resolution.Given(m.GroupField.Of(r)) }

// A Conductor is the field that gives the material of a winding.
type Conductor struct {
	tool.ChoiceField[winding.Material]
	zero tool.QuantityField[quantity.Temperature]
}

// Material declares the field of a conductor.
func Material() Conductor {
	zero := tool.QuantityOf[quantity.Temperature](tool.Field{Name: "zero_resistance_at", Sample: "-234.5 degC",
		Range: tool.Between(-1000, 0), Page: tool.Hints{Offer: Degrees}})
	d := tool.Field{Name: "material", Fact: "material", From: "bench.material", Default: "copper", Page: tool.Hints{Fine: true}}
	named := []tool.Option[winding.Material]{{Word: "copper", Is: winding.Copper}, {Word: "aluminium", Is: winding.Aluminium}}
	return Conductor{tool.ChoiceOf(d, named, zero), zero}
}

// Of returns the conductor's material; copper if the request's is not readable.
func (c Conductor) Of(r *tool.Record) winding.Material {
	if g := c.Instead(r); g != nil && c.zero.OK(g) {
		return winding.Material{ZeroResistanceAt: c.zero.Of(g)}
	}
	if m := c.ChoiceField.Of(r); m != (winding.Material{}) {
		return m
	}
	return winding.Copper
}

// A TemperatureField holds a point on a temperature scale, not a difference.
type TemperatureField = tool.QuantityField[quantity.Temperature]

// Temperature declares a temperature.
func Temperature(d tool.Field) TemperatureField {
	d.Range, d.Page.Offer = Temperatures, Degrees
	return tool.QuantityOf[quantity.Temperature](d)
}

// CheckAbove notes a fault if a temperature is not above the material's zero-resistance temperature.
func CheckAbove(m winding.Material, r *tool.Record, at TemperatureField, f *tool.Faults) {
	if !at.OK(r) || !(at.Of(r) < m.ZeroResistanceAt+winding.LeastAbove) {
		return
	}
	zero := f.Speak.Celsius(float64(m.ZeroResistanceAt), 0)
	f.OutOf(at.Path(r), at.Raw(r), "zero_resistance", quantity.Clip(at.Raw(r)), zero)
	at.Spoil(r)
}

// A Spec is a winding as specified: two limits of resistance, and the temperature at which they hold.
type Spec struct {
	tool.GroupField
	Min, Max OhmsField
	At       TemperatureField
}

// SpecOf declares a specification of two limits and a temperature.
func SpecOf(d tool.Field, min, max OhmsField, at TemperatureField) Spec {
	return Spec{tool.GroupOf(d, min, max, at), min, max, at}
}

// CheckOrder notes a fault if the lower limit is above the upper one.
func (s Spec) CheckOrder(r *tool.Record, f *tool.Faults) { CheckOrder(s.Of(r), s.Min, s.Max, f) }

// CheckOrder notes a fault if a minimum is above its maximum.
func CheckOrder(r *tool.Record, min, max OhmsField, f *tool.Faults) {
	if lo, hi := min.Of(r), max.Of(r); tool.OK(r, min, max) && lo > hi {
		f.Conflict(min.Path(r), min.Raw(r), "min_max", f.Speak.Ohms(float64(lo), 0), f.Speak.Ohms(float64(hi), 0))
	}
}

// CarrySpec returns a setting that carries the limits of a specification, and their temperature, to the circuit tool.
func CarrySpec(r *tool.Record, min, max OhmsField, at TemperatureField) tool.Setting {
	return tool.Setting{}.Set("spec.min", min.Plain(r)).Set("spec.max", max.Plain(r)).Set("spec.at", at.Plain(r))
}
