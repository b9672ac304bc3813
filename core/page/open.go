package page

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// A Field is the content of one field of a form.
type Field struct {
	Text string
	Unit string // symbol; "" for none
}

// A Form is the content of a form's fields, read from a link.
type Form struct {
	Tool   string // "" if the link names no tool
	Fields map[string]Field
	Notes  []Note
	// Of a link that was handed out to be worked on, with no work in it: the link itself, as it is written, and whose work it asks for.
	Of, Whose string
}

// MostRows is the most rows of a list that a form holds, if the list may have so many. The page's scripts have the same (MOST_ROWS).
const MostRows = 200

// Open reads a link for a form, in the reader's notation. It reads as much as it can, and notes the rest.
func Open(text string, speak *wording.Speaker) Form {
	d, faults := link.Read(text, speak)
	form := Form{Fields: map[string]Field{}, Notes: []Note{}}
	if d.Tool == nil {
		form.Notes = notes(faults)
		return form
	}
	form.Tool = d.Tool.Name
	d, lost := placed(d.Compact(), speak)
	form.Of, form.Whose = handedOut(d, speak)
	form.Notes = notes(tool.Listed(append(faults, lost...), speak))
	for key, value := range d.Given {
		f := d.Tool.Field(key)
		form.Fields[key] = fieldOf(f, value, speak.Mark())
		if e := unitless(f, value); e != nil {
			units := strings.Join(e.Want, ", ")
			none := tool.NewFault(speak, key, tool.WrongUnit, value, "nounit", e.Given, e.Given+" "+e.Want[0], units)
			form.Notes = append(form.Notes, notes([]tool.Fault{none})...)
		}
	}
	return form
}

// placed returns what a draft has for fields of a form, one value for all of a group given to each. The rest is noted, as it would be
// lost in silence: fields that are none, rows beyond those that a list takes, and words that are no choice.
func placed(d link.Draft, speak *wording.Speaker) (link.Draft, []tool.Fault) {
	out := link.Draft{Tool: d.Tool, Given: make(map[string]string, len(d.Given))}
	var unknown []string
	var faults []tool.Fault
	for _, key := range slices.Sorted(maps.Keys(d.Given)) {
		value, f := d.Given[key], d.Tool.Field(key)
		switch {
		case f == nil || beyond(d.Tool, key) || f.Shape == tool.List || f.Shape == tool.Group && !f.Same:
			unknown = append(unknown, key)
		case f.Shape == tool.Choice && !slices.Contains(f.Choices, value):
			faults = append(faults, tool.NewFault(speak, key, tool.Unknown, value, "choice", quantity.Clip(value), strings.Join(f.Choices, ", ")))
		case f.Shape == tool.Group:
			for _, in := range f.Fields {
				if _, own := d.Given[tool.JoinPath(key, in.Name)]; !own {
					out.Given[tool.JoinPath(key, in.Name)] = value
				}
			}
		default:
			out.Given[key] = value
		}
	}
	known := make([]string, len(d.Tool.Fields))
	for i, f := range d.Tool.Fields {
		known[i] = f.Name
	}
	return out, append(link.Each(speak, unknown, tool.Unknown, "field", strings.Join(known, ", ")), faults...)
}

// beyond reports whether a key is of a row that the form of its list has no room for.
func beyond(t *tool.Tool, key string) bool {
	list, row, ok := link.RowOf(key)
	return ok && isList(t, list) && row >= min(MostRows, t.Field(list).Most)
}

// handedOut returns the link of what was handed out to be worked on, and whose work a draft is, if there is no work in it yet.
func handedOut(d link.Draft, speak *wording.Speaker) (of, whose string) {
	if d.Tool.Hand == nil {
		return "", ""
	}
	o := d.Tool.Ask(d.Request(), quantity.Point, speak, tool.Brief)
	if o.Record == nil {
		return "", ""
	}
	h := d.Tool.Hand(o.Record, d.Tool.Speaker(speak))
	if h.Begun {
		return "", ""
	}
	return h.Of, h.Whose
}

// fieldOf splits a link's text into number and unit, which a form keeps in separate fields. A share in plain figures, 0.45, becomes per
// cent where the form has no other unit for it. Where lines have no place they become spaces.
func fieldOf(d *tool.Field, value string, mark quantity.Mark) Field {
	if !d.File && !d.Page.Lines {
		value = strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ").Replace(value)
	}
	if d.Shape == tool.Number || d.Shape == tool.Whole {
		plain := strings.TrimSpace(value)
		if v, err := quantity.Parse(plain, quantity.Point, quantity.OfRatio); err == nil && v.Unit.Symbol == "1" {
			return Field{Text: mark.In(v.Digits)}
		}
	}
	if d.Kinds == nil {
		return Field{Text: value}
	}
	v, err := quantity.Parse(value, quantity.Point, d.Kinds...)
	switch {
	case err != nil:
		return Field{Text: value}
	case v.Unit.Symbol == "1" && len(d.Page.Offer) > 0 && !slices.Contains(d.Page.Offer, "1"):
		return Field{mark.In(hundredfold(v.Digits)), "%"}
	}
	return Field{mark.In(v.Digits), v.Unit.Symbol}
}

// unitless returns the fault of a quantity that a link gives without its unit; nil where there is none. A form has a unit beside each
// number, so that nobody would see that it was not the link's.
func unitless(d *tool.Field, value string) *quantity.Error {
	if d.Shape != tool.Quantity && d.Shape != tool.Reading {
		return nil
	}
	_, err := quantity.Parse(value, quantity.Point, d.Kinds...)
	var e *quantity.Error
	if errors.As(err, &e) && e.Fault == quantity.NoUnit {
		return e
	}
	return nil
}

// hundredfold moves the decimal point of digits two places to the right, so that no digit changes.
func hundredfold(digits string) string {
	digits, power, _ := strings.Cut(strings.ToLower(digits), "e")
	whole, part, _ := strings.Cut(digits, ".")
	part += strings.Repeat("0", max(0, 2-len(part)))
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	whole, part = strings.TrimLeft(whole+part[:2], "0"), part[2:]
	if whole == "" {
		whole = "0"
	}
	if part != "" {
		whole += "." + part
	}
	if power != "" {
		whole += "e" + power
	}
	return sign + whole
}
