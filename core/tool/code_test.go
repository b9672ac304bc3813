package tool

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
	"ohmwright/testdata"
)

// codeAnswer is the answer to a request of the tool that has to be answered, and what a reader sees of it.
func codeAnswer(t testing.TB, o object, glance bool) (codeResult, *Answer, string) {
	ask := TroubleCode.Answer
	if glance {
		ask = TroubleCode.Glance
	}
	r, a, faults := ask(encoded(t, o), quantity.Point, wording.English())
	require.Empty(t, faults, "%v", o)
	head, body := TroubleCode.Lay(r, a)
	b, err := json.Marshal([]any{head, body})
	require.NoError(t, err)
	return a.Result.(codeResult), a, string(b)
}

// TestEveryCodeOfTheTable holds that every row of testdata/codes.tsv is answered with its own words, names what sets it, and
// is laid out.
func TestEveryCodeOfTheTable(t *testing.T) {
	for _, row := range testdata.Codes() {
		res, a, shown := codeAnswer(t, object{"code": row.Code}, false)
		assert.Equal(t, row.Circuit, res.Circuit, row.Code)
		assert.Equal(t, row.Failure, res.Failure, row.Code)
		assert.True(t, res.Known, row.Code)
		assert.NotEmpty(t, res.Meaning.HighSide, row.Code)
		assert.False(t, a.warned("not_in_table") || a.warned("manufacturer"), row.Code)
		assert.Contains(t, shown, row.Circuit)
		assert.Contains(t, shown, "never a part", "%s: a code names a circuit", row.Code)
		assert.Equal(t, res.CodeKind != "", strings.Contains(shown, "code_kind"), "%s: carried over to the circuit question", row.Code)
		assert.Equal(t, len(res.Meaning.HighSide)+len(res.Meaning.LowSide), strings.Count(shown, "data-state"), row.Code)
	}
}

// TestEveryFailureTypeWithEveryFailure holds that each pair is answered and laid out, the failure type in the words of
// testdata/failure-types.tsv, and that a list which does not fit its side is said not to.
func TestEveryFailureTypeWithEveryFailure(t *testing.T) {
	first := map[string]string{"": "P0171"}
	for _, row := range testdata.Codes() {
		if first[row.Failure] == "" {
			first[row.Failure] = row.Code
		}
	}
	require.Len(t, first, 14)
	first["feed"] = "P0658"
	for failure, c := range first {
		for _, row := range testdata.FailureTypes() {
			res, _, shown := codeAnswer(t, object{"code": c, "failure_type": row.Hex}, false)
			require.NotNil(t, res.FailureType)
			assert.Equal(t, failureTypeResult{row.Hex, row.Meaning}, *res.FailureType)
			assert.Contains(t, shown, row.Meaning)
			for side, list := range map[string][]stateResult{"high": res.Meaning.HighSide, "low": res.Meaning.LowSide} {
				none := wording.English().Say("code.none." + side)
				fits := len(list) > 0 || len(res.Meaning.HighSide)+len(res.Meaning.LowSide) == 0
				assert.Equal(t, !fits, strings.Contains(shown, none), "%s %s, %s side", failure, row.Hex, side)
			}
			both, _, _ := codeAnswer(t, object{"code": c + "-" + row.Hex}, false)
			assert.Equal(t, res, both, "%s-%s is %s with %s", c, row.Hex, c, row.Hex)
		}
	}
}

// TestCodeStructure holds what is said of a code by its structure alone. Sources: see core/code, TestStructure.
func TestCodeStructure(t *testing.T) {
	for _, c := range []struct{ code, system, origin, warns string }{
		{"P0171", "powertrain", "standard", "not_in_table"},
		{"P2A00", "powertrain", "standard", "not_in_table"},
		{"P3499", "powertrain", "standard", "not_in_table"},
		{"P1700", "powertrain", "manufacturer", "manufacturer not_in_table"},
		{"P3000", "powertrain", "manufacturer", "manufacturer not_in_table"},
		{"B0001", "body", "standard", "not_in_table"},
		{"B2001", "body", "manufacturer", "manufacturer not_in_table"},
		{"B3001", "body", "standard", "reserved not_in_table"},
		{"C0035", "chassis", "standard", "not_in_table"},
		{"C3FFF", "chassis", "standard", "reserved not_in_table"},
		{"U0100", "network", "standard", "not_in_table"},
		{"U1000", "network", "manufacturer", "manufacturer not_in_table"},
		{"U3003", "network", "standard", "shared_range not_in_table"},
	} {
		res, a, shown := codeAnswer(t, object{"code": c.code}, false)
		assert.Equal(t, c.system, res.System, c.code)
		assert.Equal(t, c.origin, res.Origin, c.code)
		assert.False(t, res.Known, c.code)
		var warned []string
		for _, w := range a.Warnings {
			warned = append(warned, w.Code)
		}
		assert.Equal(t, c.warns, strings.Join(warned, " "), c.code)
		assert.Empty(t, res.Meaning.HighSide)
		assert.NotContains(t, shown, "data-state")
		assert.Contains(t, shown, "never a part", c.code)
	}
}

// TestCodeHasNoWorking holds that a glance, which leaves the working out, offers none to unfold: there are no numbers.
func TestCodeHasNoWorking(t *testing.T) {
	for _, glance := range []bool{false, true} {
		_, a, shown := codeAnswer(t, object{"code": "P0962-11"}, glance)
		assert.Empty(t, a.Working)
		assert.NotContains(t, shown, `"data-keep":"working"`)
	}
	_, _, whole := codeAnswer(t, object{"code": "P0962-11"}, false)
	_, _, brief := codeAnswer(t, object{"code": "P0962-11"}, true)
	assert.Equal(t, whole, brief)
}

// TestEveryCodeResponseKeepsThePromises asks for codes of all forms, right and wrong.
func TestEveryCodeResponseKeepsThePromises(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	answered := 0
	for range 3000 {
		o := object{"code": fmt.Sprintf("%c%X%03X", "PPPBCUQ"[r.IntN(7)], r.IntN(5), r.IntN(0x1000))}
		if r.IntN(2) == 0 {
			o["failure_type"] = fmt.Sprintf("%02X", r.IntN(0x120))
		}
		request := encoded(t, o)
		response, err := Run("code", request, wording.English())
		checkResponse(t, request, response, err)
		if err == nil {
			answered++
		}
	}
	assert.Greater(t, answered, 1000)
}
