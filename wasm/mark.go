//go:build js && wasm

package main

import (
	"strconv"

	"ohmwright/core/jsontext"
	"ohmwright/core/markbook"
	"ohmwright/core/tool"
	"ohmwright/core/wording"
)

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
func mark(texts []string) []byte {
	speak := speaker(texts[2], texts[3])
	book, faults, err := markbook.Open(texts[0], speak)
	if err != nil {
		if len(faults) == 0 {
			faults = append(faults, tool.NewFault(speak, "", tool.Missing, texts[0], "markbook.sheet"))
		}
		return object(&tool.Failure{Errors: faults})
	}
	if texts[4] == "begin" {
		begun = book.Begin(texts[1], speak)
		left, of := begun.Left()
		return object(&marking{left, of})
	}
	rows, unread := book.Mark(texts[1], speak)
	return markedRows(rows, unread, speak)
}

func markNext(texts []string) []byte {
	few, err := strconv.Atoi(texts[0])
	if begun == nil || err != nil {
		return refused("markNext: nothing was begun")
	}
	begun.Next(few)
	if left, of := begun.Left(); left > 0 {
		return object(&marking{left, of})
	}
	all := begun
	begun = nil
	return markedRows(all.Rows, all.Unread, speaker(texts[1], texts[2]))
}

// markedRows returns a class's table: its cells, heads first, the same for a spreadsheet, and laid out for the page with a sentence.
func markedRows(rows []markbook.Row, unread int, speak *wording.Speaker) []byte {
	table := markbook.Table(rows, speak)
	b := []byte(`{"table":[`)
	for i, row := range table {
		if i > 0 {
			b = append(b, ',')
		}
		b = jsontext.AppendList(b, row)
	}
	b = jsontext.Append(append(b, `],"tsv":`...), markbook.TSV(table))
	b = jsontext.Append(append(b, `,"csv":`...), markbook.CSV(table, speak.Mark()))
	b = jsontext.Append(append(b, `,"said":`...), markbook.Said(rows, unread, speak))
	b = append(b, `,"body":`...)
	if len(rows) == 0 {
		return append(b, "null}"...)
	}
	return append(markbook.Lay(rows, table).AppendJSON(b), '}')
}
