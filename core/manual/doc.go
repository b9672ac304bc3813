// Package manual reads a table of torques that was pasted from a manual, a web page or a spreadsheet, and compares its figures.
//
// Data flows one way, a file for each step, and a step uses only what the steps before it made:
//
//	rows.go     the text in lines
//	cells.go    a line in cells
//	token.go    the cells in tokens: numbers, units, sizes, words (number.go, unit.go, size.go, word.go)
//	header.go   the lines that name columns
//	entry.go    in any other line: the numbers that may be torques, with the units beside them
//	assign.go   the units that the header has for the rest
//	stage.go    stages of tightening, and angles
//	torque.go   the entries as quantities
//	line.go     a line for each size or class
//	compare.go  figures of one line that disagree, lines that disagree
package manual
