package wording

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
)

// locales represent the ways of writing numbers: different marks, groups set off by comma, point, space and apostrophe,
// lakhs, and scripts with digits of their own.
var locales = []string{"en", "de", "fr", "de-CH", "sv", "pt-BR", "pl", "hi", "ar", "fa", "bn", "ja"}

// TestFormatReadsBackInEveryLocale checks that what fills a form's field reads back as the same value, in every locale.
func TestFormatReadsBackInEveryLocale(t *testing.T) {
	for _, l := range locales {
		s := Shared().Speaker(l, l)
		r := rand.New(rand.NewPCG(5, 5))
		for k := quantity.OfResistance; k <= quantity.OfRatio; k++ {
			for _, u := range quantity.Units(k) {
				for range 200 {
					read, err := quantity.Parse(quantity.Format(math.Round(r.NormFloat64()*1e6)/1e3, u.Symbol, k, quantity.Point), quantity.Point, k)
					require.NoError(t, err)
					text := quantity.Format(read.In, u.Symbol, k, s.Mark())
					v, err := quantity.Parse(text, s.Mark(), k)
					require.NoError(t, err, "%s: %q", l, text)
					require.Equal(t, read.In, v.In, "%s: %q", l, text)
				}
			}
		}
	}
}

// readsBack checks that a number written as in a locale reads back as the same number. A whole number with one group of
// thousands may be refused as ambiguous, but must never be misread.
func readsBack(t *testing.T, l string, v float64, decimals int) {
	s := Shared().Speaker(l, l)
	text := s.Number(v, decimals)
	for _, d := range text {
		require.False(t, d > 0x7f && d >= 0x660 && d <= 0x9ef, "%s: digits of another script in %q", l, text)
	}
	p := math.Pow(10, float64(decimals))
	want := math.RoundToEven(v*p) / p
	got, err := quantity.Parse(text, s.Mark(), quantity.OfRatio)
	if e, ok := err.(*quantity.Error); ok && e.Fault == quantity.Ambiguous && decimals == 0 && math.Abs(v) >= 999 {
		return
	}
	if assert.NoError(t, err, "%s: %v is written %q", l, v, text) {
		assert.InDelta(t, want, got.In, 0.51/p, "%s: %v is written %q", l, v, text)
	}
}

func TestNumbersReadBack(t *testing.T) {
	for _, l := range locales {
		t.Run(l, func(t *testing.T) {
			r := rand.New(rand.NewPCG(6, 6))
			for range 300 {
				for d := range 5 {
					readsBack(t, l, r.Float64()*math.Pow(10, float64(r.IntN(6))), d)
				}
			}
			readsBack(t, l, 0, 0)
			readsBack(t, l, 999.5, 0)
		})
	}
}

func TestNegativeNumbersReadBack(t *testing.T) {
	for _, l := range locales {
		t.Run(l, func(t *testing.T) {
			for _, v := range []float64{-0.5, -12.25, -234.5, -40} {
				readsBack(t, l, v, 2)
			}
		})
	}
}

// TestGroupsOfTwoReadBack checks Indian locales, which group by two digits above the first thousand.
func TestGroupsOfTwoReadBack(t *testing.T) {
	for _, l := range locales {
		t.Run(l, func(t *testing.T) { readsBack(t, l, 1234567.25, 2) })
	}
}

// TestNumberIsNeverMinusZero checks that a number that rounds to zero has no sign.
func TestNumberIsNeverMinusZero(t *testing.T) {
	for _, l := range locales {
		for _, v := range []float64{math.Copysign(0, -1), -0.0001, -0.04} {
			text := Shared().Speaker(l, l).Number(v, 1)
			assert.NotContains(t, text, "-", l)
			assert.NotContains(t, text, "\u2212", l)
		}
	}
}

func TestMarks(t *testing.T) {
	for l, want := range map[string]quantity.Mark{"en": quantity.Point, "de": quantity.Comma, "fr": quantity.Comma,
		"de-CH": quantity.Point, "sv": quantity.Comma,
		"pt-BR": quantity.Comma, "pl": quantity.Comma, "hi": quantity.Point, "ja": quantity.Point, "not a locale": quantity.Point,
		"": quantity.Point} {
		assert.Equal(t, want, Shared().Speaker(l, l).Mark(), l)
	}
}

// TestOf compares written values with ones worked out by hand: to the place of the second figure of u, and without u as typed.
func TestOf(t *testing.T) {
	s := Shared().Speaker("en", "en")
	for _, c := range []struct {
		k    quantity.Kind
		v, u float64
		want string
	}{
		{quantity.OfResistance, 9.7, 0, "9.7\u00a0Ω"},
		{quantity.OfResistance, 5.20837, 0.0408, "5.208\u00a0Ω"},
		{quantity.OfResistance, 12000, 0, "12\u00a0kΩ"},
		{quantity.OfResistance, 2.5e6, 0, "2.5\u00a0MΩ"},
		{quantity.OfVoltage, 13.8, 0, "13.8\u00a0V"},
		{quantity.OfTemperature, -234.5, 0, "−234.5\u00a0°C"},
		{quantity.OfRatio, 0.1, 0, "10\u00a0%"},
		{quantity.OfCurrent, 1.0 / 3, 0, "0.3333\u00a0A"},
	} {
		assert.Equal(t, c.want, s.Of(c.k, c.v, c.u))
	}
	assert.Equal(t, "5.20 ± 0.24\u00a0Ω", s.PlusMinus(quantity.OfResistance, 5.2, 0.12))
	assert.Equal(t, "25\u00a0%", s.Percent(0.25))
	assert.Equal(t, ">\u00a099\u00a0%", s.Chance(0.9999))
	assert.Equal(t, "<\u00a01\u00a0%", s.Chance(0.0001))
	assert.Equal(t, "42\u00a0%", s.Chance(0.42))
}

// TestSpeakerFromManyGoroutines uses one speaker from many goroutines, for the race detector.
func TestSpeakerFromManyGoroutines(t *testing.T) {
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 50 {
				Shared().Speaker("en", "en").Say("fault.missing", "a", "b")
				Shared().Speaker("de", "de").Number(1.5, 1)
			}
		})
	}
	wg.Wait()
}

// TestWithin checks that a room's speaker says its own word, other speakers the shared one, and that others can use the full key.
func TestWithin(t *testing.T) {
	s := NewBook(Room{"bench", []Words{{"en", []Entry{{"echo.over", "off the scale"}, {"own", "own %s"}}}}}).Speaker("en", "en")
	assert.Equal(t, "off the scale", s.Within("bench").Say("echo.over"))
	assert.Equal(t, "open: no path", s.Within("bench").Within("elsewhere").Say("echo.over"))
	assert.Equal(t, "own word", s.Say("bench.own", "word"))
	assert.True(t, s.Within("bench").Has("own"))
	assert.False(t, s.Has("own"))
	assert.Panics(t, func() { s.Say("own") })
}

// TestFigures compares written numbers with ones worked out by hand.
func TestFigures(t *testing.T) {
	s := Shared().Speaker("en", "en")
	assert.Equal(t, "12.5\u00a0%", s.Share(0.125))
	assert.Equal(t, "12\u00a0%", s.Share(0.12))
	assert.Equal(t, "1.235", s.AtMost(1.2346, 4))
	assert.Equal(t, "1.2", s.AtMost(1.2, 4))
	assert.Equal(t, "0", s.AtMost(0, 4))
	assert.Equal(t, "12346", s.AtMost(12345.6, 4))
	assert.Equal(t, "0.867\u00a0A", s.Three(quantity.OfCurrent, 0.8671))
	assert.Equal(t, "0.125", s.Exact(0.125))
	assert.Equal(t, "0.13", s.Typed(0.126))
	assert.Equal(t, "20\u00a0°C", s.Degrees(20.04))
}

// TestFormula compares formulas with ones written by hand: names are said, functions and short names are not, and what is put in is
// written anew only where the formula has the name.
func TestFormula(t *testing.T) {
	german := Shared().Speaker("de", "de")
	formula, with := german.Formula("I_average = 0.5 min(D, cos α) R_wiring/R_on", "I_average = 0,5 × reading at R_loop")
	assert.Equal(t, "I_mittel = 0,5 min(D, cos α) R_Verkabelung/R_on", formula)
	assert.Equal(t, "I_mittel = 0,5 × reading at R_loop", with)
	formula, with = Shared().Speaker("en", "en").Formula("R = reading − 0.3", "")
	assert.Equal(t, []string{"R = reading − 0.3", ""}, []string{formula, with})
}
