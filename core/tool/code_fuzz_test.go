package tool

import (
	"encoding/json"
	"testing"

	"ohmwright/core/wording"
)

func FuzzRunCode(f *testing.F) { fuzzRun(f, "code") }

// FuzzRunCodeFields fuzzes the texts of the fields, so that what is fuzzed is always a request.
func FuzzRunCodeFields(f *testing.F) {
	f.Add("P0962", "11")
	f.Add("p0976-13", "")
	f.Add("U3003:7f", "7F")
	f.Add("P1700", "a5")
	f.Fuzz(func(t *testing.T, given, failureType string) {
		o := object{"code": given}
		if failureType != "" {
			o["failure_type"] = failureType
		}
		request, err := json.Marshal(o)
		if err != nil {
			t.Skip() // a text of no UTF-8 is written by JSON as another
		}
		response, err := Run("code", request, wording.English())
		checkResponse(t, request, response, err)
	})
}
