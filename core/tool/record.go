package tool

import (
	"strconv"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// A Record is a request that was read: for each declared field the value given, or its default. Handles take their values from it.
type Record struct {
	fields []*Field
	slots  []slot
	path   string // of the object; "" for the request itself
	mark   quantity.Mark
}

// A slot holds what was read for one field.
type slot struct {
	given bool
	ok    bool           // there is a value, and it is correct
	text  string         // as given; the value of a Choice or Text
	read  quantity.Value // of a quantity or number
	kind  quantity.Kind  // of a quantity
	over  bool           // OL
	word  string         // one of the field's Spoken
	group *Record
	rows  []*Record
}

// slot returns what the record holds for a field. A cloned field is found by its name.
func (r *Record) slot(d *Field) *slot {
	for i, own := range r.fields {
		if own == d {
			return &r.slots[i]
		}
	}
	if i := indexOf(r.fields, d.Name); i >= 0 {
		return &r.slots[i]
	}
	panic("tool: no field " + d.Name + " at " + r.path)
}

// Mark returns the decimal mark that the request is written with.
func (r *Record) Mark() quantity.Mark { return r.mark }

// Path returns the object's path in the request, such as specs.0; "" for the request itself.
func (r *Record) Path() string { return r.path }

// Sliders calls tell with the value, in the contract's unit, of each field that has a slider. It includes values out of
// range, for which the slider is at its end.
func (r *Record) Sliders(tell func(path string, value float64)) {
	for i, d := range r.fields {
		s := &r.slots[i]
		switch {
		case !s.given:
		case d.Page.Slide != nil && s.kind == d.Kinds[0]:
			tell(d.Path(r), s.read.In)
		case s.group != nil:
			s.group.Sliders(tell)
		}
		for _, row := range s.rows {
			row.Sliders(tell)
		}
	}
}

// A Pair is a flat key and its value, such as specs.0.min and 5.0ohm.
type Pair struct{ Key, Value string }

// Pairs returns the values that the request gives, as a link writes them: in the order of the declaration, numbers in plain notation,
// without defaults but those of fields with Before, at the end, rows numbered without gaps. Values that are wrong are kept as given.
func (r *Record) Pairs() []Pair {
	out := r.pairs("")
	for i, d := range r.fields {
		if s := &r.slots[i]; d.Before != nil && len(out) > 0 && (!s.given || s.ok && d.sameAsDefault(s)) {
			out = append(out, Pair{d.Name, d.Default})
		}
	}
	return out
}

func (r *Record) pairs(path string) (out []Pair) {
	for i, d := range r.fields {
		s, at := &r.slots[i], JoinPath(path, d.Name)
		switch {
		case !s.given:
		case s.group != nil:
			out = append(out, s.group.pairs(at)...)
		case d.Shape == List:
			written := 0
			for _, row := range s.rows {
				if pairs := row.pairs(JoinPath(at, strconv.Itoa(written))); len(pairs) > 0 {
					out = append(out, pairs...)
					written++
				}
			}
		case d.Default != "" && s.ok && d.sameAsDefault(s):
		case s.over:
			out = append(out, Pair{at, "OL"})
		case s.word != "":
			out = append(out, Pair{at, s.word})
		case s.ok && s.read.Digits != "":
			out = append(out, Pair{at, s.read.String()})
		default:
			out = append(out, Pair{at, s.text})
		}
	}
	return out
}

// sameAsDefault reports whether a correct value is the same as the default.
func (d *Field) sameAsDefault(s *slot) bool {
	def := &d.fallback
	if d.Shape == Choice {
		return s.text == def.text
	}
	return s.read.In == def.read.In && s.kind == def.kind && s.over == def.over && s.word == def.word
}

// Echo calls tell with the words for what was read, where they say more than was typed: for every reading, and
// for every quantity that is shown in another unit than it was given in.
func (r *Record) Echo(speak *wording.Speaker, tell func(path, text string)) {
	for i, d := range r.fields {
		s := &r.slots[i]
		if !s.given {
			continue
		}
		if s.group != nil {
			s.group.Echo(speak, tell)
		}
		for _, row := range s.rows {
			row.Echo(speak, tell)
		}
		if text := d.echo(s, speak); text != "" {
			tell(d.Path(r), text)
		}
	}
}

func (d *Field) echo(s *slot, speak *wording.Speaker) string {
	switch {
	case !s.ok, s.word != "":
	case s.over:
		return speak.Say("echo.over")
	case d.Shape == Reading && s.read.In == 0 && s.kind == quantity.OfResistance:
		return speak.Say("echo.zero")
	case d.Shape == Reading:
		return speak.Of(s.kind, s.read.In, 0)
	case d.Shape == Quantity && s.kind != quantity.OfRatio && s.read.Unit.Symbol != quantity.Units(s.kind)[0].Symbol:
		if text := speak.Of(s.kind, s.read.In, 0); !repeats(text, s.read.String()) {
			return text
		}
	}
	return ""
}

// repeats reports whether a text only repeats a quantity as it was given.
func repeats(text, plain string) bool {
	return strings.NewReplacer("\u00a0", "", ",", ".").Replace(text) == plain
}
