//go:build !js

package trace_test

// This test runs another program, which WebAssembly in a page cannot do. Under js/wasm the recordings of testdata are used
// by every other test of the package.

import (
	"bytes"
	"encoding/binary"
	"flag"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/recording"
	"ohmwright/core/trace"
)

// The seed of the simulated recordings. The package was developed with others: go test -run Spice -trace.seed N.
var spiceSeed = flag.Int64("trace.seed", 24_1978, "seed of the simulated recordings")

const simulated = 500

// netlist is a winding with a plunger. Flux linkage: dλ/dt = v − R·i, i = λ/L(x), L(x) = L0/(1 − a·x), so that dλ/dt
// includes the voltage of motion i·dL/dx·dx/dt. Plunger: pulled by ½i²·dL/dx against a preload and a spring, between two
// stiff stops that absorb energy; x is 0 at rest and 1 at the stop. Off: the voltage of a diode or clamp, until there is
// no current.
const netlist = `a winding with a plunger
vs s 0 1
vr r 0 1
vl l 0 1
va a 0 1
vp p 0 1
vk k 0 1
vt m 0 1
vg g 0 1
vc c 0 1
vrev rev 0 1
vfin fin 0 1
vdrv d 0 pulse(0 1 1m 1u 1u 10m 20m)
bi i 0 v = v(lam)/v(l)*(1-v(a)*max(-0.05,min(1.05,v(x))))
clam lam 0 1 ic=0
blam 0 lam i = v(d)*v(s) - (1-v(d))*v(rev)*max(0,min(1,v(i)/(0.002*v(fin)))) - v(r)*v(i)
cx x 0 1 ic=0
bx 0 x i = v(u)/v(m)
cu u 0 1 ic=0
bu 0 u i = (v(g)*((v(i)/v(fin)/(1-v(a)*max(-0.05,min(1.05,v(x)))))^2 - v(p) - v(k)*v(x))
+ + (v(x)<0 ? -1e4*v(x)-100*v(c)*v(u) : (v(x)>1 ? -1e4*(v(x)-1)-100*v(c)*v(u) : 0)))/v(m)
.options reltol=1e-4 method=gear noacct
.control
set filetype=binary
`

// A plunger is one simulated case, with its true values.
type plunger struct {
	supply, r, tau, a                  float64
	preload, spring, swing, pull, damp float64
	reverse                            float64
	delay, on, period, stop            float64 // period 0: a single shot
	interval                           float64
	stuck                              bool
	// The recorder's.
	sigma, step, offset float64
	missing, jitter     float64
	// True values, from the simulator's currents.
	clean       func(t float64) float64
	dipAt       float64 // the minimum; 0: the current does not fall
	dipDepth    float64
	arrives     float64 // the first arrival at the stop; 0: none
	final       float64
	description string
}

// draw draws a case. Ranges: 9 to 28 V, 2 to 40 ohm, 1 to 15 ms, inductance up to double, pull-in at 0.3 to 0.75 of the
// final current, 400 to 2000 samples, twice as many for pulses. A quarter of the plungers are stuck. Noise and steps are
// those of an eight-bit recorder with a range of 1.1 to 2.5 times the current.
func draw(rnd *rand.Rand) *plunger {
	between := func(a, b float64) float64 { return a + (b-a)*rnd.Float64() }
	log := func(a, b float64) float64 { return math.Exp(between(math.Log(a), math.Log(b))) }
	c := &plunger{supply: between(9, 28), r: log(2, 40), tau: log(1e-3, 15e-3), a: between(0.12, 0.5),
		spring: between(0, 0.2), pull: between(2, 6), damp: between(0.7, 1.6)}
	c.final = c.supply / c.r
	c.preload = math.Pow(between(0.3, 0.75), 2)
	c.swing = c.tau * log(0.4, 1.6)
	c.reverse = 0.7
	if rnd.Intn(3) == 0 {
		c.reverse = between(15, 40)
	}
	kind := rnd.Intn(20)
	if c.stuck = kind%4 == 3; c.stuck {
		c.pull, c.preload = 0, 1
	}
	c.on = c.tau * between(8, 18)
	c.delay = c.tau * between(0.5, 3)
	c.stop = c.delay + c.on
	switch {
	case kind < 8: // ends while the driver is on
		c.on *= 2
	case kind < 14: // a single shot, including its end
		c.stop += c.tau * between(1, 8)
	default: // pulses, off long enough for current and plunger to come back
		c.period = c.on + c.tau*between(8, 14)
		c.stop = c.delay + c.period*between(2.3, 4)
	}
	samples := log(400, 2000)
	if c.period > 0 {
		samples *= 2
	}
	c.interval = c.stop / samples
	c.step = c.final * between(1.1, 2.5) / 256
	c.sigma = c.step * between(0.05, 1)
	c.offset = c.final * between(-0.03, 0.03)
	if rnd.Intn(3) == 0 {
		c.missing = between(0.005, 0.05)
	}
	if rnd.Intn(4) == 0 {
		c.jitter = 0.1
	}
	c.description = fmt.Sprintf("%.3g V %.3g ohm tau %.3g a %.3g pull-in %.2g swing %.2g stuck %v period %.3g on %.3g",
		c.supply, c.r, c.tau, c.a, math.Sqrt(c.preload), c.swing/c.tau, c.stuck, c.period, c.on) +
		fmt.Sprintf(" interval %.3g (%.0f per tau, %.0f in all) sigma %.2g%% step %.2g%% missing %.2g",
			c.interval, c.tau/c.interval, samples, 100*c.sigma/c.final, 100*c.step/c.final, c.missing)
	return c
}

// recording returns what the recorder makes of the case.
func (c *plunger) recording(rnd *rand.Rand) (r recording.Samples) {
	skip := 0
	for t := c.interval * rnd.Float64(); t < c.stop; t += c.interval {
		y := c.clean(t) + c.offset + c.sigma*rnd.NormFloat64()
		y = math.Round(y/c.step) * c.step
		at := t
		if c.jitter > 0 { // the times are right, but not evenly spaced
			at += c.jitter * c.interval * (rnd.Float64() - 0.5)
			y = math.Round((c.clean(at)+c.offset+c.sigma*rnd.NormFloat64())/c.step) * c.step
		}
		if skip == 0 && rnd.Float64() < c.missing {
			skip = 1
			if rnd.Intn(5) == 0 {
				skip = 1 + rnd.Intn(5)
			}
		}
		if skip > 0 {
			skip--
			continue
		}
		r.T, r.I = append(r.T, at-c.delay), append(r.I, y)
	}
	r.Interval = c.interval
	return r
}

// simulate runs the cases through ngspice, in two processes with half of the cases each.
func simulate(t testing.TB, cases []*plunger) {
	program, err := exec.LookPath("ngspice")
	require.NoError(t, err, "ngspice is not installed. Install it: apt-get install -y ngspice")
	dir := t.TempDir()
	file := func(k int) string { return filepath.Join(dir, fmt.Sprintf("%d.raw", k)) }
	var wait sync.WaitGroup
	var failed [2]error
	var said [2]bytes.Buffer
	for half := range 2 {
		text := &strings.Builder{}
		text.WriteString(netlist)
		for k := half; k < len(cases); k += 2 {
			c := cases[k]
			period := c.period
			if period == 0 {
				period = 10 * c.stop
			}
			for name, v := range map[string]float64{"vs": c.supply, "vr": c.r, "vl": c.r * c.tau, "va": c.a, "vp": c.preload, "vk": c.spring,
				"vt": c.swing, "vg": c.pull, "vc": c.damp, "vrev": c.reverse, "vfin": c.final} {
				fmt.Fprintf(text, "alter %s %.9g\n", name, v)
			}
			fmt.Fprintf(text, "alter @vdrv[pulse] = [ 0 1 %.9g 1u 1u %.9g %.9g ]\n", c.delay, c.on, period)
			step := c.tau / 25
			fmt.Fprintf(text, "tran %.9g %.9g 0 %.9g uic\nwrite %s v(i) v(x)\ndestroy all\n", step, c.stop+2*c.interval, step, file(k))
		}
		text.WriteString("quit\n.endc\n.end\n")
		in := filepath.Join(dir, fmt.Sprintf("plunger%d.cir", half))
		require.NoError(t, os.WriteFile(in, []byte(text.String()), 0o600))
		cmd := exec.Command(program, "-b", in)
		cmd.Stdout, cmd.Stderr = &said[half], &said[half]
		wait.Go(func() { failed[half] = cmd.Run() })
	}
	wait.Wait()
	for half := range 2 {
		text := said[half].String()
		require.NoError(t, failed[half], "ngspice: %s", text[max(0, len(text)-2000):])
	}
	for k, c := range cases {
		content, err := os.ReadFile(file(k))
		require.NoError(t, err, "ngspice wrote no case %d: %s", k, said[k%2].String()[max(0, said[k%2].Len()-2000):])
		c.truth(t, content)
	}
}

// truth takes current and position from a raw file, and from them the times of the first turn-on.
func (c *plunger) truth(t testing.TB, content []byte) {
	head, values, ok := bytes.Cut(content, []byte("Binary:\n"))
	require.True(t, ok && bytes.Contains(head, []byte("No. Variables: 3\n")),
		"not the file that was asked for: %s", head[:min(400, len(head))])
	n := len(values) / 24
	all := make([][3]float64, n)
	for k := range all {
		for j := range 3 {
			all[k][j] = math.Float64frombits(binary.LittleEndian.Uint64(values[24*k+8*j:]))
		}
	}
	require.Greater(t, all[n-1][0], c.stop)
	c.clean = func(t float64) float64 {
		low, high := 0, n-1
		for high-low > 1 {
			if mid := (low + high) / 2; all[mid][0] <= t {
				low = mid
			} else {
				high = mid
			}
		}
		u := (t - all[low][0]) / (all[high][0] - all[low][0])
		return all[low][1]*(1-u) + all[high][1]*u
	}
	top, off := 0.0, min(c.stop, c.delay+c.on)
	for _, s := range all {
		if s[0] > off-2e-6 {
			break
		}
		if s[2] >= 1 && c.arrives == 0 {
			c.arrives = s[0]
		}
	}
	// The minimum after the maximum before the first arrival, until shortly after the arrival: the stop gives a little.
	bottom := math.Inf(1)
	for _, s := range all {
		if c.arrives == 0 || s[0] > c.arrives+0.1*c.swing {
			break
		}
		if s[1] > top && s[0] < c.arrives {
			top, bottom = s[1], math.Inf(1)
		}
		if s[1] < bottom && s[0] > c.delay {
			bottom, c.dipAt, c.dipDepth = s[1], s[0], top-s[1]
		}
	}
	if c.dipDepth <= 1e-4*c.final {
		c.dipAt, c.dipDepth = 0, 0
	}
}

// A rate counts how many of a number of cases are right, and has the shares that the test accepts.
type rate struct {
	name     string
	from, to float64
	good, of int
}

func (r *rate) share() float64 { return float64(r.good) / float64(max(1, r.of)) }

// A tally counts for how many cases each part of the findings is right.
type tally struct {
	testing.TB
	ohms, ohmsU, taus, tausU, stops  rate
	cannot, moves, none, dips, kinks rate
	unseen, steps, periods, duties   rate
}

func newTally(t testing.TB) *tally {
	return &tally{
		TB:      t,
		ohms:    rate{name: "resistance within 2 %", from: 0.99, to: 1},
		ohmsU:   rate{name: "resistance within 2 u", from: 0.95, to: 1},
		taus:    rate{name: "time constant within 5 %", from: 0.98, to: 1},
		tausU:   rate{name: "time constant within 2 u", from: 0.92, to: 1},
		stops:   rate{name: "time constant at the stop within 5 %, where given", from: 0.9, to: 1},
		cannot:  rate{name: "cannot show", from: 0, to: 0.03},
		moves:   rate{name: "plunger moves: dip or kink found", from: 0.98, to: 1},
		none:    rate{name: "a dip or kink where the plunger is stuck", from: 0, to: 0},
		dips:    rate{name: "dip within two samples of the minimum", from: 0.98, to: 1},
		kinks:   rate{name: "kink within two samples of the arrival", from: 0.9, to: 1},
		unseen:  rate{name: "said to show no dip where one is deeper than the smallest", from: 0, to: 0.005},
		steps:   rate{name: "steps where none are", from: 0, to: 0.005},
		periods: rate{name: "pulsed, and said to be, or neither", from: 0.99, to: 1},
		duties:  rate{name: "period within 1 %, duty within 0.01", from: 0.98, to: 1},
	}
}

// count counts a case, and logs it if it is not as wanted.
func (n *tally) count(r *rate, yes, wanted bool, format string, args ...any) {
	if r.of++; yes {
		r.good++
	}
	if yes != wanted && format != "" {
		n.Logf("%s: %s", r.name, fmt.Sprintf(format, args...))
	}
}

// fit counts the right values of a fit.
func (n *tally) fit(c *plunger, f trace.Finding, name string) {
	fit := f.Fit
	if fit == nil {
		n.count(&n.ohms, false, true, "no fit, reason %d: %s", f.Why, name)
		n.count(&n.taus, false, true, "no fit, reason %d: %s", f.Why, name)
		return
	}
	off := fit.Resistance/c.r - 1
	n.count(&n.ohms, math.Abs(off) <= 0.02, true, "off by %.3g %%: %s", 100*off, name)
	n.count(&n.ohmsU, math.Abs(fit.Resistance-c.r) <= 2*fit.ResistanceU, true, "")
	stop := c.tau / (1 - c.a)
	truth := c.tau
	if fit.Seated {
		truth = stop
	}
	off = fit.TimeConstant/truth - 1
	n.count(&n.taus, math.Abs(off) <= 0.05, true, "off by %.3g %%: %s", 100*off, name)
	n.count(&n.tausU, math.Abs(fit.TimeConstant-truth) <= 2*fit.TimeConstantU, true, "")
	if fit.AtStop > 0 && c.arrives > 0 {
		off = fit.AtStop/stop - 1
		n.count(&n.stops, math.Abs(off) <= 0.05, true, "off by %.3g %% (u %.2g %%): %s", 100*off, 100*fit.AtStopU/stop, name)
	}
}

// dip counts what is said about the plunger.
func (n *tally) dip(c *plunger, d trace.Dip, name string) {
	found := d.Found == trace.Yes || d.Found == trace.Kink
	n.count(&n.cannot, d.Found == trace.CannotShow, false, "reason %d: %s", d.Why, name)
	if c.stuck {
		n.count(&n.none, found, false, "%+v: %s", d, name)
		return
	}
	depth, smallest := 100*c.dipDepth/c.final, 100*d.Smallest/c.final
	n.count(&n.moves, found, true, "depth %.3g %%, smallest %.3g %%: %s", depth, smallest, name)
	samples := func(from float64) float64 { // counted from the true time, in any pulse
		off := d.At - (from - c.delay)
		if c.period > 0 {
			off -= c.period * math.Round(off/c.period)
		}
		return off / c.interval
	}
	switch d.Found {
	case trace.Yes:
		off := samples(c.dipAt)
		n.count(&n.dips, c.dipDepth > 0 && math.Abs(off) <= 2, true,
			"off by %.3g samples, depth %.3g %% found as %.3g %%: %s", off, depth, 100*d.Depth/c.final, name)
	case trace.Kink:
		off := samples(c.arrives)
		n.count(&n.kinks, math.Abs(off) <= 2, true, "off by %.3g samples: %s", off, name)
	}
	n.count(&n.unseen, d.Found == trace.No && c.dipDepth > d.Smallest, false, "depth %.3g %%, smallest %.3g %%: %s", depth, smallest, name)
}

// drive counts what is said about the drive.
func (n *tally) drive(c *plunger, f trace.Finding, name string) {
	n.count(&n.steps, len(f.Steps) > 0, false, "%+v: %s", f.Steps, name)
	n.count(&n.periods, (f.Periods > 0) == (c.period > 0), true, "%d: %s", f.Periods, name)
	if f.Periods > 0 && c.period > 0 {
		off := f.Period/c.period - 1
		n.count(&n.duties, math.Abs(off) < 0.01 && math.Abs(f.Duty-c.on/c.period) < 0.01, true,
			"period off by %.3g %%, duty %.4g is %.4g: %s", 100*off, f.Duty, c.on/c.period, name)
	}
}

// TestAgainstSpice compares findings with 500 windings that ngspice simulated, recorded with noise, eight bits, an offset
// and missing samples. The true values are the netlist's parameters and the simulator's currents without noise. True time
// constants are the netlist's inductance over its resistance, for the plunger at rest or at its stop, whichever the
// finding says it gives; the true dip is the minimum of the current around the arrival at the stop.
func TestAgainstSpice(t *testing.T) {
	rnd := rand.New(rand.NewSource(*spiceSeed))
	cases := make([]*plunger, simulated)
	for k := range cases {
		cases[k] = draw(rnd)
	}
	simulate(t, cases)
	n := newTally(t)
	for k, c := range cases {
		f := trace.Find(c.recording(rnd), trace.Expect{Supply: c.supply})
		finite(t, f)
		name := fmt.Sprintf("%d: %s", k, c.description)
		n.fit(c, f, name)
		n.dip(c, f.Dip, name)
		n.drive(c, f, name)
	}
	for _, r := range []*rate{&n.ohms, &n.taus, &n.stops, &n.ohmsU, &n.tausU, &n.dips, &n.kinks, &n.moves, &n.none, &n.unseen, &n.cannot,
		&n.steps, &n.periods, &n.duties} {
		t.Logf("%s: %d of %d, %.1f %%", r.name, r.good, r.of, 100*r.share())
		assert.NotZero(t, r.of, r.name)
		assert.GreaterOrEqual(t, r.share(), r.from, r.name)
		assert.LessOrEqual(t, r.share(), r.to, r.name)
	}
	assert.Equal(t, simulated, n.ohms.of)
}
