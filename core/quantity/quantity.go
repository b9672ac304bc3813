// Package quantity holds the physical quantities of the trade, the one table of their units, and the only code that
// reads or writes them as text.
//
// A quantity is a float64 in the contract's unit (ohm, V, A, degC, K, H, Hz, s, W, J, K/W, N.m, N, mm, mm2,
// deg, 1). Units exist at the boundary alone: once a text
// is read, nothing else in core knows that kilo-ohms or degrees Fahrenheit exist. The types keep a resistance from being
// passed where a voltage is meant; they do not catch a product or quotient given the wrong name.
package quantity

import (
	"strings"
	"sync"
)

// Resistance is a resistance in ohm. Zero is a dead short; a negative one is no reading of a passive part, which the
// tools refuse and this type does not.
type Resistance float64

// Voltage is a voltage in volt, signed.
type Voltage float64

// Current is a current in ampere, signed.
type Current float64

// Temperature is a point on the Celsius scale, in degC. It is kept in degC, the unit of every specification, so that a
// typed 20 degC is exactly 20. A difference of two is a [TemperatureDifference].
type Temperature float64

// TemperatureDifference is a difference of two temperatures in kelvin: no offset applies when its unit changes.
type TemperatureDifference float64

// Inductance is an inductance in henry. A negative one does not exist in a passive part.
type Inductance float64

// Frequency is a number of periods a second, in hertz.
type Frequency float64

// Time is a duration in second, signed.
type Time float64

// Power is a power in watt, signed: what flows out of a part is negative where a formula says so.
type Power float64

// Energy is an energy in joule, signed.
type Energy float64

// ThermalResistance is how much warmer a part is for each watt that it turns into heat, in K/W.
type ThermalResistance float64

// Torque is a torque in newton metre, signed. It is no [Energy], though its dimension is the same.
type Torque float64

// Force is a force in newton, signed: a bolt's preload pulls.
type Force float64

// Length is a length in millimetre, signed where it is a place.
type Length float64

// Area is an area in square millimetre, so that a force over it is a stress in N/mm² or MPa.
type Area float64

// Angle is a plane angle in degree, as a protractor shows it.
type Angle float64

// Ratio is a pure number; 0.1 is ten per cent.
type Ratio float64

// A Kind says which quantity a number is, where the type of the number cannot: in a declaration and in the unit table.
// The zero Kind is no quantity.
type Kind uint8

// The kinds, one for each type above.
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

// A Unit is one row of the table: how a unit is written, and its exact definition in terms of the contract's unit.
//
//	contract value = (written + Before) × Num / Den × 10^Exp
//
// Num, Den and Before are exact as float64s (Before is the zero of another scale), Exp is a decimal prefix, which the
// parser applies to the decimal digits before any rounding.
type Unit struct {
	Kind   Kind
	Symbol string   // as the contract and a link write it
	Sign   string   // as a person reads it
	Also   []string // other spellings that are read
	Before float64
	Num    float64
	Den    float64
	Exp    int
}

// units is the one table of units. The first of each kind is the contract's unit. A spelling stands in one row of its
// kind only; a test holds that. Definitions: SI Brochure (9th ed.) for prefixes and the degree Celsius (t/degC =
// T/K − 273.15); the degree Fahrenheit by NIST SP 811 B.8: t/degC = (t/degF − 32)/1.8. The pound is 0.453 592 37 kg, the inch
// 0.0254 m, standard gravity 9.806 65 m/s², each exactly (NIST SP 811, B.6 and B.8), and an ounce the sixteenth of a pound.
var units = []Unit{
	{OfResistance, "ohm", "Ω", []string{"\u2126", "ohms", "Ohm", "Ohms", "OHM"}, 0, 1, 1, 0},
	{OfResistance, "mohm", "mΩ", []string{"m\u2126", "mohms", "mOhm", "milliohm", "milliohms"}, 0, 1, 1, -3},
	{OfResistance, "kohm", "kΩ", []string{"k\u2126", "KΩ", "K\u2126", "kohms", "kOhm", "Kohm", "KOhm", "kiloohm", "kilohm", "kilohms"}, 0, 1, 1, 3},
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
	{OfTorque, "lbf.in", "in-lb", []string{"in lbf", "lb in", "inch lb", "lb inch", "in pound", "inch pound", "inch pound force", "pound inch", "pound force inch"}, 0, inchPound, 1e16, 0},
	{OfTorque, "lbf.ft", "ft-lb", []string{"ft lbf", "lb ft", "foot lb", "lb foot", "ft pound", "foot pound", "foot pound force", "pound foot", "pound force foot"}, 0, 12 * inchPound, 1e16, 0},
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

// inchPound is a pound-force inch, 0.453 592 37 kg × 9.806 65 m/s² × 0.0254 m, in 1e-16 N·m: an integer, exact as a float64.
const inchPound = 1129848290276167

// Units returns the units of a kind, the contract's first. The slice is the table's own: read it only.
func Units(k Kind) []Unit { return byKind[k] }

// byKind is the table cut by kind.
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

// unitNamed finds the unit of kind k that is written so.
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

// torques are the units of torque by their spellings as [bare] leaves them: people write in-lb, in.lbs, IN LB and lbf·in.
var torques = sync.OnceValue(func() map[string]Unit {
	named := map[string]Unit{}
	for _, u := range byKind[OfTorque] {
		for _, name := range append([]string{u.Symbol, u.Sign}, u.Also...) {
			named[bare(name)] = u
		}
	}
	return named
})

// bare is the spelling of a product of units without what stands between them: in lower case, blanks, dots, hyphens and times
// signs taken out, and the plural with them.
func bare(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" \u00a0\u202f\t.-\u2010\u2011*x×·⋅∙•", r) })
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

// kindsOf names the kinds that a spelling is a unit of, to say "V is a unit of voltage" where ohms are asked for.
func kindsOf(name string) (kinds []Kind) {
	for k := OfResistance; k <= OfRatio; k++ {
		if _, ok := unitNamed(k, name); ok && name != "" {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// String names the kind in English, for an error of this package. The words a user reads are worded elsewhere.
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
