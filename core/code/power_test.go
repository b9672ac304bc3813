package code

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/testdata"
)

// TestUnitPower holds what sets a code of the control unit's own supply, by hand: what takes volts away reads low, what adds them high,
// and the unit itself comes last. No driver and no winding is involved, and nothing is carried over as a code of the circuit's pin.
func TestUnitPower(t *testing.T) {
	found := 0
	for _, row := range testdata.Codes() {
		c, _, _ := Read(row.Code)
		f := Question{Code: c}.Find()
		if !f.UnitPower() {
			assert.NotContains(t, append(f.Meaning.High, f.Meaning.Low...), ControlUnit, row.Code)
			assert.NotEqual(t, UnitFeed, f.First, row.Code)
			continue
		}
		found++
		assert.Equal(t, UnitFeed, f.First, row.Code)
		assert.Contains(t, f.Notices, OwnPower, row.Code)
		assert.Empty(t, f.Kind, row.Code)
		assert.Equal(t, f.Meaning.High, f.Meaning.Low, row.Code)
		list := f.Meaning.High
		assert.Equal(t, ControlUnit, list[len(list)-1], row.Code)
		assert.Equal(t, row.Failure != "high", slices.Contains(list, LostGround), row.Code)
		assert.Equal(t, row.Failure != "open", slices.Contains(list, SupplyOff), row.Code)
		for _, s := range []State{Driver, ShortedWinding, LeakToGround} {
			assert.NotContains(t, list, s, row.Code)
		}
		assert.Equal(t, row.Failure == "intermittent", f.Meaning.Doubt == ComesAndGoes, row.Code)
	}
	assert.Equal(t, 5, found) // P0880 to P0884
	e := Entry{"transmission control unit power input", Low}
	assert.True(t, Mean(e, "12").Disagree, "low, and short to battery")
	assert.False(t, Mean(e, "11").Disagree)
	assert.NotContains(t, Mean(e, "13").High, SupplyOff, "open: no battery's fault")
	for _, none := range []FailureType{"", "00", "01", "1C", "1D", "71", "A5"} {
		assert.Equal(t, Mean(e, ""), Mean(e, none), none)
	}
}
