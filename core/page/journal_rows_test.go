package page

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/jsontext"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
)

type nothing struct{}

func (nothing) Members(*jsontext.Visitor) {}

// rowsTool is a tool with readings in rows that have names, such as the windings of one body.
func rowsTool() *tool.Tool {
	name := tool.TextOf(tool.Field{Name: "name", Most: 40})
	reading := tool.ReadingOf(tool.Field{Name: "reading", Range: tool.Between(0, 1e6),
		Taken: func(_, own *tool.Record, _ quantity.Kind) tool.How { return tool.How{Name: name.Sound(own)} }}, quantity.OfResistance)
	rows := tool.ListOf(tool.Field{Name: "rows", Most: 20, Apart: "rows"}, name, reading)
	return tool.New(tool.Tool{Name: "winding", Fields: tool.Declare(rows)}, tool.Way[nothing, nothing, nothing]{
		Read: func(*tool.Record, *tool.Faults) nothing { return nothing{} },
		Find: func(nothing) nothing { return nothing{} },
		Tell: func(nothing, nothing, *tool.Answer) nothing { return nothing{} },
		Lay:  func(_, _ nothing, l *tool.Layout) { l.Verdict(sheet.MarkWithin, "within", "Plausible", "") },
	})
}

// TestJournalOfRowsWithNames checks that readings of rows with names are told apart by them.
func TestJournalOfRowsWithNames(t *testing.T) {
	j, tl := newJob(), rowsTool()
	settle := func(given form) []string {
		entries := Journal(j, tl, given, tools.English(), monday, "")
		j.Entries = append(j.Entries, entries...)
		assert.Empty(t, Journal(j, tl, given, tools.English(), tuesday, ""))
		for i, e := range entries {
			entries[i].What = e.What + " " + e.Name
		}
		return readings(entries)
	}
	first := form{"rows.0.name": "A", "rows.0.reading": "5.3 ohm", "rows.1.name": "B", "rows.1.reading": "5.4 ohm", "rows.2.reading": "9 ohm"}
	assert.ElementsMatch(t, []string{"r rows.reading A 5.3 ohm", "r rows.reading B 5.4 ohm", "r rows.reading  9 ohm"}, settle(first))
	assert.Equal(t, "Plausible", j.Entries[3].Said)
	second := form{"rows.0.name": "B", "rows.0.reading": "5.5 ohm", "rows.1.name": "A", "rows.1.reading": "5.3 ohm", "rows.2.reading": "OL"}
	assert.ElementsMatch(t, []string{"r rows.reading B 5.5 ohm for 2", "r rows.reading  OL for 3"}, settle(second), "in another order")
	assert.ElementsMatch(t, []string{"w for 1", "w for 6"}, settle(form{"rows.0.name": "B", "rows.0.reading": "5.5 ohm"}))
}
