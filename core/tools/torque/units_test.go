package torque_test

import (
	"encoding/json"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
)

// Vectors in testdata/torque.json name values by paths with dots, so they cannot name "lbf.in". Values under the names of
// units are therefore checked here.

// torqued asks the torque tool and fails the test if the request is refused.
func torqued(t testing.TB, o request) torqueAnswer {
	t.Helper()
	text := toolstest.Encoded(t, o)
	response, err := tools.Run("torque", text, tools.English())
	require.NoError(t, err, "%s\n%s", text, response)
	var answer struct{ Result torqueAnswer }
	require.NoError(t, json.Unmarshal(response, &answer), "%s", response)
	return answer.Result
}

type figure struct {
	Value float64
	Unit  string
}

type torqueAnswer struct {
	Units        map[string]figure
	SettingUnits map[string]figure `json:"setting_units"`
	Range        struct {
		UnitsMin map[string]figure `json:"units_min"`
		UnitsMax map[string]figure `json:"units_max"`
	}
}

// TestUnitsOfOneTorque compares a torque in every unit, both ways, with what sources print, to half of the last digit.
// Sources, keys of testdata/bibliography.md: nist-units (SP 811, to N·m), me-systeme (from N·m), qnty (kgf·cm).
func TestUnitsOfOneTorque(t *testing.T) {
	for _, c := range []struct{ torque, unit, printed, source string }{
		{"1 lbf.in", "N.m", "0.1129848", "nist-units"},
		{"1 lbf.ft", "N.m", "1.355818", "nist-units"},
		{"1 ozf.in", "N.m", "0.007061552", "nist-units"},
		{"1 kgf.m", "N.m", "9.80665", "nist-units"},
		{"1 kgf.cm", "N.m", "0.098067", "qnty"},
		{"1 N.m", "lbf.in", "8.8507458", "me-systeme"},
		{"1 N.m", "lbf.ft", "0.7375621", "me-systeme"},
		{"1 N.m", "ozf.in", "141.61193", "me-systeme"},
		// From the definitions: prefixes, 12 inches to a foot, 16 ounces to a pound, 100 centimetres to a metre.
		{"1 N.m", "cN.m", "100", "si-brochure"},
		{"1 N.m", "daN.m", "0.1", "si-brochure"},
		{"1 lbf.ft", "lbf.in", "12", "sp-811-torque"},
		{"1 lbf.in", "ozf.in", "16", "sp-811-torque"},
		{"1 kgf.m", "kgf.cm", "100", "sp-811-torque"},
		{"1 daN.m", "N.m", "10", "si-brochure"},
	} {
		want, err := strconv.ParseFloat(c.printed, 64)
		require.NoError(t, err)
		half := halfOfLast(c.printed)
		if c.source == "si-brochure" || c.source == "sp-811-torque" {
			half = 1e-14 * want
		}
		got := torqued(t, request{"torque": c.torque})
		require.Len(t, got.Units, 8)
		assert.Equal(t, c.unit, got.Units[c.unit].Unit)
		assert.InDelta(t, want, got.Units[c.unit].Value, half*(1+1e-9), "%s in %s, %s", c.torque, c.unit, c.source)
	}
}

// TestAdaptersInTheirManualsUnits checks settings in the units of the manuals that print them. Sources: keys of
// testdata/bibliography.md.
func TestAdaptersInTheirManualsUnits(t *testing.T) {
	for _, c := range []struct{ source, torque, wrench, extension, angle, unit, printed string }{
		{"piper-2-90", "30 ft-lb", "1 ft", "3 in", "0 deg", "lbf.ft", "24"},
		{"robinson-20-1", "135 in-lb", "10 in", "1.5 in", "0 deg", "lbf.in", "117.39"},
		{"robinson-20-1", "135 in-lb", "10 in", "1.5 in", "180 deg", "lbf.in", "158.82"},
		{"tm-9-2350", "40 lb-ft", "12 in", "4 in", "0 deg", "lbf.ft", "30"},
		{"tpub-3-45", "100 in-lb", "12 in", "6 in", "0 deg", "lbf.in", "66.7"},
		{"shop-manual-adapter", "20 ft-lb", "14 in", "3 in", "0 deg", "lbf.ft", "16.5"},
		{"shop-manual-adapter", "20 ft-lb", "14 in", "3 in", "90 deg", "lbf.ft", "20.000000000000"},
	} {
		want, err := strconv.ParseFloat(c.printed, 64)
		require.NoError(t, err)
		half := halfOfLast(c.printed)
		if c.printed == "24" || c.printed == "30" { // exact: 30 × 12/15 and 40 × 12/16
			half = 1e-12
		}
		adapter := request{"wrench": c.wrench, "extension": c.extension, "angle": c.angle}
		got := torqued(t, request{"torque": c.torque, "adapter": adapter})
		require.Len(t, got.SettingUnits, 8)
		assert.InDelta(t, want, got.SettingUnits[c.unit].Value, half*(1+1e-9), c.source)
	}
}

// TestUnitsOfARange checks a range in its units. Worked out by hand: 8 to 12 daN·m are 800 to 1200 cN·m times ten.
func TestUnitsOfARange(t *testing.T) {
	got := torqued(t, request{"min": "8 daN.m", "max": "12 daN.m"})
	assert.InDelta(t, 8000, got.Range.UnitsMin["cN.m"].Value, 1e-9)
	assert.InDelta(t, 12000, got.Range.UnitsMax["cN.m"].Value, 1e-9)
	assert.InDelta(t, 120/9.80665, got.Range.UnitsMax["kgf.m"].Value, 1e-12)
	got = torqued(t, request{"torque": "96 in-lb", "tolerance": "12 in-lb"})
	assert.InDelta(t, 7, got.Range.UnitsMin["lbf.ft"].Value, 1e-13)
	assert.InDelta(t, 9, got.Range.UnitsMax["lbf.ft"].Value, 1e-13)
}

// halfOfLast returns half a unit of the last digit of a decimal number.
func halfOfLast(digits string) float64 {
	for i := range digits {
		if digits[i] == '.' {
			return 0.5 * math.Pow10(i+1-len(digits))
		}
	}
	return 0.5
}
