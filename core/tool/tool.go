// Package tool holds the declarations of the tools: for each, the fields of its request with their units, ranges and
// defaults, the shape of its result, and the function that answers. Everything that faces a user is derived from them:
// the command line, the page's forms, the routes of the worker, links, schemas and help.
package tool

import (
	"math"

	"ohmwright/core/quantity"
	"ohmwright/core/sheet"
	"ohmwright/core/wording"
)

// Contract is the version of the request contract, and of a link.
const Contract = 1

// MaxRequest is how many bytes a request may have, but for those of a tool that takes files: see [Tool.MaxBytes].
const MaxRequest = 64 << 10

// A Tool is one question that the core answers. Its words are found in the catalogue under its name: NAME.title,
// NAME.purpose, and for each field at path P NAME.P and NAME.P.how.
type Tool struct {
	Name    string
	Fields  []Field
	Example string   // a request that answers, for help
	Result  any      // a zero value of the result's type, for the schema
	Before  []string // codes of the cautions that stand before the first step
	Mind    string   // the title of those behind the answer, sheet.MIND; left out: sheet.cautions
	Most    int      // bytes of a request, where files need more than MaxRequest
	Slot    string   // the list in whose place on a narrow page the answer begins
	Keeps   []string // fields that hold for a vehicle and not for one job: the page keeps them under its name

	// check finds what is wrong between fields that are each right. It runs even where some field is wrong, so that all
	// faults are told at once; it looks at a field only if Record.OK.
	check func(*Record, *faults)
	// run answers a record in which check found nothing.
	run func(*Record, *Answer)
	// lay lays the answer out for a reader: the verdict, why in a sentence (nil for none), and what else there is.
	lay func(*Record, *Answer) (head, why *sheet.Element, rest []*sheet.Element)
	// draft, which may be nil, lays out what can be shown before there is an answer.
	draft func(*Record, *Answer) []*sheet.Element
}

// MaxBytes is how many bytes a request of the tool may have.
func (t *Tool) MaxBytes() int { return max(MaxRequest, t.Most) }

// A Shape is the form that a field's value takes in a request.
type Shape uint8

// The shapes.
const (
	Quantity Shape = iota + 1 // a text of number and unit
	Reading                   // a resistance, or OL
	Number                    // a pure number; with Kinds also a quantity of one of them, a number alone being in its contract's unit
	Whole                     // a count
	Choice                    // one of Choices; with Fields, an object with exactly one of them instead
	Text                      // free text
	Group                     // an object of Fields
	List                      // a list of objects of Fields
)

// A Field declares one value of a request.
type Field struct {
	Name    string
	Shape   Shape
	Kinds   []quantity.Kind // Quantity, Reading: what it may be; the first is the usual one
	Need    bool            // an error where left out
	Default string          // what a left-out value is taken to be, as a request would give it; "" for none
	Range   Range           // of the value in the contract's unit
	Choices []string
	Fields  []Field
	Most    int // List: rows; Text: bytes

	// Apart names a part of the answer that may fail on its own: with an error in one of its fields the page answers
	// without all of them; in a row of a list, without the row.
	Apart string
	// Grave says of a field with Apart that an error in it is told at the head, also where the rest is answered: what is answered
	// without it could be taken for the answer with it.
	Grave bool
	// Fine says that most readers leave it alone: the page keeps it behind "more".
	Fine bool
	// UnitFrom names the field beside it whose unit it takes on the page, as a most takes that of its least.
	UnitFrom string
	// Offer names the units that the page offers; left out: the contract's alone.
	Offer []string
	// Label is the key of the label of a field that is named after something which has words already, and needs no more; left
	// out: the field's path.
	Label string
	// From is the key of the words of a field that another tool has too; left out: the field's path.
	From string
	// Fresh names the fields that begin anew where the page fills in a new text at random: an exercise's seed.
	Fresh []string
	// Pick names the Choice by which the rows of a List are told apart: the page adds a row for one of its Choices. Units are,
	// for each of them, the unit in which the row's other field is usually given.
	Pick  string
	Units map[string]string
	// Same says that a number may stand for a Group: every field of it is that number.
	Same bool
	// Slide, on a Quantity, is what a slider beside the number runs over on the page; the number itself may lie outside.
	Slide *Slide
	// File says of a Text that it is the content of a file, which the page takes picked or dropped: it may be long, and a link
	// takes it along only up to [LinkedFile] bytes.
	File bool
	// Lines says of a Text that it has several lines.
	Lines bool
	// Plate says of a List that its rows are places, x and y, on a plate that is drawn in its slot and tapped on the page.
	Plate bool
	// Slot says that parts of the answer have their place behind the field on a narrow page.
	Slot bool
	// Held says that the page holds the field and shows none: it is set from the answer.
	Held bool
	// Sample is a right value, for hints; left out: the default, or one of the kind.
	Sample string

	fallback slot // Default, read
}

// A Slide is the run of a slider: from a value to another, in the contract's unit, by steps; or by equal ratios, where the
// range spans decades.
type Slide struct {
	From, To, Step float64
	Ratio          bool // by equal ratios, to three digits; Step is left out
}

// LinkedFile is how many bytes of a file a link takes along: a short recording, as a worksheet has it.
const LinkedFile = 8 << 10

// Words are the keys of a field's label and of how it is filled in, at the key that its path gives; how is "" where there are
// none. The words of what is in the field stand below its label's key.
func (d *Field) Words(key string) (label, how string) {
	switch {
	case d.Label != "":
		return d.Label, ""
	case d.From != "":
		return d.From, d.From + ".how"
	}
	return key, key + ".how"
}

// A Range is what a value may be. The zero Range has no limits.
type Range struct {
	Min, Max  float64
	OpenMin   bool // Min itself is out
	unlimited bool
	set       bool
}

// between has both limits in the range, over leaves the lower one out.
func between(lo, hi float64) Range { return Range{Min: lo, Max: hi, set: true} }
func over(lo, hi float64) Range    { return Range{Min: lo, Max: hi, OpenMin: true, set: true} }

// Holds says whether a value is in range.
func (r Range) Holds(v float64) bool {
	if !r.set {
		return true
	}
	if r.OpenMin && v <= r.Min+leastTiny {
		return false
	}
	return r.Min <= v && v <= r.Max
}

// Limits of what is taken for a reading at all: beyond them a text is a slip of the keys, and no result can overflow.
const (
	mostOhms    = 1e12
	mostVolts   = 1e5
	mostAmperes = 1e6
	mostDegrees = 2000
	leastTiny   = 1e-12
	leastAbove  = 1e-3 // kelvin above the zero-resistance point, where the law divides by the distance from it
)

var (
	resistances   = between(0, mostOhms)
	voltages      = over(0, mostVolts)
	currents      = over(0, mostAmperes)
	temperatures  = between(-273.15, mostDegrees)
	differences   = between(0, mostDegrees)
	percentages   = between(0, 100)
	countsOfMeter = between(0, 10000)
)

// An Answer is what a tool finds, as it is put together.
type Answer struct {
	Speak    *wording.Speaker
	Result   any
	Working  []Step
	Warnings []Warning
	Cautions []Caution
	tool     *Tool
	brief    bool     // the working is left out
	listed   []string // codes of the cautions that stand in the answer laid out
}

// A Step is one line of the working, as a teacher would write it.
type Step struct {
	What    string `json:"what"`
	Formula string `json:"formula"`
	With    string `json:"with"`
	Value   Amount `json:"value"`
	Source  string `json:"source"`
}

// A Warning is something the reader has to know of the result, and the field it comes from.
type Warning struct {
	Code  string `json:"code"`
	Field string `json:"field"`
	Text  string `json:"text"`
}

// A Caution is what can hurt someone or ruin a part at this step.
type Caution struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// An Amount is a quantity in a response: in the contract's unit, with its standard uncertainty where one is carried.
type Amount struct {
	Value float64  `json:"value"`
	Unit  string   `json:"unit"`
	U     *float64 `json:"u,omitempty"`
}

// amount is a quantity that carries an uncertainty, be it zero; plain one that carries none.
func amount(k quantity.Kind, v, u float64) Amount {
	return Amount{v, quantity.Units(k)[0].Symbol, &u}
}

func plain(k quantity.Kind, v float64) Amount { return Amount{v, quantity.Units(k)[0].Symbol, nil} }

func ohms(v, u float64) Amount { return amount(quantity.OfResistance, v, u) }

// carried is a pointer to an amount, for a result that may be left out.
func carried(k quantity.Kind, v, u float64) *Amount {
	a := amount(k, v, u)
	return &a
}

// u is the standard uncertainty, 0 where none is carried.
func (a Amount) u() float64 {
	if a.U == nil {
		return 0
	}
	return *a.U
}

// finite guards the promise that no answer holds what JSON cannot: the ranges above make it hold.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// warn adds a warning in the words of NAME.warn.CODE.
func (a *Answer) warn(code, field string, args ...any) {
	a.Warnings = append(a.Warnings, Warning{code, field, a.Speak.Say(a.tool.Name+".warn."+code, args...)})
}

// caution adds a caution in the words of caution.CODE.
func (a *Answer) caution(codes ...string) {
	for _, c := range codes {
		a.Cautions = append(a.Cautions, Caution{c, a.Speak.Say("caution." + c)})
	}
}

// step adds a line of the working, of a caller that has seen that it is not left out; what and source are keys
// NAME.step.KEY and source.KEY.
func (a *Answer) step(what, formula, with string, value Amount, source string, args ...any) {
	a.Working = append(a.Working, Step{
		What: a.Speak.Say(a.tool.Name+".step."+what, args...), Formula: formula, With: with, Value: value,
		Source: a.Speak.Say("source." + source),
	})
}
