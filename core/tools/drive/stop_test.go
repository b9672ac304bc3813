package drive_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/tools/drive"
	"ohmwright/core/tools/toolstest"
)

// TestStop holds that a supply above 60 V is a stop, also before the winding is there: the figures stay, but nothing says what a
// meter would show, whether a driver may be connected, or what to do next.
func TestStop(t *testing.T) {
	said := func(key string) string { return toolstest.Said(t, drive.Tool, key) }
	o := toolstest.Object{
		"supply": "220 V", "resistance": "10 ohm", "inductance": "15 mH", "frequency": "1250 Hz", "duty": "50 %", "driver_limit": "20 A",
	}
	shown := toolstest.Laid(t, drive.Tool, o)
	for _, want := range []string{`"data-verdict":"stop"`, said("bench.stop.high_voltage"), said("caution.high_voltage"),
		said("figures.stop"), said("figure.winding"), said("drawn.caption.stop")} {
		assert.Contains(t, shown, want)
	}
	live := []string{said("sheet.meters"), said("sheet.limits"), "data-carry", "meter at the pin", "clamp shows", said("caution.live_circuit"),
		said("caution.hot_winding")}
	for _, word := range live {
		assert.NotContains(t, shown, word)
	}
	o["supply"] = "60 V"
	shown = toolstest.Laid(t, drive.Tool, o)
	assert.NotContains(t, shown, said("bench.stop.high_voltage"))
	for _, word := range live {
		assert.Contains(t, shown, word, "60 V itself is no stop")
	}
	shown = toolstest.Laid(t, drive.Tool, toolstest.Object{"supply": "220 V"})
	assert.Contains(t, shown, `"data-verdict":"stop"`, "the head says so before there is an answer")
	assert.Contains(t, shown, said("bench.stop.high_voltage"))
}
