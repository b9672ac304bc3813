package tool

import (
	"strconv"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// A Record is a request, read by its declaration: for each field the value given, or the declared default. Handles ask it.
type Record struct {
	fields []*Field
	slots  []slot
	path   string // of the object, "" for the request
	mark   quantity.Mark
}

// A slot is what a record holds for one field.
type slot struct {
	given  bool
	ok     bool          // there is a value, and nothing is wrong with it
	text   string        // as given; of a Choice or Text the value
	value  float64       // of a quantity or number, in the contract's unit
	kind   quantity.Kind // of a quantity
	unit   string        // symbol of the unit given
	digits string        // the number given, in plain form
	plain  string        // number and unit in plain form, as a link writes them
	over   bool          // OL
	choice bool          // a Choice given as a word
	group  *Record
	rows   []*Record
}

// slot finds what the record holds for a field: by the field itself, or by its name where the field was cloned.
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

// asGiven is a quantity with the unit and digits that it was given in.
func (s *slot) asGiven() quantity.Value {
	u, _ := quantity.UnitNamed(s.kind, s.unit)
	return quantity.Value{In: s.value, Unit: u, Digits: s.digits}
}

// Mark is the decimal mark that the request is written with.
func (r *Record) Mark() quantity.Mark { return r.mark }

// Path is where the object stands in the request, such as specs.0; "" for the request itself.
func (r *Record) Path() string { return r.path }

// Sliders calls tell for what was read of each field with a slider, in the contract's unit: also for what is out of range,
// since a slider then stands at its end.
func (r *Record) Sliders(tell func(path string, value float64)) {
	for i, d := range r.fields {
		s := &r.slots[i]
		switch {
		case !s.given:
		case d.Page.Slide != nil && s.kind == d.Kinds[0]:
			tell(d.Path(r), s.value)
		case s.group != nil:
			s.group.Sliders(tell)
		}
		for _, row := range s.rows {
			row.Sliders(tell)
		}
	}
}

// A Pair is one value of a request under its flat key, such as specs.0.min and 5.0ohm.
type Pair struct{ Key, Value string }

// Pairs are the values that the request gives, as a link writes them: in the order of the declaration, numbers in plain
// form, defaults left out, rows numbered without gaps. What is wrong is kept as it was given.
func (r *Record) Pairs() []Pair { return r.pairs("") }

func (r *Record) pairs(path string) (out []Pair) {
	for i, d := range r.fields {
		s, at := &r.slots[i], joinPath(path, d.Name)
		switch {
		case !s.given:
		case s.group != nil:
			out = append(out, s.group.pairs(at)...)
		case d.Shape == List:
			written := 0
			for _, row := range s.rows {
				if pairs := row.pairs(joinPath(at, strconv.Itoa(written))); len(pairs) > 0 {
					out = append(out, pairs...)
					written++
				}
			}
		case d.Default != "" && s.ok && d.sameAsDefault(s):
		case s.over:
			out = append(out, Pair{at, "OL"})
		case s.ok && s.plain != "":
			out = append(out, Pair{at, s.plain})
		default:
			out = append(out, Pair{at, s.text})
		}
	}
	return out
}

// sameAsDefault reports whether a right value says nothing that the default does not.
func (d *Field) sameAsDefault(s *slot) bool {
	def := &d.fallback
	if d.Shape == Choice {
		return s.choice && s.text == def.text
	}
	return s.value == def.value && s.kind == def.kind && s.over == def.over
}

// Echo says in words what was read where that is more than a repetition: every reading, and every quantity that is said in
// another unit than it was given in. Keys are flat.
func (r *Record) Echo(speak *wording.Speaker, out map[string]string) {
	for i, d := range r.fields {
		s := &r.slots[i]
		if !s.given {
			continue
		}
		if s.group != nil {
			s.group.Echo(speak, out)
		}
		for _, row := range s.rows {
			row.Echo(speak, out)
		}
		if text := d.echo(s, speak); text != "" {
			out[d.Path(r)] = text
		}
	}
}

func (d *Field) echo(s *slot, speak *wording.Speaker) string {
	switch {
	case !s.ok:
	case s.over:
		return speak.Say("echo.over")
	case d.Shape == Reading && s.value == 0 && s.kind == quantity.OfResistance:
		return speak.Say("echo.zero")
	case d.Shape == Reading:
		return speak.Of(s.kind, s.value, 0)
	case d.Shape == Quantity && s.kind != quantity.OfRatio && s.unit != quantity.Units(s.kind)[0].Symbol:
		if text := speak.Of(s.kind, s.value, 0); !repeats(text, s.plain) {
			return text
		}
	}
	return ""
}

// repeats reports whether a text says a quantity as it was given.
func repeats(text, plain string) bool {
	return strings.NewReplacer("\u00a0", "", ",", ".").Replace(text) == plain
}
