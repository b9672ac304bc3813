package page

import (
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

// BenchmarkGlance measures what a keystroke costs in the core, with each tool's example.
func BenchmarkGlance(b *testing.B) {
	for _, t := range tools.All {
		o := t.Answer([]byte(t.Example), quantity.Point, tools.English())
		require.Empty(b, o.Faults)
		given := map[string]string{}
		for _, p := range o.Record.Pairs() {
			given[p.Key] = p.Value
		}
		b.Run(t.Name, func(b *testing.B) {
			for b.Loop() {
				reply := Glance(t, given, tools.English(), tool.Hasty)
				if _, err := reply.MarshalJSON(); err != nil || !reply.Answered {
					b.Fatal(err, reply.Notes)
				}
			}
		})
	}
}
