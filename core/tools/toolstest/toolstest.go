// Package toolstest is for tests only: it asks tools as the command line does, builds requests, and checks what the
// contract promises of every response.
package toolstest

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/testdata"
)

// An Object is a request or a response, as a test builds or reads it.
type Object = map[string]any

// Milli writes thousandths of a unit as an exact decimal: Milli(9700, "ohm") is "9.700 ohm".
func Milli(n int, unit string) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	return fmt.Sprintf("%s%d.%03d %s", sign, n/1000, n%1000, unit)
}

// Encoded returns a request as JSON.
func Encoded(t testing.TB, o Object) []byte {
	b, err := json.Marshal(o)
	require.NoError(t, err)
	return b
}

// Answered returns the response to a request that must get an answer.
func Answered(t testing.TB, name string, o Object) Object {
	request := Encoded(t, o)
	response, err := tools.Run(name, request, tools.English())
	require.NoError(t, err, "%s refused a request that it has to answer: %s\n%s", name, request, response)
	var got Object
	require.NoError(t, json.Unmarshal(response, &got))
	return got
}

// Refused returns the faults of a request that must be refused.
func Refused(t testing.TB, name string, o Object) []tool.Fault {
	request := Encoded(t, o)
	response, err := tools.Run(name, request, tools.English())
	require.ErrorIs(t, err, tools.ErrRequest, "%s answered a request that it has to refuse: %s\n%s", name, request, response)
	var f tool.Failure
	require.NoError(t, json.Unmarshal(response, &f))
	return f.Errors
}

// Laid returns the answer to a request as it is laid out, as JSON; of a request that is not answered, what can be shown before.
func Laid(t testing.TB, tl *tool.Tool, o Object) string {
	outcome := tl.Answer(Encoded(t, o), quantity.Point, tools.English())
	head, body := outcome.Draft(tl, tools.English())
	if outcome.Answer != nil {
		head, body = outcome.Answer.Lay()
	}
	b, err := json.Marshal([]any{head, body})
	require.NoError(t, err)
	return string(b)
}

// Said returns a sentence of a tool, as it stands in JSON.
func Said(t testing.TB, tl *tool.Tool, key string, args ...any) string {
	speak := tl.Speaker(tools.English())
	require.True(t, speak.Has(key), key)
	b, err := json.Marshal(speak.Say(key, args...))
	require.NoError(t, err)
	return string(b[1 : len(b)-1])
}

// Number returns the number at a path of a response, such as result.winding.value.
func Number(t testing.TB, o Object, path string) float64 {
	v, ok := testdata.Look(o, path)
	require.True(t, ok, "the response has no %s", path)
	n, ok := v.(float64)
	require.True(t, ok, "%s of the response should be a number, but is %v", path, v)
	return n
}

// CheckResponse checks what the contract promises of every response, whatever the request: it is JSON without null, it
// never blames the program, every fault has its words, and the probabilities of a row add up to 1.
func CheckResponse(t testing.TB, request, response []byte, err error) {
	if errors.Is(err, tools.ErrProgram) {
		t.Fatalf("the program failed on %q: %s", request, response)
	}
	var got Object
	if e := json.Unmarshal(response, &got); e != nil {
		t.Fatalf("%q: the response is not JSON: %v: %s", request, e, response)
	}
	noNull(t, "", got)
	if err != nil {
		checkFailure(t, request, response)
		return
	}
	if got["ok"] != true {
		t.Fatalf("%q is answered, but ok is not true: %s", request, response)
	}
	for _, list := range []string{"working", "warnings", "cautions"} {
		if _, ok := got[list].([]any); !ok {
			t.Fatalf("%q: %s of the response should be a list", request, list)
		}
	}
	checkChances(t, request, got)
}

func checkFailure(t testing.TB, request, response []byte) {
	var f tool.Failure
	if e := json.Unmarshal(response, &f); e != nil || f.OK || len(f.Errors) == 0 {
		t.Fatalf("%q: refused without a fault: %s", request, response)
	}
	const longestGiven = 41 // characters; longer texts are shortened
	for _, e := range f.Errors {
		if e.Code == "" || e.Message == "" || e.Hint == "" || len([]rune(e.Given)) > longestGiven {
			t.Fatalf("%q: a fault in field %q lacks words, or repeats too much of what was given: %+v", request, e.Field, e)
		}
	}
}

// checkChances checks that the probabilities of each row of a specification add up to 1.
func checkChances(t testing.TB, request []byte, got Object) {
	rows, _ := testdata.Look(got, "result.specs")
	list, _ := rows.([]any)
	for i, row := range list {
		if _, there := testdata.Look(row, "p_below"); !there {
			continue
		}
		sum := 0.0
		for _, name := range []string{"p_below", "p_within", "p_above"} {
			v, _ := testdata.Look(row, name)
			p, ok := v.(float64)
			if !ok || p < 0 || p > 1 {
				t.Fatalf("%q: %s of row %d is %v, which is not a probability", request, name, i, v)
			}
			sum += p
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Fatalf("%q: the probabilities of row %d add up to %v, not 1", request, i, sum)
		}
	}
}

func noNull(t testing.TB, path string, v any) {
	switch v := v.(type) {
	case nil:
		t.Fatalf("%s of the response is null: an empty list must be [], and a missing value must be left out", path)
	case Object:
		for k, in := range v {
			noNull(t, path+"."+k, in)
		}
	case []any:
		for i, in := range v {
			noNull(t, path+"."+strconv.Itoa(i), in)
		}
	}
}
