package tool

import (
	"ohmwright/core/jsontext"
	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/wording"
)

// An Answer collects what a tool tells its reader: the result, the working, warnings and cautions.
type Answer struct {
	Speak    *wording.Speaker // looks for words in the tool's own catalogue first
	Result   jsontext.Object  // the JSON form, of the type that the tool's Tell returns
	Working  []Step
	Warnings []Warning
	Cautions []Caution
	Brief    bool     // leave the working out: nobody reads it between two keystrokes
	Hasty    bool     // and what the tool's Haste leaves out
	Next     []string // tests that the answer advises, the best first
	// Drawn draws another tool's answer, given its link; nil if whoever asks does not want it or knows no links.
	Drawn func(link string) []*sheet.Element

	tool *Tool
	lay  func(*Layout)
}

// A Step is one line of the working, as a teacher would write it on the board.
type Step struct {
	What    string `json:"what"`
	Formula string `json:"formula"`
	With    string `json:"with"`
	Value   Amount `json:"value"`
	Source  string `json:"source"`
}

// A Warning is something that the reader must know about the result. Field is the field of the request that it is about.
type Warning struct {
	Code  string `json:"code"`
	Field string `json:"field"`
	Text  string `json:"text"`
	late  bool
}

// A Caution warns of something that can hurt someone or ruin a part at this step.
type Caution struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// An Amount is a quantity in a response, in the contract's unit. U is its standard uncertainty; nil if it has none.
type Amount struct {
	Value float64  `json:"value"`
	Unit  string   `json:"unit"`
	U     *float64 `json:"u,omitempty"`
}

// Uncertain returns an amount with a standard uncertainty, which may be zero. [Plain] returns one without.
func Uncertain(k quantity.Kind, v, u float64) Amount {
	return Amount{v, quantity.Units(k)[0].Symbol, &u}
}

// Estimated returns an estimate as an amount.
func Estimated(k quantity.Kind, e measure.Estimate) Amount { return Uncertain(k, e.Value, e.U) }

// Plain returns an amount without an uncertainty.
func Plain(k quantity.Kind, v float64) Amount { return Amount{v, quantity.Units(k)[0].Symbol, nil} }

// Of returns an amount without an uncertainty. The unit follows from the type.
func Of[Q ~float64](v Q) Amount { return Plain(quantity.KindOf[Q](), float64(v)) }

// Some returns a pointer to an amount, for a field of a result that may be left out.
func Some(a Amount) *Amount { return &a }

// Warn adds a warning, worded by the key warn.CODE.
func (a *Answer) Warn(code, field string, args ...any) { a.WarnBy(code, code, field, args...) }

// WarnBy adds a warning of a code that has several wordings; this one has the key warn.KEY.
func (a *Answer) WarnBy(key, code, field string, args ...any) {
	a.Warnings = append(a.Warnings, Warning{Code: code, Field: field, Text: a.Speak.Say("warn."+key, args...)})
}

// WarnLater says of a hasty answer that a warning may follow: what the page shows of it stays meanwhile.
func (a *Answer) WarnLater(code, field string) {
	a.Warnings = append(a.Warnings, Warning{Code: code, Field: field, late: true})
}

// Caution adds cautions, each worded by the key caution.CODE.
func (a *Answer) Caution(codes ...string) {
	for _, c := range codes {
		a.CautionOf(c)
	}
}

// CautionOf adds one caution, worded by the key caution.CODE with args.
func (a *Answer) CautionOf(code string, args ...any) {
	a.Cautions = append(a.Cautions, Caution{code, a.Speak.Say("caution."+code, args...)})
}

// Step adds a line of the working, worded by the keys step.WHAT and source.SOURCE, its formula by [wording.Speaker.Formula]. Callers
// check Brief first.
func (a *Answer) Step(what, formula, with string, value Amount, source string, args ...any) {
	formula, with = a.Speak.Formula(formula, with)
	a.Working = append(a.Working, Step{
		What: a.Speak.Say("step."+what, args...), Formula: formula, With: with, Value: value,
		Source: a.Speak.Say("source." + source),
	})
}

// Response returns the answer in the form that the contract lays down.
func (a *Answer) Response() *Success {
	return &Success{true, a.tool.Name, Contract, a.Result, a.Working, a.Warnings, a.Cautions}
}

// Success is the response to a request that could be answered.
type Success struct {
	OK       bool            `json:"ok"`
	Tool     string          `json:"tool"`
	Contract int             `json:"contract"`
	Result   jsontext.Object `json:"result"`
	Working  []Step          `json:"working"`
	Warnings []Warning       `json:"warnings"`
	Cautions []Caution       `json:"cautions"`
}

// Failure is the response to a request that could not be answered.
type Failure struct {
	OK     bool    `json:"ok"`
	Errors []Fault `json:"errors"`
}

// A Detail says how much of an answer is worked out.
type Detail uint8

// The details.
const (
	Full  Detail = iota
	Brief        // what is folded is left empty
	Hasty        // between two keystrokes: also without what the tool's Haste leaves out, which follows once the typing pauses
)

// Answer reads a JSON request, with numbers in the notation of mark, and answers it.
func (t *Tool) Answer(request []byte, mark quantity.Mark, speak *wording.Speaker) Outcome {
	f := &Faults{Speak: t.Speaker(speak), tool: t}
	n, ok := readJSON(request, t.MaxBytes(), f)
	if !ok {
		return Outcome{Faults: f.list}
	}
	return t.ask(n, mark, f, Full)
}

// Ask answers a request that a form or a link has already parsed.
func (t *Tool) Ask(request Node, mark quantity.Mark, speak *wording.Speaker, detail Detail) Outcome {
	f := &Faults{Speak: t.Speaker(speak), tool: t}
	if request.bytes() > t.MaxBytes() {
		f.tooLarge(t.MaxBytes())
		return Outcome{Faults: f.list}
	}
	return t.ask(request, mark, f, detail)
}

// ask answers a request. A panic inside the tool becomes a fault of code program, so that the caller keeps running.
func (t *Tool) ask(n Node, mark quantity.Mark, f *Faults, detail Detail) (o Outcome) {
	defer func() {
		if p := recover(); p != nil {
			broken := Fault{Code: Broken, Message: f.Speak.Say("fault.program", Said(p)), Hint: f.Speak.Say("fault.program.hint")}
			o = Outcome{Record: o.Record, Faults: []Fault{broken}}
		}
	}()
	if n.kind != anObject {
		f.Add(Fault{Code: Syntax, Given: n.String()}, "form.object", joinNames(t.Fields))
		return Outcome{Faults: f.list}
	}
	t.prepare()
	o.Record = bind(t.Fields, n, "", mark, f)
	a := &Answer{Speak: f.Speak, Working: []Step{}, Warnings: []Warning{}, Cautions: []Caution{}, tool: t,
		Brief: detail != Full, Hasty: detail == Hasty}
	return t.way.answer(o.Record, f, a)
}

// Said returns what a panic says: Go's own are errors, the core's are texts.
func Said(p any) string {
	switch p := p.(type) {
	case error:
		return p.Error()
	case string:
		return p
	}
	return "a panic without words"
}
