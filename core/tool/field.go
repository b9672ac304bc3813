package tool

import (
	"slices"
	"strings"

	"ohmwright/core/quantity"
)

// A Shape is the form that a field's value takes in a request.
type Shape uint8

// The shapes. Each has its handle: see handle.go.
const (
	Quantity Shape = iota + 1 // a text of number and unit
	Reading                   // the same, or OL
	Number                    // a pure number; with Kinds also a quantity of one of them, a number alone being in its contract's unit
	Whole                     // a count
	Choice                    // one of Choices; with Fields, an object with exactly one of them instead
	Text                      // free text
	Group                     // an object of Fields
	List                      // a list of objects of Fields
)

// A Field declares what one value of a request means. A handle carries it and knows the Go type of the value; the handle's
// constructor sets Shape, Kinds, Choices and Fields.
//
// Its words stand among the tool's own under its path: PATH is its label, PATH.how how to fill it in, PATH=CHOICE a choice.
type Field struct {
	Name    string
	Need    bool   // an error where left out
	Default string // what a left-out value is taken to be, as a request would give it; "" for none
	Range   Range  // of the value in the contract's unit
	Most    int    // List: rows; Text: bytes
	Percent bool   // Number: a % may stand behind it
	Same    bool   // Group: one number may stand for all its fields
	File    bool   // Text: the content of a file; a link takes it along only up to [LinkedFile] bytes
	Sample  string // a right value, for hints; left out: the default, or one of the kind

	// Apart: fields that may fail together. If one is wrong, the page drops all of that name (in a List, the row) and answers the rest.
	Apart string
	// Grave, with Apart: an error here replaces the verdict, since a partial answer could be mistaken for the whole.
	Grave bool

	// Label is the key of the label where something else has the words already, and nothing says how; From is the key of the
	// label and of the words below it, of a field that stands elsewhere too. Left out: the field's path.
	Label, From string

	// Page is what the page does with the field.
	Page Hints

	Shape   Shape
	Kinds   []quantity.Kind // Quantity, Reading, Number: what it may be; the first is the usual one
	Choices []string
	Fields  []*Field

	fallback slot // Default, read
}

// Hints are what the page does with a field; they change nothing of what a request means.
type Hints struct {
	Fine     bool              // most readers leave it alone: it is kept behind "more"
	Offer    []string          // symbols of the units to choose from; left out: the contract's alone
	UnitFrom string            // the field beside it whose unit it takes, as a maximum takes that of its minimum
	Fresh    []string          // Text: may be filled at random, and these fields then begin anew
	Pick     string            // List: the Choice that tells its rows apart; a tap in the drawing opens a row for one of them
	Units    map[string]string // Choice that is picked by: the unit in which the row's other field is usually given
	Slide    *Slide            // Quantity: a slider beside the number; the number itself may lie outside
	Lines    bool              // Text: has several lines
	Plate    bool              // List: its rows are places, x and y, on a plate that is drawn in its slot and tapped
	Slot     bool              // parts of the answer have their place behind the field on a narrow page
	Held     bool              // kept and not shown: it is set from the answer
}

// A Slide is what a slider runs over: from a value to another, in the contract's unit, by steps; or by equal ratios, where
// the range spans decades.
type Slide struct {
	From, To, Step float64
	Ratio          bool // by equal ratios, to three digits; Step is left out
}

// LinkedFile is how many bytes of a file a link takes along: a short recording, as a worksheet has it.
const LinkedFile = 8 << 10

// A Range is what a value may be. The zero Range has no limits.
type Range struct {
	Min, Max float64
	OpenMin  bool // Min itself is out
	set      bool
}

// Between has both limits in the range; Over leaves the lower one out.
func Between(lo, hi float64) Range { return Range{Min: lo, Max: hi, set: true} }
func Over(lo, hi float64) Range    { return Range{Min: lo, Max: hi, OpenMin: true, set: true} }

// Tiny is what is taken for nothing: a value no further than this above an open limit does not count as above it.
const Tiny = 1e-12

// Holds reports whether a value is in range.
func (r Range) Holds(v float64) bool {
	if !r.set {
		return true
	}
	if r.OpenMin && v <= r.Min+Tiny {
		return false
	}
	return r.Min <= v && v <= r.Max
}

// Words returns the keys of a field's label and of how it is filled in, given the key of its path; how is "" where there is
// none. The words of what is in the field stand below its label's key.
func (d *Field) Words(key string) (label, how string) {
	switch {
	case d.Label != "":
		return d.Label, ""
	case d.From != "":
		return d.From, d.From + ".how"
	}
	return key, key + ".how"
}

// Clone returns a copy of a field of another tool, with the words that it has there.
func (d *Field) Clone(tool string) *Field { return d.clone(tool, tool) }

func (d *Field) clone(tool, above string) *Field {
	c, key := *d, above+"."+d.Name
	switch {
	case d.Label != "":
		c.Label = tool + "." + d.Label
	case d.From != "":
		c.From = tool + "." + d.From
	default:
		c.From = key
	}
	c.Fields = nil
	for _, in := range d.Fields {
		c.Fields = append(c.Fields, in.clone(tool, key))
	}
	return &c
}

// sample is a right value for the field, as a request gives it, for a hint.
func (d *Field) sample() string {
	if d.Sample != "" {
		return d.Sample
	}
	switch d.Shape {
	case Quantity, Reading:
		if d.Default != "" {
			return d.Default
		}
		return SampleOf(d.Kinds[0])
	case Number, Whole:
		return "2"
	case Choice:
		return d.Choices[0]
	}
	return "…"
}

// prepare reads the declared default. One that a request could not give is a fault of the program, and panics.
func (d *Field) prepare() {
	if d.Default == "" {
		d.fallback.ok = d.Shape == Group || d.Shape == List
		return
	}
	alone := *d
	alone.Fields = nil
	r := &Record{fields: []*Field{&alone}, slots: make([]slot, 1)}
	r.read(0, TextNode(d.Default), &Faults{}) // without a speaker: a fault here panics
	d.fallback = r.slots[0]
	d.fallback.given = false
	if !d.fallback.ok || d.Need {
		panic("tool: the default of " + d.Name + " stands for a field that has to be given")
	}
}

// rangeFields calls do for each field at each depth.
func rangeFields(fields []*Field, do func(*Field)) {
	for _, d := range fields {
		do(d)
		rangeFields(d.Fields, do)
	}
}

// indexOf finds a field by its name; -1 where there is none.
func indexOf(fields []*Field, name string) int {
	return slices.IndexFunc(fields, func(d *Field) bool { return d.Name == name })
}

func joinNames(fields []*Field) string {
	names := make([]string, len(fields))
	for i, d := range fields {
		names[i] = d.Name
	}
	return strings.Join(names, ", ")
}

// choices lists what a Choice may be: its words, and the fields of the object that may stand instead.
func (d *Field) choices() string {
	all := strings.Join(d.Choices, ", ")
	for _, o := range d.Fields {
		all += ", {\"" + o.Name + "\": …}"
	}
	return all
}

func joinPath(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// Spoils finds what an error at a path spoils: the flat keys that have to be left out for the rest to be answered, as
// prefixes. None where no answer can do without them.
func (t *Tool) Spoils(path string) (prefixes []string) {
	top, rest, _ := strings.Cut(path, ".")
	i := indexOf(t.Fields, top)
	if i < 0 || t.Fields[i].Apart == "" {
		return nil
	}
	if t.Fields[i].Shape == List && rest != "" {
		index, _, _ := strings.Cut(rest, ".")
		return []string{top + "." + index}
	}
	for _, d := range t.Fields {
		if d.Apart == t.Fields[i].Apart {
			prefixes = append(prefixes, d.Name)
		}
	}
	return prefixes
}

// Field finds the declaration at a flat key, list indices left aside; nil where there is none.
func (t *Tool) Field(key string) *Field {
	_, found, rest := t.walk(key)
	if rest != "" {
		return nil
	}
	return found
}

// Split cuts a flat key into the names on its way: at its dots, but for those in a field's own name. What is behind a name
// that the tool does not know is cut at every dot.
func (t *Tool) Split(key string) []string {
	path, _, rest := t.walk(key)
	if rest != "" || key == "" {
		path = append(path, strings.Split(rest, ".")...)
	}
	return path
}

// walk follows a flat key through the declarations as far as it leads.
func (t *Tool) walk(key string) (path []string, found *Field, rest string) {
	fields := t.Fields
	for rest = key; rest != ""; {
		index, deeper, _ := strings.Cut(rest, ".")
		if found != nil && found.Shape == List && strings.Trim(index, "0123456789") == "" {
			path, rest = append(path, index), deeper
			continue
		}
		i := slices.IndexFunc(fields, func(d *Field) bool { return rest == d.Name || strings.HasPrefix(rest, d.Name+".") })
		if i < 0 {
			return path, found, rest
		}
		found = fields[i]
		fields = found.Fields
		path, rest = append(path, found.Name), strings.TrimPrefix(rest[len(found.Name):], ".")
	}
	return path, found, ""
}
