package quantity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// anyFloat returns finite float64s of every size and sign.
func anyFloat(r *rand.Rand) float64 {
	for {
		if v := math.Float64frombits(r.Uint64()); !math.IsNaN(v) && !math.IsInf(v, 0) {
			return v
		}
	}
}

// edges are values that are easy to format wrongly.
var edges = []float64{0, math.Copysign(0, -1), 1, -1, 0.1, 9.7, 0.0097, 1250, 1250.5, 999.9995, 1e15, 1e16, 123456789012345678, 1e-6, 1e-7,
	math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, 2.2250738585072014e-308, 1.0000000000000002, 0.30000000000000004, 5e-324,
	1e21, 1e22, 1e23}

// decimal reports whether a unit differs from the contract's only by a power of ten.
func (u Unit) decimal() bool { return u.Before == 0 && u.Num == 1 && u.Den == 1 }

// Loops of many thousand values compare with if: assertions of testify take longer than what they check here.

// TestFormatThereAndBack checks that Parse returns exactly what was formatted (0 for −0), in every decimal unit and with both marks.
func TestFormatThereAndBack(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 1))
	for k := OfResistance; k <= OfRatio; k++ {
		for _, u := range Units(k) {
			if !u.decimal() {
				continue
			}
			for _, mark := range []Mark{Point, Comma} {
				check := func(x float64) {
					text := Format(x, u.Symbol, k, mark)
					if v, err := Parse(text, mark, k); err != nil || v.In != x || v.Unit.Symbol != u.Symbol {
						t.Fatalf("Format wrote %v in %s as %q, from which Parse returned %v %s, %v", x, u.Symbol, text, v.In, v.Unit.Symbol, err)
					}
				}
				for _, x := range edges {
					check(x)
				}
				for range 4000 {
					check(anyFloat(r))
					check(math.Round(r.NormFloat64()*1e5) / 1000)
				}
			}
		}
	}
}

// TestReadThereAndBack checks the same for degF and K, for temperatures that were read in that unit.
func TestReadThereAndBack(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(2, 2))
	for _, k := range []Kind{OfTemperature, OfTemperatureDifference} {
		for _, u := range Units(k) {
			for range 20000 {
				digits := strconv.FormatFloat(r.NormFloat64()*math.Pow(10, float64(r.IntN(5))), 'f', r.IntN(6), 64)
				if r.IntN(10) == 0 {
					digits = strconv.FormatFloat(anyFloat(r), 'g', -1, 64)
				}
				read, err := Parse(digits+" "+u.Symbol, Point, k)
				if err != nil {
					require.Equal(t, TooLarge, err.(*Error).Fault, digits)
					continue
				}
				for _, mark := range []Mark{Point, Comma} {
					text := Format(read.In, u.Symbol, k, mark)
					if v, err := Parse(text, mark, k); err != nil || v.In != read.In {
						t.Fatalf("%s %s is %v; Format wrote %q, from which Parse returned %v, %v", digits, u.Symbol, read.In, text, v.In, err)
					}
				}
			}
		}
	}
}

// TestAnyTemperatureThereAndBack checks that any other temperature is read back within a rounding, as the comment of Format says.
func TestAnyTemperatureThereAndBack(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 3))
	for _, u := range Units(OfTemperature) {
		for range 20000 {
			x := r.NormFloat64() * 300
			text := Format(x, u.Symbol, OfTemperature, Point)
			if v, err := Parse(text, Point, OfTemperature); err != nil || !(math.Abs(v.In-x) <= 1e-12) {
				t.Fatalf("Format wrote %v degC as %q, from which Parse returned %v, %v", x, text, v.In, err)
			}
		}
	}
}

// TestValueThereAndBack checks that the same value is read back from Value.String, which links use.
func TestValueThereAndBack(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 4))
	for k := OfResistance; k <= OfRatio; k++ {
		for _, u := range Units(k) {
			for range 2000 {
				text := strconv.FormatFloat(r.NormFloat64()*1e4, 'f', r.IntN(5), 64)
				mark := Mark(r.IntN(2))
				if mark == Comma {
					text = strings.Replace(text, ".", ",", 1)
				}
				v, err := Parse(text+u.Symbol, mark, k)
				if u.Symbol == "1" {
					v, err = Parse(text, mark, k)
				}
				if err != nil {
					t.Fatalf("Parse refuses %q %s: %v", text, u.Symbol, err)
				}
				if again, err := Parse(v.String(), Point, k); err != nil || !reflect.DeepEqual(again, v) {
					t.Fatalf("%q was read as %v, String wrote %q, from which Parse returned %v, %v", text, v, v.String(), again, err)
				}
			}
		}
	}
}

// TestSpacesAndSigns checks that white space, the kind of minus sign and the spelling of the unit do not change a value.
func TestSpacesAndSigns(t *testing.T) {
	for k := OfResistance; k <= OfRatio; k++ {
		for _, u := range Units(k) {
			for _, name := range append([]string{u.Symbol, u.Sign}, u.Also...) {
				if name == "1" {
					continue
				}
				want, err := Parse("-12.5 "+u.Symbol, Point, k)
				if u.Symbol == "1" {
					want, err = Parse("-12.5", Point, k)
				}
				require.NoError(t, err)
				for _, form := range []string{"-12.5%s", "−12.5 %s", " -12,5  %s\t", "-1.25e1%s", "\u00a0-012.50\u00a0%s"} {
					got, err := Parse(fmt.Sprintf(form, name), Point, k)
					if assert.NoError(t, err, "%q", fmt.Sprintf(form, name)) {
						assert.Equal(t, want.In, got.In, form, name)
					}
				}
			}
		}
	}
}

// TestTwoKindsAsked checks that the unit decides if two kinds are accepted.
func TestTwoKindsAsked(t *testing.T) {
	for text, want := range map[string]Kind{"0.15 ohm": OfResistance, "0.15 V": OfVoltage, "150 mV": OfVoltage} {
		v, err := Parse(text, Point, OfResistance, OfVoltage)
		require.NoError(t, err)
		assert.Equal(t, want, v.Unit.Kind)
	}
	_, err := Parse("2 K", Point, OfResistance, OfVoltage)
	assert.ErrorContains(t, err, "temperature")
}
