package recording

import "strconv"

// A FaultKind says why a text is not a recording. Code compares kinds, never the text of an error.
type FaultKind uint8

const (
	TooLong      FaultKind = iota + 1 // more than MaxBytes
	TooMany                           // more than MaxSamples
	Empty                             // nothing but white space
	OneColumn                         // one number a line: time or current is missing
	NotNumber                         // Given is no number, or the cell is empty or missing
	OutOfRange                        // not finite, beyond 1e12 s or A, or a step of time below 1 ps
	NotSorted                         // a time earlier than the one of the line before
	RepeatedTime                      // the same time as in the line before
	AllZero                           // no current anywhere
	TooFew                            // fewer than MinSamples; Given is how many
	NoColumn                          // there is no such column, or both are asked for in the same one
	UnknownUnit                       // Given is no unit of time, current or voltage; Want lists the known ones
	NeedsProbe                        // the column is in volts: the volts per ampere of the clamp are needed
	Ambiguous                         // there are two ways to read it, both in Reads
)

var faultNames = [...]string{"", "too long", "too many samples", "empty", "one column", "not a number", "out of range", "not sorted",
	"repeated time", "all zero", "too few samples", "no such column", "unknown unit", "needs the clamp's volts per ampere", "ambiguous"}

// String returns the kind in English, for an error that users do not see.
func (k FaultKind) String() string {
	if int(k) < len(faultNames) {
		return faultNames[k]
	}
	return ""
}

// A Fault says what is wrong and where. Line and Column count from 1; 0 means the whole text.
type Fault struct {
	Kind         FaultKind
	Line, Column int
	Given        string    // the cell, shortened
	Before       string    // NotSorted, RepeatedTime: the time of the line before
	Reads        [2]string // Ambiguous: the two readings, in plain form
	Want         []string  // UnknownUnit: what would be right
	Name         string    // UnknownUnit, NeedsProbe: the column's header
}

// Error returns the fault as one line of English.
func (f *Fault) Error() string {
	s := "recording: read"
	if f.Line > 0 {
		s += " line " + strconv.Itoa(f.Line)
	}
	if f.Column > 0 {
		s += " column " + strconv.Itoa(f.Column)
	}
	s += ": " + f.Kind.String()
	if f.Given != "" {
		s += ": " + strconv.Quote(f.Given)
	}
	if f.Before != "" {
		s += " after " + strconv.Quote(f.Before)
	}
	if f.Kind == Ambiguous {
		s += " can be read as " + f.Reads[0] + " or as " + f.Reads[1]
	}
	return s
}
