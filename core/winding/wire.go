package winding

import (
	"math"

	"ohmwright/core/portable"
	"ohmwright/core/quantity"
)

// A Wire is a copper wire of a loom.
type Wire struct {
	Section quantity.Area
	Length  quantity.Length // of all of it: there and back
}

// classFive are the most milliohms that a metre of plain copper wire may have at 20 degC, by its cross-section in mm². Source: IEC
// 60228, class 5 (fine strands), as restated in public tables. Checked in testdata/windings.json.
var classFive = map[quantity.Area]float64{0.5: 39.0, 0.75: 26.0, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30}

// otherWire is the same for a section between: mΩ/m × mm², as the table has it for 0.5 to 1 mm².
const otherWire = 19.5

// WireWithin is the half-width of the doubt about a wire that is worked out and not read, as a share of it: strands, its temperature
// and what its section really is. Common practice.
const WireWithin = 0.15

// Ohms returns the resistance of the wire at 20 degC, without its contacts.
//
//	R = length × (mΩ/m of its section)
func (w Wire) Ohms() quantity.Resistance {
	perMetre, listed := classFive[w.Section]
	if !listed {
		perMetre = otherWire / float64(w.Section)
	}
	return quantity.Resistance(float64(w.Length) / 1000 * perMetre / 1000)
}

// Listed reports whether the wire's section is in the standard's table.
func (w Wire) Listed() bool { return classFive[w.Section] != 0 }

// GaugeSection returns the cross-section of an American wire gauge.
//
//	diameter = 0.127 mm × 92^((36 − n)/39)
//
// Source: ASTM B258 (from memory). Checked in testdata/windings.json. Of a stranded wire it is the metal's own section.
func GaugeSection(n int) quantity.Area {
	d := 0.127 * portable.Pow(92, float64(36-n)/39)
	return quantity.Area(math.Pi / 4 * d * d)
}
