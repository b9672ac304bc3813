//go:build js && wasm

package main

import (
	"ohmwright/core/markbook"
	"ohmwright/core/tool"
)

// A marked is a class's table: its cells, heads first, and the same for a spreadsheet.
type marked struct {
	Table [][]string `json:"table"`
	TSV   string     `json:"tsv"`
	CSV   string     `json:"csv"`
}

// mark marks what a class handed in: mark(sheet, pasted, language, locale) is {"table": …, "tsv": …, "csv": …}, or {"errors": …} where the
// sheet is none.
func mark(texts []string) any {
	speak := speaker(texts[2], texts[3])
	book, faults, err := markbook.Open(texts[0], speak)
	if err != nil {
		if len(faults) == 0 {
			faults = append(faults, tool.NewFault(speak, "", tool.Missing, texts[0], "markbook.sheet"))
		}
		return tool.Failure{Errors: faults}
	}
	table := markbook.Table(book.Mark(texts[1], speak), speak)
	return marked{table, markbook.TSV(table), markbook.CSV(table, speak.Mark())}
}
