package quantity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// anyFloat gives finite float64s of every size and sign.
func anyFloat(r *rand.Rand) float64 {
	for {
		if v := math.Float64frombits(r.Uint64()); !math.IsNaN(v) && !math.IsInf(v, 0) {
			return v
		}
	}
}

// edges are the values where formatting goes wrong first.
var edges = []float64{0, math.Copysign(0, -1), 1, -1, 0.1, 9.7, 0.0097, 1250, 1250.5, 999.9995, 1e15, 1e16, 123456789012345678, 1e-6, 1e-7,
	math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, 2.2250738585072014e-308, 1.0000000000000002, 0.30000000000000004, 5e-324, 1e21, 1e22, 1e23}

// decimal says that a unit differs from the contract's by a power of ten alone.
func (u Unit) decimal() bool { return u.Before == 0 && u.Num == 1 && u.Den == 1 }

// TestFormatThereAndBack holds parse(format(x)) = x, exactly (−0 comes back as 0), for every unit with a decimal relation, both marks.
func TestFormatThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for k := OfResistance; k <= OfRatio; k++ {
		for _, u := range Units(k) {
			if !u.decimal() {
				continue
			}
			for _, mark := range []Mark{Point, Comma} {
				check := func(x float64) {
					text := Format(x, u.Symbol, k, mark)
					v, err := Parse(text, mark, k)
					require.NoError(t, err, "%v as %q", x, text)
					require.True(t, x == v.In, "%v as %q came back as %v", x, text, v.In)
					require.Equal(t, u.Symbol, v.Unit.Symbol)
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

// TestReadThereAndBack holds the same for degF and K: a value that was read in the unit comes back the same.
func TestReadThereAndBack(t *testing.T) {
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
					v, err := Parse(text, mark, k)
					require.NoError(t, err, text)
					require.Equal(t, read.In, v.In, "%s %s was written %q", digits, u.Symbol, text)
				}
			}
		}
	}
}

// TestAnyTemperatureThereAndBack holds what the doc of Format promises of the rest: within a rounding.
func TestAnyTemperatureThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for _, u := range Units(OfTemperature) {
		for range 20000 {
			x := r.NormFloat64() * 300
			v, err := Parse(Format(x, u.Symbol, OfTemperature, Point), Point, OfTemperature)
			require.NoError(t, err)
			require.InDelta(t, x, v.In, 1e-12)
		}
	}
}

// TestValueThereAndBack holds that a value as a link writes it, Value.String, reads back the same.
func TestValueThereAndBack(t *testing.T) {
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
				require.NoError(t, err, text)
				again, err := Parse(v.String(), Point, k)
				require.NoError(t, err, v.String())
				require.Equal(t, v, again)
			}
		}
	}
}

// TestSpacesAndSigns holds that white space, the sign and the spelling of a unit do not change a value.
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
						assert.Equal(t, want.In, got.In)
					}
				}
			}
		}
	}
}

// TestTwoKindsAsked holds that the unit decides where two kinds may be given, the first winning.
func TestTwoKindsAsked(t *testing.T) {
	for text, want := range map[string]Kind{"0.15 ohm": OfResistance, "0.15 V": OfVoltage, "150 mV": OfVoltage} {
		v, err := Parse(text, Point, OfResistance, OfVoltage)
		require.NoError(t, err)
		assert.Equal(t, want, v.Unit.Kind)
	}
	_, err := Parse("2 K", Point, OfResistance, OfVoltage)
	assert.ErrorContains(t, err, "temperature")
}
