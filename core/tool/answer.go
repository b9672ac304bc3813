package tool

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// Success is the response to a request that could be answered.
type Success struct {
	OK       bool      `json:"ok"`
	Tool     string    `json:"tool"`
	Contract int       `json:"contract"`
	Result   any       `json:"result"`
	Working  []Step    `json:"working"`
	Warnings []Warning `json:"warnings"`
	Cautions []Caution `json:"cautions"`
}

// Failure is the response to a request that could not.
type Failure struct {
	OK     bool    `json:"ok"`
	Errors []Fault `json:"errors"`
}

// ErrProgram is returned beside a response where the program is at fault and not the request.
var ErrProgram = errors.New("tool: a fault of the program")

// ErrRequest is returned beside a response that refuses a request.
var ErrRequest = errors.New("tool: request refused")

// Named finds a tool by its name.
func Named(name string) (*Tool, bool) {
	for _, t := range All {
		if t.Name == name {
			return t, true
		}
	}
	return nil, false
}

// Run answers a request with the response of the contract, and nil, [ErrRequest] or [ErrProgram]. A panic inside the
// tool is an [ErrProgram] and leaves everything alive.
func Run(name string, request []byte, speak *wording.Speaker) ([]byte, error) {
	t, ok := Named(name)
	if !ok {
		f := &faults{speak: speak}
		names := make([]string, len(All))
		for i, t := range All {
			names[i] = t.Name
		}
		f.add(Fault{Code: Unknown, Given: quantity.Clip(name)}, "tool", quantity.Clip(name), strings.Join(names, ", "))
		return encode(Failure{Errors: f.list}, ErrRequest)
	}
	_, a, failed := t.Answer(request, quantity.Point, speak)
	if failed == nil {
		return encode(a.success(), nil)
	}
	err := ErrRequest
	if failed[0].Code == Broken {
		err = ErrProgram
	}
	return encode(Failure{Errors: failed}, err)
}

// encode writes a response; one that cannot be written is a fault of the program.
func encode(response any, err error) ([]byte, error) {
	b, broken := json.Marshal(response)
	if broken != nil {
		b, _ = json.Marshal(Failure{Errors: []Fault{{Code: Broken, Message: broken.Error()}}})
		return b, ErrProgram
	}
	return b, err
}

func (a *Answer) success() Success {
	return Success{true, a.tool.Name, Contract, a.Result, a.Working, a.Warnings, a.Cautions}
}

// Answer reads a request, its numbers in the notation of mark, and answers it. Either the answer or the faults are there;
// the record is nil only where the request is not of the right form at all.
func (t *Tool) Answer(request []byte, mark quantity.Mark, speak *wording.Speaker) (*Record, *Answer, []Fault) {
	return t.read(request, mark, speak, false)
}

// Glance answers as [Tool.Answer] does, without the working.
func (t *Tool) Glance(request []byte, mark quantity.Mark, speak *wording.Speaker) (*Record, *Answer, []Fault) {
	return t.read(request, mark, speak, true)
}

func (t *Tool) read(request []byte, mark quantity.Mark, speak *wording.Speaker, brief bool) (*Record, *Answer, []Fault) {
	f := &faults{speak: speak}
	n, ok := readJSON(request, t.MaxBytes(), f)
	if !ok {
		return nil, nil, f.list
	}
	return t.answer(n, mark, speak, brief)
}

// answer answers a request that has been read. Its numbers are in the notation of mark.
func (t *Tool) answer(n node, mark quantity.Mark, speak *wording.Speaker, brief bool) (r *Record, a *Answer, failed []Fault) {
	defer func() {
		if p := recover(); p != nil {
			a, failed = nil, []Fault{{Code: Broken, Message: speak.Say("fault.program", fmt.Sprint(p)), Hint: speak.Say("fault.program.hint")}}
		}
	}()
	f := &faults{speak: speak}
	if n.kind != anObject {
		f.add(Fault{Code: Syntax, Given: n.String()}, "form.object", joinNames(t.Fields))
		return nil, nil, f.list
	}
	r = bind(t.Fields, n, "", mark, f)
	t.check(r, f)
	if len(f.list) > 0 {
		return r, nil, f.list
	}
	a = &Answer{Speak: speak, Working: []Step{}, Warnings: []Warning{}, Cautions: []Caution{}, tool: t, brief: brief}
	t.run(r, a)
	return r, a, nil
}

// rangeFields calls do for each field at each depth.
func rangeFields(fields []Field, do func(*Field)) {
	for i := range fields {
		do(&fields[i])
		rangeFields(fields[i].Fields, do)
	}
}

// prepare reads the declared defaults, once.
func (t *Tool) prepare() *Tool {
	rangeFields(t.Fields, func(d *Field) {
		if d.Default == "" {
			d.fallback.ok = d.Shape == Group || d.Shape == List
			return
		}
		f := &faults{speak: nil}
		r := &Record{fields: []Field{*d}, slots: make([]slot, 1)}
		r.fields[0].Fields = nil
		r.read(0, node{kind: aString, text: d.Default}, f)
		d.fallback = r.slots[0]
		d.fallback.given = false
	})
	return t
}

// Apart finds what an error at a path spoils: the flat keys that have to be left out for the rest to be answered, as
// prefixes. Nothing where the path is one that no answer can do without.
func (t *Tool) Apart(path string) (prefixes []string) {
	top, rest, _ := strings.Cut(path, ".")
	i := indexOf(t.Fields, top)
	if i < 0 || t.Fields[i].Apart == "" {
		return nil
	}
	if t.Fields[i].Shape == List && rest != "" {
		index, _, _ := strings.Cut(rest, ".")
		return []string{top + "." + index}
	}
	for _, d := range t.Fields {
		if d.Apart == t.Fields[i].Apart {
			prefixes = append(prefixes, d.Name)
		}
	}
	return prefixes
}

// Field finds the declaration at a flat key, list indices left aside; nil where there is none.
func (t *Tool) Field(key string) *Field {
	_, found, rest := t.walk(key)
	if rest != "" {
		return nil
	}
	return found
}

// Split cuts a flat key into the names on its way: at its dots, but for those in a field's own name. What is behind a name
// that the tool does not know is cut at every dot.
func (t *Tool) Split(key string) []string {
	path, _, rest := t.walk(key)
	if rest != "" || key == "" {
		path = append(path, strings.Split(rest, ".")...)
	}
	return path
}

// walk follows a flat key through the declarations as far as it leads.
func (t *Tool) walk(key string) (path []string, found *Field, rest string) {
	fields := t.Fields
	for rest = key; rest != ""; {
		if index, deeper, _ := strings.Cut(rest, "."); found != nil && found.Shape == List && strings.Trim(index, "0123456789") == "" {
			path, rest = append(path, index), deeper
			continue
		}
		i := 0
		for i < len(fields) && rest != fields[i].Name && !strings.HasPrefix(rest, fields[i].Name+".") {
			i++
		}
		if i == len(fields) {
			return path, found, rest
		}
		found = &fields[i]
		fields = found.Fields
		path, rest = append(path, found.Name), strings.TrimPrefix(rest[len(found.Name):], ".")
	}
	return path, found, ""
}
