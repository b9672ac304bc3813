package page

import (
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// BenchmarkGlance is what a keystroke costs in the core, for each tool's example.
func BenchmarkGlance(b *testing.B) {
	for _, t := range tool.All {
		r, _, faults := t.Answer([]byte(t.Example), quantity.Point, wording.English())
		require.Empty(b, faults)
		given := map[string]string{}
		for _, p := range r.Pairs() {
			given[p.Key] = p.Value
		}
		b.Run(t.Name, func(b *testing.B) {
			for b.Loop() {
				reply := Glance(t, given, wording.English())
				if _, err := reply.MarshalJSON(); err != nil || !reply.Answered {
					b.Fatal(err, reply.Notes)
				}
			}
		})
	}
}
