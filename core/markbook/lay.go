package markbook

import (
	"strconv"
	"strings"

	"ohmwright/core/sheet"
	"ohmwright/core/wording"
)

// Said says how many rows there are, how many have a note, and how many links could not be read.
func Said(rows []Row, unread int, speak *wording.Speaker) string {
	s := speak.Within("worksheet")
	return strings.TrimSpace(counted(rows, s) + " " + Unread(unread, speak))
}

// Unread says how many links could not be read; "" where all could.
func Unread(n int, speak *wording.Speaker) string {
	if n == 0 {
		return ""
	}
	return speak.Within("worksheet").Say("table.unread", strconv.Itoa(n))
}

func counted(rows []Row, s *wording.Speaker) string {
	if len(rows) == 0 {
		return s.Say("table.none")
	}
	noted := 0
	for _, r := range rows {
		if len(r.Notes) > 0 {
			noted++
		}
	}
	return s.Say("table.found", strconv.Itoa(len(rows)), strconv.Itoa(noted))
}

// Lay lays the rows and their table out for the page. Every cell has the head of its column before it, for where the rows are shown as
// cards; the roles say that it is a table there too.
func Lay(rows []Row, table [][]string) *sheet.Element {
	heads := sheet.New("tr role=row")
	for _, head := range table[0] {
		heads.With(sheet.New("th scope=col role=columnheader").Say(head))
	}
	body := sheet.New("tbody role=rowgroup")
	for i, cells := range table[1:] {
		line := sheet.New("tr role=row")
		if len(rows[i].Notes) > 0 {
			line.Attr("class", "noted")
		}
		for j, cell := range cells {
			line.With(laidCell(columns[j], table[0][j], cell))
		}
		body.With(line)
	}
	return sheet.New("table class=marks-table role=table").With(sheet.New("thead role=rowgroup").With(heads), body)
}

// laidCell lays a cell out, with the head of its column. The name is the head of its row.
func laidCell(column, head, text string) *sheet.Element {
	e := sheet.New("td class=? role=cell", "c-"+column)
	if column == "name" {
		e = sheet.New("th class=? scope=row role=rowheader", "c-"+column)
	}
	if text == "" {
		return e
	}
	cell := sheet.New("span").Say(text)
	if column == "handed" { // the page writes it by the reader's clock
		cell = sheet.New("time datetime=?", text).Say(text)
	}
	return e.With(sheet.Text("span", "cell-head", head+" "), cell)
}
