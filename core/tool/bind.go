package tool

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// bind reads an object as its fields are declared, and notes every fault in it.
func bind(fields []*Field, object Node, path string, mark quantity.Mark, f *Faults) *Record {
	r := newRecord(fields, path, mark)
	for _, m := range object.members {
		i := indexOf(fields, m.Name)
		if i < 0 {
			name := quantity.Clip(m.Name)
			f.Add(Fault{Field: JoinPath(path, name), Code: Unknown, Given: m.Value.String()}, "field", name, joinNames(fields))
			continue
		}
		if r.slots[i].given {
			f.Conflict(fields[i].Path(r), m.Value.String(), "twice", m.Name)
			r.slots[i].ok = false
			continue
		}
		r.read(i, m.Value, f)
	}
	for i, d := range fields {
		switch {
		case !d.Need || r.slots[i].given:
		case d.Shape == Group:
			f.Missing(d.Path(r), "missing_group", f.Label(d.Path(r)), joinNames(d.Fields))
		case d.Shape == List:
			f.Missing(d.Path(r), "missing_list", f.Label(d.Path(r)))
		default:
			f.Lacks(d.Path(r), f.sampleOf(d))
		}
	}
	return r
}

// newRecord returns the record of an object in which no field is given.
func newRecord(fields []*Field, path string, mark quantity.Mark) *Record {
	r := &Record{fields: fields, slots: make([]slot, len(fields)), path: path, mark: mark}
	for i, d := range fields {
		r.slots[i] = d.fallback
		if d.Shape == Group {
			r.slots[i].group = newRecord(d.Fields, JoinPath(path, d.Name), mark)
		}
	}
	return r
}

// read reads one value into the slot of field i.
func (r *Record) read(i int, n Node, f *Faults) {
	d := r.fields[i]
	r.slots[i] = slot{given: true, text: n.text, ok: true}
	v := value{r, d, &r.slots[i], d.Path(r), f}
	switch d.Shape {
	case Quantity, Reading:
		v.quantity(n)
	case Number, Whole:
		v.number(n)
	case Choice:
		v.choice(n)
	case Text:
		v.text(n)
	case Group:
		v.group(n)
	case List:
		v.list(n)
	}
}

// A value is one field while it is being read: its record and slot, its path, and where its faults go.
type value struct {
	of     *Record
	d      *Field
	s      *slot
	path   string
	faults *Faults
}

// wrong notes a fault of this value.
func (v value) wrong(code Code, given, key string, args ...any) {
	v.s.ok = false
	v.faults.Add(Fault{Field: v.path, Code: code, Given: given}, key, args...)
}

// lacks notes that this value is missing, with one that would be right.
func (v value) lacks(sample string) {
	v.s.ok = false
	v.faults.Lacks(v.path, sample)
}

func (v value) quantity(n Node) {
	switch n.kind {
	case aString:
	case aNumber:
		v.s.ok = false
		none := quantity.Error{Fault: quantity.NoUnit, Kind: v.d.Kinds[0], Given: n.String(), Want: wanted(v.d.Kinds)}
		v.faults.Quantity(v.path, &none)
		return
	default:
		v.wrong(Syntax, n.String(), "form.quantity", v.faults.Sample(v.d.Kinds[0]))
		return
	}
	if v.d.Shape == Reading && measure.Over(v.s.text) {
		v.s.over, v.s.kind = true, quantity.OfResistance
		return
	}
	if word := strings.ToLower(strings.TrimSpace(v.s.text)); slices.Contains(v.d.Spoken, word) {
		v.s.word = word
		return
	}
	read, err := quantity.Parse(v.s.text, v.of.mark, v.d.Kinds...)
	if err != nil {
		v.s.ok = false
		var e *quantity.Error
		if errors.As(err, &e) {
			v.faults.Quantity(v.path, e.In(v.of.mark))
		}
		return
	}
	v.s.read = read
	v.s.kind = read.Unit.Kind
	v.inRange()
}

func (v value) number(n Node) {
	if n.kind != aNumber && n.kind != aString {
		v.wrong(Syntax, n.String(), "form.number")
		return
	}
	text := strings.TrimSpace(v.s.text)
	if v.d.Percent {
		text = strings.TrimSpace(strings.TrimSuffix(text, "%"))
	}
	read, err := quantity.Parse(text, v.of.mark, slices.Concat([]quantity.Kind{quantity.OfRatio}, v.d.Kinds, v.d.Behind)...)
	var e *quantity.Error
	if errors.As(err, &e) && e.Fault == quantity.Ambiguous {
		v.s.ok = false
		v.faults.Quantity(v.path, e.In(v.of.mark))
		return
	}
	if err != nil || strings.HasSuffix(text, "%") || v.d.Shape == Whole && read.In != math.Trunc(read.In) {
		given := quantity.Clip(v.s.text)
		switch {
		case text == "":
			v.lacks(v.faults.sampleOf(v.d))
		case v.d.Shape == Whole:
			v.wrong(Syntax, given, "whole", given)
		default:
			v.wrong(Syntax, given, "number", given)
		}
		return
	}
	if v.d.Behind != nil {
		read.In, _ = strconv.ParseFloat(read.Digits, 64) // the number as it was typed, whatever is behind it
	}
	v.s.read = read
	if v.d.Kinds != nil {
		v.s.kind = v.d.Kinds[0]
	}
	v.inRange()
}

// inRange notes a fault if the value is outside the declared range.
func (v value) inRange() {
	if v.d.Range.Holds(v.s.read.In) {
		return
	}
	speak := v.faults.Speak
	limit := func(bound float64) string {
		if v.s.kind == 0 {
			return speak.Exact(bound)
		}
		return speak.Of(v.s.kind, bound, 0)
	}
	given := quantity.Clip(strings.TrimSpace(v.s.text))
	told := written(given, v.s.kind)
	switch bounds := v.d.Range; {
	case v.s.read.In > bounds.Max:
		v.wrong(OutOf, given, "above", told, limit(bounds.Max))
	case bounds.OpenMin:
		v.wrong(OutOf, given, "notover", told, limit(bounds.Min))
	default:
		v.wrong(OutOf, given, "below", told, limit(bounds.Min))
	}
}

func (v value) choice(n Node) {
	switch {
	case n.kind <= aNumber && slices.Contains(v.d.Choices, n.text): // its text is the value; 2 is as good as "2"
	case n.kind == anObject && len(v.d.Fields) > 0:
		v.object(n)
		given := 0
		for _, in := range v.s.group.slots {
			if in.given {
				given++
			}
		}
		if given != 1 && v.s.ok {
			v.wrong(Conflict, n.String(), "choose", joinNames(v.d.Fields))
		}
	case n.kind == aString && n.text == "":
		v.lacks(v.d.Choices[0])
	default:
		v.wrong(Unknown, n.String(), "choice", n.String(), v.d.choices())
	}
}

// object reads an object of the field's fields. The field is right if nothing inside it is wrong.
func (v value) object(n Node) {
	before := len(v.faults.list)
	v.s.group = bind(v.d.Fields, n, v.path, v.of.mark, v.faults)
	v.s.ok = len(v.faults.list) == before
}

func (v value) text(n Node) {
	switch {
	case n.kind != aString:
		v.wrong(Syntax, n.String(), "form.text")
	case len(n.text) > v.d.Most:
		v.wrong(OutOf, n.String(), "long", strconv.Itoa(len(n.text)), strconv.Itoa(v.d.Most))
	}
}

func (v value) group(n Node) {
	if v.d.Same && (n.kind == aNumber || n.kind == aString) {
		n = v.d.each(n)
	}
	if n.kind != anObject {
		v.wrong(Syntax, n.String(), "form.object", joinNames(v.d.Fields))
		v.s.group = newRecord(v.d.Fields, v.path, v.of.mark)
		return
	}
	v.object(n)
}

// each returns an object that gives every field of d the same value.
func (d *Field) each(same Node) Node {
	n := ObjectNode()
	for _, inner := range d.Fields {
		n.members = append(n.members, Member{inner.Name, same})
	}
	return n
}

func (v value) list(n Node) {
	if n.kind != anArray {
		v.wrong(Syntax, n.String(), "form.list")
		return
	}
	if len(n.items) == 0 && v.d.Need { // as if it were left out, which is a fault: there is nothing to answer
		*v.s = v.d.fallback
		return
	}
	if many := strconv.Itoa(len(n.items)); len(n.items) > v.d.Most {
		v.wrong(OutOf, many, v.faults.Speak.Form("rows", len(n.items)), many, strconv.Itoa(v.d.Most))
		return
	}
	before := len(v.faults.list)
	for j, item := range n.items {
		at := JoinPath(v.path, strconv.Itoa(j))
		if item.kind != anObject {
			v.faults.Add(Fault{Field: at, Code: Syntax, Given: item.String()}, "form.object", joinNames(v.d.Fields))
			continue
		}
		v.s.rows = append(v.s.rows, bind(v.d.Fields, item, at, v.of.mark, v.faults))
	}
	v.s.ok = len(v.faults.list) == before
}

// wanted returns the symbols of all units of some kinds.
func wanted(kinds []quantity.Kind) (symbols []string) {
	for _, k := range kinds {
		for _, u := range quantity.Units(k) {
			symbols = append(symbols, u.Symbol)
		}
	}
	return symbols
}
