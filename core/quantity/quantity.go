// Package quantity holds the physical quantities of the trade, the one table of their units, and the only code that
// reads or writes them as text.
//
// A quantity is a float64 in the contract's unit (ohm, V, A, degC, K, H, Hz, s, W, J, K/W, 1). Units exist at the boundary alone: once a text
// is read, nothing else in core knows that kilo-ohms or degrees Fahrenheit exist. The types keep a resistance from being
// passed where a voltage is meant; they do not catch a product or quotient given the wrong name.
package quantity

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
// T/K − 273.15); the degree Fahrenheit by NIST SP 811 B.8: t/degC = (t/degF − 32)/1.8.
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

	{OfRatio, "1", "", nil, 0, 1, 1, 0},
	{OfRatio, "%", "%", []string{"percent", "per cent"}, 0, 1, 1, -2},
}

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
	case OfRatio:
		return "ratio"
	}
	return "no quantity"
}
