package tool

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// A Record is a request, read by its declaration: for each field the value given, or the declared default.
type Record struct {
	fields []Field
	slots  []slot
	path   string // of the object, "" for the request
	mark   quantity.Mark
	found  any // what a tool's check has worked out, for its run
}

// A slot is what a record holds for one field.
type slot struct {
	given  bool
	ok     bool   // there is a value, and nothing is wrong with it
	text   string // as given; of a Choice or Text the value
	unit   string // symbol of the unit given
	plain  string // of a number that was read: the same in plain form, as a link writes it
	value  float64
	kind   quantity.Kind
	over   bool
	group  *Record
	rows   []*Record
	choice bool // a Choice given as a word
}

func (r *Record) at(name string) *slot {
	for i := range r.fields {
		if r.fields[i].Name == name {
			return &r.slots[i]
		}
	}
	panic("tool: no field " + name + " at " + r.path)
}

// Given says whether the request has the field, right or wrong.
func (r *Record) Given(name string) bool { return r.at(name).given }

// OK says whether every one of the fields has a value with nothing wrong, given or by default.
func (r *Record) OK(names ...string) bool {
	for _, n := range names {
		if !r.at(n).ok {
			return false
		}
	}
	return true
}

// Value is a number in the contract's unit.
func (r *Record) Value(name string) float64 { return r.at(name).value }

// Kind is what the value measures, where more than one kind may be given.
func (r *Record) Kind(name string) quantity.Kind { return r.at(name).kind }

// Over says whether a reading is over the meter's limit.
func (r *Record) Over(name string) bool { return r.at(name).over }

// Text is a text or a choice; of any other field, what was given.
func (r *Record) Text(name string) string { return r.at(name).text }

// Group is the object given; of defaults, where none is given.
func (r *Record) Group(name string) *Record { return r.at(name).group }

// Rows are the objects of a list.
func (r *Record) Rows(name string) []*Record { return r.at(name).rows }

// Path is a field's path in the request, such as specs.0.min.
func (r *Record) Path(name string) string { return joinPath(r.path, name) }

// A Pair is one value of a request under its flat key, such as specs.0.min and 5.0ohm.
type Pair struct{ Key, Value string }

// Pairs are the values that the request gives, as a link writes them: in the order of the declaration, numbers in plain
// form, defaults left out, rows numbered without gaps. What is wrong is kept as it was given.
func (r *Record) Pairs() []Pair { return r.pairs("") }

func (r *Record) pairs(path string) (out []Pair) {
	for i := range r.fields {
		d, s := &r.fields[i], &r.slots[i]
		at := joinPath(path, d.Name)
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

// Echo says in words what was read where that is more than a repetition: every reading, and every quantity that is said in
// another unit than it was given in. Keys are flat.
func (r *Record) Echo(speak *wording.Speaker, out map[string]string) {
	for i := range r.fields {
		d, s := &r.fields[i], &r.slots[i]
		if !s.given {
			continue
		}
		if s.group != nil {
			s.group.Echo(speak, out)
		}
		for _, row := range s.rows {
			row.Echo(speak, out)
		}
		if !s.ok {
			continue
		}
		path := r.Path(d.Name)
		switch {
		case s.over:
			out[path] = speak.Say("echo.over")
		case d.Shape == Reading && s.value == 0:
			out[path] = speak.Say("echo.zero")
		case d.Shape == Reading, d.Shape == Quantity && s.kind != quantity.OfRatio && s.unit != quantity.Units(s.kind)[0].Symbol:
			if text := speak.Of(s.kind, s.value, 0); d.Shape == Reading || !repeats(text, s.plain) {
				out[path] = text
			}
		}
	}
}

// repeats says whether a text says a quantity as it was given.
func repeats(text, plain string) bool {
	return strings.NewReplacer("\u00a0", "", ",", ".").Replace(text) == plain
}

// sameAsDefault says whether a right value says nothing that the default does not.
func (d *Field) sameAsDefault(s *slot) bool {
	def := &d.fallback
	if d.Shape == Choice {
		return s.choice && s.text == def.text
	}
	return s.value == def.value && s.kind == def.kind && s.over == def.over
}

func joinPath(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// bind reads an object by the declaration of its fields and notes every fault in it.
func bind(fields []Field, object node, path string, mark quantity.Mark, f *faults) *Record {
	r := newRecord(fields, path, mark)
	for _, m := range object.members {
		i := indexOf(fields, m.name)
		if i < 0 {
			known := make([]string, len(fields))
			for j, d := range fields {
				known[j] = d.Name
			}
			f.add(Fault{Field: joinPath(path, quantity.Clip(m.name)), Code: Unknown, Given: m.value.String()},
				"field", quantity.Clip(m.name), strings.Join(known, ", "))
			continue
		}
		if r.slots[i].given {
			f.conflict(r.Path(m.name), m.value.String(), "twice", m.name)
			r.slots[i].ok = false
			continue
		}
		r.read(i, m.value, f)
	}
	for i := range fields {
		d := &fields[i]
		switch {
		case !d.Need || r.slots[i].given:
		case d.Shape == Group:
			f.add(Fault{Field: r.Path(d.Name), Code: Missing}, "missing_group", d.Name, joinNames(d.Fields))
		default:
			f.add(Fault{Field: r.Path(d.Name), Code: Missing}, "missing", d.Name, d.sample())
		}
	}
	return r
}

// indexOf finds a field by its name; a declaration is large, and not copied for it.
func indexOf(fields []Field, name string) int {
	for i := range fields {
		if fields[i].Name == name {
			return i
		}
	}
	return -1
}

// newRecord is the record of a request that gives nothing.
func newRecord(fields []Field, path string, mark quantity.Mark) *Record {
	r := &Record{fields: fields, slots: make([]slot, len(fields)), path: path, mark: mark}
	for i := range fields {
		r.slots[i] = fields[i].fallback
		if fields[i].Shape == Group {
			r.slots[i].group = newRecord(fields[i].Fields, joinPath(path, fields[i].Name), mark)
		}
	}
	return r
}

// sample is a right value for the field, as a request gives it, for a hint.
func (d Field) sample() string {
	if d.Sample != "" {
		return d.Sample
	}
	switch d.Shape {
	case Quantity, Reading:
		if d.Default != "" {
			return d.Default
		}
		return sampleOf(d.Kinds[0])
	case Number, Whole:
		return "2"
	case Choice:
		return d.Choices[0]
	}
	return "…"
}

// read reads one value into its slot.
func (r *Record) read(i int, n node, f *faults) {
	d, path := &r.fields[i], r.Path(r.fields[i].Name)
	s := &r.slots[i]
	*s = slot{given: true, text: n.text, ok: true}
	wrong := func(key string, args ...any) {
		s.ok = false
		f.add(Fault{Field: path, Code: Syntax, Given: n.String()}, key, args...)
	}
	switch d.Shape {
	case Quantity, Reading:
		switch n.kind {
		case aString:
			r.readQuantity(d, s, path, f)
		case aNumber:
			s.ok = false
			f.quantity(path, &quantity.Error{Fault: quantity.NoUnit, Kind: d.Kinds[0], Given: n.String(), Want: wanted(d.Kinds)})
		default:
			wrong("form.quantity", sampleOf(d.Kinds[0]))
		}
	case Number, Whole:
		if n.kind != aNumber && n.kind != aString {
			wrong("form.number")
			return
		}
		r.readNumber(d, s, path, f)
	case Choice:
		switch {
		case n.kind == aString && slices.Contains(d.Choices, n.text):
			s.choice = true
		case n.kind == anObject && d.Fields != nil:
			before := len(f.list)
			s.group = bind(d.Fields, n, path, r.mark, f)
			given := 0
			for j := range s.group.slots {
				if s.group.slots[j].given {
					given++
				}
			}
			if given != 1 && len(f.list) == before {
				f.conflict(path, n.String(), "choose", joinNames(d.Fields))
			}
			s.ok = len(f.list) == before
		case n.kind == aString && n.text == "":
			s.ok = false
			f.add(Fault{Field: path, Code: Missing}, "missing", d.Name, d.Choices[0])
		default:
			s.ok = false
			f.add(Fault{Field: path, Code: Unknown, Given: n.String()}, "choice", n.String(), d.choices())
		}
	case Text:
		switch {
		case n.kind != aString:
			wrong("form.text")
		case len(n.text) > d.Most:
			s.ok = false
			f.add(Fault{Field: path, Code: OutOf, Given: n.String()}, "long", strconv.Itoa(len(n.text)), strconv.Itoa(d.Most))
		}
	case Group:
		if d.Same && (n.kind == aNumber || n.kind == aString) {
			n = d.each(n)
		}
		if n.kind != anObject {
			wrong("form.object", joinNames(d.Fields))
			s.group = newRecord(d.Fields, path, r.mark)
			return
		}
		before := len(f.list)
		s.group = bind(d.Fields, n, path, r.mark, f)
		s.ok = len(f.list) == before
	case List:
		if n.kind != anArray {
			wrong("form.list")
			return
		}
		if len(n.items) > d.Most {
			s.ok = false
			f.add(Fault{Field: path, Code: OutOf, Given: strconv.Itoa(len(n.items))}, "rows", strconv.Itoa(len(n.items)), strconv.Itoa(d.Most))
			return
		}
		before := len(f.list)
		for j, item := range n.items {
			at := joinPath(path, strconv.Itoa(j))
			if item.kind != anObject {
				f.add(Fault{Field: at, Code: Syntax, Given: item.String()}, "form.object", joinNames(d.Fields))
				continue
			}
			s.rows = append(s.rows, bind(d.Fields, item, at, r.mark, f))
		}
		s.ok = len(f.list) == before
	}
}

// each is the object in which every field has the same value.
func (d *Field) each(value node) node {
	n := node{kind: anObject}
	for _, inner := range d.Fields {
		n.members = append(n.members, member{inner.Name, value})
	}
	return n
}

// choices lists what a Choice may be: its words, and the fields of the object that may stand instead.
func (d Field) choices() string {
	all := strings.Join(d.Choices, ", ")
	for _, o := range d.Fields {
		all += ", {" + strconv.Quote(o.Name) + ": …}"
	}
	return all
}

func joinNames(fields []Field) string {
	names := make([]string, len(fields))
	for i, d := range fields {
		names[i] = d.Name
	}
	return strings.Join(names, ", ")
}

func wanted(kinds []quantity.Kind) (symbols []string) {
	for _, k := range kinds {
		for _, u := range quantity.Units(k) {
			symbols = append(symbols, u.Symbol)
		}
	}
	return symbols
}

func (r *Record) readQuantity(d *Field, s *slot, path string, f *faults) {
	if d.Shape == Reading && measure.Over(s.text) {
		s.over, s.kind = true, quantity.OfResistance
		return
	}
	v, err := quantity.Parse(s.text, r.mark, d.Kinds...)
	if err != nil {
		s.ok = false
		var e *quantity.Error
		if errors.As(err, &e) {
			f.quantity(path, e)
		}
		return
	}
	s.value, s.kind, s.unit, s.plain = v.In, v.Unit.Kind, v.Unit.Symbol, v.String()
	s.inRange(d, path, f)
}

func (r *Record) readNumber(d *Field, s *slot, path string, f *faults) {
	text := strings.TrimSpace(s.text)
	if slices.Contains(d.Offer, "%") {
		text = strings.TrimSpace(strings.TrimSuffix(text, "%"))
	}
	v, err := quantity.Parse(text, r.mark, append([]quantity.Kind{quantity.OfRatio}, d.Kinds...)...)
	var e *quantity.Error
	if errors.As(err, &e) && e.Fault == quantity.Ambiguous {
		s.ok = false
		f.quantity(path, e)
		return
	}
	if err != nil || strings.HasSuffix(text, "%") || d.Shape == Whole && v.In != math.Trunc(v.In) {
		s.ok = false
		given := quantity.Clip(s.text)
		switch {
		case text == "":
			f.add(Fault{Field: path, Code: Missing}, "missing", d.Name, d.sample())
		case d.Shape == Whole:
			f.add(Fault{Field: path, Code: Syntax, Given: given}, "whole", given)
		default:
			f.add(Fault{Field: path, Code: Syntax, Given: given}, "number", given)
		}
		return
	}
	s.value, s.plain = v.In, v.String()
	if d.Kinds != nil {
		s.kind = d.Kinds[0]
	}
	s.inRange(d, path, f)
}

// inRange notes a value out of the declared range.
func (s *slot) inRange(d *Field, path string, f *faults) {
	if d.Range.Holds(s.value) {
		return
	}
	s.ok = false
	limit := func(v float64) string {
		if s.kind == 0 {
			return f.speak.Exact(v)
		}
		return f.speak.Of(s.kind, v, 0)
	}
	given := quantity.Clip(strings.TrimSpace(s.text))
	key, bound := "above", d.Range.Max
	if s.value <= d.Range.Max {
		key, bound = "below", d.Range.Min
		if d.Range.OpenMin {
			key = "notover"
		}
	}
	f.outOf(path, given, key, given, limit(bound))
}
