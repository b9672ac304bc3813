package winding_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/core/tools/winding"
)

type object = toolstest.Object

func laid(t *testing.T, o object) string { return toolstest.Laid(t, winding.Tool, o) }

func said(t *testing.T, key string, args ...any) string {
	return toolstest.Said(t, winding.Tool, key, args...)
}

// TestStop holds that a supply above 60 V is a stop in the head and in the result, before the reading is there too, and that nothing
// of the answer is left.
func TestStop(t *testing.T) {
	whole := object{"reading": "12 ohm", "at": "20 degC", "supply": "400 V", "specs": []any{object{"min": "11 ohm"}}}
	for _, o := range []object{whole, {"reading": "OL", "supply": "61 V"}} {
		shown := laid(t, o)
		assert.Contains(t, shown, `"data-verdict":"stop"`)
		assert.Contains(t, shown, said(t, "bench.stop"))
		assert.Contains(t, shown, said(t, "bench.stop.high_voltage"))
		assert.Contains(t, shown, said(t, "caution.high_voltage"))
		assert.NotContains(t, shown, "data-carry", "nothing leads on from a stop")
		assert.NotContains(t, shown, said(t, "caution.ohms_unpowered"))
		got := toolstest.Answered(t, "winding", o)
		assert.Equal(t, object{"overall": "stop", "stop": "high_voltage", "specs": []any{}, "fits": []any{}}, got["result"])
	}
	assert.Contains(t, laid(t, object{"supply": "400 V"}), said(t, "bench.stop.high_voltage"), "before the reading is there")
	assert.NotContains(t, laid(t, object{"supply": "60 V"}), said(t, "bench.stop.high_voltage"))
}

// TestSettledIsSaid holds that the page says which row applies and why, and tells the verdict of that row.
func TestSettledIsSaid(t *testing.T) {
	o := object{"reading": "9.7 ohm", "at": "20 degC", "known_good": object{"reading": "13.9 ohm", "at": "20 degC"}, "specs": []any{
		object{"name": "earlier", "min": "3 ohm", "max": "4 ohm"}, object{"name": "later", "min": "13 ohm", "max": "15 ohm"}}}
	shown := laid(t, o)
	assert.Contains(t, shown, `"data-verdict":"below"`)
	assert.Contains(t, shown, said(t, "why.settled", "later"))
	assert.NotContains(t, shown, said(t, "why.rows_disagree"))
	assert.Contains(t, shown, `\"settled.max\":\"15ohm\",\"settled.min\":\"13ohm\"`, "the circuit is told")
	delete(o, "known_good")
	shown = laid(t, o)
	assert.Contains(t, shown, `\"settled.max\":\"\",\"settled.min\":\"\"`, "and that it is so no longer")
	assert.Contains(t, shown, `"data-verdict":"rows_disagree"`)
	assert.Contains(t, shown, said(t, "why.rows_disagree"))
}

// TestUnknownTemperature holds that a temperature that is left out is never said as if it had been measured.
func TestUnknownTemperature(t *testing.T) {
	o := object{"reading": "6.97 ohm", "specs": []any{object{"min": "5.0 ohm", "max": "5.6 ohm"}}, "supply": "13.8 V", "driver_limit": "3 A"}
	shown := laid(t, o)
	assert.NotContains(t, shown, "55\u00a0°C")
	assert.Contains(t, shown, said(t, "at_unknown"))
	assert.Contains(t, shown, "−20\u00a0°C to 130\u00a0°C")
	assert.NotContains(t, shown, `"data-carry":"drive"`, "a resistance at no known temperature is no figure for a drive")
	// 6.97 ohm at 130 degC would be 6.97 x 194.5/364.5 = 3.72 ohm at -40 degC: 3.710 A of 13.8 V.
	assert.Contains(t, shown, said(t, "warn.over_limit_cold.unknown", winding.Tool.Speaker(tools.English()).Say("at_unknown"),
		"−40\u00a0°C", "3.710\u00a0A", "3\u00a0A"))
	o["at"] = "100 degC"
	shown = laid(t, o)
	assert.NotContains(t, shown, said(t, "at_unknown"))
	assert.Contains(t, shown, `"data-carry":"drive"`)
}

// TestColdIsLaidOut holds that the page says what two readings of one winding say.
func TestColdIsLaidOut(t *testing.T) {
	o := object{"reading": "9.8 ohm", "at": "100 degC", "cold": object{"reading": "6.8 ohm", "at": "0 degC"}}
	assert.Contains(t, laid(t, o), said(t, "cold.follows"))
	o["reading"] = "8.0 ohm"
	assert.Contains(t, laid(t, o), said(t, "cold.differs"))
	delete(o, "at")
	shown := laid(t, o)
	assert.NotContains(t, shown, said(t, "cold.differs"))
	assert.Contains(t, shown, said(t, "sheet.cold"))
}

// TestNobodyIsSentToCompareTwice checks that a known good part is advised only where none is compared.
func TestNobodyIsSentToCompareTwice(t *testing.T) {
	asked := toolstest.Object{"reading": "5.0 ohm", "at": "20 degC", "at_within": "0.1 K", "leads": "0 ohm",
		"specs": []any{toolstest.Object{"min": "5.0 ohm", "max": "5.6 ohm"}}}
	said := func() string { return string(toolstest.Encoded(t, toolstest.Answered(t, "winding", asked))) }
	assert.Contains(t, said(), "or compare with a known good part")
	asked["known_good"] = toolstest.Object{"reading": "5.3 ohm", "at": "20 degC"}
	assert.Contains(t, said(), "use one with a finer ohm range.")
	assert.NotContains(t, said(), "or compare with a known good part")
}
