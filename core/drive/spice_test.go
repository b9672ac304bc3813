//go:build !js

package drive_test

// This test runs another program, which js/wasm cannot. There, the other tests of the package check the same formulas.

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/drive"
	"ohmwright/core/quantity"
)

const (
	spiceCases   = 150
	spiceAllowed = 1e-3
	spiceFloor   = 1e-6 // share of a figure's scale that is always near enough
	smallest     = 1e-4 // share of the peak current below which the off path loses its voltage
	edge         = 1e-6 // how long the driver takes to switch, as a share of the shorter half of the period
	points       = 1000 // least number of points in a period; its shorter half has at least 200
)

// A bench is a circuit with the driver on one side of the load.
type bench struct {
	drive.Circuit
	low bool
}

// drawBench draws a circuit: L/R and frequency over four decades each, any duty, and a diode, a clamp across the winding or a clamp
// across the switch.
func drawBench(r *rand.Rand) bench {
	resistance := wide(r, 1, 100)
	b := bench{drive.Circuit{
		Supply: quantity.Voltage(6 + r.Float64()*26), Winding: quantity.Resistance(resistance),
		Inductance: quantity.Inductance(resistance * wide(r, 1e-5, 1e-1)), Frequency: quantity.Frequency(wide(r, 1, 1e4)),
		Duty: quantity.Ratio(0.01 + 0.98*r.Float64()),
	}, r.IntN(2) == 0}
	if r.IntN(4) > 0 {
		b.Wiring = quantity.Resistance(r.Float64() * 2)
	}
	if r.IntN(4) > 0 {
		b.Driver = quantity.Resistance(wide(r, 0.01, 1))
	}
	switch r.IntN(3) {
	case 0:
		b.Off.Reverse = quantity.Voltage(0.3 + r.Float64()*0.9)
	case 1:
		b.Off.Reverse = quantity.Voltage(wide(r, 5, 60))
	default:
		b.Off.Reverse = quantity.Voltage(wide(r, 1, 60))
		b.Off.Clamp = b.Off.Reverse + b.Supply
	}
	return b
}

// netlist returns the circuit for the simulator, with the current at the start of the period. The driver and the off path set the
// pin's voltage. Below the smallest current the off path loses its voltage, which is as close as possible to a diode that blocks.
//
//	high side: driver from supply to pin, winding from pin to ground; low side: winding from supply to pin, driver to ground
func (b bench) netlist(start float64) string {
	var out strings.Builder
	line := func(format string, of ...any) { fmt.Fprintf(&out, format+"\n", of...) }
	period, on := 1/float64(b.Frequency), float64(b.Duty)/float64(b.Frequency)
	ramp := edge * min(on, period-on)
	supply, reverse := float64(b.Supply), fmt.Sprintf("%.17g*min(1,i(vm)/%.17g)", float64(b.Off.Reverse), smallest*b.peak())
	wiring := max(float64(b.Wiring), 1e-9*float64(b.Winding)) // ngspice takes 0 ohm for a milliohm
	line("one period of a pulsed winding")
	line("vs s 0 dc %.17g", supply)
	line("vu u 0 pulse(1 0 %.17g %.17g %.17g %.17g %.17g)", on-ramp/2, ramp, ramp, 2*period, 4*period)
	if b.low {
		line("bp p 0 v=v(u)*i(vm)*%.17g+(1-v(u))*(%.17g+%s)", float64(b.Driver), supply, reverse)
		line("vm s m dc 0\nrw m a %.17g\nrr a c %.17g\nlw c p %.17g ic=%.17g", wiring, float64(b.Winding), float64(b.Inductance), start)
	} else {
		line("bp p 0 v=v(u)*(%.17g-i(vm)*%.17g)-(1-v(u))*%s", supply, float64(b.Driver), reverse)
		line("vm p m dc 0\nrw m a %.17g\nrr a c %.17g\nlw c 0 %.17g ic=%.17g", wiring, float64(b.Winding), float64(b.Inductance), start)
	}
	line("bd 0 d i=v(u)*i(vm)\nrd d 0 1")     // one volt for each ampere of the driver
	line("bo 0 o i=(1-v(u))*i(vm)\nro o 0 1") // and of the off path
	if b.Off.Clamp > 0 {
		line("bs 0 q i=i(vm)\nrs q 0 1") // across the switch: in series with the supply all the time
	} else {
		line("bs 0 q i=v(u)*i(vm)\nrs q 0 1")
	}
	// chgtol: flux only to 2 % of its peak, since what is left of a current that has ended is noise
	line(".options method=gear reltol=1e-6 vntol=1e-8 abstol=%.17g chgtol=%.17g\n.end", 1e-9*b.peak(), 0.02*float64(b.Inductance)*b.peak())
	return out.String()
}

// command returns the commands that simulate one period and write each of its steps.
func (b bench) command(netlist, raw string) string {
	period := 1 / float64(b.Frequency)
	step := period * min(1./points, float64(b.Duty)/200, (1-float64(b.Duty))/200)
	return fmt.Sprintf("source %s\ntran %.17g %.17g 0 %.17g uic\nwrite %s i(lw) v(q) v(o) v(d) v(p)\ndestroy all\nremcirc\n",
		netlist, step, period, step, raw)
}

// full returns the current with the driver always on.
func (b bench) full() float64 { return float64(b.Supply) / float64(b.Winding+b.Wiring+b.Driver) }

// peak returns the current after the first time on. Later peaks are at least as high.
func (b bench) peak() float64 {
	return -b.full() * math.Expm1(-float64(b.Duty)/float64(b.Frequency)*float64(b.Winding+b.Wiring+b.Driver)/float64(b.Inductance))
}

// A sample is one point of a simulation: the time, the currents of winding, supply, off path and driver, and the pin's voltage.
type sample struct{ t, winding, supply, off, driver, pin float64 }

// simulate runs one period of each circuit from its starting current, all in one process.
func simulate(t testing.TB, dir string, benches []bench, starts []float64) (runs [][]sample) {
	master := &strings.Builder{}
	fmt.Fprintln(master, "one circuit after the other\n.control\nset noaskquit")
	file := func(i int, of string) string { return filepath.Join(dir, strconv.Itoa(i)+of) }
	for i, b := range benches {
		require.NoError(t, os.WriteFile(file(i, ".cir"), []byte(b.netlist(starts[i])), 0o600))
		fmt.Fprint(master, b.command(file(i, ".cir"), file(i, ".raw")))
	}
	fmt.Fprintln(master, "quit\n.endc\n.end")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "all.cir"), []byte(master.String()), 0o600))
	said, err := exec.Command(ngspice(t), "-b", filepath.Join(dir, "all.cir")).CombinedOutput()
	require.NoError(t, err, "ngspice: %s", last(string(said)))
	for i := range benches {
		content, err := os.ReadFile(file(i, ".raw"))
		require.NoError(t, err, "ngspice: %s", last(string(said)))
		require.NoError(t, os.Remove(file(i, ".raw")))
		runs = append(runs, readRaw(t, content))
	}
	return runs
}

// ngspice returns the path of the simulator. A test that needs it fails without it.
func ngspice(t testing.TB) string {
	program, err := exec.LookPath("ngspice")
	require.NoError(t, err, "ngspice is not installed. Install it: apt-get install -y ngspice")
	return program
}

// last returns the end of a program's output.
func last(text string) string { return text[max(0, len(text)-2000):] }

// readRaw reads a transient from a binary raw file: the time and the five values that command writes, in that order.
func readRaw(t testing.TB, content []byte) (run []sample) {
	head, body, ok := bytes.Cut(content, []byte("Binary:\n"))
	require.True(t, ok, "no values in the raw file")
	require.Contains(t, string(head), "No. Variables: 6")
	require.Zero(t, len(body)%48)
	for ; len(body) > 0; body = body[48:] {
		var v [6]float64
		for i := range v {
			v[i] = math.Float64frombits(binary.LittleEndian.Uint64(body[8*i:]))
		}
		run = append(run, sample{v[0], v[1], v[2], v[3], v[4], v[5]})
	}
	require.Greater(t, len(run), points)
	return run
}

// mean returns the mean over a run, with straight lines between its points.
func mean(run []sample, of func(sample) float64) (m float64) {
	for i, s := range run[1:] {
		m += (s.t - run[i].t) * (of(s) + of(run[i])) / 2
	}
	return m / (run[len(run)-1].t - run[0].t)
}

// square returns the mean of the square, in the same way.
func square(run []sample, of func(sample) float64) (m float64) {
	for i, s := range run[1:] {
		a, b := of(run[i]), of(s)
		m += (s.t - run[i].t) * (a*a + a*b + b*b) / 3
	}
	return m / (run[len(run)-1].t - run[0].t)
}

// steadyInSpice returns a period of each circuit in its steady state, and which of the currents never stop. It simulates a period from
// no current and one from the most there can be. If the current never stops, what a period adds to it is linear in the current at
// its beginning, so these two tell from which current a period adds nothing. The period from there has to end where it began.
func steadyInSpice(t *testing.T, benches []bench) (runs [][]sample, never map[int]bool) {
	dir := t.TempDir()
	runs, never = simulate(t, dir, benches, make([]float64, len(benches))), map[int]bool{}
	var again []bench
	var which []int
	var from []float64
	end := func(run []sample) float64 { return run[len(run)-1].winding }
	for i, run := range runs {
		if b := benches[i]; end(run) > 10*smallest*b.peak() {
			again, which, from = append(again, b), append(which, i), append(from, b.full())
			never[i] = true
		}
	}
	for k, run := range simulate(t, dir, again, from) {
		up, down := end(runs[which[k]]), from[k]-end(run)
		from[k] *= up / (up + down)
	}
	for k, run := range simulate(t, dir, again, from) {
		i := which[k]
		runs[i] = run
		require.InDelta(t, from[k], end(run), 1e-5*benches[i].full(), "case %d: ngspice's period does not end where it began", i)
	}
	return runs, never
}

// A figure is a result of the package and of the simulator, with a difference that is small enough whatever the figure's size.
type figure struct {
	name            string
	got, want, near float64
}

// figures compares a state with the simulator's period.
func (b bench) figures(s drive.State, run []sample) []figure {
	winding := func(s sample) float64 { return s.winding }
	driver := func(s sample) float64 { return s.driver }
	offPath, watts := float64(b.Off.Reverse), b.full()*float64(b.Supply)
	if b.Off.Clamp > 0 {
		offPath = float64(b.Off.Clamp)
	}
	most, least := run[0].winding, run[0].winding
	for _, s := range run {
		most, least = max(most, s.winding), min(least, s.winding)
	}
	ms, supplied := square(run, winding), mean(run, func(s sample) float64 { return s.supply })
	freed, pin := mean(run, func(s sample) float64 { return s.off }), mean(run, func(s sample) float64 { return s.pin })
	amperes, power := spiceFloor*b.full(), spiceFloor*watts
	return []figure{
		{"average", float64(s.Average), mean(run, winding), amperes},
		{"RMS", float64(s.RMS), math.Sqrt(ms), amperes},
		{"maximum", float64(s.Max), most, amperes},
		{"minimum", float64(s.Min), least, smallest * b.peak()},
		{"power of the supply", float64(s.Supply), float64(b.Supply) * supplied, power},
		{"power of the winding", float64(s.Winding), ms * float64(b.Winding), power},
		{"power of the wiring", float64(s.Wiring), ms * float64(b.Wiring), power},
		{"power of the driver", float64(s.Driver), square(run, driver) * float64(b.Driver), power},
		{"power of the off path", float64(s.OffPath), offPath * freed, power},
		// The pin is positive and negative in turn.
		{"pin", float64(b.Pin(b.low, s).Average), pin, 20 * spiceFloor * float64(b.Supply+b.Off.Reverse)},
	}
}

// TestAgainstSpice compares the steady state with ngspice. The netlists are written from the contract. Source: ngspice (Debian
// package ngspice), transient analysis.
func TestAgainstSpice(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 150))
	benches := make([]bench, spiceCases)
	for i := range benches {
		benches[i] = drawBench(r)
	}
	runs, never := steadyInSpice(t, benches)
	continuous, worst := 0, map[string]float64{}
	for i, run := range runs {
		b := benches[i]
		s := b.Steady()
		if s.Continuous {
			continuous++
		}
		if float64(s.Min) > 10*smallest*b.peak() || !s.Continuous { // not on the border
			assert.Equal(t, never[i], s.Continuous, "case %d, whether the current stops; %+v", i, b)
		}
		for _, f := range b.figures(s, run) {
			apart := max(0, math.Abs(f.got-f.want)-f.near) / max(math.Abs(f.want), math.SmallestNonzeroFloat32)
			worst[f.name] = max(worst[f.name], apart)
			assert.LessOrEqual(t, apart, spiceAllowed, "case %d, %s: ngspice %.8g, the package %.8g; %+v", i, f.name, f.want, f.got, b)
		}
	}
	assert.Greater(t, continuous, spiceCases/5)
	t.Logf("%d cases, %d continuous; worst %v", spiceCases, continuous, worst)
}
