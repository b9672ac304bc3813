// Package code reads a trouble code: what its letter and digits say, which circuit of the table it names, how that
// fails, and which electrical states set it at a high-side and at a low-side driver.
package code

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// A Code is a trouble code of five characters, such as P0976. The zero Code is none; [Read] makes them.
type Code struct {
	letter byte   // P, B, C or U
	number uint16 // the four digits behind it, hexadecimal
}

// A FailureType is the byte that some scan tools show behind a code: two hexadecimal digits, capital; "" is none.
type FailureType string

// A System is the part of the vehicle that a code's letter names.
type System string

// The systems.
const (
	Powertrain System = "powertrain"
	Body       System = "body"
	Chassis    System = "chassis"
	Network    System = "network"
)

// An Origin says who gives a code its meaning.
type Origin string

// The origins.
const (
	Standard     Origin = "standard"     // the same on every make
	Manufacturer Origin = "manufacturer" // the maker's own
)

// A Fault is the kind of an [Error].
type Fault uint8

// The faults.
const (
	Letter Fault = iota + 1 // does not begin with P, B, C or U
	Length                  // not five characters
	Digit                   // the first digit is not 0 to 3
	Hex                     // the last three are not hexadecimal digits
	Type                    // the failure type is not two hexadecimal digits
)

var wants = [...]string{
	Letter: "P, B, C or U at the beginning",
	Length: "five characters, such as P0976",
	Digit:  "0 to 3 behind the letter",
	Hex:    "three hexadecimal digits at the end",
	Type:   "two hexadecimal digits, such as 11",
}

// An Error says what is wrong with a text that is no trouble code or no failure type.
type Error struct {
	Fault Fault
	Given string
}

func (e *Error) Error() string {
	return fmt.Sprintf("code: read %q: want %s", e.Given, wants[e.Fault])
}

// Read reads a trouble code, and the failure type if it stands behind it as in P0976-13, P0976:13 or P097613. Small
// letters and blanks anywhere are taken. The error is an [*Error]: of the first thing wrong, from the left.
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

// ReadFailureType reads a failure type by itself, with or without the mark that sets it apart from its code. The error is
// an [*Error].
func ReadFailureType(text string) (FailureType, error) {
	digits := strings.TrimPrefix(squeeze(text), "-")
	if !hexadecimal(digits, 2) {
		return "", &Error{Type, text}
	}
	return FailureType(digits), nil
}

// squeeze drops blanks, makes small letters capital and writes every dash and colon as a hyphen.
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

func readCode(s string) (Code, Fault) {
	switch {
	case s == "" || !strings.Contains("PBCU", s[:1]):
		return Code{}, Letter
	case len([]rune(s)) != 5:
		return Code{}, Length
	case s[1] < '0' || s[1] > '3':
		return Code{}, Digit
	case !hexadecimal(s[2:], 3):
		return Code{}, Hex
	}
	return Code{s[0], number(s[1:])}, 0
}

// hexadecimal says whether a text is n capital hexadecimal digits.
func hexadecimal(s string, n int) bool {
	return len(s) == n && strings.Trim(s, "0123456789ABCDEF") == ""
}

// number is the value of hexadecimal digits that were seen to be four at most.
func number(s string) uint16 {
	n, _ := strconv.ParseUint(s, 16, 16)
	return uint16(n)
}

// String writes the code in five characters.
func (c Code) String() string { return fmt.Sprintf("%c%04X", c.letter, c.number) }

// System is what the letter names.
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

// Origin is who gives the code its meaning.
//
//	standard: P0, P2, P34 to P3F, B0, C0, U0, U3; manufacturer: P1, P30 to P33, B1, B2, C1, C2, U1, U2
//
// B3 and C3 are held back by the standard, so that no maker may use them: they are standard and [Code.Reserved]. Source:
// SAE J2012 and ISO 15031-6 as public lists restate them (cartech8.com thread 468765; for the two parts of P3
// blog.csdn.net k_XXll 141681271); the standards themselves were not at hand. Of U3 the lists differ, see [Code.Shared].
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

// Reserved says whether the standard holds the code back for later.
func (c Code) Reserved() bool {
	return c.number >= 0x3000 && (c.letter == 'B' || c.letter == 'C')
}

// Shared says whether the published lists differ on who gives the code its meaning: U3 is the standard's by some, the
// standard's and the makers' by others.
func (c Code) Shared() bool { return c.number >= 0x3000 && c.letter == 'U' }

// Group is the piece of the code that says its origin: the first digit, of P3 the first two.
func (c Code) Group() string {
	if c.letter == 'P' && c.number >= 0x3000 {
		return c.String()[1:3]
	}
	return c.String()[1:2]
}

// An Area is the field of work that the third character of a standard powertrain code names.
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

var areas = [...]Area{FuelAir, FuelAir, Injection, Ignition, Emission, SpeedIdle, Computer, Transmission, Transmission, Transmission, Hybrid, Hybrid, Hybrid}

// Area is the field of work of a P0 code; "" for any other, and where none is published. Source: SAE J2012's groups as
// service literature and public lists restate them (Tonkaman/arduino-OBD2_DTC, README; A to C: arsscriptum/
// odb2-diagnostic-codes, README). Newer editions of the standard no longer group codes: an area is a hint.
func (c Code) Area() Area {
	third := int(c.number >> 8)
	if c.letter != 'P' || third >= len(areas) {
		return ""
	}
	return areas[third]
}
