package site

import (
	"strings"

	"golang.org/x/text/cases"
	"golang.org/x/text/language"
	"golang.org/x/text/language/display"

	"ohmwright/core/wording"
)

// A tongue is a language of the site, with the files that are its own. A reader gets those of one language.
type tongue struct {
	Tag      string
	Name     string // in the language itself
	Page     string
	Forms    string // what comes packed: see packed.go
	Manifest string
	For      string // other languages whose readers are best served by this one, as golang.org/x/text has it, separated by blanks
}

// tonguesOf returns the languages of a site. The first is the default: its page is the one that a host shows by itself.
func tonguesOf(plan Plan) (list []tongue) {
	tags := []string{plan.Language}
	for _, tag := range Languages() {
		if tag != plan.Language && !plan.Only {
			tags = append(tags, tag)
		}
	}
	served := servedBy(tags)
	for i, tag := range tags {
		name := strings.ToLower(tag)
		own := language.Make(tag)
		t := tongue{tag, cases.Title(own, cases.NoLower).String(display.Self.Name(own)), name + ".html", name + ".packed", name + ".webmanifest",
			strings.Join(served[i], " ")}
		if i == 0 {
			t.Page, t.Forms, t.Manifest = "index.html", "forms.packed", "manifest.webmanifest"
		}
		list = append(list, t)
	}
	return list
}

// servedBy returns for each language the others whose readers understand it best of all that there are.
func servedBy(tags []string) [][]string {
	served, parsed := make([][]string, len(tags)), make([]language.Tag, len(tags))
	for i, tag := range tags {
		parsed[i] = language.Make(tag)
	}
	matcher := language.NewMatcher(parsed)
	for _, base := range language.Supported.BaseLanguages() {
		tag, err := language.Raw.Compose(base)
		if err != nil {
			continue
		}
		if _, i, confidence := matcher.Match(tag); confidence > language.No {
			served[i] = append(served[i], base.String())
		}
	}
	return served
}

// pseudo is whether the site has the pseudo-language too.
var pseudo bool

// PseudoTag is the tag of the pseudo-language: English with every sentence lengthened and marked at both ends, so that a test finds what
// is English still, and what has no room for a longer language.
const PseudoTag = "en-XA"

// AddPseudo adds the pseudo-language. It is for tests of the page.
func AddPseudo() { pseudo = true }

// withPseudo adds a room's words in the pseudo-language where it was asked for.
func withPseudo(room wording.Room) wording.Room {
	if !pseudo {
		return room
	}
	words := wording.Words{Language: PseudoTag}
	for _, e := range room.Words[0].Entries {
		words.Entries = append(words.Entries, wording.Entry{e[0], "⟦" + e[1] + strings.Repeat("·", len([]rune(e[1]))*2/5) + "⟧"})
	}
	room.Words = append(room.Words[:1:1], append([]wording.Words{words}, room.Words[1:]...)...)
	return room
}
