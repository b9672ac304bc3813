package tool

import (
	"ohmwright/core/quantity"
)

// A handle is a field as a Go value that knows the type of what the field holds: with
//
//	supply = tool.QuantityOf[quantity.Voltage](tool.Field{Name: "supply", Need: true})
//
// supply.Of(r) is a quantity.Voltage, and a misspelt name does not compile. The record must be one that has the field: of
// the request, or of the group or row in which the handle was declared. Any other record panics.

// Declared is any handle.
type Declared interface{ declared() *Field }

func (d *Field) declared() *Field { return d }

// Declare returns the fields of handles, in the order in which a reader meets them.
func Declare(handles ...Declared) []*Field {
	if len(handles) == 0 {
		return nil
	}
	fields := make([]*Field, len(handles))
	for i, h := range handles {
		fields[i] = h.declared()
	}
	return fields
}

// Given reports whether the request gives the field, right or wrong.
func (d *Field) Given(r *Record) bool { return r.slot(d).given }

// OK reports whether the field has a correct value, given or by default.
func (d *Field) OK(r *Record) bool { return r.slot(d).ok }

// OK reports whether every one of the fields has a correct value, given or by default.
func OK(r *Record, handles ...Declared) bool {
	for _, h := range handles {
		if !r.slot(h.declared()).ok {
			return false
		}
	}
	return true
}

// Raw returns the text that was given, or the default if none was.
func (d *Field) Raw(r *Record) string { return r.slot(d).text }

// Path returns the field's path in the request, such as specs.0.min.
func (d *Field) Path(r *Record) string { return JoinPath(r.path, d.Name) }

// Plain returns the value, given or by default, as a link writes it; "" if there is none.
func (d *Field) Plain(r *Record) string {
	if s := r.slot(d); s.ok {
		return s.read.String()
	}
	return ""
}

// Spoil marks a value as wrong, for a value that is wrong only beside other fields.
func (d *Field) Spoil(r *Record) { r.slot(d).ok = false }

// A QuantityField holds a quantity of type Q.
type QuantityField[Q ~float64] struct{ *Field }

// QuantityOf declares a quantity of type Q.
func QuantityOf[Q ~float64](d Field) QuantityField[Q] {
	d.Shape, d.Kinds = Quantity, []quantity.Kind{quantity.KindOf[Q]()}
	return QuantityField[Q]{&d}
}

// Of returns the value; zero if there is none.
func (h QuantityField[Q]) Of(r *Record) Q { return Q(r.slot(h.Field).read.In) }

// Value returns the value as it was given, with its unit and digits; the zero value if there is none.
func (d *Field) Value(r *Record) quantity.Value { return r.slot(d).read }

// In reports whether a record has the field: another tool may have taken over only some of a group's fields.
func (d *Field) In(r *Record) bool { return indexOf(r.fields, d.Name) >= 0 }

// A Measure is a value of one of several kinds: its kind, and its size in that kind's contract unit.
type Measure struct {
	Kind quantity.Kind
	In   float64
	Over bool   // the meter showed OL
	Word string // one of the field's Spoken, in place of a quantity; "" for none
}

// A MeasureField holds a quantity or a reading of one of several kinds.
type MeasureField struct{ *Field }

// MeasureOf declares a quantity that may be of several kinds; the usual kind comes first.
func MeasureOf(d Field, kinds ...quantity.Kind) MeasureField {
	d.Shape, d.Kinds = Quantity, kinds
	return MeasureField{&d}
}

// ReadingOf declares a meter's reading that may be of several kinds: a quantity, or OL, or one of the words in d.Spoken.
func ReadingOf(d Field, kinds ...quantity.Kind) MeasureField {
	d.Shape, d.Kinds = Reading, kinds
	return MeasureField{&d}
}

// Of returns the value.
func (h MeasureField) Of(r *Record) Measure {
	s := r.slot(h.Field)
	return Measure{s.kind, s.read.In, s.over, s.word}
}

// A NumberField holds a pure number.
type NumberField struct{ *Field }

// NumberOf declares a pure number. With kinds, a quantity of one of them may be given instead; a number alone is then in
// the contract's unit.
func NumberOf(d Field, kinds ...quantity.Kind) NumberField {
	d.Shape, d.Kinds = Number, kinds
	return NumberField{&d}
}

// Of returns the number; zero if there is none.
func (h NumberField) Of(r *Record) float64 { return r.slot(h.Field).read.In }

// A WholeField holds a count.
type WholeField struct{ *Field }

// WholeOf declares a count.
func WholeOf(d Field) WholeField {
	d.Shape = Whole
	return WholeField{&d}
}

// Of returns the count; zero if there is none.
func (h WholeField) Of(r *Record) int { return int(r.slot(h.Field).read.In) }

// A TextField holds free text.
type TextField struct{ *Field }

// TextOf declares a text.
func TextOf(d Field) TextField {
	d.Shape = Text
	return TextField{&d}
}

// Of returns the text; "" if there is none.
func (h TextField) Of(r *Record) string { return r.slot(h.Field).text }

// An Option is a word that may be chosen, and the value that it stands for.
type Option[T any] struct {
	Word string
	Is   T
}

// Named returns an option for each value; its word is the value's String.
func Named[T interface{ String() string }](values ...T) []Option[T] {
	options := make([]Option[T], len(values))
	for i, v := range values {
		options[i] = Option[T]{v.String(), v}
	}
	return options
}

// Words returns an option for each word; its value is the word itself.
func Words[T ~string](words ...T) []Option[T] {
	options := make([]Option[T], len(words))
	for i, w := range words {
		options[i] = Option[T]{string(w), w}
	}
	return options
}

// A ChoiceField holds one of several values of type T. If it has fields, an object with exactly one of them may be given instead.
type ChoiceField[T any] struct {
	*Field
	options []Option[T]
}

// ChoiceOf declares a choice.
func ChoiceOf[T any](d Field, options []Option[T], instead ...Declared) ChoiceField[T] {
	d.Shape, d.Fields = Choice, Declare(instead...)
	for _, o := range options {
		d.Choices = append(d.Choices, o.Word)
	}
	return ChoiceField[T]{&d, options}
}

// Of returns the chosen value, given or by default; the zero value if there is none or an object was given.
func (h ChoiceField[T]) Of(r *Record) (value T) {
	s := r.slot(h.Field)
	if s.group == nil && s.ok {
		for _, o := range h.options {
			if o.Word == s.text {
				return o.Is
			}
		}
	}
	return value
}

// Instead returns the object given in place of a choice; nil if there is none.
func (h ChoiceField[T]) Instead(r *Record) *Record { return r.slot(h.Field).group }

// A GroupField holds an object of fields.
type GroupField struct{ *Field }

// GroupOf declares an object of fields.
func GroupOf(d Field, fields ...Declared) GroupField {
	d.Shape, d.Fields = Group, Declare(fields...)
	return GroupField{&d}
}

// Of returns the object given, or one of defaults if none was.
func (h GroupField) Of(r *Record) *Record { return r.slot(h.Field).group }

// A NumbersField holds one number for each member of a series, such as the minutes of every test.
type NumbersField struct{ GroupField }

// NumbersOf declares a group of numbers. If d.Same, a single number may stand for all of them.
func NumbersOf(d Field, numbers []Field) NumbersField {
	handles := make([]Declared, len(numbers))
	for i, n := range numbers {
		handles[i] = NumberOf(n)
	}
	return NumbersField{GroupOf(d, handles...)}
}

// Of returns the numbers in the order declared.
func (h NumbersField) Of(r *Record) []float64 {
	slots := h.GroupField.Of(r).slots
	numbers := make([]float64, len(slots))
	for i := range slots {
		numbers[i] = slots[i].read.In
	}
	return numbers
}

// A ListField holds a list of objects of fields.
type ListField struct{ *Field }

// ListOf declares a list of objects of fields.
func ListOf(d Field, fields ...Declared) ListField {
	d.Shape, d.Fields = List, Declare(fields...)
	return ListField{&d}
}

// Of returns the rows given.
func (h ListField) Of(r *Record) []*Record { return r.slot(h.Field).rows }
