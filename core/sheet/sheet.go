// Package sheet holds an answer as laid out for a reader: a tree of HTML and SVG elements. The tree is data, never markup:
// the page creates its nodes one by one, so that nothing a user typed can turn into markup on the way.
package sheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/jsontext"
	"ohmwright/core/portable"
)

// An Element is a tag with attributes and contents. Without a tag, it is a text.
type Element struct {
	tag   string // or the text itself
	text  bool
	same  bool     // as it was: see Compare
	late  bool     // what is in it follows
	attrs []string // name, value, name, value
	kids  []*Element
}

// New returns the element that a line describes by its tag and attributes. Each value written as ? is the next of values.
//
//	New("text class=unit x=? y=4", "12") is <text class="unit" x="12" y="4">
//
// A value in the line must not contain a space, and all of values must be used.
func New(line string, values ...string) *Element {
	tag, rest, _ := strings.Cut(line, " ")
	e := &Element{tag: tag}
	for rest != "" {
		var part string
		part, rest, _ = strings.Cut(rest, " ")
		name, value, _ := strings.Cut(part, "=")
		if value == "?" {
			value, values = values[0], values[1:]
		}
		e.attrs = append(e.attrs, name, value)
	}
	return e
}

// With adds elements to the contents and returns the element itself. Nil elements are ignored.
func (e *Element) With(kids ...*Element) *Element {
	for _, k := range kids {
		if k != nil {
			e.kids = append(e.kids, k)
		}
	}
	return e
}

// Attr adds an attribute and returns the element itself.
func (e *Element) Attr(name, value string) *Element {
	e.attrs = append(e.attrs, name, value)
	return e
}

// Value returns the value of an attribute, or "" if the element does not have it.
func (e *Element) Value(name string) string {
	for i := 0; i+1 < len(e.attrs); i += 2 {
		if e.attrs[i] == name {
			return e.attrs[i+1]
		}
	}
	return ""
}

// Inner returns the text inside the first element of a class, here or below; "" if there is none.
func (e *Element) Inner(class string) string {
	if e.Value("class") == class {
		return e.plainText()
	}
	for _, k := range e.kids {
		if text := k.Inner(class); text != "" {
			return text
		}
	}
	return ""
}

// First returns the first element of a class, here or below; nil if there is none.
func (e *Element) First(class string) *Element {
	if e.Value("class") == class {
		return e
	}
	for _, k := range e.kids {
		if found := k.First(class); found != nil {
			return found
		}
	}
	return nil
}

func (e *Element) plainText() string {
	if e.text {
		return e.tag
	}
	var all strings.Builder
	for _, k := range e.kids {
		all.WriteString(k.plainText())
	}
	return all.String()
}

// Say adds a text to the contents and returns the element itself.
func (e *Element) Say(text string) *Element {
	e.kids = append(e.kids, &Element{tag: text, text: true})
	return e
}

// Text returns an element with a class and a text.
func Text(tag, class, text string) *Element { return New(tag+" class=?", class).Say(text) }

// MarshalJSON writes the element as ["tag", {"name": "value"}, kid, …].
func (e *Element) MarshalJSON() ([]byte, error) { return e.AppendJSON(nil), nil }

// Compare notes in the element and all below it what is as it was in another one, at the same place, and reports whether the whole is:
// JSON has 0 for that, which says so to a page that has the other one. What a reader can set (an input) is never as it was, and nothing
// that is late or was: the page keeps something else in its place.
func (e *Element) Compare(was *Element) bool {
	if e.text || was.text {
		e.same = e.text && was.text && e.tag == was.tag
		return e.same
	}
	if e.late || was.late {
		return false
	}
	same := e.tag == was.tag && e.tag != "input" && slices.Equal(e.attrs, was.attrs) && len(e.kids) == len(was.kids)
	for i := range min(len(e.kids), len(was.kids)) {
		kept := e.kids[i].Compare(was.kids[i])
		same = same && kept
	}
	e.same = same
	return same
}

// AppendJSON appends what [Element.MarshalJSON] writes.
func (e *Element) AppendJSON(b []byte) []byte {
	if e.same {
		return append(b, '0')
	}
	if e.text {
		return jsontext.Append(b, e.tag)
	}
	b = append(b, '[')
	b = jsontext.Append(b, e.tag)
	b = append(b, ',', '{')
	for i := 0; i+1 < len(e.attrs); i += 2 {
		if i > 0 {
			b = append(b, ',')
		}
		b = jsontext.Append(b, e.attrs[i])
		b = append(b, ':')
		b = jsontext.Append(b, e.attrs[i+1])
	}
	b = append(b, '}')
	for _, k := range e.kids {
		b = append(b, ',')
		b = k.AppendJSON(b)
	}
	return append(b, ']')
}

// Late notes that what is in the element follows a moment later, and returns the element itself.
func (e *Element) Late() *Element {
	e.late = true
	return e.Attr("data-late", "yes")
}

// Num writes a coordinate of a drawing to a hundredth, which is fine enough.
func Num(v float64) string {
	hundredths := math.Round(v * 100)
	if size := math.Abs(hundredths); !(size >= 1 && size <= 1e9) {
		return strconv.FormatFloat(hundredths/100, 'f', -1, 64)
	}
	// A drawing has hundreds of them, and whole numbers are written in a fraction of the time.
	n := int(hundredths)
	text := strconv.Itoa(n / 100)
	if n < 0 && n > -100 {
		text = "-0"
	}
	switch part := max(n, -n) % 100; {
	case part == 0:
		return text
	case part%10 == 0:
		return text + "." + strconv.Itoa(part/10)
	case part < 10:
		return text + ".0" + strconv.Itoa(part)
	default:
		return text + "." + strconv.Itoa(part)
	}
}

// A Scale maps values to a drawing's coordinates along one axis.
type Scale struct{ From, To, A, B float64 } // From is drawn at A, To at B

// At returns the coordinate of a value, which may be outside the drawing.
func (s Scale) At(v float64) float64 { return s.A + (v-s.From)/(s.To-s.From)*(s.B-s.A) }

// Clamp returns the coordinate of a value, moved to the drawing's edge if it is outside. out says whether it was.
func (s Scale) Clamp(v float64) (x float64, out bool) {
	x = s.At(v)
	lo, hi := math.Min(s.A, s.B), math.Max(s.A, s.B)
	c := math.Min(math.Max(x, lo), hi)
	return c, c != x
}

// Ticks returns about n round values within the scale, in steps of 1, 2 or 5 times a power of ten, and their number of decimals.
func (s Scale) Ticks(n int) (at []float64, decimals int) {
	span := s.To - s.From
	raw := span / float64(n)
	power := portable.Pow(10, math.Floor(portable.Log10(raw)))
	step := 10 * power
	for _, m := range []float64{1, 2, 5} {
		if m*power >= raw {
			step = m * power
			break
		}
	}
	decimals = max(0, -int(math.Floor(portable.Log10(step)+1e-9)))
	for i := math.Ceil(s.From/step - 1e-9); i*step <= s.To+step*1e-9 && len(at) < 4*n; i++ {
		at = append(at, i*step)
	}
	return at, decimals
}
