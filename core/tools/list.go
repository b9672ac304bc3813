// Package tools is the list of tools, and what can be asked of it: a tool by its name, the menu, the answer to a request,
// a speaker that knows the words of all tools.
package tools

import (
	"errors"
	"slices"
	"strings"
	"sync"

	"ohmwright/core/jsontext"
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
		return encode(&tool.Failure{Errors: []tool.Fault{unknown}}, ErrRequest)
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

// drafts are where responses are written before they are copied: one that grew costs more than the rest of a light answer.
var drafts = sync.Pool{New: func() any { return new([]byte) }}

// encode writes a response as JSON. A response that cannot be written is a fault of the program.
func encode(response jsontext.Object, err error) ([]byte, error) {
	draft := drafts.Get().(*[]byte)
	defer drafts.Put(draft)
	b, broken := jsontext.AppendObject((*draft)[:0], response)
	*draft = b
	if broken != nil {
		b, _ = jsontext.AppendObject(nil, &tool.Failure{Errors: []tool.Fault{{Code: tool.Broken, Message: broken.Error()}}})
		return b, ErrProgram
	}
	return slices.Clone(b), err
}

// Menu returns what "tools" prints, as JSON: the list of tools, with names and titles in the reader's language.
func Menu(speak *wording.Speaker) []byte {
	b := []byte{'['}
	for i, t := range All {
		if i > 0 {
			b = append(b, ',')
		}
		own := t.Speaker(speak)
		b = jsontext.AppendEscaped(append(b, `{"tool":`...), t.Name)
		b = jsontext.AppendEscaped(append(b, `,"title":`...), own.Say("title"))
		b = jsontext.AppendEscaped(append(b, `,"purpose":`...), own.Say("purpose"))
		b = append(b, '}')
	}
	return append(b, ']')
}
