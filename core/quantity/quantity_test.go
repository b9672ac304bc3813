package quantity

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestUnitTable checks the table of units: the units of a kind follow each other, the contract's is first and needs no
// conversion, and no two units of a kind share a spelling.
func TestUnitTable(t *testing.T) {
	for k := OfResistance; k <= OfRatio; k++ {
		rows := Units(k)
		if !assert.NotEmpty(t, rows, k.String()) {
			continue
		}
		first := rows[0]
		definition := [4]float64{first.Before, first.Num, first.Den, float64(first.Exp)}
		assert.Equal(t, [4]float64{0, 1, 1, 0}, definition, "the first unit of %s has to be the contract's", k)
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
	assert.Equal(t, len(units), total, "the units of a kind are not together in the table")
}

// TestErrorTexts checks the text of each fault once.
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

// TestAmbiguousNamesBothReadings checks that both numbers in the error can be typed and have the expected values.
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

// TestConversionsAreInverse checks that To undoes From to within a few roundings.
func TestConversionsAreInverse(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	for _, u := range units {
		for range 500 {
			x := r.NormFloat64() * 1e4
			in := u.From(x)
			if back := u.To(in); math.Abs(back-x) > 1e-15*math.Abs(x)+1e-13*math.Abs(u.Before) {
				t.Fatalf("%v %s is %v in the contract's unit, from which To returns %v", x, u.Symbol, in, back)
			}
		}
	}
}

// TestConversions checks To and From against the definitions worked out by hand. Source: NIST SP 811, B.8.
func TestConversions(t *testing.T) {
	for _, c := range []struct {
		kind    Kind
		symbol  string
		written float64
		in      float64
	}{
		{OfTemperature, "degF", 212, 100},
		{OfTemperature, "K", 0, -273.15},
		{OfTemperatureDifference, "degF", 9, 5},
		{OfResistance, "kohm", 1.2, 1200},
		{OfTorque, "daN.m", 2.5, 25},
		{OfTorque, "lbf.in", 1, 0.1129848290276167},
		{OfTorque, "kgf.m", 1, 9.80665},
		{OfLength, "in", 2, 50.8},
	} {
		u, ok := unitNamed(c.kind, c.symbol)
		assert.True(t, ok, c.symbol)
		assert.Equal(t, c.in, u.From(c.written), "%v %s in the contract's unit", c.written, c.symbol)
		assert.Equal(t, c.written, u.To(c.in), "%v of the contract's unit in %s", c.in, c.symbol)
	}
}

// TestClip checks that texts of any length and with any bytes are cut between characters.
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
