package page_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/page"
	"ohmwright/core/tools"
)

// TestSharesOpenAsPerCent checks that a share in plain figures becomes per cent without a change of its digits.
func TestSharesOpenAsPerCent(t *testing.T) {
	for given, want := range map[string]string{"0.45": "45", "1": "100", "0.4567": "45.67", "0.005": "0.5", "0.9++1": "90", "0": "0",
		".5": "50", "4.5e-1": "450e-1", "-0.1": "-10"} {
		f := page.Open("#/drive?v=1&duty="+given, tools.English())
		assert.Equal(t, page.Field{Text: want, Unit: "%"}, f.Fields["duty"], given)
		assert.Empty(t, f.Notes, given)
	}
	assert.Equal(t, page.Field{Text: "45,67", Unit: "%"}, page.Open("#/drive?v=1&duty=0.4567", tools.Speaker("en", "de")).Fields["duty"])
}

// TestFiguresOpenInTheReadersNotation checks pure numbers, of which one with three decimals would be ambiguous otherwise.
func TestFiguresOpenInTheReadersNotation(t *testing.T) {
	german := tools.Speaker("en", "de")
	f := page.Open("#/winding?v=1&meter.percent=1.250&meter.counts=2&reading=9.750ohm", german)
	assert.Equal(t, "1,250", f.Fields["meter.percent"].Text)
	assert.Equal(t, "2", f.Fields["meter.counts"].Text)
	assert.Equal(t, page.Field{Text: "9,750", Unit: "ohm"}, f.Fields["reading"])
}

// TestOneForAllOpens checks that one number for all fields of a group is given to each that has none of its own.
func TestOneForAllOpens(t *testing.T) {
	f := page.Open("#/circuit?v=1&costs.wrong=250&costs.wrong.harness=90", tools.English())
	assert.Empty(t, f.Notes)
	assert.Equal(t, "90", f.Fields["costs.wrong.harness"].Text)
	assert.Equal(t, "250", f.Fields["costs.wrong.component"].Text)
	assert.NotContains(t, f.Fields, "costs.wrong")
}

func TestLinesBecomeSpaces(t *testing.T) {
	f := page.Open("#/winding?v=1&specs.0.name=one%0Atwo%0D%0Athree", tools.English())
	assert.Equal(t, "one two three", f.Fields["specs.0.name"].Text)
	assert.Equal(t, "M6 10 N.m\nM8", page.Open("#/torque?v=1&table=M6+10+N.m%0AM8", tools.English()).Fields["table"].Text)
}

// TestMissingUnitIsNoted checks that a number whose unit is the form's and not the link's is noted.
func TestMissingUnitIsNoted(t *testing.T) {
	f := page.Open("#/winding?v=1&reading=5&at=20degC&meter.percent=1", tools.English())
	require.Len(t, f.Notes, 1)
	assert.Equal(t, "reading", f.Notes[0].Field)
	assert.Equal(t, "5", f.Fields["reading"].Text)
}

// TestManyKeysAreCounted checks that thousands of unknown keys are one note, and that rows beyond a list's are too.
func TestManyKeysAreCounted(t *testing.T) {
	var text strings.Builder
	text.WriteString("#/winding?v=1&reading=5ohm&specs.100000000000000000000.min=5ohm")
	for i := range 30_000 {
		text.WriteString("&k" + strconv.Itoa(i) + "=1")
	}
	f := page.Open(text.String(), tools.English())
	require.Len(t, f.Notes, 2)
	assert.Regexp(t, "30,?000", f.Notes[1].Text)
	assert.Len(t, f.Fields, 1)
	b, err := json.Marshal(f)
	require.NoError(t, err)
	assert.Less(t, len(b), 4000)

	text.Reset()
	text.WriteString("#/winding?v=1")
	for i := range 1000 {
		text.WriteString("&specs." + strconv.Itoa(i) + ".min=5ohm")
	}
	f = page.Open(text.String(), tools.English())
	require.Len(t, f.Notes, 1)
	assert.Contains(t, f.Notes[0].Text, "940")
	assert.Len(t, f.Fields, 60)
}

// TestNotesAreCapped checks that a link with thousands of words that are no choice gets a short answer.
func TestNotesAreCapped(t *testing.T) {
	var text strings.Builder
	text.WriteString("#/circuit?v=1")
	for i := range 200 {
		text.WriteString("&readings." + strconv.Itoa(i) + ".test=" + strings.Repeat("x", 900))
	}
	b, err := json.Marshal(page.Open(text.String(), tools.English()))
	require.NoError(t, err)
	assert.Less(t, len(b), 1<<16)
}
