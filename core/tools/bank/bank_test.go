package bank_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools/bank"
	"ohmwright/core/tools/toolstest"
)

type object = toolstest.Object

// draw is a bench sheet: windings in, near and out of their row, some open, some not read, some beside a second unit.
func draw(r *rand.Rand) object {
	o := object{"meter": object{"percent": float64(2+r.IntN(20)) / 10, "counts": 1 + r.IntN(4), "resolution": "0.010 ohm"}}
	if r.IntN(4) > 0 {
		o["at"], o["at_within"] = toolstest.Milli(r.IntN(120000)-20000, "degC"), toolstest.Milli(r.IntN(6000), "K")
	}
	off := 0
	if r.IntN(3) > 0 {
		off = 100 + r.IntN(400)
		o["leads"] = toolstest.Milli(off, "ohm")
	}
	if r.IntN(5) > 0 {
		o["spec"] = object{"min": "5.000 ohm", "max": "5.600 ohm", "at": "20.000 degC"}
	}
	if _, given := o["at"]; given && r.IntN(4) == 0 {
		o["other_at"] = "30.000 degC"
	}
	if r.IntN(4) == 0 {
		o["material"] = "aluminium"
	}
	rows := []any{}
	for range 1 + r.IntN(9) {
		rows = append(rows, drawRow(r, off))
	}
	rows[0].(object)["reading"] = toolstest.Milli(off+5300, "ohm")
	o["windings"] = rows
	if r.IntN(3) == 0 {
		o["pins"] = []any{object{"from": "x", "to": "y", "reading": []string{"OL", "3 Mohm", "900 kohm"}[r.IntN(3)]}}
	}
	return o
}

func drawRow(r *rand.Rand, off int) object {
	row, shown := object{}, func() string {
		if r.IntN(12) == 0 {
			return "OL"
		}
		return toolstest.Milli(off+1+r.IntN(200)+[]int{3000, 5000, 5200, 5400, 5600, 7000}[r.IntN(6)], "ohm")
	}
	if r.IntN(10) > 0 {
		row["reading"] = shown()
	}
	if r.IntN(2) == 0 {
		row["other"] = shown()
	}
	if r.IntN(5) == 0 {
		row["min"], row["max"], row["spec_at"] = "4.900 ohm", "7.000 ohm", "25.000 degC"
	}
	if r.IntN(4) == 0 {
		row["to_case"] = []string{"OL", "5 Mohm", "20 kohm"}[r.IntN(3)]
	}
	if len(row) == 0 {
		row["name"] = "empty"
	}
	return row
}

func TestPromises(t *testing.T) { toolstest.CheckPromises(t, "bank", draw) }
func TestUnits(t *testing.T)    { toolstest.CheckUnits(t, "bank", draw) }

// alone is what the winding tool is asked for one row of a sheet.
func alone(sheet, row object) object {
	o := object{"reading": row["reading"]}
	for _, key := range []string{"at", "at_within", "leads", "meter", "material"} {
		if v, given := sheet[key]; given {
			o[key] = v
		}
	}
	switch {
	case row["min"] != nil || row["max"] != nil:
		o["specs"] = []any{object{"min": row["min"], "max": row["max"], "at": row["spec_at"]}}
	case sheet["spec"] != nil:
		o["specs"] = []any{sheet["spec"]}
	}
	if row["other"] != nil && sheet["at"] != nil {
		good := object{"reading": row["other"], "at": sheet["at"]}
		for _, key := range []string{"at_within", "leads"} {
			if v, given := sheet[key]; given {
				good[key] = v
			}
		}
		if v, given := sheet["other_at"]; given {
			good["at"] = v
		}
		o["known_good"] = good
	}
	return o
}

// TestVerdictsAreTheWindingTools asks both tools for each winding of drawn sheets: value, verdict, chances and comparison are the same.
func TestVerdictsAreTheWindingTools(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	seen := map[string]int{}
	for range 400 {
		sheet := draw(r)
		got := toolstest.Answered(t, "bank", sheet)["result"].(object)["windings"].([]any)
		for i, row := range sheet["windings"].([]any) {
			row, got := row.(object), got[i].(object)
			if row["reading"] == nil {
				require.Equal(t, "not_read", got["verdict"])
				continue
			}
			want := toolstest.Answered(t, "winding", alone(sheet, row))["result"].(object)
			seen[want["overall"].(string)]++
			at := fmt.Sprintf("winding %d of %s", i, toolstest.Encoded(t, sheet))
			require.Equal(t, want["overall"], got["verdict"], at)
			for _, key := range []string{"winding", "at_reference"} {
				require.Equal(t, want[key], got[key], at)
			}
			if row["other"] != nil && sheet["at"] != nil {
				require.Equal(t, want["comparison"], got["comparison"], at)
				seen["compared "+want["comparison"].(object)["verdict"].(string)]++
			}
			if specs := want["specs"].([]any); len(specs) > 0 {
				spec := specs[0].(object)
				for _, key := range []string{"corrected", "band_now", "p_below", "p_within", "p_above"} {
					require.Equal(t, spec[key], got[key], "%s: %s", key, at)
				}
			}
		}
	}
	for _, verdict := range []string{"within", "below", "above", "undecided", "open", "no_specification", "compared alike",
		"compared differs", "compared undecided"} {
		assert.Greater(t, seen[verdict], 20, "%s: hardly ever drawn", verdict)
	}
}

// eight is a sheet of eight windings with a factor on all of them, and one that is set apart.
func eight(all, third string) object {
	rows := []any{}
	for i := range 8 {
		row := object{"reading": all}
		if i == 2 {
			row["reading"] = third
		}
		rows = append(rows, row)
	}
	return object{"at": "20 degC", "leads": "0 ohm", "spec": object{"min": "5.0 ohm", "max": "5.6 ohm"}, "windings": rows,
		"meter": object{"percent": 0.5, "counts": 2, "resolution": "0.01 ohm"}}
}

// TestAllOffIsSaidPlainly: where the whole bank is off the page says so, names the temperature, and condemns none.
func TestAllOffIsSaidPlainly(t *testing.T) {
	said := func(key string, args ...any) string { return toolstest.Said(t, bank.Tool, key, args...) }
	shown := toolstest.Laid(t, bank.Tool, eight("6.36 ohm", "6.36 ohm"))
	assert.Contains(t, shown, `"data-verdict":"off_together"`)
	assert.Contains(t, shown, said("why.off_together"))
	assert.NotContains(t, shown, said("why.out"))
	assert.Contains(t, shown, "71\u00a0°C", "6.36/5.3 = 1.2: 1.2 x 254.5 - 234.5 = 70.9 degC")
	assert.Equal(t, 8, strings.Count(shown, said("explained")))
	shown = toolstest.Laid(t, bank.Tool, eight("6.36 ohm", "OL"))
	assert.Contains(t, shown, said("why.out"))
	assert.Equal(t, 7, strings.Count(shown, said("explained")))
	assert.Contains(t, shown, said("headline", said("count", "1", "8"), "row 3"))
}

// TestRowGoesToItsCircuit: each row that was read has a button that carries reading, specification, temperature and place.
func TestRowGoesToItsCircuit(t *testing.T) {
	o := eight("5.3 ohm", "OL")
	o["leads"] = "0.3 ohm"
	o["windings"].([]any)[1] = object{"name": "not read"}
	o["windings"].([]any)[3] = object{"reading": "12.3 ohm", "min": "11 ohm", "max": "13 ohm", "spec_at": "25 degC"}
	shown := toolstest.Laid(t, bank.Tool, o)
	assert.Equal(t, 7, strings.Count(shown, `"data-carry":"circuit"`))
	for _, want := range []string{
		`{\"readings.0.at\":\"20degC\",\"readings.0.test\":\"resistance_component\",\"readings.0.value\":\"5ohm\",` +
			`\"spec.at\":\"20degC\",\"spec.max\":\"5.6ohm\",\"spec.min\":\"5.0ohm\",\"winding\":\"#1\",\"winding_temperature\":\"20degC\"}`,
		`\"readings.0.value\":\"OL\"`,
		`\"readings.0.value\":\"12ohm\",\"spec.at\":\"25degC\",\"spec.max\":\"13ohm\",\"spec.min\":\"11ohm\"`,
	} {
		assert.Contains(t, shown, want)
	}
	o["measured_at"] = "winding"
	assert.Contains(t, toolstest.Laid(t, bank.Tool, o), `\"readings.0.test\":\"resistance_winding\"`)
}

// TestDrawing: every winding stands in the drawing by its name and verdict, in words for a screen reader too.
func TestDrawing(t *testing.T) {
	o := eight("5.3 ohm", "1000 ohm")
	o["windings"].([]any)[4] = object{"reading": "OL", "other": "5.3 ohm"}
	shown := toolstest.Laid(t, bank.Tool, o)
	assert.Contains(t, shown, "row 5: open")
	assert.Contains(t, shown, "row 3: reads high, odd one")
	assert.Contains(t, shown, "second unit 5.3")
	assert.Contains(t, shown, "bank-drawing")
	assert.NotContains(t, shown, "NaN")
	assert.NotContains(t, shown, "Inf")
	assert.NotContains(t, toolstest.Laid(t, bank.Tool, object{"windings": []any{object{"reading": "OL"}}}),
		"bank-drawing", "nothing to draw without a value")
}
