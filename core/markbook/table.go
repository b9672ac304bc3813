package markbook

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"ohmwright/core/quantity"
	"ohmwright/core/wording"
)

// columns are the columns of the table, by the keys of their words.
var columns = []string{"name", "marks", "right", "supported", "minutes", "slips", "notes", "handed"}

// Table returns the rows as texts in the reader's notation, the heads of the columns first.
func Table(rows []Row, speak *wording.Speaker) [][]string {
	s := speak.Within("worksheet")
	head := make([]string, len(columns))
	for i, c := range columns {
		head[i] = s.Say("table." + c)
	}
	table := [][]string{head}
	for _, r := range rows {
		table = append(table, r.cells(s))
	}
	return table
}

// cells writes one row.
func (r Row) cells(s *wording.Speaker) []string {
	if r.Has(Refused) || r.Has(Nameless) {
		return []string{r.Name, "", "", "", "", "", r.notes(s), r.Handed}
	}
	right, later := 0, 0
	var supported, minutes, slips []string
	for _, q := range r.Questions {
		if q.Right {
			right++
		}
		later += q.Later
		if q.Decided && q.Fault {
			supported = append(supported, s.Number(q.Supported, 3))
			minutes = append(minutes, s.Say("table.minutes.beside", s.AtMost(q.Minutes, 4), s.AtMost(q.Best, 4)))
		}
		if q.Slip != "" {
			slips = append(slips, s.Say("table.slip."+q.Slip))
		}
	}
	notes := r.notes(s)
	if later > 0 {
		notes = s.Parts(notes, s.Say("table.later", strconv.Itoa(later)))
	}
	return []string{r.Name, s.Number(r.Marks, 1), s.Say("table.of", strconv.Itoa(right), strconv.Itoa(len(r.Questions))),
		strings.Join(supported, "; "), strings.Join(minutes, "; "), strings.Join(slips, "; "), notes, r.Handed}
}

// notes words the notes of a row.
func (r Row) notes(s *wording.Speaker) string {
	var list []string
	for _, n := range r.Notes {
		switch n {
		case Changed:
			names := make([]string, len(r.Changes))
			for i, key := range r.Changes {
				names[i] = s.Say(key)
			}
			list = append(list, s.Say("note.changed", s.List(names...)))
		case Refused:
			list = append(list, s.Say("note.refused", r.Why))
		default:
			list = append(list, s.Say("note."+string(n)))
		}
	}
	return s.Parts(list...)
}

// TSV writes a table separated by tabs, as it is pasted into a spreadsheet.
func TSV(table [][]string) string {
	var b strings.Builder
	for _, row := range table {
		for i, cell := range row {
			if i > 0 {
				b.WriteByte('\t')
			}
			b.WriteString(harmless(oneLine(cell)))
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// bom stands before a CSV file: a spreadsheet then reads it as UTF-8, and an umlaut is one.
const bom = "\ufeff"

// CSV writes a table as RFC 4180 has it, with a semicolon where the reader writes a decimal comma, as spreadsheets there expect. What a
// spreadsheet elsewhere takes for the separator is quoted too.
func CSV(table [][]string, mark quantity.Mark) string {
	separator := ","
	if mark == quantity.Comma {
		separator = ";"
	}
	var b strings.Builder
	b.WriteString(bom)
	for _, row := range table {
		for i, cell := range row {
			if i > 0 {
				b.WriteString(separator)
			}
			cell = harmless(oneLine(cell))
			if strings.ContainsAny(cell, "\",;") || strings.TrimSpace(cell) != cell {
				cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			b.WriteString(cell)
		}
		b.WriteString("\r\n")
	}
	return b.String()
}

// harmless returns a cell that no spreadsheet takes for a formula: before what begins like one stands an apostrophe. What looks like it
// after spaces, or in the forms of wide characters, counts too; and so does what follows a comma or a semicolon, where a spreadsheet may
// begin a cell that takes that for its separator.
func harmless(cell string) string {
	var b strings.Builder
	for from := 0; from <= len(cell); {
		end := len(cell)
		if i := strings.IndexAny(cell[from:], ",;"); i >= 0 {
			end = from + i
		}
		first, size := utf8.DecodeRuneInString(strings.TrimLeft(cell[from:end], " \u00a0'\""))
		if size > 0 && strings.ContainsRune("=+-@|%＝＋－＠\u2212", first) {
			b.WriteByte('\'')
		}
		b.WriteString(cell[from:min(end+1, len(cell))])
		from = end + 1
	}
	return b.String()
}

// oneLine returns a text without anything that ends a cell or a line.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == '\u2028' || r == '\u2029' || r == '\u0085' {
			return ' '
		}
		return r
	}, s)
}
