package markbook

import (
	"slices"
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
		notes = joined(notes, s.Say("table.later", strconv.Itoa(later)))
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
			list = append(list, s.Say("note.changed", strings.Join(names, ", ")))
		case Refused:
			list = append(list, s.Say("note.refused", r.Why))
		default:
			list = append(list, s.Say("note."+string(n)))
		}
	}
	return strings.Join(list, "; ")
}

func joined(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), "; ")
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

// CSV writes a table as RFC 4180 has it, with a semicolon where the reader writes a decimal comma, as spreadsheets there expect.
func CSV(table [][]string, mark quantity.Mark) string {
	separator := ","
	if mark == quantity.Comma {
		separator = ";"
	}
	var b strings.Builder
	for _, row := range table {
		for i, cell := range row {
			if i > 0 {
				b.WriteString(separator)
			}
			cell = harmless(oneLine(cell))
			if strings.ContainsAny(cell, "\"\n\r"+separator) || strings.TrimSpace(cell) != cell {
				cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			b.WriteString(cell)
		}
		b.WriteString("\r\n")
	}
	return b.String()
}

// harmless returns a cell that no spreadsheet takes for a formula: before one that begins like a formula stands an apostrophe. What looks
// like it after spaces, or in the forms of wide characters, counts too.
func harmless(cell string) string {
	first, size := utf8.DecodeRuneInString(strings.TrimLeft(cell, " \u00a0'\""))
	if size > 0 && strings.ContainsRune("=+-@|%＝＋－＠\u2212", first) {
		return "'" + cell
	}
	return cell
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
