// Package code is the tool that tells what a trouble code says about a circuit.
package code

import (
	"errors"
	"strings"

	"ohmwright/core/code"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
)

var (
	number      = tool.TextOf(tool.Field{Name: "code", Fact: "code", Most: 40, Need: true, Sample: "P0962"})
	failureType = tool.TextOf(tool.Field{Name: "failure_type", Fact: "failure_type", Most: 20, Sample: "11"})
)

// Tool tells what a trouble code says about a circuit.
var Tool = tool.New(tool.Tool{
	Name:    "code",
	Example: `{"code": "P0962", "failure_type": "11"}`,
	Fields:  tool.Declare(number, failureType),
}, tool.Way[code.Question, code.Finding, *result]{Read: read, Find: code.Question.Find, Tell: tell, Lay: lay})

// read reads the code and the failure type, which may be in its own field or at the end of the code.
func read(r *tool.Record, f *tool.Faults) code.Question {
	checkBlank(number, r, f)
	checkBlank(failureType, r, f)
	c, own, err := code.Read(number.Of(r))
	q := code.Question{Code: c, Type: own}
	if number.OK(r) && err != nil {
		wrong(number, r, err, f)
	}
	if !failureType.OK(r) {
		return q
	}
	t, typeErr := code.ReadFailureType(failureType.Of(r))
	q.Type = t
	switch {
	case typeErr != nil:
		wrong(failureType, r, typeErr, f)
	case number.OK(r) && err == nil && own != "" && own != t:
		f.Conflict("failure_type", failureType.Raw(r), "code.types", string(own), string(t))
	}
	return q
}

// checkBlank notes a fault if a text is only white space.
func checkBlank(field tool.TextField, r *tool.Record, f *tool.Faults) {
	if field.OK(r) && strings.TrimSpace(field.Of(r)) == "" {
		f.Add(tool.Fault{Field: field.Path(r), Code: tool.Missing, Given: field.Raw(r)}, "missing", f.Label(field.Path(r)), field.Sample)
		field.Spoil(r)
	}
}

// faults are the keys of the faults that a code or failure type can have.
var faults = [...]string{
	code.Letter: "code.letter", code.Short: "code.short", code.Long: "code.long", code.Digit: "code.digit", code.Hex: "code.hex",
	code.Type: "code.type",
}

// wrong adds the fault of a text that is not a trouble code, or not a failure type.
func wrong(field tool.TextField, r *tool.Record, err error, f *tool.Faults) {
	var e *code.Error
	if errors.As(err, &e) {
		given := field.Raw(r)
		f.Add(tool.Fault{Field: field.Path(r), Code: tool.Syntax, Given: given}, faults[e.Fault], quantity.Clip(given))
	}
}
