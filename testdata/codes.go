package testdata

import (
	_ "embed"
	"strings"
)

//go:embed codes.tsv
var codes string

//go:embed failure-types.tsv
var failureTypes string

// A CodeRow is a line of codes.tsv.
type CodeRow struct{ Code, Circuit, Failure string }

// Codes returns the rows of codes.tsv, the table of trouble codes.
func Codes() (rows []CodeRow) {
	for _, f := range table(codes) {
		rows = append(rows, CodeRow{f[0], f[1], f[2]})
	}
	return rows
}

// A FailureTypeRow is a line of failure-types.tsv.
type FailureTypeRow struct{ Hex, Meaning string }

// FailureTypes returns the rows of failure-types.tsv.
func FailureTypes() (rows []FailureTypeRow) {
	for _, f := range table(failureTypes) {
		rows = append(rows, FailureTypeRow{f[0], f[1]})
	}
	return rows
}

// table returns the fields of each line of a tab-separated file, without the heading.
func table(text string) (lines [][]string) {
	for _, line := range strings.Split(strings.TrimSpace(text), "\n")[1:] {
		lines = append(lines, strings.Split(line, "\t"))
	}
	return lines
}
