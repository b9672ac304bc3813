package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"go/format"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/text/language"

	"ohmwright/core/tools"
	"ohmwright/core/wording"
	"ohmwright/site"
)

// A wordFile is all words of the house in one language, for a translator.
type wordFile struct {
	Language string       `json:"language"`
	Words    []translated `json:"words"`
}

// A translated is one sentence: its key, the English, and what it is in the language; "" where it is not translated yet.
type translated struct {
	Key     string `json:"key"`
	English string `json:"english"`
	Words   string `json:"words"`
}

// words writes all words for a translator, or takes them back.
func (c caller) words(args []string) int {
	set := flag.NewFlagSet("words", flag.ContinueOnError)
	into := set.String("into", "", "")
	compiled := set.Bool("compiled", false, "")
	names, status, ok := c.flags(set, wordsHelp, args)
	if !ok {
		return status
	}
	if len(names) != 1 {
		return c.fail("words: want one language, such as de or pt-BR; got %d words", len(names))
	}
	tag, err := language.Parse(names[0])
	if err != nil {
		return c.fail("words: %q is no language tag; want one such as de or pt-BR", names[0])
	}
	if *into != "" {
		return c.takeWords(tag.String(), *into)
	}
	if *compiled {
		text, err := tools.Book().Compiled(tag.String())
		if err != nil {
			return c.fail("words: %v", err)
		}
		return c.print(text)
	}
	out := json.NewEncoder(c.out)
	out.SetEscapeHTML(false)
	out.SetIndent("", " ")
	if err := out.Encode(wordsIn(tag.String())); err != nil {
		return c.closed(err)
	}
	return done
}

// wordsIn collects the words of every room in a language.
func wordsIn(tag string) wordFile {
	file := wordFile{Language: tag}
	for _, room := range site.EveryRoom() {
		own := map[string]string{}
		for _, w := range room.Words {
			if w.Language == tag {
				for _, e := range w.Entries {
					own[e[0]] = e[1]
				}
			}
		}
		for _, e := range room.Wanted(tag) {
			file.Words = append(file.Words, translated{room.Key(e), e[1], own[e[0]]})
		}
	}
	return file
}

// takeWords reads a translator's file and writes it into the source of each room.
func (c caller) takeWords(tag, root string) int {
	var file wordFile
	in := json.NewDecoder(c.in)
	in.DisallowUnknownFields()
	if err := in.Decode(&file); err != nil {
		return c.fail("words: the file cannot be read: %v", err)
	}
	if file.Language != tag {
		return c.fail("words: the file is in %q, not in %q", file.Language, tag)
	}
	given := map[string]string{}
	for _, w := range file.Words {
		given[w.Key] = w.Words
	}
	sources := map[string]string{} // by path
	for _, room := range site.EveryRoom() {
		path, source := roomSource(room, tag, given)
		if sources[path] == "" {
			source = header(path) + source
		}
		sources[path] += source
	}
	for key := range given {
		return c.fail("words: %q is no key of the house: write the file anew with ohmwright words %s", key, tag)
	}
	for path, source := range sources {
		text, err := format.Source([]byte(source))
		if err == nil {
			err = os.WriteFile(filepath.Join(root, path), text, 0o644)
		}
		if err != nil {
			return c.fail("words: %v", err)
		}
		fmt.Fprintln(c.err, "wrote", path)
	}
	return done
}

// folders are where the rooms are that no tool has.
var folders = map[string]string{"": "core/wording", "page": "site", "script": "site"}

// header is the beginning of a source file of words.
func header(path string) string {
	folder := filepath.Dir(path)
	text := "package " + filepath.Base(folder) + "\n\n"
	if folder != "core/wording" {
		text += "import \"ohmwright/core/wording\"\n\n"
	}
	return text
}

// roomSource is the Go source of a room's words in a language, and the file that it belongs into. What is used of given is taken
// out of it.
func roomSource(room wording.Room, tag string, given map[string]string) (path, source string) {
	folder, shared := folders[room.Name]
	if !shared {
		folder = "core/tools/" + room.Name
	}
	name, kind := strings.ReplaceAll(tag, "-", ""), "wording.Entry"
	if room.Name == "script" {
		name += "Script"
	}
	if room.Name == "" {
		kind = "Entry"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "// %s are the words in %s, as a translator gave them to \"ohmwright words\".\nvar %s = []%s{\n", name, tag, name, kind)
	for _, e := range room.Wanted(tag) {
		if words := given[room.Key(e)]; words != "" {
			fmt.Fprintf(&b, "\t{%q, %s},\n", e[0], literal(words, len(e[0])))
		}
		delete(given, room.Key(e))
	}
	b.WriteString("}\n\n")
	return folder + "/" + tag + ".go", b.String()
}

// literal is a text as Go source, cut so that no line is long, behind so many bytes in its first line.
func literal(text string, behind int) string {
	const most = 120
	var lines []string
	line := ""
	for _, word := range strings.SplitAfter(text, " ") {
		if line != "" && len([]rune(strconv.Quote(line+word)))+behind > most {
			lines, line, behind = append(lines, strconv.Quote(line)), "", 0
		}
		line += word
	}
	return strings.Join(append(lines, strconv.Quote(line)), " +\n\t\t")
}

const wordsHelp = `ohmwright words LANGUAGE [--into DIRECTORY | --compiled] [< file]

Writes all words of the house as one JSON file for a translator: for each its key, the English, and what stands in that
language already. Verbs such as %s and %[1]s stand for what is put in; a language may order them differently by number.
Behind a key, #one, #few … are the forms that the language has for counts; the key alone is for the rest.

  --into DIRECTORY    reads such a file, filled in, and writes it into the source below the directory: LANGUAGE.go in
                      the folder of each tool, in core/wording and in site
  --compiled          writes what the tools say instead, as the page's module reads it: globalThis.ohmwrightWords

  ohmwright words de > de.json
  ohmwright words de --into . < de.json
`
