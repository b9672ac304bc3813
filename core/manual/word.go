package manual

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The words that mean something, in English and German, as the trade uses them.
var (
	classNames   = []string{"class", "cl", "grade", "gr", "property", "strength", "klasse", "festigkeitsklasse", "fk"}
	sizeNames    = []string{"thread", "diameter", "dia", "size", "gewinde", "d", "ø"}
	rangeWords   = []string{"to", "bis", "thru", "through", "until", "max", "maximum"}
	itemNames    = []string{"pos", "position", "item", "nr", "ref", "fig", "figure", "bild"}
	betweenWords = []string{"between", "zwischen"}
	andWords     = []string{"and", "und"}
	orWords      = []string{"or", "oder"}
	measureWords = []string{
		"mm", "cm", "m", "in", "inch", "inches", "deg", "degree", "degrees", "pcs", "pc", "off", "x", "hours", "hour", "h", "min",
		"°c", "c", "f", "rpm", "km", "miles", "psi", "bar", "kpa", "stk",
	}
	stageNames    = []string{"stage", "step", "pass", "phase", "stufe", "schritt", "anzugsstufe", "durchgang"}
	severalStages = []string{"stages", "steps", "passes", "phases", "stufen", "schritte", "schritten", "anzugsstufen", "durchgänge"}
	thenWords     = []string{"then", "thereafter", "afterwards", "followed", "dann", "danach", "anschließend", "anschliessend"}
	stageNumbers  = map[string]int{
		"first": 1, "initial": 1, "initially": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "final": lastStage, "finally": lastStage,
		"erste": 1, "erster": 1, "zweite": 2, "zweiter": 2, "dritte": 3, "dritter": 3, "zuerst": 1, "zuletzt": lastStage,
	}
	degreeNames = []string{"deg", "degs", "degree", "degrees", "grad"}
	turnNames   = []string{"turn", "turns", "revolution", "revolutions", "umdrehung", "umdrehungen"}
	turnParts   = map[string]string{"quarter": "0.25", "half": "0.5"}
	// toolNames are parts and tools: an angle beside one is its own, not one that a bolt is turned by.
	toolNames = []string{
		"adapter", "adaptor", "elbow", "bend", "fitting", "extension", "union", "cone", "flare", "chamfer", "countersunk", "countersink",
		"apart", "drive", "wrench", "tool", "crowfoot", "bogen", "winkelstück",
	}
)

// lastStage is the number of a stage called the last one.
const lastStage = 99

// oneOf reports whether a word is in a list, in capitals or not.
func oneOf(list []string, word string) bool { return slices.Contains(list, strings.ToLower(word)) }

// word reads a word and what belongs to it: the number of a stage, "turn" after "a quarter", the size after "No.".
func (x *lexer) word(rest string) (token, int) {
	_, n := utf8.DecodeRuneInString(rest)
	n = lettersFrom(rest, n)
	word := rest[:n]
	if t, n := x.stage(rest, word); n > 0 {
		return t, n
	}
	if part := turnParts[strings.ToLower(word)]; part != "" {
		if tail, by := turnTail(rest[n:]); tail > 0 && by > 1 {
			return ofTurn(part, by), n + tail
		}
	}
	if oneOf(rangeWords, word) {
		return token{kind: aDash, text: word}, n + len(rest[n:]) - len(strings.TrimPrefix(rest[n:], "."))
	}
	if tail := strings.TrimLeft(rest[n:], ". "); strings.EqualFold(word, "no") {
		if t, w := inch("#" + tail); w > 1 {
			t.text = rest[:len(rest)-len(tail)+w-1]
			return t, len(t.text)
		}
	}
	return token{kind: aWord, text: word}, n
}

// stage reads a word that names a stage, and the number after it: stage 1, step #2.
//
// A number with a unit after it is a torque or an angle, not the stage's: "first pass 5 N·m". Only a single digit with no stage named
// before it is the stage's even so: "step 1 N·m".
func (x *lexer) stage(rest, word string) (token, int) {
	lower := strings.ToLower(word)
	unnumbered := token{kind: aStage, text: word}
	switch {
	case stageNumbers[lower] > 0:
		return token{kind: aStage, text: word, stage: stageNumbers[lower]}, len(word)
	case slices.Contains(thenWords, lower):
		return token{kind: aStage, text: word, stage: follows}, len(word)
	case slices.Contains(severalStages, lower):
		return unnumbered, len(word)
	case !slices.Contains(stageNames, lower):
		return token{}, 0
	}
	tail := strings.TrimLeft(rest[len(word):], " .#")
	number, n := integer(tail)
	if n == 0 || n > 2 || number == 0 {
		return unnumbered, len(word)
	}
	behind := tail[n:]
	if c, _ := utf8.DecodeRuneInString(behind); unicode.IsLetter(c) || len(behind) > 1 && strings.ContainsRune(".,/", c) && digit(behind[1]) {
		return unnumbered, len(word)
	}
	if angle, _ := turnTail(behind); (n > 1 || x.staged) && (angle > 0 || x.unitFollows(tail[:n], behind)) {
		return unnumbered, len(word)
	}
	n += len(rest) - len(tail)
	return token{kind: aStage, text: rest[:n], stage: number}, n
}
