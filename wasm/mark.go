//go:build js && wasm

package main

import (
	"strconv"

	"ohmwright/core/markbook"
	"ohmwright/core/sheet"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

// A marked is a class's table: its cells, heads first, the same for a spreadsheet, and laid out for the page with a sentence.
type marked struct {
	Table [][]string     `json:"table"`
	TSV   string         `json:"tsv"`
	CSV   string         `json:"csv"`
	Said  string         `json:"said"`
	Body  *sheet.Element `json:"body"`
}

// A marking says how far the page has come.
type marking struct {
	Left int `json:"left"`
	Of   int `json:"of"`
}

// begun is what is being marked a few at a time.
var begun *markbook.Marking

// mark marks what a class handed in: mark(sheet, pasted, language, locale) is {"table": …, "tsv": …, "csv": …, "said": …, "body": …}, or
// {"errors": …} where the sheet is none. With "begin" as a fifth text it marks nothing yet, and is {"left": …, "of": …}; markNext(few,
// language, locale) then marks a few, and is the same again, or the table once nothing is left.
func mark(texts []string) any {
	speak := speaker(texts[2], texts[3])
	book, faults, err := markbook.Open(texts[0], speak)
	if err != nil {
		if len(faults) == 0 {
			faults = append(faults, tool.NewFault(speak, "", tool.Missing, texts[0], "markbook.sheet"))
		}
		return tool.Failure{Errors: faults}
	}
	if texts[4] == "begin" {
		begun = book.Begin(texts[1], speak)
		left, of := begun.Left()
		return marking{left, of}
	}
	return markedRows(book.Mark(texts[1], speak), speak)
}

func markNext(texts []string) any {
	few, err := strconv.Atoi(texts[0])
	if begun == nil || err != nil {
		return fault("markNext: nothing was begun")
	}
	begun.Next(few)
	if left, of := begun.Left(); left > 0 {
		return marking{left, of}
	}
	rows := begun.Rows
	begun = nil
	return markedRows(rows, speaker(texts[1], texts[2]))
}

func markedRows(rows []markbook.Row, speak *wording.Speaker) marked {
	table := markbook.Table(rows, speak)
	m := marked{Table: table, TSV: markbook.TSV(table), CSV: markbook.CSV(table, speak.Mark()), Said: markbook.Said(rows, speak)}
	if len(rows) > 0 {
		m.Body = markbook.Lay(rows, table)
	}
	return m
}
