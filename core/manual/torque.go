package manual

import (
	"cmp"
	"strings"

	"ohmwright/core/quantity"
)

// A torque is an entry read as a quantity.
type torque struct {
	entry
	place
	figure Figure
	reads  [2]string // where its fault is Ambiguous
}

// torques reads the entries.
func (b body) torques(entries []entry) []torque {
	places := b.places(entries)
	list := make([]torque, len(entries))
	for k, e := range entries {
		list[k] = torque{entry: e, place: places[k]}
		if e.fault == 0 {
			b.value(&list[k])
		}
	}
	return list
}

// value reads the digits of a torque, of its range and of its tolerance.
func (b body) value(t *torque) {
	t.figure.Value = b.parse(t, t.digits, t.unit.Symbol)
	if t.top != "" {
		if t.figure.To = b.parse(t, t.top, t.unit.Symbol); t.fault == 0 && t.figure.To.In <= t.figure.In {
			t.fault = Ambiguous
		}
	}
	if w := t.within; w.digits != "" && t.fault == 0 {
		t.figure.Within = b.within(t, w.digits)
		if w.less != "" {
			if t.figure.Less = b.within(t, w.less); t.fault == 0 && t.figure.share(t.figure.Less) >= t.figure.In {
				t.fault = Ambiguous
			}
		}
	}
	if before := b.thousands(t.entry); t.fault == 0 && before != "" {
		t.fault = Ambiguous
		t.reads = [2]string{t.digits + " " + t.unit.Symbol, before + t.digits + " " + t.unit.Symbol}
	}
}

// within reads one side of a tolerance; that may be nothing where the other is not.
func (b body) within(t *torque, digits string) (v quantity.Value) {
	w := t.within
	switch {
	case w.percent:
		v, _ = quantity.Parse(digits+"%", b.mark, quantity.OfRatio)
		return v
	case w.less != "" && strings.Trim(digits, "0.,") == "":
		v, _ = quantity.Parse("0"+t.unit.Symbol, b.mark, quantity.OfTorque)
		return v
	}
	return b.parse(t, digits, cmp.Or(w.unit.Symbol, t.unit.Symbol))
}

// parse reads a number with a unit of torque, and notes its fault.
func (b body) parse(t *torque, digits, unit string) quantity.Value {
	v, err := quantity.Parse(digits+unit, b.mark, quantity.OfTorque)
	e, _ := err.(*quantity.Error)
	switch {
	case e != nil && e.Fault == quantity.Ambiguous:
		t.fault, t.reads = Ambiguous, e.Reads
	case e != nil || !(v.In > 0):
		t.fault = Unreadable
	}
	return v
}

// thousands returns the number before an entry if it may be the thousands of it, else "": 1 250 N·m is 1250 N·m, or a number of something
// and 250 N·m.
func (b body) thousands(e entry) string {
	whole := strings.IndexAny(e.digits, ".,")
	if whole < 0 {
		whole = len(e.digits)
	}
	if whole != 3 || !b.is(e.at-1, aNumber) || !b.same(e.at-1, e.at) {
		return ""
	}
	before := b.tokens[e.at-1].text
	if len(before) > 3 || strings.Trim(before, "0123456789") != "" || before[0] == '0' {
		return ""
	}
	return before
}
