package site

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"net/url"
	"strings"

	"ohmwright/core/link"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/tools"
	"ohmwright/core/wording"
)

// A reading page says what a tool does, with its example worked out and its cautions, to whoever has not opened it: it needs neither the
// module nor a script. It is no part of what a device keeps.
type reading struct {
	Speak    *wording.Speaker
	Found    *whereabouts
	Lang     string
	Title    string
	About    string
	Open     string // the tool's link on the page of the language
	Back     string // the list of all of them
	Others   []sameIn
	Given    [][2]string // label and text of the example's fields
	Steps    []step
	Cautions []string
	All      []tongueLink // of the list: each tool
}

// sameIn is the same page in another language.
type sameIn struct{ Tag, Name, File string }

type tongueLink struct{ File, Title, About string }

// A step of the example's working, as the contract has it.
type step struct{ What, Formula, With, Source string }

// readingFile returns the name of a language's file about a tool, or about all tools: "tools".
func readingFile(t tongue, name string) string {
	if t.Page == "index.html" {
		return name + ".html"
	}
	return strings.TrimSuffix(t.Page, ".html") + "-" + name + ".html"
}

// addReading adds the pages about the tools in every language, and returns their names and where they are.
func addReading(files map[string][]byte, tongues []tongue, address string) (names []string, at []*whereabouts, err error) {
	pages, err := template.New("").Funcs(functions).ParseFS(sources, "page/reading.html", "page/found.html")
	if err != nil {
		return nil, nil, err
	}
	add := func(t tongue, name string, content reading) error {
		for _, o := range tongues {
			content.Others = append(content.Others, sameIn{o.Tag, o.Name, readingFile(o, name)})
		}
		content.Lang, content.Speak, content.Back = t.Tag, speaker(t.Tag), readingFile(t, "tools")
		content.Found = whereaboutsOf(address, t, tongues, func(t tongue) string { return readingFile(t, name) })
		var b bytes.Buffer
		if err := pages.ExecuteTemplate(&b, "reading.html", content); err != nil {
			return err
		}
		file := readingFile(t, name)
		if files[file] != nil {
			return fmt.Errorf("site: two files are called %s", file)
		}
		files[file] = b.Bytes()
		names, at = append(names, file), append(at, content.Found)
		return nil
	}
	for _, t := range tongues {
		var all []tongueLink
		for _, tl := range tools.All {
			content, err := readingOf(tl, t)
			if err == nil {
				err = add(t, tl.Name, content)
			}
			if err != nil {
				return nil, nil, err
			}
			all = append(all, tongueLink{readingFile(t, tl.Name), content.Title, content.About})
		}
		speak := speaker(t.Tag)
		list := reading{Title: speak.Say("page.reading.all"), About: speak.Say("page.description"), Open: pageLink(t), All: all}
		if err := add(t, "tools", list); err != nil {
			return nil, nil, err
		}
	}
	return names, at, nil
}

// pageLink is where a language's page is, from a page about a tool.
func pageLink(t tongue) string {
	if t.Page == "index.html" {
		return "./"
	}
	return t.Page
}

// readingOf works a tool's example out and returns what its page says.
func readingOf(tl *tool.Tool, t tongue) (reading, error) {
	speak := tl.Speaker(speaker(t.Tag))
	content := reading{Title: speak.Say("title"), About: speak.Say("purpose"), Open: pageLink(t) + "#/" + tl.Name}
	var answer struct {
		Working  []step
		Cautions []struct{ Text string }
	}
	response, err := tools.Run(tl.Name, []byte(tl.Example), speaker(t.Tag))
	if err == nil {
		err = json.Unmarshal(response, &answer)
	}
	if err != nil {
		return content, fmt.Errorf("site: example of %s: %w", tl.Name, err)
	}
	content.Steps = answer.Working
	for _, c := range answer.Cautions {
		content.Cautions = append(content.Cautions, c.Text)
	}
	o := tl.Answer([]byte(tl.Example), quantity.Point, tools.English())
	_, query, _ := strings.Cut(link.Write(tl, o.Record), "?")
	for pair := range strings.SplitSeq(query, "&") {
		key, text, _ := strings.Cut(pair, "=")
		value, err := url.QueryUnescape(text)
		if key == "v" || err != nil {
			continue
		}
		content.Given = append(content.Given, [2]string{tl.Label(key, speak), value})
	}
	return content, nil
}
