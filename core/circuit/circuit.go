// Package circuit is a solenoid circuit: its faults, the tests that are made on it, and what each of them reads.
//
// The circuit is a chain: the control unit with its own feed and ground, driver, unit connector, harness, component connector,
// inner lead, winding, return path. A [Fault] changes one part of it, by a parameter that has a distribution. In each [Test] the
// chain, with the plugs connected or pulled as that test needs, is a network of resistors, solved by nodal analysis. A [Model]
// holds what is assumed of a circuit, and what nobody knows exactly. How likely readings are under each fault is weighed in
// core/evidence; which part is at fault, and what to measure next, follows in core/diagnosis.
//
// The chain, its healthy resistances, the weights, minutes and thresholds are common practice; a [Model] can change them.
// The package ignores inductance, and has one fault at a time unless it is asked for a chain with two.
package circuit

// A Side is the end of the winding that the control unit switches.
type Side uint8

// High: the control unit feeds the pin, and the far end goes to ground. Low: the far end is fed, and the control unit grounds
// the pin.
const (
	High Side = iota
	Low
)

// A Return is how the far end is connected.
type Return uint8

// Wire: through a pin of the component's connector. Case: through the component's case, which is ground; only on the high
// side.
const (
	Wire Return = iota
	Case
)

// A Code is the kind of trouble code that the control unit has stored. The zero Code is none.
type Code uint8

// The kinds of code.
const (
	NoCode Code = iota
	CodeLow
	CodeHigh
	CodeOpen
	CodeRange
	Codes int = iota
)

var codeNames = [Codes]string{"", "low", "high", "open", "range"}

// String returns the kind's name in the contract.
func (c Code) String() string { return codeNames[c] }

// A Stage is what the driver does when its current grows. The zero Stage is not known.
type Stage uint8

// The stages.
const (
	AnyStage  Stage = iota
	Plain           // fully on, whatever flows
	Protected       // switches off above its limit, for good or trying again
	Regulated       // holds a set current by pulsing
	Stages    int   = iota
)

var stageNames = [Stages]string{"unknown", "plain", "protected", "regulated"}

// String returns the stage's name in the contract.
func (s Stage) String() string { return stageNames[s] }

// Presence says whether the complaint shows while the circuit is measured. The zero Presence is not known.
type Presence uint8

// The answers.
const (
	MayShow Presence = iota
	Shows
	ShowsNot
	Presences int = iota
)

var presenceNames = [Presences]string{"unknown", "yes", "no"}

// String returns the answer's name in the contract.
func (p Presence) String() string { return presenceNames[p] }
