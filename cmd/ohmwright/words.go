package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"go/format"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
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

// takeWords reads a translator's file and writes it into the source of each room: all of it or nothing.
func (c caller) takeWords(tag, root string) int {
	if tag == source {
		return c.fail("words: English is the language that all others are translated from: its words are written in the source by hand, " +
			"and --into would replace them; want a language such as de, or edit the en.go of the room")
	}
	var file wordFile
	in := json.NewDecoder(c.in)
	in.DisallowUnknownFields()
	if err := in.Decode(&file); err != nil {
		return c.fail("words: the file cannot be read: %v", err)
	}
	if file.Language != tag {
		return c.fail("words: the file is in %q, not in %q", file.Language, tag)
	}
	given := map[string]string{} // what the file leaves out stays as it is
	for _, w := range wordsIn(tag).Words {
		given[w.Key] = w.Words
	}
	for _, w := range file.Words {
		given[w.Key] = w.Words
	}
	sources, err := sourcesOf(tag, given)
	if err != nil {
		return c.fail("words: %v", err)
	}
	former, err := formerWords(root, sources)
	if err != nil {
		return c.fail("words: %v; nothing was changed", err)
	}
	ctx, stop := untilSignal()
	defer stop()
	if err = fill(ctx, root, former, sources); err != nil {
		return c.unchanged(ctx, "words", err, "")
	}
	for _, path := range slices.Sorted(maps.Keys(sources)) {
		fmt.Fprintln(c.err, "wrote", path)
	}
	return done
}

// source is the language that the others are translated from.
const source = "en"

// sourcesOf returns the files of source in a language, by their paths, with the words given by their keys.
func sourcesOf(tag string, given map[string]string) (map[string][]byte, error) {
	texts := map[string]string{}
	for _, room := range site.EveryRoom() {
		path, text := roomSource(room, tag, given)
		if texts[path] == "" {
			text = header(path) + text
		}
		texts[path] += text
	}
	for _, key := range slices.Sorted(maps.Keys(given)) {
		return nil, fmt.Errorf("%q is no key of the house: write the file anew with ohmwright words %s", key, tag)
	}
	sources := map[string][]byte{}
	for path, text := range texts {
		formatted, err := format.Source([]byte(text))
		if err != nil {
			return nil, err
		}
		sources[path] = formatted
	}
	return sources, nil
}

// formerWords returns which files of source are there already. It returns an error if one of them was not written by this command, or if
// its folder is not there.
func formerWords(root string, sources map[string][]byte) (former []string, err error) {
	for _, name := range slices.Sorted(maps.Keys(sources)) {
		file := filepath.Join(root, filepath.FromSlash(name))
		folder, err := os.Stat(filepath.Dir(file))
		if err == nil && !folder.IsDir() || errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("there is no folder %s; want the directory of the source, in which core and site are", filepath.Dir(file))
		}
		text, err := os.ReadFile(file)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return nil, err
		case !strings.Contains(string(text), translatedBy):
			return nil, fmt.Errorf("%s was not written by \"ohmwright words\", and would be replaced; move it away", file)
		default:
			former = append(former, name)
		}
	}
	return former, nil
}

// translatedBy stands in each file that takeWords writes.
const translatedBy = `as a translator gave them to "ohmwright words"`

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
func roomSource(room wording.Room, tag string, given map[string]string) (path, text string) {
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
	fmt.Fprintf(&b, "// %s are the words in %s, %s.\nvar %s = []%s{\n", name, tag, translatedBy, name, kind)
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
                      the folder of each tool, in core/wording and in site. All of it or nothing; a file that was not
                      written so stays. English is the source: it is written by hand and cannot be given
  --compiled          writes what the tools say instead, as the page's module reads it: globalThis.ohmwrightWords

  ohmwright words de > de.json
  ohmwright words de --into . < de.json
`
