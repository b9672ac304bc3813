//go:build !js

package quantity_test

// This test runs a program beside it, which a module in a page cannot.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
)

const (
	unitValues  = 1000
	unitAllowed = 1e-15 // three roundings of a float64, and the program's own
)

// foreign is what GNU units calls each unit; its pound, ounce, kilogram-force, inch and foot are definitions of its own.
var foreign = map[quantity.Kind]map[string]string{
	quantity.OfTorque: {"N.m": "N m", "cN.m": "cN m", "daN.m": "daN m", "lbf.in": "lbf in", "lbf.ft": "lbf ft", "ozf.in": "oz force in", "kgf.cm": "kgf cm", "kgf.m": "kgf m"},
	quantity.OfForce:  {"N": "N", "kN": "kN", "lbf": "lbf"},
	quantity.OfLength: {"mm": "mm", "cm": "cm", "m": "m", "in": "inch", "ft": "ft"},
}

// TestAgainstUnits holds 1,000 random values of torque, force and length, each from every unit into every unit, against Debian's
// units (GNU units, gnu-units of testdata/bibliography.md), which has them from definitions of its own.
func TestAgainstUnits(t *testing.T) {
	program, err := exec.LookPath("units")
	require.NoError(t, err, "units is not installed. Install it: apt-get install -y units")
	type conversion struct {
		kind       quantity.Kind
		digits     string
		from, into string
	}
	r := rand.New(rand.NewPCG(20311, 5))
	var all []conversion
	var asked strings.Builder
	for _, kind := range []quantity.Kind{quantity.OfTorque, quantity.OfForce, quantity.OfLength} {
		require.Len(t, foreign[kind], len(quantity.Units(kind)), "every unit of %s has to be compared", kind)
		for range unitValues {
			digits := strconv.FormatFloat(math.Pow(10, 9*r.Float64()-4), 'g', 1+r.IntN(17), 64)
			for _, from := range quantity.Units(kind) {
				for _, into := range quantity.Units(kind) {
					all = append(all, conversion{kind, digits, from.Symbol, into.Symbol})
					fmt.Fprintf(&asked, "%s %s\n%s\n", digits, foreign[kind][from.Symbol], foreign[kind][into.Symbol])
				}
			}
		}
	}
	cmd := exec.Command(program, "--terse", "--output-format", "%.17g")
	cmd.Stdin = strings.NewReader(asked.String())
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, "units: %.400s", said)
	lines := strings.Split(strings.TrimSuffix(string(said), "\n"), "\n")
	require.Equal(t, len(all), len(lines), "units: %.400s", said)
	wrong, worst := 0, map[quantity.Kind]float64{}
	for i, c := range all {
		want, err := strconv.ParseFloat(lines[i], 64)
		require.NoError(t, err, "units says %q", lines[i])
		v, err := quantity.Parse(c.digits+" "+c.from, quantity.Point, c.kind)
		require.NoError(t, err)
		number, unit, _ := strings.Cut(quantity.Format(v.In, c.into, c.kind, quantity.Point), " ")
		require.Equal(t, c.into, unit)
		got, err := strconv.ParseFloat(number, 64)
		require.NoError(t, err)
		off := math.Abs(got/want - 1)
		worst[c.kind] = max(worst[c.kind], off)
		if !(off <= unitAllowed) {
			if wrong++; wrong <= 10 {
				assert.Fail(t, fmt.Sprintf("%s %s is %s %s, by units %s: %.2g off", c.digits, c.from, number, c.into, lines[i], off))
			}
		}
	}
	assert.Zero(t, wrong, "conversions that units does not bear out, the first ten above")
	for kind, off := range worst {
		t.Logf("%s: worst %.2g", kind, off)
	}
	t.Logf("%d conversions", len(all))
}
