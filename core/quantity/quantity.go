// Package quantity holds the physical quantities of the trade, the one table of their units, and the only code that
// reads or writes them as text.
//
// A quantity is a float64 in the contract's unit (ohm, V, A, degC, K, H, Hz, s, W, J, K/W, N.m, N, mm, mm2, deg, 1). Other units
// occur only where texts are read or written: once a text is read, nothing else in core knows of kilo-ohms or degrees
// Fahrenheit. The types prevent a resistance from being passed as a voltage; they do not catch a product or quotient that is
// converted to the wrong type.
package quantity

import (
	"math"
	"strings"
	"sync"
)

// Resistance is a resistance in ohm. Zero is a dead short. A passive part never has a negative one: the tools refuse it, this
// type does not.
type Resistance float64

// Voltage is a voltage in volt, signed.
type Voltage float64

// Current is a current in ampere, signed.
type Current float64

// Temperature is a point on the Celsius scale, in degC, which specifications use: so 20 degC is exactly 20. A difference of two
// is a [TemperatureDifference].
type Temperature float64

// TemperatureDifference is a difference of two temperatures in kelvin. Converting it adds no offset.
type TemperatureDifference float64

// Inductance is an inductance in henry. A passive part never has a negative one.
type Inductance float64

// Frequency is a number of periods per second, in hertz.
type Frequency float64

// Time is a duration in second, signed.
type Time float64

// Power is a power in watt, signed: power that a part gives off may be negative.
type Power float64

// Energy is an energy in joule, signed.
type Energy float64

// ThermalResistance is the rise in temperature for each watt of heat, in K/W.
type ThermalResistance float64

// Torque is a torque in newton metre, signed. It has the dimension of [Energy] but is another quantity.
type Torque float64

// Force is a force in newton, signed. A bolt's preload is positive.
type Force float64

// Length is a length in millimetre; a coordinate may be negative.
type Length float64

// Area is an area in square millimetre. A force divided by it is a stress in N/mm², which is MPa.
type Area float64

// Angle is a plane angle in degree.
type Angle float64

// Ratio is a number without a unit; 0.1 is 10 per cent.
type Ratio float64

// A Kind names one of the types above where a value is needed: in a declaration and in the table of units. The zero Kind is no
// quantity.
type Kind uint8

// The kinds, one for each type.
const (
	OfResistance Kind = iota + 1
	OfVoltage
	OfCurrent
	OfTemperature
	OfTemperatureDifference
	OfInductance
	OfFrequency
	OfTime
	OfPower
	OfEnergy
	OfThermalResistance
	OfTorque
	OfForce
	OfLength
	OfArea
	OfAngle
	OfRatio
)

// A Unit is one row of the table: the spellings of a unit, and its exact definition in terms of the contract's unit.
//
//	contract value = (written + Before) × Num / Den × 10^Exp
//
// Num, Den and Before are exact as float64s. Before is 0 except for scales with another zero. Exp is a decimal prefix, which
// Parse applies to the digits before any rounding.
type Unit struct {
	Kind   Kind
	Symbol string   // in the contract and in links
	Sign   string   // in texts for people
	Also   []string // other accepted spellings
	Before float64
	Num    float64
	Den    float64
	Exp    int
}

// To converts a value from the contract's unit to u.
//
//	written = value × Den / Num × 10^-Exp − Before
//
// Each step rounds as a float64 does. One of u in the contract's unit is From(1), where Before is 0.
// Checked in units_test.go against GNU units, and in quantity_test.go as the inverse of From.
func (u Unit) To(value float64) float64 { return value*u.Den/u.Num*math.Pow10(-u.Exp) - u.Before }

// From converts a value from u to the contract's unit, by the formula of [Unit]. To read a text use [Parse], which applies Exp
// to the digits and therefore rounds once less.
func (u Unit) From(written float64) float64 {
	return (written + u.Before) * u.Num / u.Den * math.Pow10(u.Exp)
}

// units is the only table of units. The first unit of each kind is the contract's. No spelling occurs in two units of a kind; a
// test checks that. Definitions: SI Brochure (9th ed.) for prefixes and the degree Celsius (t/degC = T/K − 273.15); NIST SP 811,
// B.8, for the degree Fahrenheit (t/degC = (t/degF − 32)/1.8). A pound is exactly 0.453 592 37 kg, an inch 0.0254 m and standard
// gravity 9.806 65 m/s² (NIST SP 811, B.6 and B.8); an ounce is a sixteenth of a pound.
var units = []Unit{
	{OfResistance, "ohm", "Ω", []string{"\u2126", "ohms", "Ohm", "Ohms", "OHM"}, 0, 1, 1, 0},
	{OfResistance, "mohm", "mΩ", []string{"m\u2126", "mohms", "mOhm", "milliohm", "milliohms"}, 0, 1, 1, -3},
	{OfResistance, "kohm", "kΩ", []string{"k\u2126", "KΩ", "K\u2126", "kohms", "kOhm", "Kohm", "KOhm", "kiloohm", "kilohm", "kilohms"},
		0, 1, 1, 3},
	{OfResistance, "Mohm", "MΩ", []string{"M\u2126", "Mohms", "MOhm", "megohm", "megohms"}, 0, 1, 1, 6},

	{OfVoltage, "V", "V", []string{"v", "volt", "volts", "Volt", "Volts"}, 0, 1, 1, 0},
	{OfVoltage, "mV", "mV", []string{"mv", "millivolt", "millivolts"}, 0, 1, 1, -3},

	{OfCurrent, "A", "A", []string{"a", "amp", "amps", "Amp", "Amps", "ampere", "amperes"}, 0, 1, 1, 0},
	{OfCurrent, "mA", "mA", []string{"ma", "milliamp", "milliamps"}, 0, 1, 1, -3},

	{OfTemperature, "degC", "°C", []string{"℃", "º C", "ºC", "° C", "C", "c", "celsius", "Celsius", "deg C"}, 0, 1, 1, 0},
	{OfTemperature, "degF", "°F", []string{"℉", "ºF", "° F", "F", "f", "fahrenheit", "Fahrenheit", "deg F"}, -32, 5, 9, 0},
	{OfTemperature, "K", "K", []string{"kelvin", "kelvins"}, -273.15, 1, 1, 0},

	{OfTemperatureDifference, "K", "°C", []string{"kelvin", "kelvins", "degC", "℃", "C"}, 0, 1, 1, 0},
	{OfTemperatureDifference, "degF", "°F", []string{"℉", "F"}, 0, 5, 9, 0},

	{OfInductance, "H", "H", []string{"henry", "henries", "henrys"}, 0, 1, 1, 0},
	{OfInductance, "mH", "mH", []string{"mh", "millihenry", "millihenries"}, 0, 1, 1, -3},
	{OfInductance, "uH", "µH", []string{"\u03bcH", "uh", "microhenry", "microhenries"}, 0, 1, 1, -6},

	{OfFrequency, "Hz", "Hz", []string{"hz", "HZ", "hertz", "Hertz"}, 0, 1, 1, 0},
	{OfFrequency, "kHz", "kHz", []string{"khz", "KHz", "kilohertz"}, 0, 1, 1, 3},

	{OfTime, "s", "s", []string{"sec", "second", "seconds"}, 0, 1, 1, 0},
	{OfTime, "ms", "ms", []string{"msec", "millisecond", "milliseconds"}, 0, 1, 1, -3},
	{OfTime, "us", "µs", []string{"\u03bcs", "usec", "microsecond", "microseconds"}, 0, 1, 1, -6},

	{OfPower, "W", "W", []string{"w", "watt", "watts", "Watt", "Watts"}, 0, 1, 1, 0},
	{OfPower, "mW", "mW", []string{"mw", "milliwatt", "milliwatts"}, 0, 1, 1, -3},

	{OfEnergy, "J", "J", []string{"joule", "joules"}, 0, 1, 1, 0},
	{OfEnergy, "mJ", "mJ", []string{"millijoule", "millijoules"}, 0, 1, 1, -3},

	{OfThermalResistance, "K/W", "K/W", []string{"degC/W", "°C/W", "C/W", "k/W", "K/w", "k/w"}, 0, 1, 1, 0},

	{OfTorque, "N.m", "N·m", []string{"Nm", "newton metre", "newton meter"}, 0, 1, 1, 0},
	{OfTorque, "cN.m", "cN·m", []string{"cNm", "Ncm", "centinewton metre"}, 0, 1, 1, -2},
	{OfTorque, "daN.m", "daN·m", []string{"daNm", "mdaN", "decanewton metre"}, 0, 1, 1, 1},
	{OfTorque, "lbf.in", "in-lb", []string{"in lbf", "lb in", "inch lb", "lb inch", "in pound", "inch pound", "inch pound force", "pound inch",
		"pound force inch"}, 0, inchPound, 1e16, 0},
	{OfTorque, "lbf.ft", "ft-lb", []string{"ft lbf", "lb ft", "foot lb", "lb foot", "ft pound", "foot pound", "foot pound force", "pound foot",
		"pound force foot"}, 0, 12 * inchPound, 1e16, 0},
	{OfTorque, "ozf.in", "oz-in", []string{"oz in", "in oz", "in ozf", "inch ounce", "ounce inch"}, 0, inchPound, 16e16, 0},
	{OfTorque, "kgf.cm", "kgf·cm", []string{"kg cm", "cm kg", "cm kgf", "kp cm", "cm kp", "kilogram force centimetre"}, 0, 980665, 1e7, 0},
	{OfTorque, "kgf.m", "kgf·m", []string{"kg m", "m kg", "m kgf", "kp m", "m kp", "kilogram force metre"}, 0, 980665, 1e5, 0},

	{OfForce, "N", "N", []string{"newton", "newtons"}, 0, 1, 1, 0},
	{OfForce, "kN", "kN", nil, 0, 1, 1, 3},
	{OfForce, "lbf", "lbf", nil, 0, 44482216152605, 1e13, 0},

	{OfLength, "mm", "mm", []string{"millimetre", "millimetres", "millimeter", "millimeters"}, 0, 1, 1, 0},
	{OfLength, "cm", "cm", []string{"centimetre", "centimetres", "centimeter", "centimeters"}, 0, 1, 1, 1},
	{OfLength, "m", "m", []string{"metre", "metres", "meter", "meters"}, 0, 1, 1, 3},
	{OfLength, "in", "in", []string{"in.", "inch", "inches", "\"", "″", "”"}, 0, 254, 10, 0},
	{OfLength, "ft", "ft", []string{"ft.", "foot", "feet", "'", "′", "’"}, 0, 3048, 10, 0},

	{OfArea, "mm2", "mm²", nil, 0, 1, 1, 0},

	{OfAngle, "deg", "°", []string{"º", "degree", "degrees"}, 0, 1, 1, 0},

	{OfRatio, "1", "", nil, 0, 1, 1, 0},
	{OfRatio, "%", "%", []string{"percent", "per cent"}, 0, 1, 1, -2},
}

// inchPound is a pound-force inch in 1e-16 N·m: 0.453 592 37 kg × 9.806 65 m/s² × 0.0254 m. It is an integer and exact as a float64.
const inchPound = 1129848290276167

// Units returns the units of a kind, the contract's first. The slice is part of the table: do not change it.
func Units(k Kind) []Unit { return byKind[k] }

// byKind holds the units of each kind.
var byKind = func() (cut [OfRatio + 1][]Unit) {
	for i := 0; i < len(units); {
		j := i
		for j < len(units) && units[j].Kind == units[i].Kind {
			j++
		}
		cut[units[i].Kind] = units[i:j:j]
		i = j
	}
	return cut
}()

// unitNamed returns the unit of kind k with that spelling.
func unitNamed(k Kind, name string) (Unit, bool) {
	if k == OfTorque {
		u, ok := torques()[bare(name)]
		return u, ok
	}
	for _, u := range byKind[k] {
		if u.Symbol == name || u.Sign == name {
			return u, true
		}
		for _, a := range u.Also {
			if a == name {
				return u, true
			}
		}
	}
	return Unit{}, false
}

// torques returns the units of torque by spelling, each shortened by [bare]: people write in-lb, in.lbs, IN LB and lbf·in.
var torques = sync.OnceValue(func() map[string]Unit {
	named := map[string]Unit{}
	for _, u := range byKind[OfTorque] {
		for _, name := range append([]string{u.Symbol, u.Sign}, u.Also...) {
			named[bare(name)] = u
		}
	}
	return named
})

// bare shortens the spelling of a product of units: it returns it in lower case, without plurals, and without the blanks, dots,
// hyphens and multiplication signs between the units.
func bare(name string) string {
	between := func(r rune) bool { return strings.ContainsRune(" \u00a0\u202f\t.-\u2010\u2011*x×·⋅∙•", r) }
	words := strings.FieldsFunc(strings.ToLower(name), between)
	for i, w := range words {
		switch w {
		case "inches":
			words[i] = "inch"
		case "feet":
			words[i] = "foot"
		default:
			words[i] = strings.TrimSuffix(w, "s")
		}
	}
	return strings.Join(words, "")
}

// kindsOf returns the kinds that have a unit with that spelling, for errors such as "V is a unit of voltage".
func kindsOf(name string) (kinds []Kind) {
	for k := OfResistance; k <= OfRatio; k++ {
		if _, ok := unitNamed(k, name); ok && name != "" {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// String returns the kind's name in English, for errors of this package. Texts for users come from core/wording.
func (k Kind) String() string {
	switch k {
	case OfResistance:
		return "resistance"
	case OfVoltage:
		return "voltage"
	case OfCurrent:
		return "current"
	case OfTemperature:
		return "temperature"
	case OfTemperatureDifference:
		return "temperature difference"
	case OfInductance:
		return "inductance"
	case OfFrequency:
		return "frequency"
	case OfTime:
		return "time"
	case OfPower:
		return "power"
	case OfEnergy:
		return "energy"
	case OfThermalResistance:
		return "thermal resistance"
	case OfTorque:
		return "torque"
	case OfForce:
		return "force"
	case OfLength:
		return "length"
	case OfArea:
		return "area"
	case OfAngle:
		return "angle"
	case OfRatio:
		return "ratio"
	}
	return "no quantity"
}
