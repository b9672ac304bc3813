package tool

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"ohmwright/core/sheet"
	"ohmwright/core/wording"
)

// A Layout collects the parts of an answer as the reader sees them. A tool's Lay fills in Head, Why and Body.
type Layout struct {
	Speak *wording.Speaker // looks for words in the tool's own catalogue first
	Brief bool             // folded parts may be left out
	Hasty bool             // what Haste left out is marked as late
	Head  *sheet.Element   // the verdict, which stays in view while scrolling
	Why   *sheet.Element   // the reason in a sentence; nil for none
	Body  []*sheet.Element // pictures, rows, buttons

	tool   *Tool
	told   *Answer
	listed []string // codes of the cautions that are already in the body
}

// Verdict sets the head: a mark, a word, and the number that the word rests on. kind is the word's key in the result. A narrow
// page says beside it that it can be tapped.
func (l *Layout) Verdict(mark sheet.Mark, kind, word, number string) {
	l.Head = sheet.Verdict(mark, kind, word, number).Attr("data-tap", l.Speak.Say("sheet.tap"))
}

// Reason sets the sentence that says why.
func (l *Layout) Reason(text string) { l.Why = sheet.Text("p", "why", text) }

// Add adds parts to the body. Nil parts are ignored.
func (l *Layout) Add(parts ...*sheet.Element) {
	for _, part := range parts {
		if part != nil {
			l.Body = append(l.Body, part)
		}
	}
}

// Lay lays the answer out: first the verdict, then the reason and the warnings, then pictures and rows, then cautions and the working.
func (a *Answer) Lay() (head *sheet.Element, body []*sheet.Element) {
	l := &Layout{Speak: a.Speak, Brief: a.Brief, Hasty: a.Hasty, tool: a.tool, told: a}
	a.lay(l)
	if l.Why != nil {
		if l.tool.Slot != "" {
			l.Why.Attr("data-slot", l.tool.Slot)
		}
		body = append(body, l.Why)
	}
	body = append(body, l.Body...)
	for _, w := range l.warnings() {
		body = slices.Insert(body, l.placeOf(w, body), w)
	}
	if rest := l.Cautions(func(string) bool { return true }); rest != nil {
		body = append(body, l.Section(cmp.Or(l.tool.Mind, "cautions"), rest))
	}
	if len(a.Working) > 0 || a.Brief {
		body = append(body, l.working())
	}
	return l.Head, body
}

// placeOf returns the index in the body at which a list of warnings belongs: before the part that it is about, if that
// part has a slot; otherwise after the reason.
func (l *Layout) placeOf(warnings *sheet.Element, body []*sheet.Element) int {
	if slot := warnings.Value("data-slot"); slot != l.tool.Slot {
		i := slices.IndexFunc(body, func(part *sheet.Element) bool { return part.Value("data-slot") == slot })
		if i >= 0 {
			return i
		}
	}
	if l.Why == nil {
		return 0
	}
	return min(1, len(body))
}

// warnings returns the warnings, grouped by where a narrow page shows them: after the field that they are about, if it has
// a slot; otherwise where the answer begins.
func (l *Layout) warnings() (parts []*sheet.Element) {
	lists := map[string]*sheet.Element{}
	for _, w := range l.told.Warnings {
		slot := l.slotOf(w.Field)
		list := lists[slot]
		if list == nil {
			list = sheet.New("ul class=warnings")
			lists[slot] = list
			part := l.Section("warnings", list)
			if slot != "" {
				part.Attr("data-slot", slot)
			}
			parts = append(parts, part)
		}
		item := sheet.New("li data-code=?", w.Code)
		if w.late {
			item.Late()
		} else {
			item.Say(w.Text)
		}
		list.With(item)
	}
	return parts
}

// slotOf returns the slot for what is about a field, given its path.
func (l *Layout) slotOf(path string) string {
	top, _, _ := strings.Cut(path, ".")
	i := indexOf(l.tool.Fields, top)
	switch {
	case i < 0 || !l.tool.Fields[i].Page.Slot:
		return l.tool.Slot
	case l.tool.Fields[i].Page.Plate: // a plate keeps its place
		return top + "-next"
	}
	return top
}

// Cautions lists the cautions that are wanted and not listed yet; it returns nil if there are none.
func (l *Layout) Cautions(wanted func(code string) bool) *sheet.Element {
	var list *sheet.Element
	for _, c := range l.told.Cautions {
		if !wanted(c.Code) || slices.Contains(l.listed, c.Code) {
			continue
		}
		if list == nil {
			list = sheet.New("ul class=cautions")
		}
		l.listed = append(l.listed, c.Code)
		list.With(sheet.New("li data-code=?", c.Code).Say(c.Text))
	}
	return list
}

// working lays out the working, line by line.
func (l *Layout) working() *sheet.Element {
	list := sheet.New("ol class=working")
	for _, s := range l.told.Working {
		list = list.With(sheet.New("li").With(
			sheet.Text("span", "what", s.What),
			sheet.Text("code", "formula", s.Formula),
			sheet.Text("code", "with", s.With),
			sheet.Text("span", "source", s.Source),
		))
	}
	return sheet.New("details class=? data-keep=working data-lazy=yes", "part p-working").With(
		sheet.New("summary").Say(l.Speak.Say("sheet.working")), list)
}

// Section returns a part of an answer with the title sheet.NAME.
func (l *Layout) Section(name string, kids ...*sheet.Element) *sheet.Element {
	return sheet.New("section class=?", "part p-"+name).With(
		sheet.New("h2").Say(l.Speak.Say("sheet." + name))).With(kids...)
}

// A Setting is what a button sets or carries along: keys and texts by turns, as a link writes them.
type Setting []string

// Set adds a key and its text, unless the text is empty.
func (s Setting) Set(key, text string) Setting {
	if text == "" {
		return s
	}
	return append(s, key, text)
}

// String returns the setting as JSON.
func (s Setting) String() string {
	b := []byte{'{'}
	for i := 0; i+1 < len(s); i += 2 {
		if i > 0 {
			b = append(b, ',')
		}
		b = strconv.AppendQuote(b, s[i])
		b = append(b, ':')
		b = strconv.AppendQuote(b, s[i+1])
	}
	return string(append(b, '}'))
}

// SetButton returns a button that fills fields of this tool.
func SetButton(class, text string, set Setting) *sheet.Element {
	return sheet.New("button type=button class=? data-set=?", class, set.String()).Say(text)
}

// Radios lays out words of a held choice as a radio group, each word as a link writes it and as it is read. An arrow key moves the choice
// and no more: what follows from it is for a button to decide. Signs stand side by side, words below each other.
func (l *Layout) Radios(field, title, chosen string, words [][2]string) *sheet.Element {
	const sign = 5 // characters
	list := sheet.New("div class=?", "segments signs")
	if slices.ContainsFunc(words, func(word [2]string) bool { return utf8.RuneCountInString(word[1]) > sign }) {
		list = sheet.New("div class=?", "segments choose")
	}
	for _, word := range words {
		radio := sheet.New("input type=radio name=? value=? data-value=? data-set=?", l.tool.Name+"-choose-"+field, word[0], field+"="+word[0],
			Setting{field, word[0]}.String())
		if word[0] == chosen {
			radio.Attr("checked", "yes")
		}
		list.With(sheet.New("label").With(radio, sheet.Text("span", "", word[1])))
	}
	return sheet.New("fieldset class=?", "field choice").With(sheet.New("legend").Say(title), list)
}

// Carry returns a button that opens another tool and fills some of its fields with what was found here. Rows are added to
// those already there.
func (l *Layout) Carry(to, words string, given Setting) *sheet.Element {
	return sheet.New("p class=carry").With(l.CarryBy("wide", to, given).Say(l.Speak.Say(words)))
}

// CarryBy returns a button of a class that does the same as [Layout.Carry], without its words.
func (l *Layout) CarryBy(class, to string, given Setting) *sheet.Element {
	return sheet.New("button type=button class=? data-carry=? data-given=?", class, to, given.sorted().String())
}

// Lead returns a link that opens another tool, with what is in its form.
func (l *Layout) Lead(to, words string) *sheet.Element {
	return sheet.New("p class=carry").With(sheet.New("a class=? href=?", "button wide", "#/"+to).Say(l.Speak.Say(words)))
}

// Drawing returns the drawing of another tool's answer, given its link; nothing where nobody asked for it.
func (l *Layout) Drawing(link string) []*sheet.Element {
	if l.told.Drawn == nil {
		return nil
	}
	return l.told.Drawn(link)
}

// sorted returns the setting in order of its keys. If a key was set twice, the later text counts.
func (s Setting) sorted() Setting {
	texts, keys := map[string]string{}, []string{}
	for i := 0; i+1 < len(s); i += 2 {
		if _, twice := texts[s[i]]; !twice {
			keys = append(keys, s[i])
		}
		texts[s[i]] = s[i+1]
	}
	slices.Sort(keys)
	out := make(Setting, 0, len(s))
	for _, key := range keys {
		out = append(out, key, texts[key])
	}
	return out
}

// Figures lays out names and values in two columns.
func Figures(rows [][2]string) *sheet.Element {
	list := sheet.New("ul class=figures")
	for _, row := range rows {
		list.With(sheet.New("li").With(sheet.Text("span", "", row[0]), sheet.Text("strong", "", row[1])))
	}
	return list
}

// Slotted marks a part to be shown after a field on a narrow page.
func Slotted(e *sheet.Element, slot string) *sheet.Element { return e.Attr("data-slot", slot) }
