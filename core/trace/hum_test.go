//go:build !js

package trace_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/recording"
	"ohmwright/core/trace"
)

// hummed are how many windings ngspice simulates for TestHumIsNoPlunger, as many stuck as moving; each is recorded with two hums.
const hummed = 500

// found is the share of the moving ones that was found before there was any care for hum, in the recordings of the default seed (of a
// stuck plunger 12.0 % were then said to move): measured with this test at commit b867fb8.
const found = 0.738

// humming makes a case as [draw] does, of the currents that solenoids on vehicles and machines take: 12 V, a quarter 24 V; 4 to 40 ohm.
func humming(rnd *rand.Rand, stuck bool) *plunger {
	for {
		c := draw(rnd)
		if c.stuck != stuck || c.r < 4 {
			continue
		}
		volts := 12 + 2.5*rnd.Float64()
		if rnd.Intn(4) == 0 {
			volts *= 2
		}
		share := volts / c.r / c.final // steps, noise and offset go with the current
		c.supply, c.final = volts, volts/c.r
		c.description = fmt.Sprintf("at %.3g V instead of %s", volts, c.description)
		c.step, c.sigma, c.offset = c.step*share, c.sigma*share, c.offset*share
		return c
	}
}

// pickup draws what a clamp picks up beside the current: 10 to 30 mA, from middle to top, of the mains or of what it feeds (50, 60, 100
// or 120 Hz) or of an alternator's ripple (six pulses of its rectifier in each turn of its field, 300 to 3,000 Hz); a third have both.
func pickup(rnd *rand.Rand) (hum func(t float64) float64, description string) {
	phase := func() float64 { return 2 * math.Pi * rnd.Float64() }
	amplitude := 10e-3 + 20e-3*rnd.Float64()
	mains, of := 2*math.Pi*[]float64{50, 60, 100, 120}[rnd.Intn(4)], phase()
	pulses, at := 300*math.Pow(10, rnd.Float64()), phase()
	share := []float64{0, 1, rnd.Float64()}[rnd.Intn(3)]
	hum = func(t float64) float64 {
		turn := math.Mod(pulses*t+at+1e3, 1) // the tops of rectified phases: from 30 degrees before to 30 after each
		ripple := (math.Cos((turn-0.5)*math.Pi/3) - 3/math.Pi) / (1 - math.Sqrt(3)/2) * 2
		return amplitude * (share*math.Sin(mains*t+of) + (1-share)*ripple)
	}
	return hum, fmt.Sprintf("hum %.3g A, %.3g of it %.4g Hz, ripple %.4g Hz", amplitude, share, mains/2/math.Pi, pulses)
}

// humCase is a recording with hum, and what is true of it.
type humCase struct {
	*plunger
	recording.Samples
	name string
}

func humCases(t testing.TB, seed int64) (list []humCase) {
	rnd := rand.New(rand.NewSource(seed))
	cases := make([]*plunger, hummed)
	for k := range cases {
		cases[k] = humming(rnd, k%2 == 0)
	}
	simulate(t, cases)
	for k, c := range cases {
		clean := c.clean
		for range 2 {
			hum, name := pickup(rnd)
			c.clean = func(t float64) float64 { return clean(t) + hum(t) }
			list = append(list, humCase{c, c.recording(rnd), fmt.Sprintf("%d: %s; %s", k, name, c.description)})
		}
		c.clean = clean
	}
	return list
}

// TestHumIsNoPlunger: of 500 recordings with hum and a stuck plunger at most 1 % are said to move; of 500 that move as many are found
// as before there was any care for hum, but for two points.
func TestHumIsNoPlunger(t *testing.T) {
	none := rate{name: "a dip or kink where the plunger is stuck", to: 0.01}
	moves := rate{name: "plunger moves: dip or kink found", from: found - 0.02, to: 1}
	for _, c := range humCases(t, *spiceSeed) {
		f := trace.Find(c.Samples, trace.Expect{Supply: c.supply})
		finite(t, f)
		moving := f.Dip.Found == trace.Yes || f.Dip.Found == trace.Kink
		r := &moves
		if c.stuck {
			r = &none
		}
		if r.of++; moving {
			r.good++
		}
		if moving && c.stuck {
			t.Logf("stuck %v %+v: %s", c.stuck, f.Dip, c.name)
		}
	}
	for _, r := range []*rate{&none, &moves} {
		t.Logf("%s: %d of %d, %.1f %%", r.name, r.good, r.of, 100*r.share())
		assert.GreaterOrEqual(t, r.share(), r.from, r.name)
		assert.LessOrEqual(t, r.share(), r.to, r.name)
	}
}
