package site

import (
	"encoding/json"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// functions are the functions that the templates may call.
var functions = template.FuncMap{
	"list": func(words ...string) []string { return words },
	"say":  func(s *wording.Speaker, key string, args ...any) string { return s.Say(key, args...) },
}

// A page is the data for the page's template.
type page struct {
	Speak *wording.Speaker
	tongue
	Found     *whereabouts
	About     string // the list of what each tool does
	Named     bool   // the page names its scripts, as they do not come packed
	Languages []tongue
	Tools     []form
	Words     map[string]string // for scripts
}

// A form is a tool's form, derived from its declaration.
type form struct {
	Speak   *wording.Speaker
	Name    string
	Main    []field
	Fine    []field  // behind "more"
	Keeps   string   // names of the fields that are kept for a vehicle
	Demo    string   // link of the tool's example
	Mind    []string // cautions to read before the first step
	Jobless bool     // it takes part in no job
	Marks   bool     // what others hand in on it is marked
	Record  bool     // its held lists are filled from the record of the job
	Role    string   // who sees what is behind "more", if that is one reader alone
	Slides  bool     // a field that is always in view has a slider
	Markup  string   // what the template makes of all this
	Beside  bool     // the answer stays in view beside the form, because it is tapped to enter something or follows a slider
}

// A field is one field of a form.
type field struct {
	Speak       *wording.Speaker
	Path        string // flat key; "#" in place of a row's number
	ID          string
	Label, How  string
	Shape       string
	Units       []quantity.Unit
	UnitFrom    string   // path of the field whose unit it shares
	Over        bool     // has buttons for OL and 0
	Sign        bool     // may be negative, so it needs a key for the sign: some keypads have none
	Spoken      []choice // the words that may stand in place of a number
	Pick        string   // of a list: the choice that tells its rows apart; of that choice: its own name
	Plate       bool     // of a list: its rows are places on a plate in the answer
	Most        int      // of a list: most rows
	Named       bool     // of a list: its rows are named rows of a specification and can be kept for later
	Slot        bool     // parts of the answer are placed after it
	Lines       bool     // a text of several lines
	Role        string   // who sees it, where the tool has several readers
	Held        bool     // not shown
	Open        bool     // of a group: unfolded
	Stays       bool     // once given it is not taken back by undo
	Part        string   // the part of the form that it is folded away in
	Down        bool     // typed down the rows; of a list: has such fields, and its rows are compact
	Fact        string   // the fact of a job that it holds
	Takes       bool     // it takes that fact and never gives it back
	Yields      string   // path of the field that stands instead of it: while that is given, the fact is not filled in
	Bare        bool     // of a list: its rows have no other field than that choice
	Folded      string   // of a list: the title of what is folded in its rows
	Fresh       string   // names of the fields that are reset when this one is filled at random
	Default     string   // number without unit
	DefaultUnit string
	Choices     []choice
	Main, Fine  []field // of a group or a row
	Need        bool
	Slide       *slide
}

// A slide is the slider beside a number, with a run for each unit in which the page may show the number.
type slide struct {
	Ratio bool
	Runs  map[string]run // by symbol of the unit
}

// A run is the travel of a slider in one unit: From, To and Step, and where it starts while nothing is entered. A value in
// the contract's unit becomes one in this unit by value·Times + Plus.
type run struct {
	From  float64  `json:"from"`
	To    float64  `json:"to"`
	Step  float64  `json:"step"` // 0: move by equal ratios
	Start *float64 `json:"start"`
	Times float64  `json:"times"`
	Plus  float64  `json:"plus"`
}

// A choice is one option of a Choice. Deep is the field that it opens, if it stands for an object. How, Unit and Words are only
// set if the choice tells rows apart: how to take the row's reading, its unit, and its words if it is no number.
type choice struct {
	Value, Label     string
	Default          bool
	Deep             *field
	How, Unit, Words string
}

// KindOfOver and KindOfSign return the kinds of quantity that the keys OL and ± go with.
func (field) KindOfOver() int { return int(quantity.OfResistance) }
func (field) KindOfSign() int { return int(quantity.OfTemperature) }

var shapes = map[tool.Shape]string{
	tool.Quantity: "quantity", tool.Reading: "reading", tool.Number: "number", tool.Whole: "number",
	tool.Choice: "choice", tool.Text: "text", tool.Group: "group", tool.List: "list",
}

func newPage(speak *wording.Speaker, t tongue, all []tongue) page {
	p := page{Speak: speak, tongue: t, Languages: all, About: readingFile(t, "tools"), Named: Script() == "", Words: map[string]string{}}
	for _, t := range tools.All {
		own := t.Speaker(speak)
		f := form{Speak: own, Name: t.Name, Demo: demo(t, speak), Keeps: strings.Join(t.Keeps, " "), Beside: beside(t.Fields), Jobless: t.Jobless,
			Record: t.Record, Marks: t.Marks}
		for _, c := range t.Before {
			f.Mind = append(f.Mind, own.Say("caution."+c))
		}
		f.Main, f.Fine = fieldsOf(t.Fields, t.Name, "", "", own)
		if len(f.Fine) > 0 && !slices.ContainsFunc(f.Fine, func(one field) bool { return one.Role != f.Fine[0].Role }) {
			f.Role = f.Fine[0].Role
		}
		f.Slides = slices.ContainsFunc(f.Main, func(one field) bool { return one.Slide != nil })
		f.Main = parted(f.Main, own)
		p.Tools = append(p.Tools, f)
	}
	for _, e := range scriptWords.Words[0].Entries {
		p.Words[e[0]] = speak.Say("script."+e[0], placeholders(e[1])...)
	}
	return p
}

// placeholders returns what stands for the texts that scripts put into a sentence: {0}, {1}.
func placeholders(sentence string) (list []any) {
	for i := range strings.Count(sentence, "%s") {
		list = append(list, "{"+strconv.Itoa(i)+"}")
	}
	return list
}

// demo returns the link of a tool's example.
func demo(t *tool.Tool, speak *wording.Speaker) string {
	example, err := exampleOf(t, speak)
	if err != nil {
		panic("site: example of " + t.Name + ": " + err.Error()) // a test checks every example
	}
	o := t.Answer(example, quantity.Point, tools.English())
	if o.Answer == nil {
		panic("site: example of " + t.Name + ": " + o.Faults[0].Message)
	}
	return link.Write(t, o.Record)
}

// fieldsOf derives a form's fields. path is the flat key above them, words the key of the words above theirs; both are "" at the top.
func fieldsOf(fields []*tool.Field, name, path, words string, speak *wording.Speaker) (main, fine []field) {
	for _, d := range fields {
		f := newField(d, name, path, words, speak)
		if d.Page.Fine {
			fine = append(fine, f)
		} else {
			main = append(main, f)
		}
	}
	return main, fine
}

// parted gathers fields that follow each other in one part of the form into a field of the shape "part".
func parted(fields []field, speak *wording.Speaker) (out []field) {
	for _, f := range fields {
		last := len(out) - 1
		switch {
		case f.Part == "":
			out = append(out, f)
		case last < 0 || out[last].Shape != "part" || out[last].Part != f.Part:
			out = append(out, field{Speak: speak, Shape: "part", Part: f.Part, Label: speak.Say("part." + f.Part), Main: []field{f}})
		default:
			out[last].Main = append(out[last].Main, f)
		}
	}
	return out
}

func newField(d *tool.Field, name, above, words string, speak *wording.Speaker) field {
	path, hints := tool.JoinPath(above, d.Name), d.Page
	words, how := d.Words(tool.JoinPath(words, d.Name))
	f := field{
		Speak: speak, Path: path, ID: name + "-" + path, Label: speak.Say(words), Fresh: strings.Join(hints.Fresh, " "),
		Shape: shapes[d.Shape], Over: d.Shape == tool.Reading, Need: d.Need,
		Slot: hints.Slot, Lines: hints.Lines, Role: hints.Role, Held: hints.Held, Open: hints.Open || d.Need, Down: hints.Down,
		Part: hints.Part, Stays: hints.Stays,
		Sign:    slices.Contains(d.Kinds, quantity.OfTemperature),
		Default: d.Default, Fact: d.Fact, Takes: d.Takes, Yields: d.Yields,
	}
	if how != "" {
		f.How = speak.Say(how)
	}
	if hints.UnitFrom != "" {
		f.UnitFrom = tool.JoinPath(above, hints.UnitFrom)
	} else if d.Kinds != nil {
		f.Units = offered(d)
	}
	if hints.Slide != nil {
		f.Slide = newSlide(d)
	}
	if d.File {
		f.Shape = "file"
	} else if hints.Time {
		f.Shape = "time"
	}
	if d.Kinds != nil && d.Default != "" {
		if v, err := quantity.Parse(d.Default, quantity.Point, d.Kinds...); err == nil {
			f.Default, f.DefaultUnit = v.Digits, v.Unit.Symbol
		}
	}
	for _, word := range d.Spoken {
		f.Spoken = append(f.Spoken, choice{Value: word, Label: speak.Say(words + "=" + word)})
	}
	f.fill(d, name, words)
	return f
}

// fill adds what is inside a field: the fields of a group or a row, the options of a choice.
func (f *field) fill(d *tool.Field, name, words string) {
	switch d.Shape {
	case tool.Group:
		f.Main, f.Fine = fieldsOf(d.Fields, name, f.Path, words, f.Speak)
	case tool.List:
		f.Pick = d.Page.Pick
		f.Main, f.Fine = fieldsOf(d.Fields, name, f.Path+".#", words, f.Speak)
		f.Bare = f.Pick != "" && len(d.Fields) == 1
		f.Plate, f.Most = d.Page.Plate, d.Most
		f.Folded = f.Speak.Say("page.row.fine")
		if f.Speak.Has(words + ".fine") {
			f.Folded = f.Speak.Say(words + ".fine")
		}
		f.Down = slices.ContainsFunc(d.Fields, func(in *tool.Field) bool { return in.Page.Down })
		// Rows of readings belong to one part: only those of a specification are kept for another.
		f.Named = !f.Down && hasField(d, "name") && hasField(d, "min")
	case tool.Choice:
		for _, c := range d.Choices {
			one := choice{Value: c, Label: f.Speak.Say(words + "=" + c), Default: c == d.Default, Unit: d.Page.Units[c],
				Words: strings.Join(d.Page.Spoken[c], " ")}
			if d.Page.Units != nil {
				one.How, f.Pick = f.Speak.Say(words+"="+c+".how"), d.Name
			}
			f.Choices = append(f.Choices, one)
		}
		for _, in := range d.Fields {
			deep := newField(in, name, f.Path, words, f.Speak)
			f.Choices = append(f.Choices, choice{Value: in.Name, Label: f.Speak.Say(words + "=" + in.Name), Deep: &deep})
		}
	}
}

// offered returns the units that a form offers for a field, in the declared order. If none are declared, it is only the contract's.
func offered(d *tool.Field) (units []quantity.Unit) {
	for _, k := range d.Kinds {
		table := quantity.Units(k)
		if d.Page.Offer == nil {
			units = append(units, table[0])
		}
		for _, symbol := range d.Page.Offer {
			if i := slices.IndexFunc(table, func(u quantity.Unit) bool { return u.Symbol == symbol }); i >= 0 {
				units = append(units, table[i])
			}
		}
	}
	return units
}

// beside reports whether any field has a slider, takes a file, or is opened or filled by a tap in the answer.
func beside(fields []*tool.Field) bool {
	return slices.ContainsFunc(fields, func(d *tool.Field) bool {
		return d.Page.Slide != nil || d.File || d.Page.Pick != "" || d.Page.Plate || beside(d.Fields)
	})
}

// newSlide returns the slider of a field, with its run in every unit.
func newSlide(d *tool.Field) *slide {
	s := slide{Ratio: d.Page.Slide.Ratio, Runs: map[string]run{}}
	start, hasStart := 0.0, false
	if v, err := quantity.Parse(d.Default, quantity.Point, d.Kinds[0]); err == nil {
		start, hasStart = v.In, true
	}
	for _, u := range quantity.Units(d.Kinds[0]) {
		one := runIn(*d.Page.Slide, u)
		if hasStart {
			v := trim(start*one.Times + one.Plus)
			one.Start = &v
		}
		s.Runs[u.Symbol] = one
	}
	return &s
}

// runIn returns a slider's run in a unit: a round step no larger than the declared one, and round ends no further in than declared.
func runIn(s tool.Slide, u quantity.Unit) run {
	r := run{Times: trim(u.To(1) - u.To(0)), Plus: u.To(0)}
	r.From, r.To = trim(s.From*r.Times+r.Plus), trim(s.To*r.Times+r.Plus)
	if s.Ratio {
		return r
	}
	r.Step = trim(s.Step * r.Times)
	power := math.Pow10(int(math.Floor(math.Log10(r.Step) + 1e-9)))
	if decimal := math.Abs(math.Log10(r.Times)); math.Abs(decimal-math.Round(decimal)) > 1e-9 { // decimal prefixes keep the step round
		for _, m := range []float64{5, 2, 1} {
			if m*power <= r.Step*(1+1e-9) {
				r.Step = trim(m * power)
				break
			}
		}
	}
	r.From = trim(math.Floor(r.From/r.Step+1e-9) * r.Step)
	r.To = trim(math.Ceil(r.To/r.Step-1e-9) * r.Step)
	return r
}

// trim removes the rounding errors that multiplying by decimal prefixes leaves after the twelfth digit.
func trim(v float64) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		panic(err) // cannot happen: it was formatted above
	}
	return short
}

// hasField reports whether a group or list has a field of a name.
func hasField(d *tool.Field, name string) bool {
	return slices.ContainsFunc(d.Fields, func(in *tool.Field) bool { return in.Name == name })
}

// RunsJSON returns the slider's runs as JSON, for a script.
func (s *slide) RunsJSON() (string, error) {
	b, err := json.Marshal(s.Runs)
	return string(b), err
}

// WordsJSON returns the words for scripts as JSON.
func (p page) WordsJSON() (template.JS, error) {
	b, err := json.Marshal(p.Words)
	return template.JS(b), err
}
