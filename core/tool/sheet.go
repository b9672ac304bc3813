package tool

import (
	"cmp"
	"slices"
	"strings"

	"ohmwright/core/sheet"
	"ohmwright/core/wording"
)

// Lay lays an answer out for a reader: first the verdict, then why and what to mind, then the pictures and rows, then the
// cautions and the working.
func (t *Tool) Lay(r *Record, a *Answer) (head *sheet.Element, body []*sheet.Element) {
	head, why, rest := t.lay(r, a)
	if why != nil && t.Slot != "" {
		why.Attr("data-slot", t.Slot)
	}
	warnings := a.warningSheets()
	for _, part := range append([]*sheet.Element{why}, rest...) {
		if part == nil {
			continue
		}
		body = append(body, part)
	}
	for _, w := range warnings {
		// Before what it is about, where that has a place of its own; else behind the sentence that says why.
		at := min(1, len(body))
		if why == nil {
			at = 0
		}
		if slot := w.Value("data-slot"); slot != t.Slot {
			if i := slices.IndexFunc(body, func(part *sheet.Element) bool { return part.Value("data-slot") == slot }); i >= 0 {
				at = i
			}
		}
		body = slices.Insert(body, at, w)
	}
	if rest := a.cautionList(func(string) bool { return true }); rest != nil {
		body = append(body, a.section(cmp.Or(t.Mind, "cautions"), rest))
	}
	if len(a.Working) > 0 || a.brief {
		body = append(body, a.workingSheet())
	}
	return head, body
}

// Draft lays out what can be shown of a request that is not answered yet.
func (t *Tool) Draft(r *Record, speak *wording.Speaker) []*sheet.Element {
	if t.draft == nil {
		return nil
	}
	return t.draft(r, &Answer{Speak: speak, tool: t})
}

// warningSheets are the warnings, one part for each place on a narrow page: behind the field that they are about where it has
// one, else where the answer begins.
func (a *Answer) warningSheets() (parts []*sheet.Element) {
	lists := map[string]*sheet.Element{}
	for _, w := range a.Warnings {
		top, _, _ := strings.Cut(w.Field, ".")
		slot := a.tool.Slot
		if i := indexOf(a.tool.Fields, top); i >= 0 && a.tool.Fields[i].Slot {
			slot = top
			if a.tool.Fields[i].Plate { // a plate stays where it is
				slot += "-next"
			}
		}
		list := lists[slot]
		if list == nil {
			list = sheet.New("ul class=warnings")
			lists[slot] = list
			part := a.section("warnings", list)
			if slot != "" {
				part.Attr("data-slot", slot)
			}
			parts = append(parts, part)
		}
		list.With(sheet.New("li data-code=?", w.Code).Say(w.Text))
	}
	return parts
}

// cautionList lists the cautions that are wanted and not listed yet; nil where there are none.
func (a *Answer) cautionList(wanted func(code string) bool) *sheet.Element {
	var list *sheet.Element
	for _, c := range a.Cautions {
		if !wanted(c.Code) || slices.Contains(a.listed, c.Code) {
			continue
		}
		if list == nil {
			list = sheet.New("ul class=cautions")
		}
		a.listed = append(a.listed, c.Code)
		list.With(sheet.New("li data-code=?", c.Code).Say(c.Text))
	}
	return list
}

// workingSheet lays the working out, line by line.
func (a *Answer) workingSheet() *sheet.Element {
	list := sheet.New("ol class=working")
	for _, s := range a.Working {
		list = list.With(sheet.New("li").With(
			sheet.Text("span", "what", s.What),
			sheet.Text("code", "formula", s.Formula),
			sheet.Text("code", "with", s.With),
			sheet.Text("span", "source", s.Source),
		))
	}
	return sheet.New("details class=? data-keep=working data-lazy=yes", "part p-working").With(
		sheet.New("summary").Say(a.Speak.Say("sheet.working")), list)
}

// section is a part of an answer under its title, sheet.NAME.
func (a *Answer) section(name string, kids ...*sheet.Element) *sheet.Element {
	return sheet.New("section class=?", "part p-"+name).With(
		sheet.New("h2").Say(a.Speak.Say("sheet." + name))).With(kids...)
}
