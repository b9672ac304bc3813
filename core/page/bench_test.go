package page

import (
	"fmt"
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

// BenchmarkOpenMany measures what opening a link of 30,000 unknown keys costs.
func BenchmarkOpenMany(b *testing.B) {
	link := []byte("#/winding?v=1&reading=6.9ohm&at=88degC")
	for i := range 30000 {
		link = fmt.Appendf(link, "&key%d=1", i)
	}
	for b.Loop() {
		if form := Open(string(link), tools.English()); len(form.Notes) != 1 {
			b.Fatal(form.Notes)
		}
	}
}
