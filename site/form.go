package site

import (
	"encoding/json"
	"html/template"
	"strings"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// functions are what the templates may call.
var functions = template.FuncMap{
	"list": func(words ...string) []string { return words },
	"say":  func(s *wording.Speaker, key string, args ...any) string { return s.Say(key, args...) },
}

// A page is what the template of the page is filled with.
type page struct {
	Speak *wording.Speaker
	Lang  string
	Tools []form
	Words map[string]string // for scripts
}

// A form is a tool's form, derived from its declaration.
type form struct {
	Speak *wording.Speaker
	Name  string
	Main  []field
	Fine  []field  // behind "more"
	Keeps string   // the fields that are kept for a vehicle
	Demo  string   // the link of its example
	Mind  []string // what can hurt someone, to be read before the first step
}

// A field is one field of a form.
type field struct {
	Speak       *wording.Speaker
	Path        string // flat key; "#" stands for a row's number
	ID          string
	Label, How  string
	Shape       string
	Units       []quantity.Unit
	UnitFrom    string // the path whose unit it takes
	Over        bool   // has buttons for OL and 0
	Sign        bool   // may be below zero, which some keypads have no key for
	Pick        string // of a list: the choice for which the page adds a row; of that choice: itself
	Fresh       string // the fields that begin anew with a random text in this one
	Default     string // without unit
	DefaultUnit string
	Choices     []choice
	Main, Fine  []field // of a group or a row
	Need        bool
}

// A choice is one of a Choice's words; Deep is the field it opens, where it stands for an object. How and Unit are those of a
// choice that rows are told apart by.
type choice struct {
	Value, Label string
	Default      bool
	Deep         *field
	How, Unit    string
}

var shapes = map[tool.Shape]string{
	tool.Quantity: "quantity", tool.Reading: "reading", tool.Number: "number", tool.Whole: "number",
	tool.Choice: "choice", tool.Text: "text", tool.Group: "group", tool.List: "list",
}

func newPage(speak *wording.Speaker, lang string) page {
	p := page{Speak: speak, Lang: lang, Words: map[string]string{}}
	for _, t := range tool.All {
		f := form{Speak: speak, Name: t.Name, Demo: demo(t), Keeps: strings.Join(t.Keeps, " ")}
		for _, c := range t.Before {
			f.Mind = append(f.Mind, speak.Say("caution."+c))
		}
		f.Main, f.Fine = fieldsOf(t.Fields, t.Name, "", t.Name, speak)
		p.Tools = append(p.Tools, f)
	}
	for _, key := range wording.ScriptKeys() {
		p.Words[strings.TrimPrefix(key, "script.")] = speak.Say(key)
	}
	return p
}

// demo is the link of a tool's example.
func demo(t *tool.Tool) string {
	r, _, faults := t.Answer([]byte(t.Example), quantity.Point, wording.English())
	if len(faults) > 0 {
		panic("site: example of " + t.Name + ": " + faults[0].Message) // held by a test
	}
	return link.Write(t, r)
}

// fieldsOf derives a form's fields; path is the flat key above them, words the key of their words.
func fieldsOf(fields []tool.Field, name, path, words string, speak *wording.Speaker) (main, fine []field) {
	for i := range fields {
		d := &fields[i]
		f := newField(d, name, path, words, speak)
		if d.Fine {
			fine = append(fine, f)
		} else {
			main = append(main, f)
		}
	}
	return main, fine
}

func newField(d *tool.Field, name, above, words string, speak *wording.Speaker) field {
	path := d.Name
	if above != "" {
		path = above + "." + d.Name
	}
	words, how := d.Words(words + "." + d.Name)
	f := field{
		Speak: speak, Path: path, ID: name + "-" + path, Label: speak.Say(words), Fresh: strings.Join(d.Fresh, " "),
		Shape: shapes[d.Shape], Over: d.Shape == tool.Reading, Need: d.Need,
	}
	if how != "" {
		f.How = speak.Say(how)
	}
	if d.UnitFrom != "" {
		f.UnitFrom = strings.TrimSuffix(path, d.Name) + d.UnitFrom
	}
	if d.Kinds != nil && d.UnitFrom == "" {
		f.Units = offered(d)
	}
	f.Sign = len(d.Kinds) > 0 && d.Kinds[0] == quantity.OfTemperature
	f.Default = d.Default
	if d.Kinds != nil && d.Default != "" {
		if v, err := quantity.Parse(d.Default, quantity.Point, d.Kinds...); err == nil {
			f.Default, f.DefaultUnit = v.Digits, v.Unit.Symbol
		}
	}
	switch d.Shape {
	case tool.Group:
		f.Main, f.Fine = fieldsOf(d.Fields, name, path, words, speak)
	case tool.List:
		f.Pick = d.Pick
		f.Main, f.Fine = fieldsOf(d.Fields, name, path+".#", words, speak)
	case tool.Choice:
		for _, c := range d.Choices {
			one := choice{Value: c, Label: speak.Say(words + "=" + c), Default: c == d.Default, Unit: d.Units[c]}
			if d.Units != nil {
				one.How, f.Pick = speak.Say(words+"="+c+".how"), d.Name
			}
			f.Choices = append(f.Choices, one)
		}
		for i := range d.Fields {
			deep := newField(&d.Fields[i], name, path, words, speak)
			f.Choices = append(f.Choices, choice{Value: d.Fields[i].Name, Label: speak.Say(words + "=" + d.Fields[i].Name), Deep: &deep})
		}
	}
	return f
}

// offered are the units that a form offers for a field.
func offered(d *tool.Field) (units []quantity.Unit) {
	for _, k := range d.Kinds {
		for _, u := range quantity.Units(k) {
			if d.Offer == nil && u.Symbol == quantity.Units(k)[0].Symbol { // the contract's unit alone
				units = append(units, u)
			}
			for _, o := range d.Offer {
				if o == u.Symbol {
					units = append(units, u)
				}
			}
		}
	}
	return units
}

// json writes a value for a script to read.
func (p page) WordsJSON() (template.JS, error) {
	b, err := json.Marshal(p.Words)
	return template.JS(b), err
}
