//go:build !js

package drive_test

// One of these runs a program beside it, which a module in a page cannot.

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"ohmwright/core/drive"
)

// benched is a transmission solenoid as one meets it: the made-up Tarn 24, hot, on a diode.
var benched = bench{drive.Circuit{Supply: 13.8, Winding: 6.9, Wiring: 0.3, Driver: 0.15, Inductance: 0.018, Frequency: 300, Duty: 0.45, Off: drive.OffPath{Reverse: 0.7}}, false}

// BenchmarkSteady is one steady state: continuous, and with a current that stops.
func BenchmarkSteady(b *testing.B) {
	stops := benched.Circuit
	stops.Off.Reverse = 40
	require.True(b, benched.Steady().Continuous)
	require.False(b, stops.Steady().Continuous)
	for name, c := range map[string]drive.Circuit{"continuous": benched.Circuit, "discontinuous": stops} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				c.Steady()
			}
		})
	}
}

// BenchmarkDutyFor is the duty for a wanted current.
func BenchmarkDutyFor(b *testing.B) {
	for b.Loop() {
		benched.DutyFor(1)
	}
}

// BenchmarkAgainstSpice is one steady state beside ngspice on the same case in the same run. The simulator is given where the
// steady state begins, and simulates one period. Its whole process is what one answer costs; what a hundred more analyses
// add to it, a hundredth each, is what the analysis alone costs. Both with the steps that the test against it takes, and
// with the fewest that the simulator takes by itself, fifty a period and its own tolerances.
func BenchmarkAgainstSpice(b *testing.B) {
	program, dir := ngspice(b), b.TempDir()
	start := float64(benched.Steady().Min)
	period := 1 / float64(benched.Frequency)
	accurate := benched.netlist(start)
	coarse := accurate[:strings.Index(accurate, ".options")] + ".end\n"
	cost := func(netlist, tran string, times int) (least time.Duration) {
		in, master := filepath.Join(dir, "one.cir"), filepath.Join(dir, "master.cir")
		commands := strings.Repeat(tran+"\ndestroy all\n", times-1)
		require.NoError(b, os.WriteFile(in, []byte(netlist), 0o600))
		require.NoError(b, os.WriteFile(master, []byte(fmt.Sprintf("one circuit\n.control\nset noaskquit\nsource %s\n%s%s\nwrite %s i(lw)\nquit\n.endc\n.end\n",
			in, commands, tran, filepath.Join(dir, "one.raw"))), 0o600))
		for range 5 {
			_ = os.Remove(filepath.Join(dir, "one.raw"))
			began := time.Now()
			said, err := exec.Command(program, "-b", master).CombinedOutput()
			took := time.Since(began)
			require.NoError(b, err, last(string(said)))
			require.FileExists(b, filepath.Join(dir, "one.raw"), last(string(said)))
			if least == 0 || took < least {
				least = took
			}
		}
		return least
	}
	for _, c := range []struct{ name, netlist, tran string }{
		{"accurate", accurate, fmt.Sprintf("tran %.17g %.17g 0 %.17g uic", period/points, period, period/points)},
		{"coarse", coarse, fmt.Sprintf("tran %.17g %.17g uic", period/50, period)},
	} {
		b.Run(c.name, func(b *testing.B) {
			whole := cost(c.netlist, c.tran, 1)
			analysis := (cost(c.netlist, c.tran, 101) - whole) / 100
			for b.Loop() {
				benched.Steady()
			}
			each := float64(b.Elapsed()) / float64(b.N)
			b.ReportMetric(float64(whole)/each, "times_faster_than_ngspice")
			b.ReportMetric(float64(analysis)/each, "times_faster_than_its_analysis")
			b.ReportMetric(float64(whole.Microseconds()), "ngspice_µs")
			b.ReportMetric(float64(analysis.Microseconds()), "analysis_µs")
		})
	}
}
