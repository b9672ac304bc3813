package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"unicode/utf8"

	"ohmwright/core/markbook"
	"ohmwright/core/wording"
)

// mostPasted is the most bytes of what is pasted: a mailbox of a class with pictures in it.
const mostPasted = 64 << 20

// mark marks what a class handed in, from the teacher's own sheet.
func (c caller) mark(args []string) int {
	set := flag.NewFlagSet("mark", flag.ContinueOnError)
	as := set.String("as", "table", "")
	locale := set.String("locale", "en", "")
	words, status, ok := c.flags(set, markHelp, args)
	if !ok {
		return status
	}
	if len(words) != 1 {
		return c.fail("mark: %d sheets given; want one: its link, or a file that holds it", len(words))
	}
	if !slices.Contains([]string{"table", "tsv", "csv"}, *as) {
		return c.fail("mark: --as %s; want table, tsv or csv", *as)
	}
	speak, status := c.speaker(set.Name(), *locale)
	if speak == nil {
		return status
	}
	book, status := c.sheet(words[0], speak)
	if status != done {
		return status
	}
	pasted, err := io.ReadAll(io.LimitReader(c.in, mostPasted+1))
	switch {
	case err != nil:
		return c.fail("mark: read what was pasted: %v", err)
	case len(pasted) > mostPasted:
		return c.fail("mark: more than %d bytes pasted; cut it into parts", mostPasted)
	}
	rows, unread := book.Mark(decoded(pasted), speak)
	if unread > 0 {
		fmt.Fprintf(c.err, "ohmwright: mark: %s\n", markbook.Unread(unread, speak))
	}
	if len(rows) == 0 {
		fmt.Fprintln(c.err, "ohmwright: mark: no hand-in found in what was pasted: a hand-in is a link with #/worksheet? in it")
		return refused
	}
	table := markbook.Table(rows, speak)
	switch *as {
	case "tsv":
		return c.print(markbook.TSV(table))
	case "csv":
		return c.print(markbook.CSV(table, speak.Mark()))
	}
	return c.print(aligned(table))
}

// sheet opens the teacher's sheet: a link, or a file that holds one.
func (c caller) sheet(given string, speak *wording.Speaker) (markbook.Sheet, int) {
	text := given
	if len(markbook.Links(given)) == 0 {
		read, err := readFile(given, mostPasted)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return markbook.Sheet{}, c.fail("mark: %q is neither a sheet's link nor a file; a link has #/worksheet? in it", given)
		case err != nil:
			return markbook.Sheet{}, c.fail("mark: %v", err)
		}
		text = decoded(read)
	}
	book, faults, err := markbook.Open(text, speak)
	if err == nil {
		return book, done
	}
	if len(faults) == 0 {
		return book, c.fail("mark: %s holds no sheet's link; it has #/worksheet? in it", given)
	}
	for _, f := range faults {
		fmt.Fprintf(c.err, "ohmwright: mark: the sheet: %s: %s %s\n", f.Field, f.Message, f.Hint)
	}
	return book, refused
}

// aligned writes a table for a terminal, each column as wide as its widest cell.
func aligned(table [][]string) string {
	wide := make([]int, len(table[0]))
	for _, row := range table {
		for i, cell := range row {
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	for _, row := range table {
		line := ""
		for i, cell := range row {
			line += shown(cell) + strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell)+2)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return b.String()
}

// shown replaces what a terminal would take for a command.
func shown(cell string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return '\ufffd'
		}
		return r
	}, cell)
}

const markHelp = `ohmwright mark SHEET [--as table|tsv|csv] [--locale TAG] < pasted.txt

Finds what a class handed in, in whatever was pasted: a chat, a mailbox, the source of a page. Marks each hand-in anew from
the teacher's own SHEET, which is its link or a file that holds it. What a link says of itself is not asked: one that was
changed gets what comes out of it, one of another sheet is named, one without its end is marked as far as it goes. How many
links could not be read at all is said on the standard error.

  --as table      columns for a terminal (default)
  --as tsv        separated by tabs, to paste into a spreadsheet
  --as csv        a file for a spreadsheet; no cell of either runs anything there
  --locale TAG    the reader, such as de or fr-CA (default en)

  ohmwright mark '#/worksheet?v=1&role=student&questions.0.kind=fault_high' < pasted.txt

Exit status: 0 marked, 2 no hand-in found or the sheet was refused, 1 anything else.
`
