package tool

import (
	"errors"
	"strings"

	"ohmwright/core/code"
	"ohmwright/core/quantity"
)

// TroubleCode declares the question what a trouble code says of a circuit.
var TroubleCode = &Tool{
	Name:    "code",
	Example: `{"code": "P0962", "failure_type": "11"}`,
	Result:  codeResult{},
	Fields: []Field{
		{Name: "code", Shape: Text, Most: 40, Need: true, Sample: "P0962"},
		{Name: "failure_type", Shape: Text, Most: 20, Sample: "11"},
	},
	check: checkCode,
	run:   runCode,
	lay:   layCode,
}

type codeResult struct {
	Code        string             `json:"code"`
	System      string             `json:"system"`
	Origin      string             `json:"origin"`
	Area        string             `json:"area,omitempty"`
	Known       bool               `json:"known"`
	Circuit     string             `json:"circuit,omitempty"`
	Failure     string             `json:"failure,omitempty"`
	FailureType *failureTypeResult `json:"failure_type,omitempty"`
	CodeKind    string             `json:"code_kind"`
	Meaning     meaningResult      `json:"meaning"`
}

type failureTypeResult struct {
	Code    string `json:"code"`
	Meaning string `json:"meaning,omitempty"`
}

type meaningResult struct {
	HighSide []stateResult `json:"high_side"`
	LowSide  []stateResult `json:"low_side"`
}

type stateResult struct {
	State string `json:"state"`
	Text  string `json:"text"`
}

// codeOf reads the code and the failure type, wherever that stands. own is the failure type that stands behind the code.
func codeOf(r *Record) (c code.Code, t, own code.FailureType, codeErr, typeErr error) {
	c, own, codeErr = code.Read(r.Text("code"))
	if t = own; r.OK("failure_type") {
		t, typeErr = code.ReadFailureType(r.Text("failure_type"))
	}
	return c, t, own, codeErr, typeErr
}

func checkCode(r *Record, f *faults) {
	for _, d := range r.fields {
		if r.OK(d.Name) && strings.TrimSpace(r.Text(d.Name)) == "" {
			f.add(Fault{Field: d.Name, Code: Missing, Given: r.Text(d.Name)}, "missing", d.Name, d.Sample)
			r.at(d.Name).ok = false
		}
	}
	_, t, own, codeErr, typeErr := codeOf(r)
	if r.OK("code") && codeErr != nil {
		f.code("code", r.Text("code"), codeErr)
	}
	if typeErr != nil {
		f.code("failure_type", r.Text("failure_type"), typeErr)
		return
	}
	if r.OK("code", "failure_type") && codeErr == nil && own != "" && own != t {
		f.conflict("failure_type", r.Text("failure_type"), "code.types", string(own), string(t))
	}
}

// codeFaults are the keys of the words of what can be wrong with a code.
var codeFaults = [...]string{code.Letter: "code.letter", code.Length: "code.length", code.Digit: "code.digit", code.Hex: "code.hex", code.Type: "code.type"}

// code adds the fault of a text that is no trouble code or no failure type.
func (f *faults) code(field, given string, err error) {
	var e *code.Error
	if errors.As(err, &e) {
		f.add(Fault{Field: field, Code: Syntax, Given: given}, codeFaults[e.Fault], quantity.Clip(given))
	}
}

func runCode(r *Record, a *Answer) {
	a.brief = false // there is no working that could be left out
	c, t, _, _, _ := codeOf(r)
	e, known := c.Find()
	m := code.Mean(e, t)
	a.Result = codeResult{
		Code: c.String(), System: string(c.System()), Origin: string(c.Origin()), Area: string(c.Area()),
		Known: known, Circuit: e.Circuit, Failure: string(e.Failure), FailureType: a.failureType(t), CodeKind: code.CodeKind(e, t),
		Meaning: meaningResult{a.states("high", m.High), a.states("low", m.Low)},
	}
	a.codeStructure(c, known)
	if t != "" && !t.Known() {
		a.warn("type_unknown", "failure_type", string(t))
	}
	if m.Disagree {
		a.warn("types_disagree", "failure_type", a.Speak.Say("code.failure."+string(e.Failure)), string(t), a.Speak.Say("code.type."+string(t)))
	}
	if known && e.Feed() {
		a.warn("common_feed", "code")
	}
	a.codeDoubt(m.Doubt)
}

// failureType is what the failure type says; nil where there is none.
func (a *Answer) failureType(t code.FailureType) *failureTypeResult {
	switch {
	case t == "":
		return nil
	case !t.Known():
		return &failureTypeResult{Code: string(t)}
	}
	return &failureTypeResult{string(t), a.Speak.Say("code.type." + string(t))}
}

// states words a list of states at a side.
func (a *Answer) states(side string, list []code.State) []stateResult {
	out := make([]stateResult, len(list))
	for i, s := range list {
		out[i] = stateResult{string(s), a.Speak.Say("code.state." + side + "." + string(s))}
	}
	return out
}

// codeStructure warns of what the code's structure leaves unsaid.
func (a *Answer) codeStructure(c code.Code, known bool) {
	switch {
	case c.Origin() == code.Manufacturer:
		a.warn("manufacturer", "code")
	case c.Reserved():
		a.warn("reserved", "code")
	case c.Shared():
		a.warn("shared_range", "code")
	}
	if !known {
		a.warn("not_in_table", "code", c.String())
	}
}

// codeDoubt warns of what the failure leaves open.
func (a *Answer) codeDoubt(d code.Doubt) {
	switch d {
	case code.AnyState:
		a.warn("any_state", "code")
	case code.WideRange:
		a.warn("wide_range", "code")
	case code.NotElectrical:
		a.warn("not_electrical_alone", "code")
	case code.RestPosition:
		a.warn("not_electrical_alone", "code")
		a.warn("rest_position", "code")
	case code.ComesAndGoes:
		a.warn("intermittent", "code")
	case code.ShortedWhere:
		a.warn("shorted_where", "code")
	}
}
