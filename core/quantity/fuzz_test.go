package quantity

import (
	"math"
	"reflect"
	"testing"
	"unicode/utf8"
)

// FuzzParse checks that any text is either read as a finite value, which can be read back from its String and its Format, or
// refused with a complete error.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"", " ", "-", "abc", "12 V", "9.7 ohm", "9,7Ω", "9.7 \u2126", "1,250 ohm", "1.250,5 ohm", "1 250,5 ohm",
		"1’250.5 ohm", "1.2.3 ohm", "−40 °C", "75 degF", "0 K", "1e999 ohm", "1e-999 ohm", "3e-2 ohm", "3e ohm", "3e+ ohm", ".5 ohm",
		"9. ohm", ".", ",", "+", "45 %", "OL", "0x10 ohm", "NaN ohm", "∞", "1\u202f000\u202f000 ohm", "\xff ohm", "5 \xff", "1,2,3",
		"1.000.000 ohm", "00,250 ohm", "-0 ohm", "9e9999999999 ohm", "5 º C"} {
		for k := OfResistance; k <= OfRatio; k++ {
			f.Add(s, uint8(k), false)
			f.Add(s, uint8(k), true)
		}
	}
	f.Fuzz(func(t *testing.T, text string, kind uint8, comma bool) {
		k := OfResistance + Kind(kind)%OfRatio
		mark := Point
		if comma {
			mark = Comma
		}
		v, err := Parse(text, mark, k)
		if err != nil {
			e, ok := err.(*Error)
			if !ok || e.Fault < Empty || e.Fault > TooLarge || e.Kind != k || e.Error() == "" || len(e.Want) == 0 {
				t.Fatalf("%q: an incomplete error: %#v", text, err)
			}
			if !utf8.ValidString(e.Given) || utf8.RuneCountInString(e.Given) > 41 || utf8.RuneCountInString(e.Unit) > 41 {
				t.Fatalf("%q: the error quotes %q and %q; shorten them with Clip", text, e.Given, e.Unit)
			}
			if e.Fault == Ambiguous {
				for _, r := range e.Reads {
					if _, err := Parse(r, Point, k); err != nil && err.(*Error).Fault != TooLarge {
						t.Fatalf("%q is ambiguous, but Parse refuses what it can mean, %q: %v", text, r, err)
					}
				}
			}
			return
		}
		if math.IsNaN(v.In) || math.IsInf(v.In, 0) {
			t.Fatalf("%q: Parse returned %v", text, v.In)
		}
		again, err := Parse(v.String(), Point, k)
		if err != nil || !reflect.DeepEqual(again, v) {
			t.Fatalf("%q: Parse returned %v, its String is %q, from which Parse returned %v, %v", text, v, v.String(), again, err)
		}
		formatted := Format(v.In, v.Unit.Symbol, k, mark)
		back, err := Parse(formatted, mark, k)
		if err != nil || back.In != v.In {
			t.Fatalf("%q: Parse returned %v, formatted %q, from which Parse returned %v, %v", text, v.In, formatted, back.In, err)
		}
	})
}
