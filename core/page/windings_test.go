package page

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/job"
)

// short is what the record says of each reading: name, value, what became of it, the leads and what took it over.
func short(j *job.Job) (list []string) {
	r := Record(j)
	for n := 0; r[rowKey("readings", n)+"value"] != ""; n++ {
		text := ""
		for _, name := range []string{"name", "value", "corrected", "leads", "as_what"} {
			if word := r[rowKey("readings", n)+name]; word != "" {
				text += word + "|"
			}
		}
		list = append(list, text)
	}
	return list
}

var sheetOfTwo = form{"at": "40 degC", "leads": "0.3 ohm", "spec.min": "20 ohm", "spec.max": "24 ohm",
	"windings.0.reading": "24.1 ohm", "windings.1.reading": "13.2 ohm"}

// TestRowsAreToldApart checks that rows without a name are told apart by their numbers, that a correction is of the same row, and that the
// leads stand with the reading.
func TestRowsAreToldApart(t *testing.T) {
	j := newJob()
	note(t, j, "bank", sheetOfTwo)
	assert.Equal(t, []string{"#1|24.1 ohm|0.3 ohm|", "#2|13.2 ohm|0.3 ohm|"}, short(j))
	note(t, j, "bank", with(sheetOfTwo, form{"windings.0.reading": "24.7 ohm"}))
	assert.Equal(t, []string{"#1|24.1 ohm|yes|0.3 ohm|", "#2|13.2 ohm|0.3 ohm|", "#1|24.7 ohm|0.3 ohm|"}, short(j))
	// Two readings that change places are two corrections; a row that goes takes its number along, and no other reading with it.
	note(t, j, "bank", with(sheetOfTwo, form{"windings.0.reading": "13.2 ohm", "windings.1.reading": "24.7 ohm"}))
	assert.Equal(t, []string{"#1|13.2 ohm|0.3 ohm|", "#2|24.7 ohm|0.3 ohm|"}, short(j)[3:])
	gone := with(sheetOfTwo, form{"windings.0.reading": "24.7 ohm"})
	delete(gone, "windings.1.reading")
	note(t, j, "bank", gone)
	assert.Equal(t, []string{"#1|24.1 ohm|yes|0.3 ohm|", "#2|13.2 ohm|yes|0.3 ohm|", "#1|24.7 ohm|yes|0.3 ohm|",
		"#1|13.2 ohm|withdrawn|0.3 ohm|", "#1|24.7 ohm|0.3 ohm|"}, short(j))
}

// TestRowIsNamedLater checks that a name that is given later is the same reading's, as are leads.
func TestRowIsNamedLater(t *testing.T) {
	j, bare := newJob(), with(sheetOfTwo, form{})
	delete(bare, "leads")
	note(t, j, "bank", bare)
	note(t, j, "bank", sheetOfTwo)
	assert.Equal(t, []string{"#1|24.1 ohm|0.3 ohm|", "#2|13.2 ohm|0.3 ohm|"}, short(j))
	entries := note(t, j, "bank", with(sheetOfTwo, form{"windings.1.name": "Y4"}))
	assert.Equal(t, []string{"r windings.reading 13.2 ohm component_connector for 5"}, readings(entries))
	assert.Equal(t, []string{"#1|24.1 ohm|0.3 ohm|", "Y4|13.2 ohm|0.3 ohm|"}, short(j))
}

// TestReadingsWithoutNumbers checks that a job of an earlier day, whose rows have no numbers, gains no correction by them.
func TestReadingsWithoutNumbers(t *testing.T) {
	j := newJob()
	for _, value := range []string{"24.1 ohm", "13.2 ohm"} {
		j.Append(job.Entry{Kind: job.Reading, Tool: "bank", What: "windings.reading", Value: value, Place: "component_connector", At: "40 degC",
			When: monday})
	}
	old := with(sheetOfTwo, form{})
	delete(old, "leads")
	assert.Empty(t, readings(note(t, j, "bank", old)))
	assert.Equal(t, []string{"r windings.reading 13.9 ohm component_connector for 2"},
		readings(note(t, j, "bank", with(old, form{"windings.1.reading": "13.9 ohm"}))))
}

// TestWindingsAreToldOnce checks that what was taken from one sheet to the circuits of several windings is told once each, under its name,
// and that none corrects another.
func TestWindingsAreToldOnce(t *testing.T) {
	j := newJob()
	note(t, j, "bank", with(sheetOfTwo, form{"windings.0.name": "Y1"}))
	j.Facts.From["readings.resistance_component"] = "bank"
	circuit := form{"side": "high", "supply": "27.6 V", "spec.min": "20 ohm", "spec.max": "24 ohm", "winding_temperature": "40 degC",
		"winding": "#2", "readings.0.test": "resistance_component", "readings.0.value": "12.9 ohm",
		"readings.1.test": "current_on", "readings.1.value": "1.90 A", "readings.2.test": "row_applies", "readings.2.value": "yes"}
	first := note(t, j, "circuit", circuit)
	turned := with(circuit, form{"winding": "Y1", "readings.0.aside": "#2", "readings.1.aside": "#2", "readings.0.supply": "27.6 V",
		"readings.0.at": "40 degC", "readings.1.supply": "27.6 V", "readings.1.at": "40 degC",
		"readings.3.test": "resistance_component", "readings.3.value": "23.8 ohm"})
	assert.Equal(t, []string{"r resistance_component 23.8 ohm"}, readings(note(t, j, "circuit", turned)))
	assert.ElementsMatch(t, []string{"Y1|24.1 ohm|0.3 ohm|resistance_component|", "#2|13.2 ohm|0.3 ohm|resistance_component|",
		"#2|1.90 A|", "yes|"}, short(j))
	// A reading of another tool, passed on last to the winding at hand, is not the one that was put aside.
	other := *j
	other.Facts.From = map[string]string{"readings.resistance_component": "winding"}
	other.Append(job.Entry{Kind: job.Reading, Tool: "winding", What: "reading", Value: "24 ohm", Place: "component_connector", When: monday})
	assert.Equal(t, append(short(j), "24 ohm|"), short(&other))
	// Another supply is another one for the winding that is at hand, and not for what was put aside.
	again := readings(note(t, j, "circuit", with(turned, form{"supply": "26 V"})))
	assert.NotContains(t, again, "r current_on 1.90 A for 4")
	// What was concluded of each winding stands in the record.
	r := Record(j)
	var said []string
	for n := 0; r[rowKey("answers", n)+"said"] != ""; n++ {
		if r[rowKey("answers", n)+"tool"] == "circuit" {
			said = append(said, r[rowKey("answers", n)+"said"])
		}
	}
	assert.Len(t, said, 2)
	assert.Contains(t, said[0], "row 2: ")
	assert.Contains(t, said[1], "Y1: ")
	assert.Equal(t, first[len(first)-1].Said, said[0])
}

// TestCircuitIsNamedLater checks that a circuit that is found to be one winding's is still the same circuit.
func TestCircuitIsNamedLater(t *testing.T) {
	j := newJob()
	live := with(bare, form{"readings.0.test": "current_on", "readings.0.value": "4.62 A"})
	note(t, j, "circuit", live)
	assert.Equal(t, []string{"r current_on 4.62 A for 1"}, readings(note(t, j, "circuit", with(live, form{"winding": "Y1"}))))
	assert.Equal(t, []string{"Y1|4.62 A|"}, short(j))
}
