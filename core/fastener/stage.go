package fastener

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ohmwright/core/quantity"
)

// Words of stages and angles, in English and German; the trade's.
var (
	stageNamed    = []string{"stage", "step", "pass", "phase", "stufe", "schritt", "anzugsstufe", "durchgang"}
	severalStages = []string{"stages", "steps", "passes", "phases", "stufen", "schritte", "schritten", "anzugsstufen", "durchgänge"}
	thenNamed     = []string{"then", "thereafter", "afterwards", "followed", "dann", "danach", "anschließend", "anschliessend"}
	stageNumbers  = map[string]int{"first": 1, "initial": 1, "initially": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "final": lastStage, "finally": lastStage, "erste": 1, "erster": 1, "zweite": 2, "zweiter": 2, "dritte": 3, "dritter": 3, "zuerst": 1, "zuletzt": lastStage}
	degreeNamed   = []string{"deg", "degs", "degree", "degrees", "grad"}
	turnNamed     = []string{"turn", "turns", "revolution", "revolutions", "umdrehung", "umdrehungen"}
	// fittings are what an angle beside them is of.
	fittings = []string{"adapter", "adaptor", "elbow", "bend", "fitting", "extension", "union", "cone", "flare", "chamfer", "countersunk", "countersink", "apart", "drive", "wrench", "tool", "crowfoot", "bogen", "winkelstück"}
)

// lastStage is the number of a stage that is called the last.
const lastStage = 99

// An angleAt is an angle and where it stands.
type angleAt struct {
	at      int // token
	degrees quantity.Angle
}

// stage reads a word that names a stage, with the number behind it: stage 1, step #2. A number that has a unit behind it is a torque, or
// an angle, but for a digit in "step 1 N·m", where no number of the stage stands before: "first pass 5 N·m".
func (r *tableReader) stage(rest, word string) (token, int) {
	lower := strings.ToLower(word)
	if number := stageNumbers[lower]; number > 0 {
		return token{kind: aStage, text: word, stage: number}, len(word)
	}
	switch {
	case slices.Contains(thenNamed, lower):
		return token{kind: aStage, text: word, stage: follows}, len(word)
	case slices.Contains(severalStages, lower):
		return token{kind: aStage, text: word}, len(word)
	case !slices.Contains(stageNamed, lower):
		return token{}, 0
	}
	tail := strings.TrimLeft(rest[len(word):], " .#")
	number, n := integer(tail)
	if n == 0 || n > 2 || number == 0 {
		return token{kind: aStage, text: word}, len(word)
	}
	behind := tail[n:]
	if c, _ := utf8.DecodeRuneInString(behind); unicode.IsLetter(c) || len(behind) > 1 && strings.ContainsRune(".,/", c) && digit(behind[1]) {
		return token{kind: aStage, text: word}, len(word)
	}
	if angle, _ := turnTail(behind); (n > 1 || r.staged) && (angle > 0 || r.unitFollows(tail[:n], behind)) {
		return token{kind: aStage, text: word}, len(word)
	}
	n += len(rest) - len(tail)
	return token{kind: aStage, text: rest[:n], stage: number}, n
}

// turnTail reads what makes an angle of the number before it, and how many degrees one is; a temperature is none. It gives 0 for none.
func turnTail(rest string) (n, by int) {
	tail := strings.TrimLeft(rest, " ")
	if len(rest)-len(tail) > 1 {
		return 0, 0 // the next cell
	}
	c, w := utf8.DecodeRuneInString(tail)
	switch {
	case c == '°' || c == 'º' || c == '˚':
		by = 1
	default:
		tail = strings.TrimPrefix(tail, "-")
		w = len(tail) - len(strings.TrimLeftFunc(tail, unicode.IsLetter))
		switch word := strings.ToLower(tail[:w]); {
		case slices.Contains(degreeNamed, word):
			by = 1
		case slices.Contains(turnNamed, word):
			return len(rest) - len(tail) + w, 360
		default:
			return 0, 0
		}
	}
	scale := strings.TrimLeft(tail[w:], " .")
	if s, _ := utf8.DecodeRuneInString(scale); strings.ContainsRune("CFKcfk", s) && s != utf8.RuneError && (len(scale) == 1 || !letterOrDigit(scale[1:])) {
		return 0, 0
	}
	return len(rest) - len(tail) + w, by
}

// ofTurn is an angle of so many times so many degrees.
func ofTurn(digits string, by int) token {
	if by > 1 {
		n, _ := strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
		digits = decimal(n * float64(by))
	}
	return token{kind: anAngle, text: digits}
}

// partOf reads a fraction: 1/4, 2/3.
func partOf(s string) (a, b, n int) {
	a, n = integer(s)
	if n == 0 || n > 2 || n >= len(s) || s[n] != '/' {
		return 0, 0, 0
	}
	b, w := integer(s[n+1:])
	if w == 0 || w > 2 || b == 0 || a == 0 {
		return 0, 0, 0
	}
	return a, b, n + 1 + w
}

// angled says whether a word or a sign names a column of angles: angle, deg, °.
func angled(tokens []token, k int) bool {
	switch t := tokens[k]; t.kind {
	case aWord:
		word := strings.ToLower(t.text)
		return word == "angle" || slices.Contains(degreeNamed, word) || strings.HasSuffix(word, "winkel")
	case aMark:
		after := k+1 < len(tokens) && tokens[k+1].kind == aWord && len(tokens[k+1].text) == 1 // °C
		return (t.text == "°" || t.text == "º" || t.text == "˚") && !after && (k == 0 || tokens[k-1].kind != aNumber)
	}
	return false
}

// turns says whether an angle is one that a bolt is turned by, and not that of a fitting.
func turns(tokens []token, k int) bool {
	for _, j := range [2]int{k - 1, k + 1} {
		if j >= 0 && j < len(tokens) && tokens[j].kind == aWord && tokens[j].cell == tokens[k].cell && slices.Contains(fittings, strings.ToLower(tokens[j].text)) {
			return false
		}
	}
	return true
}

// degrees reads the digits of an angle; 0 is one that cannot be meant.
func (r *tableReader) degrees(digits string) quantity.Angle {
	v, err := quantity.Parse(digits+degrees.Symbol, r.mark, quantity.OfAngle)
	if err != nil || !(v.In > 0) || v.In > mostTurned {
		return 0
	}
	return quantity.Angle(v.In)
}

// mostTurned is an angle, in degrees, that no bolt is turned by at last; leastAdded and mostAdded are between which a number behind
// a plus, without a unit, is taken for an angle.
const (
	mostTurned = 3600
	leastAdded = 15
	mostAdded  = 720
)

// angles finds the angles that are turned by: behind a torque, in a column of angles, or in a line without a torque.
func (r *tableReader) angles(tokens []token, pieces []piece) (list []angleAt) {
	first := len(tokens) // torque
	for _, p := range pieces {
		if p.unit.Symbol != degrees.Symbol {
			first = min(first, p.at)
		}
	}
	is := func(k int, kinds ...tokenKind) bool {
		return k >= 0 && k < len(tokens) && slices.Contains(kinds, tokens[k].kind)
	}
	note := func(at int, digits string) {
		if d := r.degrees(digits); d > 0 {
			list = append(list, angleAt{at, d})
		}
	}
	for k, t := range tokens {
		switch {
		case t.kind == anAngle && turns(tokens, k) && (k > first || first == len(tokens)):
			switch {
			case is(k-1, aDash, aPlusMinus) && is(k-2, anAngle): // of a range, or of a tolerance
			case is(k-1, aDash, aPlusMinus) && is(k-2, aNumber) && tokens[k-2].cell == t.cell:
				note(k, tokens[k-2].text)
			default:
				note(k, t.text)
			}
		case t.kind == aNumber && k > first && is(k-1, aMark) && tokens[k-1].text == "+" && tokens[k-1].cell == t.cell && !is(k+1, aUnit, aDash, aPlusMinus, aMark) && !(is(k+1, aWord) && measuredBy(tokens[k+1])):
			if n, err := strconv.ParseFloat(t.text, 64); err == nil && n >= leastAdded && n <= mostAdded {
				note(k, t.text)
			}
		case t.kind == aNumber:
			for _, p := range pieces {
				if p.at == k && p.unit.Symbol == degrees.Symbol {
					note(k, t.text)
				}
			}
		}
	}
	return list
}

func measuredBy(t token) bool { return slices.Contains(measureWords, strings.ToLower(t.text)) }

// order says of torques which stage they are of, and which stand in brackets or behind a plus.
func (r *tableReader) order(list []cell, tokens []token, by rune, pieces []piece) {
	stage, fresh, depth, from := 0, lastStage, 0, 0
	for k := range pieces {
		p := &pieces[k]
		for j := from; j < p.at; j++ {
			switch t := tokens[j]; {
			case t.kind == aStage && t.stage > 0:
				stage = t.stage
			case t.kind == aStage && t.stage == follows, t.kind == aMark && t.text == "→":
				fresh++
				stage = fresh
			case t.kind == aStage && j > 1 && tokens[j-1].text == "." && tokens[j-2].kind == aNumber: // 2. Stufe
				stage, _ = integer(tokens[j-2].text)
			case t.kind == aStage && slices.Contains(stageNamed, strings.ToLower(t.text)) && (j == 0 || tokens[j-1].kind != aStage):
				fresh++
				stage = fresh
			case t.kind == aNumber && k > 0 && len(t.text) == 1 && tokens[j-1].kind != aWord && tokens[j+1].kind == aMark && strings.Contains(").:", tokens[j+1].text) && t.text != "0": // 2) 60 N·m
				stage = int(t.text[0] - '0')
			case t.kind == aMark && (t.text == "(" || t.text == "["):
				depth++
			case t.kind == aMark && (t.text == ")" || t.text == "]"):
				depth = max(0, depth-1)
			case t.kind == aMark && t.text == "+" && k > 0 && j == p.at-1:
				p.added = true
			}
		}
		if k > 0 && p.cell != pieces[k-1].cell {
			depth = 0
			for j := p.at - 1; j >= 0 && tokens[j].cell == p.cell; j-- {
				if tokens[j].text == "(" || tokens[j].text == "[" {
					depth = 1
				}
			}
		}
		from = p.at + 1
		p.bracket = depth > 0
		if p.stage == 0 {
			p.stage = stage
		}
		if c := r.columnOf(list, p.cell, by); c != nil && c.stage > 0 {
			p.stage = c.stage
		}
	}
}
