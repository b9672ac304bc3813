package page

import (
	"strings"
	"testing"

	"ohmwright/core/job"
	"ohmwright/core/tools"
)

// journalKeys are the keys that the lines of a fuzzed text go into, by tool. The circuit has no specification here, so that it is not
// answered: its readings are noted all the same, and much sooner.
var journalKeys = map[string][]string{
	"winding": {"reading", "at", "measured_at", "meter.percent", "known_good.reading", "known_good.at", "cold.reading"},
	"loop":    {"supply", "current", "winding", "winding_temperature", "meter.counts"},
	"circuit": {"readings.0.test", "readings.0.value", "readings.2.test", "readings.2.value", "readings.9.test", "readings.9.value",
		"supply", "winding_temperature", "readings.0.supply", "readings.2.at"},
	"handover": {"new_part.reading", "new_part.at", "cleared", "bolts.0.off", "bolts.0.on", "relearn", "readings.0.what", "readings.0.value"},
}

// FuzzJournal settles a form three times, and checks that what is noted can be kept, and is noted once.
func FuzzJournal(f *testing.F) {
	f.Add(uint8(0), "5.3 ohm\n20 degC\nwinding\n1\n5.6 ohm\n21 degC", "5.4 ohm\n20 degC\ncontrol_unit", "")
	f.Add(uint8(1), "13.2 V\n1.65 A\n5.3 ohm", "13.2 V\n1.7 A\n5.3 ohm\n88 degC", "13.2 V")
	f.Add(uint8(2), "current_on\n4 A\ncurrent_on\n5 A", "current_on\n5 A\ncurrent_on\n4 A\nresistance_component\nOL", "current_on\n5 A\nx\n4")
	f.Add(uint8(3), "5.3 ohm\n20 degC\ndone\n3\n2\nopen", "OL", "5,3 ohm\n\nnot_done\n\n\ndone\ncircuit.title\n4")
	names := []string{"winding", "loop", "circuit", "handover"}
	f.Fuzz(func(t *testing.T, n uint8, first, second, third string) {
		name := names[int(n)%len(names)]
		j := newJob()
		for _, text := range []string{first, second, third} {
			given := form{}
			for i, line := range strings.SplitN(text, "\n", len(journalKeys[name])) {
				if line != "" {
					given[journalKeys[name][i]] = line
				}
			}
			entries := Journal(j, toolNamed(name), given, tools.English(), monday, "LM")
			j.Entries = append(j.Entries, entries...)
			if again := Journal(j, toolNamed(name), given, tools.English(), tuesday, "LM"); len(again) > 0 {
				t.Fatalf("noted twice: %v of %v", again, given)
			}
			back, err := job.Read(job.Write(j))
			if err != nil {
				t.Fatalf("%v: the document does not take %v", err, entries)
			}
			if len(back.Entries) != len(j.Entries) {
				t.Fatal("entries are lost")
			}
			if reply := Answer(toolNamed("handover"), Record(back), tools.English()); !reply.Answered || len(reply.Notes) > 0 {
				t.Fatalf("the handover does not take the record: %v", reply.Notes)
			}
		}
	})
}
