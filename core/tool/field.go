package tool

import (
	"slices"
	"strings"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// A Shape says which form a field's value takes in a request.
type Shape uint8

// The shapes. Each has a handle: see handle.go.
const (
	Quantity Shape = iota + 1 // text: a number and a unit
	Reading                   // like Quantity, or OL, or one of Spoken
	Number                    // a pure number; with Kinds also a quantity, and then a number alone is in the contract's unit
	Whole                     // a count
	Choice                    // one of Choices; with Fields, an object with exactly one of them instead
	Text                      // free text
	Group                     // an object of Fields
	List                      // a list of objects of Fields
)

// A Field declares one value of a request. A handle carries it and knows the Go type of the value; the handle's
// constructor sets Shape, Kinds, Choices and Fields.
//
// Its words are in the tool's catalogue, by its path: PATH is the label, PATH.how says how to fill it in, PATH=CHOICE
// names a choice.
type Field struct {
	Name    string
	Need    bool   // leaving it out is a fault
	Default string // the value when left out, as a request would give it; "" for none
	Range   Range  // in the contract's unit
	Most    int    // List: most rows; Text: most bytes
	Percent bool   // Number: a % may follow it
	// Number: a unit of these kinds may follow it, which does not change the number: see [Field.Value].
	Behind []quantity.Kind
	Same   bool   // Group: a single number may stand for all its fields
	File   bool   // Text: the content of a file; a link takes it along if it has at most [LinkedFile] bytes
	Sample string // a correct value, for hints; if empty, the default or a value of the kind
	// Reading: the words that may stand in place of a quantity, such as yes and no.
	Spoken []string
	// Before returns what the field at the top is in a link from before there was the field, which every link has since; "" for the default.
	Before func(given map[string]string) string

	// Fields with the same Apart may fail together: if one is wrong, the page drops them all (in a List, only the row) and
	// answers the rest.
	Apart string
	// With Apart: an error here replaces the verdict, since a partial answer could be mistaken for the whole.
	Grave bool

	// Label is the key of a label that already exists elsewhere; such a field has no text that says how to fill it in. From
	// is the key of a field elsewhere whose words, label and all, this field shares. If both are empty, the words are under
	// the field's path.
	Label, From string

	// Fact is the name of the fact of a job that this field holds: fields of several tools that have the same fact are filled in
	// once. With Takes, the field is filled in from the job and never writes back: what is tried out there stays there.
	Fact  string
	Takes bool
	// Yields is the name of a field that stands instead of this one: while that one is given, the fact is not filled in.
	Yields string

	// Page says how the page shows the field.
	Page Hints

	// Taken says that the value is a reading that someone took, which the record of a job keeps, and how it was taken: given the
	// request, the object that the field is in, and the kind of the value. It is nil for any other field.
	Taken func(request, own *Record, kind quantity.Kind) How

	// Step says of a Choice at the top that it tells how far a step of the work is: the record of a job keeps when that was said.
	Step bool

	Shape   Shape
	Kinds   []quantity.Kind // Quantity, Reading, Number: what it may be; the first is the usual one
	Choices []string
	Fields  []*Field

	fallback slot // what Default was read as
}

// Hints say how the page shows a field. They do not change what a request means.
type Hints struct {
	Fine     bool              // most readers leave it alone, so it is behind "more"
	Offer    []string          // symbols of the units to choose from; if empty, only the contract's
	UnitFrom string            // name of a field beside it that shares its unit: a maximum has the unit of its minimum
	Fresh    []string          // Text: has a button that fills it at random, which also resets these fields
	Pick     string            // List: the Choice that tells its rows apart; a tap in the drawing opens the row of one choice
	Units    map[string]string // the Choice named by Pick: the unit in which the row's reading is usually given
	// The Choice named by Pick: the words in which the row's reading is given, for a choice whose reading is no number.
	Spoken map[string][]string
	Slide  *Slide // Quantity: a slider beside the number; the number itself may lie outside it
	Time   bool   // Text: a time in UTC, which the page asks for by the reader's clock
	Lines  bool   // Text: may have several lines
	Plate  bool   // List: its rows are places, x and y, on a plate that is drawn in its slot and can be tapped
	Slot   bool   // on a narrow page, parts of the answer are shown right after the field
	Held   bool   // kept but not shown: buttons in the answer set it
	Open   bool   // Group: unfolded from the start
	Stays  bool   // once given it stays: no step of undo takes it back. A whole form that is replaced can still be brought back
	Part   string // folded, with its neighbours of the same part, behind a line titled part.NAME
	// Role is who sees the field, where a tool has several readers: a word of its choice "role". Empty: everyone.
	Role string
	// Quantity or Reading in a List: it is typed down the rows, so Enter goes to the same field of the next row and makes that row.
	Down bool
}

// A Slide is the travel of a slider, in the contract's unit: from one value to another in equal steps, or by equal ratios
// where the range spans decades.
type Slide struct {
	From, To, Step float64
	Ratio          bool // move by equal ratios, to three digits; Step is not used
}

// LinkedFile is the most bytes of a file that a link takes along: enough for a short recording, as on a worksheet.
const LinkedFile = 8 << 10

// A Range says which values are allowed. The zero Range has no limits.
type Range struct {
	Min, Max float64
	OpenMin  bool // Min itself is not allowed
	set      bool
}

// Between returns a range that includes both limits; Over one that excludes the lower.
func Between(lo, hi float64) Range { return Range{Min: lo, Max: hi, set: true} }
func Over(lo, hi float64) Range    { return Range{Min: lo, Max: hi, OpenMin: true, set: true} }

// Tiny is a margin for rounding: a value no further than this above an excluded limit counts as the limit itself.
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

// Words returns the keys of a field's label and of the text that says how to fill it in ("" for none), given the key of
// the field's path. The words of its choices and inner fields are below the label's key.
func (d *Field) Words(key string) (label, how string) {
	switch {
	case d.Label != "":
		return d.Label, ""
	case d.From != "":
		return d.From, d.From + ".how"
	}
	return key, key + ".how"
}

// Clone returns a copy of a field for another tool. The copy keeps its words, which are those of the tool named.
func (d *Field) Clone(tool string) *Field { return d.clone(tool, tool) }

func (d *Field) clone(tool, above string) *Field {
	c, key := *d, above+"."+d.Name
	switch {
	case d.Label != "":
		c.Label = tool + "." + d.Label
	case d.From == "":
		c.From = key
	default: // already shares the words of a field elsewhere
		key = d.From
	}
	c.Fields = nil
	for _, in := range d.Fields {
		c.Fields = append(c.Fields, in.clone(tool, key))
	}
	return &c
}

// sample returns a correct value for the field, as a request would give it, to show in a hint; "" where there is none: a Text without a
// Sample, a Group or a List.
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
	return ""
}

// prepare reads the declared default. It panics if a request could not give that default: the declaration is wrong.
func (d *Field) prepare() {
	if d.Default == "" {
		d.fallback.ok = d.Shape == Group || d.Shape == List
		return
	}
	alone := *d
	alone.Fields = nil
	r := &Record{fields: []*Field{&alone}, slots: make([]slot, 1)}
	r.read(0, TextNode(d.Default), &Faults{}) // Faults without a speaker: adding one panics
	d.fallback = r.slots[0]
	d.fallback.given = false
	if !d.fallback.ok || d.Need {
		panic("tool: the default of " + d.Name + " stands for a field that has to be given")
	}
}

// rangeFields calls do for each field, including those inside others.
func rangeFields(fields []*Field, do func(*Field)) {
	for _, d := range fields {
		do(d)
		rangeFields(d.Fields, do)
	}
}

// indexOf returns the index of the field with a name, or -1.
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

// choices lists what may be given for a Choice: its words, and the fields of the object that may replace them.
func (d *Field) choices() string {
	all := strings.Join(d.Choices, ", ")
	for _, o := range d.Fields {
		all += ", {\"" + o.Name + "\": …}"
	}
	return all
}

// JoinPath returns the flat key of a name below another key, which is "" at the top.
func JoinPath(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// Spoils returns what has to be left out, because of an error at path, for the rest to be answered: prefixes of flat keys.
// It returns nil if the tool cannot answer without them.
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

// Field returns the field declared at a flat key, ignoring list indices; nil if there is none.
func (t *Tool) Field(key string) *Field {
	_, found, rest := t.walk(key)
	if rest != "" {
		return nil
	}
	return found
}

// Split cuts a flat key into names. It cuts at dots, except dots inside a field's own name; after a name that the tool
// does not know, at every dot.
func (t *Tool) Split(key string) []string {
	path, _, rest := t.walk(key)
	if rest != "" || key == "" {
		path = append(path, strings.Split(rest, ".")...)
	}
	return path
}

// FarthestRow is the highest number that a row may have in a flat key: rows may have gaps, and their order alone counts.
const FarthestRow = 999_999_999

// RowNumber reads the number of a row in a flat key: 0, 1, 2 and so on, in one way of writing.
func RowNumber(text string) (n int, ok bool) {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' || i > 8 {
			return 0, false
		}
		n = 10*n + int(text[i]-'0')
	}
	return n, text != "" && (text[0] != '0' || len(text) == 1)
}

// NoRow reports whether a flat key is of a row that cannot be: its number is too large, or written in another way.
func (t *Tool) NoRow(key string) bool {
	_, found, rest := t.walk(key)
	index, _, _ := strings.Cut(rest, ".")
	return found != nil && found.Shape == List && index != "" && strings.Trim(index, "+-0123456789") == ""
}

// Label returns the label of the field at a flat key; the key itself where there is none.
func (t *Tool) Label(key string, speak *wording.Speaker) string {
	fields, label := t.Fields, ""
	for _, part := range t.Split(key) {
		if _, ok := RowNumber(part); ok {
			continue
		}
		i := indexOf(fields, part)
		if i < 0 {
			return key
		}
		label, _ = fields[i].Words(JoinPath(label, part))
		fields = fields[i].Fields
	}
	if speak.Has(label) {
		return speak.Say(label)
	}
	return key
}

// walk follows a flat key through the declared fields as far as it leads. The rest is what it could not follow.
func (t *Tool) walk(key string) (path []string, found *Field, rest string) {
	fields := t.Fields
	path = make([]string, 0, 4)
	for rest = key; rest != ""; {
		if found != nil && found.Shape == List {
			index, deeper, _ := strings.Cut(rest, ".")
			if _, ok := RowNumber(index); ok {
				path, rest = append(path, index), deeper
				continue
			}
		}
		i := begins(fields, rest)
		if i < 0 {
			return path, found, rest
		}
		found = fields[i]
		fields = found.Fields
		path, rest = append(path, found.Name), strings.TrimPrefix(rest[len(found.Name):], ".")
	}
	return path, found, ""
}

// begins returns the index of the field whose name a flat key begins with, or -1.
func begins(fields []*Field, key string) int {
	for i, d := range fields {
		if n := len(d.Name); len(key) >= n && key[:n] == d.Name && (len(key) == n || key[n] == '.') {
			return i
		}
	}
	return -1
}
