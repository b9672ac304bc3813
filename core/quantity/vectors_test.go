package quantity

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"ohmwright/testdata"
)

// faultWords are the names of the faults in testdata/quantities.json.
var faultWords = map[Fault]string{Empty: "empty", Syntax: "syntax", NoUnit: "no unit", WrongUnit: "wrong unit",
	Ambiguous: "ambiguous", TooLarge: "too large"}

func kindNamed(t *testing.T, name string) Kind {
	for k := OfResistance; k <= OfRatio; k++ {
		if k.String() == name {
			return k
		}
	}
	require.Fail(t, "testdata/quantities.json names a kind that quantity does not have: "+name)
	return 0
}

func TestVectorsOfParse(t *testing.T) {
	vs, err := testdata.OfFunc("quantity.Parse")
	require.NoError(t, err)
	for _, v := range vs {
		t.Run(v.ID, func(t *testing.T) {
			mark := Point
			if v.In.Args["mark"] == "comma" {
				mark = Comma
			}
			got, err := Parse(v.In.Args["text"].(string), mark, kindNamed(t, v.In.Args["kind"].(string)))
			var e *Error
			if errors.As(err, &e) {
				require.NotNil(t, v.WantError, "Parse refused it: %v", err)
				require.NoError(t, v.CheckFaults([]testdata.Fault{{Code: faultWords[e.Fault]}}), err)
				require.NotEmpty(t, e.Error())
				return
			}
			require.Nil(t, v.WantError, "Parse accepted it as %v", got)
			require.NoError(t, v.CheckValue(map[string]any{"value": got.In, "unit": got.Unit.Symbol}))
		})
	}
}
