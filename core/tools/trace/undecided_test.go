package trace_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/tools/toolstest"
	"ohmwright/core/tools/trace"
)

// TestUndecided holds that the sheet says why it cannot tell where a limit lies inside the doubt: 7 ohm are expected within 10 %, and a
// clamp good for 10 % sees 7.77.
func TestUndecided(t *testing.T) {
	var text strings.Builder
	text.WriteString("ms,A\n")
	for k := range 200 {
		at := float64(k-20) * 0.2
		fmt.Fprintf(&text, "%.1f,%.4f\n", at, 13.8/7.77*-math.Expm1(-max(0, at)/2.57))
	}
	shown := toolstest.Laid(t, trace.Tool, toolstest.Object{
		"supply": "13.8 V", "resistance": "7 ohm", "winding_temperature": "20 degC", "clamp_within": "10 %", "supply_within": "3 %",
		"recording": text.String(),
	})
	assert.Contains(t, shown, `"data-verdict":"undecided"`)
	assert.Contains(t, shown, toolstest.Said(t, trace.Tool, "word.undecided"))
	assert.Contains(t, shown, `"data-code":"undecided"`)
	assert.Contains(t, shown, "The whole loop has 7.8 ± 0.9 Ω where 7.00 Ω is expected")
	assert.NotContains(t, shown, "resistance_high")
}
