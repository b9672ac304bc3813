// Package code reads trouble codes: what the letter and digits mean, which circuit a code names, how that circuit fails, and which
// electrical states set the code with a high-side and with a low-side driver.
package code

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// A Code is a trouble code of five characters, such as P0976. [Read] returns one; the zero Code is none.
type Code struct {
	letter byte   // P, B, C or U
	number uint16 // the four hexadecimal digits after it
}

// A FailureType is the byte that some scan tools show after a code: two hexadecimal digits in capitals; "" is none.
type FailureType string

// A System is a part of the vehicle, as a code's letter names it.
type System string

// The systems.
const (
	Powertrain System = "powertrain"
	Body       System = "body"
	Chassis    System = "chassis"
	Network    System = "network"
)

// An Origin is who defines a code.
type Origin string

// The origins.
const (
	Standard     Origin = "standard"     // the standard: it means the same on every make
	Manufacturer Origin = "manufacturer" // the vehicle's maker
)

// A Fault is the kind of an [Error].
type Fault uint8

// The faults.
const (
	Letter Fault = iota + 1 // does not begin with P, B, C or U
	Short                   // fewer than five characters
	Long                    // more than five characters
	Digit                   // the first digit is not 0 to 3
	Hex                     // the last three are not hexadecimal digits
	Type                    // the failure type is not two hexadecimal digits
)

var wants = [...]string{
	Letter: "P, B, C or U at the beginning",
	Short:  "five characters, such as P0976",
	Long:   "five characters, such as P0976",
	Digit:  "0 to 3 behind the letter",
	Hex:    "three hexadecimal digits at the end",
	Type:   "two hexadecimal digits, such as 11",
}

// An Error is the reason why a text is not a trouble code or a failure type.
type Error struct {
	Fault Fault
	Given string
}

// Error returns the reason in one line of English.
func (e *Error) Error() string {
	return fmt.Sprintf("code: read %q: want %s", e.Given, wants[e.Fault])
}

// Read reads a trouble code, and the failure type if one follows, as in P0976-13, P0976:13 or P097613. It accepts small letters,
// and blanks anywhere. The error is an [*Error] about the first mistake from the left.
func Read(text string) (Code, FailureType, error) {
	head, tail, parted := strings.Cut(squeeze(text), "-")
	if !parted && len(head) == 7 && hexadecimal(head[1:], 6) {
		head, tail, parted = head[:5], head[5:], true
	}
	c, fault := readCode(head)
	if fault != 0 {
		return Code{}, "", &Error{fault, text}
	}
	if !parted {
		return c, "", nil
	}
	if !hexadecimal(tail, 2) {
		return Code{}, "", &Error{Type, text}
	}
	return c, FailureType(tail), nil
}

// ReadFailureType reads a failure type by itself, with or without the hyphen or colon that separates it from a code. The error is
// an [*Error].
func ReadFailureType(text string) (FailureType, error) {
	digits := strings.TrimPrefix(squeeze(text), "-")
	if !hexadecimal(digits, 2) {
		return "", &Error{Type, text}
	}
	return FailureType(digits), nil
}

// squeeze removes blanks, turns small letters into capitals, and dashes and colons into hyphens.
func squeeze(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return -1
		case 'a' <= r && r <= 'z':
			return r - 'a' + 'A'
		case r == ':' || '\u2010' <= r && r <= '\u2015' || r == '\u2212':
			return '-'
		}
		return r
	}, text)
}

// readCode reads a code as squeeze leaves it; the fault is 0 if it is one.
func readCode(s string) (Code, Fault) {
	switch {
	case s == "" || !strings.Contains("PBCU", s[:1]):
		return Code{}, Letter
	case len([]rune(s)) < 5:
		return Code{}, Short
	case len([]rune(s)) > 5:
		return Code{}, Long
	case s[1] < '0' || s[1] > '3':
		return Code{}, Digit
	case !hexadecimal(s[2:], 3):
		return Code{}, Hex
	}
	return Code{s[0], number(s[1:])}, 0
}

// hexadecimal reports whether a text consists of n hexadecimal digits, in capitals.
func hexadecimal(s string, n int) bool {
	return len(s) == n && strings.Trim(s, "0123456789ABCDEF") == ""
}

// number returns the value of at most four hexadecimal digits, which the caller has checked.
func number(s string) uint16 {
	n, _ := strconv.ParseUint(s, 16, 16)
	return uint16(n)
}

// String returns the code's five characters.
func (c Code) String() string { return fmt.Sprintf("%c%04X", c.letter, c.number) }

// System returns what the letter names.
func (c Code) System() System {
	switch c.letter {
	case 'B':
		return Body
	case 'C':
		return Chassis
	case 'U':
		return Network
	}
	return Powertrain
}

// Origin returns who defines the code.
//
//	standard: P0, P2, P34 to P3F, B0, C0, U0, U3; manufacturer: P1, P30 to P33, B1, B2, C1, C2, U1, U2
//
// The standard reserves B3 and C3, so that no maker may use them: they count as standard and are [Code.Reserved]. Source: SAE
// J2012 and ISO 15031-6 as public lists restate them (cartech8.com thread 468765; for the two parts of P3 blog.csdn.net k_XXll
// 141681271); the standards themselves were not available. The lists disagree about U3, see [Code.Shared].
// Checked in code_test.go.
func (c Code) Origin() Origin {
	switch group := c.number >> 12; {
	case group == 1,
		group == 2 && c.letter != 'P',
		group == 3 && c.letter == 'P' && c.number < 0x3400:
		return Manufacturer
	}
	return Standard
}

// Reserved reports whether the standard reserves the code for later use.
func (c Code) Reserved() bool {
	return c.number >= 0x3000 && (c.letter == 'B' || c.letter == 'C')
}

// Shared reports whether published lists disagree about who defines the code: some assign U3 to the standard, others to both the
// standard and the makers.
func (c Code) Shared() bool { return c.number >= 0x3000 && c.letter == 'U' }

// Group returns the digits of the code that tell its origin: the first, or the first two of P3.
func (c Code) Group() string {
	if c.letter == 'P' && c.number >= 0x3000 {
		return c.String()[1:3]
	}
	return c.String()[1:2]
}

// An Area is a field of work, which the third character of a standard powertrain code names.
type Area string

// The areas.
const (
	FuelAir      Area = "fuel_air"
	Injection    Area = "injection"
	Ignition     Area = "ignition"
	Emission     Area = "emission"
	SpeedIdle    Area = "speed_idle"
	Computer     Area = "computer"
	Transmission Area = "transmission"
	Hybrid       Area = "hybrid"
)

// areas holds the area of each third character, 0 to C.
var areas = [...]Area{FuelAir, FuelAir, Injection, Ignition, Emission, SpeedIdle, Computer, Transmission, Transmission, Transmission,
	Hybrid, Hybrid, Hybrid}

// Area returns the field of work of a P0 code; "" for other codes, and if none is published. Source: SAE J2012's groups as service
// literature and public lists restate them (Tonkaman/arduino-OBD2_DTC, README; A to C: arsscriptum/odb2-diagnostic-codes, README).
// Newer editions of the standard no longer group codes, so an area is only a hint.
func (c Code) Area() Area {
	third := int(c.number >> 8)
	if c.letter != 'P' || third >= len(areas) {
		return ""
	}
	return areas[third]
}
