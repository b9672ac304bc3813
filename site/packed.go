package site

import (
	"regexp"
	"strings"

	"ohmwright/site/pack"
)

// What comes packed for the page of a language is one file: the page's script (where it is one script), the style and the forms of the
// tools, and the words of the module, in the order in which they are needed. Each is a part with a hash of its own, so that the page can
// use it while the rest is on its way (page/core.js). The script runs as if it stood in the page, whose policy has its hash.

// A parcel is such a file, and what core.js must know of its parts.
type parcel struct {
	content []byte
	parts   []part
}

// A part is a stretch of what comes out of a parcel.
type part struct {
	Size int    `json:"size"`
	Hash string `json:"hash"`
}

// parcelOf packs parts.
func parcelOf(texts ...string) (p parcel) {
	for _, text := range texts {
		p.parts = append(p.parts, part{len(text), integrity([]byte(text))})
	}
	p.content = pack.Bytes([]byte(strings.Join(texts, "")), pack.Texts)
	return p
}

// dressing returns the style and the forms of the tools as one text, without what [shortened] leaves out.
func dressing(style []byte, forms []form) string {
	texts := []string{string(style)}
	for _, f := range forms {
		jobless := ""
		if f.Jobless {
			jobless = "jobless"
		}
		texts = append(texts, f.Name, f.Speak.Say("title"), jobless, shortened(f.Name, f.Markup))
	}
	return strings.Join(texts, "\x00")
}

// ownID stands in a form's markup for the id of the field that it is in, of which there are a dozen to a field. It follows from the tool
// and the field's path.
const ownID = "~"

// pathed is where the markup of a field begins.
var pathed = regexp.MustCompile(` data-(?:path|list)="([^"]*)"`)

// shortened returns a tool's markup with [ownID] in place of ids: a third less to transfer. page/markup.js puts them in again. The markup
// may not have the sign itself, which a test holds.
func shortened(tool, markup string) string {
	var out strings.Builder
	id, from := "", 0
	write := func(to int) {
		text := markup[from:to]
		if id != "" {
			text = strings.ReplaceAll(text, id, ownID)
		}
		out.WriteString(text)
		from = to
	}
	for _, at := range pathed.FindAllStringSubmatchIndex(markup, -1) {
		write(at[0])
		id = ""
		write(at[1])
		id = tool + "-" + markup[at[2]:at[3]]
	}
	write(len(markup))
	return out.String()
}

// columns returns compiled words as two columns, since like beside like takes less: first the keys, each as how many bytes it begins with
// as the one before, counted from "!", and its rest; then the sentences.
func columns(words string) string {
	var keys, sentences []string
	before := ""
	for line := range strings.Lines(words) {
		key, sentence, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		same := 0
		for same < min(len(key), len(before), '~'-'!') && key[same] == before[same] {
			same++
		}
		keys = append(keys, string(rune('!'+same))+key[same:])
		sentences = append(sentences, sentence)
		before = key
	}
	return strings.Join(keys, "\n") + "\x00" + strings.Join(sentences, "\n")
}
