// Package worksheet is the sheet that a class works on: what each student is given, what is right, and how what they hand in is marked.
//
// A sheet has questions of a few kinds, each at one of three levels. What a student is given follows from the sheet and the student's
// name, by a draw in whole numbers that has a version: it is the same on every device and in every language, another one for the
// neighbour, and equally hard for both: the same verdict in as many steps, and no value near a border ([Task.Check], [Hidden.Check]).
// Nothing here words anything; a tool does.
package worksheet

import (
	"strings"

	"ohmwright/core/spelling"
)

// Drawing is the latest version of the draw. What a sheet gives a name never changes: another way of drawing is another version. From 2 on
// no stored code names the repair that mends a hidden fault; figures are as in 1.
const Drawing = 2

// A Kind is what a question is about.
type Kind uint8

// The kinds. The first two hide a fault; the others ask for a figure and what it means.
const (
	FaultHigh Kind = iota
	FaultLow
	HotWinding
	Rows
	KnownGood
	Adapter
	Pulsed
	Kinds int = iota
)

var kindNames = [Kinds]string{"fault_high", "fault_low", "hot_winding", "rows", "known_good", "adapter", "pulsed"}

// String returns the kind's name in a request.
func (k Kind) String() string { return kindNames[k] }

// Hides reports whether a question of this kind hides a fault; otherwise it asks for a figure.
func (k Kind) Hides() bool { return k <= FaultLow }

// A Level is how much a question asks for: 1, 2 or 3.
type Level uint8

// Levels is the number of levels.
const Levels = 3

// String returns the level's name in a request.
func (l Level) String() string { return string('0' + rune(l)) }

// A Question is one question of a sheet.
type Question struct {
	Kind  Kind
	Level Level
}

// A Sheet is what a teacher hands out, as far as it decides what a student is given and how that is marked.
type Sheet struct {
	Questions []Question
	Series    string  // another one gives everyone other figures
	Tolerance float64 // of a value, as a share of it
	Drawing   int     // the version of its draw
}

// Plain returns a name as the draw takes it: see [spelling.Plain].
func Plain(name string) string { return spelling.Plain(name) }

// key returns what the draw of a question starts from, in every version. Two questions of one kind and level on a sheet differ by their
// number.
func (s Sheet) key(i int, name string) string {
	q, again := s.Questions[i], 0
	for _, before := range s.Questions[:i] {
		if before == q {
			again++
		}
	}
	return strings.Join([]string{"worksheet", "1", q.Kind.String(), q.Level.String(), string('0' + rune(again)),
		Plain(s.Series), name}, "\x00")
}

// Task returns what question i gives a student, if it asks for a figure.
func (s Sheet) Task(i int, name string) Task {
	q := s.Questions[i]
	verdict := drawn(s.key(i, ""), "verdict")
	return draws[q.Kind](q.Level, verdict.below, drawn(s.key(i, Plain(name)), "student"))
}

// draws are the ways to draw a task, by its kind.
var draws = [Kinds]func(level Level, verdict func(n int) int, d draw) Task{
	HotWinding: hotWinding, Rows: rows, KnownGood: knownGood, Adapter: adapter, Pulsed: pulsed,
}
