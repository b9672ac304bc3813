//go:build !js

package quantity_test

// This test runs another program, which js/wasm cannot.

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

// foreign are the names of the units in GNU units, which defines pound, ounce, kilogram-force, inch and foot by itself.
var foreign = map[quantity.Kind]map[string]string{
	quantity.OfTorque: {"N.m": "N m", "cN.m": "cN m", "daN.m": "daN m", "lbf.in": "lbf in", "lbf.ft": "lbf ft", "ozf.in": "oz force in",
		"kgf.cm": "kgf cm", "kgf.m": "kgf m"},
	quantity.OfForce:  {"N": "N", "kN": "kN", "lbf": "lbf"},
	quantity.OfLength: {"mm": "mm", "cm": "cm", "m": "m", "in": "inch", "ft": "ft"},
}

// A conversion is a number in one unit that is asked for in another.
type conversion struct {
	kind       quantity.Kind
	digits     string
	from, into quantity.Unit
}

// conversions draws random values, each to be converted from every unit of its kind into every unit.
func conversions(t *testing.T) (all []conversion) {
	r := rand.New(rand.NewPCG(20311, 5))
	for _, kind := range []quantity.Kind{quantity.OfTorque, quantity.OfForce, quantity.OfLength} {
		require.Len(t, foreign[kind], len(quantity.Units(kind)), "a unit of %s is missing in the table foreign of this test", kind)
		for range unitValues {
			digits := strconv.FormatFloat(math.Pow(10, 9*r.Float64()-4), 'g', 1+r.IntN(17), 64)
			for _, from := range quantity.Units(kind) {
				for _, into := range quantity.Units(kind) {
					all = append(all, conversion{kind, digits, from, into})
				}
			}
		}
	}
	return all
}

// byUnits returns the answers of GNU units.
func byUnits(t *testing.T, all []conversion) (answers []float64) {
	program, err := exec.LookPath("units")
	require.NoError(t, err, "units is not installed. Install it: apt-get install -y units")
	var asked strings.Builder
	for _, c := range all {
		fmt.Fprintf(&asked, "%s %s\n%s\n", c.digits, foreign[c.kind][c.from.Symbol], foreign[c.kind][c.into.Symbol])
	}
	cmd := exec.Command(program, "--terse", "--output-format", "%.17g")
	cmd.Stdin = strings.NewReader(asked.String())
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, "units: %.400s", said)
	lines := strings.Split(strings.TrimSuffix(string(said), "\n"), "\n")
	require.Equal(t, len(all), len(lines), "units answered another number of lines than it was asked: %.400s", said)
	for _, line := range lines {
		answer, err := strconv.ParseFloat(line, 64)
		require.NoError(t, err, "units answered %q", line)
		answers = append(answers, answer)
	}
	return answers
}

// ours converts with Parse and Format, and with From and To.
func (c conversion) ours() (text, number float64, err error) {
	v, err := quantity.Parse(c.digits+" "+c.from.Symbol, quantity.Point, c.kind)
	if err != nil {
		return 0, 0, err
	}
	formatted, unit, _ := strings.Cut(quantity.Format(v.In, c.into.Symbol, c.kind, quantity.Point), " ")
	if unit != c.into.Symbol {
		return 0, 0, fmt.Errorf("Format wrote %q instead of %q", unit, c.into.Symbol)
	}
	if text, err = strconv.ParseFloat(formatted, 64); err != nil {
		return 0, 0, err
	}
	if number, err = strconv.ParseFloat(c.digits, 64); err != nil {
		return 0, 0, err
	}
	return text, c.into.To(c.from.From(number)), nil
}

// TestAgainstUnits compares 1,000 random values of torque, force and length, each from every unit into every unit, with Debian's
// units (GNU units, gnu-units of testdata/bibliography.md), which has definitions of its own.
func TestAgainstUnits(t *testing.T) {
	t.Parallel() // it mostly waits for the program
	all := conversions(t)
	answers := byUnits(t, all)
	wrong, worst := 0, map[quantity.Kind]float64{}
	for i, c := range all {
		text, number, err := c.ours()
		if err != nil {
			t.Fatalf("%s %s into %s: %v", c.digits, c.from.Symbol, c.into.Symbol, err)
		}
		off := max(math.Abs(text/answers[i]-1), math.Abs(number/answers[i]-1))
		worst[c.kind] = max(worst[c.kind], off)
		if !(off <= unitAllowed) {
			if wrong++; wrong <= 10 {
				t.Errorf("%s %s: Format gives %v %s, To gives %v, GNU units %v: %.2g off",
					c.digits, c.from.Symbol, text, c.into.Symbol, number, answers[i], off)
			}
		}
	}
	assert.Zero(t, wrong, "conversions that differ from GNU units; the first ten are above")
	for kind, off := range worst {
		t.Logf("%s: worst %.2g", kind, off)
	}
	t.Logf("%d conversions", len(all))
}
