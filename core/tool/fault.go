package tool

import (
	"strconv"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// A Code is the kind of a fault of a request, as the contract names it.
type Code string

// The codes.
const (
	Missing   Code = "missing"
	Unknown   Code = "unknown"
	Syntax    Code = "syntax"
	WrongUnit Code = "unit"
	OutOf     Code = "range"
	Ambiguous Code = "ambiguous"
	Conflict  Code = "conflict"
	// Broken is a fault of the program and not of the request.
	Broken Code = "program"
)

// A Fault is one thing wrong with a request: where, what was given, what is wrong, and what to do next.
type Fault struct {
	Field   string `json:"field"`
	Code    Code   `json:"code"`
	Given   string `json:"given"`
	Message string `json:"message"`
	Hint    string `json:"hint"`
}

// faults collects them.
type faults struct {
	speak *wording.Speaker
	list  []Fault
}

func (f *faults) say(key string, args ...any) string { return f.speak.Say(key, args...) }

// add words a fault from fault.KEY, and its hint from fault.KEY.hint; both get the arguments. What was given is shortened
// here, for every caller.
func (f *faults) add(fault Fault, key string, args ...any) {
	fault.Given = quantity.Clip(fault.Given)
	fault.Message = f.say("fault."+key, args...)
	fault.Hint = f.say("fault."+key+".hint", args...)
	f.list = append(f.list, fault)
}

// conflict adds a fault between fields.
func (f *faults) conflict(field, given, key string, args ...any) {
	f.add(Fault{Field: field, Code: Conflict, Given: given}, key, args...)
}

// outOf adds a fault of a value beyond what makes sense beside other fields.
func (f *faults) outOf(field, given, key string, args ...any) {
	f.add(Fault{Field: field, Code: OutOf, Given: given}, key, args...)
}

// quantity adds the fault of a text that is no quantity.
func (f *faults) quantity(path string, e *quantity.Error) {
	units := strings.Join(e.Want, ", ")
	if e.Kind == quantity.OfTorque { // as wrenches are marked; both are read
		units = ""
		for i, u := range quantity.Units(e.Kind) {
			if i > 0 {
				units += ", "
			}
			units += u.Sign
		}
	}
	example := sampleOf(e.Kind)
	fault := Fault{Field: path, Given: e.Given}
	kind := f.say("kind." + strconv.Itoa(int(e.Kind)))
	switch e.Fault {
	case quantity.Empty:
		fault.Code = Missing
		f.add(fault, "empty", example)
	case quantity.NoUnit:
		fault.Code = WrongUnit
		f.add(fault, "nounit", e.Given, e.Given+" "+e.Want[0], units)
	case quantity.WrongUnit:
		fault.Code = WrongUnit
		if len(e.Is) > 0 {
			f.add(fault, "otherunit", e.Given, f.say("kind."+strconv.Itoa(int(e.Is[0]))), kind, units)
		} else if half := strings.ToLower(strings.TrimSuffix(e.Unit, "s")); e.Kind == quantity.OfTorque && (half == "lb" || half == "kg" || half == "lbf" || half == "kgf") {
			f.add(fault, "unit_half", e.Given, e.Unit)
		} else {
			f.add(fault, "unit", e.Given, e.Unit, units)
		}
	case quantity.Ambiguous:
		fault.Code = Ambiguous
		f.add(fault, "ambiguous", e.Given, e.Reads[0], e.Reads[1])
	case quantity.TooLarge:
		fault.Code = OutOf
		f.add(fault, "huge", e.Given, example)
	default:
		fault.Code = Syntax
		f.add(fault, "syntax", e.Given, kind, example)
	}
}

// sampleOf is a well-written quantity of a kind, to show in a hint.
func sampleOf(k quantity.Kind) string {
	switch k {
	case quantity.OfResistance:
		return "9.7 ohm"
	case quantity.OfVoltage:
		return "13.8 V"
	case quantity.OfCurrent:
		return "1.65 A"
	case quantity.OfTemperature:
		return "24 degC"
	case quantity.OfTemperatureDifference:
		return "2 K"
	case quantity.OfInductance:
		return "12 mH"
	case quantity.OfFrequency:
		return "300 Hz"
	case quantity.OfTime:
		return "2 ms"
	case quantity.OfPower:
		return "9 W"
	case quantity.OfEnergy:
		return "5 mJ"
	case quantity.OfThermalResistance:
		return "12 K/W"
	case quantity.OfTorque:
		return "10 N.m"
	case quantity.OfForce:
		return "9 kN"
	case quantity.OfLength:
		return "12 mm"
	case quantity.OfArea:
		return "20 mm2"
	case quantity.OfAngle:
		return "45 deg"
	}
	return "10 %"
}

// NewFault words a fault found outside a request, such as in a link; its words are those of fault.KEY.
func NewFault(speak *wording.Speaker, field string, code Code, given, key string, args ...any) Fault {
	f := &faults{speak: speak}
	f.add(Fault{Field: quantity.Clip(field), Code: code, Given: given}, key, args...)
	return f.list[0]
}
