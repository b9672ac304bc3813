package code_test

import (
	"testing"

	"ohmwright/core/tools"
	"ohmwright/core/tools/toolstest"
)

// FuzzFields fuzzes the text of each field, so that every input is a request.
func FuzzFields(f *testing.F) {
	f.Add("P0962", "11")
	f.Add("p0976-13", "")
	f.Add("U3003:7f", "7F")
	f.Add("P1700", "a5")
	f.Fuzz(func(t *testing.T, given, failureType string) {
		o := toolstest.Object{"code": given}
		if failureType != "" {
			o["failure_type"] = failureType
		}
		request := toolstest.Encoded(t, o)
		response, err := tools.Run("code", request, tools.English())
		toolstest.CheckResponse(t, request, response, err)
	})
}
