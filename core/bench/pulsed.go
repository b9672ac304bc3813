package bench

import (
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// Henries are the units that the page offers for an inductance.
var Henries = []string{"mH", "H"}

// ReadAt declares the temperature at which a winding's resistance was read.
func ReadAt() TemperatureField {
	return Temperature(tool.Field{Name: "at", From: "bench.at", Default: "20 degC"})
}

// An OhmsField is a resistance.
type OhmsField = tool.QuantityField[quantity.Resistance]

// Wiring and Driver declare the resistances in series with the winding.
func Wiring() OhmsField { return beside("wiring") }
func Driver() OhmsField { return beside("driver") }

func beside(name string) OhmsField {
	return tool.QuantityOf[quantity.Resistance](tool.Field{Name: name, From: "bench." + name, Default: "0 ohm", Range: Resistances,
		Page: tool.Hints{Fine: true, Offer: Ohms}})
}

// DriverLimit declares the highest current of a driver. apart is the group of fields that may fail together with it; "" for none.
func DriverLimit(apart string) tool.QuantityField[quantity.Current] {
	return tool.QuantityOf[quantity.Current](tool.Field{Name: "driver_limit", From: "bench.driver_limit", Sample: "3 A", Range: Currents,
		Apart: apart, Page: tool.Hints{Fine: true}})
}

// Three writes a quantity to three significant figures.
func Three[Q ~float64](s *wording.Speaker, v Q) string {
	return s.Three(quantity.KindOf[Q](), float64(v))
}

// DriverKind declares what a driver does when its current grows: whether it is fully on whatever flows, protects itself or holds a
// current. The options have the words unknown, plain, protected and regulated. fact is the fact of a job that the field holds by
// itself; "" for none.
func DriverKind[T any](name, fact string, options []tool.Option[T]) tool.ChoiceField[T] {
	return tool.ChoiceOf(tool.Field{Name: name, Fact: fact, From: "bench.driver_kind", Default: "unknown"}, options)
}
