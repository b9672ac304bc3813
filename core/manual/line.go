package manual

import (
	"slices"
	"strings"
	"unicode/utf8"

	"ohmwright/core/quantity"
)

// lines returns the Lines of a row, none if the row has only words. first says that the table has no Line yet.
func (b body) lines(first bool) []Line {
	entries, class := b.entries()
	if class == "" {
		class = b.head.class
	}
	b.spread(entries)
	united := slices.ContainsFunc(entries, entry.united)
	size, entries := b.size(entries)
	fault := b.assign(entries)
	title := first && len(b.head.columns) == 0 && fault == 0 && !united && size == nil && b.worded() && len(b.angles(entries)) == 0
	if title || !b.numbered() {
		return nil
	}
	crowded := b.crowded(entries)
	entries = slices.DeleteFunc(entries, func(e entry) bool { return !e.united() })
	angles := b.angles(entries)
	entries = slices.DeleteFunc(entries, func(e entry) bool { return isDegrees(e.unit) })
	if fault == 0 && len(entries) == 0 {
		fault = b.without()
	}
	if fault == 0 && crowded {
		fault = Ambiguous
	}
	if fault == 0 {
		return b.eachLine(b.parts(size, class, b.torques(entries)), angles)
	}
	l := Line{Class: class, Fault: fault}
	l.sizedBy(size)
	for _, a := range angles {
		l.Angle = a.degrees
	}
	return []Line{l}
}

// spread gives numbers that come right after one of several sizes the unit that comes after the last of them: M6: 10, M8: 25 N·m.
func (b body) spread(entries []entry) {
	var behind quantity.Unit
	for k := len(entries) - 1; k >= 0; k-- {
		e := &entries[k]
		before := e.at - 1
		if b.isMark(before, ":") || b.isMark(before, "=") {
			before--
		}
		switch {
		case !b.is(before, aSize):
			behind = quantity.Unit{}
		case e.united():
			behind = e.unit
		default:
			e.unit = behind
		}
	}
}

// crowded reports whether a unit in a cell of its own, behind the size, comes after several numbers: one of them may be a tolerance or a
// number of bolts.
func (b body) crowded(entries []entry) bool {
	own := func(e entry) bool {
		return e.united() && !e.headed && b.is(e.at+1, aUnit) && !b.same(e.at, e.at+1)
	}
	last := slices.IndexFunc(entries, own)
	return last > 0 && slices.ContainsFunc(entries[:last], func(e entry) bool {
		return !e.united() && b.sizeBefore(e.at) && !b.same(e.at, entries[last].at)
	})
}

// numbered reports whether a row has a number or a size, or a digit in a word.
func (b body) numbered() bool {
	return slices.ContainsFunc(b.tokens, func(t token) bool {
		return t.kind == aNumber || t.kind == aSize || strings.ContainsAny(t.text, "0123456789")
	})
}

// worded reports whether a row has a word of more than two letters, as a title has.
func (b body) worded() bool {
	return slices.ContainsFunc(b.tokens, func(t token) bool {
		return (t.kind == aWord || t.kind == aStage) && utf8.RuneCountInString(t.text) > 2
	})
}

// without returns the fault of a row without a torque.
func (b body) without() Fault {
	for k := range b.tokens {
		if b.is(k, aUnit) && b.garbled(k) {
			return Unreadable
		}
	}
	return NoTorque
}

func (l *Line) sizedBy(t *token) {
	if t != nil {
		l.Size, l.Thread, l.Diameter = t.text, t.size.thread, t.size.diameter
	}
}

// A part is what a row says about one size and class. It has one torque at least.
type part struct {
	size    *token
	class   string
	torques []torque
}

// parts cuts a row into parts: by the sizes in it, or by the sizes and classes of the columns.
func (b body) parts(size *token, class string, torques []torque) []part {
	if parts := b.bySize(class, torques); parts != nil {
		return parts
	}
	var parts []part
	for _, t := range torques {
		own := part{size, class, []torque{t}}
		if c := b.column(t.cell); c != nil {
			if c.class != "" {
				own.class = c.class
			}
			if size == nil && c.size != nil {
				own.size = c.size
			}
		}
		if last := len(parts) - 1; last >= 0 && parts[last].class == own.class && parts[last].size == own.size {
			parts[last].torques = append(parts[last].torques, t)
			continue
		}
		parts = append(parts, own)
	}
	return parts
}

// bySize cuts a row with several sizes, if each has torques after it, "M6 10 N·m, M8 25 N·m", or each has them before it; else it returns
// nil.
func (b body) bySize(class string, torques []torque) []part {
	var at []int
	for k := range b.tokens {
		if b.is(k, aSize) {
			at = append(at, k)
		}
	}
	if len(at) < 2 {
		return nil
	}
	for _, sizeFirst := range []bool{true, false} {
		parts := make([]part, len(at))
		for k := range at {
			parts[k].size, parts[k].class = &b.tokens[at[k]], class
		}
		whole := true
		for _, t := range torques {
			j, _ := slices.BinarySearch(at, t.at)
			if sizeFirst {
				j--
			}
			if j < 0 || j >= len(at) {
				whole = false
				break
			}
			parts[j].torques = append(parts[j].torques, t)
		}
		if whole && !slices.ContainsFunc(parts, func(p part) bool { return len(p.torques) == 0 }) {
			return parts
		}
	}
	return nil
}

// eachLine makes a Line of each part.
func (b body) eachLine(parts []part, angles []angleAt) (lines []Line) {
	several := slices.ContainsFunc(b.tokens, func(t token) bool { return t.kind == aStage && oneOf(severalStages, t.text) })
	for k, p := range parts {
		l := Line{Class: p.class}
		l.sizedBy(p.size)
		var behind bool
		l.Angle, behind = b.turnedBy(parts, k, angles)
		for _, t := range p.torques {
			if t.fault != 0 && l.Fault == 0 {
				l.Fault, l.Reads = t.fault, t.reads
			}
		}
		if l.Fault == 0 {
			l.compare(printings(p.torques, several || behind))
		}
		lines = append(lines, l)
	}
	return lines
}

// turnedBy returns the last angle of a part, and whether one comes after all its torques: then those are stages. An angle belongs to the
// part before it, or to the first part if it comes before all torques. A part without one has the header's.
func (b body) turnedBy(parts []part, k int, angles []angleAt) (angle quantity.Angle, behind bool) {
	p := parts[k]
	last := p.torques[len(p.torques)-1]
	for _, a := range angles {
		if ownsAngle(parts, k, a) {
			angle, behind = a.degrees, behind || a.at > last.at
		}
	}
	if angle == 0 && b.head.angle != "" && p.torques[0].headed {
		angle = b.degrees(b.head.angle)
	}
	return angle, behind
}

// ownsAngle reports whether an angle belongs to part k.
func ownsAngle(parts []part, k int, a angleAt) bool {
	from := func(p part) int { return p.torques[0].at }
	first := from(parts[k])
	if (len(parts) == 1 || a.at > first) && !slices.ContainsFunc(parts, func(p part) bool { return from(p) > first && from(p) < a.at }) {
		return true
	}
	return k == 0 && !slices.ContainsFunc(parts, func(p part) bool {
		return slices.ContainsFunc(p.torques, func(t torque) bool { return t.at < a.at })
	})
}
