package manual

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
)

// TestFind checks what is found about each line of a table.
func TestFind(t *testing.T) {
	const table = "M5 6 N·m 53 in-lb\nM6 10 ± 2 N·m\nM6 10 N·m 10 in-lb\nM8 5 N·m + 90°\nM10 1,250 N·m\nM10 7 s\nM12 60–70 N·m"
	f := Read(table, quantity.Point).Find()
	require.Len(t, f.Lines, 7)
	want := []Verdict{Agrees, Single, Disagrees, Single, TwoWays, HasNone, Single}
	for i, l := range f.Lines {
		assert.Equal(t, want[i], l.Verdict, l.Text)
	}
	assert.Equal(t, 1, f.Disagree)
	assert.Equal(t, []Doubt{HasAngles}, f.Doubts)
	assert.EqualValues(t, 6, *f.Lines[0].Torque)
	require.NotNil(t, f.Lines[0].Other)
	assert.InDelta(t, 53*0.1129848290276167, float64(*f.Lines[0].Other), 1e-12)
	require.NotNil(t, f.Lines[1].Span)
	assert.InDelta(t, 8, float64(f.Lines[1].Span.Least), 1e-12)
	assert.InDelta(t, 12, float64(f.Lines[1].Span.Most), 1e-12)
	assert.Nil(t, f.Lines[5].Torque)
	assert.EqualValues(t, 70, f.Lines[6].Span.Most)
}

// TestFindBesideOthers checks what is found by comparing lines.
func TestFindBesideOthers(t *testing.T) {
	f := Read("M6 10 N·m\nM8 8 N·m\nM10 40 N·m\nM10 45 N·m", quantity.Point).Find()
	assert.Equal(t, "M6 10 N·m", f.Lines[1].Under)
	assert.Empty(t, f.Lines[0].Under)
	assert.True(t, f.Lines[2].Differs && f.Lines[3].Differs)
	assert.False(t, f.Lines[0].Differs)
}
