//go:build unix

package diagnosis

import (
	"math"
	"math/rand/v2"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"ohmwright/core/circuit"
	"ohmwright/core/quantity"
)

// surveyRows are how wide a row of the specification is, in ohm.
var surveyRows = []float64{0.6, 2, 8, 30}

// surveyed returns states that a user comes through: circuits of both sides, with rows of each width and what is known of the temperature
// from nothing to within 2 K, each with a fault drawn by its weight, from the first reading along the tool's own advice to its decision.
func surveyed() (states []Question) {
	const rounds, most = 3, 16 // of each kind of circuit; readings
	r := rand.New(rand.NewPCG(12, 8))
	for range rounds {
		for _, width := range surveyRows {
			for known := range 3 {
				for side := range 2 {
					m := surveyModel(r, circuit.Side(side), width, known)
					w := anyWorld(r, m, drawn(r, m))
					q := Question{Model: m}
					for d := q.Judge(); d.Decision.Do != MakeRepair && len(q.Readings) < most; d = q.Judge() {
						q.Readings = append(slices.Clip(q.Readings), w.reads(r, d.Decision.Test))
						states = append(states, q)
					}
				}
			}
		}
	}
	return states
}

// surveyModel draws a circuit; known is how much is known of the winding's temperature: nothing, within 10 K or within 2 K.
func surveyModel(r *rand.Rand, side circuit.Side, width float64, known int) *circuit.Model {
	back := circuit.Wire
	if side == circuit.High && nowAndThen(r, 2) {
		back = circuit.Case
	}
	least := math.Round(wide(r, 4, 20)*10) / 10
	m := circuit.New(side, back, []float64{12.6, 13.8, 27}[r.IntN(3)], least, least+width)
	m.Code, m.Present = circuit.Code(r.IntN(circuit.Codes)), circuit.Presence(r.IntN(circuit.Presences))
	m.Stage = circuit.Stage(r.IntN(circuit.Stages))
	m.Warmth.Known = known > 0
	m.Warmth.At = []quantity.Temperature{20, 60, 90}[r.IntN(3)]
	if known == 2 {
		m.Warmth.Within = 2
	}
	return m
}

// worked returns how long the processor has worked for this process: what else the machine does counts less than on the clock.
func worked(b *testing.B) time.Duration {
	var use syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// BenchmarkSurvey measures the finding, and the whole answer with what the next test would show, over the states that a user comes through:
// of each state the fastest of three tries.
func BenchmarkSurvey(b *testing.B) {
	states := surveyed()
	for _, way := range []struct {
		name string
		ask  func(Question)
	}{
		{"find", func(q Question) { Find(q.Model, q.Readings) }},
		{"whole", func(q Question) { q.Diagnose() }},
	} {
		b.Run(way.name, func(b *testing.B) {
			least := make([]float64, len(states))
			for i := range least {
				least[i] = math.Inf(1)
			}
			for b.Loop() {
				for i, q := range states {
					for range 3 {
						from := worked(b)
						way.ask(q)
						least[i] = min(least[i], (worked(b)-from).Seconds()*1e3)
					}
				}
			}
			slices.Sort(least)
			n := len(least)
			b.ReportMetric(float64(n), "states")
			b.ReportMetric(least[n/2], "ms/median")
			b.ReportMetric(least[n*95/100], "ms/p95")
			b.ReportMetric(least[n-1], "ms/most")
		})
	}
}
