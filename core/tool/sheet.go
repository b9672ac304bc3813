package tool

import (
	"ohmwright/core/sheet"
)

// Lay lays an answer out for a reader: first the verdict, then why, then the pictures and rows, then what to mind, then
// the working.
func (t *Tool) Lay(r *Record, a *Answer) (head *sheet.Element, body []*sheet.Element) {
	head, body = t.lay(r, a)
	body = append(body, a.notes()...)
	return head, append(body, a.workingSheet())
}

// notes lays out warnings and cautions.
func (a *Answer) notes() (out []*sheet.Element) {
	if len(a.Warnings) > 0 {
		list := sheet.New("ul", "class", "warnings")
		for _, w := range a.Warnings {
			list = list.With(sheet.New("li", "data-code", w.Code).Say(w.Text))
		}
		out = append(out, a.section("warnings", list))
	}
	if len(a.Cautions) > 0 {
		list := sheet.New("ul", "class", "cautions")
		for _, c := range a.Cautions {
			list = list.With(sheet.New("li", "data-code", c.Code).Say(c.Text))
		}
		out = append(out, a.section("cautions", list))
	}
	return out
}

// workingSheet lays the working out, line by line.
func (a *Answer) workingSheet() *sheet.Element {
	list := sheet.New("ol", "class", "working")
	for _, s := range a.Working {
		list = list.With(sheet.New("li").With(
			sheet.Text("span", "what", s.What),
			sheet.Text("code", "formula", s.Formula),
			sheet.Text("code", "with", s.With),
			sheet.Text("span", "source", s.Source),
		))
	}
	return sheet.New("details", "class", "part p-working", "data-keep", "working").With(
		sheet.New("summary").Say(a.Speak.Say("sheet.working")), list)
}

// section is a part of an answer under its title, sheet.NAME.
func (a *Answer) section(name string, kids ...*sheet.Element) *sheet.Element {
	return sheet.New("section", "class", "part p-"+name).With(
		sheet.New("h3").Say(a.Speak.Say("sheet." + name))).With(kids...)
}
