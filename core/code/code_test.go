package code

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/testdata"
)

func TestRead(t *testing.T) {
	for _, given := range []string{"P0976", "p0976", " P0976 ", "P 0976", "p 09 76", "P0976\u00a0", "\tP0976\n"} {
		c, f, err := Read(given)
		require.NoError(t, err, given)
		assert.Equal(t, "P0976", c.String(), given)
		assert.Empty(t, f, given)
	}
	for _, given := range []string{"P0976-1B", "p0976-1b", "P0976:1B", "P0976 - 1B", "P0976 1B", "P09761B", "P0976–1B", "P0976−1b"} {
		c, f, err := Read(given)
		require.NoError(t, err, given)
		assert.Equal(t, "P0976", c.String(), given)
		assert.Equal(t, FailureType("1B"), f, given)
	}
	for given, want := range map[string]Fault{
		"": Letter, " ": Letter, "-": Letter, "-13": Letter, "Q0976": Letter, "0976": Letter, "Π0976": Letter, "\xff0976": Letter,
		"0P976": Letter, "P": Short, "P097": Short, "P09760": Long, "P0976000": Long, "P-0976": Short, "P09761B0": Long,
		"P09761G": Long, "P０９７６x": Long,
		"PO976": Digit, "P4976": Digit, "U9000": Digit, "P-976": Short, "P０976": Digit,
		"P0G76": Hex, "P097O": Hex, "P097é": Hex, "P0976-": Type, "P0976-1": Type, "P0976-1G": Type, "P0976-111": Type,
		"P0976--13": Type, "P0976-13-14": Type, "P０9Z": Short,
	} {
		_, f, err := Read(given)
		var e *Error
		if assert.True(t, errors.As(err, &e), "%q", given) {
			assert.Equal(t, want, e.Fault, "%q: %v", given, err)
		}
		assert.Empty(t, f)
	}
	_, _, err := Read("Q0976")
	assert.EqualError(t, err, `code: read "Q0976": want P, B, C or U at the beginning`)
}

func TestReadFailureType(t *testing.T) {
	for given, want := range map[string]FailureType{"13": "13", " 1b ": "1B", "-13": "13", ":7F": "7F", "1 3": "13", "FF": "FF"} {
		f, err := ReadFailureType(given)
		require.NoError(t, err, given)
		assert.Equal(t, want, f, given)
	}
	for _, given := range []string{"", " ", "1", "133", "1G", "--13", "0x13", "é", "open"} {
		_, err := ReadFailureType(given)
		var e *Error
		assert.True(t, errors.As(err, &e) && e.Fault == Type, "%q", given)
	}
}

// TestStructure compares the structure of codes with what is published about SAE J2012 and ISO 15031-6.
//
//	letters: lemon-manuals.org.ua, "DTC Format": P powertrain, C chassis, B body, U network
//	B, C 0 controlled by ISO/SAE, 1 and 2 by the manufacturer, 3 reserved by document; U 0, 1 and 2 the same; P 0 and 2
//	controlled by ISO/SAE, 1 by the manufacturer: cartech8.com, thread 468765
//	P3000 to P33FF the manufacturer's, P3400 to P3FFF ISO/SAE's: blog.csdn.net k_XXll 141681271
//	U3: "manufacturer controlled and ISO/SAE reserved" in cartech8, ISO/SAE's in others: shared
func TestStructure(t *testing.T) {
	for letter, want := range map[string]System{"P": Powertrain, "B": Body, "C": Chassis, "U": Network} {
		c, _, err := Read(letter + "0123")
		require.NoError(t, err)
		assert.Equal(t, want, c.System())
	}
	for want, list := range map[Origin]string{
		Standard:     "P0000 P0FFF P2000 P2FFF P3400 P3FFF B0000 B0FFF C0000 C0FFF U0000 U0FFF B3000 B3FFF C3000 C3FFF U3000 U3FFF",
		Manufacturer: "P1000 P1FFF P3000 P33FF B1000 B1FFF B2000 B2FFF C1000 C1FFF C2000 C2FFF U1000 U1FFF U2000 U2FFF",
	} {
		for _, given := range strings.Fields(list) {
			c, _, err := Read(given)
			require.NoError(t, err)
			assert.Equal(t, want, c.Origin(), given)
			assert.Equal(t, given[:2] == "B3" || given[:2] == "C3", c.Reserved(), given)
			assert.Equal(t, given[:2] == "U3", c.Shared(), given)
		}
	}
	for given, want := range map[string]string{"P0976": "0", "P1700": "1", "P3055": "30", "P3A00": "3A", "B1234": "1", "U3003": "3"} {
		c, _, err := Read(given)
		require.NoError(t, err)
		assert.Equal(t, want, c.Group(), given)
	}
}

// TestArea checks the areas. Sources: Tonkaman/arduino-OBD2_DTC, README, for 0 to 9; arsscriptum/odb2-diagnostic-codes, README, for
// A to C.
func TestArea(t *testing.T) {
	for digit, want := range map[string]Area{
		"0": FuelAir, "1": FuelAir, "2": Injection, "3": Ignition, "4": Emission, "5": SpeedIdle, "6": Computer,
		"7": Transmission, "8": Transmission, "9": Transmission, "A": Hybrid, "B": Hybrid, "C": Hybrid, "D": "", "E": "", "F": "",
	} {
		c, _, err := Read("P0" + digit + "00")
		require.NoError(t, err)
		assert.Equal(t, want, c.Area(), digit)
	}
	for _, given := range []string{"P1700", "P2700", "P3400", "B0100", "C0700", "U0900"} {
		c, _, err := Read(given)
		require.NoError(t, err)
		assert.Empty(t, c.Area(), given)
	}
}

// TestEveryRow checks that the table has exactly the codes of testdata/codes.tsv, with the same circuits and failures.
func TestEveryRow(t *testing.T) {
	rows := testdata.Codes()
	require.Len(t, rows, 463)
	in := map[string]bool{}
	for _, row := range rows {
		require.False(t, in[row.Code], row.Code)
		in[row.Code] = true
		c, _, err := Read(row.Code)
		require.NoError(t, err, row.Code)
		e, ok := c.Find()
		assert.True(t, ok, row.Code)
		assert.Equal(t, Entry{row.Circuit, Failure(row.Failure)}, e, row.Code)
		assert.NotEqual(t, nothing, e.Failure.kind(), row.Code)
		assert.Equal(t, Standard, c.Origin(), "%s is in the table of standard codes", row.Code)
	}
	found := 0
	for _, letter := range "PBCU" {
		for n := range 0x4000 {
			c, _, err := Read(fmt.Sprintf("%c%04X", letter, n))
			require.NoError(t, err)
			if _, ok := c.Find(); ok {
				found++
			}
		}
	}
	assert.Equal(t, len(rows), found)
}

// TestEveryFailureType checks that the known failure types are those of testdata/failure-types.tsv.
func TestEveryFailureType(t *testing.T) {
	rows := testdata.FailureTypes()
	require.Len(t, rows, 23)
	for _, row := range rows {
		f, err := ReadFailureType(row.Hex)
		require.NoError(t, err)
		assert.True(t, f.Known(), row.Hex)
	}
	known := 0
	for n := range 256 {
		if FailureType(fmt.Sprintf("%02X", n)).Known() {
			known++
		}
	}
	assert.Equal(t, len(rows), known)
	assert.False(t, FailureType("").Known())
}

// FuzzRead checks that any text is either read as a code that is read back from its String, or refused with a complete error.
func FuzzRead(f *testing.F) {
	for _, given := range []string{"P0976", "p0976-13", "U3003:7f", "P09761B", "Q0976", "P0976-", "PO976", "", "b 1 2 3 4 – 5 6", "\xff\x00"} {
		f.Add(given)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, ft, err := Read(text)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Fault == 0 || e.Given != text || wants[e.Fault] == "" {
				t.Fatalf("%q: an incomplete error: %#v", text, err)
			}
			return
		}
		plain := c.String()
		if len(plain) != 5 || ft != "" && len(ft) != 2 {
			t.Fatalf("%q is read as %q and %q", text, plain, ft)
		}
		if ft != "" {
			plain += "-" + string(ft)
		}
		again, ft2, err := Read(plain)
		if err != nil || again != c || ft2 != ft {
			t.Fatalf("%q is read as %q, and that as %v %v: %v", text, plain, again, ft2, err)
		}
		e, known := c.Find()
		if known != (e.Circuit != "") || known && c.Origin() != Standard {
			t.Fatalf("%q: the table has %+v", text, e)
		}
		checkMeaning(t, e, ft)
	})
}
