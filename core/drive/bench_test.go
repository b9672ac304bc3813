//go:build !js

package drive_test

// One of these runs another program, which js/wasm cannot.

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

// benched is a common transmission solenoid, the made-up Tarn 24, hot and with a diode.
var benched = bench{drive.Circuit{Supply: 13.8, Winding: 6.9, Wiring: 0.3, Driver: 0.15, Inductance: 0.018, Frequency: 300, Duty: 0.45,
	Off: drive.OffPath{Reverse: 0.7}}, false}

// BenchmarkSteady measures one steady state: with a current that never stops, and with one that does.
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

// BenchmarkDutyFor measures finding the duty for a wanted current.
func BenchmarkDutyFor(b *testing.B) {
	for b.Loop() {
		benched.DutyFor(1)
	}
}

// BenchmarkAgainstSpice compares one steady state with ngspice, which is given the current at its beginning and simulates one period.
// An answer costs a whole process of ngspice; what a hundred more analyses add to it tells what the analysis alone costs. Both are
// measured with the small steps of TestAgainstSpice, and with 50 steps per period and ngspice's own tolerances.
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
		control := fmt.Sprintf("one circuit\n.control\nset noaskquit\nsource %s\n%s%s\nwrite %s i(lw)\nquit\n.endc\n.end\n",
			in, commands, tran, filepath.Join(dir, "one.raw"))
		require.NoError(b, os.WriteFile(master, []byte(control), 0o600))
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
