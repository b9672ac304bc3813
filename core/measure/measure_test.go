package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestProbabilitiesAddUp checks that the three probabilities are valid and add up to 1, whatever the band.
func TestProbabilitiesAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 20000 {
		lo := r.NormFloat64() * 10
		b := Band{lo, lo + r.Float64()*5*float64(r.IntN(2))}
		if r.IntN(5) == 0 {
			b.Min = math.Inf(-1)
		}
		if r.IntN(5) == 0 {
			b.Max = math.Inf(1)
		}
		e := Estimate{lo + r.NormFloat64()*5, math.Pow(10, r.Float64()*8-6) * float64(r.IntN(4))}
		c := Conform(e, b)
		for _, p := range []float64{c.Below, c.Within, c.Above} {
			if !(p >= 0 && p <= 1) {
				t.Fatalf("%v against %v: %v", e, b, c)
			}
		}
		if sum := c.Below + c.Within + c.Above; !(math.Abs(sum-1) <= 1e-15*4) {
			t.Fatalf("%v against %v: %v, which adds up to %v", e, b, c, sum)
		}
	}
}

// TestMoreNeverMovesBack checks that a larger value is never likelier to be below or less likely to be above.
func TestMoreNeverMovesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for range 2000 {
		u, b := r.Float64()*float64(r.IntN(2)), Band{3, 3 + r.Float64()*4}
		last := Conform(Estimate{0, u}, b)
		for v := 0.0; v < 10; v += r.Float64() {
			c := Conform(Estimate{v, u}, b)
			if !(c.Below <= last.Below && c.Above >= last.Above) {
				t.Fatalf("%v, u %v, against %v: %v after %v for a smaller value", v, u, b, c, last)
			}
			last = c
		}
	}
}

// TestMoreDoubtIsLessSure checks that a verdict stays the same with a smaller uncertainty.
func TestMoreDoubtIsLessSure(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 5000 {
		b := Band{3, 5}
		v, u := r.Float64()*8, r.Float64()
		if verdict := Conform(Estimate{v, u}, b).Verdict(); verdict != Undecided {
			require.Equal(t, verdict, Conform(Estimate{v, u * r.Float64()}, b).Verdict(), "%v, u %v", v, u)
		}
	}
}

func TestOver(t *testing.T) {
	for _, s := range []string{"OL", "ol", " O.L ", "0L", "0.L", ".0L", "∞", "OL ohm", "OLΩ", "OL MΩ", "O.L kΩ", "OL \u2126"} {
		assert.True(t, Over(s), s)
	}
	for _, s := range []string{"", "0", "L", "OLD", "OL V", "OL 5", "10L", "1.OL", "0 L", "overload and more than that", "OL OL"} {
		assert.False(t, Over(s), s)
	}
}
