package manual

import (
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/quantity"
)

// An angleAt is an angle that a bolt is turned by, and its token.
type angleAt struct {
	at      int
	degrees quantity.Angle
}

// A bare number after a plus is an angle if it lies between these, in degrees; a bolt is never turned by more than mostTurned.
const (
	leastAdded = 15
	mostAdded  = 720
	mostTurned = 3600
)

// degrees reads the digits of an angle. It returns 0 if they are no number, or no angle that a bolt is turned by.
func (b body) degrees(digits string) quantity.Angle {
	v, err := quantity.Parse(digits+degrees.Symbol, b.mark, quantity.OfAngle)
	if err != nil || !(v.In > 0) || v.In > mostTurned {
		return 0
	}
	return quantity.Angle(v.In)
}

// angles finds the angles that a bolt is turned by: after a torque, in a column of angles, or in a row without a torque.
func (b body) angles(entries []entry) (list []angleAt) {
	first := len(b.tokens) // the first torque
	for _, e := range entries {
		if !isDegrees(e.unit) {
			first = min(first, e.at)
		}
	}
	for k, t := range b.tokens {
		digits := ""
		switch {
		case t.kind == anAngle && b.turnsBolt(k) && (k > first || first == len(b.tokens)):
			digits = b.angleText(k)
		case t.kind == aNumber && k > first && b.isAdded(k):
			if n, err := strconv.ParseFloat(t.text, 64); err == nil && n >= leastAdded && n <= mostAdded {
				digits = t.text
			}
		case t.kind == aNumber && slices.ContainsFunc(entries, func(e entry) bool { return e.at == k && isDegrees(e.unit) }):
			digits = t.text
		}
		if digits == "" {
			continue
		}
		if d := b.degrees(digits); d > 0 {
			list = append(list, angleAt{k, d})
		}
	}
	return list
}

// angleText returns the digits of an angle. A range, or an angle with a tolerance, counts once, with its first number: the second has "".
func (b body) angleText(k int) string {
	if b.is(k-1, aDash) || b.is(k-1, aPlusMinus) {
		switch {
		case b.is(k-2, anAngle):
			return ""
		case b.is(k-2, aNumber) && b.same(k-2, k):
			return b.tokens[k-2].text
		}
	}
	return b.tokens[k].text
}

// isAdded reports whether a number comes after a plus and has nothing after it that makes it something else than an angle.
func (b body) isAdded(k int) bool {
	for _, kind := range []tokenKind{aUnit, aDash, aPlusMinus, aMark} {
		if b.is(k+1, kind) {
			return false
		}
	}
	return b.isMark(k-1, "+") && b.same(k-1, k) && !(b.is(k+1, aWord) && oneOf(measureWords, b.tokens[k+1].text))
}

// A place is where a torque is in the order of stages.
type place struct {
	stage   int  // by number; stages named by words alone are numbered on from lastStage
	added   bool // after a plus
	bracket bool // in brackets
}

// places returns the places of entries.
func (b body) places(entries []entry) []place {
	list := make([]place, len(entries))
	s := stager{row: b.row, fresh: lastStage}
	at := 0
	for k, e := range entries {
		p := &list[k]
		for ; at < e.at; at++ {
			s.pass(at, k > 0)
			p.added = p.added || k > 0 && at == e.at-1 && b.isMark(at, "+")
		}
		at = e.at + 1
		if k > 0 && e.cell != entries[k-1].cell {
			s.depth = b.openedIn(e)
		}
		p.bracket = s.depth > 0
		if p.stage = e.headStage; p.stage == 0 {
			p.stage = s.stage
		}
		if c := b.column(e.cell); c != nil && c.stage > 0 {
			p.stage = c.stage
		}
	}
	return list
}

// openedIn returns 1 if a bracket opens in an entry's cell before it, else 0.
func (b body) openedIn(e entry) int {
	for j := e.at - 1; j >= 0 && b.tokens[j].cell == e.cell; j-- {
		if text := b.tokens[j].text; text == "(" || text == "[" {
			return 1
		}
	}
	return 0
}

// A stager keeps track of the stage and the brackets between torques.
type stager struct {
	row
	stage int // of the next torque
	fresh int // the last number given to a stage that has none
	depth int // of brackets
}

// pass takes a token. later says that a torque came before it.
func (s *stager) pass(j int, later bool) {
	switch t := s.tokens[j]; {
	case t.kind == aStage && t.stage > 0:
		s.stage = t.stage
	case t.kind == aStage && t.stage == follows, t.kind == aMark && t.text == "→":
		s.next()
	case t.kind == aStage && s.isMark(j-1, ".") && s.is(j-2, aNumber): // 2. Stufe
		s.stage, _ = integer(s.tokens[j-2].text)
	case t.kind == aStage && oneOf(stageNames, t.text) && !s.is(j-1, aStage):
		s.next()
	case t.kind == aNumber && later && s.numbersStage(j):
		s.stage = int(t.text[0] - '0')
	case t.kind == aMark && (t.text == "(" || t.text == "["):
		s.depth++
	case t.kind == aMark && (t.text == ")" || t.text == "]"):
		s.depth = max(0, s.depth-1)
	}
}

// next begins a stage that has no number.
func (s *stager) next() {
	s.fresh++
	s.stage = s.fresh
}

// numbersStage reports whether a number is that of a stage in a list: 2) 60 N·m. It is none in a tolerance (+5/-2), where it stands in
// brackets by itself, as a number of bolts does, or before what stands in brackets, as that of a footnote does.
func (s *stager) numbersStage(j int) bool {
	text := s.tokens[j].text
	if len(text) != 1 || text == "0" || s.is(j-1, aWord) || !s.is(j+1, aMark) || !strings.Contains(").:", s.tokens[j+1].text) {
		return false
	}
	signed := s.is(j-1, aDash) || s.is(j-1, aPlusMinus) || s.isMark(j-1, "+") || s.isMark(j-1, "/")
	return !signed && !s.isMark(j+2, "(") && (!s.isMark(j-1, "(") || s.listed(text[0]-1))
}

// listed reports whether a number in brackets is one of a list: (1) 20 N·m (2) 60 N·m.
func (s *stager) listed(digit byte) bool {
	for k, t := range s.tokens {
		if t.kind == aNumber && t.text == string(digit) && s.isMark(k-1, "(") && s.isMark(k+1, ")") {
			return true
		}
	}
	return false
}
