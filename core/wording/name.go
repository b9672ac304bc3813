package wording

import (
	"strconv"
	"strings"
)

// Nameless stands for what has no name, where a name has to stand.
const Nameless = "#0"

// RowName stands for the nth row of a list, from 1, which has no name of its own: #3, in any language. It is "" for 0.
func RowName(n int) string {
	if n == 0 {
		return ""
	}
	return "#" + strconv.Itoa(n)
}

// RowOf returns the number of the row that a name stands for; 0 if it is a name.
func RowOf(name string) int {
	digits, ok := strings.CutPrefix(name, "#")
	if n, err := strconv.Atoi(digits); ok && err == nil && n > 0 && RowName(n) == name {
		return n
	}
	return 0
}

// OwnName returns a name as a reader typed it, so that it stands for no row: #3 becomes "# 3".
func OwnName(name string) string {
	if name = strings.TrimSpace(name); RowOf(name) > 0 || name == Nameless {
		return "# " + name[1:]
	}
	return name
}

// Name writes a name, or which row it stands for.
func (s *Speaker) Name(name string) string {
	if n := RowOf(name); n > 0 {
		return s.Say("sheet.row", strconv.Itoa(n))
	}
	return name
}
