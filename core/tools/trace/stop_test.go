package trace_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/tools/toolstest"
	"ohmwright/core/tools/trace"
)

// TestStop holds that a supply above 60 V is a stop, also before the recording is there.
func TestStop(t *testing.T) {
	said := func(key string) string { return toolstest.Said(t, trace.Tool, key) }
	shown := toolstest.Laid(t, trace.Tool, toolstest.Object{"supply": "350 V", "recording": sawtooth})
	assert.Contains(t, shown, `"data-verdict":"stop"`)
	assert.Contains(t, shown, said("bench.stop.high_voltage"))
	assert.Contains(t, shown, said("caution.high_voltage"))
	assert.NotContains(t, shown, "data-carry", "nothing leads on from a stop")
	assert.NotContains(t, shown, said("sheet.recording"))
	assert.Contains(t, toolstest.Laid(t, trace.Tool, toolstest.Object{"supply": "350 V"}), said("bench.stop.high_voltage"))
	assert.Contains(t, toolstest.Laid(t, trace.Tool, toolstest.Object{"supply": "60 V", "recording": sawtooth}), said("sheet.recording"))
}
