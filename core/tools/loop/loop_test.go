package loop_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/tools/loop"
	"ohmwright/core/tools/toolstest"
)

type object = toolstest.Object

func laid(t *testing.T, o object) string { return toolstest.Laid(t, loop.Tool, o) }

func said(t *testing.T, key string, args ...any) string {
	return toolstest.Said(t, loop.Tool, key, args...)
}

// TestStop holds that a supply above 60 V is a stop, also before the current is there.
func TestStop(t *testing.T) {
	shown := laid(t, object{"supply": "350 V", "current": "2 A", "winding": "5 ohm"})
	assert.Contains(t, shown, `"data-verdict":"stop"`)
	assert.Contains(t, shown, said(t, "bench.stop.high_voltage"))
	assert.Contains(t, shown, said(t, "caution.high_voltage"))
	assert.NotContains(t, shown, "data-carry", "nothing leads on from a stop")
	assert.Contains(t, laid(t, object{"supply": "350 V"}), said(t, "bench.stop.high_voltage"))
	assert.NotContains(t, laid(t, object{"supply": "60 V"}), said(t, "bench.stop.high_voltage"))
}

// TestRegulatedIsNoLoadedTest holds that the page says so, and works nothing out of supply over current.
func TestRegulatedIsNoLoadedTest(t *testing.T) {
	o := object{"supply": "13.2 V", "current": "1.65 A", "winding": "5.3 ohm", "winding_temperature": "88 degC", "driver_kind": "regulated"}
	shown := laid(t, o)
	assert.Contains(t, shown, `"data-verdict":"no_loaded_test"`)
	assert.Contains(t, shown, said(t, "word.no_loaded_test"))
	assert.Contains(t, shown, said(t, "why.no_loaded_test"))
	assert.NotContains(t, shown, said(t, "drawn.caption"))
	o["driver_kind"] = "plain"
	assert.Contains(t, laid(t, o), said(t, "drawn.caption"))
}

// TestSegmentsAreLaidOut holds that each segment stands there with what it may lose, and sound wire beside it where it is given.
func TestSegmentsAreLaidOut(t *testing.T) {
	o := object{"supply": "12 V", "current": "2 A", "winding": "5 ohm", "winding_temperature": "20 degC"}
	shown := laid(t, o)
	for _, key := range []string{"segment.ground", "segment.wire", "segment.switch"} {
		assert.Contains(t, shown, said(t, key))
	}
	assert.NotContains(t, shown, said(t, "segment.sound.name"))
	o["wire"] = object{"section": "1.0 mm2", "length": "4 m"}
	shown = laid(t, o)
	assert.Contains(t, shown, said(t, "segment.sound.name"))
	assert.Contains(t, shown, said(t, "segment.sound", "0.156\u00a0V", "0.0780\u00a0Ω"))
}

// TestUndecidedNamesTheDoubt holds that an answer which cannot tell says which doubt is the largest.
func TestUndecidedNamesTheDoubt(t *testing.T) {
	for share, more := range map[string]object{
		"temperature": {}, "supply": {"winding_temperature": "20 degC", "supply_within": "3 V"},
		"winding": {"winding_temperature": "20 degC", "winding_within": "30 %"},
		"clamp":   {"winding_temperature": "20 degC", "meter": object{"percent": 20}},
	} {
		o := object{"supply": "12 V", "current": "2.1 A", "winding": "5.3 ohm"}
		for k, v := range more {
			o[k] = v
		}
		shown := laid(t, o)
		assert.Contains(t, shown, `"data-verdict":"undecided"`, share)
		_, cause, _ := strings.Cut(said(t, "warn.undecided."+share, "DROP"), "DROP")
		assert.Contains(t, shown, cause, share)
	}
}
