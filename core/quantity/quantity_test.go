package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestUnitTable holds what the table promises: kinds in one piece, the contract's unit first and without conversion, and
// each spelling in one row of its kind.
func TestUnitTable(t *testing.T) {
	for k := OfResistance; k <= OfRatio; k++ {
		rows := Units(k)
		if !assert.NotEmpty(t, rows, k.String()) {
			continue
		}
		first := rows[0]
		assert.Equal(t, [4]float64{0, 1, 1, 0}, [4]float64{first.Before, first.Num, first.Den, float64(first.Exp)}, "the contract's unit of %s", k)
		seen := map[string]string{}
		for _, u := range rows {
			assert.Equal(t, k, u.Kind)
			for _, s := range append([]string{u.Symbol, u.Sign}, u.Also...) {
				if at, twice := seen[s]; twice {
					assert.Equal(t, u.Symbol, at, "%q is a spelling of two units of %s", s, k)
				}
				seen[s] = u.Symbol
				got, ok := unitNamed(k, s)
				assert.True(t, ok, s)
				assert.Equal(t, u.Symbol, got.Symbol, s)
			}
		}
	}
	total := 0
	for k := OfResistance; k <= OfRatio; k++ {
		total += len(Units(k))
	}
	assert.Equal(t, len(units), total, "a kind stands in two pieces of the table")
}

// TestErrorTexts asserts the text of each kind of fault once.
func TestErrorTexts(t *testing.T) {
	for _, c := range []struct {
		text string
		mark Mark
		kind Kind
		want string
	}{
		{"", Point, OfResistance, `quantity: parse "": nothing given; want ohm, mohm, kohm or Mohm`},
		{"abc", Point, OfCurrent, `quantity: parse "abc": no number; want A or mA`},
		{"12", Point, OfVoltage, `quantity: parse "12": a number without a unit; want V or mV`},
		{"12 Q", Point, OfResistance, `quantity: parse "12 Q": unknown unit "Q"; want ohm, mohm, kohm or Mohm`},
		{"12 V", Point, OfResistance, `quantity: parse "12 V": "V" is a unit of voltage; want ohm, mohm, kohm or Mohm`},
		{"1,250 ohm", Point, OfResistance, `quantity: parse "1,250 ohm": can be read as 1.250 ohm or as 1250 ohm`},
		{"1e999 V", Point, OfVoltage, `quantity: parse "1e999 V": larger than can be held; want at most 1e308`},
	} {
		_, err := Parse(c.text, c.mark, c.kind)
		assert.EqualError(t, err, c.want)
	}
}

// TestAmbiguousNamesBothReadings holds that each reading named can be typed, is read, and that the two differ.
func TestAmbiguousNamesBothReadings(t *testing.T) {
	for _, c := range []struct {
		text string
		mark Mark
		is   [2]float64
	}{
		{"1,250 ohm", Point, [2]float64{1.25, 1250}},
		{"-12,345 ohm", Point, [2]float64{-12.345, -12345}},
		{"1.250 kohm", Comma, [2]float64{1250, 1250000}},
	} {
		_, err := Parse(c.text, c.mark, OfResistance)
		e, ok := err.(*Error)
		if !assert.True(t, ok, c.text) || !assert.Equal(t, Ambiguous, e.Fault) {
			continue
		}
		for i, r := range e.Reads {
			v, err := Parse(r, Point, OfResistance)
			assert.NoError(t, err)
			assert.InDelta(t, c.is[i], v.In, 1e-9)
		}
	}
}

// TestClip holds that a text of any length and any bytes is shortened at a character's border.
func TestClip(t *testing.T) {
	for in, want := range map[string]string{
		"short":                    "short",
		string(make([]rune, 0)):    "",
		"Ω" + string(rep('Ω', 60)): string(rep('Ω', 40)) + "…",
		"a\xffb":                   "a\ufffdb",
		string(rep('x', 40)):       string(rep('x', 40)),
		string(rep('x', 41)):       string(rep('x', 40)) + "…",
	} {
		assert.Equal(t, want, Clip(in))
	}
}

func rep(r rune, n int) []rune {
	out := make([]rune, n)
	for i := range out {
		out[i] = r
	}
	return out
}
