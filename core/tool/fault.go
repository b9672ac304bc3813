package tool

import (
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// A Code is a kind of fault, under the name that the contract gives it.
type Code string

// The codes of the contract.
const (
	Missing   Code = "missing"
	Unknown   Code = "unknown"
	Syntax    Code = "syntax"
	WrongUnit Code = "unit"
	OutOf     Code = "range"
	Ambiguous Code = "ambiguous"
	Conflict  Code = "conflict"
	// Broken is a fault of the program, not of the request.
	Broken Code = "program"
)

// A Fault is one thing that is wrong with a request: where, what was given, what is wrong, and what to do about it.
type Fault struct {
	Field   string `json:"field"`
	Code    Code   `json:"code"`
	Given   string `json:"given"`
	Message string `json:"message"`
	Hint    string `json:"hint"`
	bare    bool
}

// Bare reports whether a fault says no more than that its field is missing.
func (f Fault) Bare() bool { return f.bare }

// Faults collects everything that is wrong with a request.
type Faults struct {
	Speak *wording.Speaker
	tool  *Tool // whose fields they name; nil outside a request
	list  []Fault
}

// Any reports whether a fault was found so far.
func (f *Faults) Any() bool { return len(f.list) > 0 }

// Add adds a fault, worded by the key fault.KEY, with its hint, fault.KEY.hint. Both are formatted with args. Add shortens
// what was given, so that callers need not.
func (f *Faults) Add(fault Fault, key string, args ...any) {
	fault.Given = quantity.Clip(fault.Given)
	fault.bare = key == "missing"
	fault.Message = f.Speak.Say("fault."+key, args...)
	fault.Hint = f.Speak.Say("fault."+key+".hint", args...)
	f.list = append(f.list, fault)
}

// Conflict adds a fault for fields that contradict each other.
func (f *Faults) Conflict(field, given, key string, args ...any) {
	f.Add(Fault{Field: field, Code: Conflict, Given: given}, key, args...)
}

// OutOf adds a fault for a value that makes no sense beside the other fields.
func (f *Faults) OutOf(field, given, key string, args ...any) {
	f.Add(Fault{Field: field, Code: OutOf, Given: given}, key, args...)
}

// Missing adds a fault for a field that the other fields make necessary.
func (f *Faults) Missing(field, key string, args ...any) {
	f.Add(Fault{Field: field, Code: Missing}, key, args...)
}

// Lacks adds a fault for a field that is missing. It is named as its reader sees it, by its label, with a value that would be right.
func (f *Faults) Lacks(field, sample string) { f.Missing(field, "missing", f.Label(field), sample) }

// Label returns the label of the field at a path, or the path where no label is known.
func (f *Faults) Label(path string) string {
	if f.tool == nil {
		return path
	}
	return f.tool.Label(path, f.Speak)
}

// Instead adds a fault in place of those that its field has so far.
func (f *Faults) Instead(fault Fault, key string, args ...any) {
	f.list = slices.DeleteFunc(f.list, func(had Fault) bool { return had.Field == fault.Field })
	f.Add(fault, key, args...)
}

// Rehint replaces the hint of the faults that a field has with a code. The new hint is worded by the key fault.KEY.hint.
func (f *Faults) Rehint(field string, code Code, key string) {
	for i, fault := range f.list {
		if fault.Field == field && fault.Code == code {
			f.list[i].Hint = f.Speak.Say("fault." + key + ".hint")
		}
	}
}

// tooLarge adds the fault of a request with more than most bytes.
func (f *Faults) tooLarge(most int) {
	f.Add(Fault{Code: OutOf, Given: f.Speak.Say("request.bytes", strconv.Itoa(most))}, "request.large", strconv.Itoa(most))
}

// Quantity adds a fault for a text that cannot be read as a quantity.
func (f *Faults) Quantity(path string, e *quantity.Error) {
	units := unitList(e)
	example, fault := f.Sample(e.Kind), Fault{Field: path, Given: e.Given}
	add := func(code Code, key string, args ...any) {
		fault.Code = code
		f.Add(fault, key, args...)
	}
	switch e.Fault {
	case quantity.Empty:
		add(Missing, "empty", example)
	case quantity.NoUnit:
		unit := e.Want[0]
		if unit == "1" && len(e.Want) > 1 { // the sign of a pure number, which nobody writes
			unit = e.Want[1]
		}
		add(WrongUnit, "nounit", e.Given, written(e.Given+" "+unit, e.Kind), units)
	case quantity.WrongUnit:
		switch {
		case len(e.Is) > 0:
			add(WrongUnit, "otherunit", e.Given, f.KindName(e.Is[0]), f.KindName(e.Kind), units)
		case halfTorque(e):
			add(WrongUnit, "unit_half", e.Given, e.Unit)
		default:
			add(WrongUnit, "unit", e.Given, e.Unit, units)
		}
	case quantity.Ambiguous:
		add(Ambiguous, "ambiguous", e.Given, e.Reads[0], e.Reads[1])
	case quantity.TooLarge:
		add(OutOf, "huge", e.Given, example)
	default:
		add(Syntax, "syntax", e.Given, f.KindName(e.Kind), example)
	}
}

// KindName returns the name of a kind of quantity.
func (f *Faults) KindName(k quantity.Kind) string { return f.Speak.Say("kind." + strconv.Itoa(int(k))) }

// signed reports whether people write the units of a kind otherwise than a request does: °C for degC, N·m for N.m.
func signed(k quantity.Kind) bool {
	return k == quantity.OfTorque || k == quantity.OfTemperature || k == quantity.OfTemperatureDifference
}

// written returns a quantity as people write it: "-900 degC" is -900 °C.
func written(text string, k quantity.Kind) string {
	if !signed(k) {
		return text
	}
	for _, u := range quantity.Units(k) {
		if number, ok := strings.CutSuffix(text, " "+u.Symbol); ok {
			return number + " " + u.Sign
		}
	}
	return text
}

// unitList returns the units that the field takes, as people write them.
func unitList(e *quantity.Error) string {
	if !signed(e.Kind) {
		return strings.Join(e.Want, ", ")
	}
	signs := []string{}
	for _, u := range quantity.Units(e.Kind) {
		signs = append(signs, u.Sign)
	}
	return strings.Join(signs, ", ")
}

// halfTorque reports whether a torque lacks its length: pounds or kilograms alone.
func halfTorque(e *quantity.Error) bool {
	if e.Kind != quantity.OfTorque {
		return false
	}
	switch strings.ToLower(strings.TrimSuffix(e.Unit, "s")) {
	case "lb", "kg", "lbf", "kgf":
		return true
	}
	return false
}

// OtherKind adds a fault for a quantity of the wrong kind, such as amperes where volts are wanted.
func (f *Faults) OtherKind(path, given string, is, want quantity.Kind) {
	e := quantity.Error{Fault: quantity.WrongUnit, Kind: want, Given: given, Want: wanted([]quantity.Kind{want}), Is: []quantity.Kind{is}}
	f.Quantity(path, &e)
}

// samples are well-written quantities to show in hints, one for each kind.
var samples = [...]string{
	quantity.OfResistance: "9.7 ohm", quantity.OfVoltage: "13.8 V", quantity.OfCurrent: "1.65 A", quantity.OfTemperature: "24 degC",
	quantity.OfTemperatureDifference: "2 K", quantity.OfInductance: "12 mH", quantity.OfFrequency: "300 Hz", quantity.OfTime: "2 ms",
	quantity.OfPower: "9 W", quantity.OfEnergy: "5 mJ", quantity.OfThermalResistance: "12 K/W", quantity.OfTorque: "10 N.m",
	quantity.OfForce: "9 kN", quantity.OfLength: "12 mm", quantity.OfArea: "20 mm2", quantity.OfAngle: "45 deg", quantity.OfRatio: "10 %",
}

// SampleOf returns a well-written quantity of a kind.
func SampleOf(k quantity.Kind) string { return samples[k] }

// Sample returns a quantity of a kind as the reader would write it, for a hint.
func (f *Faults) Sample(k quantity.Kind) string { return f.Speak.Marked(written(SampleOf(k), k)) }

// sampleOf returns a correct value for a field as the reader would write it, for a hint.
func (f *Faults) sampleOf(d *Field) string {
	if d.Shape == Quantity || d.Shape == Reading {
		return f.Speak.Marked(written(d.sample(), d.Kinds[0]))
	}
	return d.sample()
}

// NewFault returns a fault found outside a request, such as in a link. It is worded by the key fault.KEY.
func NewFault(speak *wording.Speaker, field string, code Code, given, key string, args ...any) Fault {
	f := &Faults{Speak: speak}
	f.Add(Fault{Field: quantity.Clip(field), Code: code, Given: given}, key, args...)
	return f.list[0]
}

// mostRefusal is the most bytes of JSON that the faults of a response take: a little less than [MaxRequest], for what is around them.
const mostRefusal = MaxRequest - 1<<10

// Refusal returns the response to a request with faults.
func Refusal(faults []Fault, speak *wording.Speaker) *Failure {
	return &Failure{Errors: Listed(faults, speak)}
}

// Listed returns the first faults, as many as a response may hold, and behind them one that counts the rest. A small request
// can have thousands, each with a long hint.
func Listed(faults []Fault, speak *wording.Speaker) []Fault {
	room := mostRefusal
	for i, f := range faults {
		if room -= f.bytes(); room < 0 {
			rest := speak.Exact(float64(len(faults) - i))
			return append(slices.Clip(faults[:i]), NewFault(speak, "", OutOf, rest, "more", rest))
		}
	}
	return faults
}

// bytes returns how many bytes a fault takes as JSON, or a few more.
func (f Fault) bytes() int {
	const around = len(`{"field":"","code":"","given":"","message":"","hint":""},`)
	sum := around + len(f.Code)
	for _, text := range []string{f.Field, f.Given, f.Message, f.Hint} {
		for _, b := range []byte(text) {
			switch {
			case b < ' ', b == '<', b == '>', b == '&':
				sum += len(`\u0000`)
			case b == '"', b == '\\':
				sum += 2
			case b == 0xe2: // U+2028 and U+2029 are escaped, and begin with it
				sum += 4
			default:
				sum++
			}
		}
	}
	return sum
}
