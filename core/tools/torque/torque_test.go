package torque_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
	"ohmwright/testdata"
)

type (
	request map[string]any
	reply   struct {
		OK       bool
		Warnings []struct{ Code string }
		Errors   []struct{ Field, Code, Message string }
		whole    any
	}
)

// asked sends a request to the torque tool, and checks what the contract promises of every response.
func asked(t testing.TB, o request) reply {
	t.Helper()
	text := toolstest.Encoded(t, o)
	response, err := tools.Run("torque", text, tools.English())
	toolstest.CheckResponse(t, text, response, err)
	var r reply
	require.NoError(t, json.Unmarshal(response, &r), "%s", response)
	require.NoError(t, json.Unmarshal(response, &r.whole))
	return r
}

// answer returns the reply to a request that must get an answer.
func answer(t testing.TB, o request) reply {
	t.Helper()
	r := asked(t, o)
	require.True(t, r.OK, "torque refused %v: %v", o, r.Errors)
	return r
}

// at returns a number of the result.
func (r reply) at(t testing.TB, path string) float64 {
	t.Helper()
	v, ok := testdata.Look(r.whole, "result."+path)
	require.True(t, ok, path)
	return v.(float64)
}

// word and is return a text and a truth value of the result.
func (r reply) word(t testing.TB, path string) string {
	v, ok := testdata.Look(r.whole, "result."+path)
	require.True(t, ok, path)
	return v.(string)
}

func (r reply) is(t testing.TB, path string) bool {
	v, ok := testdata.Look(r.whole, "result."+path)
	require.True(t, ok, path)
	return v.(bool)
}

// order returns the order of tightening.
func (r reply) order(t testing.TB) (rows []float64) {
	v, ok := testdata.Look(r.whole, "result.sequence.order")
	require.True(t, ok)
	for _, row := range v.([]any) {
		rows = append(rows, row.(float64))
	}
	return rows
}

func wide(r *rand.Rand, lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

// text writes a number with a unit, to so many digits; -1 for as many as it has.
func text(v float64, digits int, unit string) string {
	return strconv.FormatFloat(v, 'g', digits, 64) + " " + unit
}

func unitsOf(k quantity.Kind) (symbols []string) {
	for _, u := range quantity.Units(k) {
		symbols = append(symbols, u.Symbol)
	}
	return symbols
}

func pick[T any](r *rand.Rand, from []T) T { return from[r.IntN(len(from))] }
