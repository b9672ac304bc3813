package code

import (
	"ohmwright/core/code"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

type result struct {
	Code        string             `json:"code"`
	System      string             `json:"system"`
	Origin      string             `json:"origin"`
	Area        string             `json:"area,omitempty"`
	Known       bool               `json:"known"`
	Overall     string             `json:"overall"`
	Stop        string             `json:"stop,omitempty"`
	First       string             `json:"first,omitempty"`
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

func tell(q code.Question, f code.Finding, a *tool.Answer) *result {
	a.Brief = false // this tool has no working to leave out
	for _, n := range f.Notices {
		tellNotice(n, q, f, a)
	}
	switch {
	case f.Stop != "":
		a.Caution("stop_"+string(f.Stop), "maker_first")
	case f.First == code.UnitFeed:
		a.Caution("live_circuit", "unit_plug", "maker_first")
	}
	high, low := "high", "low"
	if f.UnitPower() {
		high, low = "unit", "unit"
	}
	c := q.Code
	return &result{
		Code: c.String(), System: string(c.System()), Origin: string(c.Origin()), Area: string(c.Area()), Known: f.Known,
		Overall: string(f.Overall), Stop: string(f.Stop), First: string(f.First), Circuit: f.Circuit, Failure: string(f.Failure),
		FailureType: typeOf(q, a.Speak), CodeKind: f.Kind,
		Meaning: meaningResult{states(a.Speak, high, f.Meaning.High), states(a.Speak, low, f.Meaning.Low)},
	}
}

// tellNotice warns of something that the reader must know about the code.
func tellNotice(n code.Notice, q code.Question, f code.Finding, a *tool.Answer) {
	switch word := string(n); n {
	case code.NotListed:
		a.Warn(word, "code", q.Code.String())
	case code.TypeUnknown:
		a.Warn(word, "failure_type", string(q.Type))
	case code.TypesDisagree:
		a.Warn(word, "failure_type", a.Speak.Say("failure."+string(f.Failure)), string(q.Type), typeText(a.Speak, q.Type))
	default:
		a.Warn(word, "code")
	}
}

// typeOf returns the failure type and its meaning; nil if none was given.
func typeOf(q code.Question, s *wording.Speaker) *failureTypeResult {
	if q.Type == "" {
		return nil
	}
	return &failureTypeResult{string(q.Type), typeText(s, q.Type)}
}

// typeText returns the meaning of a failure type; "" if it is unknown or none was given.
func typeText(s *wording.Speaker, t code.FailureType) string {
	if !t.Known() {
		return ""
	}
	return s.Say("type." + string(t))
}

// states returns a list of states with their words for one side.
func states(s *wording.Speaker, side string, list []code.State) []stateResult {
	out := make([]stateResult, len(list))
	for i, state := range list {
		out[i] = stateResult{string(state), stateText(s, side, state)}
	}
	return out
}

func stateText(s *wording.Speaker, side string, state code.State) string {
	return s.Say("state." + side + "." + string(state))
}
