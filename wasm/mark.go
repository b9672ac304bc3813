//go:build js && wasm

package main

import (
	"ohmwright/core/markbook"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
)

// A marked is a class's table: its cells, heads first, the same for a spreadsheet, and laid out for the page.
type marked struct {
	Table [][]string     `json:"table"`
	TSV   string         `json:"tsv"`
	CSV   string         `json:"csv"`
	Body  *sheet.Element `json:"body"`
}

// mark marks what a class handed in: mark(sheet, pasted, language, locale) is {"table": …, "tsv": …, "csv": …, "body": …}, or {"errors": …}
// where the sheet is none.
func mark(texts []string) any {
	speak := speaker(texts[2], texts[3])
	book, faults, err := markbook.Open(texts[0], speak)
	if err != nil {
		if len(faults) == 0 {
			faults = append(faults, tool.NewFault(speak, "", tool.Missing, texts[0], "markbook.sheet"))
		}
		return tool.Failure{Errors: faults}
	}
	rows := book.Mark(texts[1], speak)
	table := markbook.Table(rows, speak)
	return marked{table, markbook.TSV(table), markbook.CSV(table, speak.Mark()), markbook.Lay(rows, table, speak)}
}
