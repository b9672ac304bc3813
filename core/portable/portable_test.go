package portable_test

import (
	"encoding/binary"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/portable"
)

// TestBesideMath compares each function with that of package math, which is within 1 unit of the last place: here within a few.
func TestBesideMath(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	near := func(name string, got, want, within float64) {
		t.Helper()
		if got != want && !(math.Abs(got-want) <= within*math.Abs(want)+5e-324) {
			t.Fatalf("%s is %v, want %v within %v of it", name, got, want, within)
		}
	}
	const ulps = 5e-16
	for range 200_000 {
		x := (r.Float64() - 0.5) * 1480
		near("Exp", portable.Exp(x), math.Exp(x), ulps)
		near("Exp", portable.Exp(x/700), math.Exp(x/700), ulps)
		near("Decay", portable.Decay(math.Abs(x)*0.95), math.Exp(-math.Abs(x)*0.95), 2e-13)
		near("Decay", portable.Decay(math.Abs(x)/700), math.Exp(-math.Abs(x)/700), 1e-13)
		y := math.Exp2((r.Float64() - 0.5) * 2000)
		near("Log", portable.Log(y), math.Log(y), ulps)
		near("Log", portable.Log(1+x/1e4), math.Log(1+x/1e4), ulps)
		near("Log2", portable.Log2(y), math.Log2(y), ulps)
		near("Log10", portable.Log10(y), math.Log10(y), ulps)
		near("Hypot", portable.Hypot(x, 1/x), math.Hypot(x, 1/x), ulps)
		near("Pow", portable.Pow(math.Abs(x), x/1480), math.Pow(math.Abs(x), x/1480), 2e-15)
		near("Erfc", portable.Erfc(x/55), math.Erfc(x/55), 1e-13)
	}
}

func TestSpecialCases(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, x := range []float64{0, 1, -1, inf, -inf, nan, 3e-308, math.MaxFloat64, 710, -746, -744.5, -708.5, 709.7} {
		for name, f := range map[string][2]func(float64) float64{
			"Exp": {portable.Exp, math.Exp}, "Log": {portable.Log, math.Log}, "Log2": {portable.Log2, math.Log2},
			"Log10": {portable.Log10, math.Log10}, "Erfc": {portable.Erfc, math.Erfc},
			"Hypot": {func(x float64) float64 { return portable.Hypot(x, 1) }, func(x float64) float64 { return math.Hypot(x, 1) }},
			"Pow":   {func(x float64) float64 { return portable.Pow(2, x) }, func(x float64) float64 { return math.Pow(2, x) }},
		} {
			got, want := f[0](x), f[1](x)
			assert.True(t, got == want || got != got && want != want || math.Abs(got-want) <= 1e-13*math.Abs(want)+5e-324,
				"%s(%v) is %v, want %v", name, x, got, want)
		}
	}
	assert.InDelta(t, -1074*math.Ln2, portable.Log(5e-324), 1e-12, "below the least normal number, where math.Log of amd64 is off")
	for n := -300; n <= 300; n++ {
		assert.Equal(t, float64(n), portable.Log10(math.Pow10(n)))
		assert.Equal(t, float64(n), portable.Log2(math.Ldexp(1, n)))
	}
}

// TestSameBits holds the bits of over a million results, whatever machine it runs on: it runs natively and as js/wasm.
func TestSameBits(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	sum := fnv.New64a()
	for range 200_000 {
		x := (r.Float64() - 0.5) * 100
		y := r.Float64() * 100
		for _, v := range []float64{portable.Exp(x), portable.Log(y), portable.Pow(y, x), portable.Hypot(x, y), portable.Erfc(x / 10),
			portable.Decay(y)} {
			_, _ = sum.Write(binary.LittleEndian.AppendUint64(nil, math.Float64bits(v)))
		}
	}
	assert.Equal(t, uint64(0xf7bc79f48608bb55), sum.Sum64())
}
