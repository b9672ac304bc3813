package bench

import (
	"fmt"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

// A Wire is a wire as a request gives it: by its cross-section or by its American gauge, and its length.
type Wire struct {
	tool.GroupField
	section tool.QuantityField[quantity.Area]
	gauge   tool.WholeField
	length  tool.QuantityField[quantity.Length]
}

// WireOf declares a wire.
func WireOf(d tool.Field) Wire {
	d.From = "bench.wire"
	w := Wire{
		section: tool.QuantityOf[quantity.Area](tool.Field{Name: "section", Sample: "0.75 mm2", Range: tool.Over(0.01, 1000),
			Page: tool.Hints{Fine: true}}),
		gauge: tool.WholeOf(tool.Field{Name: "gauge", Sample: "18", Range: tool.Between(0, 40), Page: tool.Hints{Fine: true}}),
		length: tool.QuantityOf[quantity.Length](tool.Field{Name: "length", Need: true, Sample: "4 m", Range: tool.Over(0, 1e7),
			Page: tool.Hints{Fine: true, Offer: []string{"m", "ft"}}}),
	}
	w.GroupField = tool.GroupOf(d, w.section, w.gauge, w.length)
	return w
}

// Check holds that the wire has one of section and gauge; one that has not is spoiled.
func (w Wire) Check(r *tool.Record, f *tool.Faults) {
	if !w.Given(r) {
		return
	}
	g := w.GroupField.Of(r)
	switch {
	case w.section.Given(g) && w.gauge.Given(g):
		f.Conflict(w.gauge.Path(g), w.gauge.Raw(g), "wire_both")
	case !w.section.Given(g) && !w.gauge.Given(g):
		f.Lacks(w.section.Path(g), "0.75 mm2")
	default:
		return
	}
	w.Spoil(r)
}

// Of reads the wire; nil where there is none, or it is wrong.
func (w Wire) Of(r *tool.Record) *winding.Wire {
	if !w.Given(r) || !w.OK(r) {
		return nil
	}
	g := w.GroupField.Of(r)
	wire := &winding.Wire{Section: w.section.Of(g), Length: w.length.Of(g)}
	if w.gauge.Given(g) {
		wire.Section = winding.GaugeSection(w.gauge.Of(g))
	}
	return wire
}

// WireWorking is how the resistance of a wire is worked out: the formula, the numbers put in, and the key of the source.
func WireWorking(s *wording.Speaker, w winding.Wire) (formula, with, source string) {
	source = "wire_by_section"
	if w.Listed() {
		source = "iec60228"
	}
	perMetre := float64(winding.Wire{Section: w.Section, Length: 1000}.Ohms()) * 1000
	with = fmt.Sprintf("R = %s m × %s mΩ/m = %s", s.AtMost(float64(w.Length)/1000, 3), s.AtMost(perMetre, 3),
		s.Three(quantity.OfResistance, float64(w.Ohms())))
	return "R = l × R_metre", with, source
}
