package circuit

import (
	"fmt"
	"testing"
)

func TestTry(t *testing.T) {
	m := New(High, Wire, 12.6, 5, 5.6)
	for _, rs := range [][]Reading{nil, {{Test: OhmsHarness, Over: true}}, {{Test: OhmsComponent, Value: 5.4}}, {{Test: OhmsComponent, Value: 5.4}, {Test: VoltsReturn, Value: 3}},{{Test: OhmsUnit, Value: 505},{Test: OhmsHarness, Value: 500}}} {
		f := m.Find(rs)
		fmt.Println(rs, f.Surprise, f.Worst, f.Test, f.Repair, f.Cost)
		for _, c := range f.Faults[:5] {
			fmt.Printf("  %v %.4f\n", c.Of, c.P)
		}
		for _, n := range f.Next[:min(4, len(f.Next))] {
			fmt.Printf("  %v %.3f bits %.1f\n", n.Test, n.Bits, n.Value)
			for _, o := range n.Outcomes {
				fmt.Printf("      %.3g..%.3g %v p %.3f: %v %.2f %v %.2f\n", o.From, o.To, o.Over, o.P, o.Fault, o.FaultP, o.Repair, o.RepairP)
			}
		}
	}
}

func BenchmarkFind(b *testing.B) {
	m := New(High, Wire, 12.6, 5, 5.6)
	for name, rs := range map[string][]Reading{"none": nil, "one": {{Test: OhmsComponent, Value: 5.4}},
		"four": {{Test: OhmsUnit, Value: 505}, {Test: OhmsHarness, Value: 500}, {Test: OhmsComponent, Value: 5.4}, {Test: VoltsPinOn, Value: 12.5}}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				m.Find(rs)
			}
		})
	}
}
