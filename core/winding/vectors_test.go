package winding

import (
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/testdata"
)

// args are the numbers of a vector of a function.
type args map[string]any

func (a args) number(name string) float64               { return a[name].(float64) }
func (a args) ohms(name string) quantity.Resistance     { return quantity.Resistance(a.number(name)) }
func (a args) celsius(name string) quantity.Temperature { return quantity.Temperature(a.number(name)) }
func (a args) material() Material                       { return Material{a.celsius("zero_resistance_at")} }

// run compares a function with each of its vectors.
func run(t *testing.T, name string, give func(args) map[string]any) {
	vs, err := testdata.OfFunc(name)
	require.NoError(t, err)
	for _, v := range vs {
		t.Run(v.ID, func(t *testing.T) { require.NoError(t, v.CheckValue(give(v.In.Args))) })
	}
}

func TestVectorsOfFactor(t *testing.T) {
	run(t, "winding.Material.Factor", func(a args) map[string]any {
		f := a.material().Factor(a.celsius("from"), a.celsius("to"))
		return map[string]any{"factor": f, "product": f * a.number("of")}
	})
}

func TestVectorsOfTemperatureOf(t *testing.T) {
	run(t, "winding.TemperatureOf", func(a args) map[string]any {
		return map[string]any{"temperature": float64(a.material().TemperatureOf(a.ohms("now"), a.ohms("was"), a.celsius("ref")))}
	})
}

func TestVectorsOfLostTurns(t *testing.T) {
	run(t, "winding.LostTurns", func(a args) map[string]any {
		return map[string]any{"lost": float64(LostTurns(a.ohms("now"), a.ohms("healthy")))}
	})
}

func TestVectorsOfResistanceDoubt(t *testing.T) {
	run(t, "winding.ResistanceDoubt", func(a args) map[string]any {
		w := measure.Estimate{Value: a.number("value"), U: a.number("u")}
		c := ResistanceDoubt(w, quantity.Voltage(a.number("supply")), quantity.Current(a.number("limit")))
		return map[string]any{"below": c.Below, "within": c.Within, "above": c.Above}
	})
}

func TestVectorsOfWire(t *testing.T) {
	run(t, "winding.Wire", func(a args) map[string]any {
		w := Wire{Length: quantity.Length(a.number("length"))}
		if n, ok := a["gauge"].(float64); ok {
			w.Section = GaugeSection(int(n))
		} else {
			w.Section = quantity.Area(a.number("section"))
		}
		return map[string]any{"ohms": float64(w.Ohms()), "section": float64(w.Section), "listed": w.Listed()}
	})
}
