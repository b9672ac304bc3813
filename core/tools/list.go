// Package tools is the list of tools, and what can be asked of it: a tool by its name, the menu, the answer to a request,
// a speaker that knows the words of all tools.
package tools

import (
	"encoding/json"
	"errors"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools/bank"
	"ohmwright/core/tools/circuit"
	"ohmwright/core/tools/code"
	"ohmwright/core/tools/drive"
	"ohmwright/core/tools/exercise"
	"ohmwright/core/tools/handover"
	"ohmwright/core/tools/loop"
	"ohmwright/core/tools/torque"
	"ohmwright/core/tools/trace"
	"ohmwright/core/tools/winding"
	"ohmwright/core/tools/worksheet"
	"ohmwright/core/wording"
)

// All lists the tools in the order of the menu. To add a tool, add its folder and a line here.
var All = []*tool.Tool{
	winding.Tool,
	bank.Tool,
	loop.Tool,
	circuit.Tool,
	torque.Tool,
	handover.Tool,
	code.Tool,
	drive.Tool,
	trace.Tool,
	exercise.Tool,
	worksheet.Tool,
}

// Named returns the tool with a name.
func Named(name string) (*tool.Tool, bool) {
	for _, t := range All {
		if t.Name == name {
			return t, true
		}
	}
	return nil, false
}

// Names lists the names of all tools, for a reader who named another.
func Names() string {
	names := make([]string, len(All))
	for i, t := range All {
		names[i] = t.Name
	}
	return strings.Join(names, ", ")
}

// ErrProgram is returned with a response that reports a fault of the program.
var ErrProgram = errors.New("tools: a fault of the program")

// ErrRequest is returned with a response that refuses the request.
var ErrRequest = errors.New("tools: request refused")

// Run answers a request with a response in the form of the contract. The error is nil, [ErrRequest] or [ErrProgram]. A
// panic inside the tool becomes an [ErrProgram], so that the caller keeps running.
func Run(name string, request []byte, speak *wording.Speaker) ([]byte, error) {
	t, ok := Named(name)
	if !ok {
		name = quantity.Clip(name)
		unknown := tool.NewFault(speak, "", tool.Unknown, name, "tool", name, Names())
		return encode(tool.Failure{Errors: []tool.Fault{unknown}}, ErrRequest)
	}
	o := t.Answer(request, quantity.Point, speak)
	switch {
	case o.Answer != nil:
		return encode(o.Answer.Response(), nil)
	case o.Faults[0].Code == tool.Broken:
		return encode(tool.Refusal(o.Faults, speak), ErrProgram)
	}
	return encode(tool.Refusal(o.Faults, t.Speaker(speak)), ErrRequest)
}

// encode writes a response as JSON. A response that cannot be written is a fault of the program.
func encode(response any, err error) ([]byte, error) {
	b, broken := json.Marshal(response)
	if broken != nil {
		b, _ = json.Marshal(tool.Failure{Errors: []tool.Fault{{Code: tool.Broken, Message: broken.Error()}}})
		return b, ErrProgram
	}
	return b, err
}

// A Listed is one line of the output of "tools".
type Listed struct {
	Tool    string `json:"tool"`
	Title   string `json:"title"`
	Purpose string `json:"purpose"`
}

// Menu returns the list of tools, with names and titles in the reader's language.
func Menu(speak *wording.Speaker) []Listed {
	out := make([]Listed, len(All))
	for i, t := range All {
		own := t.Speaker(speak)
		out[i] = Listed{t.Name, own.Say("title"), own.Say("purpose")}
	}
	return out
}
