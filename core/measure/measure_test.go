package measure

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestProbabilitiesAddUp holds that the three are probabilities and add up to 1, whatever the band.
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
			require.True(t, p >= 0 && p <= 1, "%v against %v: %v", e, b, c)
		}
		require.InDelta(t, 1, c.Below+c.Within+c.Above, 1e-15*4, "%v against %v", e, b)
	}
}

// TestMoreNeverMovesBack holds that a larger value is never likelier below nor less likely above.
func TestMoreNeverMovesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for range 2000 {
		u, b := r.Float64()*float64(r.IntN(2)), Band{3, 3 + r.Float64()*4}
		last := Conform(Estimate{0, u}, b)
		for v := 0.0; v < 10; v += r.Float64() {
			c := Conform(Estimate{v, u}, b)
			require.LessOrEqual(t, c.Below, last.Below)
			require.GreaterOrEqual(t, c.Above, last.Above)
			last = c
		}
	}
}

// TestMoreDoubtIsLessSure holds that a verdict given with a large uncertainty is given with a smaller one too.
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
